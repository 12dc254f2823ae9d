"""Consultations and calculations that store nothing."""

from __future__ import annotations

import asyncio
import json
import threading

import pytest

import calculators
from calculators import pictures
from service.consultation import Turn
from service.consulting.asking import ask
from service.consulting.drawing import Drawing, ManyPictures
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


def test_a_picture_comes_as_svg_in_words_and_as_a_table(call) -> None:
    inputs = {"temperature": "38 degF", "gauge_pressure": "12 psi"}
    answer = call("POST", f"{EQUILIBRIUM}/picture?units=us", json=inputs)
    expected = pictures.draw("carbonation-curves", inputs, "us")
    assert answer.json() == json.loads(json.dumps({**expected._asdict(), "table": expected.table._asdict()}))
    assert "38 °F and 12 psi" in answer.json()["alternative"]


def test_the_list_tells_which_calculators_have_a_picture(call) -> None:
    listed = {each["name"]: each["picture"] for each in call("GET", "/api/calculators").json()["calculators"]}
    assert {name for name, picture in listed.items() if picture} == pictures.pictured()


@pytest.mark.parametrize("name", ["none", "dilution"])
def test_a_calculator_without_a_picture_is_told_with_where_to_look(call, name) -> None:
    refused = call("POST", f"/api/calculators/{name}/picture", json={})
    assert refused.status_code == 404
    assert "GET /api/calculators tells which" in refused.json()["detail"]


@pytest.mark.parametrize(
    ("inputs", "units", "field"),
    [({"temperature": "5000 degC", "carbonation": 2.5}, "us", "inputs.temperature"), ({}, "furlongs", "query.units")],
)
def test_a_picture_of_what_cannot_be_is_refused_by_name(call, inputs, units, field) -> None:
    refused = call("POST", f"{EQUILIBRIUM}/picture?units={units}", json=inputs)
    assert refused.status_code == 422
    assert [error["field"].replace("…", "query") for error in refused.json()["errors"]] == [field]


def test_more_pictures_than_can_wait_are_refused_and_the_rest_are_drawn() -> None:
    drawing, released = Drawing(most=2), threading.Event()

    async def three_at_once() -> list[object]:
        waiting = [asyncio.create_task(drawing.make(released.wait)) for _ in range(3)]
        await asyncio.wait(waiting, return_when=asyncio.FIRST_COMPLETED)
        released.set()
        return await asyncio.gather(*waiting, return_exceptions=True)

    *drawn, refused = asyncio.run(three_at_once())
    drawing.close()
    assert drawn == [True, True]
    assert isinstance(refused, ManyPictures)


def test_a_fact_of_an_earlier_turn_that_is_no_longer_known_does_not_stop_the_chat(services) -> None:
    turns = [Turn(text="my keg leaks", facts={"a_fact_of_an_earlier_revision": 1}), Turn(text="it still does")]
    without = [Turn(text="my keg leaks"), Turn(text="it still does")]
    assert ask(turns, services.knowledge, None) == consult(without, services.knowledge, None)
