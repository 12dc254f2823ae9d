"""The application: the calls, their errors, the pages, and the layers around them."""

from __future__ import annotations

import asyncio
import logging
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from typing import Any

from fastapi import FastAPI
from starlette.middleware.cors import CORSMiddleware
from starlette.types import ASGIApp

import calculators
import knowledge
from service.chats import endpoints as chats
from service.chats.listening import Listening
from service.chats.news import News
from service.chats.retention import keep_forgetting
from service.chats.stream import Log
from service.consultation import Turn
from service.consulting import endpoints as consulting
from service.consulting.asking import ask
from service.storage.engine import open_database
from service.web import health, problems
from service.web.headers import SecurityHeaders
from service.web.limits import BodyLimit
from service.web.logs import RequestLog
from service.web.pages import add_pages
from service.web.services import Services
from service.web.settings import Settings
from service.web.stopping import on_stop

log = logging.getLogger("spile.web")
ABOUT = "The help desk of a home-brewing supply shop. Errors are RFC 9457 problem details."
FIELDS = {
    "text",
    "facts",
    "units",
    "client_id",
    "inputs",
    "value",
    "unit",
    "low",
    "high",
    "chat_id",
    "name",
    "last-event-id",
}


def open_services(settings: Settings) -> Services:
    """Load the knowledge and open the database. Raises KnowledgeFaults or CannotOpen: nothing is served on less."""
    tree = knowledge.shipped() if settings.knowledge is None else knowledge.load(settings.knowledge)
    database, news = open_database(settings.database), News()
    ask([Turn(text="hello")], tree, None)  # the first consultation prepares what all others use: not a customer's wait
    return Services(settings, database, tree, news, Log(database, news, settings.stream_minutes * 60))


def create_api(services: Services) -> FastAPI:
    """The calls themselves, without the layers around them."""
    app = FastAPI(
        title="Spile",
        version="1",
        description=ABOUT,
        docs_url=None,
        redoc_url=None,
        redirect_slashes=False,
        lifespan=_while_serving,
    )
    app.state.services = services
    problems.install(app, _names(services))
    for router in (consulting.router, chats.router, health.router):
        app.include_router(router)
    _describe_problems(app)
    add_pages(app)
    return app


def wrap(api: FastAPI, settings: Settings) -> ASGIApp:
    """The layers, outermost first: log, headers, CORS (around the errors, so that they carry it too), body limit."""
    cors = CORSMiddleware(
        BodyLimit(api),
        allow_origins=settings.origins,
        allow_methods=["GET", "POST", "DELETE"],
        allow_headers=["Authorization", "Content-Type", "Last-Event-ID"],
        expose_headers=["Retry-After", "X-Request-ID"],
        max_age=600,
    )
    return RequestLog(SecurityHeaders(cors))


@asynccontextmanager
async def _while_serving(app: FastAPI) -> AsyncIterator[None]:
    """Look for news while the service runs; give everything back when it stops."""
    services: Services = app.state.services
    tasks = [
        asyncio.create_task(services.news.keep_fresh(services.database)),
        asyncio.create_task(keep_forgetting(services.database, services.settings.keep_days)),
    ]
    for task in tasks:
        task.add_done_callback(_say_if_it_failed)
    listening = None
    if services.database.is_postgres:
        listening = Listening(services.database, services.news, asyncio.get_running_loop())
        listening.start()
    try:
        with on_stop(services.news.close):
            yield
    finally:
        services.news.close()
        for task in tasks:
            task.cancel()
        if listening:
            listening.stop()
        services.close()


def _say_if_it_failed(task: asyncio.Task[None]) -> None:
    if not task.cancelled() and task.exception():
        log.error("work in the background has ended by a fault", exc_info=task.exception())


def _names(services: Services) -> frozenset[str]:
    """Every field that an error may name: all are ours, none was made up by a caller."""
    inputs = (name for each in calculators.names() for name in calculators.get(each).inputs)
    return frozenset({*FIELDS, *services.knowledge.facts, *inputs, "problem", "area", "safe_now"})


def _describe_problems(app: FastAPI) -> None:
    """Put the schema of problem details where the calls' descriptions refer to it."""
    described: dict[str, Any] = app.openapi()
    schema = problems.ProblemDetails.model_json_schema(ref_template="#/components/schemas/{model}")
    definitions = schema.pop("$defs", {})
    described["components"]["schemas"] |= {"ProblemDetails": schema, **definitions}
