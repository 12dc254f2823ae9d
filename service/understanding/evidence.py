"""Evidence that the knowledge names outright: concepts in one breath, facts and dangers, for and against a problem."""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain
from operator import attrgetter

from knowledge.language import Evidence, FactIs, Symptoms
from service.understanding.model import Fact, Mention
from service.understanding.symptoms import DENIED

BREATH = 90
"""Characters between the beginnings of two things said in one breath: about fifteen words."""

BEGINNING = attrgetter("start")

Places = Mapping[str, Sequence[Mention]]


@dataclass(frozen=True, slots=True)
class Told:
    """Evidence that was found. `weight` below 0 speaks against; `mentions` and `facts` are what it rests on."""

    problem: str
    weight: float
    mentions: tuple[Mention, ...]
    facts: tuple[str, ...]


class EvidenceIndex:
    """The evidence of all problems, looked up by the first concept, fact or danger that it needs."""

    def __init__(self, symptoms: Mapping[str, Symptoms], wider: Mapping[str, frozenset[str]]):
        self._wider = wider
        self._rules: dict[str, list[tuple[str, float, Evidence]]] = defaultdict(list)
        self._needs = {problem: one.evidence.needs for problem, one in symptoms.items() if one.evidence.needs}
        for problem, weight, one in _all(symptoms):
            for first in _first(one):
                self._rules[first].append((problem, weight, one))

    def find(self, mentions: Sequence[Mention], facts: Mapping[str, Fact], hazards: Collection[str] = ()) -> list[Told]:
        """Every piece of evidence that the message holds, each once."""
        places = self._places(mentions)
        found: dict[int, Told] = {}
        for first in (*places, *facts, *map(_danger, hazards)):
            for problem, weight, one in self._rules.get(first, ()):
                if id(one) in found or not all(holds(condition, facts) for condition in one.facts):
                    continue
                if one.hazard and one.hazard not in hazards:
                    continue
                group = together(one, places)
                if group is not None:
                    found[id(one)] = Told(problem, weight, group, tuple(condition.fact for condition in one.facts))
        return list(found.values())

    def lacking(self, mentions: Sequence[Mention]) -> list[str]:
        """Problems that cannot be without something, and it was not said."""
        there = {concept for mention in mentions for concept in self._wider[mention.concept]}
        return [
            problem for problem, needs in self._needs.items() if not all(there.intersection(need) for need in needs)
        ]

    def _places(self, mentions: Sequence[Mention]) -> Places:
        places: dict[str, list[Mention]] = defaultdict(list)
        for mention in mentions:
            if mention.time != "past" and mention.subject != "other":
                for concept in self._wider[mention.concept]:
                    places[DENIED + concept if mention.negated else concept].append(mention)
        return places


def _first(one: Evidence) -> Sequence[str]:
    if one.concepts:
        return one.concepts[0].split("|")
    return [one.facts[0].fact] if one.facts else [_danger(one.hazard or "")]


def _danger(hazard: str) -> str:
    """How a danger is looked up: "chemical" may be a concept too."""
    return f"danger {hazard}"


def _all(symptoms: Mapping[str, Symptoms]) -> Iterator[tuple[str, float, Evidence]]:
    for problem, one in symptoms.items():
        yield from ((problem, evidence.weight, evidence) for evidence in one.evidence.for_)
        yield from ((problem, -evidence.weight, evidence) for evidence in one.evidence.against)


def together(one: Evidence, places: Places) -> tuple[Mention, ...] | None:
    """The mentions of all concepts of a piece of evidence, all of them near the first; None where one is not there."""
    if not one.concepts:
        return ()
    first, *others = [names.split("|") for names in one.concepts]
    for mention in chain.from_iterable(places.get(name, ()) for name in first):
        group = [mention, *(_nearest(names, places, mention.start) for names in others)]
        found = [other for other in group if other and (one.anywhere or abs(other.start - mention.start) <= BREATH)]
        if len(found) == len(group):
            return tuple(found)
    return None


def _nearest(names: Sequence[str], places: Places, start: int) -> Mention | None:
    """The mention of any of these concepts that begins nearest to a place. Mentions are in order."""
    near: list[Mention] = []
    for name in names:
        if mentions := places.get(name):
            at = bisect_left(mentions, start, key=BEGINNING)
            near += mentions[max(0, at - 1) : at + 1]
    return min(near, key=lambda mention: abs(mention.start - start), default=None)


def holds(condition: FactIs, facts: Mapping[str, Fact]) -> bool:
    """Whether a fact is known and is as the evidence says."""
    fact = facts.get(condition.fact)
    if fact is None or fact.value is None:
        return False
    value = fact.value
    if condition.equals is not None and value != condition.equals:
        return False
    if condition.one_of and value not in condition.one_of:
        return False
    return isinstance(value, bool | str) or _in_order(condition, value, facts)


def _in_order(condition: FactIs, value: float, facts: Mapping[str, Fact]) -> bool:
    def other(name: str | None) -> float | None:
        found = facts[name].value if name is not None and name in facts else None
        return found if isinstance(found, float | int) and not isinstance(found, bool) else None

    low, high = other(condition.above), other(condition.below)
    return (
        (condition.at_least is None or value >= condition.at_least)
        and (condition.at_most is None or value <= condition.at_most)
        and (condition.above is None or (low is not None and value > low))
        and (condition.below is None or (high is not None and value < high))
    )
