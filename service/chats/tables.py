"""What is kept of a chat: what the customer said, what the desk answered, and the log that streams are read from."""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

from sqlalchemy import ForeignKey, LargeBinary, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from service.storage.rows import Row


class Chat(Row):
    """One customer's case. Only the hash of its token is kept."""

    __tablename__ = "chats"

    id: Mapped[UUID] = mapped_column(primary_key=True)
    token_hash: Mapped[bytes] = mapped_column(LargeBinary(32), unique=True)
    units: Mapped[str | None]
    last_event: Mapped[int]
    opened_at: Mapped[datetime]


class Message(Row):
    """What the customer said in one go, as sent. The text that opened a chat has no client_id."""

    __tablename__ = "messages"
    __table_args__ = (UniqueConstraint("chat_id", "client_id"), UniqueConstraint("chat_id", "number"))

    id: Mapped[UUID] = mapped_column(primary_key=True)
    chat_id: Mapped[UUID] = mapped_column(ForeignKey("chats.id", ondelete="CASCADE"))
    number: Mapped[int]
    client_id: Mapped[str | None]
    text: Mapped[str]
    facts: Mapped[str]  # JSON
    last_event: Mapped[int]  # the last event this message caused
    at: Mapped[datetime]


class Consultation(Row):
    """The desk's answer to a message, as it was given, under the revision of the knowledge that gave it."""

    __tablename__ = "consultations"

    message_id: Mapped[UUID] = mapped_column(ForeignKey("messages.id", ondelete="CASCADE"), primary_key=True)
    revision: Mapped[str]
    body: Mapped[str]  # JSON, kept as text: its bytes are part of the answer


class Event(Row):
    """One entry of a chat's log. Numbers are given inside the transaction while the chat's row is locked, so none
    becomes visible before a smaller one."""

    __tablename__ = "events"

    chat_id: Mapped[UUID] = mapped_column(ForeignKey("chats.id", ondelete="CASCADE"), primary_key=True)
    number: Mapped[int] = mapped_column(primary_key=True)
    kind: Mapped[str]
    message_id: Mapped[UUID] = mapped_column(ForeignKey("messages.id", ondelete="CASCADE"), index=True)
