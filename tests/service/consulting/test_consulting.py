"""Consultations and calculations that store nothing."""

from __future__ import annotations

import pytest

import calculators
from service.consultation import Turn
from service.consulting.asking import ask
from service.desk import consult

SAID = {"text": "my ale is stuck at 1.020 and it is 62F in the fermenter", "units": "us"}
EQUILIBRIUM = "/api/calculators/carbonation-equilibrium"


def test_a_consultation_is_the_desks_own(call, services) -> None:
    answer = call("POST", "/api/consult", json=SAID)
    expected = consult([Turn(text=SAID["text"])], services.knowledge, "us")
    assert answer.json() == expected.model_dump(mode="json")


def test_the_same_words_get_the_same_bytes(call) -> None:
    assert call("POST", "/api/consult", json=SAID).content == call("POST", "/api/consult", json=SAID).content


def test_facts_alone_are_enough(call) -> None:
    facts = {"current_gravity": 1.02, "beer_temperature": {"value": 62, "unit": "degF"}, "original_gravity": None}
    answer = call("POST", "/api/consult", json={"facts": facts}).json()
    assert answer["facts"]["beer_temperature"]["value"] == pytest.approx(16.67, abs=0.01)
    assert answer["facts"]["original_gravity"]["value"] is None


@pytest.mark.parametrize("wrapped", [False, True])
def test_a_calculator_runs_as_it_does_without_a_server(call, wrapped) -> None:
    inputs = {"temperature": "38 degF", "gauge_pressure": {"value": 12, "unit": "psi"}}
    answer = call("POST", EQUILIBRIUM, json={"inputs": inputs} if wrapped else inputs)
    assert answer.status_code == 200
    assert answer.json() == calculators.run("carbonation-equilibrium", inputs).as_dict()


def test_a_calculation_can_be_sent_back_as_it_came(call) -> None:
    first = call("POST", EQUILIBRIUM, json={"temperature": "38 degF", "gauge_pressure": "12 psi"}).json()
    again = call("POST", EQUILIBRIUM, json={"inputs": first["inputs"]}).json()
    assert again["results"]["carbonation"]["value"] == pytest.approx(first["results"]["carbonation"]["value"])


def test_every_input_that_is_wrong_is_named(call) -> None:
    refused = call("POST", EQUILIBRIUM, json={"temperature": "5000 degC", "gauge_pressure": "much"})
    assert refused.status_code == 422
    assert {error["field"] for error in refused.json()["errors"]} == {"inputs.temperature", "inputs.gauge_pressure"}


def test_a_calculator_that_is_not_there_is_told_with_where_they_are_listed(call) -> None:
    assert "GET /api/calculators" in call("POST", "/api/calculators/none", json={}).json()["detail"]


def test_a_fact_of_an_earlier_turn_that_is_no_longer_known_does_not_stop_the_chat(services) -> None:
    turns = [Turn(text="my keg leaks", facts={"a_fact_of_an_earlier_revision": 1}), Turn(text="it still does")]
    without = [Turn(text="my keg leaks"), Turn(text="it still does")]
    assert ask(turns, services.knowledge, None) == consult(without, services.knowledge, None)
