"""One problem's tree, walked with what is known and put into the customer's words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from knowledge import Knowledge
from knowledge.schema import Finding
from knowledge.schema import Question as Asking
from service.consultation import CalculationView, CheckAgain, FindingView, PathStep, Question, Units
from service.diagnosis.known import Known
from service.diagnosis.questions import asked
from service.diagnosis.shown import because, calculation_view
from service.diagnosis.walk import Step, Stop, walk
from service.diagnosis.wording import sentences, words
from service.understanding.model import Fact


@dataclass(frozen=True)
class Diagnosis:
    """Where a problem's tree stands. Exactly one of `question` and `finding` is set.

    `cautions` are ids, the problem's first; `first_action` is said before any question; `calculations` are those the
    finding shows, and any whose figures cannot be (with a warning and no results).
    """

    problem: str
    path: tuple[PathStep, ...]
    question: Question | None
    finding: FindingView | None
    calculations: tuple[CalculationView, ...]
    cautions: tuple[str, ...]
    first_action: str | None
    sources: tuple[str, ...] = field(default=())


def diagnose(problem_id: str, facts: Mapping[str, Fact], knowledge: Knowledge, units: Units = "metric") -> Diagnosis:
    """Walk the tree of a problem as far as the facts go. Same facts and knowledge: same diagnosis."""
    known = Known(knowledge.problems[problem_id], facts, knowledge, units)
    stop = walk(known)
    finding = stop.at if isinstance(stop.at, Finding) else None
    shown = _calculations(finding, known)
    return Diagnosis(
        problem=problem_id,
        path=tuple(_path_step(step, known) for step in stop.path),
        question=asked(stop.at, known) if isinstance(stop.at, Asking) else None,
        finding=_finding_view(stop, finding, known) if finding else None,
        calculations=shown,
        cautions=tuple(dict.fromkeys((*known.problem.cautions, *(finding.cautions if finding else ())))),
        first_action=words(known.problem.first_action, known) or None if known.problem.first_action else None,
        sources=_sources(finding, shown),
    )


def _calculations(finding: Finding | None, known: Known) -> tuple[CalculationView, ...]:
    chosen = list(finding.calculations) if finding else []
    views = [calculation_view(name, known, chosen) for name in dict.fromkeys([*chosen, *known.runs.warned()])]
    return tuple(view for view in views if view is not None)


def _finding_view(stop: Stop, finding: Finding, known: Known) -> FindingView:
    return FindingView(
        id=stop.node,
        title=finding.title,
        cause=words(finding.cause, known),
        summary=words(finding.summary, known),
        steps=sentences(finding.steps, known),
        next_time=sentences(finding.next_time, known),
        check_again=CheckAgain(
            what=words(finding.check_again.what, known), when=words(finding.check_again.when, known)
        ),
        parts=list(finding.parts),
        sources=list(finding.sources),
        reviewed=finding.reviewed.isoformat(),
    )


def _path_step(step: Step, known: Known) -> PathStep:
    return PathStep(node=step.node, took=step.took, because=because(step, known))


def _sources(finding: Finding | None, shown: tuple[CalculationView, ...]) -> tuple[str, ...]:
    named = list(finding.sources) if finding else []
    for view in shown:
        named.extend(view.sources)
    return tuple(dict.fromkeys(named))
