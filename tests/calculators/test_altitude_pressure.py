"""Air pressure and gauges in the mountains."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from fluids import ATMOSPHERE_1976
from hypothesis import given
from hypothesis import strategies as st

from calculators import run
from calculators.physics import atmosphere

Found = Callable[..., dict[str, float]]

# U.S. Standard Atmosphere, 1976, Table I: geometric altitude in m, pressure in hPa as printed.
TABLE_I = [(0, 1013.25), (2000, 795.01), (4000, 616.60)]


@pytest.mark.parametrize(("metres", "printed"), TABLE_I)
def test_agrees_with_the_standard_atmosphere_as_printed(metres: int, printed: float, found: Found) -> None:
    done = found("altitude-pressure", altitude=metres)
    assert done["atmospheric_pressure"] * 10 == pytest.approx(printed, abs=0.02)


def test_agrees_with_the_psychrometrics_table_of_the_handbook(found: Found) -> None:
    # ASHRAE Handbook Fundamentals, standard atmosphere in the chapter on psychrometrics: 12.230 psia at 5000 ft (the
    # attribution from memory)
    done = found("altitude-pressure", altitude="5000 ft")
    assert done["atmospheric_pressure"] == pytest.approx(12.230 * 6.894757, abs=0.03)


@pytest.mark.parametrize("metres", [-400, 300, 1000, 1609, 2240, 3500, 5000])
def test_agrees_with_the_fluids_library(metres: int, found: Found) -> None:
    reference = ATMOSPHERE_1976(metres).P / 1000  # fluids: U.S. Standard Atmosphere 1976 (ISO 2533 below 32 km)
    assert found("altitude-pressure", altitude=metres)["atmospheric_pressure"] == pytest.approx(reference, abs=0.01)


def test_twelve_psi_at_the_sea_is_14_6_in_denver(found: Found) -> None:
    # the absolute pressure over the beer is what counts; close to the trade's 1 psi for each 2,000 ft (common practice)
    done = found("altitude-pressure", altitude="1609 m", sea_level_gauge_pressure="12 psi")
    assert done["gauge_pressure"] * 14.5038 == pytest.approx(14.59, abs=0.02)


def test_without_a_setting_there_is_no_gauge_pressure(found: Found) -> None:
    assert found("altitude-pressure", altitude="5280 ft").keys() == {"atmospheric_pressure"}


def test_the_weather_is_in_the_range() -> None:
    outside = run("altitude-pressure", {"altitude": "0 m"}).results["atmospheric_pressure"]
    assert outside.unit == "kPa_absolute"
    assert outside.low < 99.4 < 103.2 < outside.high


def test_above_5000_m_the_answer_is_a_rough_guide() -> None:
    assert any("rough guide" in warning for warning in run("altitude-pressure", {"altitude": "6000 m"}).warnings)


@given(metres=st.floats(-500, 8999), step=st.floats(0.1, 1))
def test_higher_is_always_thinner(metres: float, step: float) -> None:
    assert atmosphere.pressure(metres + step) < atmosphere.pressure(metres)


@given(reading=st.floats(-0.5, 10), metres=st.floats(-500, 9000))
def test_gauge_and_absolute_are_inverse(reading: float, metres: float) -> None:
    assert atmosphere.gauge(atmosphere.absolute(reading, metres), metres) == pytest.approx(reading, abs=1e-12)


def test_twelve_psi_gauge_is_184_06_kpa_absolute() -> None:
    # addition of the standard atmosphere, NIST SP 811 factors
    assert atmosphere.absolute(12 * 0.0689475729) * 100 == pytest.approx(184.06, abs=0.01)
