"""Every error is a problem detail (RFC 9457) that names the field and the fix and repeats nothing of what was sent."""

from __future__ import annotations

import json
import logging

import pytest

from service.web.logs import JsonLines

MARKER = "quillon-marker-word"
CONSULT = "/api/consult"
JSON = {"Content-Type": "application/json"}


def send(call, body: bytes, path: str = CONSULT, kind: str = "application/json"):
    return call("POST", path, content=body, headers={"Content-Type": kind})


def fields(response) -> dict[str, str]:
    return {error["field"]: error["message"] for error in response.json()["errors"]}


@pytest.mark.parametrize(
    ("method", "path", "status"),
    [
        ("GET", "/api/nothing-here", 404),
        ("POST", "/nothing-here", 404),
        ("GET", "/widget/nothing-here.js", 404),
        ("POST", "/api/calculators/no-such-calculator", 404),
        ("PUT", CONSULT, 405),
        ("PUT", "/api/chats/x", 405),
        ("POST", "/healthz", 405),
        ("POST", "/docs", 405),
    ],
)
def test_what_is_not_there_or_not_taken_is_told_as_a_problem(call, method, path, status) -> None:
    answer = call(method, path, content=b"{}", headers=JSON)
    assert (answer.status_code, answer.headers["content-type"]) == (status, "application/problem+json")
    assert {"type", "title", "status", "detail"} <= set(answer.json())
    assert answer.json()["status"] == status


@pytest.mark.parametrize(("method", "path", "allowed"), [("PUT", CONSULT, "POST"), ("POST", "/healthz", "GET")])
def test_a_method_that_is_not_taken_is_told_with_those_that_are(call, method, path, allowed) -> None:
    assert allowed in call(method, path).headers["allow"]


@pytest.mark.parametrize(
    "kind", ["text/plain", "application/x-www-form-urlencoded", "multipart/form-data", "text/json"]
)
def test_a_body_of_another_kind_than_json_is_refused_as_such(call, kind) -> None:
    assert send(call, b'{"text":"hello"}', kind=kind).status_code == 415


def test_a_content_type_with_a_charset_is_json_too(call) -> None:
    assert send(call, b'{"text":"hello"}', kind="Application/JSON; charset=utf-8").status_code == 200


@pytest.mark.parametrize(
    ("body", "field", "message"),
    [
        ({}, "body", "says nothing: send text, or facts, or both"),
        ({"text": "   "}, "body", "says nothing: send text, or facts, or both"),
        ({"text": 5}, "text", "must be text in quotes"),
        ({"text": None}, "text", "must be text in quotes"),
        ({"text": "a" * 4001}, "text", "is too long: at most 4000 characters (Unicode code points)"),
        ({"text": "a", "units": "furlongs"}, "units", "must be 'us' or 'metric'"),
        ({"text": "a", "mood": MARKER}, "body", "has a field this call does not know: leave it out"),
        ({"text": "a", "facts": []}, "facts", "must be an object of names and values"),
        ({"facts": {f"f{n}": 1 for n in range(65)}}, "facts", "has too many entries: at most 64"),
        ({"facts": {"beer_temperature": "9" * 201}}, "facts.beer_temperature", "is too long: at most 200 characters"),
        ({"facts": {"beer_temperature": [62]}}, "facts.beer_temperature", 'must be a number, text such as "62 degF"'),
        ({"facts": {"beer_temperature": {}}}, "facts.beer_temperature", "must be a number"),
        ({"facts": {"beer_temperature": {"value": True}}}, "facts.beer_temperature", "must be a number"),
        ({"facts": {"beer_temperature": {"value": 1, "mood": 1}}}, "facts.beer_temperature", "must be a number"),
        ({"facts": {"beer_temperature": True}}, "facts.beer_temperature", "must be a number in degC"),
        ({"facts": {"beer_temperature": "62 furlongs"}}, "facts.beer_temperature", ""),
        ({"facts": {"beer_temperature": 5000}}, "facts.beer_temperature", "is outside what is possible here"),
        ({"facts": {MARKER: 1}}, "facts.…", "is not a fact"),
        ([], "body", "must be a JSON object"),
        ("text", "body", "must be a JSON object"),
    ],
)
def test_a_field_that_cannot_be_taken_is_named_with_what_to_send_instead(call, body, field, message) -> None:
    refused = call("POST", CONSULT, json=body)
    assert refused.status_code == 422
    assert message in fields(refused)[field]


