"""The live stream of a chat: its stored log, read on and on (server-sent events, WHATWG HTML 9.2).

The log is the queue: a stream holds a number and no backlog, reads a few entries at a time, and holds no database
connection while it waits. Whatever ends it, the client comes back with Last-Event-ID and misses nothing.
"""

from __future__ import annotations

import logging
import random
import time
from collections.abc import AsyncIterator
from dataclasses import dataclass
from uuid import UUID

from sse_starlette import EventSourceResponse, ServerSentEvent
from sse_starlette.sse import SendTimeoutError
from starlette.types import Receive, Scope, Send

from service.chats import views
from service.chats.news import News
from service.chats.repository import ChatRepository
from service.storage.database import Database
from service.storage.errors import Unavailable

log = logging.getLogger("spile.chats")
ENTRIES_A_READ = 16
COMMENT_EVERY_S = 12
COME_BACK_MS = (1000, 5000)
ABORT = "spile.abort"


@dataclass(frozen=True)
class Log:
    """Where a stream reads from, and for how long at most."""

    database: Database
    news: News
    longest_s: float

    async def entries(self, chat_id: UUID, seen: int) -> AsyncIterator[ServerSentEvent]:
        """Every event after a number, as it comes, until the stream has to end."""
        ends = time.monotonic() + self.longest_s
        yield ServerSentEvent(retry=random.randint(*COME_BACK_MS), sep="\n")  # spread: not all at the same moment
        with self.news.following(chat_id) as follower:
            while not follower.ended and time.monotonic() < ends:
                read = await self._read(chat_id, seen)
                if read is None:
                    return
                for event in read:
                    yield event
                    seen = int(event.id or seen)
                if len(read) < ENTRIES_A_READ:
                    await follower.later_than(seen, ends - time.monotonic())

    async def _read(self, chat_id: UUID, seen: int) -> list[ServerSentEvent] | None:
        """The next few events, or None when the database is away: the client will come back."""
        try:
            return await self.database.read(lambda session: _events(ChatRepository(session), chat_id, seen))
        except Unavailable:
            return None


def _events(chats: ChatRepository, chat_id: UUID, seen: int) -> list[ServerSentEvent]:
    logged = chats.events_after(chat_id, seen, ENTRIES_A_READ)
    return [
        ServerSentEvent(id=str(entry[0]), event=entry[1], data=views.event_data(entry), sep="\n") for entry in logged
    ]


class EventStream(EventSourceResponse):
    """Sends the events, with a comment in every silence; a client that takes nothing for too long is cut off."""

    def __init__(self, entries: AsyncIterator[ServerSentEvent], write_seconds: float) -> None:
        super().__init__(
            entries,
            ping=COMMENT_EVERY_S,
            ping_message_factory=lambda: ServerSentEvent(comment="here", sep="\n"),
            send_timeout=write_seconds,
            sep="\n",
        )

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        try:
            await super().__call__(scope, receive, send)
        except SendTimeoutError:
            log.info("a stream was dropped: its client took nothing for %s s", self.send_timeout)
            scope.get("extensions", {}).get(ABORT, _nothing)()  # closing would wait for that client


def _nothing() -> None: ...
