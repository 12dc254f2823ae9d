"""Brings the tables of a database up to date, once however many processes start together."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, text

from service.storage.database import Database
from service.storage.errors import CannotOpen

FOLDER = Path(__file__).parent / "migrations"
LOCK = 0x5350494C  # any number, the same in every process


def migrate(database: Database) -> None:
    """Apply what is missing. Raises CannotOpen on tables of a later version of the program."""
    with alone(database), database.writers.connect() as connection:
        config = configuration(connection)
        with connection.begin():
            refuse_the_unknown(connection, config)
            command.upgrade(config, "head")


def configuration(connection: Connection | None = None) -> Config:
    """The migrations' own settings: no file, and the connection to use."""
    config = Config()
    config.set_main_option("script_location", str(FOLDER))
    config.attributes["connection"] = connection
    return config


def is_current(connection: Connection) -> bool:
    """True when the tables are those this program works with."""
    heads = ScriptDirectory.from_config(configuration()).get_heads()
    return MigrationContext.configure(connection).get_current_heads() == tuple(heads)


def refuse_the_unknown(connection: Connection, config: Config) -> None:
    """Tables made by a later version of the program are left alone."""
    known = {script.revision for script in ScriptDirectory.from_config(config).walk_revisions()}
    if set(MigrationContext.configure(connection).get_current_heads()) - known:
        raise CannotOpen(
            "The database was made by a later version of this program. Start that version, or restore a backup."
        )


@contextmanager
def alone(database: Database) -> Iterator[None]:
    """One process at a time. A SQLite file is already held by this process; PostgreSQL has a lock for it."""
    if not database.is_postgres:
        yield
        return
    with database.writers.connect().execution_options(isolation_level="AUTOCOMMIT") as connection:
        connection.execute(text("SET lock_timeout = 60000"))
        connection.execute(text("SET statement_timeout = 60000"))
        connection.execute(text("SELECT pg_advisory_lock(:lock)"), {"lock": LOCK})
        try:
            yield
        finally:
            connection.execute(text("SELECT pg_advisory_unlock(:lock)"), {"lock": LOCK})
            connection.invalidate()  # its time limits were changed: not for the pool
