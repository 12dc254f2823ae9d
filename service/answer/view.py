"""Puts a case and its diagnosis together as the consultation object."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from calculators import units as measures
from knowledge import Knowledge
from knowledge.tables import SIGNALS, ChoiceFact, Fact, QuantityFact
from service.case import EMERGENCIES, SAFE, Case
from service.consultation import (
    CautionView,
    Consultation,
    Doubt,
    FactView,
    Handover,
    PartView,
    ProblemView,
    Question,
    SourceView,
    Units,
)
from service.diagnosis import Diagnosis
from service.diagnosis.own_first import own_first
from service.diagnosis.questions import options_offered, units_offered
from service.diagnosis.wording import capital
from service.understanding import model

AT_MOST = 5


def consultation_of(
    case: Case,
    diagnosis: Diagnosis | None,
    question: Question | None,
    handover: Handover | None,
    note: str | None,
    knowledge: Knowledge,
    units: Units,
) -> Consultation:
    """The contract's object. While a question is put, the finding waits, and the other way round."""
    cautions = _cautions(case, diagnosis, knowledge, units)
    finding = diagnosis.finding if diagnosis and question is None else None
    calculations = list(diagnosis.calculations) if diagnosis and finding else []
    named = [*(source for one in cautions for source in one.sources), *(diagnosis.sources if diagnosis else ())]
    return Consultation(
        revision=knowledge.revision,
        kind=case.kind,
        units=units,
        problems=_problems(case.ranked[:AT_MOST], knowledge),
        hazards=[hazard.id for hazard in case.hazards],
        facts={name: _fact(fact, knowledge, units) for name, fact in case.facts.items() if name != SAFE},
        doubts=[_doubt(doubt, knowledge) for doubt in case.doubts],
        cautions=cautions,
        first_action=diagnosis.first_action if diagnosis and finding is None else None,
        calculations=calculations,
        question=question,
        finding=finding,
        path=list(diagnosis.path) if diagnosis else [],
        also=_problems(case.also, knowledge),
        handover=handover,
        note=note,
        parts=[_part(part, knowledge) for part in (finding.parts if finding else [])],
        sources=_sources(named, knowledge),
    )


def _problems(ranked: Iterable[model.ProblemMatch], knowledge: Knowledge) -> list[ProblemView]:
    return [
        ProblemView(
            id=match.id,
            title=knowledge.problems[match.id].title,
            score=round(match.score, 3),
            matched=list(match.matched),
        )
        for match in ranked
    ]


def _fact(fact: model.Fact, knowledge: Knowledge, units: Units) -> FactView:
    spec = knowledge.facts[fact.name]
    figure = _figure(fact, spec) if isinstance(spec, QuantityFact) and fact.value is not None else {}
    return FactView(
        **{"value": fact.value, **figure},
        said=fact.said,
        label=spec.label,
        shown=_shown(fact, spec, units),
        kind=spec.kind,
        units=units_offered(spec, units),
        options=options_offered(spec, units),
    )


def _figure(fact: model.Fact, spec: QuantityFact) -> dict[str, Any]:
    """A figure with the range that was said, or else the usual error of such a reading."""
    value = float(fact.value or 0)
    return {
        "value": _tidy(value),
        "unit": spec.unit,
        "low": _tidy(value - spec.uncertainty if fact.low is None else fact.low),
        "high": _tidy(value + spec.uncertainty if fact.high is None else fact.high),
    }


def _shown(fact: model.Fact, spec: Fact, units: Units) -> str:
    if fact.value is None:
        return "not known"
    if isinstance(spec, QuantityFact):
        return measures.both_systems(float(fact.value), spec.unit, units, spec.uncertainty, said=True)
    if isinstance(spec, ChoiceFact):
        return own_first(capital(spec.choices[str(fact.value)]), units)
    return "Yes" if fact.value else "No"


def _tidy(value: float) -> float:
    """Six figures: what a unit conversion leaves in the fifteenth is noise to a reader and to a comparison."""
    return float(f"{value:.6g}")


def _doubt(doubt: model.Doubt, knowledge: Knowledge) -> Doubt:
    labels = [knowledge.facts[name].label for name in doubt.facts if name in knowledge.facts]
    if doubt.reason == "several-facts":
        text = f"“{doubt.said}” could be the {' or the '.join(labels)}. Which is it?"
    else:
        text = f"“{doubt.said}” cannot be right for the {' or the '.join(labels)}, so I have not used it."
    return Doubt(said=doubt.said, text=text, facts=list(doubt.facts))


def _cautions(case: Case, diagnosis: Diagnosis | None, knowledge: Knowledge, units: Units) -> list[CautionView]:
    """Gravest first. Of equal ones: dangers to people that the customer named, then others named, then the tree's."""
    heard = {hazard.id for hazard in case.hazards}
    answering = [name for name, caution in knowledge.cautions.items() if heard & set(caution.hazards)]
    ids = dict.fromkeys([*answering, *(diagnosis.cautions if diagnosis else ())])
    urgent = [name for name in answering if heard & EMERGENCIES & set(knowledge.cautions[name].hazards)]
    ordered = sorted(ids, key=lambda name: (_gravity(name, knowledge), name not in urgent))
    return [_caution(name, knowledge, units) for name in ordered]


def _gravity(name: str, knowledge: Knowledge) -> int:
    return SIGNALS.index(knowledge.cautions[name].signal)


def _caution(name: str, knowledge: Knowledge, units: Units) -> CautionView:
    found = knowledge.cautions[name]
    return CautionView(
        id=name,
        signal=found.signal,
        text=own_first(f"{found.title}. {found.text}", units),
        do=[own_first(action, units) for action in found.do],
        help=own_first(found.help, units),
        sources=list(found.sources),
    )


def _part(name: str, knowledge: Knowledge) -> PartView:
    return PartView(id=name, name=knowledge.parts[name].title, ask=list(knowledge.parts[name].ask_first))


def _sources(ids: Iterable[str], knowledge: Knowledge) -> list[SourceView]:
    """Every source named, once."""
    return [SourceView(id=name, citation=knowledge.sources[name].citation) for name in dict.fromkeys(ids)]
