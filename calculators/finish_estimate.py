"""Where a beer should finish."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.calculator import calculator
from calculators.core import COMMON_PRACTICE, Found, Given, ResultSpec, quantity
from calculators.measures import gravity, must_not_rise

_MASH_REFERENCE = 67.0
_LOST_PER_DEGREE = 1.5


@calculator(
    "finish-estimate",
    title="Where the beer should finish",
    inputs=(
        gravity("original_gravity", possible=(1.005, 1.2)),
        quantity("attenuation", "percent", (20.0, 110.0), established=(55.0, 100.0), reading=3.0),
        quantity("mash_temperature", "degC", (50.0, 80.0), established=(60.0, 74.0), reading=1.0, optional=True),
        gravity("current_gravity", optional=True),
    ),
    results=(
        ResultSpec("final_gravity", "SG", absolute=0.001),
        ResultSpec("gravity_to_fall", "SG_difference", absolute=0.001),
    ),
    sources=(COMMON_PRACTICE,),
)
def finish_estimate(
    original_gravity: float, attenuation: float, mash_temperature: float | None, current_gravity: float | None
) -> dict[str, float]:
    """The gravity at which a beer should finish, from its yeast's apparent attenuation.

    From the definition of apparent attenuation, on gravity points (on degrees Plato the same percentage ends about
    0.0005 lower). A mash above 67 °C makes wort that ferments less: 1.5 points of attenuation for each degree, good
    to half of itself (common practice). The range of the result is the window to expect.

    Parameters
    ----------
    original_gravity : SG at pitching, 1.005 to 1.2
    attenuation : percent, apparent, 20 to 110 (usual: 55 to 100); give the yeast's range
    mash_temperature : degC, 50 to 80; of the main rest, where the beer was mashed
    current_gravity : SG now by hydrometer, 0.98 to 1.2; only for gravity_to_fall

    Returns
    -------
    final_gravity : SG; low to high is the window to expect, and may lie below 1.000
    gravity_to_fall : SG_difference (0.001 is one point) from now to there; negative where the beer is past it

    References
    ----------
    The definition of apparent attenuation; mash temperature: common practice (common-practice)

    Examples
    --------
    >>> import calculators
    >>> done = calculators.run("finish-estimate", {"original_gravity": "1.060", "attenuation": "75 percent"})
    >>> round(done.results["final_gravity"].value, 3)
    1.015
    """
    left = 1.0 - (attenuation - _lost_to_mash(mash_temperature)) / 100.0
    found = {"final_gravity": 1.0 + (original_gravity - 1.0) * left}
    if current_gravity is not None:
        found["gravity_to_fall"] = current_gravity - found["final_gravity"]
    return found


def _lost_to_mash(mash_temperature: float | None) -> float:
    """Percentage points of attenuation lost to a hot mash."""
    return _LOST_PER_DEGREE * max(0.0, (mash_temperature or 0.0) - _MASH_REFERENCE)


@finish_estimate.checks
def _checks(given: Given) -> None:
    must_not_rise(given, "original_gravity", "current_gravity")


@finish_estimate.more_uncertainty
def _more_uncertainty(given: Given, _found: Found) -> dict[str, float]:
    doubt = (given["original_gravity"] - 1.0) * _lost_to_mash(given["mash_temperature"]) / 200.0
    return {"final_gravity": doubt, "gravity_to_fall": doubt}


@finish_estimate.working
def _working(given: Given, found: Found) -> Iterator[str]:
    attenuation, lost = given["attenuation"], _lost_to_mash(given["mash_temperature"])
    if lost:
        yield f"mash above {_MASH_REFERENCE:.0f} °C: {attenuation:.1f} - {lost:.1f} = {attenuation - lost:.1f} %"
    points = (given["original_gravity"] - 1.0) * 1000.0
    yield (
        f"points left = {points:.1f} × (1 - {(attenuation - lost) / 100:.3f}) "
        f"= {(found['final_gravity'] - 1.0) * 1000.0:.1f}: final gravity = {found['final_gravity']:.4f}"
    )
    if "gravity_to_fall" in found:
        yield (
            f"still to fall = {given['current_gravity']:.4f} - {found['final_gravity']:.4f} "
            f"= {found['gravity_to_fall'] * 1000.0:.1f} points"
        )
