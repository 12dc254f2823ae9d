"""A figure the way the trade reads it: rounded, with its unit, in one system or in both."""

from __future__ import annotations

from typing import Literal

from calculators.core import System
from calculators.units.converting import convert

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
    "SG_difference": "",
    "pH": "",
    "1": "",
    "percent": "%",
    "degP": "°P",
    "degBx": "°Bx",
    "m3": "m³",
    "ft3": "ft³",
    "points_difference": "points",
    "billion": "billion",
}
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
    "m3": 1,
    "ft3": 0,
    "SG": 3,
    "SG_difference": 3,
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
}
_KEPT_ZEROS = frozenset({"SG", "SG_difference", "pH"})
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
    "m3": ("m3", "ft3"),
    "g/L": ("g/L", "oz/gal"),
    "mL/L": ("mL/L", "fl_oz/gal"),
    "mL/s": ("mL/s", "fl_oz/s"),
    "L/kg": ("L/kg", "qt/lb"),
    "bar/m": ("bar/m", "psi/ft"),
    "kg/h": ("kg/h", "lb/h"),
    "points L/kg": ("points L/kg", "points gal/lb"),
}
_SMALLER = {"L": ("mL", 1.0), "gal": ("fl_oz", 0.25), "kg": ("g", 1.0), "lb": ("oz", 1.0)}
_LARGER = {"g": ("kg", 1000.0), "oz": ("lb", 32.0), "mL": ("L", 1000.0)}


def show(value: float, unit: str) -> str:
    """``value`` with its unit, rounded as the trade reads it: "1.050", "3.3 °C", "14.6 psi".

    >>> show(0.82737, "bar"), show(1.05, "SG"), show(-0.02, "degC")
    ('0.83 bar', '1.050', '0 °C')
    """
    value, unit = _handy(value, unit)
    text = _rounded(value, unit)
    symbol = _SYMBOLS.get(unit, unit.replace("_", " "))
    return f"{text} {symbol}".rstrip()


def both_systems(value: float, unit: str, prefer: System = "metric") -> str:
    """``value`` in metric and US units, the preferred one first; once where both use the same unit.

    >>> both_systems(3.3333, "degC", "us")
    '38 °F (3.3 °C)'
    """
    if unit not in _OTHER_SYSTEM:
        return show(value, unit)
    metric, us = _OTHER_SYSTEM[unit]
    in_metric, in_us = show(convert(value, unit, metric), metric), show(convert(value, unit, us), us)
    return f"{in_us} ({in_metric})" if prefer == "us" else f"{in_metric} ({in_us})"


def in_system(value: float, unit: str, system: Literal["us", "metric"]) -> str:
    """``value`` in one system only: for a sentence that must stay short."""
    other = _OTHER_SYSTEM.get(unit, (unit, unit))[system == "us"]
    return show(convert(value, unit, other), other)


def _handy(value: float, unit: str) -> tuple[float, str]:
    """Millilitres for a third of a litre, kilograms for two thousand grams."""
    if unit in _SMALLER and 0 < abs(value) < _SMALLER[unit][1]:
        return convert(value, unit, _SMALLER[unit][0]), _SMALLER[unit][0]
    if unit in _LARGER and abs(value) >= _LARGER[unit][1]:
        return convert(value, unit, _LARGER[unit][0]), _LARGER[unit][0]
    return value, unit


def _rounded(value: float, unit: str) -> str:
    decimals = _DECIMALS.get(unit, 2) if abs(value) < 100 else 0
    if unit not in _KEPT_ZEROS and 0 < abs(value) < 10 and unit in ("g", "mL", "oz"):
        decimals += 1
    text = f"{value:.{decimals}f}"
    if decimals and unit not in _KEPT_ZEROS:
        text = text.rstrip("0").rstrip(".")
    return text[1:] if text.startswith("-") and not float(text) else text
