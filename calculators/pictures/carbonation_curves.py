"""Gauge pressure against temperature for a few carbonations, with the customer's beer among them."""

from __future__ import annotations

from calculators import units
from calculators.core import Calculation, System
from calculators.physics import atmosphere
from calculators.physics import carbon_dioxide as co2
from calculators.pictures.chart import Axis, Chart, Line, Mark, bare, steps
from calculators.pictures.registry import picture

VOLUMES = (1.5, 2.0, 2.5, 3.0, 3.5)


@picture("carbonation-curves", calculator="carbonation-equilibrium")
def carbonation_curves(done: Calculation, system: System) -> Chart:
    temperature, pressure, volumes = (
        done.results[name] for name in ("temperature", "gauge_pressure", "carbonation")
    )  # fmt: skip
    outside = atmosphere.pressure(bare(done)["altitude"])
    xs = steps(min(0.0, temperature.value), max(25.0, temperature.value))
    lines = tuple(
        Line(units.show(volume, "vol"), tuple(max(0.0, co2.pressure_for(x, volume) - outside) for x in xs))
        for volume in VOLUMES
    )
    warm, gauge = (units.in_system(reading.value, reading.unit, system) for reading in (temperature, pressure))
    return Chart(
        title="Carbonation: what the gauge must read",
        alternative=(
            "Curves of gauge pressure against beer temperature, rising with warmth, for "
            f"{', '.join(f'{volume:g}' for volume in VOLUMES)} volumes of carbon dioxide. "
            f"Your beer: {warm} and {gauge} hold {units.show(volumes.value, 'vol')}. "
            "Beer at rest; the marking on the vessel limits the pressure."
        ),
        x=Axis("beer temperature", "degC"),
        y=Axis("gauge pressure", "bar"),
        xs=xs,
        lines=lines,
        marks=(Mark(f"yours: {units.show(volumes.value, 'vol')}", temperature.value, pressure.value),),
    )
