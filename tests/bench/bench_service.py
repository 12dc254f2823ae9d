"""What the service does in a second, beside a call that does nothing, and what an open stream costs.

Run as a script: ``.venv/bin/python tests/bench/bench_service.py``. One process serves, one asks, over 32 kept
connections. Figures differ between machines; the ratios, taken in the same run, are what to compare.
"""

from __future__ import annotations

import asyncio
import json
import os
import sys
import tempfile
import time
from collections.abc import Callable
from itertools import count
from pathlib import Path
from statistics import quantiles

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.conftest import PostgresServer
from tests.serving import Customer, ServiceProcess, rows

CONNECTIONS, SECONDS, STREAMS = 32, 3.0, 2000
TEXT = "my ale is stuck at 1.020 for four days and it is 62F in the fermenter"
Request = Callable[[], bytes]


def request(method: str, path: str, body: object = None, token: str = "") -> bytes:
    """A whole HTTP request."""
    content = b"" if body is None else json.dumps(body).encode()
    lines = [f"{method} {path} HTTP/1.1", "Host: x", f"Content-Length: {len(content)}"]
    lines += ["Content-Type: application/json"] if content else []
    lines += [f"Authorization: Bearer {token}"] if token else []
    return "\r\n".join([*lines, "", ""]).encode() + content


async def exchange(reader: asyncio.StreamReader, writer: asyncio.StreamWriter, sent: bytes) -> None:
    writer.write(sent)
    head = await reader.readuntil(b"\r\n\r\n")
    assert head.split(b" ", 2)[1] in {b"200", b"201"}, head
    length = next(line for line in head.lower().split(b"\r\n") if line.startswith(b"content-length:"))
    await reader.readexactly(int(length.split(b":")[1]))


async def load(address: str, make: Request) -> tuple[float, float]:
    """Requests a second, and the time in ms within which 99 of 100 were answered."""
    host, port = address.removeprefix("http://").split(":")
    ends, took = time.perf_counter() + SECONDS, []

    async def client() -> None:
        reader, writer = await asyncio.open_connection(host, int(port))
        while time.perf_counter() < ends:
            begun = time.perf_counter()
            await exchange(reader, writer, make())
            took.append((time.perf_counter() - begun) * 1000)
        writer.close()

    await asyncio.gather(*(client() for _ in range(CONNECTIONS)))
    return len(took) / SECONDS, quantiles(took, n=100)[98]


def calls(service: ServiceProcess) -> dict[str, Request]:
    """What is asked, by name. Messages go to many chats in turn, so that none fills up."""
    customers = [Customer(service.address) for _ in range(400)]
    for customer in customers:
        customer.open()
    number = count()

    def message() -> bytes:
        this = next(number)
        customer = customers[this % len(customers)]
        said = {"client_id": f"m{this}", "text": TEXT}
        return request("POST", f"/api/chats/{customer.chat}/messages", said, customer.token)

    return {
        "alive": lambda: request("GET", "/healthz"),
        "consult, nothing stored": lambda: request("POST", "/api/consult", {"text": TEXT}),
        "open a chat": lambda: request("POST", "/api/chats", {}, os.urandom(16).hex()),
        "open a chat with a text": lambda: request("POST", "/api/chats", {"text": TEXT}, os.urandom(16).hex()),
        "message": message,
    }


async def streams(service: ServiceProcess) -> None:
    """What open streams cost, and how soon all of them hear of an event."""
    customer = Customer(service.address)
    customer.open()
    before = service.memory()
    host, port = service.address.removeprefix("http://").split(":")
    readers, writers = [], []
    for _ in range(STREAMS):
        reader, writer = await asyncio.open_connection(host, int(port))
        writer.write(request("GET", f"/api/chats/{customer.chat}/events", token=customer.token))
        await reader.readuntil(b"retry:")
        readers.append(reader)
        writers.append(writer)
    each = (service.memory() - before) / STREAMS / 1024
    said = time.perf_counter()
    heard = [asyncio.create_task(reader.readuntil(b"event: consultation")) for reader in readers]
    times = []
    for task in heard:
        task.add_done_callback(lambda _task: times.append((time.perf_counter() - said) * 1000))
    await asyncio.to_thread(customer.say, TEXT)
    await asyncio.gather(*heard)
    for writer in writers:
        writer.close()
    print(f"{STREAMS} streams: {each:.0f} KiB each; all heard of an event within {max(times):.0f} ms")


def bench(name: str, url: str, folder: Path) -> None:
    service = ServiceProcess(folder, url, streams_per_chat=STREAMS).start()
    try:
        base = 0.0
        for what, make in calls(service).items():
            rate, slow = asyncio.run(load(service.address, make))
            base = base or rate
            print(f"{name:10} {what:26} {rate:7.0f}/s  {rate / base:5.2f}  99 of 100 within {slow:5.0f} ms")
        asyncio.run(streams(service))
        print(f"{name:10} events stored: {rows(url, 'select count(*) from events')[0][0]}")
    finally:
        service.end()


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as made:
        bench("SQLite", f"sqlite:///{made}/chats.sqlite3", Path(made))
        postgres = PostgresServer()
        try:
            bench("PostgreSQL", postgres.create(), Path(made))
        finally:
            postgres.stop()
