"""What a gauge must read in the mountains."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.calculator import calculator
from calculators.core import Found, Given, ResultSpec, quantity
from calculators.physics import atmosphere


@calculator(
    "altitude-pressure",
    title="Air pressure and gauge settings at altitude",
    inputs=(
        quantity("altitude", "m", (-500.0, 9000.0), established=(-500.0, 5000.0), reading=50.0),
        quantity("sea_level_gauge_pressure", "bar", (0.0, 10.0), reading=0.03, optional=True),
    ),
    results=(
        ResultSpec("atmospheric_pressure", "kPa_absolute", absolute=2.0),
        ResultSpec("gauge_pressure", "bar", absolute=0.02),
    ),
    sources=(atmosphere.STANDARD_ATMOSPHERE,),
)
def altitude_pressure(altitude: float, sea_level_gauge_pressure: float | None) -> dict[str, float]:
    """Air pressure at a height, and the gauge reading there that equals one at sea level.

    Carbonation follows the ABSOLUTE pressure over the beer, and a gauge reads from the air outside. Where the air is
    thinner the gauge must read more for the same beer. The weather moves the air pressure by about 2 kPa.

    Parameters
    ----------
    altitude : m above mean sea level, -500 to 9000 (established: to 5000); where the gauge stands
    sea_level_gauge_pressure : bar GAUGE, 0 to 10; the setting a table or recipe gives for sea level

    Returns
    -------
    atmospheric_pressure : kPa ABSOLUTE; where a gauge there reads zero
    gauge_pressure : bar GAUGE at that altitude, for the same absolute pressure as the setting at sea level

    References
    ----------
    U.S. Standard Atmosphere, 1976 (us-standard-atmosphere-1976)

    Examples
    --------
    >>> import calculators
    >>> found = calculators.run("altitude-pressure", {"altitude": "5000 ft", "sea_level_gauge_pressure": "12 psi"})
    >>> round(found.results["atmospheric_pressure"].value, 1)
    84.3
    >>> round(found.results["gauge_pressure"].value, 2)
    1.0
    """
    outside = atmosphere.pressure(altitude)
    found = {"atmospheric_pressure": outside * 100.0}
    if sea_level_gauge_pressure is not None:
        found["gauge_pressure"] = sea_level_gauge_pressure + atmosphere.SEA_LEVEL - outside
    return found


@altitude_pressure.working
def _working(given: Given, found: Found) -> Iterator[str]:
    outside = found["atmospheric_pressure"]
    yield f"air pressure = 101.325 × (1 - 2.25577e-5 × {given['altitude']:.0f})^5.25588 = {outside:.2f} kPa absolute"
    if "gauge_pressure" in found:
        yield (
            f"gauge pressure = {given['sea_level_gauge_pressure']:.3f} + 1.013 - {outside / 100:.3f} "
            f"= {found['gauge_pressure']:.3f} bar"
        )
