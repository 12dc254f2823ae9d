"""Errors as answers: RFC 9457 problem details, made in one place. They never repeat what was sent."""

from __future__ import annotations

import json
import logging
from collections.abc import Iterable, Mapping, Sequence
from http import HTTPStatus
from typing import Any, ClassVar

from fastapi import FastAPI, HTTPException, Request
from fastapi.exceptions import RequestValidationError
from pydantic import BaseModel, Field
from starlette.exceptions import HTTPException as AnyHTTPException
from starlette.responses import Response

from service.storage.errors import Unavailable

log = logging.getLogger("spile.web")
MEDIA_TYPE = "application/problem+json"
MOST_ERRORS = 5
FIX = "Correct the fields named in errors, then send it again."
Place = tuple[str | int, ...]


class FieldError(BaseModel):
    """One field that has to be put right."""

    field: str = Field(description="where it stands, such as facts.current_gravity")
    message: str = Field(description="what is wrong and what to send instead")


class ProblemDetails(BaseModel):
    """An error, as RFC 9457 describes it."""

    type: str = Field(description="names the kind of problem; its description is at this address")
    title: str
    status: int
    detail: str
    errors: list[FieldError] | None = None


class Problem(HTTPException):
    """An expected error. Subclasses fix the status and the title; an instance says what happened and what to do."""

    status: ClassVar[int] = 500
    title: ClassVar[str] = "The service failed"

    def __init__(
        self, detail: str, errors: Iterable[tuple[Place, str]] = (), headers: Mapping[str, str] | None = None
    ) -> None:
        super().__init__(self.status, detail, dict(headers or {}))
        self.errors = list(errors)

    @classmethod
    def slug(cls) -> str:
        """The kind's name in addresses: ChatNotFound is chat-not-found."""
        return "".join(f"-{letter.lower()}" if letter.isupper() else letter for letter in cls.__name__).strip("-")


class NotJson(Problem):
    """The body cannot be read as JSON in UTF-8."""

    status, title = 400, "The body is not JSON"


class NoToken(Problem):
    """The chat's token is missing from the Authorization header, or is too short to be one."""

    status, title = 401, "The chat's token is needed"

    def __init__(self) -> None:
        super().__init__(
            "Send the chat's token in the header: Authorization: Bearer TOKEN.", headers={"WWW-Authenticate": "Bearer"}
        )


class NotFound(Problem):
    """Nothing is at this address."""

    status, title = 404, "Nothing is here"


class TooSlow(Problem):
    """The body did not arrive in time."""

    status, title = 408, "The body did not arrive in time"


class TooLarge(Problem):
    """The body is larger than the call takes."""

    status, title = 413, "The body is too large"


class WrongMediaType(Problem):
    """The body is not application/json."""

    status, title = 415, "The body must be JSON"


class Invalid(Problem):
    """Something in the request has to be put right before it can be taken."""

    status, title = 422, "Something has to be put right"


class TryAgain(Problem):
    """The service cannot take this just now. Nothing is lost by sending the same again."""

    status, title = 503, "Try again in a moment"

    def __init__(self) -> None:
        super().__init__(
            "The desk cannot store anything just now. Send the same again in a moment.", headers={"Retry-After": "2"}
        )


EVERY_CALL: tuple[type[Problem], ...] = (TryAgain,)
WITH_BODY: tuple[type[Problem], ...] = (NotJson, TooSlow, TooLarge, WrongMediaType, Invalid)


def problems(*kinds: type[Problem]) -> dict[int | str, dict[str, Any]]:
    """The errors of a call, for its `responses`: OpenAPI shows each with its description."""
    listed: dict[int | str, dict[str, Any]] = {}
    for kind in (*kinds, *EVERY_CALL):
        known = listed.setdefault(kind.status, {"description": "", "content": {MEDIA_TYPE: {"schema": _SCHEMA}}})
        known["description"] = f"{known['description']} {kind.__doc__}".strip()
    return listed


