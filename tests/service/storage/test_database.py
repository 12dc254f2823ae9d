"""Transactions: whole or not at all, again after a lost race, and given up when the database does not answer."""

from __future__ import annotations

import asyncio
import threading
from datetime import UTC, datetime, timedelta, timezone
from uuid import uuid4

import pytest
from sqlalchemy import func, select
from sqlalchemy.exc import StatementError

from service.chats.repository import ChatRepository
from service.chats.tables import Chat
from service.storage import database as transactions
from service.storage.engine import open_database
from service.storage.errors import Unavailable


@pytest.fixture(params=["sqlite", "postgresql"])
def database(request):
    opened = open_database(request.getfixturevalue("sqlite_url" if request.param == "sqlite" else "postgres_url"))
    yield opened
    opened.close()


def count(session) -> int:
    return session.scalar(select(func.count()).select_from(Chat))


def a_chat(session, token: bytes = b"0" * 32, **given) -> None:
    session.add(Chat(**{"id": uuid4(), "token_hash": token, "last_event": 0, "opened_at": datetime.now(UTC)} | given))


def test_work_that_fails_leaves_nothing_behind(database) -> None:
    def fail(session) -> None:
        a_chat(session)
        session.flush()
        raise LookupError("no")

    with pytest.raises(LookupError, match="no"):
        asyncio.run(database.write(fail))
    assert asyncio.run(database.read(count)) == 0


def test_the_loser_of_a_race_runs_again_and_finds_what_the_winner_stored(postgres_url) -> None:
    database = open_database(postgres_url)
    both_have_looked = threading.Barrier(2)

    def open_once(session) -> bool:
        chats = ChatRepository(session)
        if chats.with_token(b"t" * 32):
            return False
        both_have_looked.wait(5)
        chats.open(b"t" * 32, None)
        return True

    async def race() -> list[bool]:
        return await asyncio.gather(database.write(open_once), database.write(open_once))

    assert sorted(asyncio.run(race())) == [False, True]
    database.close()


def test_a_database_that_does_not_answer_in_time_is_unavailable(database, monkeypatch) -> None:
    monkeypatch.setattr(transactions, "PATIENCE_S", 0.1)
    go_on = threading.Event()
    with pytest.raises(Unavailable):
        asyncio.run(database.read(lambda _session: go_on.wait(5)))
    go_on.set()


def test_a_time_comes_back_in_utc_whatever_zone_it_was_given_in(database) -> None:
    noon = datetime(2026, 7, 1, 12, tzinfo=timezone(timedelta(hours=2)))
    asyncio.run(database.write(lambda session: a_chat(session, opened_at=noon)))
    kept = asyncio.run(database.read(lambda session: session.scalar(select(Chat.opened_at))))
    assert (kept, kept.tzinfo) == (noon, UTC)


def test_a_time_without_a_zone_is_refused(database) -> None:
    with pytest.raises(StatementError, match="a time without a zone cannot be stored"):
        asyncio.run(database.write(lambda session: a_chat(session, opened_at=datetime(2026, 7, 1))))
