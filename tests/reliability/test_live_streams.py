"""S1, S2, S3, S8, S9: the live stream tells every event once and in order, whatever cuts it."""

from __future__ import annotations

import json
import random
import time
from collections.abc import Iterator
from concurrent.futures import Future, ThreadPoolExecutor

import psycopg
import pytest
from sqlalchemy import create_engine
from sqlalchemy.orm import Session

from service.chats.repository import ChatRepository
from service.storage.engine import open_database
from tests.serving import HTTP, Customer, Event, ServiceProcess, events_of, lines_of

EVIL = "a\r\n\r\nevent: x\nid: 7\rdata: y\n\n\u2028\u2029\x85 \ufeffü😀\x0b\x0c"


@pytest.fixture(scope="module")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[ServiceProcess]:
    """One service for the tests that need nothing special of it."""
    folder = tmp_path_factory.mktemp("streams")
    started = ServiceProcess(folder, f"sqlite:///{folder / 'chats.sqlite3'}", streams_per_chat=100).start()
    yield started
    started.end()


@pytest.fixture(scope="module", autouse=True)
def first_comment(service: ServiceProcess) -> Iterator[Future[str]]:
    """The first comment on a stream on which nothing happens; awaited from the start, while other tests run."""
    customer = Customer(service.address)
    customer.open()

    def wait() -> str:
        with customer.follow(timeout=15) as stream:
            return next(line for line in lines_of(stream) if line.startswith(":"))

    with ThreadPoolExecutor() as threads:
        yield threads.submit(wait)


def numbers(events) -> list[int]:
    return [event.number for event in events]


def everything(customer: Customer, expected: int, cuts: int):
    """Follow a chat, cut the stream again and again at random, and resume after the last event seen."""
    seen = []
    for _ in range(cuts):
        if len(seen) == expected:
            break
        most = min(random.randint(1, 4), expected - len(seen))
        seen += customer.events(after=seen[-1].number if seen else None, most=most)
    return [*seen, *customer.events(after=seen[-1].number, most=expected - len(seen))] if len(seen) < expected else seen


def test_a_stream_cut_again_and_again_and_resumed_tells_each_event_once_in_order(service, times) -> None:
    for _ in range(times):
        customer = Customer(service.address)
        customer.open()
        with ThreadPoolExecutor() as threads:
            followers = [threads.submit(everything, customer, expected=60, cuts=40) for _ in range(4)]
            for number in range(30):
                customer.say(f"my keg leaks, I have said it {number} times")
        assert [numbers(follower.result()) for follower in followers] == [list(range(1, 61))] * 4


def test_a_stream_is_resumed_after_a_restart_and_on_another_process(make, postgres_url) -> None:
    first, second = make(postgres_url).start(), make(postgres_url).start()
    customer = Customer(first.address)
    customer.open(text="my keg leaks")
    begun = customer.events(most=1)
    first.kill()
    customer.address = second.address
    customer.say("it still does")
    resumed = customer.events(after=begun[-1].number, most=3)
    assert numbers(begun + resumed) == [1, 2, 3, 4]


def test_numbers_are_given_while_the_chat_is_locked_so_no_reader_misses_an_earlier_one(postgres_url) -> None:
    database = open_database(postgres_url)
    engine = create_engine(postgres_url)
    with Session(engine) as session, session.begin():
        chat_id = ChatRepository(session).open(b"0" * 32, None).id

    def add() -> None:
        with Session(engine) as session, session.begin():
            write(ChatRepository(session), chat_id, 2)

    def visible() -> list[int]:
        with Session(engine) as session:
            return [entry[0] for entry in ChatRepository(session).events_after(chat_id, 0, 10)]

    with ThreadPoolExecutor() as threads:
        with Session(engine) as slow, slow.begin():
            write(ChatRepository(slow), chat_id, 1)
            quick = threads.submit(add)
            time.sleep(0.3)
            assert (quick.done(), visible()) == (False, [])
        quick.result(5)
    assert visible() == [1, 2, 3, 4]
    engine.dispose()
    database.close()


