"""A small real HTTP server that speaks the chats contract, so that the element can be tried without the desk behind it.

It keeps its chats when it is stopped and started again on the same port, as the service keeps them in its database,
and it can be told to misbehave: to take a message and cut the connection before it answers, or to answer a status.
"""

from __future__ import annotations

import json
import socket
import threading
import time
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

WIDGET = Path(__file__).parents[2] / "widget"
TYPES = {".js": "text/javascript", ".css": "text/css", ".html": "text/html", ".svg": "image/svg+xml"}
STRICT = (
    "default-src 'none'; script-src 'self'; connect-src 'self'; style-src 'self'; img-src 'self'; "
    "base-uri 'none'; form-action 'none'; require-trusted-types-for 'script'; trusted-types 'none'"
)
SHORTEST_TOKEN = 22  # 128 bits in base64

Reply = Callable[[list[dict[str, Any]]], dict[str, Any]]


@dataclass
class Chat:
    """One chat as stored: what was said, numbered from 1, and the log of its events."""

    id: str
    token: str
    messages: list[dict[str, Any]] = field(default_factory=list)
    events: list[tuple[str, dict[str, Any]]] = field(default_factory=list)

    def add(self, author: str, text: str, facts: dict[str, Any], client_id: str | None = None) -> dict[str, Any]:
        """Store one message under the chat's next number."""
        number = len(self.messages) + 1
        numbered = {"id": f"m{number}", "number": number, "at": "2026-11-25T19:30:00Z"}
        self.messages.append({**numbered, "author": author, "client_id": client_id, "text": text, "facts": facts})
        self.events.append(("message", dict(self.messages[-1])))
        return self.messages[-1]

    def answer(self, message: dict[str, Any], consultation: dict[str, Any]) -> None:
        """Store the desk's answer to a message."""
        message["consultation"] = consultation
        self.events.append(("consultation", {"message": message["id"], "consultation": consultation}))

    def so_far(self) -> dict[str, Any]:
        """Everything said."""
        latest = next((m["consultation"] for m in reversed(self.messages) if "consultation" in m), None)
        return {"id": self.id, "messages": self.messages, "consultation": latest, "last_event": len(self.events)}


class SmallDesk:
    """The server and what it keeps. `reply` makes a consultation of everything the customer said."""

    def __init__(self, reply: Reply, policy: str = STRICT) -> None:
        self.reply, self.policy = reply, policy
        self.chats: dict[str, Chat] = {}
        self.pages: dict[str, str] = {}
        self.requests: list[tuple[str, str, dict[str, str]]] = []
        self.cut_answers = 0
        self.cut_openings = 0
        self.status_for_messages: int | None = None
        self.refusal = "gravity: is outside what is possible here."
        self.streams_work = True
        self.changed = threading.Condition()
        self._server: _Server | None = None
        self.port = 0
        self.start()

    @property
    def address(self) -> str:
        """Where a browser finds it."""
        return f"http://127.0.0.1:{self.port}"

    def start(self) -> None:
        """Listen, on the port used before if there was one."""
        desk = self

        class Handler(_Handler):
            def __init__(self, *args: Any) -> None:
                self.desk = desk
                super().__init__(*args)

        self._server = _Server(("127.0.0.1", self.port), Handler)
        self.port = self._server.server_address[1]
        threading.Thread(target=self._server.serve_forever, kwargs={"poll_interval": 0.02}, daemon=True).start()

    def stop(self) -> None:
        """Stop listening and cut every open stream, as when the process dies."""
        server, self._server = self._server, None
        if server:
            server.shutdown()
            server.server_close()
            server.cut_connections()
            with self.changed:
                self.changed.notify_all()

    @property
    def running(self) -> bool:
        """Whether it listens."""
        return self._server is not None

    def messages(self) -> list[dict[str, Any]]:
        """Every message of every chat, in order."""
        return [message for chat in self.chats.values() for message in chat.messages]

    def said(self) -> list[str]:
        """Every text the customer has said, in order."""
        return [m["text"] for m in self.messages() if m["author"] == "customer" and m["text"]]

    def last_resumed(self) -> int:
        """The number after which a browser last asked for events."""
        asked = [int(headers["Last-Event-ID"]) for _, path, headers in self.requests if path.endswith("/events")]
        return asked[-1] if asked else 0

    def wait_until(self, holds: Callable[[], bool]) -> None:
        """Wait until something has happened here."""
        deadline = time.monotonic() + 20
        while not holds():
            assert time.monotonic() < deadline, "it did not happen in time"
            time.sleep(0.02)

    def from_the_shop(self, text: str) -> None:
        """A person at the shop writes in the latest chat."""
        with self.changed:
            list(self.chats.values())[-1].add("person", text, {})
            self.changed.notify_all()

    def take(self, chat: Chat, said: dict[str, Any]) -> dict[str, Any]:
        """The customer's message, once for each client_id, and the desk's reply."""
        with self.changed:
            known = next((m for m in chat.messages if m["client_id"] == said["client_id"]), None)
            if known is None:
                known = chat.add("customer", said.get("text", ""), said.get("facts", {}), said["client_id"])
                chat.answer(known, self.reply([m for m in chat.messages if m["author"] == "customer"]))
                self.changed.notify_all()
            return {"message": known, "consultation": known["consultation"], "last_event": len(chat.events)}


