"""What the endpoints work with: made once at start, found by every call."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from typing import Annotated, TypeVar

from fastapi import Depends, Request

from knowledge import Knowledge
from service.chats.news import News
from service.chats.stream import Log
from service.consulting.drawing import Drawing
from service.storage.database import Database
from service.web.settings import Settings

T = TypeVar("T")


@dataclass(frozen=True)
class Services:
    """The parts of a running service."""

    settings: Settings
    database: Database
    knowledge: Knowledge
    news: News
    log: Log
    # A consultation is short but not nothing: in a thread of its own it keeps pings and streams prompt meanwhile.
    thinking: ThreadPoolExecutor = field(default_factory=lambda: ThreadPoolExecutor(1, "desk"))

    drawing: Drawing = field(default_factory=Drawing)

    async def think(self, work: Callable[[], T]) -> T:
        """Run work that computes, off the event loop."""
        return await asyncio.get_running_loop().run_in_executor(self.thinking, work)

    def close(self) -> None:
        """Give everything back."""
        self.thinking.shutdown(cancel_futures=True)
        self.drawing.close()
        self.database.close()


async def _services(request: Request) -> Services:
    found = request.app.state.services
    assert isinstance(found, Services)
    return found


WithServices = Annotated[Services, Depends(_services)]
