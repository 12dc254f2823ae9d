"""Figures with their units: "10 to 12 psi", "1 lb 4 oz", "between 60 and 65F", "half an hour", "6 1/4 gal".

A unit is one of our own short list of spellings (`units` of reading.yaml) or a near miss of a long one, never the
guess of a general parser: to that, "68F" is a capacitance. Which fact a quantity is, others decide.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from rapidfuzz.distance import OSA
from rapidfuzz.process import extractOne

from knowledge.reading import UnitWords
from service.understanding.model import Quantity
from service.understanding.numbers import Figure, find_figures

MOST_QUANTITIES = 40
GRAVITIES_WRITTEN_WHOLE = range(1000, 1171)
GRAVITIES = (0.98, 1.2)
DECIMALS = re.compile(r"[.,]\s?(\d\d\d?)$")
LARGEST_GRAVITY_RANGE = 0.0081
PARTS = {"lb": ("oz", 16), "ft": ("inch", 12), "hour": ("min", 60), "week": ("day", 7), "kg": ("g", 1000)}
IMPLIED = {"a": 1.0, "an": 1.0, "one": 1.0, "half": 0.5, "quarter": 0.25, "three quarters": 0.75, "1/2": 0.5}
NEVER_IMPLIED = frozenset({"points", "SG", "deg"})
LAST = r"(?<=for )(?:the )?(?:last|past|whole)|(?<=over )(?:the )?(?:last|past|whole)|(?<=in )the (?:last|past)"
AND_A_HALF = re.compile(r"\s*(?:and|n|&|\+)\s+(?:a\s+)?half\b|\s+1/2\b")
SPACE = re.compile(r"\s?-?\s?")
JOIN = re.compile(r"\s*(?:-|–|—|to|or|till|through|thru|->|/)\s*")
JOIN_BETWEEN = re.compile(r"\s*(?:and|&|n)\s*")
JOIN_PARTS = re.compile(r"\s*(?:and|,|n|&)?\s*")
BETWEEN = re.compile(r"\bbetween\s+(?:about\s+|around\s+)?$")
MOVED = re.compile(
    r"\b(?:from|went|goes|going|gone|fell|fallen|drop\w*|rose|risen|rais\w+|ramp\w*|climb\w*|crept|creep\w*|warm\w+|cool\w+|"
    r"heat\w*|mov\w+|bump\w*|up|down|jump\w*|turn\w*|chang\w+|swap\w*|slip\w*)\s+(?:it\s+|the\s+temp\w*\s+)?(?:up\s+|down\s+)?(?:from\s+)?$"
)
ORDINALS = {"second": 2.0, "third": 3.0, "fourth": 4.0, "fifth": 5.0, "sixth": 6.0, "seventh": 7.0, "eighth": 8.0, "ninth": 9.0, "tenth": 10.0}
ORDINAL_DAY = re.compile(rf"\b({'|'.join(ORDINALS)})\s+(day|week)\b")
NUMBERED = re.compile(r"\b(day|week)\s+(?:no\.?\s*)?$")
BORE = re.compile(r"\s*(?:in\b\.?|id\b|od\b|beer|line|hose|tub|bore|gas line|vinyl|pipe|barb)")
BORE_BEFORE = re.compile(r"\b(?:line|lines|hose|tubing|id|bore|diameter)\s+(?:is|are|was|of|=)?\s*$")
ONWARD = re.compile(r"\s*(?:,?\s*(?:and\s+|then\s+)?(?:down|up|back|now)?\s*(?:to)|->|→|=>|>)\s*(?:about\s+|around\s+|only\s+)?")
RATE = re.compile(
    r"(?:\bper|\bevery|\beach|\bonce|\btwice|\btimes|\bthe"
    r"|[\d½¼¾]\s*(?:oz|ounces?|tbsps?|tsps?|g|grams?|ml|cups?|spoons?|teaspoons?|tablespoons?|drops?|caps?|capfuls?))\s+$"
)
LASTING = re.compile(r"\b(?:for|over|nearly|almost|about|least|past|last)\s+$")


@dataclass(frozen=True, slots=True)
class _Raw:
    """A figure with what was read as its unit, before ranges are joined."""

    figure: Figure
    unit: str | None
    factor: float
    start: int
    end: int
    implied: bool = False


class QuantityReader:
    """Finds quantities; built once from the units of the knowledge."""

    def __init__(self, units: Mapping[str, UnitWords]):
        self._units: dict[str, tuple[str, float]] = {}
        for name, unit in units.items():
            for word in unit.words:
                self._units[_plain(word)] = (unit.same_as or name, unit.times)
        words = sorted(self._units, key=len, reverse=True)
        spelled = "|".join(r"\s?".join(map(re.escape, word.split())) for word in words)
        self._unit = re.compile(rf"(?:{spelled})(?![a-z])")
        self._long = [word for word in words if len(word) >= 4 and word.isalpha()]
        implied = "|".join([*sorted(IMPLIED, key=len, reverse=True), LAST])
        self._implied = re.compile(rf"(?<![\w/])(?P<much>{implied})(?:\s+of)?(?:\s+an?)?[\s-]+(?P<unit>{spelled})(?![a-z])")
        self._near = lru_cache(maxsize=5_000)(self._nearest)

    def find(self, text: str) -> tuple[Quantity, ...]:
        """The quantities of a message, in its order; no more than any person would write."""
        lowered = _plain(text)
        raw = list(self._raw(lowered))[:MOST_QUANTITIES]
        return tuple(_joined(lowered, _with_parts(lowered, raw), text))

    def _raw(self, lowered: str) -> Iterator[_Raw]:
        found = [self._measured(lowered, figure) for figure in find_figures(lowered)]
        found = [one for one in found if one.unit or one.figure.value != 1 or not one.figure.spoken]  # "one" is mostly a pronoun
        taken = [(one.start, one.end) for one in found if one.unit or not one.figure.spoken]
        implied = [one for one in (*self._implied_ones(lowered), *self._ordinal_ones(lowered)) if not any(a < one.end and one.start < b for a, b in taken)]
        spans = [(one.start, one.end) for one in implied]
        kept = [one for one in found if not any(a < one.end and one.start < b for a, b in spans)]
        return iter(sorted((*kept, *implied), key=lambda one: one.start))

    def _measured(self, lowered: str, figure: Figure) -> _Raw:
        end, figure = figure.end, figure
        if half := AND_A_HALF.match(lowered, end):
            figure, end = replace(figure, value=figure.value + 0.5), half.end()
        gap = SPACE.match(lowered, end)
        unit, unit_end = self._unit_at(lowered, gap.end() if gap else end)
        if unit is None:
            unit_said = _unit_around(lowered, figure, end)
            return _Raw(figure, unit_said, 1.0, figure.start, end)
        return _Raw(figure, unit[0], unit[1], figure.start, unit_end)

    def _unit_at(self, lowered: str, at: int) -> tuple[tuple[str, float] | None, int]:
        if match := self._unit.match(lowered, at):
            return self._units[" ".join(match.group().split())] if match.group() in self._units else self._squeezed(match), match.end()
        word = re.compile(r"[a-z]{4,12}").match(lowered, at)
        if word and (near := self._near(word.group())):
            return self._units[near], word.end()
        return None, at

    def _squeezed(self, match: re.Match[str]) -> tuple[str, float]:
        squeezed = "".join(match.group().split())
        return next(unit for word, unit in self._units.items() if "".join(word.split()) == squeezed)

    def _nearest(self, word: str) -> str | None:
        near = extractOne(word, self._long, scorer=OSA.distance, score_cutoff=1)
        return str(near[0]) if near and near[0][0] == word[0] and len(near[0]) >= 4 else None

    def _implied_ones(self, lowered: str) -> Iterator[_Raw]:
        """Half a pound, a week, an hour and a half: but not "a gallon" after "1 oz" or "twice a month"."""
        for match in self._implied.finditer(lowered):
            much = match["much"]
            if much in ("a", "an") and RATE.search(lowered, max(0, match.start() - 20), match.start()):
                continue
            value, end = IMPLIED.get(much, 1.0), match.end()
            if half := AND_A_HALF.match(lowered, end):
                value, end = value + 0.5, half.end()
            unit, factor = self._units.get(" ".join(match["unit"].split())) or self._squeezed_word(match["unit"])
            if unit in NEVER_IMPLIED:
                continue
            yield _Raw(Figure(value, match.start(), match.end()), unit, factor, match.start(), end, implied=much in IMPLIED and not LASTING.search(lowered, max(0, match.start() - 12), match.start()))

    def _ordinal_ones(self, lowered: str) -> Iterator[_Raw]:
        """The third day is three days."""
        for match in ORDINAL_DAY.finditer(lowered):
            yield _Raw(Figure(ORDINALS[match[1]], match.start(), match.end()), match[2], 1.0, match.start(), match.end())

    def _squeezed_word(self, word: str) -> tuple[str, float]:
        squeezed = "".join(word.split())
        return next(unit for spelled, unit in self._units.items() if "".join(spelled.split()) == squeezed)


def _unit_around(lowered: str, figure: Figure, end: int) -> str | None:
    """A unit that does not follow its figure: "day 9", a hose of 3/16, "3/8 in"."""
    if before := NUMBERED.search(lowered, max(0, figure.start - 12), figure.start):
        return before[1]
    part_of_an_inch = 0 < figure.value < 1 and "/" in lowered[figure.start : end]
    near = part_of_an_inch and (BORE.match(lowered, end) or BORE_BEFORE.search(lowered, max(0, figure.start - 16), figure.start))
    return "inch" if near else None


def _plain(text: str) -> str:
    """Lower case of the same length, one spelling for each sign, so that places stay true."""
    lowered = text.lower()
    if len(lowered) != len(text):
        lowered = "".join(letter.lower() if len(letter.lower()) == 1 else letter for letter in text)
    return lowered.translate(_SIGNS)


_SIGNS = str.maketrans(
    {"º": "°", "˚": "°", "′": "'", "’": "'", "‘": "'", "`": "'", "´": "'", "″": '"', "“": '"', "”": '"', "−": "-", "³": "3",
     "\u00a0": " ", "\u202f": " "}
)  # fmt: skip


def _with_parts(lowered: str, raw: Sequence[_Raw]) -> Iterator[_Raw]:
    """Pounds and ounces, feet and inches, hours and minutes become one figure."""
    held: _Raw | None = None
    for one in raw:
        if held and held.unit in PARTS and PARTS[held.unit][0] == one.unit and one.figure.value < PARTS[held.unit][1]:
            gap = JOIN_PARTS.match(lowered, held.end)
            if gap and gap.end() == one.start:
                whole = replace(held.figure, value=held.figure.value + one.figure.value / PARTS[held.unit][1])
                held = replace(held, figure=whole, end=one.end)
                continue
        if held:
            yield held
        held = one
    if held:
        yield held


def _joined(lowered: str, raw: Iterator[_Raw], text: str) -> Iterator[Quantity]:
    """Quantities, with two figures that bound one reading made into a range."""
    pending: _Raw | None = None
    for one in raw:
        if pending is None:
            pending = one
            continue
        if joined := _range(lowered, pending, one, text):
            yield joined
            pending = None
            continue
        yield _single(pending, text)
        pending = _onward(lowered, pending, one)
    if pending:
        yield _single(pending, text)


def _onward(lowered: str, first: _Raw, second: _Raw) -> _Raw:
    """ "From 16 plato down to 14": the second figure has the unit of the first."""
    gap = ONWARD.match(lowered, first.end)
    if second.unit is None and first.unit and gap and gap.end() == second.start:
        return replace(second, unit=first.unit, factor=first.factor)
    return second


def _single(raw: _Raw, text: str) -> Quantity:
    value, unit = _settled(raw.figure, raw.unit, raw.factor, text[raw.figure.start : raw.figure.end])
    return Quantity(value, unit, None, None, raw.start, raw.end, text[raw.start : raw.end], raw.implied)


def _settled(figure: Figure, unit: str | None, factor: float, written_as: str) -> tuple[float, str | None]:
    """The value in its unit. Without a unit, 1050 and 1.050 and 1,050 are gravities."""
    if unit in ("ft", "m") and figure.thousands:
        return figure.thousands * factor, unit
    if unit == "points":
        return 1 + figure.value / 1000, "points"
    if unit == "SG" or unit is None:
        value = figure.value / 1000 if figure.value in GRAVITIES_WRITTEN_WHOLE or unit == "SG" and figure.value > 900 else figure.value
        written = figure.spoken or figure.value in GRAVITIES_WRITTEN_WHOLE or DECIMALS.search(written_as)
        if GRAVITIES[0] <= value <= GRAVITIES[1] and (unit or written):
            return value, "SG"
    return figure.value * factor, unit


def _range(lowered: str, low: _Raw, high: _Raw, text: str) -> Quantity | None:
    """Two figures as one reading, when nothing says that it moved from one to the other."""
    if low.implied or high.implied or (low.unit and high.unit and (low.unit, low.factor) != (high.unit, high.factor)):
        return None
    before = lowered[max(0, low.start - 30) : low.start]
    between = BETWEEN.search(before)
    gap = (JOIN_BETWEEN if between else JOIN).match(lowered, low.end)
    if not gap or gap.end() != high.start or (MOVED.search(before) and "-" not in gap.group()):
        return None
    unit, factor = (high.unit, high.factor) if high.unit else (low.unit, low.factor)
    ends = [_settled(one.figure, unit, factor, text[one.figure.start : one.figure.end]) for one in (low, high)]
    (bottom, said), (top, also) = ends
    if said != also or not bottom < top or (said is None and top > 3 * max(bottom, 1)):
        return None
    if said == "SG" and top - bottom > LARGEST_GRAVITY_RANGE:
        return None
    return Quantity((bottom + top) / 2, said, bottom, top, low.start, high.end, text[low.start : high.end])
