"""Hears PostgreSQL's NOTIFY from the other processes. What is missed while the connection is away does not matter:
followed chats are looked at every few seconds anyway."""

from __future__ import annotations

import asyncio
import logging
import threading
from uuid import UUID

import psycopg

from service.chats.news import News
from service.chats.repository import CHANNEL
from service.storage.database import Database

log = logging.getLogger("spile.chats")
CHECK_STOP_S = 0.5
RECONNECT_S = 1.0


class Listening:
    """A thread with a connection of its own, outside the pool."""

    def __init__(self, database: Database, news: News, loop: asyncio.AbstractEventLoop) -> None:
        self._conninfo = database.writers.url.set(drivername="postgresql").render_as_string(hide_password=False)
        self._news, self._loop = news, loop
        self._stop = threading.Event()
        self._thread = threading.Thread(target=self._keep_listening, name="listening", daemon=True)

    def start(self) -> None:
        """Begin to listen."""
        self._thread.start()

    def stop(self) -> None:
        """Stop listening; takes effect within half a second."""
        self._stop.set()

    def _keep_listening(self) -> None:
        while not self._stop.is_set():
            try:
                with psycopg.connect(
                    self._conninfo, autocommit=True, connect_timeout=3, application_name="spile-listening"
                ) as connection:
                    self._listen(connection)
            except psycopg.Error as error:
                log.warning("listening for news was interrupted: %s", type(error).__name__)
                self._stop.wait(RECONNECT_S)

    def _listen(self, connection: psycopg.Connection) -> None:
        connection.execute(f"LISTEN {CHANNEL}")
        while not self._stop.is_set():
            for notice in connection.notifies(timeout=CHECK_STOP_S):
                chat_id, _, number = notice.payload.partition(" ")
                self._loop.call_soon_threadsafe(self._news.announce, UUID(chat_id), int(number))
