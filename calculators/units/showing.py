"""A figure the way the trade reads it: rounded, with its unit, in one system or in both."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cache
from typing import NamedTuple

from calculators.core import System
from calculators.units.converting import factor

_SYMBOLS = {
    "degC": "°C",
    "degF": "°F",
    "delta_degC": "°C",
    "delta_degF": "°F",
    "gal": "US gal",
    "fl_oz": "US fl oz",
    "qt": "US qt",
    "pt": "US pt",
    "SG": "",
    "SG_difference": "points",
    "pH": "",
    "1": "",
    "percent": "%",
    "degP": "°P",
    "degBx": "°Bx",
    "m3": "m³",
    "ft3": "ft³",
    "mm2": "mm²",
    "fl_oz/gal": "US fl oz/US gal",
    "oz/gal": "oz/US gal",
    "1/h": "per hour",
    "in2": "in²",
    "points_difference": "points",
    "vol": "volumes",
    "d": "days",
    "h": "hours",
    "min": "minutes",
}
_ONE = {"points": "point", "volumes": "volume", "days": "day", "hours": "hour", "minutes": "minute"}
_DECIMALS = {
    "degC": 1,
    "degF": 0,
    "delta_degC": 1,
    "delta_degF": 0,
    "bar": 2,
    "psi": 1,
    "kPa_absolute": 1,
    "psi_absolute": 1,
    "bar_absolute": 2,
    "L": 1,
    "gal": 2,
    "qt": 1,
    "mL": 0,
    "fl_oz": 1,
    "g": 0,
    "oz": 1,
    "kg": 2,
    "lb": 2,
    "m": 1,
    "ft": 1,
    "mm": 1,
    "in": 3,
    "mm2": 3,
    "in2": 6,
    "lb/h": 3,
    "m3": 1,
    "ft3": 0,
    "SG": 3,
    "points_difference": 1,
    "degP": 1,
    "degBx": 1,
    "vol": 2,
    "percent": 1,
    "g/L": 1,
    "oz/gal": 2,
    "pH": 2,
    "d": 1,
    "h": 1,
    "min": 0,
    "ppm": 0,
    "IBU": 0,
    "billion": 0,
}
_FINER_BELOW = {"g": 10.0, "mL": 10.0, "oz": 3.0}
_KEPT_ZEROS = frozenset({"SG", "pH"})
_OTHER_SYSTEM: dict[str, tuple[str, str]] = {
    "degC": ("degC", "degF"),
    "delta_degC": ("delta_degC", "delta_degF"),
    "bar": ("bar", "psi"),
    "kPa_absolute": ("kPa_absolute", "psi_absolute"),
    "bar_absolute": ("bar_absolute", "psi_absolute"),
    "L": ("L", "gal"),
    "mL": ("mL", "fl_oz"),
    "g": ("g", "oz"),
    "kg": ("kg", "lb"),
    "m": ("m", "ft"),
    "mm": ("mm", "in"),
    "mm2": ("mm2", "in2"),
    "m3": ("m3", "ft3"),
    "g/L": ("g/L", "oz/gal"),
    "mL/L": ("mL/L", "fl_oz/gal"),
    "mL/s": ("mL/s", "fl_oz/s"),
    "L/kg": ("L/kg", "qt/lb"),
    "bar/m": ("bar/m", "psi/ft"),
    "kg/h": ("kg/h", "lb/h"),
    "points L/kg": ("points L/kg", "points gal/lb"),
}
_OTHER: dict[System, System] = {"metric": "us", "us": "metric"}
_SMALLER = {
    "SG_difference": ("points_difference", math.inf),
    "L": ("mL", 1.0),
    "gal": ("qt", 1.0),
    "qt": ("fl_oz", 1.0),
    "kg": ("g", 1.0),
    "lb": ("oz", 1.0),
    "kg/h": ("g/h", 1.0),
}
_LARGER = {"g": ("kg", 1000.0), "oz": ("lb", 32.0), "mL": ("L", 1000.0)}


class _Style(NamedTuple):
    """How figures in one unit are written; the three forms are of the % operator, the quickest way to write one."""

    symbol: str
    one: str  # the symbol after exactly one
    usual: str
    finer: str  # for figures ...
    finer_below: float  # ... below that
    zeros_kept: bool
    smaller: str  # the unit for figures ...
    smaller_below: float  # ... below that many
    larger: str  # the unit for figures ...
    larger_from: float  # ... from that many


@cache
def _style(unit: str) -> _Style:
    symbol, decimals = _SYMBOLS.get(unit, unit.replace("_", " ")), _DECIMALS.get(unit, 2)
    return _Style(
        f" {symbol}" if symbol else "",
        f" {_ONE.get(symbol, symbol)}" if symbol else "",
        f"%.{decimals}f",
        f"%.{decimals + 1}f",
        _FINER_BELOW.get(unit, 0.0),
        unit in _KEPT_ZEROS,
        *_SMALLER.get(unit, ("", 0.0)),
        *_LARGER.get(unit, ("", math.inf)),
    )


def show(value: float, unit: str, doubt: float = 0.0) -> str:
    """``value`` with its unit, rounded as the trade reads it: "1.050", "3.3 °C", "14.6 psi", "4 days", "6 points".

    Millilitres for a third of a litre, kilograms for two thousand grams. With a ``doubt`` (plus or minus, in the same
    unit) no digit is shown that is finer than its first one, and never fewer than two; a gravity or pH keeps its own.

    >>> show(0.82737, "bar"), show(1.05, "SG"), show(-0.02, "degC"), show(0.33, "L")
    ('0.83 bar', '1.050', '0 °C', '330 mL')
    >>> show(121.4, "psi"), show(121.4, "psi", doubt=13.0), show(0.006, "SG_difference"), show(1.0, "d")
    ('121 psi', '120 psi', '6 points', '1 day')
    """
    return _writer(unit, unit)(value, doubt)


@cache
def _writer(unit: str, to: str) -> Callable[[float, float], str]:
    """Writes a figure in ``unit`` (and its doubt) as one in ``to``; all that hangs on the units alone is found once."""
    scale, offset = _line(unit, to)
    symbol, one, usual, finer, finer_below, zeros_kept, smaller, smaller_below, larger, larger_from = _style(to)

    def write(value: float, doubt: float) -> str:
        value = value * scale + offset
        size = abs(value)
        if size < smaller_below and size:
            return _writer(to, smaller)(value, doubt * scale)
        if size >= larger_from:
            return _writer(to, larger)(value, doubt * scale)
        if doubt and size and not zeros_kept:
            value = round(value, _place(doubt * scale, size))
        text = ("%.0f" if size >= 100.0 else finer if size < finer_below else usual) % value
        if not zeros_kept and "." in text:
            text = text.rstrip("0").rstrip(".")
        return (text[1:] if text[0] == "-" and not float(text) else text) + (one if text == "1" else symbol)

    return write


def _place(doubt: float, size: float) -> int:
    """Decimals that a doubt leaves standing: down to its own first digit, and to the second one of the figure."""
    return max(-math.floor(math.log10(doubt)), 1 - math.floor(math.log10(size)))


def figure(value: float, unit: str) -> str:
    """The figure alone, for a column whose head tells the unit: always with the unit's decimals, never a larger unit.

    >>> figure(0.3, "L"), figure(2.0, "bar")
    ('0.3', '2.00')
    """
    text = _style(unit).usual % value
    return text[1:] if text[0] == "-" and not float(text) else text


@cache
def _views(unit: str) -> dict[System, Callable[[float, float], str]]:
    """What writes a figure in ``unit`` in each system."""
    metric, us = _OTHER_SYSTEM.get(unit, (unit, unit))
    return {"metric": _writer(unit, metric), "us": _writer(unit, us)}


def _line(unit: str, to: str) -> tuple[float, float]:
    line = factor(unit, to)
    assert line is not None, f"{unit} and {to} are shown side by side"
    return line


def both_systems(value: float, unit: str, prefer: System = "metric", doubt: float = 0.0, said: bool = False) -> str:
    """``value`` in metric and US units, the preferred one first; once where both use the same unit.

    A ``doubt`` in the same unit rounds both, as `show` does; only the second where the first is as it was ``said``.

    >>> both_systems(3.3333, "degC", "us"), both_systems(0.8, "bar", doubt=0.07, said=True)
    ('38 °F (3.3 °C)', '0.8 bar (12 psi)')
    """
    views, other = _views(unit), _OTHER[prefer]
    first = views[prefer](value, 0.0 if said else doubt)
    return f"{first} ({views[other](value, doubt)})" if unit in _OTHER_SYSTEM else first


def in_system(value: float, unit: str, system: System, doubt: float = 0.0) -> str:
    """``value`` in one system only: for a sentence that must stay short."""
    return _views(unit)[system](value, doubt)


def unit_in(unit: str, system: System) -> str:
    """The unit in which that system shows a figure given in ``unit``.

    >>> unit_in("bar", "us"), unit_in("SG", "us")
    ('psi', 'SG')
    """
    metric, us = _OTHER_SYSTEM.get(unit, (unit, unit))
    return us if system == "us" else metric


def symbol(unit: str) -> str:
    """How a unit is written after its figure; nothing where it is not written at all.

    >>> symbol("degC"), symbol("SG")
    ('°C', '')
    """
    return _style(unit).symbol.strip()
