"""The service as customers meet it: processes of its own, real databases, and people who talk to them."""

from __future__ import annotations

import json
import multiprocessing
import os
import re
import secrets
import signal
import sqlite3
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from multiprocessing.process import BaseProcess
from pathlib import Path
from typing import Any

import httpx
import psycopg

SPILE = Path(sys.executable).with_name("spile")
START_WITHIN_S = 120
HTTP = httpx.Client(timeout=20)
LISTENING = re.compile(r"listening on (http://[^\"]+)")
FORKING = multiprocessing.get_context("forkserver")
FORKING.set_forkserver_preload(["tests.warm"])


class ServiceProcess:
    """The service as a process of its own, on a free port. Stopped or killed, it can be started again.

    Usually it is forked from a process that has loaded everything already, because tests start many. With `command`
    it is `spile serve` itself, from nothing; `before` is what that is started by, such as strace.
    """

    def __init__(
        self, folder: Path, database: str, *, command: bool = False, before: tuple[str, ...] = (), **settings: object
    ) -> None:
        self.folder, self.database = folder, database
        self.before, self.command = before, command or bool(before)
        self.environment = {f"SPILE_{name.upper()}": str(value) for name, value in settings.items()}
        self.environment |= {"SPILE_PORT": "0", "SPILE_DATABASE": database}
        self.process: BaseProcess | subprocess.Popen[bytes] | None = None
        self.starts = 0

    @property
    def log(self) -> Path:
        """What this start of the process wrote to standard error."""
        return self.folder / f"log-{id(self)}-{self.starts}"

    @property
    def pid(self) -> int:
        """The number of the process."""
        assert self.process
        assert self.process.pid
        return self.process.pid

    def launch(self) -> None:
        """Start the process and return at once."""
        self.starts += 1
        self.log.touch()
        if self.command:
            with self.log.open("wb") as log:
                self.process = subprocess.Popen(
                    [*self.before, str(SPILE), "serve"],
                    env=os.environ | self.environment, stdout=subprocess.DEVNULL, stderr=log, cwd=self.folder,
                )  # fmt: skip
        else:
            self.process = FORKING.Process(target=_serve, args=(self.environment, str(self.log)))
            self.process.start()

    def start(self) -> ServiceProcess:
        """Start the process and wait until it serves."""
        self.launch()
        try:
            self._wait_until_ready()
        except BaseException:
            self.end()
            raise
        return self

    def _wait_until_ready(self) -> None:
        deadline = time.monotonic() + START_WITHIN_S
        while not (found := LISTENING.search(self.log.read_text())) or not _is_ready(found[1]):
            assert self.runs(), f"the service did not start: {self.log.read_text()}"
            assert time.monotonic() < deadline, "the service did not start in time"
            time.sleep(0.01)
        self.address = found[1]

    def runs(self) -> bool:
        """True while the process runs."""
        if isinstance(self.process, subprocess.Popen):
            return self.process.poll() is None
        return self.process is not None and self.process.is_alive()

    def wait(self, seconds: float) -> int:
        """Wait for the process to end; returns its exit code."""
        assert self.process
        if isinstance(self.process, subprocess.Popen):
            return self.process.wait(seconds)
        self.process.join(seconds)
        code = self.process.exitcode
        assert code is not None, f"the process did not end within {seconds} s"
        return code

    def signal(self, number: signal.Signals) -> None:
        """Send the process a signal."""
        os.kill(self.pid, number)

    def kill(self) -> None:
        """End it as a crash would: without a word of warning."""
        self.signal(signal.SIGKILL)
        self.wait(10)

    def stop(self) -> int:
        """Ask it to stop; returns its exit code."""
        self.signal(signal.SIGTERM)
        return self.wait(15)

    def end(self) -> None:
        """Make sure that it no longer runs."""
        if self.runs():
            self.kill()

    def lines(self) -> list[dict[str, Any]]:
        """The log, line by line."""
        return [json.loads(line) for line in self.log.read_text().splitlines()]

    def memory(self) -> int:
        """Resident memory in bytes."""
        status = Path(f"/proc/{self.pid}/status").read_text()
        found = re.search(r"VmRSS:\s+(\d+) kB", status)
        assert found
        return int(found[1]) * 1024


