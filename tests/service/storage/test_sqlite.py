"""A SQLite file that keeps what was acknowledged."""

from __future__ import annotations

import stat
from contextlib import ExitStack
from pathlib import Path

import pytest
from sqlalchemy import text
from sqlalchemy.exc import OperationalError

from service.storage.engine import open_database
from service.storage.errors import CannotOpen
from service.storage.sqlite import READERS


@pytest.fixture
def database(sqlite_url):
    opened = open_database(sqlite_url)
    yield opened
    opened.close()


def pragma(connection, name: str):
    return connection.exec_driver_sql(f"PRAGMA {name}").scalar()


def test_every_pooled_connection_waits_syncs_and_checks_foreign_keys(database) -> None:
    with ExitStack() as stack:
        connections = [stack.enter_context(database.readers.connect()) for _ in range(READERS)]
        connections.append(stack.enter_context(database.writers.connect()))
        for connection in connections:
            assert pragma(connection, "busy_timeout") == 5000
            assert pragma(connection, "journal_mode") == "wal"
            assert pragma(connection, "synchronous") == 2  # FULL
            assert pragma(connection, "foreign_keys") == 1


def test_one_connection_writes_and_checkpoints_and_the_others_only_read(database) -> None:
    assert database.writers.pool.size() == 1
    with database.writers.connect() as writer, database.readers.connect() as reader:
        assert pragma(writer, "wal_autocheckpoint") == 1000
        assert pragma(reader, "wal_autocheckpoint") == 0
        with pytest.raises(OperationalError, match="attempt to write a readonly database"):
            reader.execute(text("delete from chats"))


def test_a_writer_takes_its_place_at_the_beginning_of_its_transaction(database) -> None:
    told: list[str] = []
    with database.writers.connect() as connection:
        connection.connection.driver_connection.set_trace_callback(told.append)
        connection.execute(text("select 1"))
    assert told[0] == "BEGIN IMMEDIATE"


def test_a_file_in_use_is_refused_and_free_again_afterwards(sqlite_url) -> None:
    first = open_database(sqlite_url)
    with pytest.raises(CannotOpen, match=r"Another process is using .* use PostgreSQL"):
        open_database(sqlite_url)
    first.close()
    open_database(sqlite_url).close()


def test_the_folder_is_made_for_the_user_alone(tmp_path: Path) -> None:
    open_database(f"sqlite:///{tmp_path}/new/chats.sqlite3").close()
    assert stat.S_IMODE((tmp_path / "new").stat().st_mode) == 0o700


@pytest.mark.parametrize("url", ["sqlite://", "sqlite:///:memory:", "sqlite:///file:x?mode=memory"])
def test_a_database_in_memory_is_refused(url) -> None:
    with pytest.raises(CannotOpen, match="must be a file, so that chats outlive a restart"):
        open_database(url)


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(CannotOpen, match=r"cannot be made: .* Choose another --database"):
        open_database(f"sqlite:///{tmp_path}/file/below/chats.sqlite3")


def test_a_file_that_is_no_database_is_told(tmp_path: Path) -> None:
    (tmp_path / "letter").write_text("Dear Sir or Madam, " * 99)
    with pytest.raises(CannotOpen, match="cannot be brought up to date: DatabaseError"):
        open_database(f"sqlite:///{tmp_path}/letter")
