"""Figures with their units: "10 to 12 psi", "1 lb 4 oz", "between 60 and 65F", "half an hour", "6 1/4 gal".

A unit is one of our own short list of spellings (`units` of reading.yaml) or a near miss of a long one, never the
guess of a general parser: to that, "68F" is a capacitance. Which fact a quantity is, others decide.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from functools import lru_cache

from rapidfuzz.distance import OSA
from rapidfuzz.process import extractOne

from knowledge.reading import UnitWords
from service.understanding.joining import Measured, joined, with_parts
from service.understanding.model import Quantity
from service.understanding.numbers import Figure, find_figures

MOST_QUANTITIES = 40
SHORTEST_MISSPELT = 5
MISSPELT = re.compile(r"[a-z]{4,12}")
IMPLIED = {"a": 1.0, "an": 1.0, "one": 1.0, "half": 0.5, "quarter": 0.25, "three quarters": 0.75, "1/2": 0.5}
ARTICLES = frozenset({"a", "an", "one"})
NO_UNITS = frozenset(
    ("weeps", "later", "letter", "letters", "mouth", "mouths", "house", "hoses", "grains", "liver", "paints", "prints")
)
"""Words one letter away from a unit that mean something else."""
NEVER_IMPLIED = frozenset({"points", "SG", "deg"})
GOOD = r"(?:good|whole|full|solid|entire|further)"
LAST = r"(?<=for )(?:the )?(?:last|past|whole)|(?<=over )(?:the )?(?:last|past|whole)|(?<=in )the (?:last|past)"
AND_A_PART = re.compile(
    r"\s*(?:and|n|&|\+)\s+(?P<part>(?:a\s+)?half|(?:a\s+)?quarter|three[\s-]quarters?|(?:a|one)\s+third|two[\s-]thirds)\b"
    r"|\s+1/2\b"
)
PARTS_SAID = {"half": 0.5, "quarter": 0.25, "quarters": 0.75, "third": 1 / 3, "thirds": 2 / 3}
QUOTES = frozenset("'\"")
QUOTED = re.compile(r"(?<!\w)(?:'[^']*|\"[^\"]*)$")
"""Signs of feet and inches, unless a quotation was opened before the figure."""
WEIGHT, PRESSURE = ("lb", 1.0), ("psi", 1.0)
PRESSED = re.compile(
    r"\b(?:spund\w*|valve|gauge|guage|dial|needle|clock|prv|regulator|reg|pressure)\b"
    r"(?:\s+(?!of\b|for\b|from\b|with\b)[a-z']+){0,7}\s+$"
    r"|\b(?:at|take|takes|hold|holds|stand|stands)\s+(?:about\s+|around\s+|only\s+)?$"
)
WEIGHED = re.compile(r"\s+(?:of\s+(?!pressure|gas|co2)|\w*\s?(?:malt|grain|sugar|hops?|dme|bottle|cylinder|tank)\b)")
"""Pounds said of a gauge or a valve, or at which something stands, are a pressure, unless it is pounds of something."""
SPACE = re.compile(r"(?:\s?-?ish\b)?\s?-?\s?")
OF_A = re.compile(r"\s+of\s+an?\s+")
"""0.7 of a bar, three quarters of an inch."""
_ORDINAL_WORDS = ("second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")
ORDINALS = {word: float(number) for number, word in enumerate(_ORDINAL_WORDS, start=2)}
ORDINAL_DAY = re.compile(rf"\b(?:({'|'.join(ORDINALS)})|(\d{{1,2}})(?:st|nd|rd|th))\s+(day|week|month)\b")
NUMBERED = re.compile(r"\b(?:(day|week|hour|hr)\s*(?:no\.?\s*|number\s+)?|(d))$")
PART_SAID = re.compile(r"/|sixteenths|eighths|quarter")
BORE = re.compile(r"\s*(?:in\b\.?|id\b|od\b|beer|line|hose|tub|bore|gas line|vinyl|pipe|barb)")
BORE_BEFORE = re.compile(
    r"\b(?:(?:line|lines|hose|tubing|id|bore|diameter)\s+(?:is|are|was|of|=)?|(?:ft|feet|foot|metres?|meters?)\s+of)\s*$"
)
RATE = re.compile(
    r"(?:\bper|\bevery|\beach|\bonce|\btwice|\btimes|\bthe"
    r"|[\d½¼¾]\s*(?:oz|ounces?|tbsps?|tsps?|g|grams?|ml|cups?|spoons?|teaspoons?|tablespoons?|drops?|caps?|capfuls?))\s+$"
)
ELAPSED = re.compile(r"\s+(?:on|later|ago)\b(?!\s+(?:the|a|my)\b)")
LASTING = re.compile(r"\b(?:for|over|nearly|almost|about|least|past|last)\s+$")


class QuantityReader:
    """Finds quantities; built once from the units of the knowledge."""

    def __init__(self, units: Mapping[str, UnitWords]):
        self._units = {
            _squeezed(_plain(word)): (unit.same_as or name, unit.times)
            for name, unit in units.items()
            for word in unit.words
        }
        words = sorted({_plain(word) for unit in units.values() for word in unit.words}, key=len, reverse=True)
        spelled = "|".join(r"\s?".join(map(re.escape, word.split())) for word in words)
        self._unit = re.compile(rf"(?:{spelled})(?![a-z])")
        implied = "|".join([*sorted(IMPLIED, key=len, reverse=True), LAST])
        self._implied = re.compile(
            rf"(?<![\w/])(?:(?P<much>{implied})(?:\s+of)?(?:\s+an?)?(?:\s+(?P<good>{GOOD}))?[\s-]+(?P<unit>{spelled})(?![a-z])"
            rf"|(?P<whole>{spelled})(?=\s+and\s+a\s+half\b))"
        )
        self._long = [word for word in words if len(word) >= SHORTEST_MISSPELT and word.isalpha()]
        self._near = lru_cache(maxsize=5_000)(self._nearest)

    def find(self, text: str) -> tuple[Quantity, ...]:
        """The quantities of a message, in its order; no more than any person would write."""
        lowered = _plain(text)
        raw = list(self._raw(lowered))[:MOST_QUANTITIES]
        return tuple(joined(lowered, with_parts(lowered, raw), text))

    def _raw(self, lowered: str) -> list[Measured]:
        written = list(_apart(self._measured(lowered, figure) for figure in find_figures(lowered)))
        taken = [(one.start, one.end) for one in written if one.unit or not one.figure.spoken]
        implied = [*self._implied_ones(lowered), *_ordinal_ones(lowered)]
        implied = [one for one in implied if not any(start < one.end and one.start < end for start, end in taken)]
        spans = [(one.start, one.end) for one in implied]
        kept = [
            one for one in written if not _pronoun(one) and not any(s < one.end and one.start < e for s, e in spans)
        ]
        return sorted((*kept, *implied), key=lambda one: one.start)

    def _measured(self, lowered: str, figure: Figure) -> Measured:
        end = figure.end
        more, end = _and_a_part(lowered, end)
        figure = replace(figure, value=figure.value + more)
        gap = (figure.value < 1 and OF_A.match(lowered, end)) or SPACE.match(lowered, end)
        unit, unit_end = self._unit_at(lowered, gap.end() if gap else end)
        if unit is None or (lowered[unit_end - 1] in QUOTES and QUOTED.search(lowered, 0, figure.start)):
            return Measured(figure, _unit_around(lowered, figure, end), 1.0, figure.start, end)
        if unit == WEIGHT and PRESSED.search(lowered, max(0, figure.start - 40), figure.start):
            unit = unit if WEIGHED.match(lowered, unit_end) else PRESSURE
        return Measured(figure, *unit, figure.start, unit_end)

    def _unit_at(self, lowered: str, at: int) -> tuple[tuple[str, float] | None, int]:
        if match := self._unit.match(lowered, at):
            return self._units[_squeezed(match.group())], match.end()
        word = MISSPELT.match(lowered, at)
        if word and word.group() not in NO_UNITS and (near := self._near(word.group())):
            return self._units[near], word.end()
        return None, at

    def _nearest(self, word: str) -> str | None:
        near = extractOne(word, self._long, scorer=OSA.distance, score_cutoff=1)
        return str(near[0]) if near and near[0][0] == word[0] else None

    def _implied_ones(self, lowered: str) -> Iterator[Measured]:
        """Half a pound, a week, an hour and a half: but not "a gallon" after "1 oz" or "twice a month"."""
        for match in self._implied.finditer(lowered):
            much, start = match["much"] or "a", match.start()
            unit, factor = self._units[_squeezed(match["unit"] or match["whole"])]
            if unit in NEVER_IMPLIED or (much in ("a", "an") and RATE.search(lowered, max(0, start - 20), start)):
                continue
            more, end = _and_a_part(lowered, match.end())
            value = IMPLIED.get(much, 1.0) + more
            vague = (
                much in ARTICLES
                and not match["good"]
                and not more
                and not LASTING.search(lowered, max(0, start - 12), start)
                and not ELAPSED.match(lowered, end)
            )
            yield Measured(Figure(value, start, match.end()), unit, factor, start, end, implied=vague)


def _and_a_part(lowered: str, at: int) -> tuple[float, int]:
    """What "and a half", "and three quarters" add to the figure before, and where they end."""
    found = AND_A_PART.match(lowered, at)
    if not found:
        return 0.0, at
    words = (found["part"] or "half").replace("-", " ").split()
    return (0.75 if words[0] == "three" else PARTS_SAID[words[-1]]), found.end()


def _squeezed(word: str) -> str:
    return "".join(word.split())


def _apart(found: Iterable[Measured]) -> Iterator[Measured]:
    """Figures without those inside the one before: the three of "four and three quarter gallons"."""
    end = 0
    for one in found:
        if one.start >= end:
            yield one
            end = one.end


def _pronoun(one: Measured) -> bool:
    """A bare "one" is mostly not a figure: "the other one", "one says"; nor is "oh", which is a sigh."""
    figure = one.figure
    sigh = figure.value == 0 and figure.end - figure.start == len("oh")
    return one.unit is None and figure.spoken and (figure.value == 1 or sigh)


def _ordinal_ones(lowered: str) -> Iterator[Measured]:
    """The third day is three days."""
    for match in ORDINAL_DAY.finditer(lowered):
        value = ORDINALS[match[1]] if match[1] else float(match[2])
        yield Measured(Figure(value, *match.span()), match[3], 1.0, *match.span())


def _unit_around(lowered: str, figure: Figure, end: int) -> str | None:
    """A unit that does not follow its figure: "day 9", a hose of 3/16, "3/8 in"."""
    if before := NUMBERED.search(lowered, max(0, figure.start - 12), figure.start):
        return {"hr": "hour", None: "day"}.get(before[1], before[1])
    part_of_an_inch = 0 < figure.value < 1 and PART_SAID.search(lowered, figure.start, end)
    near = part_of_an_inch and (
        lowered[figure.start : end].endswith(("/16", "sixteenths"))
        or BORE.match(lowered, end)
        or BORE_BEFORE.search(lowered, max(0, figure.start - 16), figure.start)
    )
    return "inch" if near else None


def _plain(text: str) -> str:
    """Lower case of the same length, one spelling for each sign, so that places stay true."""
    lowered = text.lower()
    if len(lowered) != len(text):
        lowered = "".join(letter.lower() if len(letter.lower()) == 1 else letter for letter in text)
    return lowered.translate(_SIGNS)


_SIGNS = str.maketrans("º˚′’‘`´″“”−³\u00a0\u202f", "°°'''''\"\"\"-3  ")
