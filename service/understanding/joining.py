"""Figures that belong together: 1 lb 4 oz is one weight, 10 to 12 psi one reading, 1.050 → 1.020 two of them."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from calculators import BadInput
from calculators.units import convert
from calculators.units.names import UNITS
from service.understanding.model import Quantity
from service.understanding.numbers import Figure
from service.understanding.scales import CATALOGUE_NAMES

GRAVITIES_WRITTEN_WHOLE = range(1000, 1171)
LEAST_WHOLE = 980
GRAVITIES = (0.98, 1.2)
DECIMALS = re.compile(r"[.,]\s?(\d\d\d?)$")
LARGEST_GRAVITY_RANGE = 0.0081
PARTS = {"lb": ("oz", 16), "ft": ("inch", 12), "hour": ("min", 60), "week": ("day", 7), "kg": ("g", 1000)}
LEAST_PART = 0.5
"""Five feet of 3/16 is no length of five feet and a bit."""
AGAIN = re.compile(r"\s?(?:[(/=,]|\(?or|so|i\.?e\.?)\s?(?:about |around |ca\.? |= ?|~)?")
SAME_SHARE, SAME_DEGREES = 0.07, 1.2
"""How far two ways to say one figure may lie apart: a 19 L keg is one of 5 gallons."""
JOIN = re.compile(r"\s*(?:-|–|—|to|or|till|through|thru|->)\s*")
JOIN_BETWEEN = re.compile(r"\s*(?:and|&|n)\s*")
JOIN_PARTS = re.compile(r"\s*(?:and|,|n|&)?\s*")
BETWEEN = re.compile(r"\bbetween\s+(?:about\s+|around\s+)?$")
MOVED = re.compile(
    r"\b(?:from|went|goes|going|gone|fell|fallen|drop\w*|rose|risen|rais\w+|ramp\w*|climb\w*|crept|creep\w*|warm\w+"
    r"|cool\w+|heat\w*|mov\w+|bump\w*|up|down|jump\w*|turn\w*|chang\w+|swap\w*|slip\w*)"
    r"\s+(?:it\s+|the\s+temp\w*\s+)?(?:up\s+|down\s+)?(?:from\s+)?$"
)
ONWARD = re.compile(
    r"\s*(?:,?\s*(?:and\s+|then\s+)?(?:down|up|back|now)?\s*to|->|→|=>|>"
    r"|(?:\w+\s+)?(?:instead\s+of|rather\s+than|in\s+place\s+of|out\s+of|against|versus|vs\.?|not))"
    r"\s*(?:about\s+|around\s+|only\s+|the\s+|a\s+)?"
)


PINTS_OF_A_BATCH, IMPERIAL_PINT = 16, 4.54609 / 8
"""So many pints are a batch, as British kits count it, and imperial ones; fewer are glasses of beer (common practice).
In litres, an eighth of the imperial gallon (NIST Special Publication 811, Appendix B)."""
SAID_ONCE = frozenset({"degP", "degBx"})


T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Measured:
    """A figure with what was read as its unit. `implied` ones have no digit: "a week"."""

    figure: Figure
    unit: str | None
    factor: float
    start: int
    end: int
    implied: bool = False


def with_parts(lowered: str, raw: Sequence[Measured]) -> Iterator[Measured]:
    """Pounds and ounces, feet and inches, hours and minutes become one figure."""
    return _folded(raw, lambda held, one: _whole(lowered, held, one))


def _folded(found: Iterable[T], fold: Callable[[T, T], T | None]) -> Iterator[T]:
    """What was found, with each that continues the one before folded into it."""
    held: T | None = None
    for one in found:
        folded = None if held is None else fold(held, one)
        if held is not None and folded is None:
            yield held
        held = one if folded is None else folded
    if held is not None:
        yield held


def _whole(lowered: str, first: Measured, second: Measured) -> Measured | None:
    """The sum of two figures where the second continues the first: 1 lb 4 oz."""
    part, parts = PARTS.get(first.unit or "", ("", 1))
    gap = JOIN_PARTS.match(lowered, first.end)
    if second.unit != part or not LEAST_PART <= second.figure.value < parts or not gap or gap.end() != second.start:
        return None
    value = first.figure.value + second.figure.value / parts
    return replace(first, figure=replace(first.figure, value=value), end=second.end)


def joined(lowered: str, raw: Iterator[Measured], text: str) -> Iterator[Quantity]:
    """Quantities, each once, with two figures that bound one reading made into a range."""

    def once(held: Quantity, one: Quantity) -> Quantity | None:
        end = _said_again(lowered, held, one)
        return replace(held, end=end, said=text[held.start : end]) if end else None

    return _folded(_ranged(lowered, raw, text), once)


def _said_again(lowered: str, first: Quantity, second: Quantity) -> int:
    """Where the same figure in another unit ends: 19 L (5 gal), 10 °C/50 °F; 0 where it is another figure."""
    gap = lowered[first.end : second.start]
    one, other = (CATALOGUE_NAMES.get(said.unit or "", said.unit or "") for said in (first, second))
    if not AGAIN.fullmatch(gap) or one == other or one not in UNITS or other not in UNITS:
        return 0
    try:
        same = convert(second.value, other, one)
    except BadInput:
        return 0
    if abs(same - first.value) > max(SAME_SHARE * abs(first.value), SAME_DEGREES * (one in ("degC", "degF"))):
        return 0
    return second.end + (lowered[second.end : second.end + 1] == ")" and "(" in gap)


def _ranged(lowered: str, raw: Iterator[Measured], text: str) -> Iterator[Quantity]:
    pending: Measured | None = None
    for one in raw:
        if pending is None:
            pending = one
        elif reading := _range(lowered, pending, one, text):
            yield reading
            pending = None
        else:
            yield _single(_backward(lowered, pending, one), text)
            pending = _onward(lowered, pending, one)
    if pending:
        yield _single(pending, text)


def _onward(lowered: str, first: Measured, second: Measured) -> Measured:
    """ "From 16 plato down to 14": the second figure has the unit of the first."""
    gap = ONWARD.match(lowered, first.end)
    if second.unit is None and first.unit and gap and gap.end() == second.start:
        return replace(second, unit=first.unit, factor=first.factor)
    return second


def _backward(lowered: str, first: Measured, second: Measured) -> Measured:
    """ "16 → 6.2 P": the first figure has the unit of the second, where it is an extract or a percentage."""
    gap = ONWARD.match(lowered, first.end)
    if first.unit is None and second.unit in SAID_ONCE and gap and gap.end() == second.start:
        return replace(first, unit=second.unit, factor=second.factor)
    return first


def _single(raw: Measured, text: str) -> Quantity:
    value, unit = _settled(raw.figure, raw.unit, raw.factor, text[raw.figure.start : raw.figure.end])
    return Quantity(value, unit, None, None, raw.start, raw.end, text[raw.start : raw.end], raw.implied)


def _settled(figure: Figure, unit: str | None, factor: float, written_as: str) -> tuple[float, str | None]:
    """The value in its unit. Without a unit, 1050 and 1.050 and 1,050 are gravities."""
    if unit in ("ft", "m") and figure.thousands:
        return figure.thousands * factor, unit
    if unit == "pint" and figure.value >= PINTS_OF_A_BATCH:
        return figure.value * IMPERIAL_PINT, "L"
    if unit == "points":
        return 1 + figure.value / 1000, "points"
    if unit in ("SG", None):
        below_water = (unit == "SG" or figure.spoken) and LEAST_WHOLE <= figure.value < GRAVITIES_WRITTEN_WHOLE.start
        whole = figure.value in GRAVITIES_WRITTEN_WHOLE or below_water
        value = figure.value / 1000 if whole else figure.value
        spoken = figure.spoken and value != int(value)
        written = unit or whole or spoken or DECIMALS.search(written_as)
        if written and GRAVITIES[0] <= value <= GRAVITIES[1]:
            return value, "SG"
    return figure.value * factor, unit


def _range(lowered: str, low: Measured, high: Measured, text: str) -> Quantity | None:
    """Two figures as one reading, when nothing says that it moved from one to the other."""
    if low.implied or high.implied or not _same_unit(low, high) or not _bound(lowered, low, high):
        return None
    unit, factor = (high.unit, high.factor) if high.unit else (low.unit, low.factor)
    ends = [_settled(one.figure, unit, factor, text[one.figure.start : one.figure.end]) for one in (low, high)]
    (bottom, said), (top, also) = ends
    widest = bottom + LARGEST_GRAVITY_RANGE if said == "SG" else 3 * max(bottom, 1) if said is None else top
    if said != also or not bottom < top <= widest:
        return None
    return Quantity((bottom + top) / 2, said, bottom, top, low.start, high.end, text[low.start : high.end])


def _same_unit(low: Measured, high: Measured) -> bool:
    return not low.unit or not high.unit or (low.unit, low.factor) == (high.unit, high.factor)


def _bound(lowered: str, low: Measured, high: Measured) -> bool:
    """Whether the words join two figures into one reading, and do not say that it moved from one to the other."""
    before = lowered[max(0, low.start - 30) : low.start]
    gap = (JOIN_BETWEEN if BETWEEN.search(before) else JOIN).match(lowered, low.end)
    if not gap or gap.end() != high.start:
        return False
    return "-" in gap.group() or not MOVED.search(before)
