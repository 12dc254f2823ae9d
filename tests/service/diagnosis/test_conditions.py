"""Conditions are true, false, or cannot be told: because a range straddles, or something is not known."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import TypeAdapter

from knowledge import Knowledge
from knowledge.conditions import Condition
from service.diagnosis.conditions import truth
from service.diagnosis.known import Known
from service.understanding.model import Fact

Case = Callable[..., Known]
READ: TypeAdapter[Condition] = TypeAdapter(Condition)


def holds(written: dict[str, Any], known: Known) -> bool | None:
    return truth(READ.validate_python(written), known)


@pytest.mark.parametrize(
    ("bound", "below", "straddling", "above"),
    [
        ("at_least", False, None, True),
        ("above", False, None, True),
        ("below", True, None, False),
        ("at_most", True, None, False),
    ],
)
def test_a_reading_is_surely_below_surely_above_or_straddles_a_limit(
    case: Case, bound: str, below: bool, straddling: None, above: bool
) -> None:
    condition = {"fact": "beer_temperature", bound: "20 degC"}
    answers = [holds(condition, case(beer_temperature=warmth)) for warmth in (18.5, 19.5, 21.5)]
    assert answers == [below, straddling, above]


def test_a_figure_in_another_unit_means_the_same(case: Case) -> None:
    assert holds({"fact": "beer_temperature", "at_least": "68 degF"}, case(beer_temperature=21.1)) is True


def test_a_marked_figure_has_no_reading_error(case: Case) -> None:
    assert holds({"fact": "rated_pressure", "at_least": "2 bar"}, case(rated_pressure=2.0)) is True
    assert holds({"fact": "rated_pressure", "above": "2 bar"}, case(rated_pressure=2.0)) is False


def test_the_same_figure_in_two_units_is_not_above_itself(case: Case) -> None:
    psi_35 = 35 * 0.0689475729316836
    assert holds({"fact": "rated_pressure", "above": "35 psi"}, case(rated_pressure=psi_35 * (1 + 1e-15))) is False


def test_two_readings_are_compared_with_both_their_ranges(case: Case) -> None:
    condition = {"fact": "gauge_pressure", "at_least": {"fact": "rated_pressure"}}
    answers = [holds(condition, case(gauge_pressure=gauge, rated_pressure=2.0)) for gauge in (1.8, 1.95, 2.2)]
    assert answers == [False, None, True]


def test_an_operand_can_be_moved_by_a_difference(case: Case) -> None:
    condition = {"fact": "beer_temperature", "above": {"lookup": "yeast.temperature_high", "plus": "5 delta_degC"}}
    assert holds(condition, case(beer_temperature=18, yeast_type="lager")) is False
    assert holds(condition, case(beer_temperature=21, yeast_type="lager")) is True


def test_between_includes_the_low_end_and_not_the_high_one(case: Case) -> None:
    condition = {"fact": "rated_pressure", "between": ["1 bar", "2 bar"]}
    assert [holds(condition, case(rated_pressure=marked)) for marked in (0.9, 1.0, 2.0)] == [False, True, False]


def test_a_result_is_compared_with_its_uncertainty(case: Case) -> None:
    known = case(beer_temperature=3.3333, gauge_pressure=0.8274)  # Miller 1994, Table I: 2.57 vol at 38 °F, 12 psi
    assert holds({"result": "holds.carbonation", "above": "2 vol"}, known) is True
    assert holds({"result": "holds.carbonation", "above": "2.57 vol"}, known) is None


@pytest.mark.parametrize(
    "condition",
    [
        {"fact": "beer_temperature", "above": "20 degC"},
        {"fact": "dry_hopped", "is": True},
        {"fact": "yeast_type", "one_of": ["lager"]},
        {"result": "holds.carbonation", "above": "2 vol"},
        {"lookup": "yeast.attenuation", "above": "70 percent"},
    ],
)
def test_what_is_not_known_cannot_be_told(case: Case, condition: dict[str, Any]) -> None:
    assert holds(condition, case()) is None
    assert holds({"not": condition}, case()) is None


def test_a_fact_known_to_be_not_known_cannot_be_told_either(case: Case) -> None:
    assert holds({"fact": "dry_hopped", "is": False}, case(dry_hopped=None)) is None
    assert holds({"known": "dry_hopped"}, case(dry_hopped=None)) is False


def test_choices_and_words_of_a_table(case: Case) -> None:
    known = case(vessel_type="keg")
    assert holds({"fact": "vessel_type", "one_of": ["glass-carboy"]}, known) is False
    assert holds({"lookup": "vessel.holds_pressure", "one_of": ["yes"]}, known) is True


def test_known_is_said_of_facts_results_and_lookups(case: Case) -> None:
    known = case(beer_temperature=4, gauge_pressure=1, yeast_type="kveik")
    names = ("beer_temperature", "rated_pressure", "holds.carbonation", "wanted.temperature", "yeast.temperature")
    assert [holds({"known": name}, known) for name in names] == [True, False, True, True, True]


# Strong three-valued logic: S.C. Kleene, Introduction to Metamathematics (1952), section 64 (from memory).
SAID = {True: {"fact": "dry_hopped", "is": True}, False: {"fact": "dry_hopped", "is": False}, None: {"known": "x"}}
UNSURE = {"fact": "beer_temperature", "above": "0 degC"}


@pytest.mark.parametrize("first", [True, False, None])
@pytest.mark.parametrize("second", [True, False, None])
def test_all_and_any_follow_the_tables_of_strong_three_valued_logic(
    case: Case, first: bool | None, second: bool | None
) -> None:
    parts = [UNSURE if part is None else SAID[part] for part in (first, second)]
    known = case(dry_hopped=True)
    expected_all = False if False in (first, second) else None if None in (first, second) else True
    expected_any = True if True in (first, second) else None if None in (first, second) else False
    assert holds({"all": parts}, known) is expected_all
    assert holds({"any": parts}, known) is expected_any


@given(value=st.floats(0, 40), spread=st.floats(0, 5), limit=st.integers(0, 40))
def test_sure_answers_hold_for_every_value_in_the_range(
    sample: Knowledge, value: float, spread: float, limit: int
) -> None:
    fact = Fact("beer_temperature", value, "degC", value - spread, value + spread)
    known = Known(sample.problems["cold-beer"], {"beer_temperature": fact}, sample)
    sure = holds({"fact": "beer_temperature", "at_least": f"{limit} degC"}, known)
    inside = {end >= limit - 1e-9 for end in (value - spread, value, value + spread)}
    assert sure is (inside.pop() if len(inside) == 1 else None)
