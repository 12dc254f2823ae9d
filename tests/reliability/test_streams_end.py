"""S4, S5, S6, S7, S10: a live stream costs little, and ends when it has to."""

from __future__ import annotations

import random
import signal
import socket
import time
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack
from uuid import UUID

import httpx
from sqlalchemy.orm import Session

from service.chats.repository import ChatRepository
from service.chats.service import hashed
from service.storage.engine import open_database
from tests.serving import HTTP, Customer, ServiceProcess, lines_of, rows, wait_for


def numbers(events) -> list[int]:
    return [event.number for event in events]


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


def test_a_stream_ends_after_its_longest_life_and_is_resumed(make, sqlite_url) -> None:
    customer = Customer(make(sqlite_url, stream_minutes=0.01).start().address)
    customer.open(text="my keg leaks")
    assert numbers(customer.events()) == [1, 2]
    assert numbers(customer.events(after=1)) == [2]
