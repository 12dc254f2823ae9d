"""JSON at the door: what pydantic cannot see any more, or a database cannot store, is refused here."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Callable, Coroutine
from typing import Any

from fastapi import Request
from fastapi.routing import APIRoute
from starlette.responses import Response

from service.web.problems import FIX, Invalid, NotJson, Place, WrongMediaType

DEEPEST = 32
MOST_DIGITS = 30
UNSTORABLE = re.compile("[\x00\ud800-\udfff]")


class Fault(ValueError):
    """Why a body is refused, and where."""

    def __init__(self, message: str, place: Place = ()) -> None:
        super().__init__(message)
        self.message, self.place = message, place


def read_json(body: bytes) -> Any:
    """The value of a JSON text (RFC 8259) in UTF-8.

    Raises NotJson, or Invalid for numbers that are not finite, half surrogates, NUL, a key given twice, and nesting
    or whole numbers beyond reason.
    """
    try:
        value = json.loads(body.decode("utf-8"), object_pairs_hook=_object, parse_int=_whole, parse_constant=float)
        _inspect(value, ())
    except Fault as fault:
        raise Invalid(FIX, [(fault.place, fault.message)]) from None
    except RecursionError:
        raise Invalid(FIX, [((), f"is nested deeper than {DEEPEST} levels: send a flat object")]) from None
    except ValueError:
        raise NotJson("The body must be one JSON value in UTF-8. Correct it, then send it again.") from None
    return value


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    made = dict(pairs)
    if len(made) != len(pairs):
        raise Fault("has a key given twice: give each once")
    return made


def _whole(digits: str) -> int:
    if len(digits) > MOST_DIGITS:
        raise Fault(f"has a whole number of more than {MOST_DIGITS} digits: send a shorter one")
    return int(digits)


def _inspect(value: Any, place: Place) -> None:
    if len(place) > DEEPEST:
        raise Fault(f"is nested deeper than {DEEPEST} levels: send a flat object")
    if isinstance(value, float) and not math.isfinite(value):
        raise Fault("must be a finite number", place)
    if isinstance(value, str):
        _storable(value, place)
    elif isinstance(value, list):
        for index, each in enumerate(value):
            _inspect(each, (*place, index))
    elif isinstance(value, dict):
        for key, each in value.items():
            _storable(key, (*place, key))
            _inspect(each, (*place, key))


def _storable(text: str, place: Place) -> None:
    if UNSTORABLE.search(text):
        raise Fault("has a NUL or half a surrogate pair in it: send whole characters only", place)


class StrictRequest(Request):
    """A request whose JSON is read strictly."""

    async def json(self) -> Any:
        return read_json(await self.body())


class StrictRoute(APIRoute):
    """A route that takes JSON bodies only, read strictly."""

    def get_route_handler(self) -> Callable[[Request], Coroutine[Any, Any, Response]]:
        handle = super().get_route_handler()
        takes_body = self.body_field is not None

        async def strictly(request: Request) -> Response:
            if takes_body and not _is_json(request):
                raise WrongMediaType("Send the body with the header Content-Type: application/json.")
            return await handle(StrictRequest(request.scope, request.receive))

        return strictly


def _is_json(request: Request) -> bool:
    kind = request.headers.get("content-type")
    if kind is None:
        return request.headers.get("content-length", "0") == "0" and "transfer-encoding" not in request.headers
    return kind.partition(";")[0].strip().lower() == "application/json"
