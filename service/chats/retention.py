"""Chats are kept so long and no longer. What fell due while the service was down is deleted when it starts."""

from __future__ import annotations

import asyncio
import logging
from datetime import UTC, datetime, timedelta

from service.chats.repository import ChatRepository
from service.storage.database import Database
from service.storage.errors import Unavailable

log = logging.getLogger("spile.chats")
LOOK_EVERY_S = 3600.0


async def keep_forgetting(database: Database, days: float) -> None:
    """Delete what has fallen due, now and every hour. Ends when cancelled."""
    while True:
        try:
            await forget_due(database, datetime.now(UTC) - timedelta(days=days))
        except Unavailable:
            log.warning("old chats could not be deleted; trying again in an hour")
        await asyncio.sleep(LOOK_EVERY_S)


async def forget_due(database: Database, moment: datetime) -> int:
    """Delete the chats in which nothing was said since that moment; returns how many."""
    gone = await database.write(lambda session: ChatRepository(session).forget_before(moment))
    if gone:
        await database.wipe()
        log.info("old chats deleted: %d", gone)
    return gone
