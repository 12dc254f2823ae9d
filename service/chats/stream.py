"""The live stream of a chat: its stored log, read on and on (server-sent events, WHATWG HTML 9.2).

The log is the queue: a stream holds a number and no backlog, reads a few entries at a time, and holds no database
connection while it waits. Whatever ends it, the client comes back with Last-Event-ID and misses nothing.
"""

from __future__ import annotations

import asyncio
import logging
import random
import time
from collections.abc import AsyncIterator
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


Entries = list[tuple[int, bytes]]


class Log:
    """Where all streams of a process read from."""

    def __init__(self, database: Database, news: News, longest_s: float) -> None:
        self._database, self._news, self._longest_s = database, news, longest_s
        self._reads: dict[tuple[UUID, int], asyncio.Future[Entries]] = {}

    async def entries(self, chat_id: UUID, seen: int) -> AsyncIterator[bytes]:
        """Every event after a number, as it comes, until the stream has to end."""
        ends = time.monotonic() + self._longest_s
        yield ServerSentEvent(retry=random.randint(*COME_BACK_MS), sep="\n").encode()  # not all at the same moment
        with self._news.following(chat_id) as follower:
            while not follower.ended and time.monotonic() < ends:
                try:
                    read = await self._after(chat_id, seen)
                except Unavailable:
                    return  # the client will come back
                for number, event in read:
                    yield event
                    seen = number
                if len(read) < ENTRIES_A_READ:
                    await follower.later_than(seen, ends - time.monotonic())

    async def _after(self, chat_id: UUID, seen: int) -> Entries:
        """The next few events. Streams that ask for the same at the same moment share one read."""
        place = (chat_id, seen)
        if place not in self._reads:
            read = self._database.read(lambda session: _encoded(ChatRepository(session), chat_id, seen))
            self._reads[place] = asyncio.ensure_future(read)
            self._reads[place].add_done_callback(lambda _done: self._reads.pop(place))
        return await asyncio.shield(self._reads[place])


def _encoded(chats: ChatRepository, chat_id: UUID, seen: int) -> Entries:
    logged = chats.events_after(chat_id, seen, ENTRIES_A_READ)
    return [
        (entry[0], ServerSentEvent(id=str(entry[0]), event=entry[1], data=views.event_data(entry), sep="\n").encode())
        for entry in logged
    ]


class EventStream(EventSourceResponse):
    """Sends the events, with a comment in every silence; a client that takes nothing for too long is cut off."""

    def __init__(self, entries: AsyncIterator[bytes], write_seconds: float) -> None:
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
