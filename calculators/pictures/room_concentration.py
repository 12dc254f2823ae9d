"""Carbon dioxide in a room against time: gathering from a leak, or clearing by fresh air."""

from __future__ import annotations

from collections.abc import Sequence
from math import exp

from calculators.core import BadInput, Calculation, Given, System
from calculators.gas_in_room import clearing_from
from calculators.physics import atmosphere, room_air
from calculators.physics import carbon_dioxide as co2
from calculators.pictures.chart import Axis, Chart, Level, Line, bare, steps
from calculators.pictures.registry import picture


@picture("room-concentration", calculator="gas-in-room")
def room_concentration(done: Calculation, _system: System) -> Chart:
    given = bare(done)
    if given["gas"] != "co2":
        raise BadInput("gas", "there is no picture of carbon monoxide: burner off, everyone out into fresh air.")
    if given["air_changes"] is None:
        raise BadInput("air_changes", "is missing. Say how often the air is renewed, for example '0.5 per hour'.")
    start = clearing_from(given["start_concentration"], {name: found.value for name, found in done.results.items()})
    gathers = given["co2_flow"] is not None and given["room_volume"] is not None
    if start is None:
        raise BadInput("start_concentration", "is missing. Give it, or co2_mass or co2_flow with room_volume.")
    xs = steps(0.0, _hours(start, given, gathers=gathers))
    lines = _gathering(given, xs) if gathers else _clearing(start, given, xs)
    limits = room_air.LIMITS["co2"]
    highest = max(max(line.ys) for line in lines)
    levels = tuple(level for level in _levels(limits) if level.y <= 1.3 * highest or level.y == limits.working_day)
    return Chart(
        title="Carbon dioxide gathering in a room" if gathers else "Carbon dioxide clearing from a room",
        alternative=_words(lines, xs, gathers=gathers),
        x=Axis("time", "h"),
        y=Axis("carbon dioxide", "ppm"),
        xs=xs,
        lines=lines,
        levels=levels,
    )


def _levels(limits: room_air.Limits) -> tuple[Level, ...]:
    return (
        Level("5,000: limit for a working day", limits.working_day),
        Level("30,000: limit for 15 minutes", limits.short_time),
        Level("40,000: immediately dangerous", limits.immediate_danger),
    )


def _hours(start: float, given: Given, *, gathers: bool) -> float:
    """Long enough to see it settle, or to see it fall past the working day's limit even low down."""
    if gathers:
        return 5.0 / float(given["air_changes"])
    outside = given["outside_concentration"]
    low_down = outside + room_air.LOW_LAYER * max(0.0, start - outside)
    clear = room_air.hours_to_clear(low_down, room_air.LIMITS["co2"].working_day, outside, given["air_changes"])
    return 1.25 * max(clear, 0.5 / float(given["air_changes"]))


def _clearing(start: float, given: Given, xs: Sequence[float]) -> tuple[Line, ...]:
    outside, changes = given["outside_concentration"], given["air_changes"]
    return _mean_and_low(outside, [outside + (start - outside) * exp(-changes * x) for x in xs])


def _gathering(given: Given, xs: Sequence[float]) -> tuple[Line, ...]:
    density = co2.gas_density(given["room_temperature"], atmosphere.SEA_LEVEL)
    inflow = given["co2_flow"] / 1000.0 / density
    outside, room, changes = given["outside_concentration"], given["room_volume"], given["air_changes"]
    return _mean_and_low(outside, [room_air.gathered(outside, inflow, room, changes, x) for x in xs])


def _mean_and_low(outside: float, means: Sequence[float]) -> tuple[Line, ...]:
    low = tuple(min(1e6, outside + room_air.LOW_LAYER * (mean - outside)) for mean in means)
    return (Line("mean", tuple(min(1e6, mean) for mean in means)), Line("low down", low))


def _words(lines: tuple[Line, ...], xs: Sequence[float], *, gathers: bool) -> str:
    mean, low = lines
    course = "rises and settles" if gathers else "falls, quickly at first"
    return (
        f"The mean concentration {course}: {mean.ys[0]:,.0f} ppm at the start, {mean.ys[-1]:,.0f} after "
        f"{xs[-1]:.1f} hours. If the gas lies in the lowest third of the room it is worse: {low.ys[0]:,.0f} and "
        f"{low.ys[-1]:,.0f} ppm. Limits at work: 5,000 ppm over a day, 30,000 for 15 minutes, 40,000 immediately "
        "dangerous. A meter decides, not a picture."
    )
