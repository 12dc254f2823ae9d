"""Answers to the question just put, doubts, and second thoughts."""

from __future__ import annotations

import pytest

import knowledge
from service.understanding import understand
from service.understanding.corrections import corrected, kinds_of
from service.understanding.model import Fact, Understanding

KNOWN = knowledge.shipped()
assert KNOWN.reading is not None
KINDS = kinds_of(KNOWN.reading)


def answer(text: str, asked: str) -> Fact | None:
    return understand(text, KNOWN, asked).facts.get(asked)


def value(text: str, asked: str) -> object:
    fact = answer(text, asked)
    assert fact is not None
    return round(fact.value, 3) if isinstance(fact.value, float) else fact.value


@pytest.mark.parametrize(
    ("text", "asked", "read"),
    [
        ("1.050", "original_gravity", 1.05),
        ("about ten sixty", "original_gravity", 1.06),
        ("1050 I think", "original_gravity", 1.05),
        ("48", "original_gravity", 1.048),
        ("12 plato", "original_gravity", 1.048),
        ("68", "beer_temperature", 20.0),
        ("18", "beer_temperature", 18.0),
        ("20 C", "pitch_temperature", 20.0),
        ("15", "gauge_pressure", 1.034),
        ("0.8", "gauge_pressure", 0.8),
        ("3", "days_in_fermenter", 3.0),
        ("two weeks", "days_in_fermenter", 14.0),
        ("1.012 or so", "expected_final_gravity", 1.012),
        ("5 gallons", "batch_volume", 18.927),
        ("30", "batch_volume", 30.0),
    ],
)
def test_a_bare_figure_answers_the_question_just_put(text: str, asked: str, read: float) -> None:
    assert value(text, asked) == read


@pytest.mark.parametrize(
    "text",
    ["dunno", "no idea", "I don't know", "not sure sorry", "haven't measured it", "no clue mate", "I didn't take one"],
)
def test_not_knowing_is_an_answer(text: str) -> None:
    fact = answer(text, "original_gravity")
    assert fact is not None
    assert fact.value is None


@pytest.mark.parametrize(
    ("text", "read"), [("yes", True), ("yep it is", True), ("nope", False), ("no it isn't", False), ("aye", True)]
)
def test_yes_and_no(text: str, read: bool) -> None:
    assert value(text, "under_pressure") is read


def test_not_sure_is_neither_yes_nor_no() -> None:
    assert value("not sure", "under_pressure") is None


def test_a_choice_is_recognised_by_the_words_of_its_label() -> None:
    assert value("the glass one", "vessel_type") == "glass-carboy"
    assert value("a keg", "vessel_type") == "keg"


def test_a_figure_without_a_unit_that_could_be_two_things_is_asked_about() -> None:
    said = understand("12", KNOWN, "batch_volume")
    assert "batch_volume" not in said.facts
    assert [doubt.reason for doubt in said.doubts] == ["no-unit"]


def test_an_impossible_figure_is_doubted_not_used() -> None:
    said = understand("my beer is fermenting at 400 F", KNOWN)
    assert "beer_temperature" not in said.facts
    assert [doubt.reason for doubt in said.doubts] == ["out-of-range"]


def test_an_answer_may_tell_other_facts_too() -> None:
    facts = understand("1.050, and it's at 66F", KNOWN, "original_gravity").facts
    assert set(facts) == {"original_gravity", "beer_temperature"}


def known_after(*texts: str) -> dict[str, Fact]:
    known: dict[str, Fact] = {}
    for text in texts:
        known = corrected(known, understand(text, KNOWN), KINDS)
    return known


def test_a_figure_is_given_its_right_name_afterwards() -> None:
    known = known_after("my lager is at 68F", "no, that was the sample temperature")
    assert set(known) & {"beer_temperature", "sample_temperature"} == {"sample_temperature"}


def test_a_fact_is_given_its_right_figure_afterwards() -> None:
    known = known_after("OG was 1.051", "sorry I meant 1.015")
    assert {name: fact.value for name, fact in known.items()} == {"original_gravity": pytest.approx(1.015)}


def test_what_is_said_later_replaces_what_was_said_earlier() -> None:
    known = known_after("gravity now 1.020", "it's down to 1.014 now")
    assert known["current_gravity"].value == pytest.approx(1.014)


def test_nothing_is_moved_where_nothing_alike_was_said() -> None:
    before = {"batch_volume": Fact("batch_volume", 20.0, "L")}
    assert corrected(before, Understanding("", moved="sample_temperature"), KINDS) == before
