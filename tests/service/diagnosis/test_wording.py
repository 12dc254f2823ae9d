"""Sentences have their figures in both unit systems, the customer's first; what cannot be said is left out."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from calculators import Reading
from knowledge.schema import Say
from service.diagnosis.known import Known
from service.diagnosis.wording import capital, reading_shown, sentences, span, words

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
    assert words(text, case(gauge_pressure=1.0)) == "At 1 bar (15 psi)."
    assert words(Say(say="{holds.carbonation}"), case()) == ""


def test_a_sentence_for_one_case_is_said_only_when_that_is_sure(case: Case) -> None:
    steps = case().problem.nodes["stand-clear"].steps  # type: ignore[union-attr]
    assert sentences(steps, case()) == ["Step back."]
    assert sentences(steps, case(dry_hopped=True)) == ["Step back.", "Take the hops out first."]


@pytest.mark.parametrize(
    ("written", "read"),
    [
        ("Cool it to 2 to 4 °C (36 to 39 °F) for a day.", "Cool it to 36 to 39 °F (2 to 4 °C) for a day."),
        ("Purge at 0.3 bar (5 psi) with 1 L (1 quart).", "Purge at 5 psi (0.3 bar) with 1 quart (1 L)."),
        ("Two degrees Celsius (4 °F) a day.", "4 °F (two degrees Celsius) a day."),
        ("A bore of 6 mm (1/4 in) over 2 m (6 ft).", "A bore of 1/4 in (6 mm) over 6 ft (2 m)."),
        ("A cup of the beer (250 mL), the ring (see below).", "A cup of the beer (250 mL), the ring (see below)."),
    ],
)
def test_a_fixed_sentence_gives_a_us_customer_us_measures_first(case: Case, written: str, read: str) -> None:
    assert words(written, case("us")) == read
    assert words(written, case("metric")) == written


def test_what_was_worked_out_shows_no_more_digits_than_it_is_sure_of() -> None:
    found = Reading(8.38, 7.5, 9.3, "bar")
    assert reading_shown(found, "", "us", doubt=0.9) == "120 psi (8.4 bar)"
    assert reading_shown(found, "range", "metric", doubt=0.9) == "7.5 to 9.3 bar (110 to 130 psi)"


def test_a_range_of_equal_ends_is_one_figure() -> None:
    assert span(Reading(1.01, 1.0099, 1.0101, "SG"), "us") == "1.010"


def test_units_that_differ_at_the_ends_of_a_range_are_both_said() -> None:
    assert span(Reading(600, 200, 1500, "g"), "metric") == "200 g to 1.5 kg (7.1 oz to 3.31 lb)"


def test_a_label_that_stands_alone_begins_with_a_capital() -> None:
    assert capital("glass carboy") == "Glass carboy"
