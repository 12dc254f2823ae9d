"""The named calculations of a tree: each is made once, when a condition or a sentence first needs it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

import calculators
from calculators import BadInput, Calculation, InputSpec, Reading
from knowledge.conditions import Named
from knowledge.schema import FirstKnown, Run, ValueInput

if TYPE_CHECKING:
    from service.diagnosis.known import Known

Source: TypeAlias = str | Named | ValueInput | FirstKnown
Given: TypeAlias = Reading | str | bool | None


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of a run: a calculation, or a warning about figures that cannot be, or neither: too little known."""

    calculation: Calculation | None = None
    warning: str | None = None


class Runs:
    """The runs of one problem, for one case."""

    def __init__(self, known: Known) -> None:
        self._known = known
        self._made: dict[str, Outcome] = {}

    def outcome(self, name: str) -> Outcome:
        """The outcome of a run, made now if it was not yet."""
        if name not in self._made:
            self._made[name] = Outcome()  # a run that needs itself finds nothing, and does not go round for ever
            self._made[name] = self._make(self._known.problem.calculations[name])
        return self._made[name]

    def result(self, name: str) -> Reading | None:
        """A result, `run.result`; None where the run was not made or has no such result."""
        run, _, result = name.partition(".")
        if run not in self._known.problem.calculations:
            return None
        calculation = self.outcome(run).calculation
        return calculation.results.get(result) if calculation else None

    def warned(self) -> list[str]:
        """The runs made so far whose figures cannot be."""
        return [name for name, outcome in self._made.items() if outcome.warning]

    def _make(self, run: Run) -> Outcome:
        if run.calculator not in calculators.names():
            return Outcome(warning=f"the calculation {run.calculator} is not there")
        calculator = calculators.get(run.calculator)
        given = {name: self._input(source, calculator.inputs.get(name)) for name, source in run.inputs.items()}
        known = {name: value for name, value in given.items() if value is not None}
        if any(spec.required and name not in known for name, spec in calculator.inputs.items()):
            return Outcome()
        try:
            return Outcome(calculator.run(known, self._known.system))
        except BadInput as fault:
            complete = len(known) == len(given)
            about_given = any(field in known for field, _ in fault.faults)
            return Outcome(warning=str(fault)) if complete or about_given else Outcome()

    def _input(self, source: Source, spec: InputSpec | None) -> Given:
        if isinstance(source, FirstKnown):
            found = (self._input(one, spec) for one in source.first)
            return next((value for value in found if value is not None), None)
        if isinstance(source, ValueInput):
            return source.value
        if isinstance(source, str):
            return _within(self._known.value(source), spec)
        return _within(self._known.moved(source), spec)


def _within(value: Given, spec: InputSpec | None) -> Given:
    """A possible reading whose usual error reaches into the impossible keeps only the possible part of its range."""
    if spec is None or not isinstance(value, Reading) or value.unit != spec.unit:
        return value
    low, high = spec.possible
    return value._replace(low=max(value.low, min(low, value.value)), high=min(value.high, max(high, value.value)))
