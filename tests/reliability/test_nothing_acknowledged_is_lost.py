"""D1, D4, D8, D11: what was acknowledged is there, once, and answered the same, whatever kills the service."""

from __future__ import annotations

import random
import re
import shutil
import socket
import subprocess
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field

import httpx
import pytest

from tests.serving import Customer, ServiceProcess, rows, wait_for

WRITERS = 4
MESSAGES_A_CHAT = 6
BETWEEN_KILLS_S = (0.15, 0.6)


@dataclass
class Written:
    """One chat: what was sent in it, and the answer to each message that was acknowledged."""

    customer: Customer
    answers: dict[str, bytes] = field(default_factory=dict)


class Writer:
    """A customer who opens chat after chat and keeps the history of what came of every call.

    A call is acknowledged, or refused, or unknown: no answer came, and it may or may not have been taken. An unknown
    one is made again, as the widget does, until there is an answer.
    """

    def __init__(self, service: ServiceProcess) -> None:
        self.service = service
        self.chats: list[Written] = []
        self.unknown = 0
        self.refused: list[str] = []

    def write_until(self, over: threading.Event) -> None:
        """Write until it is over; what was begun is made again until there is an answer."""
        while not over.is_set():
            chat = Written(Customer(self.service.address))
            self._insist(chat.customer, lambda chat=chat: chat.customer.open(units="metric"))
            self.chats.append(chat)
            for number in range(MESSAGES_A_CHAT):
                said = self._insist(chat.customer, lambda chat=chat, number=number: say(chat, number))
                chat.answers[f"m{number}"] = said.content

    def _insist(self, customer: Customer, call: Callable[[], httpx.Response]) -> httpx.Response:
        while True:
            customer.address = self.service.address
            try:
                response = call()
            except httpx.TransportError:
                self.unknown += 1
                time.sleep(0.02)
                continue
            if response.status_code != 201:
                self.refused.append(f"{response.status_code} {response.text}")
            return response


def say(chat: Written, number: int) -> httpx.Response:
    return chat.customer.say(f"my keg leaks, message {number}", f"m{number}")


def test_kills_under_load_lose_nothing_double_nothing_and_change_no_answer(make, any_url, times) -> None:
    service = make(any_url).start()
    over, writers = threading.Event(), [Writer(service) for _ in range(WRITERS)]
    threads = [threading.Thread(target=writer.write_until, args=(over,)) for writer in writers]
    for thread in threads:
        thread.start()
    for _ in range(times * (10 if "sqlite" in any_url else 3)):
        time.sleep(random.uniform(*BETWEEN_KILLS_S))
        service.kill()
        service.start()
    over.set()
    for thread in threads:
        thread.join(20)
    assert [writer.refused for writer in writers] == [[]] * WRITERS
    assert sum(writer.unknown for writer in writers) > 0
    chats = [chat for writer in writers for chat in writer.chats]
    for chat in chats:
        chat.customer.address = service.address
        assert_history_holds(chat)
    assert rows(any_url, "select count(*) from chats") == [(len(chats),)]
    service.stop()
    assert_whole(any_url)


def assert_history_holds(chat: Written) -> None:
    """Everything acknowledged is there once and in order, nothing else is, and a retry gets the first answer."""
    told = chat.customer.read().json()
    assert [said["client_id"] for said in told["messages"]] == list(chat.answers)
    assert told["last_event"] == 2 * len(chat.answers)
    number = random.randrange(len(chat.answers))
    assert say(chat, number).content == chat.answers[f"m{number}"]


def assert_whole(url: str) -> None:
    """Each message has its consultation and its two events; the file is sound."""
    [(messages, consultations, events)] = rows(
        url, f"select {', '.join(f'(select count(*) from {each})' for each in ('messages', 'consultations', 'events'))}"
    )
    assert (consultations, events) == (messages, 2 * messages)
    if "sqlite" in url:
        assert rows(url, "pragma integrity_check") == [("ok",)]
        assert rows(url, "pragma foreign_key_check") == []


def test_a_message_whose_answer_never_came_is_there_once_when_it_is_sent_again(make, sqlite_url) -> None:
    service = make(sqlite_url).start()
    customer = Customer(service.address)
    customer.open()
    for number in range(3):
        send_without_waiting(customer, f"m{number}")
        time.sleep(0.005 * number)
        service.kill()
        service.start()
        customer.address = service.address
        assert customer.say("my keg leaks", f"m{number}").status_code == 201
    assert [said["client_id"] for said in customer.read().json()["messages"]] == ["m0", "m1", "m2"]


