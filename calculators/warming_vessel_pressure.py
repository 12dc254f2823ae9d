"""The pressure of a closed vessel when it warms or cools."""

from __future__ import annotations

from collections.abc import Iterator

from calculators import measures
from calculators.calculator import calculator
from calculators.core import BadInput, Found, Given
from calculators.physics import atmosphere, shut_in_air, solution_density
from calculators.physics import carbon_dioxide as co2

_BEER_GRAVITY = 1.010
"""Finished beer, for how much the liquid grows: a few points either way change nothing."""
_LEAST = 1e-6
"""L: where only the doubt of a volume leaves no headspace."""


@calculator(
    "warming-vessel-pressure",
    title="Pressure of a closed vessel at another temperature",
    inputs=(
        measures.volume("vessel_volume"),
        measures.volume("beer_volume"),
        measures.beer_temperature("start_temperature"),
        measures.beer_temperature("end_temperature"),
        measures.gauge_pressure("start_gauge_pressure"),
        measures.altitude(),
        measures.headspace_is_air(),
    ),
    results=measures.closed_vessel_found(),
    sources=(
        co2.MILLER_1994,
        co2.CHART_FIT,
        co2.GAS_EQUATION,
        solution_density.ICUMSA_DENSITY,
        solution_density.KELL_1975,
        atmosphere.STANDARD_ATMOSPHERE,
        shut_in_air.PARTIAL_PRESSURES,
    ),
)
def warming_vessel_pressure(
    vessel_volume: float,
    beer_volume: float,
    start_temperature: float,
    end_temperature: float,
    start_gauge_pressure: float,
    altitude: float,
    headspace_is_air: bool,
) -> dict[str, float]:
    """Pressure and carbonation of a closed vessel once all of it has come to another temperature.

    Carbon dioxide is conserved between beer and headspace; warm beer gives gas off, and the beer itself grows (0.8 %
    from 4 to 40 °C), which counts where the headspace is small. At rest before and after, nothing fermenting,
    nothing let out. Where the headspace was air when the vessel was closed, only the rest of the pressure is carbon
    dioxide; the air warms and is squeezed with it.

    Parameters
    ----------
    vessel_volume : L, to the brim, 0.05 to 5000
    beer_volume : L of beer in it at the start, 0.05 to 5000, less than the vessel
    start_temperature : degC, -5 to 60 (compared with water to 40)
    end_temperature : degC, -5 to 60 (compared with water to 40)
    start_gauge_pressure : bar GAUGE at the start, -0.5 to 10
    altitude : m above sea level, -500 to 9000; the gauge reads from the air outside
    headspace_is_air : yes where the vessel was closed with air above the beer, not carbon dioxide

    Returns
    -------
    gauge_pressure : bar GAUGE at that altitude at the end temperature
    carbonation : vol in the beer at the end temperature

    References
    ----------
    Miller 1994 (miller-1994); its fit, from memory (asbc-chart-fit); gas equation (smith-van-ness-abbott);
    growth of the liquid: ICUMSA and Kell (icumsa-sucrose-density, kell-1975);
    U.S. Standard Atmosphere, 1976 (us-standard-atmosphere-1976); partial pressures (dalton)

    Examples
    --------
    A 19 L keg with 18 L of beer, from 38 °F and 12 psi to 70 °F:

    >>> import calculators
    >>> done = calculators.run("warming-vessel-pressure", {
    ...     "vessel_volume": "19 L", "beer_volume": "18 L", "start_temperature": "38 degF",
    ...     "end_temperature": "70 degF", "start_gauge_pressure": "12 psi"})
    >>> round(done.results["gauge_pressure"].value, 1)
    2.1
    """
    start = co2.Vessel(beer_volume, max(0.0, vessel_volume - beer_volume), start_temperature)
    outside = atmosphere.pressure(altitude)
    before = shut_in_air.parted(start_gauge_pressure + outside, outside, air=headspace_is_air)
    headspace = max(_LEAST, _headspace(vessel_volume, beer_volume, start_temperature, end_temperature))
    gas = co2.Vessel(beer_volume, headspace, end_temperature).pressure(start.co2(before.gas))
    air = shut_in_air.after(before.air, start_temperature, end_temperature, start.headspace / headspace)
    return {"gauge_pressure": gas + air - outside, "carbonation": co2.carbonation(end_temperature, gas)}


def _headspace(vessel: float, beer: float, start: float, end: float) -> float:
    """Litres left above the beer at the end temperature; 0 or less when the grown beer fills the vessel."""
    return vessel - beer * solution_density.expansion(_BEER_GRAVITY, max(start, 0.0), max(end, 0.0))


@warming_vessel_pressure.checks
def _checks(given: Given) -> None:
    measures.must_fit(given)
    vessel, beer, end = given["vessel_volume"], given["beer_volume"], given["end_temperature"]
    left = _headspace(vessel, beer, given["start_temperature"], end)
    if left <= 0.0:
        raise BadInput(
            "beer_volume",
            f"{beer:g} L grow to {vessel - left:.2f} L at {end:.0f} °C and fill the {vessel:g} L. Liquid with no "
            "headspace can burst any vessel: take beer out before it warms.",
        )


@warming_vessel_pressure.working
def _working(given: Given, found: Found) -> Iterator[str]:
    vessel, beer = given["vessel_volume"], given["beer_volume"]
    cold, warm, outside = given["start_temperature"], given["end_temperature"], atmosphere.pressure(given["altitude"])
    now = shut_in_air.parted(given["start_gauge_pressure"] + outside, outside, air=given["headspace_is_air"])
    held = co2.Vessel(beer, vessel - beer, cold).co2(now.gas)
    headspace = _headspace(vessel, beer, cold, warm)
    air = shut_in_air.after(now.air, cold, warm, (vessel - beer) / headspace)
    end = found["gauge_pressure"] + outside - air
    yield (
        f"CO2 held = 1.977 × {beer:.2f} L × {co2.carbonation(cold, now.gas):.2f} vol + {vessel - beer:.3f} L × "
        f"{co2.gas_density(cold, now.gas):.2f} g/L = {held:.2f} g"
    )
    yield f"at {warm:.1f} °C the headspace is {headspace:.3f} L, because the beer has grown or shrunk"
    yield (
        f"at {end:.3f} bar absolute both hold just that: 1.977 × {beer:.2f} × {found['carbonation']:.2f} + "
        f"{headspace:.3f} × {co2.gas_density(warm, end):.2f} = {held:.2f} g"
    )
    yield measures.gauge_line(end, air, outside, found["gauge_pressure"])


@warming_vessel_pressure.warnings
def _warnings(given: Given, _found: Found) -> Iterator[str]:
    vessel, beer = given["vessel_volume"], given["beer_volume"]
    left = _headspace(vessel, beer, given["start_temperature"], given["end_temperature"])
    if left < 0.03 * vessel:
        yield (
            f"Only {100 * left / vessel:.1f} % headspace would be left. A vessel that becomes full of liquid can burst "
            "at once: leave more room."
        )
    if given["headspace_is_air"]:
        yield "Reckoned from a gauge at rest: beer that was closed in a short while ago has more gas to give off."
    yield measures.RATING