def _serve(environment: dict[str, str], log: str) -> None:
    """Serve, in a process that was forked."""
    with open(os.devnull, "wb") as nowhere, open(log, "wb", buffering=0) as file:
        os.dup2(nowhere.fileno(), 1)
        os.dup2(file.fileno(), 2)
    from service.web.server import serve
    from service.web.settings import settings

    serve(settings(environment))


def _is_ready(address: str) -> bool:
    try:
        return httpx.get(f"{address}/readyz", timeout=8).status_code == 200
    except httpx.TransportError:
        return False


@dataclass
class Customer:
    """Somebody with one chat, and the token that opens it."""

    address: str
    token: str = field(default_factory=lambda: secrets.token_urlsafe(32))
    chat: str = ""

    @property
    def authorization(self) -> dict[str, str]:
        """The header that shows the right to the chat."""
        return {"Authorization": f"Bearer {self.token}"}

    def open(self, **opening: Any) -> httpx.Response:
        """Open the chat, or try again to."""
        response = HTTP.post(f"{self.address}/api/chats", json=opening, headers=self.authorization)
        self.chat = response.json().get("id", self.chat)
        return response

    def say(self, text: str, client_id: str | None = None, **more: Any) -> httpx.Response:
        """Send a message."""
        said = {"client_id": client_id or secrets.token_hex(8), "text": text, **more}
        return HTTP.post(f"{self.address}/api/chats/{self.chat}/messages", json=said, headers=self.authorization)

    def read(self) -> httpx.Response:
        """The chat so far."""
        return HTTP.get(f"{self.address}/api/chats/{self.chat}", headers=self.authorization)

    @contextmanager
    def follow(self, after: int | None = None, timeout: float = 20) -> Iterator[httpx.Response]:
        """The open stream of the chat's events."""
        headers = self.authorization | ({} if after is None else {"Last-Event-ID": str(after)})
        place = f"{self.address}/api/chats/{self.chat}/events"
        with httpx.stream("GET", place, headers=headers, timeout=timeout) as response:
            yield response

    def events(self, after: int | None = None, most: int = 1000, timeout: float = 20) -> list[Event]:
        """The next events; the stream is cut after `most` of them."""
        found: list[Event] = []
        with self.follow(after, timeout) as response:
            for event in events_of(response):
                found.append(event)
                if len(found) == most:
                    break
        return found


@dataclass(frozen=True)
class Event:
    """One server-sent event."""

    number: int
    kind: str
    data: str


def events_of(response: httpx.Response) -> Iterator[Event]:
    """The events of a stream, parsed as WHATWG HTML 9.2.6 says."""
    lines: dict[str, list[str]] = {}
    for line in lines_of(response):
        if line:
            name, _, value = line.partition(":")
            lines.setdefault(name, []).append(value.removeprefix(" "))
        elif "data" in lines:
            yield Event(int(lines["id"][-1]), lines["event"][-1], "\n".join(lines["data"]))
            lines = {}
        else:
            lines = {}


def lines_of(response: httpx.Response) -> Iterator[str]:
    """Lines that end in CR, LF or CRLF, and in nothing else: Python's own splitting knows more line ends."""
    rest = ""
    for piece in response.iter_text():
        *whole, rest = re.split("\r\n|\r|\n", rest + piece)
        yield from whole


def wait_for(happened: Callable[[], bool], seconds: float) -> None:
    """Wait until it has happened."""
    deadline = time.monotonic() + seconds
    while not happened():
        assert time.monotonic() < deadline, "it did not happen in time"
        time.sleep(0.05)


def rows(database: str, query: str) -> list[tuple[Any, ...]]:
    """Rows straight from the database, past the service."""
    if database.startswith("sqlite"):
        connection = sqlite3.connect(database.removeprefix("sqlite:///"))
        try:
            return connection.execute(query).fetchall()
        finally:
            connection.close()
    with psycopg.connect(database.replace("+psycopg", "")) as postgres:
        return postgres.execute(query).fetchall()  # type: ignore[arg-type]
