"""A SQLite file that keeps what was acknowledged.

Versions before 3.51.3 can corrupt a file in write-ahead mode when two connections write or checkpoint at the same
moment (sqlite.org, "Write-Ahead Logging", the WAL-reset bug). So one process holds the file, one connection writes
and checkpoints, and the others only read.
"""

from __future__ import annotations

import fcntl
import logging
import os
import sqlite3
from collections.abc import Callable
from pathlib import Path

from sqlalchemy import URL, Connection, Engine, create_engine, event
from sqlalchemy.engine.interfaces import DBAPIConnection

from service.storage.database import Database
from service.storage.errors import CannotOpen

log = logging.getLogger("spile.storage")
READERS = 4
SAFE_WITH_MANY_WRITERS = (3, 51, 3)

# The waiting time first: setting the journal mode may itself have to wait.
EVERY_CONNECTION = (
    "busy_timeout=5000",
    "journal_mode=WAL",
    "synchronous=FULL",
    "foreign_keys=ON",
    "trusted_schema=OFF",
)
WRITER = (*EVERY_CONNECTION, "secure_delete=ON", "journal_size_limit=67108864")
READER = (*EVERY_CONNECTION, "wal_autocheckpoint=0", "query_only=ON")


def open_sqlite(url: URL) -> Database:
    """Take the file for this process alone. Raises CannotOpen when another has it or it cannot be written."""
    path = file_of(url)
    release = hold(path)
    log.info(
        "SQLite %s: one process, one writing connection%s",
        sqlite3.sqlite_version,
        "" if sqlite3.sqlite_version_info >= SAFE_WITH_MANY_WRITERS else " (versions before 3.51.3 allow no more)",
    )
    return Database(
        writers=engine(url, WRITER, "BEGIN IMMEDIATE", connections=1),
        readers=engine(url, READER, "BEGIN", connections=READERS),
        writing_threads=1,
        reading_threads=READERS,
        description=f"SQLite file {path}",
        on_close=release,
    )


def file_of(url: URL) -> Path:
    """The file that the URL names, in a folder that exists."""
    if not url.database or url.database == ":memory:" or url.database.startswith("file:"):
        raise CannotOpen("The SQLite database must be a file, so that chats outlive a restart: sqlite:///FILE.")
    path = Path(url.database).absolute()
    try:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError as error:
        raise CannotOpen(
            f"The folder {path.parent} cannot be made: {error.strerror}. Choose another --database."
        ) from None
    return path


def hold(path: Path) -> Callable[[], None]:
    """Lock the file for this process; the system drops the lock when the process ends, however it ends."""
    try:
        lock = os.fdopen(os.open(f"{path}.lock", os.O_RDWR | os.O_CREAT, 0o600), "w")
    except OSError as error:
        raise CannotOpen(f"{path} cannot be written: {error.strerror}. Choose another --database.") from None
    try:
        fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        lock.close()
        raise CannotOpen(
            f"Another process is using {path}. A SQLite file serves one process at a time: stop the other one, "
            "name another file, or use PostgreSQL."
        ) from None
    return lock.close


def engine(url: URL, pragmas: tuple[str, ...], begin: str, *, connections: int) -> Engine:
    """A pool of at most so many connections, each with its pragmas, whose transactions start as told."""
    made = create_engine(url, pool_size=connections, max_overflow=0, pool_timeout=5, hide_parameters=True)

    @event.listens_for(made, "connect")
    def prepare(connection: DBAPIConnection, _record: object) -> None:
        connection.isolation_level = None  # the driver begins nothing by itself
        for pragma in pragmas:
            connection.execute(f"PRAGMA {pragma}")

    @event.listens_for(made, "begin")
    def start(connection: Connection) -> None:
        connection.exec_driver_sql(begin)

    return made
