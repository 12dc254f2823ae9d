"""The pressure a closed vessel reaches if the beer in it ferments to the end."""

from __future__ import annotations

from collections.abc import Iterator

from calculators import measures
from calculators.calculator import calculator
from calculators.core import Found, Given
from calculators.physics import alcohol, atmosphere, shut_in_air
from calculators.physics import carbon_dioxide as co2


@calculator(
    "sealed-vessel-pressure",
    title="Pressure of a closed vessel at the end of fermentation",
    inputs=(
        measures.volume("vessel_volume"),
        measures.volume("beer_volume"),
        measures.original_gravity_if_known(),
        measures.gravity("current_gravity"),
        measures.gravity("final_gravity"),
        measures.beer_temperature("temperature"),
        measures.gauge_pressure("gauge_pressure", default=0.0),
        measures.altitude(),
        measures.headspace_is_air(),
    ),
    results=measures.closed_vessel_found(),
    sources=(
        co2.MILLER_1994,
        co2.CHART_FIT,
        co2.GAS_EQUATION,
        alcohol.BALLING,
        atmosphere.STANDARD_ATMOSPHERE,
        shut_in_air.PARTIAL_PRESSURES,
    ),
)
def sealed_vessel_pressure(
    vessel_volume: float,
    beer_volume: float,
    original_gravity: float,
    current_gravity: float,
    final_gravity: float,
    temperature: float,
    gauge_pressure: float,
    altitude: float,
    headspace_is_air: bool,
) -> dict[str, float]:
    """Pressure and carbonation a closed vessel reaches when its beer ferments from now to the end, nothing let out.

    Carbon dioxide is conserved: what is in beer and headspace now, at rest, plus what the last gravity points make.
    Real gas; beer by the chart's fit. Where the headspace was air when the vessel was closed, that air stays and adds
    its own pressure, at most that of the air outside; the beer was then saturated, as fermenting beer is.

    Parameters
    ----------
    vessel_volume : L, to the brim, 0.05 to 5000
    beer_volume : L of beer in it, 0.05 to 5000, less than the vessel
    original_gravity : SG at pitching, 1.005 to 1.2; 1.050 is taken where it is not known, little depends on it
    current_gravity : SG now, 0.98 to 1.2
    final_gravity : SG at which it will finish, 0.98 to 1.2
    temperature : degC of beer and vessel, -5 to 60 (compared with water to 40)
    gauge_pressure : bar GAUGE now, -0.5 to 10
    altitude : m above sea level, -500 to 9000; the gauge reads from the air outside
    headspace_is_air : yes where the vessel was closed with air above the beer, not carbon dioxide

    Returns
    -------
    gauge_pressure : bar GAUGE at that altitude at the end
    carbonation : vol in the beer at the end

    References
    ----------
    Miller 1994 (miller-1994); its fit, from memory (asbc-chart-fit); gas equation (smith-van-ness-abbott);
    Balling (balling); U.S. Standard Atmosphere, 1976 (us-standard-atmosphere-1976); partial pressures (dalton)

    Examples
    --------
    >>> import calculators
    >>> done = calculators.run("sealed-vessel-pressure", {
    ...     "vessel_volume": "30 L", "beer_volume": "23 L", "original_gravity": "1.050", "current_gravity": "1.020",
    ...     "final_gravity": "1.010", "temperature": "20 degC"})
    >>> round(done.results["gauge_pressure"].value, 1)
    4.5
    """
    vessel = co2.Vessel(beer_volume, max(0.0, vessel_volume - beer_volume), temperature)
    outside = atmosphere.pressure(altitude)
    now = shut_in_air.parted(gauge_pressure + outside, outside, air=headspace_is_air)
    held = vessel.in_beer(max(now)) + vessel.in_headspace(now.gas)
    made = beer_volume * alcohol.co2_made(original_gravity, current_gravity, final_gravity)
    gas = vessel.pressure(held + made)
    return {"gauge_pressure": gas + now.air - outside, "carbonation": co2.carbonation(temperature, gas)}


@sealed_vessel_pressure.checks
def _checks(given: Given) -> None:
    measures.must_fit(given)
    measures.must_not_rise(given, "original_gravity", "current_gravity")
    measures.must_not_rise(given, "current_gravity", "final_gravity")


@sealed_vessel_pressure.working
def _working(given: Given, found: Found) -> Iterator[str]:
    beer, headspace, warm = given["beer_volume"], given["vessel_volume"] - given["beer_volume"], given["temperature"]
    outside = atmosphere.pressure(given["altitude"])
    now = shut_in_air.parted(given["gauge_pressure"] + outside, outside, air=given["headspace_is_air"])
    vessel = co2.Vessel(beer, headspace, warm)
    made = alcohol.co2_made(given["original_gravity"], given["current_gravity"], given["final_gravity"])
    end = found["gauge_pressure"] + outside - now.air
    fall = (given["current_gravity"] - given["final_gravity"]) * 1000.0
    held = vessel.in_beer(max(now)) + vessel.in_headspace(now.gas)
    yield (
        f"CO2 now = 1.977 × {beer:.2f} L × {co2.carbonation(warm, max(now)):.2f} vol + {headspace:.2f} L × "
        f"{co2.gas_density(warm, now.gas):.2f} g/L = {held:.1f} g"
    )
    yield f"CO2 from {fall:.1f} more points = {made:.2f} g/L × {beer:.2f} L = {made * beer:.1f} g"
    yield (
        f"at {end:.3f} bar absolute both hold just that: 1.977 × {beer:.2f} × {found['carbonation']:.2f} + "
        f"{headspace:.2f} × {co2.gas_density(warm, end):.2f} = {vessel.co2(end):.1f} g"
    )
    yield measures.gauge_line(end, now.air, outside, found["gauge_pressure"])


@sealed_vessel_pressure.warnings
def _warnings(_given: Given, _found: Found) -> Iterator[str]:
    yield measures.RATING
