"""A refractometer in beer, where alcohol bends the light too."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.calculator import calculator
from calculators.core import BadInput, Found, Given, ResultSpec, Source, quantity
from calculators.measures import REFRACTOMETER, gravity
from calculators.physics import sugar

TERRILL_2011 = Source(
    "terrill-2011",
    "S. Terrill, 'Refractometer FG Results' (2011): FG = 1 - 0.00085683 Bi + 0.0034941 Bf, both readings divided by "
    "the wort correction factor; fitted to 68 beers, poor below about 60 % apparent attenuation.",
)


@calculator(
    "refractometer-correction",
    title="Gravity of beer from a refractometer",
    inputs=(
        quantity("current_brix", "degBx", (-1.0, 40.0), established=(0.0, 20.0), reading=REFRACTOMETER),
        quantity("original_brix", "degBx", (0.0, 40.0), established=(7.0, 25.0), reading=REFRACTOMETER, optional=True),
        gravity("original_gravity", optional=True),
        quantity("wort_factor", "1", (0.9, 1.2), established=(1.0, 1.08), default=1.04, reading=0.02),
    ),
    results=(ResultSpec("current_gravity", "SG", absolute=0.002, possible=(0.97, 1.2)),),
    sources=(TERRILL_2011, sugar.NBS_C440),
)
def refractometer_correction(
    current_brix: float, original_brix: float | None, original_gravity: float | None, wort_factor: float
) -> dict[str, float]:
    """Gravity of fermenting or finished beer from its refractometer reading and the wort's.

    A refractometer counts alcohol as if it were sugar, so its reading in beer is no gravity. Linear fit of Terrill
    (2011). Good to 0.002 in finished beer, worse below about 60 % apparent attenuation.

    Parameters
    ----------
    current_brix : degBx as read in the beer, -1 to 40
    original_brix : degBx as read in the wort before pitching, 0 to 40; this or original_gravity
    original_gravity : SG of the wort before pitching by hydrometer, 0.98 to 1.2; this or original_brix
    wort_factor : 1; refractometer reading over true Brix in wort, 0.9 to 1.2, commonly 1.02 to 1.06

    Returns
    -------
    current_gravity : SG a hydrometer would show at 20 °C

    References
    ----------
    S. Terrill, 2011 (terrill-2011); NBS Circular C440 for the wort's gravity (nbs-c440)

    Examples
    --------
    >>> import calculators
    >>> readings = {"current_brix": "6.5 degBx", "original_brix": "12.4 degBx", "wort_factor": 1.0}
    >>> round(calculators.run("refractometer-correction", readings).results["current_gravity"].value, 4)
    1.0121
    """
    wort = _wort(original_brix, original_gravity, wort_factor)
    return {"current_gravity": 1.0 - 0.00085683 * wort + 0.0034941 * current_brix / wort_factor}


def _wort(original_brix: float | None, original_gravity: float | None, wort_factor: float) -> float:
    """True Brix of the wort: a hydrometer's needs no wort factor."""
    if original_gravity is not None:
        return sugar.extract(original_gravity)
    assert original_brix is not None
    return original_brix / wort_factor


@refractometer_correction.checks
def _checks(given: Given) -> None:
    if (given["original_brix"] is None) == (given["original_gravity"] is None):
        raise BadInput("original_brix", "give the wort before pitching once: original_brix or original_gravity.")
    wort = _wort(given["original_brix"], given["original_gravity"], given["wort_factor"])
    if given["current_brix"] / given["wort_factor"] > wort + 1.0:
        raise BadInput("current_brix", "the beer reads more than its wort did. Check which reading is which.")


@refractometer_correction.working
def _working(given: Given, found: Found) -> Iterator[str]:
    wort = _wort(given["original_brix"], given["original_gravity"], given["wort_factor"])
    beer = given["current_brix"] / given["wort_factor"]
    yield f"true Brix of the beer's reading = {given['current_brix']:.2f} / {given['wort_factor']:.3f} = {beer:.2f}"
    yield f"true Brix of the wort = {wort:.2f}"
    yield f"gravity = 1 - 0.00085683 × {wort:.2f} + 0.0034941 × {beer:.2f} = {found['current_gravity']:.4f}"


@refractometer_correction.warnings
def _warnings(given: Given, found: Found) -> Iterator[str]:
    wort = _wort(given["original_brix"], given["original_gravity"], given["wort_factor"])
    if sugar.extract(found["current_gravity"]) > 0.4 * wort:
        yield "Less than 60 % attenuated: this fit is poor there. Check with a hydrometer before acting on it."