class _Server(ThreadingHTTPServer):
    daemon_threads = True
    block_on_close = False
    allow_reuse_address = True

    def __init__(self, *args: Any) -> None:
        self.open: set[socket.socket] = set()
        super().__init__(*args)

    def process_request(self, request: Any, client_address: Any) -> None:
        self.open.add(request)
        super().process_request(request, client_address)

    def shutdown_request(self, request: Any) -> None:
        self.open.discard(request)
        super().shutdown_request(request)

    def cut_connections(self) -> None:
        """End what is open, also the connections a browser keeps for later."""
        for connection in list(self.open):
            with suppress(OSError):
                connection.shutdown(socket.SHUT_RDWR)

    def handle_error(self, request: Any, client_address: Any) -> None:
        """A cut connection is what these tests are about, not an error of theirs."""


class _Handler(BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    disable_nagle_algorithm = True
    desk: SmallDesk

    def log_message(self, *_: Any) -> None:
        """Keep the test's output clean."""

    def do_GET(self) -> None:
        """A page, a file of the widget, a chat, or its events."""
        self.desk.requests.append(("GET", self.path, dict(self.headers)))
        if self.path.startswith("/api/chats/"):
            self._chat_get()
        else:
            self._file()

    def do_POST(self) -> None:
        """Open a chat, or take a message."""
        self.desk.requests.append(("POST", self.path, dict(self.headers)))
        body = json.loads(self.rfile.read(int(self.headers["Content-Length"])))
        if self.path == "/api/chats":
            self._open()
        elif chat := self._own_chat():
            self._message(chat, body)

    def _file(self) -> None:
        if self.path in self.desk.pages:
            return self._answer(200, self.desk.pages[self.path].encode(), "text/html; charset=utf-8")
        file = WIDGET / ("index.html" if self.path == "/" else self.path.removeprefix("/widget/"))
        if not file.is_file() or file.parent != WIDGET:
            return self._answer(404, b"not here", "text/plain")
        return self._answer(200, file.read_bytes(), TYPES[file.suffix])

    def _open(self) -> None:
        token = self._token()
        if len(token) < SHORTEST_TOKEN:
            return self._problem(422, "the token is too short")
        known = next((chat for chat in self.desk.chats.values() if chat.token == token), None)
        chat = known or Chat(f"chat-{len(self.desk.chats) + 1}", token)
        self.desk.chats[chat.id] = chat
        if self.desk.cut_openings:
            self.desk.cut_openings -= 1
            return self._cut()
        return self._json(200 if known else 201, {**chat.so_far(), "token": token})

    def _message(self, chat: Chat, body: dict[str, Any]) -> None:
        if self.desk.status_for_messages:
            return self._problem(self.desk.status_for_messages, self.desk.refusal)
        answer = self.desk.take(chat, body)
        if self.desk.cut_answers:
            self.desk.cut_answers -= 1
            return self._cut()
        return self._json(201, answer)

    def _cut(self) -> None:
        self.close_connection = True
        self.connection.shutdown(socket.SHUT_RDWR)

    def _chat_get(self) -> None:
        chat = self._own_chat()
        if chat and self.path.endswith("/events"):
            self._events(chat)
        elif chat:
            self._json(200, chat.so_far())

    def _events(self, chat: Chat) -> None:
        if not self.desk.streams_work:
            return self._problem(502, "no streams here")
        self.send_response(200)
        self.send_header("Content-Type", "text/event-stream")
        self.send_header("Cache-Control", "no-store")
        self.end_headers()
        sent = int(self.headers.get("Last-Event-ID", 0))
        self.close_connection = True
        server = self.server
        while self.desk._server is server:
            with self.desk.changed:
                new = chat.events[sent:]
                if not new:
                    self.desk.changed.wait(1)
            try:
                for number, (kind, data) in enumerate(new, sent + 1):
                    self.wfile.write(f"id: {number}\r\nevent: {kind}\r\ndata: {json.dumps(data)}\r\n\r\n".encode())
                self.wfile.write(b": still here\n\n")
                self.wfile.flush()
            except OSError:
                return None
            sent += len(new)
        return None

    def _token(self) -> str:
        return self.headers.get("Authorization", "").removeprefix("Bearer ")

    def _own_chat(self) -> Chat | None:
        chat = self.desk.chats.get(self.path.split("/")[3])
        if chat is None or chat.token != self._token():
            self._problem(404, "There is no such chat.")
            return None
        return chat

    def _problem(self, status: int, detail: str) -> None:
        self._answer(status, json.dumps({"status": status, "detail": detail}).encode(), "application/problem+json")

    def _json(self, status: int, body: Any) -> None:
        self._answer(status, json.dumps(body).encode(), "application/json")

    def _answer(self, status: int, body: bytes, kind: str) -> None:
        self.send_response(status)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(body)))
        self.send_header("Content-Security-Policy", self.desk.policy)
        self.send_header("X-Content-Type-Options", "nosniff")
        self.end_headers()
        self.wfile.write(body)
