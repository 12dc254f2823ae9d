"""How much gas a relief valve of a given bore lets out."""

from __future__ import annotations

from collections.abc import Iterator
from math import pi, sqrt

from calculators import measures
from calculators.calculator import calculator
from calculators.core import BadInput, Found, Given, Reading, ResultSpec, quantity
from calculators.physics import alcohol, atmosphere, relief

_BORE_READING = 0.05


@calculator(
    "relief-capacity",
    title="What a relief valve lets out",
    inputs=(
        quantity("relief_pressure", "bar", (0.02, 100.0), established=(0.1, 20.0), share=0.05),
        quantity("orifice_bore", "mm", (0.1, 100.0), established=(0.5, 50.0), reading=_BORE_READING, optional=True),
        quantity("co2_flow", "kg/h", (0.0, 10_000.0), share=0.1, optional=True),
        measures.volume("beer_volume", optional=True),
        quantity("gravity_fall_per_day", "SG_difference", (0.0, 0.1), reading=0.002, optional=True),
        quantity("accumulation", "percent", (0.0, 50.0), established=(0.0, 21.0), default=10.0),
        quantity("discharge_coefficient", "1", (0.05, 1.0), default=Reading(0.65, 0.45, 0.8, "1")),
        quantity("gas_temperature", "degC", (-30.0, 80.0), default=20.0, reading=5.0),
        measures.altitude(),
    ),
    results=(
        ResultSpec("relieving_pressure", "bar_absolute", absolute=0.02),
        ResultSpec("co2_capacity", "kg/h", relative=0.05, possible=(0.0, 1e9)),
        ResultSpec("co2_flow", "kg/h", relative=0.05, possible=(0.0, 1e6), echoes=True),
        ResultSpec("required_area", "mm2", relative=0.05, possible=(0.0, 1e9)),
        ResultSpec("required_bore", "mm", relative=0.025, possible=(0.0, 1e5)),
    ),
    sources=(relief.API_520, alcohol.BALLING, atmosphere.STANDARD_ATMOSPHERE),
)
def relief_capacity(
    relief_pressure: float,
    orifice_bore: float | None,
    co2_flow: float | None,
    beer_volume: float | None,
    gravity_fall_per_day: float | None,
    accumulation: float,
    discharge_coefficient: float,
    gas_temperature: float,
    altitude: float,
) -> dict[str, float]:
    """Carbon dioxide GAS that a relief valve of a given bore passes, and the bore that a given gas flow asks for.

    Isentropic flow of an ideal gas (isentropic exponent 1.29) through a nozzle into the open air, choked (critical) or
    not, as API 520 Part I sizes valves, at the set pressure plus the accumulation. Foam and liquid are not gas: a valve
    that beer or hops have reached passes far less. This judges no vessel and no valve: the vessel's marking and the
    valve's certified capacity decide.

    Parameters
    ----------
    relief_pressure : bar GAUGE at which the valve opens, 0.02 to 100 (established: 0.1 to 20)
    orifice_bore : mm, the narrowest bore of the valve, 0.1 to 100; for co2_capacity
    co2_flow : kg/h of gas to be let out, 0 to 10000 (a regulator that fails open can pass many kg/h); this, or the next
        two, for the bore required
    beer_volume : L of fermenting beer, 0.05 to 5000
    gravity_fall_per_day : SG_difference (0.001 is one point) fallen in a day, 0 to 0.1
    accumulation : percent over the set pressure at full flow, 0 to 50 (usual: 10)
    discharge_coefficient : 1, 0.05 to 1; unknown for a small unlisted valve, 0.45 to 0.8 is taken
    gas_temperature : degC before the valve, -30 to 80
    altitude : m above sea level, -500 to 9000; the gas leaves into the air there

    Returns
    -------
    relieving_pressure : bar ABSOLUTE before the valve at full flow
    co2_capacity : kg/h that the orifice passes as gas
    co2_flow : kg/h to be let out, as given or as the fermentation makes it
    required_area : mm2 of orifice that just passes that flow
    required_bore : mm of round orifice that just passes that flow

    References
    ----------
    API Standard 520 Part I (api-520-1); Balling (balling); U.S. Standard Atmosphere (us-standard-atmosphere-1976)

    Examples
    --------
    >>> import calculators
    >>> done = calculators.run("relief-capacity", {"relief_pressure": "2 bar", "orifice_bore": "3 mm"})
    >>> round(done.results["co2_capacity"].value, 1)
    15.0
    """
    outside = atmosphere.pressure(altitude)
    inlet = relief_pressure * (1.0 + accumulation / 100.0) + outside
    passed = discharge_coefficient * relief.flow_per_area(relief.CARBON_DIOXIDE, inlet, outside, gas_temperature)
    found = {"relieving_pressure": inlet}
    if orifice_bore is not None:
        found["co2_capacity"] = passed * pi / 4.0 * orifice_bore**2
    if co2_flow is None and beer_volume is not None and gravity_fall_per_day is not None:
        co2_flow = beer_volume * gravity_fall_per_day * alcohol.CO2_PER_GRAVITY / 24_000.0
    if co2_flow is not None:
        area = co2_flow / passed
        found |= {"co2_flow": co2_flow, "required_area": area, "required_bore": sqrt(4.0 * area / pi)}
    return found


