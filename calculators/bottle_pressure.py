"""The pressure inside a bottle."""

from __future__ import annotations

from collections.abc import Iterator

from calculators import measures
from calculators.calculator import calculator
from calculators.core import Found, Given, ResultSpec, quantity
from calculators.physics import alcohol, atmosphere
from calculators.physics import carbon_dioxide as co2


@calculator(
    "bottle-pressure",
    title="Pressure inside a bottle",
    inputs=(
        measures.carbonation("carbonation"),
        measures.beer_temperature("temperature"),
        quantity("gravity_to_fall", "SG_difference", (-0.05, 0.1), reading=measures.HYDROMETER, optional=True),
        measures.altitude(),
    ),
    results=(
        ResultSpec("carbonation", "vol", possible=(0.0, 80.0)),
        measures.gauge_pressure_found("gauge_pressure"),
    ),
    sources=(co2.MILLER_1994, co2.CHART_FIT, alcohol.BALLING, atmosphere.STANDARD_ATMOSPHERE),
)
def bottle_pressure(
    carbonation: float, temperature: float, gravity_to_fall: float | None, altitude: float
) -> dict[str, float]:
    """Pressure in a closed bottle from its carbonation and temperature, with what it may still ferment.

    Each gravity point that still ferments adds about 0.50 volumes. Air left in the neck adds up to 0.3 bar on top.
    Warm bottles hold far more pressure than cold ones.

    Parameters
    ----------
    carbonation : vol in the beer (with the priming sugar's), 0 to 12
    temperature : degC of the bottle, -5 to 60 (compared with water to 40)
    gravity_to_fall : SG_difference still to ferment (0.001 is one point), -0.05 to 0.1; negative counts as 0
    altitude : m above sea level, -500 to 9000; the bottle presses against the air outside

    Returns
    -------
    carbonation : vol with what is still to come
    gauge_pressure : bar GAUGE at that altitude in the bottle at that temperature

    References
    ----------
    Miller 1994 (miller-1994); its fit, from memory (asbc-chart-fit); Balling (balling);
    U.S. Standard Atmosphere, 1976 (us-standard-atmosphere-1976)

    Examples
    --------
    >>> import calculators
    >>> done = calculators.run("bottle-pressure", {"carbonation": 2.5, "temperature": "20 degC"})
    >>> round(done.results["gauge_pressure"].value, 1)
    2.0
    """
    total = carbonation + _still_to_come(gravity_to_fall)
    return {"carbonation": total, "gauge_pressure": atmosphere.gauge(co2.pressure_for(temperature, total), altitude)}


def _still_to_come(gravity_to_fall: float | None) -> float:
    return max(0.0, gravity_to_fall or 0.0) * alcohol.CO2_PER_GRAVITY / co2.GRAMS_PER_VOLUME


@bottle_pressure.more_uncertainty
def _more_uncertainty(given: Given, _found: Found) -> dict[str, float]:
    """The carbonation told is taken as told; the gas of a gravity point varies with the beer by some 5 %."""
    return {"carbonation": 0.05 * _still_to_come(given["gravity_to_fall"])}


@bottle_pressure.working
def _working(given: Given, found: Found) -> Iterator[str]:
    coming = _still_to_come(given["gravity_to_fall"])
    if coming:
        yield (
            f"carbonation = {given['carbonation']:.2f} + {given['gravity_to_fall'] * 1000:.1f} points × 0.985 / 1.977 "
            f"= {found['carbonation']:.2f} vol"
        )
    outside = atmosphere.pressure(given["altitude"])
    yield (
        f"gauge pressure = ({found['carbonation']:.2f} + 0.003) / {co2.solubility(given['temperature']):.4f} - "
        f"{outside:.3f} = {found['gauge_pressure']:.2f} bar; air in the neck would add up to 0.3 bar"
    )


@bottle_pressure.warnings
def _warnings(_given: Given, found: Found) -> Iterator[str]:
    if found["carbonation"] > 3.0:
        yield (
            "More than 3 volumes is more than standard beer bottles are commonly trusted with (common practice). "
            "Bottles can burst: do not handle them without eye, face and hand protection."
        )
    yield "Arithmetic does not judge a bottle: its maker's rating decides, and a scratched or chipped one holds less."
