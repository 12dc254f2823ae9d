"""The hydrometer in warm and cold samples."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from calculators import run
from calculators.physics import solution_density as density

Found = Callable[..., dict[str, float]]


def icumsa(share: float, temperature: float) -> float:
    """Sucrose solution, kg/m³: Bubnik and others, Sugar Technologists Manual (1995), p. 164, on CoolProp's water."""
    x, w = (temperature - 20) / 100, share
    return float(
        PropsSI("D", "T", temperature + 273.15, "P", 101_325, "Water")
        + (385.1761 * w + 135.3705 * w**2 + 40.9299 * w**3 - 3.9643 * w**4 + 13.4853 * w**5 - 17.2890 * w**6)
        + x * (-46.2720 * w - 7.1720 * w**2 + 1.1597 * w**3 + 5.1126 * w**4 + 17.5254 * w**5)
        + x**2 * (59.7712 * w + 7.2491 * w**2 + 12.3630 * w**3 - 35.4791 * w**4)
        + x**3 * (-47.2207 * w - 21.6977 * w**2 + 27.6301 * w**3)
        + x**4 * (18.3184 * w + 12.3081 * w**2)
    )


def corrected(reading: float, sample: float, own: float) -> float:
    """The correction solved anew: glass of 25e-6 per °C (OIML R 22) floating in an ICUMSA solution."""
    in_liquid = reading * icumsa(0.0, own) / (1 + 25e-6 * (sample - own))
    share = brentq(lambda w: icumsa(w, sample) - in_liquid, -0.05, 0.6, xtol=1e-12)
    return icumsa(share, own) / icumsa(0.0, own)


@pytest.mark.parametrize("own", [20.0, 15.6])
@pytest.mark.parametrize("sample", [4.0, 10.0, 15.0, 25.0, 30.0, 40.0, 60.0])
@pytest.mark.parametrize("reading", [0.999, 1.012, 1.050, 1.090])
def test_agrees_with_an_independent_solution(reading: float, sample: float, own: float, found: Found) -> None:
    done = found("hydrometer-correction", reading=reading, sample_temperature=sample, calibration_temperature=own)
    assert done["corrected_gravity"] == pytest.approx(corrected(reading, sample, own), abs=0.00002)


# Computed with the ICUMSA density, CoolProp water and glass of 25e-6 per °C (OIML R 22); buoyancy in air ignored.
@pytest.mark.parametrize(
    ("reading", "sample", "gravity", "within"),
    [
        (1.050, 30, 1.0528, 0.0005),
        (1.020, 10, 1.0185, 0.0005),
        (1.012, 25, 1.0131, 0.0005),
        (1.045, 40, 1.0514, 0.0008),
        (1.060, 4, 1.0573, 0.0005),
    ],
)
def test_gives_the_worked_figures(reading: float, sample: float, gravity: float, within: float, found: Found) -> None:
    done = found("hydrometer-correction", reading=reading, sample_temperature=sample)
    assert done["corrected_gravity"] == pytest.approx(gravity, abs=within)


def test_the_scale_of_the_hydrometer_matters(found: Found) -> None:
    at_60f = found(
        "hydrometer-correction", reading=1.05, sample_temperature="68 degF", calibration_temperature="60 degF"
    )
    at_20c = found(
        "hydrometer-correction", reading=1.05, sample_temperature="68 degF", calibration_temperature="20 degC"
    )
    assert at_20c["correction"] == pytest.approx(0.0, abs=1e-9)
    assert at_60f["correction"] == pytest.approx(0.001, abs=0.0002)


def test_a_hot_sample_is_warned_of_and_its_range_is_wide() -> None:
    hot = run("hydrometer-correction", {"reading": "1.035", "sample_temperature": "140 degF"})
    cool = run("hydrometer-correction", {"reading": "1.035", "sample_temperature": "20 degC"})
    assert any("cool it below 40 °C (104 °F)" in warning for warning in hot.warnings)
    width = [c.results["corrected_gravity"].high - c.results["corrected_gravity"].low for c in (hot, cool)]
    assert width[0] > 1.5 * width[1]


@pytest.mark.parametrize("celsius", [0.5, 4, 15, 20, 40, 60, 80, 99])
def test_water_is_as_heavy_as_a_reference_equation_of_state_says(celsius: float) -> None:
    reference = PropsSI("D", "T", celsius + 273.15, "P", 101_325, "Water")  # CoolProp: IAPWS-95
    assert density.water(celsius) == pytest.approx(reference, abs=0.02)


@given(reading=st.floats(0.99, 1.12), sample=st.floats(20.0, 99.0), step=st.floats(0.1, 1.0))
def test_the_warmer_the_sample_the_more_is_added(reading: float, sample: float, step: float) -> None:
    def correction(temperature: float) -> float:
        done = run("hydrometer-correction", {"reading": reading, "sample_temperature": temperature})
        return done.results["correction"].value

    assert correction(sample + step) > correction(sample)


@given(share=st.floats(0.0, 0.4), temperature=st.floats(0.0, 90.0))
def test_density_and_share_are_inverse(share: float, temperature: float) -> None:
    found_share = density.share_for(density.sugar_solution(share, temperature), temperature)
    assert found_share == pytest.approx(share, abs=1e-9)
