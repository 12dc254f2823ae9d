"""Opens the database that a URL names, and refuses to when what was acknowledged could be lost there.

Two kinds: a SQLite file, for one process; a PostgreSQL database, for several.
"""

from __future__ import annotations

import logging

from sqlalchemy import URL, make_url
from sqlalchemy.exc import ArgumentError, DBAPIError

from service.storage.database import Database
from service.storage.errors import CannotOpen
from service.storage.migrate import migrate
from service.storage.postgres import open_postgres
from service.storage.sqlite import open_sqlite

log = logging.getLogger("spile.storage")


def open_database(url: str) -> Database:
    """Open the database, bring its tables up to date and return it ready for work.

    Raises CannotOpen, whose message says what to change.
    """
    parsed = parse(url)
    database = open_sqlite(parsed) if parsed.get_backend_name() == "sqlite" else open_postgres(parsed)
    try:
        migrate(database)
    except DBAPIError as error:
        database.close()
        raise CannotOpen(f"The database cannot be brought up to date: {type(error.orig).__name__}.") from error
    except CannotOpen:
        database.close()
        raise
    log.info("database open: %s", database.description)
    return database


def parse(url: str) -> URL:
    """The URL with its driver, or CannotOpen."""
    try:
        parsed = make_url(url)
    except ArgumentError:
        raise CannotOpen(
            "The database must be a URL: sqlite:///FILE or postgresql://USER@HOST/NAME. Correct --database."
        ) from None
    kind = parsed.get_backend_name()
    if kind == "sqlite":
        return parsed.set(drivername="sqlite+pysqlite")
    if kind == "postgresql":
        return parsed.set(drivername="postgresql+psycopg")
    raise CannotOpen("The database must be SQLite (sqlite:///FILE) or PostgreSQL (postgresql://USER@HOST/NAME).")
