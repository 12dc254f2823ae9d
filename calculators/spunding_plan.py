"""Carbonating with the last of the fermentation: what to set the valve to, and when to close it."""

from __future__ import annotations

from collections.abc import Iterator

from calculators import measures
from calculators.calculator import calculator
from calculators.core import Found, Given, ResultSpec
from calculators.physics import alcohol, atmosphere
from calculators.physics import carbon_dioxide as co2


@calculator(
    "spunding-plan",
    title="Setting and closing a spunding valve",
    inputs=(
        measures.beer_temperature("temperature"),
        measures.carbonation("target_carbonation"),
        measures.altitude(),
        measures.original_gravity_if_known(),
        measures.gravity("current_gravity", optional=True),
        measures.gravity("final_gravity", optional=True),
        measures.volume("beer_volume", optional=True),
        measures.volume("vessel_volume", optional=True),
    ),
    results=(
        measures.gauge_pressure_found("gauge_pressure"),
        ResultSpec("close_valve_at_gravity", "SG", absolute=0.0005),
        ResultSpec("carbonation_if_closed_now", "vol", relative=0.035),
        measures.gauge_pressure_found("gauge_pressure_if_closed_now"),
    ),
    sources=(co2.MILLER_1994, co2.CHART_FIT, co2.GAS_EQUATION, alcohol.BALLING, atmosphere.STANDARD_ATMOSPHERE),
)
def spunding_plan(
    temperature: float,
    target_carbonation: float,
    altitude: float,
    original_gravity: float,
    current_gravity: float | None,
    final_gravity: float | None,
    beer_volume: float | None,
    vessel_volume: float | None,
) -> dict[str, float]:
    """What to set a spunding valve to for a wanted carbonation, and at what gravity to close it.

    The setting is the pressure at which beer at rest holds the target at the FERMENTING temperature. The gravity is
    the one from which the rest of the fermentation just makes the gas for beer and headspace, closed from no gauge
    pressure with the beer saturated. The figures for "closed now" say where an unrelieved vessel would end.

    Parameters
    ----------
    temperature : degC of the beer while it ferments, -5 to 60 (compared with water to 40)
    target_carbonation : vol wanted, 0 to 12
    altitude : m above sea level, -500 to 9000
    original_gravity : SG at pitching, 1.005 to 1.2; 1.050 is taken where it is not known, little depends on it
    current_gravity : SG now, 0.98 to 1.2; for the results "if closed now"
    final_gravity : SG at which it will finish, 0.98 to 1.2; for all but the setting
    beer_volume : L of beer, 0.05 to 5000; for all but the setting
    vessel_volume : L of the vessel to the brim, 0.05 to 5000, more than the beer; for all but the setting

    Returns
    -------
    gauge_pressure : bar GAUGE at that altitude; what to set the valve to
    close_valve_at_gravity : SG; close the valve when the beer shows this
    carbonation_if_closed_now : vol at the end if the vessel is closed now and nothing is let out
    gauge_pressure_if_closed_now : bar GAUGE at the end if the vessel is closed now and nothing is let out

    References
    ----------
    Miller 1994 (miller-1994); its fit, from memory (asbc-chart-fit); gas equation (smith-van-ness-abbott);
    Balling (balling); U.S. Standard Atmosphere, 1976 (us-standard-atmosphere-1976)

    Examples
    --------
    >>> import calculators
    >>> done = calculators.run("spunding-plan", {
    ...     "temperature": "12 degC", "target_carbonation": 2.5, "original_gravity": "1.050",
    ...     "final_gravity": "1.010", "beer_volume": "23 L", "vessel_volume": "30 L"})
    >>> round(done.results["gauge_pressure"].value, 2), round(done.results["close_valve_at_gravity"].value, 3)
    (1.36, 1.014)
    """
    outside = atmosphere.pressure(altitude)
    setting = co2.pressure_for(temperature, target_carbonation)
    found = {"gauge_pressure": setting - outside}
    if final_gravity is None or beer_volume is None or vessel_volume is None:
        return found
    vessel = co2.Vessel(beer_volume, max(0.0, vessel_volume - beer_volume), temperature)
    now = vessel.co2(outside)
    needed = (vessel.co2(setting) - now) / beer_volume
    found["close_valve_at_gravity"] = alcohol.gravity_before(original_gravity, final_gravity, needed)
    if current_gravity is not None:
        made = beer_volume * alcohol.co2_made(original_gravity, current_gravity, final_gravity)
        end = vessel.pressure(now + made)
        found["carbonation_if_closed_now"] = co2.carbonation(temperature, end)
        found["gauge_pressure_if_closed_now"] = end - outside
    return found


@spunding_plan.checks
def _checks(given: Given) -> None:
    measures.must_fit(given)
    measures.must_not_rise(given, "original_gravity", "current_gravity")
    measures.must_not_rise(given, "original_gravity", "final_gravity")
    measures.must_not_rise(given, "current_gravity", "final_gravity")


@spunding_plan.working
def _working(given: Given, found: Found) -> Iterator[str]:
    warm, outside = given["temperature"], atmosphere.pressure(given["altitude"])
    setting = found["gauge_pressure"] + outside
    yield (
        f"setting = ({given['target_carbonation']:.2f} + 0.003) / {co2.solubility(warm):.4f} vol/bar "
        f"- {outside:.3f} (air outside) = {found['gauge_pressure']:.2f} bar"
    )
    if "close_valve_at_gravity" not in found:
        return
    beer, headspace = given["beer_volume"], given["vessel_volume"] - given["beer_volume"]
    vessel = co2.Vessel(beer, headspace, warm)
    needed = vessel.co2(setting) - vessel.co2(outside)
    closing = found["close_valve_at_gravity"]
    yield (
        f"gas to make = beer 1.977 × {beer:.2f} × ({co2.carbonation(warm, setting):.2f} - "
        f"{co2.carbonation(warm, outside):.2f}) + headspace {headspace:.2f} × ({co2.gas_density(warm, setting):.2f} - "
        f"{co2.gas_density(warm, outside):.2f}) = {needed:.1f} g, or {needed / beer:.2f} g/L"
    )
    points = (closing - given["final_gravity"]) * 1000.0
    yield f"the fall from {closing:.4f} to {given['final_gravity']:.4f}, {points:.1f} points, makes just that"
    if "carbonation_if_closed_now" in found:
        yield (
            f"closed now at {given['current_gravity']:.4f}: {found['carbonation_if_closed_now']:.2f} vol and "
            f"{found['gauge_pressure_if_closed_now']:.2f} bar at the end, if nothing is let out"
        )


@spunding_plan.warnings
def _warnings(given: Given, found: Found) -> Iterator[str]:
    if found["gauge_pressure"] < 0.0:
        yield "The beer already holds more than that without any pressure: no valve setting lowers it to the target."
    closing = found.get("close_valve_at_gravity")
    if closing is not None and closing > (given["current_gravity"] or given["original_gravity"]):
        yield "What is left to ferment will not make that much gas: the rest must come from a cylinder or priming."
    if found.get("gauge_pressure_if_closed_now", 0.0) > found["gauge_pressure"] + 0.2:
        yield "Closed now without a working valve the vessel would pass its setting: never close it without relief."
    yield measures.RATING
