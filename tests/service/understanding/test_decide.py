"""A problem is named only where it explains the message better than anything else would."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from service.understanding.decide import SHOWN, SOMETHING_ELSE, ranked, something_else


def test_the_likeliest_problem_comes_first() -> None:
    best = ranked({"flat": 6.0, "leak": 12.0, "foam": 2.0}, SOMETHING_ELSE)
    assert [problem for problem, _ in best] == ["leak", "flat", "foam"]
    assert best[0][1] > 0.9


def test_too_little_evidence_names_nothing() -> None:
    assert ranked({"flat": SOMETHING_ELSE - 0.1, "leak": 1.0}, SOMETHING_ELSE) == []


def test_many_equal_problems_name_none() -> None:
    assert ranked({f"p{number}": 9.0 for number in range(10)}, SOMETHING_ELSE) == []


def test_no_problems_at_all_name_none() -> None:
    assert ranked({}, SOMETHING_ELSE) == []


def test_talk_of_something_else_asks_for_more_evidence() -> None:
    nothing, vague, order = something_else(None), something_else(("vague", 1)), something_else(("order", 1))
    assert nothing < vague < order < something_else(("order", 2))


@given(st.dictionaries(st.text(min_size=1, max_size=3), st.floats(-200, 200), max_size=60))
def test_scores_are_shares_of_one_in_falling_order(odds: dict[str, float]) -> None:
    scores = [score for _, score in ranked(odds, SOMETHING_ELSE)]
    assert len(scores) <= SHOWN
    assert scores == sorted(scores, reverse=True)
    assert sum(scores) <= 1 + 1e-9
