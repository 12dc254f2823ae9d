"""Ice and cold water in hot wort, against heat balances of a reference equation of state."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from calculators import BadInput, run
from calculators.physics import heat

Found = Callable[..., dict[str, float]]
FUSION = 333.4  # kJ/kg at 0 °C (IAPWS R10-06)


def enthalpy(celsius: float) -> float:
    return float(PropsSI("H", "T", celsius + 273.15, "P", 101325, "Water")) / 1000


def density(celsius: float) -> float:
    """kg/L."""
    return float(PropsSI("D", "T", celsius + 273.15, "P", 101325, "Water")) / 1000


# Heat of fusion 333.4 kJ/kg and water's enthalpy; 20 kg of wort of 4.0 kJ/(kg K).
def test_ice_for_twenty_kilograms_of_wort(found: Found) -> None:
    litres = 20 / (1.045 * 0.9957)  # of 1.045 at 30 °C
    done = found(
        "ice-to-chill", batch_volume=litres, wort_temperature=30, target_temperature=20, ice_temperature=0,
        original_gravity=1.045,
    )  # fmt: skip
    assert done["ice_mass"] == pytest.approx(20 * 4.0 * 10 / (FUSION + enthalpy(20) - enthalpy(0.01)), abs=0.05)


@pytest.mark.parametrize(("litres", "hot", "target"), [(20, 30, 20), (10, 95, 25), (5, 60, 5)])
def test_ice_in_plain_water_balances_the_heat(litres: float, hot: float, target: float, found: Found) -> None:
    done = found(
        "ice-to-chill", batch_volume=litres, wort_temperature=hot, target_temperature=target, ice_temperature=0,
        original_gravity=1.0,
    )  # fmt: skip
    given_up = litres * density(hot) * (enthalpy(hot) - enthalpy(target))
    assert done["ice_mass"] == pytest.approx(given_up / (FUSION + enthalpy(target) - enthalpy(0.01)), rel=0.01)


def test_five_hot_and_fifteen_cold_litres_of_water(found: Found) -> None:
    hot, cold = 5 * density(80), 15 * density(15)
    mixed = brentq(lambda t: hot * (enthalpy(80) - enthalpy(t)) - cold * (enthalpy(t) - enthalpy(15)), 15, 80)
    done = found(
        "ice-to-chill", batch_volume=5, wort_temperature=80, cold_water_volume=15, cold_water_temperature=15,
        original_gravity=1.0,
    )  # fmt: skip
    assert done["temperature"] == pytest.approx(mixed, abs=0.1)
    assert done["temperature"] == pytest.approx(30.92, abs=0.1)


def test_wort_takes_less_heat_than_water_the_stronger_it_is() -> None:
    # sucrose of 12.4 °Bx: about 3.9 kJ/(kg K); water 4.19
    assert heat.wort_specific_heat(12.4, 25) == pytest.approx(3.9, abs=0.05)
    assert heat.wort_specific_heat(25, 25) < heat.wort_specific_heat(10, 25) < heat.WATER_HEAT


def test_ice_in_the_wort_thins_it_and_the_gravity_says_by_how_much(found: Found) -> None:
    done = found(
        "ice-to-chill", batch_volume="20 L", wort_temperature="30 degC", ice_mass="2 kg", original_gravity=1.050
    )
    assert done["gravity_with_ice"] == pytest.approx(1 + 0.050 * 20 / 22, abs=0.0006)  # points times volume


def test_ice_out_of_the_freezer_cools_a_tenth_more(found: Found) -> None:
    wort = {"batch_volume": 20, "wort_temperature": 30, "target_temperature": 20, "original_gravity": 1.050}
    melting, frozen = (found("ice-to-chill", **wort, ice_temperature=t)["ice_mass"] for t in (0, -18))
    assert melting / frozen == pytest.approx(1 + 2.05 * 18 / (FUSION + 84), abs=0.002)


def test_more_ice_than_melts_ends_at_zero() -> None:
    done = run("ice-to-chill", {"batch_volume": 5, "wort_temperature": 20, "ice_mass": 20, "ice_temperature": 0})
    assert done.results["temperature"].value == 0.0
    assert any("ice is left" in warning for warning in done.warnings)


def test_cold_water_that_is_not_colder_than_the_target_is_refused() -> None:
    wort = {"batch_volume": 20, "wort_temperature": 30, "target_temperature": 20}
    with pytest.raises(BadInput, match="cold_water_temperature: water of 22 degC cannot bring wort to 20"):
        run("ice-to-chill", {**wort, "cold_water_temperature": 22})
    with pytest.raises(BadInput, match="target_temperature: 40 degC is above the wort's 30: this only chills"):
        run("ice-to-chill", {**wort, "target_temperature": 40})


def test_only_boiled_ice_into_the_wort_and_no_hot_glass_into_ice() -> None:
    done = run("ice-to-chill", {"batch_volume": 20, "wort_temperature": 30, "target_temperature": 20})
    assert any("was boiled and kept clean" in warning for warning in done.warnings)
    assert any("hot glass" in warning for warning in done.warnings)


@given(hot=st.floats(20, 99), share=st.floats(0.05, 0.95), gravity=st.floats(1.0, 1.1), ice=st.floats(-20, 0))
def test_ice_and_temperature_are_inverse(hot: float, share: float, gravity: float, ice: float) -> None:
    wort = {"batch_volume": 20.0, "wort_temperature": hot, "original_gravity": gravity, "ice_temperature": ice}
    target = 1 + share * (hot - 1)
    mass = run("ice-to-chill", {**wort, "target_temperature": target}).results["ice_mass"].value
    assert run("ice-to-chill", {**wort, "ice_mass": mass}).results["temperature"].value == pytest.approx(
        target, abs=0.01
    )


@given(hot=st.floats(20, 99), target=st.floats(1, 15), step=st.floats(0.1, 4))
def test_a_colder_target_always_takes_more_ice(hot: float, target: float, step: float) -> None:
    def ice(end: float) -> float:
        inputs = {"batch_volume": 20.0, "wort_temperature": hot, "target_temperature": end}
        return run("ice-to-chill", inputs).results["ice_mass"].value

    assert ice(target) > ice(target + step)
