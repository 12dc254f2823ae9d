"""Values in the unit of their fact, and the unit that is meant where none was said."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Literal, TypeAlias

from calculators.units import convert
from knowledge.reading import FactReading
from service.understanding.model import Quantity

CATALOGUE_NAMES = {"inch": "in", "hour": "h", "day": "d"}
EXTRACT = ("degP", "degBx")
US_UNITS = frozenset({"degF", "psi", "gal", "qt", "oz", "lb", "ft", "inch", "ft3"})
METRIC_UNITS = frozenset({"degC", "bar", "kPa", "L", "g", "kg", "m", "mm", "m3"})
COLD_FAHRENHEIT_FROM, FAHRENHEIT_FROM = 33.0, 36.0
"""Where both scales are plausible and nothing else tells, a figure from here on is in Fahrenheit."""
WARMEST_COLD = 18.0
"""No fridge and no cold crash is warmer than this, in °C."""
COOLEST_HOT = 20.0
"""No wort that will not cool, and none that is too hot for yeast, is colder than this, in °C."""
HIGHEST_BAR = 8.0
"""A bare pressure in a metric message is in bar up to here."""
LOWEST_PSI = 4.0
"""Where nothing else tells, a bare pressure below this is in bar: nobody sets a valve to so few psi.

A broken number below it is none in a message in psi: "30 psi, want 2.5" wants volumes."""

POINTS = (8.0, 130.0)
"""Bare figures that are gravity points, where points are talked of."""

Place: TypeAlias = Literal["", "cold", "hot"]
Scaled: TypeAlias = tuple[float, float | None, float | None]


@dataclass(frozen=True, slots=True)
class Usual:
    """The unit and the values of each kind in a message; `metric` is above 0 where its units are, below where US."""

    units: Mapping[str, str]
    metric: int
    values: Mapping[str, tuple[float, ...]]
    in_points: bool = False


def usual(quantities: Iterable[Quantity], kind_of: Mapping[str, str]) -> Usual:
    """The measures a message uses."""
    said = list(quantities)
    units = [quantity.unit for quantity in said if quantity.unit]
    metric = sum(unit in METRIC_UNITS for unit in units) - sum(unit in US_UNITS for unit in units)
    values: dict[str, tuple[float, ...]] = {}
    for one in said:
        if kind := kind_of.get(one.unit or ""):
            values[kind] = (*values.get(kind, ()), one.value)
    return Usual(
        {kind_of[unit]: unit for unit in units if unit in kind_of and unit not in ("deg", "points")},
        metric,
        values,
        in_points="points" in units,
    )


def in_unit(value: float, unit: str, to: str) -> float:
    """A value in another unit of the catalogue; raises `BadInput` where the two do not measure the same."""
    return convert(value, CATALOGUE_NAMES.get(unit, unit), CATALOGUE_NAMES.get(to, to))


def scaled(quantity: Quantity, fact: FactReading, message: Usual, place: Place = "") -> Scaled | None:
    """The value and its range in the fact's own unit, or None where it cannot be that fact."""
    unit = _unit(quantity, fact, message, place)
    if unit is None or (fact.units and unit not in fact.units):
        return None
    if unit == "points" and quantity.unit is None:
        quantity, unit = replace(quantity, value=1 + quantity.value / 1000, low=None, high=None), "SG"
    value = in_unit(quantity.value, unit, fact.unit)
    if not fact.between[0] <= value <= fact.between[1]:
        return None
    low, high = (None if end is None else in_unit(end, unit, fact.unit) for end in (quantity.low, quantity.high))
    return value, low, high


def _unit(quantity: Quantity, fact: FactReading, message: Usual, place: Place) -> str | None:
    """The unit said, or the one that is meant where only one is possible."""
    if quantity.unit == "points":
        return "SG"
    if quantity.unit not in (None, "deg"):
        return quantity.unit
    said = message.units.get(fact.kind)
    if said == "psi" and quantity.value < LOWEST_PSI and quantity.value != int(quantity.value):
        return None
    if fact.kind == "gravity":
        if said in EXTRACT or fact.unit in EXTRACT:
            return said if said in EXTRACT else fact.unit
        return "points" if message.in_points and POINTS[0] <= quantity.value <= POINTS[1] else None
    return said or _meant(quantity.value, fact, message.metric, place)


def _meant(value: float, fact: FactReading, metric: int, place: Place) -> str | None:
    if fact.kind == "temperature":
        return _degrees(value, fact, metric, place)
    if fact.kind == "volume":
        return "L" if metric > 0 else "gal"
    if fact.kind == "pressure":
        small = value < LOWEST_PSI and (metric == 0 or value != int(value))
        return "bar" if small or (metric > 0 and value < HIGHEST_BAR) else "psi"
    return fact.unit


def _degrees(value: float, fact: FactReading, metric: int, place: Place) -> str | None:
    """Fahrenheit or Celsius, by what is plausible and by the other units of the message."""
    low, high = fact.likely or fact.between
    if place == "hot":
        low, high = COOLEST_HOT, max(high, fact.between[1])
    celsius = low <= value <= (min(high, WARMEST_COLD) if place == "cold" else high)
    fahrenheit = low <= in_unit(value, "degF", "degC") <= high
    if celsius and fahrenheit:
        metric = metric or (1 if value < (COLD_FAHRENHEIT_FROM if place == "cold" else FAHRENHEIT_FROM) else -1)
        return "degC" if metric > 0 else "degF"
    return "degC" if celsius else "degF" if fahrenheit else None
