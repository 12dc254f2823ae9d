"""Stored rows as JSON text. An answer is always made from the stored rows, so a repeated call gets the same bytes."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from service.chats.repository import Answered, Logged
from service.chats.tables import Chat, Consultation, Message


def as_json(value: Any) -> str:
    """Compact JSON; raises ValueError on what JSON cannot say."""
    return json.dumps(value, ensure_ascii=False, allow_nan=False, separators=(",", ":"))


def of_parts(**parts: str) -> str:
    """An object whose members are JSON texts already: a stored consultation goes out as the bytes that were stored."""
    return "{" + ",".join(f'"{name}":{text}' for name, text in parts.items()) + "}"


def message_parts(message: Message) -> dict[str, str]:
    """What the customer said."""
    return {
        "id": as_json(str(message.id)),
        "number": as_json(message.number),
        "author": as_json("customer"),
        "client_id": as_json(message.client_id),
        "text": as_json(message.text),
        "facts": message.facts,
        "at": as_json(message.at.isoformat().replace("+00:00", "Z")),
    }


def messages(answered: Sequence[Answered]) -> str:
    """Messages, each with the desk's answer to it."""
    return "[" + ",".join(of_parts(**message_parts(said), consultation=answer.body) for said, answer in answered) + "]"


def chat_parts(answered: Sequence[Answered], last_event: int) -> dict[str, str]:
    """What every view of a chat ends with."""
    latest = answered[-1][1].body if answered else "null"
    return {"messages": messages(answered), "consultation": latest, "last_event": as_json(last_event)}


def opened(chat: Chat, token: str, first: Sequence[Answered]) -> bytes:
    """The answer to opening a chat: as it was at its opening, however often it is asked for."""
    last = first[-1][0].last_event if first else 0
    return of_parts(id=as_json(str(chat.id)), token=as_json(token), **chat_parts(first, last)).encode()


def so_far(chat: Chat, answered: Sequence[Answered]) -> bytes:
    """The whole chat."""
    opened_at = as_json(chat.opened_at.isoformat().replace("+00:00", "Z"))
    parts = {"id": as_json(str(chat.id)), "units": as_json(chat.units), "opened_at": opened_at}
    return of_parts(**parts, **chat_parts(answered, chat.last_event)).encode()


def reply(message: Message, consultation: Consultation) -> bytes:
    """The answer to a message."""
    said = of_parts(**message_parts(message))
    return of_parts(message=said, consultation=consultation.body, last_event=as_json(message.last_event)).encode()


def event_data(logged: Logged) -> str:
    """The data of one event: a single JSON document without a line break."""
    _number, kind, message, consultation = logged
    if kind == "message":
        return of_parts(**message_parts(message))
    return of_parts(message=as_json(str(message.id)), consultation=consultation.body)
