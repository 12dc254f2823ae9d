"""The desk: from everything a customer has said to the answer.

message → understanding → diagnosis → calculation → answer, or a person where the desk is not sure.

Nothing is remembered between calls: a consultation is a function of the turns, the knowledge and the measures
asked for, so any past one can be worked out again.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from knowledge import Knowledge
from service.answer.questions import area_question, safety_question
from service.answer.view import consultation_of
from service.case import EMERGENCIES, SAFE, Case, hear, measures
from service.consultation import Consultation, Handover, Question, Turn, Units
from service.diagnosis import Diagnosis, diagnose

__all__ = ["Turn", "consult"]

IDLE_TALK = frozenset({"small-talk", "greeting"})
"""Words in passing that need no answer once a case is under way."""


def consult(turns: Sequence[Turn], knowledge: Knowledge, units: Units | None = None) -> Consultation:
    """The consultation after the last of the turns.

    `units` says which measures are shown first; None means those the customer used. Raises `BadFact` naming a given
    fact that cannot be taken.
    """
    case = Case()
    for turn in turns:
        case = hear(_put(case, knowledge) if turn.text.strip() else case, turn, knowledge)
    return _answer(case, knowledge, units or measures(case))


def _put(case: Case, knowledge: Knowledge) -> Case:
    """The case with the question that its last answer put to the customer, which only words need to be read by."""
    if not case.words and not case.facts:
        return case
    question, _ = _next(case, _diagnosis(case, knowledge, "metric"), knowledge)
    return replace(case, asked=question.fact if question else None)


def _answer(case: Case, knowledge: Knowledge, units: Units) -> Consultation:
    diagnosis = _diagnosis(case, knowledge, units)
    question, handover = _next(case, diagnosis, knowledge)
    note = knowledge.replies["nothing-new"].says if _unheard(case) and not handover else None
    return consultation_of(case, diagnosis, question, handover, note, knowledge, units)


def _diagnosis(case: Case, knowledge: Knowledge, units: Units) -> Diagnosis | None:
    return diagnose(case.problem, case.facts, knowledge, units) if case.problem else None


def _next(case: Case, diagnosis: Diagnosis | None, knowledge: Knowledge) -> tuple[Question | None, Handover | None]:
    """The one question that matters next, and whether a person should take over."""
    if _unsafe(case):
        reply = knowledge.replies["not-safe" if SAFE in case.facts else "emergency"]
        return safety_question(knowledge), Handover(reason="emergency", text=reply.says)
    if case.wants_person:
        question = diagnosis.question if diagnosis else None
        return question, Handover(reason="asked", text=knowledge.replies["asked"].says)
    if diagnosis:
        return diagnosis.question, _for_a_person(case.aside, knowledge) if case.aside else None
    kind = case.kind if case.kind in knowledge.replies else "unsure"
    reply = knowledge.replies[kind]
    question = area_question(case.area, reply.says, knowledge) if reply.asks or case.area else None
    return question, _for_a_person(kind, knowledge)


def _for_a_person(kind: str, knowledge: Knowledge) -> Handover | None:
    """The handover of words that are for a person to answer, such as those about an order."""
    reply = knowledge.replies.get(kind)
    return Handover(reason=kind, text=reply.says) if reply and reply.person else None


def _unheard(case: Case) -> bool:
    """The last words told nothing new, and were meant to."""
    return case.aside is not None and case.aside not in IDLE_TALK


def _unsafe(case: Case) -> bool:
    """An emergency was heard, and the customer has not said yet that everybody is safe."""
    safe = case.facts.get(SAFE)
    return any(hazard.id in EMERGENCIES for hazard in case.hazards) and not (safe and safe.value is True)
