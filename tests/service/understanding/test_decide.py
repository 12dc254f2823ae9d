"""A problem is named only where it explains the message better than anything else would."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from knowledge.language import SOMETHING_ELSE as ELSE
from service.understanding.decide import SHOWN, SOMETHING_ELSE, explained, ranked, something_else, together
from service.understanding.kind import Talk

SILENT = {"flat": 0.0, "leak": 0.0, ELSE: 0.0}


def test_the_likeliest_problem_comes_first() -> None:
    best = ranked({"flat": 6.0, "leak": 24.0, "foam": 2.0})
    assert [problem for problem, _ in best] == ["leak", "flat", "foam"]
    assert best[0][1] > 0.9


def test_evidence_and_wording_together_tell_which_problem_it_is() -> None:
    both = together({"flat": 6.0, "leak": 5.0, ELSE: 1.0}, {"flat": 1.0, "leak": 4.0, ELSE: 90.0})
    assert both == {"flat": 7.0, "leak": 9.0}


def test_too_little_evidence_explains_nothing() -> None:
    assert not explained({"flat": SOMETHING_ELSE - 0.1, "leak": 1.0}, SILENT, SOMETHING_ELSE)
    assert explained({"flat": SOMETHING_ELSE + 0.1, "leak": 1.0}, SILENT, SOMETHING_ELSE)


def test_what_is_told_of_something_else_is_evidence_against_every_problem() -> None:
    odds = {"flat": SOMETHING_ELSE + 2.0, "leak": 1.0}
    assert explained({**odds, ELSE: 1.0}, SILENT, SOMETHING_ELSE)
    assert not explained({**odds, ELSE: 3.0}, SILENT, SOMETHING_ELSE)


def test_wording_counts_little_where_the_question_is_whether_it_is_about_a_brew() -> None:
    odds = {"flat": SOMETHING_ELSE + 1.0, ELSE: 0.0}
    assert explained(odds, {"flat": 0.0, ELSE: 5.0}, SOMETHING_ELSE)
    assert not explained(odds, {"flat": 0.0, ELSE: 15.0}, SOMETHING_ELSE)


def test_no_problems_at_all_explain_nothing() -> None:
    assert not explained({}, {}, SOMETHING_ELSE)


def test_talk_of_something_else_asks_for_more_evidence() -> None:
    nothing, vague, order = something_else(None), something_else(Talk("vague")), something_else(Talk("order"))
    assert nothing < vague < order < something_else(Talk("order", times=2))


def test_talk_in_passing_asks_for_less_than_talk_that_is_the_message() -> None:
    assert something_else(None) < something_else(Talk("order", share=0.3)) < something_else(Talk("order"))


@given(st.dictionaries(st.text(min_size=1, max_size=3), st.floats(-200, 200), min_size=1, max_size=60))
def test_scores_are_shares_of_one_in_falling_order(odds: dict[str, float]) -> None:
    scores = [score for _, score in ranked(odds)]
    assert len(scores) == min(SHOWN, len(odds))
    assert scores == sorted(scores, reverse=True)
    assert sum(scores) <= 1 + 1e-9
