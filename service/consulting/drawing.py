"""Pictures of calculations, made one at a time in a thread of their own: no consultation waits for one."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Mapping
from concurrent.futures import ThreadPoolExecutor
from typing import Any, TypeVar

from calculators import pictures
from service.consultation import Units
from service.consulting.asking import refusals_named
from service.web.problems import NotFound, Problem

T = TypeVar("T")
MOST_WAITING = 8


class ManyPictures(Problem):
    """So many pictures are being drawn that this one is not begun. Nothing is lost by asking again."""

    status, title = 503, "Too many pictures at once"


class Drawing:
    """The thread that draws, and how many wait for it."""

    def __init__(self, most: int = MOST_WAITING) -> None:
        self._thread = ThreadPoolExecutor(1, "pictures")
        self._most, self._waiting = most, 0

    async def make(self, work: Callable[[], T]) -> T:
        """Run work that draws, off the event loop. Raises ManyPictures rather than let a queue grow."""
        if self._waiting >= self._most:
            raise ManyPictures("Ask again in a moment.", headers={"Retry-After": "2"})
        self._waiting += 1
        try:
            return await asyncio.get_running_loop().run_in_executor(self._thread, work)
        finally:
            self._waiting -= 1

    def close(self) -> None:
        """Stop; what waits is given up."""
        self._thread.shutdown(cancel_futures=True)


def draw(calculator: str, inputs: Mapping[str, Any], units: Units) -> dict[str, Any]:
    """The picture of one calculation. Raises NotFound, or Invalid for inputs that cannot be taken."""
    if calculator not in pictures.pictured():
        raise NotFound("There is no picture of this. GET /api/calculators tells which calculators have one.")
    with refusals_named(inputs):
        picture = pictures.draw(pictures.of(calculator), inputs, units)
    return {**picture._asdict(), "table": picture.table._asdict()}
