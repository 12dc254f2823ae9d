"""What a carbon dioxide cylinder holds, what a keg takes from it, and how long it lasts."""

from __future__ import annotations

from collections.abc import Iterator

from calculators import measures
from calculators.calculator import calculator
from calculators.core import BadInput, Found, Given, ResultSpec, quantity
from calculators.physics import atmosphere, liquid_co2
from calculators.physics import carbon_dioxide as co2


@calculator(
    "cylinder-use",
    title="Carbon dioxide cylinder: contents and use",
    inputs=(
        quantity("cylinder_temperature", "degC", (-50.0, 60.0), default=20.0, reading=3.0),
        quantity("cylinder_water_capacity", "L", (0.01, 200.0), share=0.01, optional=True),
        quantity("gas_left", "kg", (0.0, 150.0), share=0.02, optional=True),
        quantity("cylinder_mass", "kg", (0.01, 500.0), reading=0.05, optional=True),
        quantity("empty_cylinder_mass", "kg", (0.01, 500.0), reading=0.02, optional=True),
        measures.volume("beer_volume", optional=True),
        measures.beer_temperature("beer_temperature", optional=True),
        measures.gauge_pressure("gauge_pressure", optional=True),
        measures.carbonation("start_carbonation", optional=True),
        measures.carbonation("target_carbonation", optional=True),
        quantity("leak_rate", "g/h", (0.001, 100_000.0), share=0.2, optional=True),
    ),
    results=(
        ResultSpec("cylinder_gauge_pressure", "bar", relative=0.01, possible=(0.0, 400.0)),
        ResultSpec("maximum_fill", "kg"),
        ResultSpec("gas_left", "kg", possible=(0.0, 1000.0), echoes=True),
        ResultSpec("co2_to_carbonate", "g", relative=0.02, possible=(0.0, 1e7)),
        ResultSpec("co2_to_serve", "g", relative=0.02, possible=(0.0, 1e7)),
        ResultSpec("co2_for_a_keg", "g", relative=0.05, possible=(0.0, 1e7)),
        ResultSpec("kegs_left", "1", relative=0.05, possible=(0.0, 1e9)),
        ResultSpec("time_left", "d", possible=(0.0, 1e9)),
    ),
    sources=(liquid_co2.SPAN_WAGNER, liquid_co2.FILLING, co2.GAS_EQUATION, atmosphere.STANDARD_ATMOSPHERE),
)
def cylinder_use(
    cylinder_temperature: float,
    cylinder_water_capacity: float | None,
    gas_left: float | None,
    cylinder_mass: float | None,
    empty_cylinder_mass: float | None,
    beer_volume: float | None,
    beer_temperature: float | None,
    gauge_pressure: float | None,
    start_carbonation: float | None,
    target_carbonation: float | None,
    leak_rate: float | None,
) -> dict[str, float]:
    """What a cylinder's gauge should read, what is in it by weight, what a keg takes, and how long it lasts.

    While any liquid is left the pressure is that of the liquid at its temperature, full or nearly empty: the gauge does
    NOT tell the contents, the scales do. A keg takes the gas that dissolves, and the gas that fills it as it empties.
    Purging and leaks come on top.

    Parameters
    ----------
    cylinder_temperature : degC, -50 to 60; 20 is taken; above 31 there is no liquid at all
    cylinder_water_capacity : L of water it holds (WC on its shoulder, in kg or L), 0.01 to 200; for maximum_fill
    gas_left : kg in it, 0 to 150; this, or the next two
    cylinder_mass : kg on the scales now, with its valve, without the regulator, 0.01 to 500
    empty_cylinder_mass : kg stamped on it (TW, tare), 0.01 to 500
    beer_volume : L in a keg, 0.05 to 5000; with beer_temperature and gauge_pressure for what a keg takes
    beer_temperature : degC, -5 to 60
    gauge_pressure : bar GAUGE on the keg while it is served, -0.5 to 10
    start_carbonation : vol in the beer before, 0 to 12; left out it comes carbonated
    target_carbonation : vol wanted, 0 to 12; left out it comes carbonated
    leak_rate : g/h lost, 0.001 to 100000; for time_left

    Returns
    -------
    cylinder_gauge_pressure : bar GAUGE before the regulator while liquid is left
    maximum_fill : kg; 68 % of the water it holds
    gas_left : kg in the cylinder
    co2_to_carbonate : g for a keg
    co2_to_serve : g that fill the keg as it empties
    co2_for_a_keg : g in all
    kegs_left : 1, how many such kegs the gas left is for
    time_left : d until a leak of that size has emptied it

    References
    ----------
    Vapour pressure, from memory (span-wagner-1996); 49 CFR 173.304a (cfr-173-304a); gas equation
    (smith-van-ness-abbott); U.S. Standard Atmosphere (us-standard-atmosphere-1976)

    Examples
    --------
    >>> import calculators
    >>> done = calculators.run("cylinder-use", {
    ...     "beer_volume": "19 L", "beer_temperature": "4 degC", "gauge_pressure": "0.8 bar",
    ...     "start_carbonation": 0.85, "target_carbonation": 2.5})
    >>> round(done.results["co2_for_a_keg"].value)
    129
    """
    found = {"cylinder_gauge_pressure": atmosphere.gauge(liquid_co2.vapour_pressure(cylinder_temperature))}
    if cylinder_water_capacity is not None:
        found["maximum_fill"] = liquid_co2.MAXIMUM_FILL * cylinder_water_capacity
    if cylinder_mass is not None and empty_cylinder_mass is not None:
        gas_left = max(0.0, cylinder_mass - empty_cylinder_mass)
    if gas_left is not None:
        found["gas_left"] = gas_left
        if leak_rate is not None:
            found["time_left"] = 1000.0 * gas_left / leak_rate / 24.0
    if beer_volume is not None and beer_temperature is not None and gauge_pressure is not None:
        served = beer_volume * co2.gas_density(beer_temperature, atmosphere.absolute(gauge_pressure))
        gained = max(0.0, (target_carbonation or 0.0) - (start_carbonation or 0.0))
        dissolved = gained * co2.GRAMS_PER_VOLUME * beer_volume
        found |= {"co2_to_carbonate": dissolved, "co2_to_serve": served, "co2_for_a_keg": dissolved + served}
        if gas_left is not None:
            found["kegs_left"] = 1000.0 * gas_left / (dissolved + served)
    return found


