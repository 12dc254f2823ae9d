"""A figure and everything it could be: a score for each fact of its kind, and for being no fact at all."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from knowledge.reading import Cues, FactReading, Reading
from service.understanding.model import Quantity
from service.understanding.nearness import Around, Near, strongest, weight_anywhere, weight_of
from service.understanding.scales import Place, Scaled, Usual, scaled

BARE_NEEDS_CUE, BARE_WORD_NEEDS_CUE, BARE_VOLUME_NEEDS_CUE = 0.7, 1.6, 2.0
"""How plainly words must point to a fact for a figure without a unit, for "two", and for a volume."""
BARE_BASE, ALIKE = 0.4, 0.6
PLAIN_CUE = 2.35
"""How plainly words must point to a fact for a figure without a unit that is unlikely for it."""
SMALL_WORD = 13
LIKELY, IMPLIED = 0.5, 0.8
CUED, STANDS_ALONE, PLAIN = 0.8, 1.15, 2.5
COLD, HOT = "cold-place", "hot-place"
ALIKE_SIZE = 3.0
"""A bare volume is at most so many times larger or smaller than one that is said in full."""
SMALL_DEGREES, SMALL_DEGREES_NEED_CUE = 10.0, 1.35
HUNDREDTHS = re.compile(r"[.,]\d\d")
"""Nobody says a temperature to a hundredth of a degree."""
TENTHS, BROKEN_UNITS = re.compile(r"\d[.,]\d"), frozenset(("bar", "pH", "degP", "degBx", "vol"))
"""Where these are talked of, a bare figure with a decimal is one of theirs, not a temperature."""
NO_CUES = Cues()
NEEDS_TALK: Mapping[str, frozenset[str]] = {
    "pressure": frozenset({"pressure-word", "said-pressure"}),
    "volume": frozenset({"said-volume"}),
    "gravity": frozenset({"said-gravity"}),
    "acidity": frozenset({"acidity-talk"}),
    "time": frozenset({"boil-word"}),
    "carbonation": frozenset({"said-carbonation", "said-pressure", "carb-word", "priming-word"}),
}
"""A figure without a unit is a pressure only where pressures are talked of, a volume where another one is said."""


@dataclass(slots=True)
class Candidate:
    """One value of one kind, and its score for each fact it could be.

    `passed` is the score for being no fact, `unlikely` the facts that words point to but the value rules out,
    `cued` those that words point to.
    """

    quantity: Quantity
    passed: float
    values: dict[str, Scaled] = field(default_factory=dict)
    scores: dict[str, float] = field(default_factory=dict)
    unlikely: dict[str, float] = field(default_factory=dict)
    cued: set[str] = field(default_factory=set)

    def best(self) -> str:
        """The fact it fits best, or "" where none."""
        return max(self.scores, key=self.scores.__getitem__, default="")

    def facts(self) -> Iterator[tuple[str, float]]:
        """What it may be: its best fact, and others that words point to; none by mere elimination."""
        best = self.best()
        for name, score in self.scores.items():
            if name == best or name in self.cued or score >= STANDS_ALONE:
                yield name, score

    def take_in(self, other: Candidate) -> None:
        """The same figure said again: the evidence of both places."""
        for name, score in other.scores.items():
            if score > self.scores.get(name, float("-inf")):
                self.scores[name], self.values[name] = score, other.values[name]
        self.passed = min(self.passed, other.passed)
        self.cued |= other.cued


class Scorer:
    """Scores figures; built once from the knowledge."""

    def __init__(self, reading: Reading, kind_of: Mapping[str, str]):
        self._kind_of = kind_of
        self._facts: dict[str, dict[str, FactReading]] = {kind: {} for kind in reading.kinds}
        for name, fact in reading.facts.items():
            self._facts[fact.kind][name] = fact
        self._passed: Mapping[str, Cues] = {str(kind): cues for kind, cues in reading.passed.items()}
        self._hints: Mapping[str, frozenset[str]] = {
            str(kind): frozenset(groups) for kind, groups in reading.bare.items()
        }

    def candidates(
        self, quantity: Quantity, near: Sequence[Near], anywhere: Collection[str], message: Usual
    ) -> Iterator[tuple[str, Candidate]]:
        """What a figure could be, by kind: one kind where its unit was said, several where not."""
        around = strongest(near)
        if kind := self._kind_of.get(quantity.unit or ""):
            yield kind, self._candidate(quantity, kind, around, anywhere, message)
        elif quantity.unit is None:
            groups = around[0].keys() | around[1].keys()
            for bare_kind, hints in self._hints.items():
                hinted = bool(groups & hints) or bare_kind in message.units
                if hinted and (bare_kind not in NEEDS_TALK or not NEEDS_TALK[bare_kind].isdisjoint(anywhere)):
                    yield bare_kind, self._candidate(quantity, bare_kind, around, anywhere, message)

    def _candidate(
        self, quantity: Quantity, kind: str, around: Around, anywhere: Collection[str], message: Usual
    ) -> Candidate:
        made = Candidate(quantity, self._no_fact(quantity, kind, around, anywhere))
        place = _place(around, anywhere)
        for name, fact in self._facts[kind].items():
            cues = weight_of(fact, around)
            if not _possible(quantity, fact, cues, anywhere, message) or not _comparable(quantity, fact.kind, message):
                continue
            score = _base(quantity, fact, message) + cues + weight_anywhere(fact, anywhere) - quantity.implied * IMPLIED
            value = scaled(quantity, fact, message, place)
            if value is None:
                made.unlikely[name] = score
                continue
            likely = _within(value[0], fact.between if place == "hot" else fact.likely)
            if quantity.unit is None and cues < PLAIN_CUE and not likely:
                continue
            if fact.likely:
                score += LIKELY if likely else -LIKELY
            made.values[name], made.scores[name] = value, score
            if cues >= CUED:
                made.cued.add(name)
        return made

    def _no_fact(self, quantity: Quantity, kind: str, around: Around, anywhere: Collection[str]) -> float:
        """How much speaks for a price, a kettle's size, a range printed on a pack."""
        passed = self._passed.get(kind, NO_CUES)
        score = weight_of(passed, around) + weight_anywhere(passed, anywhere)
        return max(score, weight_of(self._passed.get("any", NO_CUES), around)) if quantity.unit is None else score


