"""Requests generated from the service's own description, good and bad: no fault of ours, no answer undescribed."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, given, settings
from schemathesis import GenerationMode
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    negative_data_rejection,
    response_schema_conformance,
    status_code_conformance,
    unsupported_method,
)

from tests.serving import Customer, ServiceProcess

CHECKS = [
    not_a_server_error,
    status_code_conformance,
    content_type_conformance,
    response_schema_conformance,
    negative_data_rejection,
    unsupported_method,
]
EXAMPLES = 50
CALLS = [
    ("POST", "/api/consult"),
    ("GET", "/api/calculators"),
    ("POST", "/api/calculators/{name}"),
    ("POST", "/api/calculators/{name}/picture"),
    ("POST", "/api/chats"),
    ("GET", "/api/chats/{chat_id}"),
    ("DELETE", "/api/chats/{chat_id}"),
    ("POST", "/api/chats/{chat_id}/messages"),
    ("GET", "/api/chats/{chat_id}/events"),
    ("GET", "/healthz"),
    ("GET", "/readyz"),
]
WITHOUT_INPUT = {"/api/calculators", "/healthz", "/readyz"}
GOOD = [(method, path, GenerationMode.POSITIVE) for method, path in CALLS]
BAD = [(method, path, GenerationMode.NEGATIVE) for method, path in CALLS if path not in WITHOUT_INPUT]


@pytest.fixture(scope="module")
def customer(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Customer]:
    """A customer with an open chat."""
    folder: Path = tmp_path_factory.mktemp("generated")
    service = ServiceProcess(folder, f"sqlite:///{folder / 'chats.sqlite3'}", stream_minutes=0.002).start()
    customer = Customer(service.address)
    customer.open(text="my keg leaks")
    yield customer
    service.end()


@pytest.fixture(scope="module")
def described(customer: Customer) -> Any:
    """The service's description of itself, as requests can be generated from it."""
    return schemathesis.openapi.from_url(f"{customer.address}/openapi.json")


@pytest.mark.parametrize(("method", "path", "mode"), [*GOOD, *BAD])
def test_generated_requests_are_answered_as_described(described, customer, times, method, path, mode) -> None:
    own = customer.authorization if path.startswith("/api/chats/") else {}

    @given(case=described[path][method].as_strategy(generation_mode=mode))
    @settings(
        max_examples=EXAMPLES * times,
        deadline=None,
        derandomize=True,
        database=None,
        suppress_health_check=list(HealthCheck),
    )
    def answer_is_as_described(case: Any) -> None:
        if "chat_id" in case.path_parameters and method != "DELETE":
            case.path_parameters["chat_id"] = customer.chat
        if "name" in case.path_parameters:
            case.path_parameters["name"] = "carbonation-equilibrium"
        case.call_and_validate(headers=own, checks=CHECKS, timeout=20)

    answer_is_as_described()


def test_every_call_is_tried(described) -> None:
    paths = described.raw_schema["paths"]
    assert {(method.upper(), path) for path, methods in paths.items() for method in methods} == set(CALLS)
