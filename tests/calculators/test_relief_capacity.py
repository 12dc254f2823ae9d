"""What a relief valve lets out: gas through a nozzle, choked and not."""

from __future__ import annotations

from collections.abc import Callable
from math import pi, sqrt

import pytest
from CoolProp.CoolProp import PropsSI
from fluids.safety_valve import API520_A_g
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import brentq

from calculators import BadInput, run
from calculators.physics import atmosphere, relief

Found = Callable[..., dict[str, float]]


def api_flow(area: float, inlet: float, outlet: float, coefficient: float) -> float:
    """kg/h of CO2 at 20 °C through mm², bar absolute, by the library's API 520 sizing, solved for the flow."""

    def missed(kilograms: float) -> float:
        needed = API520_A_g(
            m=kilograms / 3600, T=293.15, Z=1.0, MW=44.0095, k=1.29, P1=inlet * 1e5, P2=outlet * 1e5, Kd=coefficient
        )
        return float(needed * 1e6 - area)

    return float(brentq(missed, 1e-6, 1e5))


# API Standard 520 Part I, worked example of gas sizing as the fluids library's documentation reproduces it: 24270 kg/h
# of a gas of 51 g/mol, k 1.11, Z 0.90, at 348 K and 670 kPa absolute, coefficient 0.975, needs 3699 mm².
def test_repeats_the_standards_worked_example_of_critical_flow() -> None:
    gas = relief.Gas(51.0, 1.11, 0.90)
    flow = 0.975 * relief.flow_per_area(gas, 6.70, 1.01325, 348.0 - 273.15)
    assert 24270 / flow == pytest.approx(3699, abs=5)


@pytest.mark.parametrize("set_at", [0.1, 0.3, 0.5, 0.7, 0.76, 1.0, 2.0, 2.4, 6.0])
@pytest.mark.parametrize("bore", [2.0, 3.0])
def test_agrees_with_the_fluids_library_below_and_above_the_critical_ratio(
    set_at: float, bore: float, found: Found
) -> None:
    done = found("relief-capacity", relief_pressure=set_at, orifice_bore=bore)
    reference = api_flow(pi / 4 * bore**2, set_at * 1.1 + 1.01325, 1.01325, 0.65)
    assert done["co2_capacity"] == pytest.approx(reference, rel=0.01)


# API 520 equations as in the fluids library; an isentropic nozzle written separately agrees.
@pytest.mark.parametrize(("set_at", "bore", "kilograms"), [("2 bar", "3 mm", 15.03), ("0.5 bar", "2 mm", 3.17)])
def test_gives_the_worked_capacities(set_at: str, bore: str, kilograms: float, found: Found) -> None:
    done = found("relief-capacity", relief_pressure=set_at, orifice_bore=bore)
    assert done["co2_capacity"] == pytest.approx(kilograms, rel=0.01)


def test_counting_a_low_pressure_as_choked_would_promise_too_much(found: Found) -> None:
    # the trap: 0.3 bar is subcritical (outlet over inlet 0.75, critical ratio 0.548)
    inlet = 0.3 * 1.1 + 1.01325
    choked = 0.65 * relief.flow_per_area(relief.CARBON_DIOXIDE, inlet, 0.0, 20.0) * pi / 4 * 9
    done = found("relief-capacity", relief_pressure=0.3, orifice_bore=3)
    assert done["co2_capacity"] < 0.9 * choked


def test_says_which_kind_of_flow_it_is_and_warns_of_the_outlet_where_it_is_subcritical() -> None:
    low = run("relief-capacity", {"relief_pressure": "0.3 bar", "orifice_bore": "3 mm"})
    high = run("relief-capacity", {"relief_pressure": "2 bar", "orifice_bore": "3 mm"})
    assert "subcritical" in low.working
    assert any("fitted to the valve's outlet" in warning for warning in low.warnings)
    assert "critical (choked)" in high.working
    assert not any("fitted to the valve's outlet" in warning for warning in high.warnings)


def test_the_set_pressure_is_gauge_and_the_accumulation_is_of_the_gauge(found: Found) -> None:
    done = found("relief-capacity", relief_pressure="35 psi", orifice_bore="3 mm")
    assert done["relieving_pressure"] == pytest.approx(35 * 0.0689475729 * 1.1 + 1.01325, abs=1e-6)


def test_the_bore_required_just_passes_the_flow(found: Found) -> None:
    needed = found("relief-capacity", relief_pressure="1 bar", co2_flow="5 kg/h")
    passes = found("relief-capacity", relief_pressure="1 bar", orifice_bore=needed["required_bore"])
    assert passes["co2_capacity"] == pytest.approx(5.0, rel=1e-9)
    assert needed["required_bore"] == pytest.approx(sqrt(4 * needed["required_area"] / pi))


