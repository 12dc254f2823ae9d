"""Carbonation, temperature and pressure against the brewers' chart."""

from __future__ import annotations

from collections.abc import Callable
from math import exp, log

import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st

from calculators import Reading, run
from calculators.physics import carbon_dioxide as co2

Found = Callable[..., dict[str, float]]
NAME = "carbonation-equilibrium"

# D. Miller, BrewingTechniques vol. 2 no. 1 (1994), Table I (data of the ASBC Beer-13 chart): °F, psi gauge, volumes.
MILLER_TABLE_I = [(38, 12, 2.57), (34, 10, 2.58), (40, 10, 2.30), (42, 14, 2.56), (45, 12, 2.26), (46, 20, 2.89)]


@pytest.mark.parametrize(("fahrenheit", "psi", "printed"), MILLER_TABLE_I)
def test_agrees_with_millers_table_within_0_03_volumes(fahrenheit: int, psi: int, printed: float, found: Found) -> None:
    done = found(NAME, temperature=f"{fahrenheit} degF", gauge_pressure=f"{psi} psi")
    assert done["carbonation"] == pytest.approx(printed, abs=0.03)


@pytest.mark.parametrize(("fahrenheit", "psi", "printed"), MILLER_TABLE_I)
def test_asked_the_other_way_it_finds_the_tables_pressure(
    fahrenheit: int, psi: int, printed: float, found: Found
) -> None:
    done = found(NAME, temperature=f"{fahrenheit} degF", carbonation=printed)
    assert done["gauge_pressure"] * 14.5038 == pytest.approx(psi, abs=0.35)


# The same fit, whose coefficients are from memory, as it is written for °F and psi over the whole of the chart.
@pytest.mark.parametrize("fahrenheit", range(30, 48))
def test_is_the_charts_fit_over_the_whole_chart(fahrenheit: int, found: Found) -> None:
    for psi in range(31):
        fit = (psi + 14.695) * (0.01821 + 0.090115 * exp(-(fahrenheit - 32) / 43.11)) - 0.003342
        done = found(NAME, temperature=f"{fahrenheit} degF", gauge_pressure=f"{psi} psi")
        assert done["carbonation"] == pytest.approx(fit, abs=0.001)


# The same fit turned round: the gauge pressure for a carbonation.
@pytest.mark.parametrize(("celsius", "volumes", "bar", "within"), [(4.0, 2.5, 0.81, 0.02), (20.0, 2.4, 1.88, 0.02)])
def test_finds_the_setting_for_a_carbonation(
    celsius: float, volumes: float, bar: float, within: float, found: Found
) -> None:
    assert found(NAME, temperature=celsius, carbonation=volumes)["gauge_pressure"] == pytest.approx(bar, abs=within)


# The exponential fit to the ASBC chart attributed to A.J. deLange, coefficients from memory; beyond the chart's 47 °F.
@pytest.mark.parametrize(
    ("fahrenheit", "psi", "volumes", "within"), [(68, 30, 2.56, 0.09), (55, 20, 2.46, 0.09), (60, 15, 1.94, 0.07)]
)
def test_continues_the_chart_to_room_temperature(
    fahrenheit: int, psi: int, volumes: float, within: float, found: Found
) -> None:
    done = found(NAME, temperature=f"{fahrenheit} degF", gauge_pressure=f"{psi} psi")
    assert done["carbonation"] == pytest.approx(volumes, abs=within)


def weiss_volumes(celsius: float) -> float:
    """CO2 in pure water at 1 atm of CO2, in volumes: R.F. Weiss, Marine Chemistry 2 (1974) 203-215."""
    kelvin = celsius + 273.15
    moles = exp(-58.0931 + 90.5069 * (100 / kelvin) + 22.2940 * log(kelvin / 100))
    return moles * 44.0095 / 1.9768


@pytest.mark.parametrize("celsius", [0, 5, 10, 20, 30, 40])
def test_beer_takes_up_a_little_less_than_water_at_every_temperature(celsius: float) -> None:
    ratio = co2.solubility(celsius) * 1.01325 / weiss_volumes(celsius)
    assert 0.91 < ratio < 1.01


# R.F. Weiss, Marine Chemistry 2 (1974) 203-215, fresh water, mol/L at 1 atm; at 25 °C the middle of R. Sander, Atmos.
# Chem. Phys. 23 (2023) 10901-12440, Hcp 3.3e-4 to 3.4e-4 mol/(m³ Pa).
@pytest.mark.parametrize(
    ("celsius", "moles", "within"), [(20, 0.0391, 0.0002), (5, 0.0641, 0.0003), (25, 0.0339, 0.0004)]
)
def test_pure_water_takes_up_what_the_measurements_say(
    celsius: float, moles: float, within: float, found: Found
) -> None:
    done = found(NAME, temperature=celsius, gauge_pressure=0.0, liquid="water")
    assert done["co2_mass_concentration"] / 44.0095 == pytest.approx(moles, abs=within)
    assert done["carbonation"] == pytest.approx(weiss_volumes(celsius), rel=1e-6)


