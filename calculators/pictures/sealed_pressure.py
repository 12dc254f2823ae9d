"""The pressure a closed vessel ends at, against the gravity still to fall."""

from __future__ import annotations

from calculators import units
from calculators.core import Calculation, System
from calculators.pictures.chart import Axis, Chart, Line, Mark, along, bare, steps
from calculators.pictures.registry import picture


@picture("pressure-by-gravity-left", calculator="sealed-vessel-pressure")
def pressure_by_gravity_left(done: Calculation, system: System) -> Chart:
    given = bare(done)
    left = 1000.0 * max(0.0, given["current_gravity"] - given["final_gravity"])
    xs = steps(0.0, max(12.0, 1.25 * left))
    ends = along(done, "final_gravity", [given["current_gravity"] - x / 1000.0 for x in xs], "gauge_pressure")
    pressure = done.results["gauge_pressure"]
    shown = units.in_system(pressure.value, "bar", system)
    return Chart(
        title="Closed now: the pressure at the end",
        alternative=(
            "The more gravity is left to ferment in a closed vessel, the higher the pressure it ends at, in an almost "
            f"straight line. Yours: {left:.1f} points left end at {shown}, between "
            f"{units.in_system(pressure.low, 'bar', system)} and {units.in_system(pressure.high, 'bar', system)}. "
            "Arithmetic does not rate a vessel: its marking and a working relief valve decide."
        ),
        x=Axis("gravity still to fall", "points_difference"),
        y=Axis("gauge pressure at the end", "bar"),
        xs=xs,
        lines=(Line("nothing let out", ends),),
        marks=(Mark(f"yours: {shown}", left, pressure.value, (pressure.low, pressure.high)),),
    )
