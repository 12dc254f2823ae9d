"""Questions of the desk itself: is everybody safe, and which trouble is it."""

from __future__ import annotations

from knowledge import Knowledge
from service.case import AREA, PROBLEM, SAFE
from service.consultation import Option, Question


def safety_question(knowledge: Knowledge) -> Question:
    """Asked before any troubleshooting when somebody may be in danger."""
    spec = knowledge.facts[SAFE]
    options = [Option(value="yes", label="Yes, everybody is safe"), Option(value="no", label="No, or not sure")]
    return Question(fact=SAFE, text=spec.ask, why=spec.hint or "", kind="safety", options=options)


def area_question(area: str | None, text: str, knowledge: Knowledge) -> Question:
    """A short choice: which part of the brew day, then which trouble in it."""
    if area is None:
        options = [Option(value=one.id, label=one.label) for one in knowledge.areas]
        return Question(fact=AREA, text=text, why="", kind="area", options=options)
    chosen = next(one for one in knowledge.areas if one.id == area)
    known = [knowledge.problems[problem] for problem in chosen.problems if problem in knowledge.problems]
    options = [Option(value=problem.id, label=problem.title) for problem in known]
    return Question(fact=PROBLEM, text="Which of these is closest?", why="", kind="area", options=options)
