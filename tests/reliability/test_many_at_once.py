"""D4, C5, O4: many calls at one moment, on one process and on several."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

from service.storage.engine import open_database
from tests.serving import Customer, rows


def at_once(calls) -> list:
    """Make the calls in as many threads; their results."""
    with ThreadPoolExecutor(len(calls)) as threads:
        return [each.result() for each in [threads.submit(call) for call in calls]]


def test_twenty_equal_messages_at_once_to_two_processes_are_one_message_with_one_answer(make, postgres_url) -> None:
    first, second = make(postgres_url).start(), make(postgres_url).start()
    customer = Customer(first.address)
    customer.open()
    same = [Customer(each.address, customer.token, customer.chat) for each in (first, second) * 10]
    answers = at_once([lambda each=each: each.say("my keg leaks", "once") for each in same])
    assert {(answer.status_code, answer.content) for answer in answers} == {(201, answers[0].content)}
    assert rows(postgres_url, "select count(*) from messages") == [(1,)]


def test_twenty_equal_openings_at_once_to_two_processes_are_one_chat_with_one_answer(make, postgres_url) -> None:
    first, second = make(postgres_url).start(), make(postgres_url).start()
    token = Customer("").token
    same = [Customer(each.address, token) for each in (first, second) * 10]
    answers = at_once([lambda each=each: each.open(text="my keg leaks") for each in same])
    assert {(answer.status_code, answer.content) for answer in answers} == {(201, answers[0].content)}
    assert rows(postgres_url, "select count(*) from chats") == [(1,)]


def test_thirty_two_writers_at_once_all_get_through_on_sqlite(make, sqlite_url) -> None:
    service = make(sqlite_url).start()
    customers = [Customer(service.address) for _ in range(32)]

    def write(customer: Customer) -> set[int]:
        return {customer.open().status_code, *(customer.say(f"hello {number}").status_code for number in range(4))}

    assert at_once([lambda each=each: write(each) for each in customers]) == [{201}] * 32
    assert "locked" not in service.log.read_text()
    assert rows(sqlite_url, "select count(*) from events") == [(32 * 4 * 2,)]


def test_four_starts_at_once_make_the_tables_once(postgres_url) -> None:
    databases = at_once([lambda: open_database(postgres_url)] * 4)
    assert rows(postgres_url, "select version_num from alembic_version") == [("0001",)]
    for database in databases:
        database.close()
