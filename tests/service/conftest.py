"""The application without a socket: real knowledge, a real SQLite file, HTTP calls straight into it."""

from __future__ import annotations

import asyncio
import secrets
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import httpx
import pytest

from service.web.app import create_api, open_services, wrap
from service.web.services import Services
from service.web.settings import settings

Call = Callable[..., httpx.Response]


@pytest.fixture
def sqlite_url(tmp_path: Path) -> str:
    """The address of a SQLite file that does not exist yet."""
    return f"sqlite:///{tmp_path / 'chats.sqlite3'}"


@pytest.fixture(scope="module")
def services(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Services]:
    """The parts of a service. Tests of a module share them; each has chats of its own."""
    url = f"sqlite:///{tmp_path_factory.mktemp('service') / 'chats.sqlite3'}"
    opened = open_services(settings({}, database=url, origins="https://shop.example"))
    yield opened
    opened.close()


@pytest.fixture(scope="module")
def call(services: Services) -> Call:
    """Make one HTTP call: call("POST", "/api/consult", json=…)."""
    app = wrap(create_api(services), services.settings)

    def make(method: str, path: str, **options: Any) -> httpx.Response:
        async def once() -> httpx.Response:
            transport = httpx.ASGITransport(app=app, raise_app_exceptions=False)
            async with httpx.AsyncClient(transport=transport, base_url="http://test") as client:
                return await client.request(method, path, **options)

        return asyncio.run(once())

    return make


@pytest.fixture
def bearer() -> dict[str, str]:
    """The header with the token of a chat of this test."""
    return {"Authorization": f"Bearer {secrets.token_urlsafe(16)}"}


@pytest.fixture
def chat(call: Call, bearer: dict[str, str]) -> Callable[..., httpx.Response]:
    """Make a call on one new chat, with its token: chat("POST", "/messages", json=…)."""
    chat_id = call("POST", "/api/chats", json={}, headers=bearer).json()["id"]

    def make(method: str, below: str = "", *, headers: dict[str, str] | None = None, **options: Any) -> httpx.Response:
        return call(method, f"/api/chats/{chat_id}{below}", headers=bearer | (headers or {}), **options)

    return make
