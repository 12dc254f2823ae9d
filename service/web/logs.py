"""Logs: one JSON object a line, in UTC, without anything a customer wrote and without tokens.

Of an exception only its type and its place in the code are logged: its text may quote what was sent.
"""

from __future__ import annotations

import json
import logging
import secrets
import sys
import time
import traceback
from datetime import UTC, datetime
from typing import Any

from starlette.types import ASGIApp, Message, Receive, Scope, Send

log = logging.getLogger("spile.requests")
QUIET = ("alembic", "uvicorn.access", "sse_starlette")


class JsonLines(logging.Formatter):
    """A record as one line of JSON."""

    def format(self, record: logging.LogRecord) -> str:
        line: dict[str, Any] = {
            "time": datetime.fromtimestamp(record.created, UTC).isoformat(timespec="milliseconds"),
            "level": record.levelname,
            "logger": record.name,
            "message": record.getMessage(),
            **getattr(record, "fields", {}),
        }
        if record.exc_info and record.exc_info[0]:
            line["error"] = record.exc_info[0].__name__
            line["places"] = [
                f"{frame.filename}:{frame.lineno} {frame.name}" for frame in traceback.extract_tb(record.exc_info[2])
            ]
        return json.dumps(line, ensure_ascii=False)


def configure(level: str) -> None:
    """Send every log to standard error in this form."""
    handler = logging.StreamHandler(sys.stderr)
    handler.setFormatter(JsonLines())
    logging.basicConfig(level=level, handlers=[handler], force=True)
    for name in QUIET:
        logging.getLogger(name).setLevel(logging.WARNING)


class RequestLog:
    """One line a request: the route's template instead of the address, which may hold anything. Plain ASGI."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            return await self.app(scope, receive, send)
        fields: dict[str, Any] = {"request": secrets.token_hex(8), "method": _method(scope), "status": None}
        begun = time.perf_counter()

        async def noted(message: Message) -> None:
            if message["type"] == "http.response.start":
                fields["status"] = message["status"]
                message = {**message, "headers": [*message["headers"], (b"x-request-id", fields["request"].encode())]}
            await send(message)

        try:
            await self.app(scope, receive, noted)
        finally:
            fields["route"] = getattr(scope.get("route"), "path", None)
            fields["ms"] = round((time.perf_counter() - begun) * 1000, 1)
            log.info("request", extra={"fields": fields})


def _method(scope: Scope) -> str:
    method: str = scope["method"]
    return method if method in {"GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS"} else "other"
