"""What happens in a chat, in the order in which it happens."""

from __future__ import annotations

import hashlib
import hmac
import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from uuid import UUID

from service.chats import views
from service.chats.errors import AlreadySaid, ChatIsFull, ChatNotFound
from service.chats.repository import Answered, ChatRepository
from service.chats.schemas import NewMessage, Opening
from service.chats.tables import Chat
from service.consultation import Consultation, Turn, Units

# every message is answered from all before it: these bound what one answer can cost
MOST_MESSAGES = 100
MOST_TEXT = 40_000
Consult = Callable[[Sequence[Turn], Units | None], Consultation]


@dataclass(frozen=True)
class Key:
    """The right to one chat: its id, and the token that opened it."""

    chat_id: UUID
    token: str


@dataclass(frozen=True)
class Answer:
    """The body of a response, and what those who follow the chat should know."""

    body: bytes
    chat_id: UUID
    last_event: int


def hashed(token: str) -> bytes:
    """What is kept of a token. It is random already, so one plain hash is enough."""
    return hashlib.sha256(token.encode()).digest()


def open_chat(chats: ChatRepository, consult: Consult, token: str, opening: Opening) -> Answer:
    """Open the chat of this token, or find it when the call is a repetition."""
    chat = chats.with_token(hashed(token))
    if chat is None:
        chat = chats.open(hashed(token), opening.units)
        first = [_answer(chats, consult, chat, None, opening.text, {})] if opening.text.strip() else []
    else:
        first = [each for each in chats.answered(chat)[:1] if each[0].client_id is None]
        if (first[0][0].text if first else "") != (opening.text if opening.text.strip() else ""):
            raise AlreadySaid(
                "This token has opened a chat with another text. Send the new text as a message of that chat."
            )
    return Answer(views.opened(chat, token, first), chat.id, chat.last_event)


def take_message(chats: ChatRepository, consult: Consult, key: Key, said: NewMessage) -> Answer:
    """Take the customer's next message and answer it; what was taken before gets the answer it got then."""
    chat = _right_to(chats.lock(key.chat_id), key)
    earlier = chats.message(chat, said.client_id)
    if earlier and not _is_the_same(earlier, said):
        raise AlreadySaid("This client_id was used for another message of this chat. Make a new one for every message.")
    message, consultation = earlier or _answer(chats, consult, chat, said.client_id, said.text, said.facts)
    return Answer(views.reply(message, consultation), chat.id, chat.last_event)


def read_chat(chats: ChatRepository, key: Key) -> bytes:
    """The chat so far."""
    chat = _right_to(chats.get(key.chat_id), key)
    return views.so_far(chat, chats.answered(chat))


def forget_chat(chats: ChatRepository, key: Key) -> None:
    """Delete the chat, its messages, their answers and its log."""
    chats.forget(_right_to(chats.lock(key.chat_id), key))


def last_event(chats: ChatRepository, key: Key) -> int:
    """The number of the chat's last event."""
    return _right_to(chats.get(key.chat_id), key).last_event


def _right_to(chat: Chat | None, key: Key) -> Chat:
    if chat is None or not hmac.compare_digest(chat.token_hash, hashed(key.token)):
        raise ChatNotFound
    return chat


def _is_the_same(earlier: Answered, said: NewMessage) -> bool:
    return (earlier[0].text, earlier[0].facts) == (said.text, views.as_json(said.facts))


def _answer(
    chats: ChatRepository, consult: Consult, chat: Chat, client_id: str | None, text: str, facts: dict[str, object]
) -> Answered:
    """Consult on everything said so far and this, and store both."""
    before = chats.said(chat)
    if len(before) >= MOST_MESSAGES or sum(len(each.text) for each in before) + len(text) > MOST_TEXT:
        raise ChatIsFull(f"A chat holds {MOST_MESSAGES} messages and {MOST_TEXT} characters. Open a new one.")
    turns = [Turn(text=each.text, facts=json.loads(each.facts)) for each in before]
    consultation = consult([*turns, Turn(text=text, facts=facts)], chat.units)  # type: ignore[arg-type]
    return chats.add(
        chat,
        len(before) + 1,
        client_id,
        (text, views.as_json(facts)),
        (consultation.revision, consultation.model_dump_json()),
    )