@cylinder_use.checks
def _checks(given: Given) -> None:
    _together(given, "beer_volume", "beer_temperature", "gauge_pressure")
    _together(given, "cylinder_mass", "empty_cylinder_mass")
    _together(given, "start_carbonation", "target_carbonation")
    full, empty = given["cylinder_mass"], given["empty_cylinder_mass"]
    if full is not None and given["gas_left"] is not None:
        raise BadInput("gas_left", "give either gas_left or cylinder_mass with empty_cylinder_mass.")
    if full is not None and full < empty - 0.1:
        raise BadInput("cylinder_mass", f"{full:g} kg is less than the empty cylinder's {empty:g}. Check both.")


def _together(given: Given, *names: str) -> None:
    missing = [name for name in names if given[name] is None]
    if missing and len(missing) < len(names):
        raise BadInput(missing[0], f"is missing: give {', '.join(names)} together.")


@cylinder_use.working
def _working(given: Given, found: Found) -> Iterator[str]:
    yield (
        f"over liquid at {given['cylinder_temperature']:.1f} °C: {found['cylinder_gauge_pressure'] + 1.013:.1f} bar "
        f"absolute - 1.013 = {found['cylinder_gauge_pressure']:.1f} bar"
    )
    if "maximum_fill" in found:
        yield f"fill at most 0.68 × {given['cylinder_water_capacity']:.2f} kg of water = {found['maximum_fill']:.2f} kg"
    if given["cylinder_mass"] is not None:
        yield (
            f"gas left = {given['cylinder_mass']:.2f} - {given['empty_cylinder_mass']:.2f} = {found['gas_left']:.2f} kg"
        )
    if "co2_for_a_keg" in found:
        density = co2.gas_density(given["beer_temperature"], atmosphere.absolute(given["gauge_pressure"]))
        gained = found["co2_to_carbonate"] / (co2.GRAMS_PER_VOLUME * given["beer_volume"])
        yield (
            f"a keg: {gained:.2f} vol × 1.977 × {given['beer_volume']:.2f} L = {found['co2_to_carbonate']:.1f} g "
            f"dissolved, {density:.3f} g/L × {given['beer_volume']:.2f} L = {found['co2_to_serve']:.1f} g to empty it"
        )


@cylinder_use.warnings
def _warnings(given: Given, _found: Found) -> Iterator[str]:
    yield "The cylinder's gauge does not tell what is in it while liquid is left: weigh it against its stamped tare."
    if given["cylinder_temperature"] > liquid_co2.CRITICAL_TEMPERATURE:
        yield "Above 31 °C (88 °F) there is no liquid: the pressure then depends on the filling and rises steeply."
    if given["cylinder_temperature"] > 50.0:
        yield "DANGER: keep cylinders below about 50 °C (120 °F), out of sun and cars; the burst disc may go."
    yield "Upright and fastened; filled only by a licensed filler, never past its maximum; leaks gather low in a room."
