"""Calculations as records with their working, and the figures that decided a step of the way."""

from __future__ import annotations

from collections.abc import Collection

import calculators
from calculators import Calculation, Reading
from knowledge.names import CHOSEN_BY
from service.consultation import CalculationView, Units
from service.diagnosis.known import Known
from service.diagnosis.walk import Step
from service.diagnosis.wording import reading_shown, value_shown


def calculation_view(name: str, known: Known, beside: Collection[str] = ()) -> CalculationView | None:
    """A run as a record; with a warning and no results where its figures cannot be; None where too little is known.

    `beside` names the runs shown with it: of two of the same kind, the title says in what they differ.
    """
    outcome = known.runs.outcome(name)
    if outcome.calculation is not None:
        record = outcome.calculation.as_dict()
        title = _title(outcome.calculation, _like(name, known, beside), known.system)
        return CalculationView(**record, title=title, summary=_summary(name, outcome.calculation, known))
    if outcome.warning is None:
        return None
    return CalculationView(
        calculator=known.problem.calculations[name].calculator,
        inputs={},
        results={},
        working="",
        sources=[],
        warnings=[outcome.warning],
    )


def _like(name: str, known: Known, beside: Collection[str]) -> list[Calculation]:
    """The calculations of the same kind that are shown with this one."""
    kind = known.problem.calculations[name].calculator
    others = [other for other in beside if other != name and known.problem.calculations[other].calculator == kind]
    return [made for other in others if (made := known.runs.outcome(other).calculation) is not None]


def _title(calculation: Calculation, others: Collection[Calculation], system: Units) -> str:
    """What is calculated, and in what it differs from the others: "Pressure inside a bottle, temperature 3 °C"."""
    title = calculators.get(calculation.calculator).title
    differing = [
        f"{_spoken(name)} {reading_shown(value, '', system, _doubt(value))}"
        for name, value in calculation.inputs.items()
        if isinstance(value, Reading) and any(other.inputs.get(name) != value for other in others)
    ]
    return ", ".join([title, *differing])


def _summary(name: str, calculation: Calculation, known: Known) -> str:
    """Those results that the tree speaks of, in one line: "gauge pressure 0.8 bar (12 psi)"; all, if it names none."""
    found = {result: reading for result, reading in calculation.results.items() if _is_new(result, calculation)}
    named = known.knowledge.spoken_of[known.problem.id]
    spoken_of = {result: reading for result, reading in found.items() if f"{name}.{result}" in named}
    return "; ".join(
        f"{_spoken(result)} {reading_shown(reading, '', known.system, _doubt(reading))}"
        for result, reading in (spoken_of or found).items()
    )


def _is_new(result: str, calculation: Calculation) -> bool:
    """Whether it was worked out, and is not an input that came through."""
    given = calculation.inputs.get(result)
    return not isinstance(given, Reading) or given.value != calculation.results[result].value


def _doubt(reading: Reading) -> float:
    return (reading.high - reading.low) / 2


def because(step: Step, known: Known) -> str:
    """The values that decided a step: "pressure on the gauge 40 psi (2.76 bar)"; empty where nothing was known."""
    return "; ".join(f"{_label(name, known)}: {value_shown(name, known) or 'not known'}" for name in step.about)


def _label(name: str, known: Known) -> str:
    spec = known.knowledge.facts.get(name)
    if spec is not None:
        return spec.label
    head, _, tail = name.partition(".")
    return f"{head} {_spoken(tail)}" if head in CHOSEN_BY else _spoken(tail)


def _spoken(name: str) -> str:
    return name.replace("_", " ").replace("co2", "CO2").replace("abv", "alcohol by volume")
