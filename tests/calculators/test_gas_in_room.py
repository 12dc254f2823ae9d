"""Carbon dioxide in a room, carbon monoxide's limits, and what a calculation must never say."""

from __future__ import annotations

from collections.abc import Callable
from math import log

import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from calculators import BadInput, run
from calculators.physics import room_air

Found = Callable[..., dict[str, float]]


def density(celsius: float) -> float:
    """Carbon dioxide at 101.325 kPa, kg/m³."""
    return float(PropsSI("D", "T", celsius + 273.15, "P", 101325, "CO2"))


# OSHA, 29 CFR 1910.1000 Table Z-1; NIOSH, Documentation for IDLH Concentrations (May 1994); OSHA, Chemical Sampling
# Information, carbon monoxide.
@pytest.mark.parametrize(
    ("gas", "working_day", "short_time", "danger"), [("co2", 5000, 30000, 40000), ("co", 35, 200, 1200)]
)
def test_tells_the_published_limits(
    gas: str, working_day: float, short_time: float, danger: float, found: Found
) -> None:
    done = found("gas-in-room", gas=gas)
    assert (done["limit_working_day"], done["limit_short_time"]) == (working_day, short_time)
    assert done["limit_immediate_danger"] == danger


def test_carbon_monoxide_is_never_reckoned_away() -> None:
    done = run("gas-in-room", {"gas": "co", "room_volume": 1000, "co2_mass": 0.001, "air_changes": 20})
    assert set(done.results) == {"limit_working_day", "limit_short_time", "limit_immediate_danger"}
    assert len(done.warnings) == 1
    assert "everyone out into fresh air, and call the emergency number" in done.warnings[0]


@pytest.mark.parametrize(("kilograms", "celsius", "cubic_metres"), [(1.0, 20, 0.544), (2.268, 21.1, 1.238)])
def test_the_gas_takes_the_room_of_the_reference_equation(
    kilograms: float, celsius: float, cubic_metres: float, found: Found
) -> None:
    done = found("gas-in-room", co2_mass=kilograms, room_temperature=celsius)
    assert done["gas_volume"] == pytest.approx(kilograms / density(celsius), rel=0.002)
    assert done["gas_volume"] == pytest.approx(cubic_metres, rel=0.002)


# Gas volume by CoolProp over the room's volume, and 420 ppm of the air outside.
@pytest.mark.parametrize(
    ("kilograms", "room", "celsius"), [(2.268, 30, 20), (0.5, 12, 20), (9.07, 50, 20), (0.05, 0.2, 5)]
)
def test_a_cylinder_let_out_into_a_room(kilograms: float, room: float, celsius: float, found: Found) -> None:
    done = found("gas-in-room", co2_mass=kilograms, room_volume=room, room_temperature=celsius)
    expected = kilograms / density(celsius) / room * 1e6 + 420
    assert done["mean_concentration"] == pytest.approx(expected, rel=0.003)


def test_the_range_covers_air_that_leaves_while_the_gas_comes() -> None:
    mean = run("gas-in-room", {"co2_mass": 9.07, "room_volume": 50}).results["mean_concentration"]
    share = 9.07 / density(20) / 50
    left_meanwhile = 1e6 * (1 - 2.718281828 ** (-share))
    assert mean.low < left_meanwhile < mean.high


def test_a_quarter_of_a_kilogram_brings_a_small_room_to_the_working_days_limit(found: Found) -> None:
    done = found("gas-in-room", room_volume="30 m3")
    assert done["mass_to_working_day_limit"] == pytest.approx((5000 - 420) / 1e6 * 30 * density(20), rel=0.002)
    assert done["mass_to_working_day_limit"] == pytest.approx(0.253, abs=0.002)


