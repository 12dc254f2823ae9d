"""The examples beside the trees: each ends or asks what it says, with the facts read out of it; most are recognised."""

from __future__ import annotations

from collections import Counter

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


def recognised(case: Case) -> str | None:
    """The problem that the words alone are taken for."""
    problems = consult([Turn(text=case.says)], shipped()).problems
    return problems[0].id if problems else None


@pytest.mark.parametrize(("problem_id", "case"), cases(about=True))
def test_an_example_ends_where_it_says(problem_id: str, case: Case) -> None:
    said = answered(problem_id, case)
    at = said.finding.id if said.finding else said.question and f"the question for {said.question.fact}"
    assert at == (case.ends or f"the question for {case.asks}"), {name: fact.value for name, fact in said.facts.items()}


def test_most_examples_are_recognised_by_their_words_alone_and_few_are_mistaken() -> None:
    """Many are short of words, because their answers carry them; then it is right to ask rather than to guess."""
    taken = Counter(
        "right" if recognised(case) == problem_id else "open" if recognised(case) is None else "mistaken"
        for problem_id, listed in shipped().cases.items()
        for case in listed
        if case.not_ is None
    )
    assert taken["right"] >= 2 / 3 * taken.total(), taken
    assert taken["mistaken"] <= 1 / 10 * taken.total(), taken


@pytest.mark.parametrize(("problem_id", "case"), cases(about=False))
def test_what_is_something_else_is_not_taken_for_it(problem_id: str, case: Case) -> None:
    assert recognised(case) != (case.not_ or problem_id)
