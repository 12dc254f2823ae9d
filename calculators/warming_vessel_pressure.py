"""The pressure of a closed vessel when it warms or cools."""

from __future__ import annotations

from collections.abc import Iterator

from calculators import measures
from calculators.calculator import calculator
from calculators.core import BadInput, Found, Given, ResultSpec
from calculators.physics import atmosphere, solution_density
from calculators.physics import carbon_dioxide as co2

_BEER_GRAVITY = 1.010
"""Finished beer, for how much the liquid grows: a few points either way change nothing."""


@calculator(
    "warming-vessel-pressure",
    title="Pressure of a closed vessel at another temperature",
    inputs=(
        measures.volume("vessel_volume"),
        measures.volume("beer_volume"),
        measures.beer_temperature("start_temperature"),
        measures.beer_temperature("end_temperature"),
        measures.gauge_pressure("start_gauge_pressure"),
    ),
    results=(
        measures.gauge_pressure_found("gauge_pressure"),
        ResultSpec("carbonation", "vol", relative=0.035, possible=(0.0, 200.0)),
    ),
    sources=(
        co2.MILLER_1994,
        co2.CHART_FIT,
        co2.GAS_EQUATION,
        solution_density.ICUMSA_DENSITY,
        solution_density.KELL_1975,
        atmosphere.STANDARD_ATMOSPHERE,
    ),
)
def warming_vessel_pressure(
    vessel_volume: float,
    beer_volume: float,
    start_temperature: float,
    end_temperature: float,
    start_gauge_pressure: float,
) -> dict[str, float]:
    """Pressure and carbonation of a closed vessel once all of it has come to another temperature.

    Carbon dioxide is conserved between beer and headspace; warm beer gives gas off, and the beer itself grows (0.8 %
    from 4 to 40 °C), which counts where the headspace is small. At rest before and after, nothing fermenting,
    nothing let out, at sea level. Air shut in the headspace adds its own pressure on top.

    Parameters
    ----------
    vessel_volume : L, to the brim, 0.05 to 5000
    beer_volume : L of beer in it at the start, 0.05 to 5000, less than the vessel
    start_temperature : degC, -5 to 60 (compared with water to 40)
    end_temperature : degC, -5 to 60 (compared with water to 40)
    start_gauge_pressure : bar GAUGE at the start, -0.5 to 10

    Returns
    -------
    gauge_pressure : bar GAUGE at sea level at the end temperature
    carbonation : vol in the beer at the end temperature

    References
    ----------
    Miller 1994 (miller-1994); its fit, from memory (asbc-chart-fit); gas equation (smith-van-ness-abbott);
    growth of the liquid: ICUMSA and Kell (icumsa-sucrose-density, kell-1975);
    U.S. Standard Atmosphere, 1976 (us-standard-atmosphere-1976)

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
    held = start.co2(atmosphere.absolute(start_gauge_pressure))
    headspace = _headspace(vessel_volume, beer_volume, start_temperature, end_temperature)
    pressure = co2.Vessel(beer_volume, max(0.0, headspace), end_temperature).pressure(held)
    return {"gauge_pressure": atmosphere.gauge(pressure), "carbonation": co2.carbonation(end_temperature, pressure)}


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
    cold, warm = given["start_temperature"], given["end_temperature"]
    now, end = atmosphere.absolute(given["start_gauge_pressure"]), atmosphere.absolute(found["gauge_pressure"])
    held = co2.Vessel(beer, vessel - beer, cold).co2(now)
    headspace = _headspace(vessel, beer, cold, warm)
    yield (
        f"CO2 held = 1.977 × {beer:.2f} L × {co2.carbonation(cold, now):.2f} vol + {vessel - beer:.3f} L × "
        f"{co2.gas_density(cold, now):.2f} g/L = {held:.2f} g"
    )
    yield f"at {warm:.1f} °C the headspace is {headspace:.3f} L, because the beer has grown or shrunk"
    yield (
        f"at {end:.3f} bar absolute both hold just that: 1.977 × {beer:.2f} × {found['carbonation']:.2f} + "
        f"{headspace:.3f} × {co2.gas_density(warm, end):.2f} = {held:.2f} g"
    )
    yield f"gauge pressure = {end:.3f} - 1.013 = {found['gauge_pressure']:.3f} bar; air shut in would come on top"


@warming_vessel_pressure.warnings
def _warnings(given: Given, _found: Found) -> Iterator[str]:
    vessel, beer = given["vessel_volume"], given["beer_volume"]
    left = _headspace(vessel, beer, given["start_temperature"], given["end_temperature"])
    if left < 0.03 * vessel:
        yield (
            f"Only {100 * left / vessel:.1f} % headspace would be left. A vessel that becomes full of liquid can burst "
            "at once: leave more room."
        )
    yield measures.RATING
