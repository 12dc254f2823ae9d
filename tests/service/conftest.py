"""The application without a socket: real knowledge, a real SQLite file, HTTP calls straight into it."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import httpx
import pytest

if TYPE_CHECKING:
    from service.web.services import Services

Call = Callable[..., httpx.Response]
TOKEN = "a-token-of-this-test-with-128-bits-or-more"


@pytest.fixture
def sqlite_url(tmp_path: Path) -> str:
    """The address of a SQLite file that does not exist yet."""
    return f"sqlite:///{tmp_path / 'chats.sqlite3'}"


@pytest.fixture
def services(sqlite_url: str) -> Iterator[Services]:
    """The parts of a service on a fresh database."""
    from service.web.app import open_services
    from service.web.settings import settings

    opened = open_services(settings({}, database=sqlite_url, origins="https://shop.example"))
    yield opened
    opened.close()


@pytest.fixture
def call(services: Services) -> Call:
    """Make one HTTP call: call("POST", "/api/consult", json=…)."""
    from service.web.app import create_api, wrap

    app = wrap(create_api(services), services.settings)

    def make(method: str, path: str, **options: Any) -> httpx.Response:
        async def once() -> httpx.Response:
            transport = httpx.ASGITransport(app=app, raise_app_exceptions=False)
            async with httpx.AsyncClient(transport=transport, base_url="http://test") as client:
                return await client.request(method, path, **options)

        return asyncio.run(once())

    return make


@pytest.fixture
def chat(call: Call) -> Callable[..., httpx.Response]:
    """Make a call on one chat, with its token: chat("POST", "/messages", json=…)."""
    bearer = {"Authorization": f"Bearer {TOKEN}"}
    chat_id = call("POST", "/api/chats", json={}, headers=bearer).json()["id"]

    def make(method: str, below: str = "", *, headers: dict[str, str] | None = None, **options: Any) -> httpx.Response:
        return call(method, f"/api/chats/{chat_id}{below}", headers=bearer | (headers or {}), **options)

    return make


@pytest.fixture
def do() -> Callable[[Awaitable[Any]], Any]:
    """Run one awaitable to its end."""

    def run(work: Awaitable[Any]) -> Any:
        async def wait() -> Any:
            return await work

        return asyncio.run(wait())

    return run
