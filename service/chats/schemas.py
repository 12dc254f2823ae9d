"""What the chat calls take and answer with."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated
from uuid import UUID

from pydantic import BaseModel, Field, StringConstraints

from service.consultation import Consultation
from service.consulting.schemas import Body, Givens, Said, Text, UnitSystem

ClientId = Annotated[str, StringConstraints(min_length=1, max_length=64, pattern=r"^[A-Za-z0-9_-]+$")]


class Opening(Body):
    """Opens a chat, with what the customer said first if it was said already."""

    text: Text = ""
    units: UnitSystem | None = Field(None, description="units of the answers; without it, as the customer wrote")


class NewMessage(Said):
    """The customer's next message or answers. Sent again with the same client_id it is still one message."""

    client_id: ClientId = Field(description="made by the sender, new for every message")


class MessageSaid(BaseModel):
    """What the customer said, as sent."""

    id: UUID
    number: int
    author: str
    client_id: str | None
    text: str
    facts: Givens
    at: datetime


class MessageAnswered(MessageSaid):
    """What the customer said, with the desk's answer to it."""

    consultation: Consultation


class ChatOpened(BaseModel):
    """A new chat; or, tried again with the same token, the same one as it was answered first."""

    id: UUID
    token: str = Field(description="told this once; send it in Authorization: Bearer")
    messages: list[MessageAnswered]
    consultation: Consultation | None
    last_event: int


class ChatSoFar(BaseModel):
    """Everything said in a chat."""

    id: UUID
    units: UnitSystem | None
    opened_at: datetime
    messages: list[MessageAnswered]
    consultation: Consultation | None
    last_event: int


class Reply(BaseModel):
    """The desk's answer to a message."""

    message: MessageSaid
    consultation: Consultation
    last_event: int