@given(temperature=st.floats(0.0, 40.0), pressure=st.floats(0.0, 4.0))
def test_for_water_too_any_two_give_back_the_third(temperature: float, pressure: float) -> None:
    def third(**two: float) -> dict[str, float]:
        return {name: reading.value for name, reading in run(NAME, {**two, "liquid": "water"}).results.items()}

    volumes = third(temperature=temperature, gauge_pressure=pressure)["carbonation"]
    assert third(temperature=temperature, carbonation=volumes)["gauge_pressure"] == pytest.approx(pressure, abs=1e-9)
    assert third(gauge_pressure=pressure, carbonation=volumes)["temperature"] == pytest.approx(temperature, abs=1e-6)


def test_one_volume_is_1_977_grams_a_litre(found: Found) -> None:
    assert pytest.approx(PropsSI("D", "T", 273.15, "P", 101_325, "CO2"), abs=0.0001) == co2.GRAMS_PER_VOLUME
    done = found(NAME, temperature="4 degC", carbonation=2.5)
    assert done["co2_mass_concentration"] == pytest.approx(4.94, abs=0.04)


def test_the_setting_in_the_mountains_is_not_the_one_at_the_sea(found: Found) -> None:
    at_sea = found(NAME, temperature="38 degF", gauge_pressure="12 psi")
    in_denver = found(NAME, temperature="38 degF", gauge_pressure="12 psi", altitude="1609 m")
    for_the_same = found(NAME, temperature="38 degF", carbonation=at_sea["carbonation"], altitude="1609 m")
    assert at_sea["carbonation"] - in_denver["carbonation"] == pytest.approx(0.25, abs=0.02)
    # U.S. Standard Atmosphere 1976: the absolute pressure over the beer is what counts
    assert for_the_same["gauge_pressure"] * 14.5038 == pytest.approx(14.59, abs=0.15)


def test_a_pressure_is_what_the_gauge_reads_not_absolute(found: Found) -> None:
    # 12 psi absolute would be less than the air outside; the beer would go flat at about 1.15 vol
    assert found(NAME, temperature="38 degF", gauge_pressure="12 psi")["carbonation"] > 2.5
    assert found(NAME, temperature="38 degF", gauge_pressure="0 psi")["carbonation"] == pytest.approx(1.42, abs=0.03)


def test_outside_the_chart_the_answer_says_so() -> None:
    warm = run(NAME, {"temperature": "68 degF", "gauge_pressure": "30 psi"})
    cold = run(NAME, {"temperature": "38 degF", "gauge_pressure": "12 psi"})
    assert any("chart ends at 47 °F" in warning and "3.5 %" in warning for warning in warm.warnings)
    assert cold.warnings == ()


@pytest.mark.parametrize(("celsius", "doubt"), [(8.0, 0.03), (9.0, 0.035)])
def test_beyond_the_chart_the_range_is_wider(celsius: float, doubt: float) -> None:
    exactly = {"temperature": Reading(celsius, celsius, celsius), "gauge_pressure": Reading(1.0, 1.0, 1.0)}
    volumes = run(NAME, exactly).results["carbonation"]
    assert volumes.high / volumes.value - 1.0 == pytest.approx(doubt)


def test_a_target_below_what_unpressurised_beer_holds_is_pointed_out() -> None:
    done = run(NAME, {"temperature": "4 degC", "carbonation": 1.0})
    assert done.results["gauge_pressure"].value < 0
    assert any("no pressure at all" in warning for warning in done.warnings)


@given(temperature=st.floats(-1.0, 40.0), pressure=st.floats(0.0, 4.0), altitude=st.floats(0.0, 4000.0))
def test_any_two_give_back_the_third(temperature: float, pressure: float, altitude: float) -> None:
    def third(**two: float) -> dict[str, float]:
        done = run(NAME, {**two, "altitude": altitude})
        return {name: reading.value for name, reading in done.results.items()}

    volumes = third(temperature=temperature, gauge_pressure=pressure)["carbonation"]
    assert third(temperature=temperature, carbonation=volumes)["gauge_pressure"] == pytest.approx(pressure, abs=1e-9)
    assert third(gauge_pressure=pressure, carbonation=volumes)["temperature"] == pytest.approx(temperature, abs=1e-6)


@given(cold=st.floats(-2.0, 39.0), rise=st.floats(0.001, 1.0), low=st.floats(0.0, 5.0), more=st.floats(0.001, 5.0))
def test_colder_or_harder_pressed_beer_holds_more(cold: float, rise: float, low: float, more: float) -> None:
    assert co2.carbonation(cold, low + 1) > co2.carbonation(cold + rise, low + 1)
    assert co2.carbonation(cold, low + more + 1) > co2.carbonation(cold, low + 1)
