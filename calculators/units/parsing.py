"""A figure with its unit, as a person writes it."""

from __future__ import annotations

import math
import re

from calculators.core import BadInput
from calculators.units.converting import convert, kind_of
from calculators.units.names import MEANT, NEEDS_NO_UNIT, SPELT

_NUMBER = re.compile(r"([-+]?)(?:(\d+) )?(?:(\d+)/(\d+)|(\d[\d.,]*|[.,]\d+)(e[-+]?\d{1,3})?)")


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
    if "," not in digits:
        return digits
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
