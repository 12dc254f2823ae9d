"""The branches of a question leave no gap and do not overlap, so that every answer has one way on.

Looked at are questions whose branches compare the fact asked for with fixed figures, or list its choices; what
compares it with other values is left to its author. Overlaps matter because a reading that straddles the limit of an
earlier branch would take a later one that is true as well.
"""

from __future__ import annotations

from collections.abc import Iterator

from calculators import BadInput
from knowledge.conditions import Compare, Condition, Is, OneOf
from knowledge.faults import Fault
from knowledge.loading import Draft, problem_file
from knowledge.names import figure
from knowledge.schema import Question
from knowledge.tables import ChoiceFact, Fact, QuantityFact, YesNoFact

ID = "coverage"
HAIR = 1e-9


def faults(draft: Draft) -> Iterator[Fault]:
    for problem in draft.knowledge.problems.values():
        for name, node in problem.nodes.items():
            fact = draft.knowledge.facts.get(node.fact) if isinstance(node, Question) else None
            if isinstance(node, Question) and fact is not None:
                for message in _uneven(node, fact):
                    yield draft.fault(ID, problem_file(problem.id), ("nodes", name, "branches"), message)


def _uneven(node: Question, fact: Fact) -> Iterator[str]:
    conditions = [branch.when for branch in node.branches]
    if isinstance(fact, QuantityFact):
        spans = [_span(condition, node.fact, fact) for condition in conditions]
        if None not in spans:
            yield from _spans(sorted(span for span in spans if span), fact)
    else:
        every = tuple(fact.choices) if isinstance(fact, ChoiceFact) else (True, False)
        listed = [_answers(condition, node.fact, fact) for condition in conditions]
        if None not in listed:
            yield from _choices([answer for answers in listed for answer in answers or ()], every)


def _span(condition: Condition, name: str, fact: QuantityFact) -> tuple[float, float] | None:
    """The range a branch takes, as far as it is plausible; None where it depends on something else."""
    if not isinstance(condition, Compare) or condition.fact != name:
        return None
    try:
        ends = [figure(limit, fact.unit) for limit in condition.limits if isinstance(limit, str)]
    except BadInput:
        return None  # told by the check of units
    if len(ends) != len(condition.limits):
        return None
    if condition.bound == "between":
        return ends[0], ends[1]
    return (ends[0], fact.high) if condition.bound in ("at_least", "above") else (fact.low, ends[0])


def _spans(spans: list[tuple[float, float]], fact: QuantityFact) -> Iterator[str]:
    """Gaps between the lowest and highest plausible figure, and overlaps, of ranges in rising order."""
    reached = fact.low
    for low, high in spans:
        if low > reached + HAIR:
            yield f"no branch takes {reached:g} to {low:g} {fact.unit}"
        if low < reached - HAIR and reached > fact.low:
            yield f"two branches take {low:g} to {min(reached, high):g} {fact.unit}"
        reached = max(reached, high)
    if reached < fact.high - HAIR:
        yield f"no branch takes {reached:g} to {fact.high:g} {fact.unit}"


def _answers(condition: Condition, name: str, fact: ChoiceFact | YesNoFact) -> tuple[str | bool, ...] | None:
    if isinstance(condition, OneOf) and condition.fact == name and isinstance(fact, ChoiceFact):
        return condition.one_of
    if isinstance(condition, Is) and condition.fact == name and isinstance(fact, YesNoFact):
        return (condition.is_,)
    return None


def _choices(taken: list[str | bool], every: tuple[str | bool, ...]) -> Iterator[str]:
    for answer in every:
        if answer not in taken:
            yield f"no branch takes the answer `{_said(answer)}`"
        if taken.count(answer) > 1:
            yield f"two branches take the answer `{_said(answer)}`"


def _said(answer: str | bool) -> str:
    return answer if isinstance(answer, str) else "yes" if answer else "no"
