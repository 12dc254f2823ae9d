"""Whether the service is alive, and whether it can serve."""

from __future__ import annotations

import asyncio

from fastapi import APIRouter
from pydantic import BaseModel
from sqlalchemy.orm import Session

from service.storage.errors import Unavailable
from service.storage.migrate import is_current
from service.web.problems import Problem, problems
from service.web.services import WithServices

router = APIRouter(tags=["health"])
PATIENCE_S = 2.0


class Health(BaseModel):
    """All is well."""

    status: str


class NotReady(Problem):
    """The service is alive but cannot serve just now."""

    status, title = 503, "The service is not ready"

    def __init__(self) -> None:
        super().__init__("The database cannot be used just now.", headers={"Retry-After": "2"})


@router.get("/healthz", response_model=Health)
async def healthz() -> Health:
    """Alive. Looks at nothing outside the process."""
    return Health(status="alive")


@router.get("/readyz", response_model=Health, responses=problems(NotReady))
async def readyz(services: WithServices) -> Health:
    """Able to serve: the database answers and has the right tables. The knowledge was loaded before the start."""
    try:
        async with asyncio.timeout(PATIENCE_S):
            ready = await services.database.read(_has_its_tables)
    except (Unavailable, TimeoutError):
        ready = False
    if not ready:
        raise NotReady
    return Health(status="ready")


def _has_its_tables(session: Session) -> bool:
    return is_current(session.connection())
