"""Finds, for each finding of a tree, something to say and to answer that leads there.

Answers are tried around the figures that the tree compares with and at everyday values; of those that lead the same
way only a few are followed. What no answers lead to from nothing is looked for with things said before the first
question, drawn at random from the same values (always the same ones).
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from calculators import BadInput
from knowledge import Knowledge
from knowledge.conditions import Compare
from knowledge.names import figure
from knowledge.schema import Finding, Problem
from knowledge.tables import ChoiceFact, QuantityFact
from knowledge.trees import all_leaves, limits, names_used
from service.diagnosis.known import Known
from service.diagnosis.walk import Stop, walk
from service.understanding.model import Fact

Answer = float | str | bool | None
EVERYDAY: dict[str, tuple[float, ...]] = {
    "SG": (1.004, 1.008, 1.011, 1.014, 1.018, 1.022, 1.03, 1.045, 1.05, 1.065, 1.09),
    "bar": (0.05, 0.3, 0.8, 1.0, 1.5, 2.2, 3.0, 5.0),
    "degC": (0.5, 4, 8, 12, 16, 19, 22, 26, 32, 38),
    "L": (4, 12, 19, 20, 23, 25, 30, 60),
    "vol": (1.2, 1.8, 2.4, 2.6, 3.2, 4.5),
    "g": (10, 60, 120, 150, 250, 500),
    "kg": (2, 4, 5, 7),
    "h": (3, 10, 30, 60, 90, 200),
    "d": (0.5, 1, 2, 4, 6, 10, 20, 40, 100, 200),
    "degBx": (3, 6, 8, 12, 18),
    "pH": (4.9, 5.15, 5.35, 5.55, 5.9),
    "m": (0.5, 1.5, 3, 5, 300, 1600),
    "mm": (4, 5, 6.5, 9.5),
    "m3": (0.3, 8, 30, 100),
    "min": (0, 5, 15, 30, 60),
    "percent": (4, 8, 13),
}
SAME_WAY = 2
"""How many answers that lead the same way are followed."""
STEPS = 3000
"""How many questions are answered before the search from nothing gives up."""
DRAWS = 3000
"""How many sets of things said beforehand are drawn."""


@dataclass(frozen=True)
class Way:
    """What leads to a finding: things said before, then answers to the questions in the order they are asked."""

    finding: str
    said: Mapping[str, Answer]
    answers: tuple[tuple[str, Answer], ...]


class Search:
    """The search for ways to the findings of one problem."""

    def __init__(self, problem: Problem, knowledge: Knowledge) -> None:
        self.problem = problem
        self.knowledge = knowledge
        self.marks = dict(_marks(problem, knowledge))
        self.ways: dict[str, Way] = {}
        self.wanted = {name for name, node in problem.nodes.items() if isinstance(node, Finding)}

    def run(self) -> dict[str, Way]:
        """One way to every finding that was reached."""
        self._from_nothing()
        chance = random.Random(self.problem.id)
        for _ in range(DRAWS):
            if self.wanted <= self.ways.keys():
                break
            self._at_random(chance)
        return self.ways

    def stop(self, facts: Mapping[str, Answer]) -> Stop:
        """Where the walk stops with these facts."""
        return walk(
            Known(self.problem, {name: self._fact(name, value) for name, value in facts.items()}, self.knowledge)
        )

    def _fact(self, name: str, value: Answer) -> Fact:
        spec = self.knowledge.facts[name]
        return Fact(name, value, spec.unit if isinstance(spec, QuantityFact) else None)

    def _from_nothing(self) -> None:
        seen: Counter[tuple[str, ...]] = Counter()
        ahead: list[tuple[tuple[str, Answer], ...]] = [()]
        for _ in range(STEPS):
            if not ahead or self.wanted <= self.ways.keys():
                return
            answers = ahead.pop()
            stop = self.stop(dict(answers))
            if isinstance(stop.at, Finding):
                self.ways.setdefault(stop.node, Way(stop.node, {}, answers))
                continue
            for value in self.candidates(stop.at.fact, dict(answers)):
                longer = (*answers, (stop.at.fact, value))
                after = self.stop(dict(longer))
                way = (*(step.node for step in after.path), after.node)
                seen[way] += 1
                if seen[way] <= SAME_WAY:
                    ahead.append(longer)

    def _at_random(self, chance: random.Random) -> None:
        """Say some things beforehand, then answer at random."""
        names = sorted({name for _, name in names_used(self.problem) if name in self.knowledge.facts})
        said: dict[str, Answer] = {}
        for name in chance.sample(names, chance.randint(0, len(names))):
            if not self.knowledge.facts[name].asked_only:
                said[name] = chance.choice(self.candidates(name, said))
        answers: list[tuple[str, Answer]] = []
        stop = self.stop(said)
        while not isinstance(stop.at, Finding):
            fact = stop.at.fact
            answers.append((fact, chance.choice(self.candidates(fact, {**said, **dict(answers)}))))
            stop = self.stop({**said, **dict(answers)})
        self.ways.setdefault(stop.node, Way(stop.node, said, tuple(answers)))

    def candidates(self, name: str, known: Mapping[str, Answer]) -> list[Answer]:
        """Answers worth trying for a fact, when some others are known."""
        spec = self.knowledge.facts[name]
        if isinstance(spec, ChoiceFact):
            return [None, *spec.choices]
        if not isinstance(spec, QuantityFact):
            return [None, True, False]
        beside = [value for other, value in known.items() if _figure_in(self.knowledge, other, spec.unit, value)]
        return [None, *_around(spec, [*self.marks.get(name, ()), *beside])]


def _figure_in(knowledge: Knowledge, name: str, unit: str, value: Answer) -> bool:
    spec = knowledge.facts[name]
    return isinstance(spec, QuantityFact) and spec.unit == unit and isinstance(value, float)


def _around(spec: QuantityFact, marks: list[Answer]) -> list[float]:
    """Everyday values, and each mark with a value surely below and surely above it."""
    tried = list(EVERYDAY.get(spec.unit, (spec.low, (spec.low + spec.high) / 2, spec.high)))
    for mark in marks:
        if isinstance(mark, float):
            step = max(3 * spec.uncertainty, abs(mark) * 0.05 if spec.unit != "SG" else 0.004)
            tried += [mark - step, mark, mark + step]
    return sorted({round(value, 5) for value in tried if spec.low <= value <= spec.high})


def _marks(problem: Problem, knowledge: Knowledge) -> Iterator[tuple[str, list[float]]]:
    """For each fact the figures it is compared with."""
    found: dict[str, list[float]] = {}
    for place, leaf in all_leaves(problem):
        spec = knowledge.facts.get(leaf.name) if isinstance(leaf, Compare) else None
        if isinstance(leaf, Compare) and isinstance(spec, QuantityFact):
            for _, limit in limits(leaf, place):
                found.setdefault(leaf.name, []).extend(_fixed(limit, spec.unit))
    yield from found.items()


def _fixed(limit: object, unit: str) -> Iterator[float]:
    try:
        if isinstance(limit, str):
            yield figure(limit, unit)
    except BadInput:  # the check of units tells it
        return


def ways_to_findings(problem: Problem, knowledge: Knowledge) -> dict[str, Way]:
    """For each finding of the tree that can be reached, one way there."""
    return Search(problem, knowledge).run()
