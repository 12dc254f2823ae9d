"""What a new state of the knowledge takes away from the warnings of the old one.

Such a change may be right, but a second person has to agree to it before it is published (reworded lines count as
taken away: whether the new words still warn is for that person to judge).
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from knowledge.loading import Knowledge, problem_file
from knowledge.schema import Finding, Node, Problem
from knowledge.tables import SIGNALS, Caution


class Weakening(NamedTuple):
    """One warning that would be lost: the file and the id where it stood, and what is lost."""

    file: str
    id: str
    message: str


def weakened(before: Knowledge, after: Knowledge) -> list[Weakening]:
    """Every caution, and every place that shows one, that is there before and gone or weaker after."""
    return [*_cautions(before, after), *_problems(before, after)]


def _cautions(before: Knowledge, after: Knowledge) -> Iterator[Weakening]:
    for name, old in before.cautions.items():
        new = after.cautions.get(name)
        messages = ["the caution is gone"] if new is None else _lost(old, new)
        yield from (Weakening("cautions.yaml", name, message) for message in messages)


def _lost(old: Caution, new: Caution) -> Iterator[str]:
    if SIGNALS.index(new.signal) > SIGNALS.index(old.signal):
        yield f"the signal word falls from {old.signal} to {new.signal}"
    for key in ("title", "text", "help"):
        if getattr(new, key) != getattr(old, key):
            yield f"`{key}` no longer says: {getattr(old, key)}"
    yield from (f"`do` no longer says: {line}" for line in old.do if line not in new.do)
    yield from (f"it no longer answers the hazard {hazard}" for hazard in old.hazards if hazard not in new.hazards)


def _problems(before: Knowledge, after: Knowledge) -> Iterator[Weakening]:
    for name, old in before.problems.items():
        new = after.problems.get(name)
        for id_, message in _of_problem(old, new):
            yield Weakening(problem_file(name), id_, message)


def _of_problem(old: Problem, new: Problem | None) -> Iterator[tuple[str, str]]:
    if new is None:
        if old.cautions or old.dangerous:
            yield old.id, "the tree and its warnings are gone"
        return
    if old.dangerous and not new.dangerous:
        yield old.id, "the problem no longer counts as dangerous"
    if old.first_action and new.first_action != old.first_action:
        yield old.id, "what to do at once (`first_action`) no longer says the same"
    yield from (
        (old.id, f"the first answer no longer shows {name}") for name in old.cautions if name not in new.cautions
    )
    for name, node in old.nodes.items():
        if isinstance(node, Finding):
            yield from ((name, message) for message in _of_finding(node, new.nodes.get(name)))


def _of_finding(old: Finding, new: Node | None) -> Iterator[str]:
    if not isinstance(new, Finding):
        if old.cautions:
            yield "the finding and its cautions are gone"
        return
    yield from (f"the finding no longer shows {name}" for name in old.cautions if name not in new.cautions)