_SCHEMA = {"$ref": "#/components/schemas/ProblemDetails"}


def install(app: FastAPI, names: frozenset[str]) -> None:
    """Answer every error of the app as a problem. Only fields with these names are named in the answers."""

    async def expected(_request: Request, error: Exception) -> Response:
        assert isinstance(error, AnyHTTPException)
        return answer(error, names)

    async def malformed(_request: Request, error: Exception) -> Response:
        assert isinstance(error, RequestValidationError)
        return answer(invalid(error), names)

    async def unavailable(_request: Request, _error: Exception) -> Response:
        return answer(TryAgain(), names)

    async def unexpected(_request: Request, error: Exception) -> Response:
        log.error("a call failed", exc_info=error)
        return answer(Problem("The desk failed to answer. The fault is logged; sending the same again is safe."), names)

    app.add_exception_handler(AnyHTTPException, expected)
    app.add_exception_handler(RequestValidationError, malformed)
    app.add_exception_handler(Unavailable, unavailable)
    app.add_exception_handler(Exception, unexpected)


def answer(error: AnyHTTPException, names: frozenset[str] = frozenset()) -> Response:
    """The response to an error."""
    if not isinstance(error, Problem):
        error = _of_the_framework(error)
    body: dict[str, Any] = {
        "type": f"/docs#{error.slug()}",
        "title": error.title,
        "status": error.status_code,
        "detail": error.detail,
    }
    if error.errors:
        body["errors"] = [{"field": shown(place, names), "message": text} for place, text in error.errors[:MOST_ERRORS]]
    content = json.dumps(body, ensure_ascii=False).encode()
    return Response(content, error.status_code, {"Cache-Control": "no-store", **(error.headers or {})}, MEDIA_TYPE)


class NotAllowed(Problem):
    """This address does not take this method; the Allow header names those it takes."""

    status, title = 405, "This method is not taken here"


def _of_the_framework(error: AnyHTTPException) -> Problem:
    headers = error.headers
    if error.status_code == HTTPStatus.METHOD_NOT_ALLOWED:
        return NotAllowed("The Allow header names the methods that this address takes.", headers=headers)
    if error.status_code == HTTPStatus.NOT_FOUND:
        return NotFound("There is nothing at this address. /docs lists the calls.", headers=headers)
    other = Problem(HTTPStatus(error.status_code).phrase, headers=headers)
    other.status_code = error.status_code
    return other


def invalid(error: RequestValidationError) -> Invalid:
    """What pydantic found, without what was sent."""
    found = [_field_error(each) for each in error.errors()]
    return Invalid(FIX, dict(found).items())


SAYS = {
    "missing": "is missing: send it",
    "extra_forbidden": "has a field this call does not know: leave it out; /docs lists the fields",
    "string_type": "must be text in quotes",
    "literal_error": "must be {expected}",
    "string_too_long": "is too long: at most {max_length} characters (Unicode code points)",
    "string_too_short": "is too short: at least {min_length} characters",
    "too_long": "has too many entries: at most {max_length}",
    "dict_type": "must be an object of names and values",
    "model_attributes_type": "must be a JSON object",
    "model_type": "must be a JSON object",
}


def _field_error(found: Mapping[str, Any]) -> tuple[Place, str]:
    kind = found["type"]
    place = tuple(part for part in found["loc"] if part not in ("body", "header", "[key]"))
    if kind == "extra_forbidden":
        place = place[:-1]
    own = str(found["msg"]).removeprefix("Value error, ") if kind == "value_error" else "is not as this call needs it"
    return place, SAYS.get(kind, own).format(**found.get("ctx", {}))


def shown(place: Sequence[str | int], names: frozenset[str]) -> str:
    """Where a field stands. A name that the service did not give itself is left out: it is what was sent."""
    return ".".join(str(part) if isinstance(part, int) or part in names else "…" for part in place) or "body"