def _possible(quantity: Quantity, fact: FactReading, cues: float, anywhere: Collection[str], message: Usual) -> bool:
    if fact.needs and not any(group in anywhere for group in fact.needs):
        return False
    if quantity.unit is not None:
        return not fact.units or quantity.unit in fact.units
    if fact.kind == "temperature" and _said_in_decimals(quantity, message):
        return False
    return fact.bare and cues >= _cue_needed(quantity, fact.kind)


def _said_in_decimals(quantity: Quantity, message: Usual) -> bool:
    """Whether a bare figure is broken as no temperature is: to hundredths, or to tenths as another measure's here."""
    if HUNDREDTHS.search(quantity.said):
        return True
    return bool(TENTHS.search(quantity.said)) and not BROKEN_UNITS.isdisjoint(message.units.values())


def _place(around: Around, anywhere: Collection[str]) -> Place:
    """Whether a temperature is that of a fridge, or of wort that is still hot."""
    if HOT in anywhere:
        return "hot"
    return "cold" if COLD in around[0] or COLD in around[1] else ""


def _comparable(quantity: Quantity, kind: str, message: Usual) -> bool:
    """Whether a bare volume is of the size of one that was said: 25 and 21 litres, not 5 and 158."""
    if quantity.unit is not None or kind != "volume":
        return True
    return any(one / ALIKE_SIZE <= quantity.value <= one * ALIKE_SIZE for one in message.values.get(kind, ()))


def _cue_needed(quantity: Quantity, kind: str) -> float:
    if kind == "volume":
        return BARE_VOLUME_NEEDS_CUE
    if kind == "temperature" and 0 <= quantity.value < SMALL_DEGREES:
        return SMALL_DEGREES_NEED_CUE
    return BARE_WORD_NEEDS_CUE if quantity.said.isalpha() and quantity.value < SMALL_WORD else BARE_NEEDS_CUE


def _base(quantity: Quantity, fact: FactReading, message: Usual) -> float:
    return fact.base if quantity.unit is not None else min(fact.base, BARE_BASE) + ALIKE * (fact.kind in message.units)


def _within(value: float, likely: tuple[float, float] | None) -> bool:
    return likely is None or likely[0] <= value <= likely[1]


def merge(candidates: list[Candidate], new: Candidate) -> None:
    """Add a candidate, or join it to the same figure said before."""
    for held in candidates:
        if _equal(held.quantity, new.quantity) and not _two_facts(held, new):
            held.take_in(new)
            return
    candidates.append(new)


def _equal(one: Quantity, other: Quantity) -> bool:
    return one.unit is not None and (one.unit, one.value, one.low) == (other.unit, other.value, other.low)


def _two_facts(one: Candidate, other: Candidate) -> bool:
    """Whether the same figure is plainly two things: set at 1.0 bar, and 1.0 bar on the plate."""
    first, second = one.best(), other.best()
    return bool(first and second) and first != second and min(one.scores[first], other.scores[second]) >= PLAIN
