"""The pressure a closed vessel reaches if the beer in it ferments to the end."""

from __future__ import annotations

from collections.abc import Iterator

from calculators import measures
from calculators.calculator import calculator
from calculators.core import Found, Given, ResultSpec
from calculators.physics import alcohol, atmosphere
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
    ),
    results=(
        measures.gauge_pressure_found("gauge_pressure"),
        ResultSpec("carbonation", "vol", relative=0.035, possible=(0.0, 200.0)),
    ),
    sources=(co2.MILLER_1994, co2.CHART_FIT, co2.GAS_EQUATION, alcohol.BALLING, atmosphere.STANDARD_ATMOSPHERE),
)
def sealed_vessel_pressure(
    vessel_volume: float,
    beer_volume: float,
    original_gravity: float,
    current_gravity: float,
    final_gravity: float,
    temperature: float,
    gauge_pressure: float,
) -> dict[str, float]:
    """Pressure and carbonation a closed vessel reaches when its beer ferments from now to the end, nothing let out.

    Carbon dioxide is conserved: what is in beer and headspace now, at rest, plus what the last gravity points make.
    Real gas; beer by the chart's fit; at sea level. The headspace is taken as carbon dioxide alone: air that was shut
    in adds its own pressure on top (about 1 bar where the vessel was closed full of air).

    Parameters
    ----------
    vessel_volume : L, to the brim, 0.05 to 5000
    beer_volume : L of beer in it, 0.05 to 5000, less than the vessel
    original_gravity : SG at pitching, 1.005 to 1.2; 1.050 is taken where it is not known, little depends on it
    current_gravity : SG now, 0.98 to 1.2
    final_gravity : SG at which it will finish, 0.98 to 1.2
    temperature : degC of beer and vessel, -5 to 60 (compared with water to 40)
    gauge_pressure : bar GAUGE now, -0.5 to 10

    Returns
    -------
    gauge_pressure : bar GAUGE at sea level at the end
    carbonation : vol in the beer at the end

    References
    ----------
    Miller 1994 (miller-1994); its fit, from memory (asbc-chart-fit); gas equation (smith-van-ness-abbott);
    Balling (balling); U.S. Standard Atmosphere, 1976 (us-standard-atmosphere-1976)

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
    made = beer_volume * alcohol.co2_made(original_gravity, current_gravity, final_gravity)
    pressure = vessel.pressure(vessel.co2(atmosphere.absolute(gauge_pressure)) + made)
    return {"gauge_pressure": atmosphere.gauge(pressure), "carbonation": co2.carbonation(temperature, pressure)}


@sealed_vessel_pressure.checks
def _checks(given: Given) -> None:
    measures.must_fit(given)
    measures.must_not_rise(given, "original_gravity", "current_gravity")
    measures.must_not_rise(given, "current_gravity", "final_gravity")


@sealed_vessel_pressure.working
def _working(given: Given, found: Found) -> Iterator[str]:
    beer, headspace, warm = given["beer_volume"], given["vessel_volume"] - given["beer_volume"], given["temperature"]
    now = atmosphere.absolute(given["gauge_pressure"])
    vessel = co2.Vessel(beer, headspace, warm)
    made = alcohol.co2_made(given["original_gravity"], given["current_gravity"], given["final_gravity"])
    end = atmosphere.absolute(found["gauge_pressure"])
    fall = (given["current_gravity"] - given["final_gravity"]) * 1000.0
    yield (
        f"CO2 now = 1.977 × {beer:.2f} L × {co2.carbonation(warm, now):.2f} vol + {headspace:.2f} L × "
        f"{co2.gas_density(warm, now):.2f} g/L = {vessel.co2(now):.1f} g"
    )
    yield f"CO2 from {fall:.1f} more points = {made:.2f} g/L × {beer:.2f} L = {made * beer:.1f} g"
    yield (
        f"at {end:.3f} bar absolute both hold just that: 1.977 × {beer:.2f} × {found['carbonation']:.2f} + "
        f"{headspace:.2f} × {co2.gas_density(warm, end):.2f} = {vessel.co2(end):.1f} g"
    )
    yield f"gauge pressure = {end:.3f} - 1.013 = {found['gauge_pressure']:.3f} bar; air shut in would come on top"


@sealed_vessel_pressure.warnings
def _warnings(_given: Given, _found: Found) -> Iterator[str]:
    yield measures.RATING
