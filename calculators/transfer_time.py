"""How long a transfer takes, or what pressure moves it in a given time."""

from __future__ import annotations

from collections.abc import Iterator
from math import pi

from calculators import measures
from calculators.calculator import calculator
from calculators.core import BadInput, Found, Given, ResultSpec, quantity
from calculators.physics import pipe_flow

_BAR = 1e5
_SLOWEST = 1e-9
"""m³/s: what a pressure that moves nothing is taken to move, so that a time can be told."""


@calculator(
    "transfer-time",
    title="Time for a transfer",
    inputs=(
        measures.volume("beer_volume"),
        quantity("line_bore", "mm", (1.0, 60.0), established=(4.0, 25.0), reading=0.1, optional=True),
        quantity("line_length", "m", (0.05, 200.0), established=(0.3, 30.0), share=0.02, optional=True),
        measures.gauge_pressure("gauge_pressure", optional=True),
        measures.gauge_pressure("receiving_gauge_pressure", default=0.0),
        quantity("rise", "m", (-10.0, 20.0), default=0.0, reading=0.05),
        quantity("flow", "mL/s", (0.1, 10_000.0), share=0.05, optional=True),
        quantity("transfer_time", "min", (0.02, 10_000.0), optional=True),
        quantity("temperature", "degC", (-2.0, 40.0), default=6.0, reading=2.0),
    ),
    results=(
        ResultSpec("transfer_time", "min", possible=(0.0, 1e9), echoes=True),
        ResultSpec("flow", "mL/s", possible=(0.0, 1e9), echoes=True),
        ResultSpec("gauge_pressure", "bar", possible=(-10.0, 1e9), echoes=True),
        ResultSpec("reynolds_number", "1", relative=0.02),
    ),
    sources=(pipe_flow.DARCY_WEISBACH, pipe_flow.BEER_VISCOSITY),
)
def transfer_time(
    beer_volume: float,
    line_bore: float | None,
    line_length: float | None,
    gauge_pressure: float | None,
    receiving_gauge_pressure: float,
    rise: float,
    flow: float | None,
    transfer_time: float | None,
    temperature: float,
) -> dict[str, float]:
    """Least time to move beer through a line under a pressure; the pressure for a wanted time; or the time at a flow.

    Darcy and Weisbach with the pressures held constant. Fittings, valves, a settled bed and gas coming out of the beer
    are not counted, so a real transfer takes longer: up to twice. Give one of gauge_pressure, flow and transfer_time;
    with the first and the last also line_bore and line_length. A siphon is a gauge pressure of 0 and a negative rise.

    Parameters
    ----------
    beer_volume : L to move, 0.05 to 5000
    line_bore : mm INSIDE, 1 to 60 (usual: 4 to 25)
    line_length : m, 0.05 to 200 (usual: 0.3 to 30)
    gauge_pressure : bar GAUGE over the beer in the giving vessel, -0.5 to 10
    receiving_gauge_pressure : bar GAUGE in the receiving vessel, -0.5 to 10
    rise : m from the beer's surface in the giving vessel up to where it comes out, -10 to 20; negative where it falls
    flow : mL/s, 0.1 to 10000, where it is known
    transfer_time : min wanted, 0.02 to 10000
    temperature : degC of the beer, -2 to 40; 6 is taken

    Returns
    -------
    transfer_time : min; with a pressure it is the LEAST, with nothing in the way
    flow : mL/s
    gauge_pressure : bar GAUGE in the giving vessel, as given or the least for the wanted time
    reynolds_number : 1; below 4000 the flow may be laminar

    References
    ----------
    Darcy, Weisbach and Colebrook (darcy-weisbach-colebrook); viscosity of beer (liger-belair-cilindre-2021)

    Examples
    --------
    >>> import calculators
    >>> done = calculators.run("transfer-time", {"beer_volume": "1 pt", "flow": "2 fl oz/s"})
    >>> round(done.results["transfer_time"].value * 60)
    8
    """
    if flow is not None:
        return {"transfer_time": beer_volume * 1e3 / flow / 60.0, "flow": flow}
    assert line_bore is not None
    assert line_length is not None
    line = pipe_flow.Line(line_bore / 1e3, line_length, pipe_flow.viscosity(temperature))
    against = receiving_gauge_pressure * _BAR + pipe_flow.head(rise)
    if transfer_time is None:
        assert gauge_pressure is not None
        moved = max(_SLOWEST, line.flow(max(0.0, gauge_pressure * _BAR - against)))
        transfer_time = beer_volume / 1e3 / moved / 60.0
    else:
        moved = beer_volume / 1e3 / (transfer_time * 60.0)
        gauge_pressure = (line.pressure_drop(moved) + against) / _BAR
    return {
        "transfer_time": transfer_time,
        "flow": moved * 1e6,
        "gauge_pressure": gauge_pressure,
        "reynolds_number": line.reynolds(moved),
    }


@transfer_time.checks
def _checks(given: Given) -> None:
    measures.known_of(given, ("gauge_pressure", "flow", "transfer_time"), 1)
    for name in ("line_bore", "line_length"):
        if given["flow"] is None and given[name] is None:
            raise BadInput(name, "is missing. Give it, or the flow.")
    pressure = given["gauge_pressure"]
    if pressure is not None:
        against = given["receiving_gauge_pressure"] + pipe_flow.head(given["rise"]) / _BAR
        if pressure <= against:
            raise BadInput(
                "gauge_pressure",
                f"{pressure:g} bar moves nothing against {against:.2f} bar of counter-pressure and rise. Give more, "
                "vent the receiving vessel, or set it lower.",
            )


@transfer_time.more_uncertainty
def _more_uncertainty(given: Given, found: Found) -> dict[str, float]:
    """What is not counted only slows a transfer; the range says by how much either way."""
    if given["flow"] is not None:
        return {}
    return {"transfer_time": 0.3 * found["transfer_time"], "flow": 0.3 * found["flow"], "gauge_pressure": 0.05}


@transfer_time.working
def _working(given: Given, found: Found) -> Iterator[str]:
    if "gauge_pressure" in found:
        line = pipe_flow.Line(given["line_bore"] / 1e3, given["line_length"], pipe_flow.viscosity(given["temperature"]))
        flow, head = found["flow"] / 1e6, pipe_flow.head(given["rise"]) / _BAR
        speed = 4.0 * flow / (pi * line.bore**2)
        yield (
            f"driving = {found['gauge_pressure']:.3f} - {given['receiving_gauge_pressure']:.3f} - {head:.3f} (rise) "
            f"= {found['gauge_pressure'] - given['receiving_gauge_pressure'] - head:.3f} bar"
        )
        yield (
            f"at {found['flow']:.1f} mL/s ({speed:.2f} m/s, Re {found['reynolds_number']:.0f}) the line spends "
            f"{line.pressure_drop(flow) / _BAR:.3f} bar"
        )
    yield (f"time = {given['beer_volume']:.2f} L / {found['flow']:.1f} mL/s = {found['transfer_time']:.2f} min")


@transfer_time.warnings
def _warnings(given: Given, found: Found) -> Iterator[str]:
    if given["flow"] is not None:
        return
    yield "That is with nothing in the way: posts, valves, a settled bed and foam slow it, up to twice as long."
    if found["reynolds_number"] < pipe_flow.TURBULENT:
        yield pipe_flow.MAY_BE_LAMINAR
    if found["gauge_pressure"] > 0.0:
        yield measures.RATING
