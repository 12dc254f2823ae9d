"""S1 to S9: the live stream tells every event once and in order, costs little, and ends when it has to."""

from __future__ import annotations

import json
import random
import signal
import socket
import threading
import time
from collections.abc import Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import ExitStack
from uuid import UUID

import httpx
import psycopg
import pytest
from sqlalchemy import create_engine
from sqlalchemy.orm import Session

from service.chats.repository import ChatRepository
from service.chats.service import hashed
from service.storage.engine import open_database
from tests.serving import HTTP, Customer, Event, ServiceProcess, events_of, lines_of, rows, wait_for

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


def test_two_hundred_idle_streams_hold_no_database_connection_and_hinder_nobody(make, postgres_url, times) -> None:
    service = make(postgres_url, streams_per_chat=2000, streams=2000).start()
    customer = Customer(service.address)
    customer.open(text="my keg leaks")
    with ExitStack() as streams:
        for connection in [open_stream(customer) for _ in range(200 * min(times, 4))]:
            streams.callback(connection.close)
            assert connection.recv(100).startswith(b"HTTP/1.1 200")
        time.sleep(1)
        busy = "select count(*) from pg_stat_activity where application_name = 'spile' and state <> 'idle'"
        held = [rows(postgres_url, busy)[0][0] for _ in range(5)]
        assert sorted(held)[2] == 0
        assert customer.say("it still does").status_code == 201


def open_stream(customer: Customer, receive_buffer: int | None = None) -> socket.socket:
    """Ask for the events, and read nothing yet."""
    url = httpx.URL(customer.address)
    connection = socket.socket()
    if receive_buffer:
        connection.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, receive_buffer)
    connection.connect((url.host, url.port))
    connection.settimeout(10)
    head = (
        f"GET /api/chats/{customer.chat}/events HTTP/1.1\r\nHost: x\r\nAuthorization: Bearer {customer.token}\r\n\r\n"
    )
    connection.sendall(head.encode())
    return connection


def test_clients_that_never_read_cost_little_and_are_dropped(make, sqlite_url) -> None:
    customer = Customer("")
    customer.chat = str(a_long_chat(sqlite_url, customer.token))
    service = make(sqlite_url, write_seconds=1, streams_per_chat=100).start()
    customer.address = service.address
    before = service.memory()
    deaf = [open_stream(customer, receive_buffer=4096) for _ in range(40)]
    wait_for(lambda: len(dropped(service)) == len(deaf), seconds=20)
    assert service.memory() - before < len(deaf) * 2**20
    for connection in deaf:
        connection.close()
    assert numbers(customer.events(most=200)) == list(range(1, 201))


def a_long_chat(url: str, token: str) -> UUID:
    """Store a chat whose events are more than a connection takes in without being read: 2 MB."""
    database = open_database(url)
    with Session(database.writers, expire_on_commit=False) as session, session.begin():
        chats = ChatRepository(session)
        chat = chats.open(hashed(token), None)
        for number in range(1, 101):
            chats.add(chat, number, f"m{number}", ("words", "{}"), ("revision", f'{{"words":"{"long " * 4000}"}}'))
    database.close()
    return chat.id


def dropped(service):
    return [line for line in service.lines() if line["message"].startswith("a stream was dropped")]


def test_places_for_streams_are_limited_and_given_back_however_a_stream_ends(make, sqlite_url) -> None:
    service = make(sqlite_url, streams=5, streams_per_chat=3).start()
    customers = [Customer(service.address) for _ in range(3)]
    for customer in customers:
        customer.open()
    for _ in range(100):
        open_stream(random.choice(customers)).close()
    wait_for(lambda: all(status_of_a_stream(customer) == 200 for customer in customers), seconds=5)
    held = [open_stream(customers[0]) for _ in range(3)]
    wait_for(lambda: status_of_a_stream(customers[0]) == 503, seconds=5)
    assert status_of_a_stream(customers[1]) == 200
    held += [open_stream(customers[1]) for _ in range(2)]
    wait_for(lambda: status_of_a_stream(customers[2]) == 503, seconds=5)
    for connection in held:
        connection.close()
    wait_for(lambda: status_of_a_stream(customers[2]) == 200, seconds=5)


def status_of_a_stream(customer: Customer) -> int:
    with customer.follow() as response:
        return response.status_code


def test_a_stream_ends_when_its_chat_is_deleted_on_whatever_process(make, postgres_url) -> None:
    first, second = make(postgres_url).start(), make(postgres_url).start()
    customer = Customer(first.address)
    customer.open()
    elsewhere = Customer(second.address, customer.token, customer.chat)
    with ThreadPoolExecutor() as threads:
        followers = [threads.submit(until_the_end, each) for each in (customer, elsewhere)]
        time.sleep(1)
        deleted = time.monotonic()
        gone = HTTP.delete(f"{first.address}/api/chats/{customer.chat}", headers=customer.authorization)
        assert gone.status_code == 204
        assert max(follower.result()[0] for follower in followers) - deleted < 5
    assert status_of_a_stream(elsewhere) == 404


def test_stopping_ends_idle_streams_within_a_second_and_the_process_soon_after(make, sqlite_url) -> None:
    service = make(sqlite_url).start()
    asked, told = stopped_with_idle_streams(service, within=5)
    assert max(ended for ended, _retry in told) - asked < 1
    assert len({retry for _ended, retry in told}) > 10  # they do not all come back at the same moment


def test_stopping_ends_the_streams_of_several_workers_too(make, postgres_url) -> None:
    service = make(postgres_url, workers=2, command=True).start()
    wait_for(lambda: said(service).count("Application startup complete.") == 2, seconds=60)
    asked, told = stopped_with_idle_streams(service, within=10)
    assert max(ended for ended, _retry in told) - asked < 2  # the parent process looks every half second
    assert said(service).count("Application shutdown complete.") == 2


def stopped_with_idle_streams(service: ServiceProcess, within: float) -> tuple[float, list[tuple[float, str]]]:
    """Stop a service with 50 idle streams: when it was asked to, and what became of each."""
    customer = Customer(service.address)
    customer.open()
    with ThreadPoolExecutor(50) as threads:
        followers = [threads.submit(until_the_end, customer) for _ in range(50)]
        time.sleep(1.5)
        asked = time.monotonic()
        service.signal(signal.SIGTERM)
        service.wait(within)
    assert "Application shutdown complete." in said(service)
    assert not [line for line in service.lines() if line["level"] == "ERROR"]
    return asked, [follower.result() for follower in followers]


def said(service: ServiceProcess) -> list[str]:
    return [line["message"] for line in service.lines()]


def until_the_end(customer: Customer) -> tuple[float, str]:
    """Read a stream to its end; when that was, and when it told us to come back."""
    with customer.follow() as stream:
        retry = next(line for line in lines_of(stream) if line.startswith("retry"))
        for _ in stream.iter_raw() if not stream.is_stream_consumed else ():
            pass
    return time.monotonic(), retry


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


def test_a_stream_ends_after_its_longest_life_and_is_resumed(make, sqlite_url) -> None:
    customer = Customer(make(sqlite_url, stream_minutes=0.01).start().address)
    customer.open(text="my keg leaks")
    assert numbers(customer.events()) == [1, 2]
    assert numbers(customer.events(after=1)) == [2]


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
        threading.Event().wait(1)
        customer.say("my keg leaks")
        assert {tuple(numbers(follower.result())) for follower in followers} == {(1, 2)}


def test_a_silent_stream_carries_a_comment_at_least_every_fifteen_seconds(first_comment) -> None:
    assert first_comment.result() == ": here"
