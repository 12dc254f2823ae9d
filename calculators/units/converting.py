"""Factors from one unit of our list to another, derived once from the project's one unit registry."""

from __future__ import annotations

from functools import cache

import pint

from calculators.core import BadInput
from calculators.physics import sugar
from calculators.physics.carbon_dioxide import GRAMS_PER_VOLUME
from calculators.units.names import UNITS


def _read_definitions() -> pint.UnitRegistry[float]:
    """The registry, from the copy kept in the user's cache folder; read anew (0.2 s) where no folder can be written."""
    try:
        return pint.UnitRegistry(cache_folder=":auto:")
    except OSError:
        return pint.UnitRegistry()


registry = _read_definitions()

_SCALES: dict[tuple[str, str], tuple[float, float]] = {
    ("points", "SG"): (0.001, 1.0),
    ("SG", "points"): (1000.0, -1000.0),
    ("points_difference", "SG_difference"): (0.001, 0.0),
    ("SG_difference", "points_difference"): (1000.0, 0.0),
    ("degBx", "degP"): (1.0, 0.0),
    ("degP", "degBx"): (1.0, 0.0),
    ("g/L", "vol"): (1 / GRAMS_PER_VOLUME, 0.0),
    ("vol", "g/L"): (GRAMS_PER_VOLUME, 0.0),
    ("points gal/lb", "points L/kg"): (3.785411784 / 0.45359237, 0.0),
    ("points L/kg", "points gal/lb"): (0.45359237 / 3.785411784, 0.0),
}


def kind_of(unit: str) -> str:
    """What a unit of our list measures: "gauge pressure", "volume" …"""
    return UNITS[unit][0]


@cache
def factor(unit: str, to: str) -> tuple[float, float] | None:
    """(scale, offset) that turn a figure in ``unit`` into one in ``to``; None where no straight line does."""
    if unit == to:
        return (1.0, 0.0)
    if (unit, to) in _SCALES:
        return _SCALES[unit, to]
    (kind, name), (other_kind, other_name) = UNITS[unit], UNITS[to]
    if kind != other_kind or not name or not other_name:
        return None
    offset = _plain(registry.Quantity(0.0, name), other_name)
    return (_plain(registry.Quantity(1.0, name), other_name) - offset, offset)


def _plain(measured: pint.Quantity[float], unit: str) -> float:
    return float(measured.m_as(unit))


def convert(value: float, unit: str, to: str) -> float:
    """``value`` in another unit of our list; raises BadInput where the two do not measure the same.

    >>> round(convert(5, "imp_gal", "L"), 5)
    22.73045
    >>> round(convert(10, "delta_degF", "delta_degC"), 4)
    5.5556
    """
    line = factor(unit, to)
    if line is not None:
        return value * line[0] + line[1]
    if kind_of(unit) == "extract" and kind_of(to) == "gravity":
        return convert(sugar.specific_gravity(value), "SG", to)
    if kind_of(unit) == "gravity" and kind_of(to) == "extract":
        return sugar.extract(convert(value, unit, "SG"))
    raise BadInput("unit", f"{unit} measures {kind_of(unit)}, {to} measures {kind_of(to)}: give one of the same kind.")
