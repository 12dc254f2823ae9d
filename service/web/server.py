"""Runs the service: one process on SQLite, as many as are wanted on PostgreSQL."""

from __future__ import annotations

import logging
import os
import resource
import socket
import sys
from typing import NoReturn

import uvicorn
from starlette.types import ASGIApp
from uvicorn.supervisors import Multiprocess

from knowledge import KnowledgeFaults
from service.storage.errors import CannotOpen
from service.web import logs
from service.web.app import create_api, open_services, wrap
from service.web.protocol import BoundedProtocol
from service.web.services import Services
from service.web.settings import Settings
from service.web.settings import settings as read_settings

log = logging.getLogger("spile.web")
STOP_WITHIN_S = 4
START_WITHIN_S = 30  # a worker that has not answered by then is started anew
SEND_BUFFER = 128 * 1024
FILES_BESIDE_STREAMS = 300


def serve(settings: Settings) -> None:
    """Serve until stopped. Where it cannot start: one line on standard error, and exit code 2."""
    logs.configure(settings.log_level)
    _make_room(settings)
    try:
        services = open_services(settings)
        listening = _listen(settings)
    except CannotOpen as error:
        _refuse(str(error))
    except KnowledgeFaults as error:
        _refuse(f"the knowledge has {len(error.faults)} faults; `spile knowledge check` lists them")
    host = f"[{settings.host}]" if ":" in settings.host else settings.host
    address = f"http://{host}:{listening.getsockname()[1]}"
    log.info("listening on %s", address)
    # For the person who started it; the log, on standard error, is for programs.
    print(f"Spile is at {address}/ (its calls: {address}/docs). Ctrl+C stops it.", flush=True)
    if settings.workers == 1:
        uvicorn.Server(_config(settings, _application(services))).run([listening])
        return
    services.close()  # it was opened to find faults and to migrate; every worker opens its own
    os.environ.update(settings.as_environment())
    Multiprocess(_config(settings, "service.web.server:worker"), [listening]).run()


def _refuse(why: str) -> NoReturn:
    print(f"spile: {' '.join(why.split())}", file=sys.stderr)
    raise SystemExit(2)


def worker() -> ASGIApp:
    """The application of one of several processes, from the settings in the environment."""
    settings = read_settings()
    logs.configure(settings.log_level)
    return _application(open_services(settings))


def _application(services: Services) -> ASGIApp:
    return wrap(create_api(services), services.settings)


def _make_room(settings: Settings) -> None:
    """Allow as many open files as the streams need, where the system lets us; otherwise say how many there can be."""
    needed = settings.streams + FILES_BESIDE_STREAMS
    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    allowed = needed if hard == resource.RLIM_INFINITY else min(needed, hard)
    if soft != resource.RLIM_INFINITY and soft < allowed:
        resource.setrlimit(resource.RLIMIT_NOFILE, (allowed, hard))
    if allowed < needed:
        log.warning("%d open files are allowed (ulimit -n), too few for %d streams", allowed, settings.streams)


def _listen(settings: Settings) -> socket.socket:
    """A listening socket for all processes; connections inherit its options.

    A socket passed to another process does not get TCP_NODELAY by itself, and without it every answer on a kept
    connection waits 40 ms. The system would otherwise let a client that never reads pile up megabytes.
    """
    family = socket.AF_INET6 if ":" in settings.host else socket.AF_INET
    try:
        listening = socket.create_server((settings.host, settings.port), family=family, backlog=2048)
    except OSError as error:
        place = f"{settings.host}:{settings.port}"
        raise CannotOpen(f"{place} cannot be listened on: {error.strerror}. Choose another --host or --port.") from None
    listening.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_SNDBUF, SEND_BUFFER)
    listening.set_inheritable(True)
    return listening


def _config(settings: Settings, app: ASGIApp | str) -> uvicorn.Config:
    return uvicorn.Config(
        app,
        factory=isinstance(app, str),
        workers=settings.workers,
        http=BoundedProtocol,
        ws="none",
        lifespan="on",
        log_config=None,
        access_log=False,
        server_header=False,
        timeout_graceful_shutdown=STOP_WITHIN_S,
        timeout_worker_healthcheck=START_WITHIN_S,
    )
