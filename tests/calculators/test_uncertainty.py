"""How the doubt of the inputs is carried to the results."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

import calculators
from calculators import Reading
from calculators.uncertainty import carried


def test_each_input_moves_the_result_on_its_own_and_the_squares_add() -> None:
    readings = {"a": Reading(10.0, 7.0, 13.0), "b": Reading(5.0, 1.0, 9.0)}
    below, above = carried(lambda a, b: {"sum": a + b}, {"a": 10.0, "b": 5.0}, {"sum": 15.0}, readings)
    assert below["sum"] == pytest.approx(5.0)  # 3-4-5
    assert above["sum"] == pytest.approx(5.0)


def test_a_lopsided_reading_makes_a_lopsided_result() -> None:
    below, above = carried(lambda a: {"same": a}, {"a": 1.0}, {"same": 1.0}, {"a": Reading(1.0, 0.9, 1.5)})
    assert (below["same"], above["same"]) == pytest.approx((0.1, 0.5))


def test_where_both_ends_move_a_result_the_same_way_the_further_counts() -> None:
    below, above = carried(lambda a: {"square": a * a}, {"a": 0.0}, {"square": 0.0}, {"a": Reading(0.0, -1.0, 2.0)})
    assert (below["square"], above["square"]) == pytest.approx((0.0, 4.0))


def test_a_quantity_that_was_told_comes_back_with_its_own_range_and_no_more() -> None:
    done = calculators.run(
        "carbonation-equilibrium", {"temperature": Reading(4, 3.8, 4.1), "gauge_pressure": "0.8 bar"}
    )
    assert done.results["temperature"] == Reading(4, 3.8, 4.1, "degC")


@given(narrow=st.floats(0.0, 2.0), more=st.floats(0.0, 2.0))
def test_a_worse_thermometer_never_makes_a_surer_answer(narrow: float, more: float) -> None:
    def width(error: float) -> float:
        warm = Reading(10.0, 10.0 - error, 10.0 + error)
        found = calculators.run("residual-carbonation", {"warmest_temperature": warm}).results["carbonation"]
        return found.high - found.low

    assert width(narrow + more) >= width(narrow) - 1e-12
