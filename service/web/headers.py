"""Headers that every answer carries."""

from __future__ import annotations

from starlette.datastructures import MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

PAGES = (
    "default-src 'none'; script-src 'self'; connect-src 'self'; style-src 'self'; img-src 'self'; "
    "base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
)
NOT_A_PAGE = "default-src 'none'; frame-ancestors 'none'"


class SecurityHeaders:
    """What a browser may do with an answer: nothing, unless it is one of our pages. Plain ASGI."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        async def with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                is_page = headers.get("content-type", "").startswith("text/html")
                headers["Content-Security-Policy"] = PAGES if is_page else NOT_A_PAGE
                headers["X-Content-Type-Options"] = "nosniff"
                headers["Referrer-Policy"] = "no-referrer"
                headers.setdefault("Cache-Control", "no-store")
                if scope["scheme"] == "https":
                    headers["Strict-Transport-Security"] = "max-age=31536000"
            await send(message)

        await self.app(scope, receive, with_headers if scope["type"] == "http" else send)
