"""The only place that knows how chats are stored."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import UTC, datetime
from uuid import UUID, uuid4

from sqlalchemy import delete, exists, select, text
from sqlalchemy.orm import Session

from service.chats.tables import Chat, Consultation, Event, Message

CHANNEL = "spile_events"
Answered = tuple[Message, Consultation]
Logged = tuple[int, str, Message, Consultation]


class ChatRepository:
    """Chats within one transaction."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def with_token(self, token_hash: bytes) -> Chat | None:
        """The chat that this token opened."""
        return self._session.scalar(select(Chat).where(Chat.token_hash == token_hash))

    def get(self, chat_id: UUID) -> Chat | None:
        """A chat, to read."""
        return self._session.get(Chat, chat_id)

    def lock(self, chat_id: UUID) -> Chat | None:
        """A chat, for this transaction alone: nobody else numbers its messages and events meanwhile."""
        return self._session.scalar(select(Chat).where(Chat.id == chat_id).with_for_update())

    def open(self, token_hash: bytes, units: str | None) -> Chat:
        """A new, empty chat."""
        chat = Chat(id=uuid4(), token_hash=token_hash, units=units, last_event=0, opened_at=datetime.now(UTC))
        self._session.add(chat)
        self._session.flush()
        return chat

    def answered(self, chat: Chat) -> list[Answered]:
        """Every message with its consultation, oldest first."""
        found = (
            select(Message, Consultation).join(Consultation).where(Message.chat_id == chat.id).order_by(Message.number)
        )
        return [(message, consultation) for message, consultation in self._session.execute(found)]

    def message(self, chat: Chat, client_id: str) -> Answered | None:
        """A message that was taken before, with its consultation."""
        found = select(Message, Consultation).join(Consultation)
        row = self._session.execute(found.where(Message.chat_id == chat.id, Message.client_id == client_id)).first()
        return row and (row[0], row[1])

    def said(self, chat: Chat) -> Sequence[Message]:
        """Every message, oldest first."""
        return self._session.scalars(select(Message).where(Message.chat_id == chat.id).order_by(Message.number)).all()

    def add(
        self, chat: Chat, number: int, client_id: str | None, said: tuple[str, str], answer: tuple[str, str]
    ) -> Answered:
        """Store a message (text, facts), the consultation (revision, body) and their two events."""
        (words, facts), (revision, body) = said, answer
        message = Message(
            id=uuid4(), chat_id=chat.id, number=number, client_id=client_id, text=words, facts=facts,
            last_event=chat.last_event + 2, at=datetime.now(UTC),
        )  # fmt: skip
        consultation = Consultation(message_id=message.id, revision=revision, body=body)
        self._session.add(message)
        self._session.flush()
        kinds = enumerate(("message", "consultation"), chat.last_event + 1)
        self._session.add_all(
            [
                consultation,
                *(Event(chat_id=chat.id, number=each, kind=kind, message_id=message.id) for each, kind in kinds),
            ]
        )
        chat.last_event = message.last_event
        self._session.flush()
        self._tell(chat)
        return message, consultation

    def events_after(self, chat_id: UUID, number: int, most: int) -> list[Logged]:
        """The next entries of a chat's log."""
        found = (
            select(Event.number, Event.kind, Message, Consultation)
            .join(Message, Event.message_id == Message.id)
            .join(Consultation, Consultation.message_id == Message.id)
            .where(Event.chat_id == chat_id, Event.number > number)
            .order_by(Event.number)
            .limit(most)
        )
        return [(each, kind, message, answer) for each, kind, message, answer in self._session.execute(found)]

    def latest_events(self, chat_ids: Iterable[UUID]) -> dict[UUID, int]:
        """The number of the last event of each of these chats."""
        found = select(Chat.id, Chat.last_event).where(Chat.id.in_(chat_ids))
        return dict(self._session.execute(found).tuples().all())

    def forget(self, chat: Chat) -> None:
        """Delete a chat and all that belongs to it."""
        self._session.execute(delete(Chat).where(Chat.id == chat.id))

    def forget_before(self, moment: datetime) -> int:
        """Delete every chat in which nothing was said since that moment; returns how many."""
        said_since = exists().where(Message.chat_id == Chat.id, Message.at >= moment)
        gone = self._session.execute(delete(Chat).where(Chat.opened_at < moment, ~said_since).returning(Chat.id))
        return len(gone.all())

    def _tell(self, chat: Chat) -> None:
        """Wake those who follow the chat from other processes; sent with the commit, or not at all."""
        if self._session.get_bind().dialect.name == "postgresql":
            said = {"channel": CHANNEL, "news": f"{chat.id} {chat.last_event}"}
            self._session.execute(text("SELECT pg_notify(:channel, :news)"), said)
