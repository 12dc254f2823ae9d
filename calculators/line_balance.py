"""A beer line that spends the pressure: its length, the pressure it wants, or what it pours."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import log
from typing import NamedTuple

from calculators import measures
from calculators.calculator import calculator
from calculators.core import BadInput, Found, Given, ResultSpec, Source, choice, quantity
from calculators.physics import pipe_flow

MANUAL = Source(
    "ba-draught-manual",
    "Brewers Association, Draught Beer Quality Manual, chapter on balance: pressure a line spends for each foot, and "
    "0.5 psi for each foot of rise. Read again for 1/4 in vinyl and 5/16 in barrier; the other rows from memory.",
)
_INCH, _PSI, _FOOT = 25.4, 6894.757293, 0.3048
_BAR = 1e5
_PSI_PER_FOOT = _PSI / _FOOT / _BAR
_RULE_FOR_RISE = 0.5 * _PSI_PER_FOOT
MANUAL_TABLE = {
    "vinyl": ((3 / 16, 3.00), (1 / 4, 0.85), (5 / 16, 0.40), (3 / 8, 0.20)),
    "barrier": ((1 / 4, 0.30), (5 / 16, 0.10), (3 / 8, 0.06)),
}
"""Bore in inches, psi spent in each foot."""
_BALANCED_FLOW = 2 * 29.5735295625
"""mL/s: 2 US fl oz/s, what the manual wants a tap to pour."""


@calculator(
    "line-balance",
    title="Balancing a beer line",
    inputs=(
        quantity("line_bore", "mm", (1.0, 30.0), established=(4.0, 13.0), reading=0.1),
        quantity("line_length", "m", (0.05, 200.0), established=(0.3, 30.0), share=0.02, optional=True),
        measures.gauge_pressure("gauge_pressure", optional=True),
        quantity("rise", "m", (-10.0, 20.0), default=0.0, reading=0.05),
        choice("line_material", *MANUAL_TABLE, default="vinyl"),
        quantity("flow", "mL/s", (1.0, 500.0), established=(20.0, 120.0), default=_BALANCED_FLOW),
        quantity("temperature", "degC", (-2.0, 40.0), established=(0.0, 25.0), default=6.0, reading=2.0),
    ),
    results=(
        ResultSpec("resistance_by_manual", "bar/m", relative=0.2),
        ResultSpec("resistance_by_pipe_flow", "bar/m", relative=0.15),
        ResultSpec("lift", "bar", relative=0.01),
        ResultSpec("line_length_by_manual", "m", relative=0.2, possible=(0.0, 1e6)),
        ResultSpec("line_length_by_pipe_flow", "m", relative=0.15, possible=(0.0, 1e6)),
        ResultSpec("gauge_pressure_by_manual", "bar", relative=0.2, possible=(-10.0, 1e6)),
        ResultSpec("gauge_pressure_by_pipe_flow", "bar", relative=0.15, possible=(-10.0, 1e6)),
        ResultSpec("flow_by_pipe_flow", "mL/s", relative=0.1, possible=(0.0, 1e6)),
        ResultSpec("reynolds_number", "1", relative=0.02),
    ),
    sources=(MANUAL, pipe_flow.DARCY_WEISBACH, pipe_flow.BEER_VISCOSITY),
)
def line_balance(
    line_bore: float,
    line_length: float | None,
    gauge_pressure: float | None,
    rise: float,
    line_material: str,
    flow: float,
    temperature: float,
) -> dict[str, float]:
    """Line length for a balanced pour, the pressure that suits a given length, or the flow that both make.

    Two methods stand side by side because they disagree, by up to 1.8 times: the manual's table for a line's material
    and bore with its rule for the rise, and the pipe flow equation at the wanted flow. Fittings, bore tolerance and gas
    coming out of the beer make the difference; begin with the longer line and cut. With line_length and gauge_pressure
    both given, also the flow they make by the pipe flow equation, all the pressure spent in the line.

    Parameters
    ----------
    line_bore : mm INSIDE, 1 to 30 (established: 4 to 13); 3/16 in is 4.76 mm
    line_length : m, 0.05 to 200 (usual: 0.3 to 30); for the pressure it wants
    gauge_pressure : bar GAUGE on the keg, -0.5 to 10; for the length it wants
    rise : m from the middle of the keg up to the tap, -10 to 20; negative where the tap is lower
    line_material : vinyl or barrier; only the manual's table tells them apart
    flow : mL/s at the tap, 1 to 500; 59.1 (2 US fl oz/s) is taken
    temperature : degC of the beer in the line, -2 to 40; 6 is taken

    Returns
    -------
    resistance_by_manual : bar/m by the manual's table
    resistance_by_pipe_flow : bar/m at that flow by Darcy and Weisbach
    lift : bar (as a GAUGE shows it) that the rise takes, by hydrostatics (the manual's rule says 15 % more)
    line_length_by_manual : m that balance the pressure
    line_length_by_pipe_flow : m that balance the pressure
    gauge_pressure_by_manual : bar GAUGE that the line balances
    gauge_pressure_by_pipe_flow : bar GAUGE that the line balances
    flow_by_pipe_flow : mL/s that this pressure drives through this line
    reynolds_number : 1, at the wanted flow; below 4000 the flow may be laminar

    References
    ----------
    Draught Beer Quality Manual (ba-draught-manual); Darcy, Weisbach and Colebrook (darcy-weisbach-colebrook);
    viscosity of beer (liger-belair-cilindre-2021)

    Examples
    --------
    >>> import calculators
    >>> done = calculators.run("line-balance", {"line_bore": "1/4 in", "gauge_pressure": "12 psi", "rise": "6 ft"})
    >>> round(done.results["line_length_by_manual"].value / 0.3048, 1)
    10.6
    """
    per_metre = pipe_flow.Line(line_bore / 1e3, 1.0, pipe_flow.viscosity(temperature))
    manual, pipe = table_resistance(line_material, line_bore), per_metre.pressure_drop(flow / 1e6) / _BAR
    lift = pipe_flow.head(rise) / _BAR
    found = {
        "resistance_by_manual": manual,
        "resistance_by_pipe_flow": pipe,
        "lift": lift,
        "reynolds_number": per_metre.reynolds(flow / 1e6),
    }
    if gauge_pressure is not None:
        found["line_length_by_manual"] = max(0.0, gauge_pressure - _RULE_FOR_RISE * rise) / manual
        found["line_length_by_pipe_flow"] = max(0.0, gauge_pressure - lift) / pipe
    if line_length is not None:
        found["gauge_pressure_by_manual"] = line_length * manual + _RULE_FOR_RISE * rise
        found["gauge_pressure_by_pipe_flow"] = line_length * pipe + lift
    if gauge_pressure is not None and line_length is not None:
        line = per_metre._replace(length=line_length)
        found["flow_by_pipe_flow"] = 1e6 * line.flow(max(0.0, gauge_pressure - lift) * _BAR)
    return found


class _Piece(NamedTuple):
    """The manual's table between two bores: so many bar/m at 1 mm, falling with a power of the bore; up to so wide."""

    widest: float
    at_one: float
    power: float


def _pieces(rows: Sequence[tuple[float, float]]) -> tuple[_Piece, ...]:
    pieces = []
    for (narrow, high), (wide, low) in pairwise(rows):
        power = log(high / low) / log(wide / narrow)
        pieces.append(_Piece(wide * _INCH, high * _PSI_PER_FOOT * (narrow * _INCH) ** power, power))
    return tuple(pieces)


_PIECES = {material: _pieces(rows) for material, rows in MANUAL_TABLE.items()}


def table_resistance(material: str, bore: float) -> float:
    """bar/m by the manual's table for a bore in mm; between its rows, and beyond, a power of the bore."""
    pieces = _PIECES[material]
    piece = next((piece for piece in pieces if bore <= piece.widest), pieces[-1])
    return float(piece.at_one / bore**piece.power)


@line_balance.checks
def _checks(given: Given) -> None:
    pressure, rise = given["gauge_pressure"], given["rise"]
    if pressure is not None and pressure <= max(_RULE_FOR_RISE * rise, pipe_flow.head(rise) / _BAR):
        raise BadInput("gauge_pressure", f"{pressure:g} bar does not lift beer {rise:g} m. Give more, or a lower tap.")


@line_balance.working
def _working(given: Given, found: Found) -> Iterator[str]:
    manual, pipe = found["resistance_by_manual"], found["resistance_by_pipe_flow"]
    rule = _RULE_FOR_RISE * given["rise"]
    yield (
        f"manual: {manual:.4f} bar/m ({manual / _PSI_PER_FOOT:.2f} psi/ft) for {given['line_bore']:.2f} mm "
        f"{given['line_material']}, and {rule:.3f} bar for the rise (0.5 psi/ft)"
    )
    yield (
        f"pipe flow: {pipe:.4f} bar/m ({pipe / _PSI_PER_FOOT:.2f} psi/ft) at {given['flow']:.1f} mL/s, Re "
        f"{found['reynolds_number']:.0f}, and {found['lift']:.3f} bar for the rise (1010 kg/m³)"
    )
    if "line_length_by_manual" in found:
        pressure = given["gauge_pressure"]
        yield f"length (manual) = ({pressure:.3f} - {rule:.3f}) / {manual:.4f} = {found['line_length_by_manual']:.2f} m"
        yield (
            f"length (pipe flow) = ({pressure:.3f} - {found['lift']:.3f}) / {pipe:.4f} "
            f"= {found['line_length_by_pipe_flow']:.2f} m"
        )
    if "gauge_pressure_by_manual" in found:
        length = given["line_length"]
        yield (
            f"pressure (manual) = {length:.2f} × {manual:.4f} + {rule:.3f} "
            f"= {found['gauge_pressure_by_manual']:.3f} bar"
        )
        yield (
            f"pressure (pipe flow) = {length:.2f} × {pipe:.4f} + {found['lift']:.3f} "
            f"= {found['gauge_pressure_by_pipe_flow']:.3f} bar"
        )


@line_balance.warnings
def _warnings(given: Given, found: Found) -> Iterator[str]:
    yield "The two methods disagree: begin with the longer line and cut it a little at a time until it pours right."
    inches, rows = given["line_bore"] / _INCH, MANUAL_TABLE[given["line_material"]]
    if not 0.97 * rows[0][0] <= inches <= 1.03 * rows[-1][0]:
        yield "That bore lies outside the manual's table for the material: its figure is carried on, a rough guide."
    if found["reynolds_number"] < pipe_flow.TURBULENT:
        yield pipe_flow.MAY_BE_LAMINAR
