"""The log of a running service: one JSON object a line, with nothing in it that a customer wrote."""

from __future__ import annotations

import json
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from tests.serving import HTTP, Customer, ServiceProcess

MARKER = "quillon-marker-word"


@pytest.fixture(scope="module")
def traffic(tmp_path_factory: pytest.TempPathFactory) -> tuple[ServiceProcess, Customer]:
    """A service that has answered all kinds of calls, and was stopped."""
    folder: Path = tmp_path_factory.mktemp("logs")
    service = ServiceProcess(folder, f"sqlite:///{folder / 'chats.sqlite3'}", log_level="DEBUG").start()
    customer = Customer(service.address)
    try:
        customer.open(text=MARKER)
        customer.say(MARKER, facts={"beer_temperature": "62 degF"})
        customer.say(MARKER, facts={MARKER: MARKER})
        customer.events(most=2)
        HTTP.get(f"{service.address}/{MARKER}?{MARKER}={MARKER}")
        HTTP.post(
            f"{service.address}/api/consult", content=f"{{{MARKER}\n", headers={"Content-Type": "application/json"}
        )
        HTTP.request(MARKER, f"{service.address}/api/consult", headers={"X-Word": MARKER})
        HTTP.get(f"{service.address}/api/calculators/%0a%0dforged")
    finally:
        service.stop()
    return service, customer


def test_every_line_is_one_json_object_with_its_time_in_utc(traffic) -> None:
    service, _ = traffic
    for line in service.log.read_text().splitlines():
        assert datetime.fromisoformat(json.loads(line)["time"]).utcoffset() == timedelta(0)


def test_no_word_of_a_customer_and_no_token_is_logged(traffic) -> None:
    service, customer = traffic
    text = service.log.read_text()
    assert MARKER not in text
    assert customer.token not in text


def test_a_request_is_one_line_with_its_route_instead_of_its_address(traffic) -> None:
    service, customer = traffic
    told = [line for line in service.lines() if line["logger"] == "spile.requests"]
    assert {"/api/chats", "/api/chats/{chat_id}/messages", "/api/chats/{chat_id}/events"} <= {
        line["route"] for line in told
    }
    assert all(len(line["request"]) == 16 and line["status"] and line["ms"] >= 0 for line in told)
    assert customer.chat not in service.log.read_text()
