"""Opening a chat: once, however often it is tried."""

from __future__ import annotations

from pathlib import Path

import pytest

from service.web.services import Services


def test_a_chat_opens_with_the_first_words_and_their_consultation(call, bearer) -> None:
    opened = call("POST", "/api/chats", json={"text": "my beer is stuck at 1.020", "units": "us"}, headers=bearer)
    assert opened.status_code == 201
    chat = opened.json()
    assert [said["text"] for said in chat["messages"]] == ["my beer is stuck at 1.020"]
    assert chat["consultation"] == chat["messages"][0]["consultation"]
    assert chat["consultation"]["units"] == "us"


def test_a_chat_opened_without_words_has_no_consultation_yet(call, bearer) -> None:
    chat = call("POST", "/api/chats", json={}, headers=bearer).json()
    assert (chat["messages"], chat["consultation"], chat["last_event"]) == ([], None, 0)


def test_a_chat_opens_without_a_body(call, bearer) -> None:
    assert call("POST", "/api/chats", headers=bearer).status_code == 201


@pytest.mark.parametrize("opening", [{}, {"text": "my beer is stuck at 1.020"}])
def test_trying_again_with_the_same_token_gets_the_same_chat_byte_for_byte(call, bearer, opening) -> None:
    first = call("POST", "/api/chats", json=opening, headers=bearer)
    said = {"client_id": "a", "text": "and it smells"}
    call("POST", f"/api/chats/{first.json()['id']}/messages", json=said, headers=bearer)
    again = call("POST", "/api/chats", json=opening, headers=bearer)
    assert (again.status_code, again.content) == (201, first.content)


def test_a_token_does_not_open_a_second_chat_with_other_words(call, bearer) -> None:
    call("POST", "/api/chats", json={"text": "my beer is stuck"}, headers=bearer)
    refused = call("POST", "/api/chats", json={"text": "my keg leaks"}, headers=bearer)
    assert refused.status_code == 422
    assert refused.json()["type"] == "/docs#already-said"


def test_without_a_token_the_service_makes_one_of_128_bits_or_more_and_it_works(call) -> None:
    opened = call("POST", "/api/chats", json={"text": "my keg leaks"}).json()
    assert len(opened["token"]) >= 22
    read = call("GET", f"/api/chats/{opened['id']}", headers={"Authorization": f"Bearer {opened['token']}"})
    assert read.json()["messages"] == opened["messages"]


@pytest.mark.parametrize("token", ["short", "0123456789abcdefghijk", "spaces are no token but long enough", "é" * 30])
def test_a_token_of_less_than_128_bits_or_of_other_characters_opens_nothing(call, token) -> None:
    refused = call("POST", "/api/chats", json={}, headers={"Authorization": f"Bearer {token}".encode()})
    assert refused.status_code == 401
    assert refused.headers["www-authenticate"] == "Bearer"


def test_only_a_hash_of_the_token_is_stored(call, bearer, services: Services) -> None:
    call("POST", "/api/chats", json={"text": "my keg leaks"}, headers=bearer)
    token = bearer["Authorization"].removeprefix("Bearer ").encode()
    files = list(Path(services.settings.database.removeprefix("sqlite:///")).parent.iterdir())
    assert any(b"my keg leaks" in file.read_bytes() for file in files)
    assert not any(token in file.read_bytes() for file in files)