def test_text_is_counted_in_code_points_not_in_bytes(call) -> None:
    assert call("POST", CONSULT, json={"text": "🍺" * 4000}).status_code == 200


def test_every_field_that_is_wrong_is_named_at_once(call) -> None:
    assert set(fields(call("POST", CONSULT, json={"text": 1, "units": 2, "facts": 3}))) == {"text", "units", "facts"}


@pytest.mark.parametrize(
    ("path", "body"),
    [
        (CONSULT, {"text": MARKER, "units": MARKER}),
        (CONSULT, {"text": [MARKER]}),
        (CONSULT, {"text": MARKER * 2000}),
        (CONSULT, {MARKER: MARKER}),
        (CONSULT, {"facts": {MARKER: MARKER}}),
        (CONSULT, {"facts": {MARKER: {MARKER: MARKER}}}),
        (CONSULT, {"facts": {MARKER * 9: 1}}),
        (CONSULT, {"facts": {"beer_temperature": MARKER}}),
        (CONSULT, {"facts": {"beer_temperature": f"62 {MARKER}"}}),
        (CONSULT, {"facts": {"beer_temperature": {"value": 62, "unit": MARKER}}}),
        (CONSULT, {"facts": {"vessel_type": MARKER}}),
        (CONSULT, {"facts": {"vessel_type": {"unit": MARKER}}}),
        (CONSULT, {"facts": {"problem": MARKER}}),
        (CONSULT, {"facts": {"problem": {"unit": MARKER}}}),
        (CONSULT, {"facts": {"area": {"unit": MARKER}}}),
        ("/api/calculators/carbonation-equilibrium", {MARKER: 1}),
        ("/api/calculators/carbonation-equilibrium", {"temperature": MARKER, "carbonation": 2}),
        ("/api/calculators/carbonation-equilibrium", {"temperature": MARKER * 5, "carbonation": 2}),
        ("/api/calculators/carbonation-equilibrium", {"temperature": {"value": 3, "unit": MARKER}, "carbonation": 2}),
        ("/api/calculators/priming-sugar", {"sugar_type": MARKER, "beer_volume": MARKER}),
        (f"/api/calculators/{MARKER}", {}),
        (f"/api/{MARKER}", {}),
    ],
)
def test_an_error_repeats_nothing_of_what_was_sent_and_is_short(call, caplog, monkeypatch, path, body) -> None:
    caplog.handler.setFormatter(JsonLines())
    monkeypatch.setattr(logging.getLogger("httpx"), "disabled", True)  # the client's log, not ours
    with caplog.at_level(logging.DEBUG):
        refused = call("POST", path, json=body)
    assert refused.status_code in {404, 422}
    assert MARKER[:8] not in refused.text
    assert MARKER[:8] not in caplog.text
    assert len(refused.content) <= 4096


def test_a_fault_of_ours_is_a_problem_too_and_is_logged_without_what_was_sent(call, caplog, monkeypatch) -> None:
    def fails(*_given: object) -> None:
        raise RuntimeError(f"a fault that quotes {MARKER}")

    monkeypatch.setattr("service.consulting.asking.consult", fails)
    caplog.handler.setFormatter(JsonLines())
    failed = call("POST", CONSULT, json={"text": MARKER}, headers={"Origin": "https://shop.example"})
    assert (failed.status_code, failed.json()["type"]) == (500, "/docs#problem")
    assert failed.headers["access-control-allow-origin"] == "https://shop.example"
    [line] = [json.loads(line) for line in caplog.text.splitlines() if '"error"' in line]
    assert line["error"] == "RuntimeError"
    assert any("fails" in place for place in line["places"])
    assert MARKER not in failed.text + caplog.text
