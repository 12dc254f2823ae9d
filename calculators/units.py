"""Units at the door: a person's "12 psi" becomes a plain float in the unit a calculator works in, and back again.

- One pint registry for the whole project (``registry``) supplies the factors; each pair is derived once and kept.
- ``bar``, ``kPa``, ``mbar`` and ``psi`` are GAUGE; absolute pressures carry ``_absolute`` in the unit's name and are
  never mixed up with gauge ones: that takes an atmosphere, see ``calculators.physics.atmosphere``.
- ``gal``, ``qt``, ``pt``, ``fl_oz`` are US; the imperial ones carry ``imp_``.
- A temperature difference is ``delta_degC`` or ``delta_degF``: no 32 offset.
- ``vol`` is the volume of CO2 gas at 0 °C and 101.325 kPa dissolved in a volume of beer; 1 vol = 1.9768 g/L.
"""

from __future__ import annotations

import math
import re
from functools import cache
from typing import Literal

import pint

from calculators.core import BadInput, System
from calculators.physics import sugar
from calculators.physics.carbon_dioxide import GRAMS_PER_VOLUME
from calculators.unit_names import MEANT, NEEDS_NO_UNIT, SPELT, UNITS

registry: pint.UnitRegistry[float] = pint.UnitRegistry(cache_folder=":auto:")

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
_NUMBER = re.compile(r"([-+]?)(?:(\d+) )?(?:(\d+)/(\d+)|(\d[\d.,]*|[.,]\d+)(e[-+]?\d{1,3})?)")


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
    raise BadInput("unit", f"{named(unit)} cannot be turned into {named(to)}. {_hint(unit, to)}")


def parse(text: str, unit: str, field: str = "value") -> float:
    """A figure as a person writes it, in ``unit``.

    "12 psi", "38°F", "1.050", "5 1/2 gal", "1,5 bar". A bare figure is taken where no second unit is in use (SG,
    pH, vol, percent). Raises BadInput, naming ``field``, with what is wrong and what to write.

    >>> round(parse("38 degF", "degC"), 3)
    3.333
    """
    value, said = split(text, unit, field)
    try:
        return convert(value, said, unit)
    except BadInput as error:
        raise BadInput(field, f"{text.strip()!r} {_is_not(said, unit)}") from error


def split(text: str, unit: str, field: str = "value") -> tuple[float, str]:
    """The figure and the unit (of our list) that a person wrote, where a figure in ``unit`` is expected."""
    tidy = " ".join(text[:80].replace("−", "-").replace("º", "°").replace("° ", "°").split()).casefold()
    match = _NUMBER.match(tidy)
    if match is None:
        raise BadInput(field, f"{text[:80].strip()!r} is not a figure. Write for example {example(unit)!r}.")
    value = _figure(match, decimal_comma=kind_of(unit) in ("gravity", "gravity difference"))
    if value is None or not math.isfinite(value):
        raise BadInput(field, f"{text[:80].strip()!r} is not a figure. Write for example {example(unit)!r}.")
    return value, _unit_said(tidy[match.end() :].strip(" .") if len(text) <= 80 else text, unit, field)


def has_unit(text: str) -> bool:
    """Whether a unit is written after the figure."""
    return any(letter.isalpha() or letter in "°%'\"#" for letter in text)


def _figure(match: re.Match[str], *, decimal_comma: bool) -> float | None:
    sign, whole, over, under, plain, exponent = match.groups()
    if over is not None:
        if int(under) == 0:
            return None
        value = int(over) / int(under)
    else:
        value_text = _decimal(plain, decimal_comma=decimal_comma)
        if value_text.count(".") > 1:
            return None
        value = float(value_text + (exponent or ""))
    return (-1 if sign == "-" else 1) * (value + int(whole or 0))


def _decimal(digits: str, *, decimal_comma: bool) -> str:
    """A comma groups thousands ("1,500 m") unless it can only be a decimal ("1,5", or any gravity "1,050")."""
    digits = digits.rstrip(".,")
    if not decimal_comma and re.fullmatch(r"\d{1,3}(,\d{3})+(\.\d+)?", digits):
        return digits.replace(",", "")
    return digits.replace(",", ".")


def _unit_said(spelling: str, unit: str, field: str) -> str:
    if not spelling:
        if unit in NEEDS_NO_UNIT:
            return unit
        raise BadInput(field, f"say the unit too, for example {example(unit)!r}.")
    said = SPELT.get(spelling)
    if said is None:
        raise BadInput(field, f"the unit {spelling[:40]!r} is not known. Write for example {example(unit)!r}.")
    return MEANT.get((said, kind_of(unit)), said)


def _is_not(said: str, unit: str) -> str:
    return f"is {_a(kind_of(said))}; {_a(kind_of(unit))} is needed. {_hint(said, unit)}"


def _hint(said: str, unit: str) -> str:
    if {kind_of(said), kind_of(unit)} == {"gauge pressure", "absolute pressure"}:
        return f"Write what the gauge reads (gauge, not absolute), for example {example(unit)!r}."
    return f"Write for example {example(unit)!r}."


def _a(kind: str) -> str:
    return f"an {kind}" if kind[0] in "aeiou" else f"a {kind}"


_EXAMPLES = {
    "degC": "20 degC",
    "bar": "0.8 bar",
    "SG": "1.050",
    "L": "20 L",
    "m": "300 m",
    "degP": "12 degP",
    "degBx": "12 degBx",
    "vol": "2.5 vol",
    "g": "120 g",
    "kg": "5 kg",
    "percent": "75 percent",
}


def example(unit: str) -> str:
    """A figure in ``unit`` to show in a message."""
    return _EXAMPLES.get(unit, f"2 {unit}")


# ---- showing a figure the way the trade reads it ---------------------------------------------------------------

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
_SMALLER = {"L": ("mL", 0.1), "gal": ("fl_oz", 0.1), "kg": ("g", 0.1), "lb": ("oz", 0.1)}
_LARGER = {"g": ("kg", 1000.0), "oz": ("lb", 32.0), "mL": ("L", 1000.0)}


def named(unit: str) -> str:
    """A unit as it is printed: "°C", "US gal", "kPa absolute"."""
    return _SYMBOLS.get(unit, unit.replace("_", " ")) or unit.replace("_", " ")


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
    """Millilitres for a twentieth of a litre, kilograms for two thousand grams."""
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