def write(chats: ChatRepository, chat_id, number: int) -> None:
    chat = chats.lock(chat_id)
    assert chat
    chats.add(chat, number, f"m{number}", ("words", "{}"), ("revision", "{}"))


def test_an_event_of_another_process_arrives_at_once_and_within_seconds_though_the_news_is_lost(
    make, postgres_url
) -> None:
    writing, following = make(postgres_url).start(), make(postgres_url).start()
    customer = Customer(writing.address)
    customer.open()
    follower = Customer(following.address, customer.token, customer.chat)
    with follower.follow(timeout=6) as stream:
        events = events_of(stream)
        waits = [seconds_until_heard(customer, events) for _ in range(5)]
        stop_the_listening(postgres_url)
        without_news = seconds_until_heard(customer, events)
    assert sorted(waits)[2] < 1  # without news every one would wait for the next look, a second on average
    assert without_news < 5


def seconds_until_heard(customer: Customer, events: Iterator[Event]) -> float:
    said = time.monotonic()
    customer.say("my keg leaks")
    next(events), next(events)
    return time.monotonic() - said


def stop_the_listening(url: str) -> None:
    """Cut the connections that hear the news; they come back after a second."""
    with psycopg.connect(url.replace("+psycopg", ""), autocommit=True) as postgres:
        postgres.execute(
            "select pg_terminate_backend(pid) from pg_stat_activity where application_name = 'spile-listening'"
        )


def test_what_customers_write_cannot_forge_an_event(service) -> None:
    customer = Customer(service.address)
    customer.open(text=EVIL)
    customer.say(EVIL, facts={"yeast_type": None})
    events = customer.events(most=4)
    assert [(event.number, event.kind) for event in events] == [
        (1, "message"), (2, "consultation"), (3, "message"), (4, "consultation")
    ]  # fmt: skip
    assert [json.loads(event.data)["text"] for event in events[::2]] == [EVIL, EVIL]
    assert customer.read().json()["messages"][0]["text"] == EVIL


def test_a_stream_says_how_it_wants_to_be_treated_on_its_way(service) -> None:
    customer = Customer(service.address)
    customer.open()
    with customer.follow() as stream:
        assert stream.headers["content-type"].startswith("text/event-stream")
        assert stream.headers["cache-control"] == "no-store"
        assert stream.headers["x-accel-buffering"] == "no"
        assert "content-encoding" not in stream.headers


@pytest.mark.parametrize(("last", "told"), [(99, [1, 2]), (0, [1, 2]), (1, [2])])
def test_a_number_that_the_log_never_reached_begins_again(service, last, told) -> None:
    customer = Customer(service.address)
    customer.open(text="my keg leaks")
    assert numbers(customer.events(after=last, most=len(told))) == told


@pytest.mark.parametrize("last", ["abc", "-1", "1.5", "9" * 40, ""])
def test_a_last_event_id_that_is_no_number_is_refused(service, last) -> None:
    customer = Customer(service.address)
    customer.open()
    headers = customer.authorization | {"Last-Event-ID": last}
    refused = HTTP.get(f"{customer.address}/api/chats/{customer.chat}/events", headers=headers)
    assert refused.status_code == 422
    assert refused.json()["errors"][0]["field"] == "last-event-id"


def test_many_followers_of_one_chat_hear_of_an_event_together(service) -> None:
    customer = Customer(service.address)
    customer.open()
    with ThreadPoolExecutor(40) as threads:
        followers = [threads.submit(customer.events, most=2) for _ in range(40)]
        time.sleep(1)
        customer.say("my keg leaks")
        assert {tuple(numbers(follower.result())) for follower in followers} == {(1, 2)}


def test_a_silent_stream_carries_a_comment_at_least_every_fifteen_seconds(first_comment) -> None:
    assert first_comment.result() == ": here"
