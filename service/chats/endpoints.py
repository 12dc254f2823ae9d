"""The chat calls: HTTP in, HTTP out; what happens is in service.py."""

from __future__ import annotations

import re
import secrets
from collections.abc import Sequence
from typing import Annotated
from uuid import UUID

from fastapi import APIRouter, Body, Depends, Header
from fastapi.security import HTTPAuthorizationCredentials, HTTPBearer
from starlette.responses import Response

from service.chats import service
from service.chats.errors import AlreadySaid, ChatIsFull, ChatNotFound, TooManyStreams
from service.chats.repository import ChatRepository
from service.chats.schemas import ChatOpened, ChatSoFar, NewMessage, Opening, Reply
from service.chats.stream import EventStream
from service.consultation import Consultation, Turn, Units
from service.consulting.asking import ask
from service.web.problems import FIX, WITH_BODY, Invalid, NoToken, problems
from service.web.services import Services, WithServices
from service.web.strict_json import StrictRoute

router = APIRouter(prefix="/api/chats", route_class=StrictRoute, tags=["chats"])

# 22 characters of base64 carry the 128 random bits that a token has at least
TOKEN = re.compile(r"[A-Za-z0-9\-._~+/=]{22,200}")
bearer = HTTPBearer(auto_error=False, description="the chat's token: 128 random bits or more, made by the client")
Credentials = Annotated[HTTPAuthorizationCredentials | None, Depends(bearer)]


AN_EVENT = {
    "type": "object",
    "properties": {
        "id": {"type": "string", "description": "the event's number in its chat"},
        "event": {"type": "string", "enum": ["message", "consultation"]},
        "data": {"type": "string", "contentMediaType": "application/json", "description": "MessageSaid, or the answer"},
    },
}


async def _token_given(credentials: Credentials) -> str:
    if credentials is None or not TOKEN.fullmatch(credentials.credentials):
        raise NoToken
    return credentials.credentials


async def _token_or_new(credentials: Credentials) -> str:
    return secrets.token_urlsafe(32) if credentials is None else await _token_given(credentials)


async def _key(chat_id: str, token: Annotated[str, Depends(_token_given)]) -> service.Key:
    try:
        return service.Key(UUID(chat_id), token)
    except ValueError:
        raise ChatNotFound from None


WithKey = Annotated[service.Key, Depends(_key)]


@router.post(
    "",
    status_code=201,
    response_model=ChatOpened,
    responses=problems(NoToken, AlreadySaid, *WITH_BODY),
    openapi_extra={"security": [{}]},  # the token may be left out
)
async def open_chat(
    services: WithServices,
    token: Annotated[str, Depends(_token_or_new)],
    opening: Annotated[Opening, Body(default_factory=Opening)],
) -> Response:
    """Open a chat. A client that sends its own token gets the same chat, not a second one, when it tries again."""
    answer = await services.database.write(
        lambda session: service.open_chat(ChatRepository(session), _desk(services), token, opening)
    )
    return _told(services, answer)


@router.post(
    "/{chat_id}/messages",
    status_code=201,
    response_model=Reply,
    responses=problems(NoToken, ChatNotFound, ChatIsFull, AlreadySaid, *WITH_BODY),
)
async def post_message(key: WithKey, said: NewMessage, services: WithServices) -> Response:
    """Take the customer's next message or answers, and answer it. Sent again, it gets the same answer again."""
    answer = await services.database.write(
        lambda session: service.take_message(ChatRepository(session), _desk(services), key, said)
    )
    return _told(services, answer)


@router.get("/{chat_id}", response_model=ChatSoFar, responses=problems(NoToken, ChatNotFound))
async def get_chat(key: WithKey, services: WithServices) -> Response:
    """The chat so far."""
    body = await services.database.read(lambda session: service.read_chat(ChatRepository(session), key))
    return Response(body, media_type="application/json")


@router.delete("/{chat_id}", status_code=204, responses=problems(NoToken, ChatNotFound))
async def delete_chat(key: WithKey, services: WithServices) -> Response:
    """Delete the chat with everything said in it. It cannot be brought back."""
    await services.database.write(lambda session: service.forget_chat(ChatRepository(session), key))
    services.news.end(key.chat_id)
    await services.database.wipe()
    return Response(status_code=204)


@router.get(
    "/{chat_id}/events",
    response_class=Response,
    responses={
        200: {
            "description": "The chat's events, as they come.",
            "content": {"text/event-stream": {"schema": AN_EVENT}},
        },
        **problems(NoToken, ChatNotFound, TooManyStreams, Invalid),
    },
)
async def get_events(
    key: WithKey,
    services: WithServices,
    last_event_id: Annotated[
        str | None, Header(description="the number of the last event seen; without it, from the first")
    ] = None,
) -> Response:
    """The chat's live events: `message` and `consultation`, numbered, each with one JSON document as its data."""
    seen = _number(last_event_id)
    latest = await services.database.read(lambda session: service.last_event(ChatRepository(session), key))
    settings, news = services.settings, services.news
    if news.streams >= settings.streams or news.on(key.chat_id) >= settings.streams_per_chat:
        raise TooManyStreams
    # A number the log has not reached is of a log that was lost: begin again, for what comes twice is told once.
    return EventStream(services.log.entries(key.chat_id, seen if seen <= latest else 0), settings.write_seconds)


def _number(last_event_id: str | None) -> int:
    if last_event_id is None:
        return 0
    if not re.fullmatch("[0-9]{1,9}", last_event_id):
        raise Invalid(
            FIX, [(("last-event-id",), "must be the number of the last event seen; leave it out to begin at the first")]
        )
    return int(last_event_id)


def _desk(services: Services) -> service.Consult:
    def consult(turns: Sequence[Turn], units: Units | None) -> Consultation:
        return ask(turns, services.knowledge, units)

    return consult


def _told(services: Services, answer: service.Answer) -> Response:
    """The answer, once it is stored; those who follow the chat hear of it."""
    services.news.announce(answer.chat_id, answer.last_event)
    return Response(answer.body, status_code=201, media_type="application/json")
