"""The carbon dioxide a beer still holds from its fermentation."""

from __future__ import annotations

from collections.abc import Iterator

from calculators import measures
from calculators.calculator import calculator
from calculators.core import Found, Given, ResultSpec
from calculators.physics import atmosphere
from calculators.physics import carbon_dioxide as co2


@calculator(
    "residual-carbonation",
    title="Carbon dioxide left from fermentation",
    inputs=(
        measures.beer_temperature("warmest_temperature"),
        measures.gauge_pressure("gauge_pressure", default=0.0),
        measures.altitude(),
    ),
    results=(ResultSpec("carbonation", "vol", relative=0.035, possible=(0.0, 40.0)),),
    sources=(co2.MILLER_1994, co2.CHART_FIT, co2.WEISS_1974, atmosphere.STANDARD_ATMOSPHERE),
)
def residual_carbonation(warmest_temperature: float, gauge_pressure: float, altitude: float) -> dict[str, float]:
    """Volumes of CO2 a finished beer holds from its own fermentation.

    What counts is the WARMEST temperature since the gas stopped coming: warmth drives gas out, and cooling later
    brings none back. A cold-crashed beer is reckoned by its warm days.

    Parameters
    ----------
    warmest_temperature : degC, -5 to 60 (compared with water to 40); the warmest the beer has been since it finished
    gauge_pressure : bar GAUGE, -0.5 to 10; kept over the beer at that time, 0 for an airlock
    altitude : m above sea level, -500 to 9000

    Returns
    -------
    carbonation : vol in the beer before anything is added

    References
    ----------
    Miller 1994 (miller-1994); its fit, from memory (asbc-chart-fit); Weiss 1974 (weiss-1974);
    U.S. Standard Atmosphere, 1976 (us-standard-atmosphere-1976)

    Examples
    --------
    >>> import calculators
    >>> done = calculators.run("residual-carbonation", {"warmest_temperature": "68 degF"})
    >>> round(done.results["carbonation"].value, 2)
    0.84
    """
    return {"carbonation": co2.carbonation(warmest_temperature, atmosphere.absolute(gauge_pressure, altitude))}


@residual_carbonation.working
def _working(given: Given, found: Found) -> Iterator[str]:
    pressure = atmosphere.absolute(given["gauge_pressure"], given["altitude"])
    taken_up = co2.solubility(given["warmest_temperature"])
    yield f"absolute pressure = {given['gauge_pressure']:.3f} + air {pressure - given['gauge_pressure']:.3f} bar"
    yield f"carbonation = {pressure:.3f} × {taken_up:.4f} - 0.003 = {found['carbonation']:.2f} vol"


@residual_carbonation.warnings
def _warnings(given: Given, _found: Found) -> Iterator[str]:
    yield from measures.beyond_the_chart(given["warmest_temperature"])
