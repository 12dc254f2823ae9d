"""Transactions for an asynchronous service on a synchronous database.

Work is a function of a session. It runs in a thread of a small pool kept for the database alone, in one transaction
that is committed before the caller hears of it. On SQLite the writing pool is one thread: it is at the same time
the only writer and a fair queue (SQLite's own waiting is neither fair nor fast). The thread costs a hop, but neither
a slow disk nor a long consultation, which runs inside the transaction, ever holds up the event loop.
"""

from __future__ import annotations

import asyncio
import logging
import random
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from typing import TypeVar

from sqlalchemy import Engine
from sqlalchemy.exc import DBAPIError, InterfaceError, OperationalError
from sqlalchemy.exc import TimeoutError as PoolTimeout
from sqlalchemy.orm import Session, sessionmaker

from service.storage.errors import Unavailable

log = logging.getLogger("spile.storage")
T = TypeVar("T")
Work = Callable[[Session], T]
Sessions = sessionmaker[Session]

PATIENCE_S = 5.0
ATTEMPTS = 4
# serialization failure, deadlock, and the loser of a race for a unique value: all three do better in a new transaction
RETRIED = {"40001", "40P01", "23505"}


class Database:
    """Where chats are kept. `read` and `write` run work in a transaction of its own."""

    def __init__(
        self,
        *,
        readers: Engine,
        writers: Engine,
        writing_threads: int,
        reading_threads: int,
        description: str,
        on_close: Callable[[], None] = lambda: None,
    ) -> None:
        self.readers, self.writers, self.description = readers, writers, description
        self._read_sessions = sessionmaker(readers, expire_on_commit=False)
        self._write_sessions = sessionmaker(writers, expire_on_commit=False)
        self._reading = ThreadPoolExecutor(reading_threads, "database-read")
        self._writing = ThreadPoolExecutor(writing_threads, "database-write")
        self._on_close = on_close

    @property
    def is_postgres(self) -> bool:
        """True where several processes may share the database."""
        return self.writers.dialect.name == "postgresql"

    async def read(self, work: Work[T]) -> T:
        """Run work that changes nothing."""
        return await self._run(self._reading, self._read_sessions, work)

    async def write(self, work: Work[T]) -> T:
        """Run work and commit it. Work may be run again after losing a race, so it must do nothing but store.

        Raises Unavailable when the database does not take it in time; whether it was stored is then unknown.
        """
        return await self._run(self._writing, self._write_sessions, work)

    async def wipe(self) -> None:
        """Leave nothing behind of what was deleted: SQLite would keep it in its log until that is written again."""
        if not self.is_postgres:
            await asyncio.get_running_loop().run_in_executor(self._writing, self._empty_the_log)

    def _empty_the_log(self) -> None:
        with closing(self.writers.raw_connection()) as connection:  # outside any transaction
            connection.cursor().execute("PRAGMA wal_checkpoint(TRUNCATE)")

    async def _run(self, threads: ThreadPoolExecutor, sessions: Sessions, work: Work[T]) -> T:
        try:
            async with asyncio.timeout(PATIENCE_S):
                return await asyncio.get_running_loop().run_in_executor(threads, in_transaction, sessions, work)
        except (OperationalError, InterfaceError, PoolTimeout, TimeoutError) as error:
            log.warning("database unavailable: %s", type(getattr(error, "orig", error)).__name__)
            raise Unavailable("The database did not answer.") from error

    def close(self) -> None:
        """Finish what has begun, drop what has not, and close every connection, the writers' last."""
        for threads in (self._reading, self._writing):
            threads.shutdown(cancel_futures=True)
        self.readers.dispose()
        self.writers.dispose()
        self._on_close()


def in_transaction(sessions: Sessions, work: Work[T]) -> T:
    """Run the work in a transaction, and again in a new one when a race was lost."""
    for attempt in range(1, ATTEMPTS + 1):
        try:
            with sessions.begin() as session:
                return work(session)
        except DBAPIError as error:
            if attempt == ATTEMPTS or getattr(error.orig, "sqlstate", None) not in RETRIED:
                raise
            time.sleep(random.uniform(0, 0.02 * 2**attempt))
    raise AssertionError("unreachable")
