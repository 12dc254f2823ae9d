"""A customer may ask for a person at any time, and the desk goes on helping meanwhile."""

from __future__ import annotations

import pytest

import knowledge
from service.desk import Turn, consult
from service.given import BadFact


def test_a_person_is_told_and_the_question_under_way_stays() -> None:
    said = Turn(text="my ale has been stuck at 1.020 for four days")
    before, after = (consult(turns, knowledge.shipped()) for turns in ([said], [said, Turn(facts={"person": True})]))
    assert after.handover is not None
    assert after.handover.reason == "asked"
    assert after.question == before.question


def test_a_person_may_be_the_first_thing_asked_for() -> None:
    answer = consult([Turn(facts={"person": True})], knowledge.shipped())
    assert answer.handover is not None
    assert (answer.question, answer.problems) == (None, [])


@pytest.mark.parametrize("words", ["can I speak to someone please", "I want to talk to a real person", "human please"])
def test_a_person_may_be_asked_for_in_words(words: str) -> None:
    answer = consult([Turn(text="my ale has been stuck at 1.020 for four days"), Turn(text=words)], knowledge.shipped())
    assert answer.handover is not None
    assert answer.handover.reason == "asked"
    assert answer.problems[0].id == "stalled-ferment"


def test_asking_for_a_person_is_yes_or_no() -> None:
    with pytest.raises(BadFact, match="person: must be true or false"):
        consult([Turn(facts={"person": "please"})], knowledge.shipped())
