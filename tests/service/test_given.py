"""Given facts are taken or refused; a refusal names the fact and the fix."""

from __future__ import annotations

from typing import Any

import pytest

import knowledge
from service.given import BadFact, read_given
from service.understanding.model import Fact


def given(name: str, value: Any) -> Fact:
    return read_given({name: value}, knowledge.shipped())[name]


@pytest.mark.parametrize(
    ("name", "value", "taken"),
    [
        ("beer_temperature", "68 degF", 20.0),
        ("beer_temperature", 20, 20.0),
        ("beer_temperature", {"value": 68, "unit": "degF"}, 20.0),
        ("gauge_pressure", "15 psi", 1.034),
        ("batch_volume", "5 imp gal", 22.73),
        ("original_gravity", "1,050", 1.050),
        ("under_pressure", "yes", True),
        ("vessel_type", "keg", "keg"),
    ],
)
def test_a_figure_may_come_in_any_unit_of_its_kind(name: str, value: Any, taken: Any) -> None:
    found = given(name, value)
    assert found.value == (pytest.approx(taken, abs=0.005) if isinstance(taken, float) else taken)


@pytest.mark.parametrize(
    ("name", "value", "said"),
    [
        ("beer_temperature", "62 degF", "62 °F"),
        ("original_gravity", "1.050 SG", "1.050"),
        ("batch_volume", "5 gal", "5 US gal"),
    ],
)
def test_a_given_figure_is_repeated_as_a_person_writes_it(name: str, value: str, said: str) -> None:
    assert given(name, value).said == said


@pytest.mark.parametrize("nothing", [None, "not known", "unknown", ""])
def test_not_known_is_an_answer_too(nothing: Any) -> None:
    assert given("rated_pressure", nothing) == Fact("rated_pressure", None, said="not known")


@pytest.mark.parametrize(
    ("name", "value", "message"),
    [
        ("colour", "red", "colour: is not a fact Spile knows"),
        ("original_gravity", "banana", "original_gravity: 'banana' is not a figure. Write for example '1.050'"),
        ("original_gravity", 5.2, "original_gravity: is outside what is possible here"),
        ("original_gravity", True, "original_gravity: must be a number in SG"),
        ("original_gravity", float("nan"), "original_gravity: "),
        ("gauge_pressure", "12", "gauge_pressure: say the unit too"),
        ("gauge_pressure", "12 degF", "gauge_pressure: "),
        ("beer_temperature", {"value": "warm"}, "beer_temperature: must be a number, text such as"),
        ("vessel_type", "teapot", "vessel_type: must be one of "),
        ("under_pressure", "maybe", "under_pressure: must be yes or no"),
    ],
)
def test_a_fact_that_cannot_be_taken_is_refused_by_name(name: str, value: Any, message: str) -> None:
    with pytest.raises(BadFact) as refused:
        given(name, value)
    assert str(refused.value).startswith(message)
    assert refused.value.field == name
