"""Where a mash goes as hot or cold water is added, across the rests that the trade names."""

from __future__ import annotations

from calculators import units
from calculators.core import Calculation, System
from calculators.pictures.chart import Axis, Band, Chart, Line, Mark, along, bare, steps
from calculators.pictures.registry import picture

RESTS = (
    ("protein rest", 48.0, 55.0),
    ("maltose rest", 60.0, 65.0),
    ("dextrin rest", 68.0, 72.0),
    ("mash out", 75.0, 78.0),
)
"""°C (common practice)."""


@picture("mash-steps", calculator="mash-correction")
def mash_steps(done: Calculation, system: System) -> Chart:
    given = bare(done)
    added, reached = done.results["added_water_volume"].value, done.results["mash_temperature"]
    xs = steps(0.0, max(2.0 * added, 0.2 * given["mash_water_volume"]))
    heights = along(done, "added_water_volume", xs, "mash_temperature")
    low, high = min(*heights, 60.0), max(*heights, 72.0)
    water, warm, before, after = (
        units.in_system(value, unit, system)
        for value, unit in (
            (added, "L"), (given["added_water_temperature"], "degC"), (given["mash_temperature"], "degC"),
            (reached.value, "degC"),
        )
    )  # fmt: skip
    return Chart(
        title=f"Mash temperature as water of {warm} goes in",
        alternative=(
            f"The mash moves from {before} towards the water's {warm}, less and less with each litre. "
            f"Yours: {water} bring it to {after}. Bands show the usual rests: "
            + ", ".join(f"{name} {_span(bottom, top, system)}" for name, bottom, top in RESTS)
            + "."
        ),
        x=Axis("water added, measured cold", "L"),
        y=Axis("mash temperature", "degC"),
        xs=xs,
        lines=(Line("", heights),),
        marks=(
            Mark("now", 0.0, given["mash_temperature"]),
            Mark(f"yours: {after}", added, reached.value, (reached.low, reached.high)),
        ),
        bands=tuple(Band(name, bottom, top) for name, bottom, top in RESTS if top >= low and bottom <= high),
    )


def _span(bottom: float, top: float, system: System) -> str:
    return f"{units.in_system(bottom, 'degC', system)} to {units.in_system(top, 'degC', system)}"
