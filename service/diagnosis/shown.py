"""Calculations as records with their working, and the figures that decided a step of the way."""

from __future__ import annotations

import calculators
from calculators import Calculation
from knowledge.names import CHOSEN_BY
from service.consultation import CalculationView
from service.diagnosis.known import Known
from service.diagnosis.walk import Step
from service.diagnosis.wording import reading_shown, value_shown


def calculation_view(name: str, known: Known) -> CalculationView | None:
    """A run as a record; with a warning and no results where its figures cannot be; None where too little is known."""
    outcome = known.runs.outcome(name)
    if outcome.calculation is not None:
        title = calculators.get(outcome.calculation.calculator).title
        record = outcome.calculation.as_dict()
        return CalculationView(**record, title=title, summary=_summary(outcome.calculation, known))
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


def _summary(calculation: Calculation, known: Known) -> str:
    """The results in one line: "gauge pressure 0.8 bar (11.6 psi)"."""
    return "; ".join(
        f"{_spoken(name)} {reading_shown(reading, '', known.system)}"
        for name, reading in calculation.results.items()
        if name not in calculation.inputs
    )


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
    return name.replace("_", " ").replace("co2", "CO2")
