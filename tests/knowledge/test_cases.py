"""The examples beside the trees: each is recognised, and ends or asks what it says, with the facts read out of it."""

from __future__ import annotations

import pytest

from knowledge import shipped
from knowledge.schema import Case
from service.consultation import Consultation, Turn
from service.desk import consult


def cases(*, about: bool) -> list[object]:
    """The examples that lead to a problem, or those that must not be taken for it."""
    return [
        pytest.param(problem_id, case, id=f"{problem_id}: {case.says}")
        for problem_id, listed in shipped().cases.items()
        for case in listed
        if (case.not_ is None) is about
    ]


def answered(problem_id: str, case: Case) -> Consultation:
    """The consultation when the problem is chosen by hand and everybody is safe."""
    answers = {"problem": problem_id, "safe_now": True, **case.facts}
    return consult([Turn(text=case.says), Turn(facts=answers)], shipped())


@pytest.mark.parametrize(("problem_id", "case"), cases(about=True))
def test_an_example_ends_where_it_says(problem_id: str, case: Case) -> None:
    said = answered(problem_id, case)
    at = said.finding.id if said.finding else said.question and f"the question for {said.question.fact}"
    assert at == (case.ends or f"the question for {case.asks}"), {name: fact.value for name, fact in said.facts.items()}


@pytest.mark.parametrize(("problem_id", "case"), cases(about=True))
def test_an_example_is_recognised(problem_id: str, case: Case) -> None:
    said = consult([Turn(text=case.says)], shipped())
    assert [problem.id for problem in said.problems][:1] == [problem_id]


@pytest.mark.parametrize(("problem_id", "case"), cases(about=False))
def test_what_is_something_else_is_not_taken_for_it(problem_id: str, case: Case) -> None:
    said = consult([Turn(text=case.says)], shipped())
    assert [problem.id for problem in said.problems][:1] != [case.not_ or problem_id]
