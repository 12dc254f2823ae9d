"""Values in the unit of their fact, and the unit that is meant where none was said."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TypeAlias

from calculators.units import convert
from knowledge.reading import FactReading
from service.understanding.model import Quantity

CATALOGUE_NAMES = {"inch": "in", "hour": "h", "day": "d"}
EXTRACT = ("degP", "degBx")
US_UNITS = frozenset({"degF", "psi", "gal", "qt", "oz", "lb", "ft", "inch", "ft3"})
METRIC_UNITS = frozenset({"degC", "bar", "kPa", "L", "g", "kg", "m", "mm", "m3"})
FAHRENHEIT_FROM = 33.0
"""Where both scales are plausible and nothing else tells, a figure from here on is in Fahrenheit."""
WARMEST_COLD = 18.0
"""No fridge and no cold crash is warmer than this, in °C."""
HIGHEST_BAR = 8.0
"""A bare pressure in a metric message is in bar up to here."""

Scaled: TypeAlias = tuple[float, float | None, float | None]


@dataclass(frozen=True, slots=True)
class Usual:
    """The measures of a message: its unit for each kind, and above 0 where it is metric, below where it is US."""

    units: Mapping[str, str]
    metric: int


def usual(quantities: Iterable[Quantity], kind_of: Mapping[str, str]) -> Usual:
    """The measures a message uses."""
    units = [quantity.unit for quantity in quantities if quantity.unit]
    metric = sum(unit in METRIC_UNITS for unit in units) - sum(unit in US_UNITS for unit in units)
    return Usual({kind_of[unit]: unit for unit in units if unit in kind_of and unit not in ("deg", "points")}, metric)


def in_unit(value: float, unit: str, to: str) -> float:
    """A value in another unit of the catalogue; raises `BadInput` where the two do not measure the same."""
    return convert(value, CATALOGUE_NAMES.get(unit, unit), CATALOGUE_NAMES.get(to, to))


def scaled(quantity: Quantity, fact: FactReading, message: Usual, *, cold: bool) -> Scaled | None:
    """The value and its range in the fact's own unit, or None where it cannot be that fact."""
    unit = _unit(quantity, fact, message, cold=cold)
    if unit is None:
        return None
    value = in_unit(quantity.value, unit, fact.unit)
    if not fact.between[0] <= value <= fact.between[1]:
        return None
    low, high = (None if end is None else in_unit(end, unit, fact.unit) for end in (quantity.low, quantity.high))
    return value, low, high


def _unit(quantity: Quantity, fact: FactReading, message: Usual, *, cold: bool) -> str | None:
    """The unit said, or the one that is meant where only one is possible."""
    if quantity.unit == "points":
        return "SG"
    if quantity.unit not in (None, "deg"):
        return quantity.unit
    said = message.units.get(fact.kind)
    if fact.kind == "gravity":
        return said if said in EXTRACT else fact.unit if fact.unit in EXTRACT else None
    return said or _meant(quantity.value, fact, message.metric, cold=cold)


def _meant(value: float, fact: FactReading, metric: int, *, cold: bool) -> str | None:
    if fact.kind == "temperature":
        return _degrees(value, fact, metric, cold=cold)
    if fact.kind == "volume":
        return "L" if metric > 0 else "gal"
    if fact.kind == "pressure":
        return "bar" if metric > 0 and value < HIGHEST_BAR else "psi"
    return fact.unit


def _degrees(value: float, fact: FactReading, metric: int, *, cold: bool) -> str | None:
    """Fahrenheit or Celsius, by what is plausible and by the other units of the message."""
    low, high = fact.likely or fact.between
    celsius = low <= value <= (min(high, WARMEST_COLD) if cold else high)
    fahrenheit = low <= in_unit(value, "degF", "degC") <= high
    if celsius and fahrenheit:
        metric = metric or (1 if value < FAHRENHEIT_FROM else -1)
        return "degC" if metric > 0 else "degF"
    return "degC" if celsius else "degF" if fahrenheit else None
