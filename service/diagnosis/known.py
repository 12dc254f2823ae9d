"""What is known of one case, by name: facts, lookups and results of calculations, each figure with its range."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import TypeAlias

from calculators import Reading, units
from knowledge import Knowledge
from knowledge.conditions import Named
from knowledge.names import CHOSEN_BY, Figures, difference_unit, figure, look_up
from knowledge.schema import Problem
from knowledge.tables import QuantityFact
from service.consultation import Units
from service.diagnosis.calculations import Runs
from service.understanding.model import Fact

Value: TypeAlias = Reading | str | bool | None


class Known:
    """Answers "what is the value of …" for one problem. Calculations are made when first asked for."""

    def __init__(
        self, problem: Problem, facts: Mapping[str, Fact], knowledge: Knowledge, system: Units = "metric"
    ) -> None:
        self.problem = problem
        self.facts = facts
        self.knowledge = knowledge
        self.system = system

    @cached_property
    def runs(self) -> Runs:
        return Runs(self)

    def answered(self, fact: str) -> bool:
        """Whether the fact is known, or known to be not known."""
        return fact in self.facts

    def value(self, name: str) -> Value:
        """The value of a fact, a result (`run.result`) or a lookup (`yeast.attenuation`); None where there is none."""
        head, dot, _ = name.partition(".")
        if not dot:
            return self._fact(name)
        return self._lookup(name) if head in CHOSEN_BY else self.runs.result(name)

    def moved(self, operand: Named) -> Value:
        """The value an operand names, moved by its `plus`."""
        value = self.value(operand.name)
        if not isinstance(value, Reading) or operand.plus is None:
            return value
        by = figure(operand.plus, difference_unit(value.unit))
        return Reading(value.value + by, value.low + by, value.high + by, value.unit)

    def limit(self, operand: str | Named, unit: str) -> Reading | None:
        """The reading of an operand, or a fixed figure, in a unit; None where it is not known."""
        if isinstance(operand, str):
            fixed = figure(operand, unit)
            return Reading(fixed, fixed, fixed, unit)
        value = self.moved(operand)
        if not isinstance(value, Reading):
            return None
        middle, low, high = (units.convert(end, value.unit, unit) for end in (value.value, value.low, value.high))
        return Reading(middle, low, high, unit)

    def _fact(self, name: str) -> Value:
        fact = self.facts.get(name)
        spec = self.knowledge.facts.get(name)
        if fact is None or fact.value is None or spec is None:
            return None
        if isinstance(spec, QuantityFact):
            return _reading(fact, spec)
        return fact.value if isinstance(fact.value, str | bool) else None

    def _lookup(self, name: str) -> Value:
        chosen = self._fact(CHOSEN_BY[name.partition(".")[0]])
        found = look_up(name, chosen, self.knowledge) if isinstance(chosen, str) else None
        if isinstance(found, Figures):
            return Reading((found.low + found.high) / 2, found.low, found.high, found.unit)
        return found


def _reading(fact: Fact, spec: QuantityFact) -> Reading | None:
    """The figure with the range said, or else with the usual error of such a reading, within what is plausible."""
    if isinstance(fact.value, str | bool) or fact.value is None:
        return None
    value = float(fact.value)
    low = fact.low if fact.low is not None else max(value - spec.uncertainty, min(spec.low, value))
    high = fact.high if fact.high is not None else min(value + spec.uncertainty, max(spec.high, value))
    return Reading(value, min(low, value), max(high, value), spec.unit)
