"""HTTP connections that hold neither memory nor a place for ever: request heads are bounded in size and in time."""

from __future__ import annotations

import asyncio
from typing import Any

from uvicorn.protocols.http.httptools_impl import HttpToolsProtocol

LARGEST_HEAD = 32 * 1024
SLOWEST_HEAD_S = 15.0


class BoundedProtocol(HttpToolsProtocol):
    """Refuses a request whose line and headers are too long (431) or too slow, and lets a stream cut its client off."""

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        super().connection_made(transport)
        self._head = 0
        self._reading_head = True
        self._timer = self.loop.call_later(SLOWEST_HEAD_S, self._too_slow)

    def connection_lost(self, exc: Exception | None) -> None:
        self._timer.cancel()
        super().connection_lost(exc)

    def on_message_begin(self) -> None:
        super().on_message_begin()
        extensions: dict[str, Any] = self.scope.setdefault("extensions", {})
        extensions["spile.abort"] = self.transport.abort
        self._head, self._reading_head = 0, True
        self._timer.cancel()
        self._timer = self.loop.call_later(SLOWEST_HEAD_S, self._too_slow)

    def on_headers_complete(self) -> None:
        self._reading_head = False
        self._timer.cancel()
        super().on_headers_complete()

    def data_received(self, data: bytes) -> None:
        self._head += len(data)
        super().data_received(data)
        if self._reading_head and self._head > LARGEST_HEAD:
            self._refuse("431 Request Header Fields Too Large")

    def _too_slow(self) -> None:
        self._refuse("408 Request Timeout")

    def _refuse(self, status: str) -> None:
        if not self.transport.is_closing():
            self.transport.write(f"HTTP/1.1 {status}\r\ncontent-length: 0\r\nconnection: close\r\n\r\n".encode())
            self.transport.close()