@relief_capacity.checks
def _checks(given: Given) -> None:
    fermenting = [given[name] is not None for name in ("beer_volume", "gravity_fall_per_day")]
    if any(fermenting) and (given["co2_flow"] is not None or not all(fermenting)):
        raise BadInput("co2_flow", "give co2_flow, or beer_volume together with gravity_fall_per_day.")
    if given["orifice_bore"] is None and given["co2_flow"] is None and not all(fermenting):
        raise BadInput("orifice_bore", "give the valve's orifice_bore, the co2_flow to be let out, or both.")


@relief_capacity.working
def _working(given: Given, found: Found) -> Iterator[str]:
    outside, inlet = atmosphere.pressure(given["altitude"]), found["relieving_pressure"]
    critical = relief.critical_ratio(relief.CARBON_DIOXIDE)
    flow = relief.flow_per_area(relief.CARBON_DIOXIDE, inlet, outside, given["gas_temperature"])
    over = 1.0 + given["accumulation"] / 100.0
    yield f"before the valve = {given['relief_pressure']:.3f} bar × {over:.2f} + {outside:.3f} (air) = {inlet:.3f} bar"
    kind = "below it: critical (choked) flow" if outside / inlet < critical else "not below it: subcritical flow"
    yield f"outlet / inlet = {outside:.3f} / {inlet:.3f} = {outside / inlet:.3f}; critical ratio {critical:.3f}: {kind}"
    passed = given["discharge_coefficient"] * flow
    yield f"flow = {given['discharge_coefficient']:.2f} × {flow:.3f} kg/h per mm² of ideal nozzle = {passed:.3f}"
    if "co2_capacity" in found:
        area = pi / 4 * given["orifice_bore"] ** 2
        yield f"capacity = {passed:.3f} × {area:.2f} mm² = {found['co2_capacity']:.2f} kg/h"
    if "required_area" in found:
        yield f"area required = {found['co2_flow']:.4f} kg/h / {passed:.3f} = {found['required_area']:.4f} mm²"


@relief_capacity.warnings
def _warnings(given: Given, found: Found) -> Iterator[str]:
    yield (
        "Holds for gas alone. Foam, beer or hops in the valve are not gas: its real capacity is then far lower, or "
        "nothing."
    )
    if atmosphere.pressure(given["altitude"]) / found["relieving_pressure"] >= relief.critical_ratio(
        relief.CARBON_DIOXIDE
    ):
        yield "The flow is subcritical: anything fitted to the valve's outlet lowers it further."
    if found.get("required_bore", 0.0) > (given["orifice_bore"] or float("inf")):
        yield "The orifice is too small for that flow: the pressure would rise past the valve's setting."
    yield (
        "The pressure marked on the vessel and the valve's certified capacity decide, not this arithmetic. Never "
        "block, cap or re-set a relief valve. Local codes and licensed practice come first."
    )