def test_two_air_changes_an_hour_clear_forty_thousand_in_an_hour(found: Found) -> None:
    # well-mixed decay C = Cb + (C0 - Cb) e^(-n t)
    done = found("gas-in-room", start_concentration="40000 ppm", air_changes="2 per hour")
    assert done["time_to_clear"] == pytest.approx(60 * log((40000 - 420) / (5000 - 420)) / 2)
    assert done["time_to_clear"] == pytest.approx(65, abs=1)


def test_the_whole_fermentation_of_twenty_litres_makes_eight_hundred_grams(found: Found) -> None:
    # Balling's balance with Tabarie's rule, ICUMSA and OIML R 22 densities: 787 g
    done = found("gas-in-room", beer_volume="20 L", original_gravity="1.050", final_gravity="1.010")
    assert done["co2_mass"] == pytest.approx(0.787, rel=0.01)


def test_the_air_low_down_is_judged_and_not_the_mean() -> None:
    # the trap: a mean of 2,900 ppm is below every limit, the air near the floor need not be
    done = run("gas-in-room", {"co2_mass": "0.138 kg", "room_volume": "30 m3"})
    assert done.results["mean_concentration"].value < 5000 < done.results["low_concentration"].value
    assert any(warning.startswith("CAUTION: low down this can pass 5,000 ppm") for warning in done.warnings)
    assert any("near the floor, in a pit, a cellar or a chest freezer" in warning for warning in done.warnings)


@pytest.mark.parametrize(("kilograms", "word"), [("1 kg", "DANGER"), ("0.6 kg", "WARNING"), ("0.2 kg", "CAUTION")])
def test_the_warning_rises_with_the_limit_passed(kilograms: str, word: str) -> None:
    assert run("gas-in-room", {"co2_mass": kilograms, "room_volume": "30 m3"}).warnings[0].startswith(word)


@given(kilograms=st.floats(0, 50), room=st.floats(0.1, 500))
def test_no_result_ever_reassures(kilograms: float, room: float) -> None:
    said = " ".join(run("gas-in-room", {"co2_mass": kilograms, "room_volume": room}).warnings)
    assert "leave at once" in said
    assert "a meter decides, not this" in said
    assert "safe" not in said


def test_a_steady_leak_settles_where_the_air_carries_it_off(found: Found) -> None:
    done = found("gas-in-room", room_volume="30 m3", co2_flow="20 g/h", air_changes="0.5 per hour")
    path = solve_ivp(
        lambda _, c: 20 / 1000 / density(20) / 30 * 1e6 - 0.5 * (c - 420), (0, 40), [420.0], rtol=1e-9, atol=1e-6
    )
    assert done["steady_concentration"] == pytest.approx(path.y[0][-1], rel=0.002)
    assert room_air.gathered(420, 20 / 1000 / density(20), 30, 0.5, 40) == pytest.approx(path.y[0][-1], rel=1e-6)


def test_half_a_fermentation_is_refused() -> None:
    with pytest.raises(BadInput, match="final_gravity: is missing: give beer_volume, original_gravity, final_gravity"):
        run("gas-in-room", {"beer_volume": 20, "original_gravity": 1.050})


@given(kilograms=st.floats(0, 20), more=st.floats(0.001, 5), room=st.floats(1, 500))
def test_more_gas_or_a_smaller_room_is_never_better(kilograms: float, more: float, room: float) -> None:
    def mean(mass: float, volume: float) -> float:
        done = run("gas-in-room", {"co2_mass": mass, "room_volume": volume})
        return done.results["mean_concentration"].value

    assert mean(kilograms + more, room) >= mean(kilograms, room)
    assert mean(kilograms, room) >= mean(kilograms, room * 1.5)


@given(start=st.floats(5001, 1e6), changes=st.floats(0.1, 20))
def test_the_time_to_clear_brings_it_just_to_the_limit(start: float, changes: float) -> None:
    hours = room_air.hours_to_clear(start, 5000, 420, changes)
    assert 420 + (start - 420) * 2.718281828459045 ** (-changes * hours) == pytest.approx(5000, rel=1e-9)
