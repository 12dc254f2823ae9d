"""Sentences have their figures in both unit systems, the customer's first; what cannot be said is left out."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from calculators import Reading
from knowledge.schema import Say
from service.diagnosis.known import Known
from service.diagnosis.wording import capital, sentences, span, words

Case = Callable[..., Known]


@pytest.mark.parametrize(
    ("system", "said"), [("metric", "It reads 2.76 bar (40 psi)."), ("us", "It reads 40 psi (2.76 bar).")]
)
def test_a_figure_is_said_in_both_systems_the_customers_own_first(case: Case, system: str, said: str) -> None:
    assert words(Say(say="It reads {gauge_pressure}."), case(system, gauge_pressure=2.758)) == said


def test_a_figure_with_one_unit_is_said_once(case: Case) -> None:
    assert words(Say(say="At {current_gravity}."), case(current_gravity=1.02)) == "At 1.020."


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("yeast.temperature", "9 to 14 °C (48 to 57 °F)"),
        ("yeast.temperature_high", "14 °C (57 °F)"),
        ("yeast.attenuation", "70 to 78 %"),
        ("yeast.attenuation.low", "70 %"),
        ("yeast.pressure_limit", "1 bar (14.5 psi)"),
        ("vessel.holds_pressure", "yes"),
        ("current_gravity.range", "1.019 to 1.021"),
        ("beer_temperature.high", "21 °C (70 °F)"),
        ("dry_hopped", "no"),
        ("vessel_type", "keg"),
    ],
)
def test_ranges_ends_and_rows_of_tables(case: Case, name: str, said: str) -> None:
    known = case(yeast_type="lager", vessel_type="keg", current_gravity=1.02, beer_temperature=20, dry_hopped=False)
    assert words(Say(say=f"{{{name}}}"), known) == said


def test_without_its_figure_a_sentence_gives_way_to_the_next_and_then_to_nothing(case: Case) -> None:
    text = Say(say="{holds.carbonation}", otherwise=Say(say="At {gauge_pressure}.", otherwise="Unknown."))
    assert words(text, case()) == "Unknown."
    assert words(text, case(gauge_pressure=1.0)) == "At 1 bar (14.5 psi)."
    assert words(Say(say="{holds.carbonation}"), case()) == ""


def test_a_sentence_for_one_case_is_said_only_when_that_is_sure(case: Case) -> None:
    steps = case().problem.nodes["stand-clear"].steps  # type: ignore[union-attr]
    assert sentences(steps, case()) == ["Step back."]
    assert sentences(steps, case(dry_hopped=True)) == ["Step back.", "Take the hops out first."]


def test_a_range_of_equal_ends_is_one_figure() -> None:
    assert span(Reading(1.01, 1.0099, 1.0101, "SG"), "us") == "1.010"


def test_units_that_differ_at_the_ends_of_a_range_are_both_said() -> None:
    assert span(Reading(600, 200, 1500, "g"), "metric") == "200 g to 1.5 kg (7.05 oz to 3.31 lb)"


def test_a_label_that_stands_alone_begins_with_a_capital() -> None:
    assert capital("glass carboy") == "Glass carboy"
