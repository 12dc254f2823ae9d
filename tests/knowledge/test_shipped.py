"""The knowledge that comes with the program."""

from __future__ import annotations

import pytest

import knowledge
from knowledge import check
from knowledge.check.dangerous import GRAVE

PEOPLE_CAN_BE_HURT = (
    "bursting-bottles", "gushing-bottles", "pressure-too-high", "unrated-vessel", "relief-valve-trouble",
    "foam-on-opening", "clogged-poppet", "krausen-blowoff", "keg-leak", "regulator-trouble", "boil-over",
    "chemical-exposure", "gas-in-room", "burner-fumes", "scald-or-cut", "electric-shock-risk",
)  # fmt: skip


def test_it_has_no_fault() -> None:
    assert [str(fault) for fault in check.run()] == []


@pytest.mark.parametrize("problem_id", PEOPLE_CAN_BE_HURT)
def test_a_problem_that_can_hurt_people_is_marked_dangerous(problem_id: str) -> None:
    problem = knowledge.shipped().problems[problem_id]
    assert problem.dangerous
    assert any(knowledge.shipped().cautions[name].signal in GRAVE for name in problem.cautions)


def test_every_grave_caution_says_who_comes_first() -> None:
    """Local codes, licensed practice, the maker's marking, or the emergency services."""
    first = ("local codes", "licensed", "emergency", "poison centre", "maker", "label")
    for name, caution in knowledge.shipped().cautions.items():
        assert caution.signal not in GRAVE or any(word in caution.help.lower() for word in first), name


def test_loading_the_same_files_twice_gives_the_same_revision() -> None:
    assert knowledge.load().revision == knowledge.load().revision
