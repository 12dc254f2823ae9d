"""Who waits for which chat, and the number of each followed chat's last event.

News comes from calls of this process, from PostgreSQL's NOTIFY, and from one query every few seconds for all followed
chats together. The first two are hints that make it quick; the query is what makes it certain.
"""

from __future__ import annotations

import asyncio
import logging
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from itertools import islice
from uuid import UUID

from sqlalchemy.orm import Session

from service.chats.repository import ChatRepository
from service.storage.database import Database
from service.storage.errors import Unavailable

log = logging.getLogger("spile.chats")
LOOK_EVERY_S = 2.0
CHATS_A_QUERY = 500


class Follower:
    """One open stream's view of its chat."""

    def __init__(self) -> None:
        self.latest = 0
        self.ended = False
        self._news = asyncio.Event()

    async def later_than(self, seen: int, patience: float) -> None:
        """Wait until the chat has events after this number, the stream has to end, or patience is over."""
        try:
            async with asyncio.timeout(patience):
                while self.latest <= seen and not self.ended:
                    self._news.clear()
                    await self._news.wait()
        except TimeoutError:
            return

    def hear(self, latest: int) -> None:
        """There are events up to this number."""
        self.latest = max(self.latest, latest)
        self._news.set()

    def end(self) -> None:
        """The stream has to end."""
        self.ended = True
        self._news.set()


class News:
    """Every open stream of this process, by chat. Belongs to the event loop."""

    def __init__(self) -> None:
        self._followers: dict[UUID, set[Follower]] = {}
        self.streams = 0
        self.closed = False

    def on(self, chat_id: UUID) -> int:
        """How many streams are open on a chat."""
        return len(self._followers.get(chat_id, ()))

    @contextmanager
    def following(self, chat_id: UUID) -> Iterator[Follower]:
        """A place among the followers of a chat, given back however the stream ends."""
        follower = Follower()
        follower.ended = self.closed
        self._followers.setdefault(chat_id, set()).add(follower)
        self.streams += 1
        try:
            yield follower
        finally:
            self.streams -= 1
            self._followers[chat_id].discard(follower)
            if not self._followers[chat_id]:
                del self._followers[chat_id]

    def announce(self, chat_id: UUID, latest: int) -> None:
        """A chat has events up to this number."""
        for follower in self._followers.get(chat_id, ()):
            follower.hear(latest)

    def close(self) -> None:
        """End every stream: the service is stopping."""
        self.closed = True
        for followers in self._followers.values():
            for follower in followers:
                follower.end()

    async def keep_fresh(self, database: Database, every: float = LOOK_EVERY_S) -> None:
        """Look again and again, whatever was heard or missed. Ends when cancelled."""
        while True:
            await asyncio.sleep(every)
            try:
                await self._look(database)
            except Unavailable:
                log.warning("followed chats could not be looked at; trying again")

    def end(self, chat_id: UUID) -> None:
        """End the streams of a chat: it is gone, and with it the right to follow it."""
        for follower in self._followers.get(chat_id, ()):
            follower.end()

    async def _look(self, database: Database) -> None:
        followed = iter(list(self._followers))
        while batch := list(islice(followed, CHATS_A_QUERY)):
            latest = await database.read(partial(_latest_events, batch))
            for chat_id in batch:
                if chat_id in latest:
                    self.announce(chat_id, latest[chat_id])
                else:
                    self.end(chat_id)


def _latest_events(chat_ids: list[UUID], session: Session) -> dict[UUID, int]:
    return ChatRepository(session).latest_events(chat_ids)