def send_without_waiting(customer: Customer, client_id: str) -> None:
    """Send a whole message and do not read the answer."""
    body = f'{{"client_id":"{client_id}","text":"my keg leaks"}}'
    send_raw(customer, f"/api/chats/{customer.chat}/messages", body).close()


def send_raw(customer: Customer, path: str, body: str) -> socket.socket:
    """Send a POST and return its connection."""
    url = httpx.URL(customer.address)
    connection = socket.create_connection((url.host, url.port))
    head = f"POST {path} HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nContent-Length: {len(body)}\r\n"
    connection.sendall(f"{head}Authorization: Bearer {customer.token}\r\n\r\n{body}".encode())
    return connection


def test_opening_cut_after_it_was_stored_and_tried_again_is_one_chat_with_a_token_that_works(make, any_url) -> None:
    service = make(any_url).start()
    customer = Customer(service.address)
    connection = send_raw(customer, "/api/chats", '{"text":"my keg leaks"}')
    while rows(any_url, "select count(*) from chats") != [(1,)]:
        time.sleep(0.01)
    connection.close()
    assert customer.open(text="my keg leaks").status_code == 201
    assert customer.say("it still does").status_code == 201
    assert rows(any_url, "select count(*) from chats") == [(1,)]


def test_clients_that_leave_at_any_moment_leave_nothing_half_done(make, any_url, times) -> None:
    service = make(any_url).start()
    for _ in range(3 * times):
        customer = Customer(service.address)
        customer.open()
        for number in range(50):
            send_without_waiting(customer, f"m{number}") if number % 2 else send_a_part(customer)
        assert customer.say("is anyone there?", "last").status_code == 201
        said = [message["client_id"] for message in customer.read().json()["messages"]]
        assert len(said) == len(set(said))
    assert_whole(any_url)
    if "postgresql" in any_url:
        open_transactions = "select count(*) from pg_stat_activity where state like 'idle in transaction%'"
        wait_for(lambda: rows(any_url, open_transactions) == [(0,)], seconds=10)


def send_a_part(customer: Customer) -> None:
    """Send the beginning of a message, cut at random, and leave."""
    url = httpx.URL(customer.address)
    whole = (
        f"POST /api/chats/{customer.chat}/messages HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\n"
        f"Authorization: Bearer {customer.token}\r\nContent-Length: 5000\r\n\r\n" + '{"client_id":"part","text":"my keg'
    )
    with socket.create_connection((url.host, url.port)) as connection:
        connection.sendall(whole[: random.randrange(len(whole))].encode())


def test_every_acknowledged_message_was_synced_to_the_disk_first(make, sqlite_url, tmp_path) -> None:
    strace = shutil.which("strace")
    if not strace:
        pytest.skip("strace is not installed: apt-get install strace")
    trace = tmp_path / "trace"
    service = make(sqlite_url, before=(strace, "-f", "-e", "trace=fdatasync,fsync", "-o", str(trace))).start()
    customer = Customer(service.address)
    customer.open()
    before = synced(trace)
    for _ in range(20):
        assert customer.say("my keg leaks").status_code == 201
    assert synced(trace) - before >= 20
    subprocess.run(["kill", "-TERM", str(child_of(service.pid))], check=True)


def synced(trace) -> int:
    return len(re.findall(r"f(?:data)?sync\(", trace.read_text()))


def child_of(pid: int) -> int:
    with open(f"/proc/{pid}/task/{pid}/children") as children:
        return int(children.read().split()[0])


def test_a_second_process_on_one_sqlite_file_is_refused_with_one_clear_line(make, sqlite_url) -> None:
    make(sqlite_url).start()
    second = make(sqlite_url, command=True)
    second.launch()
    assert second.wait(30) == 2
    last = second.log.read_text().splitlines()[-1]
    assert last.startswith("spile: Another process is using ")
    assert "use PostgreSQL" in last


def test_the_start_says_that_an_old_sqlite_allows_one_process(make, sqlite_url) -> None:
    service = make(sqlite_url, command=True).start()
    said = [line["message"] for line in service.lines() if line["logger"] == "spile.storage"]
    assert any("one process, one writing connection" in message for message in said)
