"""How much of a body is taken, and for how long it is waited for."""

from __future__ import annotations

import asyncio
import time

from starlette.datastructures import Headers
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from service.web.problems import TooLarge, TooSlow, answer

LARGEST_BODY = 64 * 1024
SLOWEST_BODY_S = 15.0


class BodyLimit:
    """Counts the bytes that arrive, whatever Content-Length says. Plain ASGI, so that streams pass untouched."""

    def __init__(self, app: ASGIApp, largest: int = LARGEST_BODY, slowest: float = SLOWEST_BODY_S) -> None:
        self.app, self.largest, self.slowest = app, largest, slowest

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            return await self.app(scope, receive, send)
        said = Headers(scope=scope).get("content-length", "0")
        if said.isdecimal() and (len(said) > len(str(self.largest)) or int(said) > self.largest):
            return await answer(self._too_large())(scope, receive, send)
        return await self.app(scope, self._counted(receive), send)

    def _counted(self, receive: Receive) -> Receive:
        taken, complete, deadline = 0, False, time.monotonic() + self.slowest

        async def counted() -> Message:
            nonlocal taken, complete
            if complete:
                return await receive()  # nothing but the end of the connection can follow
            message = await self._in_time(receive, deadline)
            taken += len(message.get("body", b""))
            if taken > self.largest:
                raise self._too_large()
            complete = not message.get("more_body", False)
            return message

        return counted

    async def _in_time(self, receive: Receive, deadline: float) -> Message:
        try:
            async with asyncio.timeout(deadline - time.monotonic()):
                return await receive()
        except TimeoutError:
            raise TooSlow(f"The body must arrive within {self.slowest:g} s.", headers={"Connection": "close"}) from None

    def _too_large(self) -> TooLarge:
        return TooLarge(f"At most {self.largest // 1024} KiB are taken. Send less.", headers={"Connection": "close"})
