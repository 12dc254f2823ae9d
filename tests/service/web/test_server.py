"""The running server: it starts or says why not, and waits for nobody for ever."""

from __future__ import annotations

import asyncio
import socket
from pathlib import Path

import pytest
import uvicorn

from service.web import protocol
from tests.serving import ServiceProcess


@pytest.mark.parametrize("name", ["port", "origins"])
def test_a_start_that_cannot_be_is_one_clear_line_and_exit_code_2(tmp_path: Path, name) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        setting = {"port": taken.getsockname()[1], "origins": "*"}[name]
        service = ServiceProcess(tmp_path, f"sqlite:///{tmp_path}/chats.sqlite3", command=True)
        service.environment[f"SPILE_{name.upper()}"] = str(setting)
        service.launch()
        assert service.wait(60) == 2
    last = service.log.read_text().splitlines()[-1]
    assert last.startswith("spile: ")
    assert {"port": "cannot be listened on: Address already in use", "origins": "SPILE_ORIGINS"}[name] in last


async def answered(_scope, _receive, send) -> None:
    await send({"type": "http.response.start", "status": 204, "headers": []})
    await send({"type": "http.response.body"})


def test_a_request_whose_head_comes_a_byte_at_a_time_is_given_up(monkeypatch) -> None:
    monkeypatch.setattr(protocol, "SLOWEST_HEAD_S", 0.5)
    answer = asyncio.run(drip(b"GET / HTTP/1.1\r\nX-Slow: " + b"a" * 200, every=0.05))
    assert answer[:13] in {b"HTTP/1.1 408 ", b""}  # nothing, where we were cut off while still sending


def test_a_connection_on_which_nothing_comes_is_given_up(monkeypatch) -> None:
    monkeypatch.setattr(protocol, "SLOWEST_HEAD_S", 0.3)
    assert asyncio.run(drip(b"", every=0)).startswith(b"HTTP/1.1 408 ")


def test_requests_on_one_connection_each_have_the_whole_time(monkeypatch) -> None:
    monkeypatch.setattr(protocol, "SLOWEST_HEAD_S", 0.8)
    four = b"GET / HTTP/1.1\r\nHost: x\r\n\r\n" * 4
    assert asyncio.run(drip(four, every=0.01)).count(b"HTTP/1.1 204 ") == 4


async def drip(request: bytes, every: float) -> bytes:
    """Send a request byte by byte to a server of this process; what came back until the connection ended."""
    config = uvicorn.Config(
        answered, http=protocol.BoundedProtocol, ws="none", lifespan="off", log_config=None, timeout_keep_alive=1
    )
    server = uvicorn.Server(config)
    with socket.create_server(("127.0.0.1", 0)) as listening:
        serving = asyncio.create_task(server.serve([listening]))
        reader, writer = await asyncio.open_connection(*listening.getsockname())
        sending = asyncio.create_task(send_slowly(writer, request, every))
        answer = await asyncio.wait_for(until_the_end(reader), 8)
        sending.cancel()
        writer.close()
        server.should_exit = True
        await serving
    return answer


async def until_the_end(reader: asyncio.StreamReader) -> bytes:
    answer = b""
    try:
        while piece := await reader.read(65536):
            answer += piece
    except ConnectionResetError:
        pass
    return answer


async def send_slowly(writer: asyncio.StreamWriter, request: bytes, every: float) -> None:
    for place in range(len(request)):
        writer.write(request[place : place + 1])
        await asyncio.sleep(every)
