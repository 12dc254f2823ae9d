"""Warm ferments under pressure: the trade's rule, all of it common practice."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators import BadInput, run

Found = Callable[..., dict[str, float]]
NAME = "pressure-temperature-choice"
LAGER = {"yeast_temperature_low": "50 degF", "yeast_temperature_high": "57 degF"}


def test_fifteen_psi_allow_ten_fahrenheit_degrees_more_which_is_5_6_kelvin(found: Found) -> None:
    done = found(NAME, **LAGER, gauge_pressure="15 psi")  # common practice
    assert done["extra_warmth"] == pytest.approx(5.6, abs=0.1)
    assert done["temperature_high"] * 1.8 + 32 == pytest.approx(67, abs=0.3)


def test_more_than_a_bar_buys_no_more_warmth(found: Found) -> None:
    at_one, at_two = (found(NAME, **LAGER, gauge_pressure=f"{bar} bar") for bar in (1, 2))
    assert at_one == at_two


def test_a_wanted_temperature_asks_for_its_pressure(found: Found) -> None:
    assert found(NAME, **LAGER, temperature="67 degF")["gauge_pressure"] == pytest.approx(1.0, abs=0.05)
    assert found(NAME, **LAGER, temperature="54 degF")["gauge_pressure"] == 0.0


def test_warmer_than_practice_allows_or_colder_than_the_yeast_likes_is_pointed_out() -> None:
    hot = run(NAME, {**LAGER, "temperature": "80 degF"}).warnings
    cold = run(NAME, {**LAGER, "temperature": "40 degF"}).warnings
    assert any("choose a cooler ferment, not more pressure" in warning for warning in hot)
    assert any("below the yeast's usual range" in warning for warning in cold)


def test_an_ale_is_reminded_of_its_fruit_and_the_vessels_marking_decides() -> None:
    warnings = run(NAME, {**LAGER, "gauge_pressure": "15 psi", "yeast_group": "ale"}).warnings
    assert any("fruit or spice" in warning for warning in warnings)
    assert any("the pressure marked on it" in warning for warning in warnings)


def test_needs_a_pressure_or_a_temperature_and_a_range_the_right_way_round() -> None:
    with pytest.raises(BadInput, match="gauge_pressure: give gauge_pressure, temperature, or both"):
        run(NAME, LAGER)
    with pytest.raises(BadInput, match="yeast_temperature_low: is above yeast_temperature_high"):
        run(NAME, {"yeast_temperature_low": 20, "yeast_temperature_high": 15, "temperature": 18})


@given(bar=st.floats(0.0, 1.0))
def test_the_warmth_allowed_and_the_pressure_asked_for_are_inverse(bar: float) -> None:
    yeast = {"yeast_temperature_low": 10, "yeast_temperature_high": 14}
    warm = run(NAME, {**yeast, "gauge_pressure": bar}).results["temperature_high"].value
    assert run(NAME, {**yeast, "temperature": warm}).results["gauge_pressure"].value == pytest.approx(bar, abs=1e-9)
