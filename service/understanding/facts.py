"""Which fact each quantity is: by what it can be, the words around it, and what else is said.

Every quantity is scored against every fact of its kind, and against being no fact at all (a price, a kettle's size,
the range printed on the yeast). The reading with the highest sum wins, each fact being said once. Where two facts
explain a figure equally well, or none can be right, the figure is doubted and asked about, never guessed.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence, Set
from dataclasses import replace
from itertools import pairwise
from typing import TypeAlias

from knowledge.reading import Reading
from service.understanding.candidates import COLD, Candidate, Scorer, merge
from service.understanding.model import Doubt, Fact, Quantity, Reason
from service.understanding.nearness import Near, Nearness
from service.understanding.scales import in_unit, usual
from service.understanding.terms import Hit, Word

NEEDED = 1.0
"""The score below which a figure is no fact."""
TOO_CLOSE, PLAINLY_SAID = 0.05, 1.5
STILL_WORT = 0.6
"""A gravity above this share of the planned points has not fermented."""
AFTER_BOIL = frozenset({"start-gravity", "after-boil", "started"})
APART = 0.012
MOST_OF_A_KIND = 9
LEAST_HOURS = 12
TAKEN_BACK, CORRECTION_REACH = "taken-back", 5
ANOTHER_BATCH, BACK_TO_THIS = "another-batch", "back-to-this"
OTHER_CRAFT, BEER = "craft-word", "brewing-word"
"""Figures of wine, bread or tyres are none of a batch of beer."""
DESCRIBING = "describing"
GRAIN, HEAVY_AS_MALT = "said-grain", "heavy-as-malt"
"""The groups that stand for a weight of malt: in the message, and just here."""
HEAVY = 1.5
"""Kg from which on a weight is malt (common practice)."""
NOT_GRAIN = frozenset({"cylinder", "sugar-word"})
"""What else may be so heavy."""
GAS_TALK = frozenset({"pressure-word", "said-pressure", "bottled-word", "keg-noun", *NOT_GRAIN})
"""Where these are talked of, a heavy weight may be a cylinder, sugar or a pressure in pounds."""

Chosen: TypeAlias = tuple[tuple[Candidate, str], ...]
States: TypeAlias = dict[frozenset[str], tuple[float, Chosen]]


class FactReader:
    """Reads figures as facts; built once from the knowledge."""

    def __init__(self, reading: Reading, kind_of: Mapping[str, str]):
        self._facts = reading.facts
        self._kind_of = kind_of
        hints = {group for groups in reading.bare.values() for group in groups} | {COLD}
        cues = (*reading.facts.values(), *reading.passed.values())
        self._nearness = Nearness(reading.reach, kind_of, cues, hints)
        self._scorer = Scorer(reading, kind_of)

    def read(self, words: Sequence[Word], hits: Sequence[Hit]) -> tuple[dict[str, Fact], tuple[Doubt, ...]]:
        """The facts among the quantities of a message, and what is to be asked about."""
        corrected = _corrected(words, hits)
        elsewhere = _elsewhere(words, hits) | set(corrected.values())
        figures = [(at, word.quantity) for at, word in enumerate(words) if word.quantity and at not in elsewhere]
        if not figures:
            return {}, ()
        anywhere = {hit.group for hit in hits} | {said_kind(words[at]) for at, _ in figures}
        grain = {at for at, _ in figures if self._is_grain(words, hits, at)}
        if grain:
            anywhere.add(GRAIN)
        if OTHER_CRAFT in anywhere and BEER not in anywhere:
            return {}, ()
        message = usual((quantity for _, quantity in figures), self._kind_of)
        gravities = self._gravities(quantity for _, quantity in figures)
        by_kind: dict[str, list[Candidate]] = defaultdict(list)
        light = {at for hit in hits if hit.group == DESCRIBING for at in range(hit.first, hit.last)}
        for at, quantity in figures:
            near = self._nearness.around(words, hits, at, light)
            if at in corrected:
                before = [one for one in self._nearness.around(words, hits, corrected[at], light) if one.before]
                near = [*before, *(one for one in near if not one.before)]
            near += [*self._rank(quantity, gravities), *_told_alone(words, at)]
            near += [Near(HEAVY_AS_MALT, True, 1.0)] if at in grain and anywhere.isdisjoint(GAS_TALK) else []
            for kind, candidate in self._scorer.candidates(quantity, near, anywhere, message):
                merge(by_kind[kind], candidate)
        facts, doubts = self._assigned(by_kind)
        return _same_moment(facts, anywhere), doubts

    def _is_grain(self, words: Sequence[Word], hits: Sequence[Hit], at: int) -> bool:
        """Whether a figure is so heavy that it can only be malt, and no gas cylinder."""
        one = words[at].quantity
        unit = one.unit if one else None
        if one is None or unit is None or self._kind_of.get(unit) != "mass" or in_unit(one.value, unit, "kg") < HEAVY:
            return False
        return not any(hit.group in NOT_GRAIN and at - 3 <= hit.first <= at + 2 for hit in hits)

    def _gravities(self, quantities: Iterable[Quantity]) -> list[float]:
        return sorted({self._gravity(one) for one in quantities if self._kind_of.get(one.unit or "") == "gravity"})

    def _gravity(self, quantity: Quantity) -> float:
        return quantity.value if quantity.unit == "points" else in_unit(quantity.value, quantity.unit or "SG", "SG")

    def _rank(self, quantity: Quantity, gravities: Sequence[float]) -> list[Near]:
        """Of gravities that lie apart, the highest is likely the first, the lowest the last."""
        if self._kind_of.get(quantity.unit or "") != "gravity" or gravities[-1] - gravities[0] < APART:
            return []
        ends = {gravities[-1]: "highest", gravities[0]: "lowest"}
        value = self._gravity(quantity)
        return [Near(ends[value], True, 1.0)] if value in ends else []

    def _assigned(self, by_kind: Mapping[str, Sequence[Candidate]]) -> tuple[dict[str, Fact], tuple[Doubt, ...]]:
        facts: dict[str, Fact] = {}
        doubts: list[Doubt] = []
        kinds = _kinds_of_bare(by_kind)
        for kind, candidates in by_kind.items():
            mine = [one for one in candidates if kinds.get(_place(one.quantity), kind) == kind][:MOST_OF_A_KIND]
            chosen = _best(mine)
            taken = {name for _, name in chosen}
            for one, name in chosen:
                if rival := _rival(one, name, taken):
                    doubts.append(_doubt(one, (name, rival), "several-facts"))
                else:
                    value, low, high = one.values[name]
                    said = one.quantity
                    facts[name] = Fact(name, value, self._facts[name].unit, low, high, said.said, said.unit)
            doubts += [_doubt(one, (wrong,), "out-of-range") for one in mine if (wrong := _impossible(one))]
        return facts, tuple(doubts)


def _told_alone(words: Sequence[Word], at: int) -> list[Near]:
    """Figures that tell something by themselves.

    Half a day or more in hours counts from the pitching of the yeast, and little else; zero is what a dial shows,
    unless it is zero of something.
    """
    quantity = words[at].quantity
    if quantity and quantity.unit == "hour" and quantity.value >= LEAST_HOURS:
        return [Near("in-hours", True, 1.0)]
    last = at + 1 == len(words) or words[at + 1].part != words[at].part
    return [Near("zero", True, 1.0)] if last and quantity and quantity.unit is None and quantity.value == 0 else []


def _corrected(words: Sequence[Word], hits: Sequence[Hit]) -> dict[int, int]:
    """Figures that take back the one before, and where that stands: "pitched at 24, no wait, 28"."""
    taken_back = [hit for hit in hits if hit.group == TAKEN_BACK]
    if not taken_back:
        return {}
    figures = [at for at, word in enumerate(words) if word.quantity]
    return {
        at: before
        for before, at in pairwise(figures)
        if at - before <= CORRECTION_REACH
        and _alike(words[before], words[at])
        and any(before < hit.first and hit.last <= at for hit in taken_back)
    }


def _alike(one: Word, other: Word) -> bool:
    """Whether two figures measure the same, as far as was said."""
    return one.keys[1] == other.keys[1] or "0-bare" in (one.keys[1], other.keys[1])


def _elsewhere(words: Sequence[Word], hits: Sequence[Hit]) -> set[int]:
    """The places that speak of another batch: from "my last one" to the end of the sentence or to "now", "this one"."""
    backs = {hit.first for hit in hits if hit.group == BACK_TO_THIS}
    places: set[int] = set()
    for hit in hits:
        if hit.group == ANOTHER_BATCH:
            at = hit.last
            while at < len(words) and words[at].sentence == words[hit.first].sentence and at not in backs:
                places.add(at)
                at += 1
    return places


def said_kind(word: Word) -> str:
    """The group that stands for a figure of this kind being said somewhere."""
    return f"said-{word.keys[1][2:]}"


def _place(quantity: Quantity) -> tuple[int, int]:
    return quantity.start, quantity.end


def _kinds_of_bare(by_kind: Mapping[str, Sequence[Candidate]]) -> dict[tuple[int, int], str]:
    """A figure without a unit could be of several kinds: it is of the kind of its best fact."""
    best: dict[tuple[int, int], tuple[float, str]] = {}
    for kind, candidates in by_kind.items():
        for one in candidates:
            if one.quantity.unit is None and one.scores:
                found = max(one.scores.values()), kind
                best[_place(one.quantity)] = max(best.get(_place(one.quantity), found), found)
    return {place: kind for place, (_, kind) in best.items()}


def _best(candidates: Sequence[Candidate]) -> Chosen:
    """The assignment with the highest sum, each fact at most once: dynamic programming over the facts used."""
    states: States = {frozenset(): (0.0, ())}
    for one in candidates:
        following: States = {}
        for used, (total, chosen) in states.items():
            _keep(following, used, total + max(NEEDED, one.passed), chosen)
            for name, score in one.facts():
                if name not in used and score > NEEDED:
                    _keep(following, used | {name}, total + score, (*chosen, (one, name)))
        states = following
    return max(states.values(), key=lambda state: state[0])[1]


def _keep(states: States, used: frozenset[str], total: float, chosen: Chosen) -> None:
    if used not in states or total > states[used][0]:
        states[used] = (total, chosen)


def _rival(one: Candidate, name: str, taken: Collection[str]) -> str | None:
    """Another fact that explains a figure as well."""
    close = one.scores[name] - TOO_CLOSE
    return next((other for other, score in one.scores.items() if other not in taken and score > close), None)


def _impossible(one: Candidate) -> str | None:
    """The fact that a figure is plainly said for and cannot be."""
    name = max(one.unlikely, key=one.unlikely.__getitem__, default=None)
    if one.scores or name is None or one.quantity.unit is None:
        return None
    return name if one.unlikely[name] >= max(PLAINLY_SAID, one.passed) else None


def _doubt(one: Candidate, names: tuple[str, ...], reason: Reason) -> Doubt:
    return Doubt(names, one.quantity.value, one.quantity.unit, one.quantity.said, reason)


def _same_moment(facts: dict[str, Fact], anywhere: Set[str]) -> dict[str, Fact]:
    """A gravity measured against a planned one of the same moment was taken before fermentation, not now.

    Where the wort is said not to have boiled and nothing is said of a gravity after the boil, it is one before it.
    """
    before_boil = "preboil" in anywhere
    earlier = "original_gravity" if before_boil and anywhere.isdisjoint(AFTER_BOIL) else "current_gravity"
    measured, planned = facts.get("current_gravity") or facts.get(earlier), facts.get("target_gravity")
    if not measured or not planned or not isinstance(measured.value, float) or not isinstance(planned.value, float):
        return facts
    name = "preboil_gravity" if before_boil else "original_gravity"
    if name in facts or measured.value - 1 < STILL_WORT * (planned.value - 1):
        return facts
    others = {other: fact for other, fact in facts.items() if other != measured.name}
    return others | {name: replace(measured, name=name)}
