"""Messages: taken once, answered with a consultation on everything said so far."""

from __future__ import annotations

import pytest

FEVERISH = {"client_id": "m-1", "text": "it ferments far too warm", "facts": {"beer_temperature": "80 degF"}}


def say(chat, **said):
    return chat("POST", "/messages", json={"client_id": "m-1", **said})


def test_a_message_is_answered_with_a_consultation(chat) -> None:
    reply = chat("POST", "/messages", json=FEVERISH)
    assert reply.status_code == 201
    assert reply.json()["message"]["facts"] == {"beer_temperature": "80 degF"}
    assert reply.json()["consultation"]["facts"]["beer_temperature"]["value"] == pytest.approx(26.67, abs=0.01)


def test_a_consultation_knows_what_was_said_before(chat) -> None:
    chat("POST", "/messages", json=FEVERISH)
    reply = say(chat, client_id="m-2", facts={"current_gravity": 1.030})
    assert {"beer_temperature", "current_gravity"} <= set(reply.json()["consultation"]["facts"])


def test_a_fact_answered_as_not_known_is_taken(chat) -> None:
    reply = say(chat, facts={"original_gravity": None})
    assert reply.json()["consultation"]["facts"]["original_gravity"]["value"] is None


def test_the_same_message_sent_again_gets_the_first_answer_byte_for_byte(chat) -> None:
    first = chat("POST", "/messages", json=FEVERISH)
    say(chat, client_id="m-2", text="anyone there?")
    again = chat("POST", "/messages", json=FEVERISH)
    assert (again.status_code, again.content) == (201, first.content)
    assert len(chat("GET").json()["messages"]) == 2


@pytest.mark.parametrize(
    "other", [{"text": "something else"}, {"facts": {"beer_temperature": "81 degF"}}, {"facts": {}}]
)
def test_a_client_id_is_not_taken_for_another_message(chat, other) -> None:
    chat("POST", "/messages", json=FEVERISH)
    refused = chat("POST", "/messages", json=FEVERISH | other)
    assert refused.status_code == 422
    assert refused.json()["type"] == "/docs#already-said"
    assert len(chat("GET").json()["messages"]) == 1


def test_one_client_id_in_two_chats_is_two_messages(call) -> None:
    bearers = [{"Authorization": f"Bearer {letter * 30}"} for letter in "xy"]
    ids = [call("POST", "/api/chats", json={}, headers=bearer).json()["id"] for bearer in bearers]
    replies = [
        call("POST", f"/api/chats/{chat_id}/messages", json={"client_id": "same", "text": text}, headers=bearer)
        for chat_id, bearer, text in zip(ids, bearers, ["my keg leaks", "my beer is flat"], strict=True)
    ]
    assert [reply.json()["message"]["text"] for reply in replies] == ["my keg leaks", "my beer is flat"]


def test_a_chat_holds_so_many_messages_and_then_says_so(chat, monkeypatch) -> None:
    monkeypatch.setattr("service.chats.service.MOST_MESSAGES", 2)
    replies = [say(chat, client_id=f"m-{number}", text="hello") for number in range(3)]
    assert [reply.status_code for reply in replies] == [201, 201, 409]


def test_a_chat_holds_so_much_text_and_then_says_so(chat) -> None:
    replies = [say(chat, client_id=f"m-{number}", text="a" * 4000) for number in range(11)]
    assert [reply.status_code for reply in replies] == [201] * 10 + [409]
    assert "40000 characters" in replies[-1].json()["detail"]


def test_a_message_with_a_fact_that_cannot_be_is_refused_and_not_kept(chat) -> None:
    refused = say(chat, text="so cold", facts={"beer_temperature": "900 degC"})
    assert refused.status_code == 422
    assert refused.json()["errors"][0]["field"] == "facts.beer_temperature"
    assert chat("GET").json()["messages"] == []


def test_the_chat_reads_back_as_it_went(chat) -> None:
    replies = [
        say(chat, client_id=f"m-{number}", text=text).json() for number, text in enumerate(["flat", "still flat"])
    ]
    told = chat("GET").json()
    assert [said["consultation"] for said in told["messages"]] == [reply["consultation"] for reply in replies]
    assert told["consultation"] == replies[-1]["consultation"]
    assert told["last_event"] == 4
