"""A hydrometer reading in a sample that is not at the hydrometer's own temperature."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.calculator import calculator
from calculators.core import Found, Given, ResultSpec, Source, quantity
from calculators.measures import THERMOMETER, gravity
from calculators.physics import solution_density as density

GLASS = Source(
    "oiml-r22-glass",
    "OIML R 22, International alcoholometric tables (1975): cubic expansion of soda-lime glass 25e-6 per °C.",
)
_GLASS_EXPANSION = 25e-6


@calculator(
    "hydrometer-correction",
    title="Hydrometer reading at another temperature",
    inputs=(
        gravity("reading"),
        quantity("sample_temperature", "degC", (0.0, 100.0), established=(0.0, 40.0), reading=THERMOMETER),
        quantity("calibration_temperature", "degC", (10.0, 30.0), default=20.0),
    ),
    results=(
        ResultSpec("corrected_gravity", "SG", absolute=0.0005),
        ResultSpec("correction", "SG_difference", absolute=0.0005),
    ),
    sources=(density.ICUMSA_DENSITY, density.KELL_1975, GLASS),
)
def hydrometer_correction(
    reading: float, sample_temperature: float, calibration_temperature: float
) -> dict[str, float]:
    """The gravity a hydrometer would show in the same sample at the temperature it was made for.

    Warm liquid is thinner, so a warm sample reads low. Good to 0.0005 up to 35 °C; above 40 °C the correction grows
    so steep that a degree matters, and a cooled sample is the answer.

    Parameters
    ----------
    reading : SG as read, 0.98 to 1.2
    sample_temperature : degC of the sample, 0 to 100 (established: to 40)
    calibration_temperature : degC printed on the hydrometer, 10 to 30; usually 20 °C or 60 °F (15.6 °C)

    Returns
    -------
    corrected_gravity : SG at the hydrometer's own temperature
    correction : SG_difference; what was added to the reading

    References
    ----------
    ICUMSA sucrose density (icumsa-sucrose-density); Kell 1975, water (kell-1975); OIML R 22, glass (oiml-r22-glass)

    Examples
    --------
    >>> import calculators
    >>> found = calculators.run("hydrometer-correction", {"reading": "1.050", "sample_temperature": "30 degC"})
    >>> round(found.results["corrected_gravity"].value, 4)
    1.0528
    """
    floats_in = _density_shown(reading, sample_temperature, calibration_temperature)
    share = density.share_for(floats_in, sample_temperature)
    at_own = density.sugar_solution(share, calibration_temperature)
    corrected = at_own / density.water(calibration_temperature)
    return {"corrected_gravity": corrected, "correction": corrected - reading}


def _density_shown(reading: float, sample: float, calibration: float) -> float:
    """Density, kg/m³, of the liquid in which the glass, grown with the warmth, sinks to ``reading``."""
    return reading * density.water(calibration) / (1.0 + _GLASS_EXPANSION * (sample - calibration))


@hydrometer_correction.working
def _working(given: Given, found: Found) -> Iterator[str]:
    sample, own = given["sample_temperature"], given["calibration_temperature"]
    shown = _density_shown(given["reading"], sample, own)
    share = density.share_for(shown, sample)
    yield (
        f"density of the sample = {given['reading']:.4f} × {density.water(own):.2f} / "
        f"(1 + 25e-6 × ({sample:.1f} - {own:.1f})) = {shown:.2f} kg/m³"
    )
    yield f"at {sample:.1f} °C that is a solution of {share * 100:.2f} g sugar in 100 g"
    yield (
        f"at {own:.1f} °C the same weighs {density.sugar_solution(share, own):.2f}, water {density.water(own):.2f}: "
        f"gravity = {found['corrected_gravity']:.4f}"
    )


@hydrometer_correction.more_uncertainty
def _more_uncertainty(given: Given, _found: Found) -> dict[str, float]:
    more = 5e-5 * max(0.0, abs(given["sample_temperature"] - 20.0) - 15.0)
    return {"corrected_gravity": more, "correction": more}


@hydrometer_correction.warnings
def _warnings(given: Given, _found: Found) -> Iterator[str]:
    if given["sample_temperature"] > 40.0:
        yield "The sample is too hot for a sure correction: cool it below 40 °C (104 °F), covered, and read again."
