"""How much gas comes out when a vessel is vented."""

from __future__ import annotations

from collections.abc import Iterator

from calculators import measures
from calculators.calculator import calculator
from calculators.core import BadInput, Found, Given, ResultSpec
from calculators.physics import atmosphere
from calculators.physics import carbon_dioxide as co2


@calculator(
    "venting-release",
    title="Gas let out by venting",
    inputs=(
        measures.volume("vessel_volume"),
        measures.volume("beer_volume"),
        measures.beer_temperature("temperature"),
        measures.gauge_pressure("start_gauge_pressure"),
        measures.gauge_pressure("end_gauge_pressure"),
        measures.altitude(),
    ),
    results=(
        ResultSpec("co2_released", "g", relative=0.05),
        ResultSpec("co2_from_headspace", "g", relative=0.01),
        ResultSpec("gas_volume", "L", relative=0.05),
    ),
    sources=(co2.MILLER_1994, co2.CHART_FIT, co2.GAS_EQUATION, atmosphere.STANDARD_ATMOSPHERE),
)
def venting_release(
    vessel_volume: float,
    beer_volume: float,
    temperature: float,
    start_gauge_pressure: float,
    end_gauge_pressure: float,
    altitude: float,
) -> dict[str, float]:
    """Carbon dioxide that leaves a vessel while it is vented from one pressure to another.

    The headspace empties at once; the rest leaves the beer over minutes to days, as foam where it is quick. At rest
    before and after, headspace all carbon dioxide.

    Parameters
    ----------
    vessel_volume : L, to the brim, 0.05 to 5000
    beer_volume : L of beer in it, 0.05 to 5000, less than the vessel
    temperature : degC of the beer, -5 to 60 (compared with water to 40)
    start_gauge_pressure : bar GAUGE before, -0.5 to 10
    end_gauge_pressure : bar GAUGE held after, -0.5 to 10, below the start
    altitude : m above sea level, -500 to 9000; the gauge reads from the air outside

    Returns
    -------
    co2_released : g in all, from headspace and beer
    co2_from_headspace : g from the headspace alone, at once
    gas_volume : L of gas in all, at that temperature and the pressure of the air outside

    References
    ----------
    Miller 1994 (miller-1994); its fit, from memory (asbc-chart-fit); gas equation (smith-van-ness-abbott);
    U.S. Standard Atmosphere, 1976 (us-standard-atmosphere-1976)

    Examples
    --------
    >>> import calculators
    >>> done = calculators.run("venting-release", {
    ...     "vessel_volume": "30 L", "beer_volume": "23 L", "temperature": "20 degC",
    ...     "start_gauge_pressure": "2 bar", "end_gauge_pressure": "0.7 bar"})
    >>> round(done.results["co2_released"].value)
    66
    """
    vessel = co2.Vessel(beer_volume, max(0.0, vessel_volume - beer_volume), temperature)
    outside = atmosphere.pressure(altitude)
    start, end = start_gauge_pressure + outside, end_gauge_pressure + outside
    from_headspace = vessel.in_headspace(start) - vessel.in_headspace(end)
    released = from_headspace + vessel.in_beer(start) - vessel.in_beer(end)
    return {
        "co2_released": released,
        "co2_from_headspace": from_headspace,
        "gas_volume": released / co2.gas_density(temperature, outside),
    }


@venting_release.checks
def _checks(given: Given) -> None:
    measures.must_fit(given)
    if given["end_gauge_pressure"] > given["start_gauge_pressure"]:
        raise BadInput("end_gauge_pressure", "venting lowers the pressure: give an end that is not above the start.")


@venting_release.working
def _working(given: Given, found: Found) -> Iterator[str]:
    warm, beer, headspace = given["temperature"], given["beer_volume"], given["vessel_volume"] - given["beer_volume"]
    outside = atmosphere.pressure(given["altitude"])
    start, end = (given[f"{when}_gauge_pressure"] + outside for when in ("start", "end"))
    yield (
        f"headspace: {headspace:.2f} L × ({co2.gas_density(warm, start):.3f} - {co2.gas_density(warm, end):.3f}) g/L "
        f"= {found['co2_from_headspace']:.1f} g"
    )
    yield (
        f"beer: 1.977 × {beer:.2f} L × ({co2.carbonation(warm, start):.3f} - {co2.carbonation(warm, end):.3f}) vol "
        f"= {found['co2_released'] - found['co2_from_headspace']:.1f} g"
    )
    yield (
        f"gas = {found['co2_released']:.1f} g / {co2.gas_density(warm, outside):.3f} g/L = {found['gas_volume']:.1f} L"
    )


@venting_release.warnings
def _warnings(_given: Given, _found: Found) -> Iterator[str]:
    yield "Vent slowly and by steps, into moving air: carbon dioxide collects low down in a closed room."
