"""V4, V5, D3: what happens when the database does not answer, cannot store, or may not be trusted."""

from __future__ import annotations

import os
import signal
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from service.storage.engine import open_database
from service.storage.errors import CannotOpen
from tests.conftest import PostgresServer
from tests.serving import HTTP, Customer, wait_for


@pytest.fixture
def server() -> Iterator[PostgresServer]:
    """A PostgreSQL server that a test may mistreat."""
    own = PostgresServer()
    yield own
    if own.process.poll() is None:
        signal_all(own, signal.SIGCONT)
        own.stop()


def signal_all(server: PostgresServer, number: signal.Signals) -> None:
    """Send a signal to the server and to every process of it."""
    pid = server.process.pid
    children = Path(f"/proc/{pid}/task/{pid}/children").read_text().split()
    for each in (pid, *map(int, children)):
        os.kill(each, number)


def test_a_database_that_hangs_or_dies_is_told_in_seconds_and_survived(make, server) -> None:
    url = server.create()
    service = make(url).start()
    customer = Customer(service.address)
    customer.open()
    signal_all(server, signal.SIGSTOP)
    asked = time.monotonic()
    refused = customer.say("my keg leaks", "m1")
    assert time.monotonic() - asked < 8  # five seconds of patience, and a busy machine
    assert (refused.status_code, refused.headers["retry-after"]) == (503, "2")
    assert refused.headers["content-type"] == "application/problem+json"
    assert HTTP.get(f"{service.address}/healthz").status_code == 200
    assert HTTP.get(f"{service.address}/readyz").status_code == 503
    signal_all(server, signal.SIGCONT)
    wait_for(lambda: customer.say("my keg leaks", "m1").status_code == 201, seconds=20)
    server.stop(signal.SIGKILL)
    assert customer.say("it still does", "m2").status_code == 503
    server.start()
    wait_for(lambda: customer.say("it still does", "m2").status_code == 201, seconds=20)
    assert [said["client_id"] for said in customer.read().json()["messages"]] == ["m1", "m2"]


def test_a_postgresql_that_may_lose_commits_is_refused(server) -> None:
    url = server.create()
    server.stop()
    server.start("-c", "fsync=off", "-c", "full_page_writes=off")
    with pytest.raises(CannotOpen, match=r"runs with fsync and full_page_writes off .* Turn it on"):
        open_database(url)


def test_a_postgresql_that_is_not_there_is_told_without_its_password(tmp_path) -> None:
    with pytest.raises(CannotOpen, match="does not answer") as refused:
        open_database(f"postgresql://shop:secret@/chats?host={tmp_path}")
    assert "secret" not in str(refused.value)


def test_a_full_disk_refuses_writes_and_goes_on_reading(make, sqlite_url) -> None:
    service = make(sqlite_url, before=("bash", "-c", 'ulimit -f 400; trap "" XFSZ; exec "$@"', "-")).start()
    customer = Customer(service.address)
    customer.open()
    answers = []
    while not answers or answers[-1] == 201:
        answers.append(customer.say("very long words " * 240).status_code)
        assert len(answers) < 150
    assert answers[-1] == 503
    assert len(customer.read().json()["messages"]) == len(answers) - 1
    assert HTTP.get(f"{service.address}/healthz").status_code == 200
