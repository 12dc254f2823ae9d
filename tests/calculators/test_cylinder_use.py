"""A carbon dioxide cylinder: its gauge, its contents, its use."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st

from calculators import BadInput, InputValue, run
from calculators.physics import liquid_co2

Found = Callable[..., dict[str, float]]
Inputs = dict[str, InputValue]
KEG = {"beer_volume": "19 L", "beer_temperature": "4 degC", "gauge_pressure": "0.8 bar"}


@pytest.mark.parametrize("celsius", [-20, 0, 10, 20, 25, 30])
def test_the_gauge_reads_the_saturation_pressure_of_the_reference_equation(celsius: float, found: Found) -> None:
    saturation = PropsSI("P", "T", celsius + 273.15, "Q", 0, "CO2") / 1e5
    done = found("cylinder-use", cylinder_temperature=celsius)
    assert done["cylinder_gauge_pressure"] == pytest.approx(saturation - 1.01325, rel=0.001)


def test_at_20_degrees_the_gauge_reads_56_bar_whatever_is_left(found: Found) -> None:
    full, nearly_empty = (
        found("cylinder-use", gas_left=left)["cylinder_gauge_pressure"] for left in ("2.2 kg", "0.3 kg")
    )
    assert full == nearly_empty == pytest.approx(56.3, abs=0.2)  # CoolProp


def test_says_that_the_gauge_does_not_tell_the_contents() -> None:
    assert any("does not tell what is in it" in warning for warning in run("cylinder-use", {}).warnings)


def test_above_31_degrees_there_is_no_liquid_to_set_the_pressure() -> None:
    done = run("cylinder-use", {"cylinder_temperature": "35 degC"})
    assert any("there is no liquid" in warning for warning in done.warnings)
    assert any("DANGER" in warning for warning in run("cylinder-use", {"cylinder_temperature": 55}).warnings)


def test_the_most_it_may_be_filled_with(found: Found) -> None:
    # 49 CFR 173.304a(a)(2) Table 1: 68 per cent of the water's mass
    assert found("cylinder-use", cylinder_water_capacity="3.4 L")["maximum_fill"] == pytest.approx(2.31, abs=0.005)


def test_a_keg_takes_what_dissolves_and_what_fills_it(found: Found) -> None:
    # 1.977 g/L a volume; CoolProp's gas density at 4 °C and 1.813 bar absolute
    done = found("cylinder-use", **KEG, start_carbonation=0.85, target_carbonation=2.5)
    filling = 19 * PropsSI("D", "T", 277.15, "P", 1.81325e5, "CO2")
    assert done["co2_to_carbonate"] == pytest.approx(1.65 * 1.977 * 19, rel=0.001)
    assert done["co2_to_serve"] == pytest.approx(filling, rel=0.003)
    assert done["co2_for_a_keg"] == pytest.approx(129, abs=1)


def test_the_scales_tell_how_many_kegs_are_left(found: Found) -> None:
    done = found(
        "cylinder-use", **KEG, start_carbonation=0.85, target_carbonation=2.5, cylinder_mass="5.5 kg",
        empty_cylinder_mass="3.4 kg",
    )  # fmt: skip
    assert done["gas_left"] == pytest.approx(2.1)
    assert done["kegs_left"] == pytest.approx(2100 / 129, rel=0.01)


def test_a_leak_empties_it_in_so_many_days(found: Found) -> None:
    assert found("cylinder-use", gas_left="2.4 kg", leak_rate="10 g/h")["time_left"] == pytest.approx(10.0)


def test_a_cylinder_lighter_than_its_tare_is_a_mix_up() -> None:
    with pytest.raises(BadInput, match="cylinder_mass: 3 kg is less than the empty cylinder's 4"):
        run("cylinder-use", {"cylinder_mass": "3 kg", "empty_cylinder_mass": "4 kg"})
    with pytest.raises(BadInput, match="empty_cylinder_mass: is missing: give cylinder_mass, empty_cylinder_mass"):
        run("cylinder-use", {"cylinder_mass": "3 kg"})


def test_beer_already_carbonated_takes_only_the_gas_that_empties_it(found: Found) -> None:
    assert found("cylinder-use", **KEG)["co2_to_carbonate"] == 0.0


@given(cold=st.floats(-50, 30), step=st.floats(0.01, 0.9))
def test_a_warmer_cylinder_always_reads_more(cold: float, step: float) -> None:
    assert liquid_co2.vapour_pressure(cold + step) > liquid_co2.vapour_pressure(cold)


@given(serving=st.floats(0, 4), more=st.floats(0.01, 1), target=st.floats(1, 4))
def test_more_pressure_or_more_carbonation_always_takes_more_gas(serving: float, more: float, target: float) -> None:
    def gas(bar: float, volumes: float) -> float:
        keg: Inputs = {**KEG, "gauge_pressure": bar, "start_carbonation": 0.85, "target_carbonation": volumes}
        return run("cylinder-use", keg).results["co2_for_a_keg"].value

    assert gas(serving + more, target) > gas(serving, target)
    assert gas(serving, target + more) > gas(serving, target)
