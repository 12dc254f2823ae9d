"""How much is taken of a body, of headers, and for how long: counted on a real connection."""

from __future__ import annotations

import asyncio
import socket
from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest

from service.web.limits import BodyLimit
from tests.serving import HTTP, ServiceProcess

CONSULT = "/api/consult"


@pytest.fixture(scope="module")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[ServiceProcess]:
    """A service as a process."""
    folder: Path = tmp_path_factory.mktemp("limits")
    started = ServiceProcess(folder, f"sqlite:///{folder / 'chats.sqlite3'}").start()
    yield started
    started.end()


def raw(service: ServiceProcess, request: bytes) -> bytes:
    """Send bytes, and read the answer until the connection ends."""
    url = httpx.URL(service.address)
    with socket.create_connection((url.host, url.port), timeout=10) as connection:
        try:
            for start in range(0, len(request), 65536):
                connection.sendall(request[start : start + 65536])
        except (BrokenPipeError, ConnectionResetError):
            pass  # refused before all of it was sent
        answer = b""
        try:
            while piece := connection.recv(65536):
                answer += piece
        except ConnectionResetError:
            pass
        return answer


def pieces(count: int, size: int) -> Iterator[bytes]:
    yield b'{"text":"'
    for _ in range(count):
        yield b"a" * size


def test_a_body_over_the_limit_is_refused_by_its_content_length(service) -> None:
    refused = HTTP.post(service.address + CONSULT, content=b"a" * 65537, headers={"Content-Type": "application/json"})
    assert (refused.status_code, refused.json()["type"]) == (413, "/docs#too-large")


def test_a_body_without_a_content_length_is_counted_as_it_comes_and_costs_no_memory(service) -> None:
    before = service.memory()
    try:
        status = HTTP.post(
            service.address + CONSULT, content=pieces(160, 65536), headers={"Content-Type": "application/json"}
        ).status_code
    except httpx.TransportError:  # the connection may be closed while we still send
        status = 413
    assert status == 413
    assert service.memory() - before < 2 * 2**20
    assert HTTP.get(f"{service.address}/healthz").status_code == 200


@pytest.mark.parametrize("length", [b"-1", b"1e3", b"99999999999999999999", b"5, 6", b""])
def test_a_false_content_length_does_no_harm(service, length) -> None:
    head = b"POST /api/consult HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nContent-Length: "
    answer = raw(service, head + length + b'\r\nConnection: close\r\n\r\n{"text":"x"}')
    assert answer.split(b" ")[1] in {b"400", b"413", b"422"}
    assert HTTP.get(f"{service.address}/healthz").status_code == 200


@pytest.mark.parametrize(
    "head",
    [
        b"GET /" + b"a" * 10_000_000 + b" HTTP/1.1\r\nHost: x\r\n\r\n",
        b"GET / HTTP/1.1\r\nHost: x\r\nX-Long: " + b"a" * 10_000_000 + b"\r\n\r\n",
        b"GET / HTTP/1.1\r\nHost: x\r\n" + b"X-Many: a\r\n" * 500_000 + b"\r\n",
    ],
    ids=["path", "one header", "many headers"],
)
def test_ten_megabytes_of_path_or_headers_are_refused_and_cost_no_memory(service, head) -> None:
    before = service.memory()
    assert raw(service, head)[:13] in {b"HTTP/1.1 431 ", b""}  # nothing, where we were cut off while still sending
    assert service.memory() - before < 3 * 2**20
    assert HTTP.get(f"{service.address}/healthz").status_code == 200


def test_a_body_that_comes_too_slowly_is_given_up() -> None:
    async def app(_scope, receive, _send) -> None:
        while (await receive()).get("more_body"):
            pass

    async def drip():
        await asyncio.sleep(0.05)
        return {"type": "http.request", "body": b"a", "more_body": True}

    async def attempt() -> None:
        await BodyLimit(app, slowest=0.3)({"type": "http", "headers": []}, drip, None)

    with pytest.raises(Exception, match=r"The body must arrive within 0\.3 s"):
        asyncio.run(attempt())