def test_a_fermentation_makes_far_less_than_a_small_valve_passes_as_gas(found: Found) -> None:
    # Balling: 0.985 g/L a point; 23 L falling 20 points a day make 19 g an hour
    done = found(
        "relief-capacity", relief_pressure="1 bar", orifice_bore="3 mm", beer_volume="23 L",
        gravity_fall_per_day="20 points",
    )  # fmt: skip
    assert done["co2_flow"] == pytest.approx(23 * 20 * 0.985 / 24 / 1000, rel=0.01)
    assert done["co2_capacity"] > 100 * done["co2_flow"]


def test_twenty_litres_that_fall_ten_points_a_day_make_a_bubble_of_four_and_a_half_litres_an_hour(found: Found) -> None:
    # Balling's balance with Tabarie's rule from 1.040 to 1.030 of 1.050, solved apart: 197 g; CoolProp's gas at 20 °C
    done = found("relief-capacity", relief_pressure="1 bar", beer_volume="20 L", gravity_fall_per_day="10 points")
    grams_an_hour = 1000 * done["co2_flow"]
    assert 24 * grams_an_hour == pytest.approx(197, abs=2)
    assert grams_an_hour / PropsSI("D", "T", 293.15, "P", 101_325, "CO2") == pytest.approx(4.46, abs=0.05)


def test_foam_is_not_gas_and_the_vessels_marking_decides() -> None:
    said = " ".join(run("relief-capacity", {"relief_pressure": "2 bar", "orifice_bore": "3 mm"}).warnings)
    assert "Foam, beer or hops in the valve are not gas" in said
    assert "The pressure marked on the vessel and the valve's certified capacity decide" in said
    assert "Local codes and licensed practice come first" in said


def test_warns_where_the_orifice_is_too_small_for_the_flow() -> None:
    done = run("relief-capacity", {"relief_pressure": "1 bar", "orifice_bore": "1 mm", "co2_flow": "20 kg/h"})
    assert any("too small for that flow" in warning for warning in done.warnings)


def test_the_unknown_coefficient_of_a_small_valve_is_in_the_range() -> None:
    capacity = run("relief-capacity", {"relief_pressure": "2 bar", "orifice_bore": "3 mm"}).results["co2_capacity"]
    assert capacity.low < 0.72 * capacity.value
    assert capacity.high > 1.2 * capacity.value


def test_nothing_to_reckon_with_is_refused() -> None:
    with pytest.raises(BadInput, match="orifice_bore: give the valve's orifice_bore, the co2_flow"):
        run("relief-capacity", {"relief_pressure": "2 bar"})
    with pytest.raises(BadInput, match="co2_flow: give co2_flow, or beer_volume together with gravity_fall_per_day"):
        run("relief-capacity", {"relief_pressure": "2 bar", "orifice_bore": "3 mm", "beer_volume": "20 L"})


@given(set_at=st.floats(0.02, 20), more=st.floats(0.01, 1), bore=st.floats(0.5, 20))
def test_more_pressure_or_a_wider_bore_always_passes_more(set_at: float, more: float, bore: float) -> None:
    def capacity(pressure: float, width: float) -> float:
        done = run("relief-capacity", {"relief_pressure": pressure, "orifice_bore": width})
        return done.results["co2_capacity"].value

    assert capacity(set_at + more, bore) > capacity(set_at, bore)
    assert capacity(set_at, bore + more) > capacity(set_at, bore)


@given(inlet=st.floats(1.1, 20), outlet=st.floats(0.1, 20), change=st.floats(1e-6, 1e-3))
def test_the_flow_has_no_jump_where_it_becomes_choked(inlet: float, outlet: float, change: float) -> None:
    assume(outlet + change < inlet)
    flow, less = (relief.flow_per_area(relief.CARBON_DIOXIDE, inlet, end, 20.0) for end in (outlet, outlet + change))
    assert less <= flow * (1 + 1e-12)
    nearly_shut = (inlet - outlet) / inlet < 0.01  # there the flow goes with the root of the difference
    assert nearly_shut or less == pytest.approx(flow, rel=0.06)


def test_thinner_air_outside_lets_more_through(found: Found) -> None:
    low = found("relief-capacity", relief_pressure=0.3, orifice_bore=3)
    high = found("relief-capacity", relief_pressure=0.3, orifice_bore=3, altitude="2500 m")
    assert high["relieving_pressure"] - low["relieving_pressure"] == pytest.approx(
        atmosphere.pressure(2500) - atmosphere.SEA_LEVEL
    )
