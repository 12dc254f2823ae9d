"""The pressure of a full, closed vessel while it warms or cools."""

from __future__ import annotations

from calculators import units
from calculators.core import Calculation, System
from calculators.pictures.chart import Axis, Chart, Line, Mark, along, bare, steps
from calculators.pictures.registry import picture


@picture("pressure-by-temperature", calculator="warming-vessel-pressure")
def pressure_by_temperature(done: Calculation, system: System) -> Chart:
    given = bare(done)
    start, end = given["start_temperature"], given["end_temperature"]
    xs = steps(min(0.0, start, end), max(40.0, start, end))
    pressure = done.results["gauge_pressure"]
    shown = units.in_system(pressure.value, "bar", system)
    before, warm_before, warm = (
        units.in_system(given["start_gauge_pressure"], "bar", system),
        units.in_system(start, "degC", system),
        units.in_system(end, "degC", system),
    )
    return Chart(
        title="A closed vessel that warms",
        alternative=(
            "The pressure in a closed vessel of beer rises as it warms, faster the warmer it gets. Yours: "
            f"{before} at {warm_before} becomes {shown} at {warm}, once beer and gas have come to rest. "
            "Arithmetic does not rate a vessel: its marking and a working relief valve decide."
        ),
        x=Axis("temperature", "degC"),
        y=Axis("gauge pressure", "bar"),
        xs=xs,
        lines=(Line("closed", along(done, "end_temperature", xs, "gauge_pressure")),),
        marks=(
            Mark("before", start, given["start_gauge_pressure"]),
            Mark(f"after: {shown}", end, pressure.value, (pressure.low, pressure.high)),
        ),
    )
