"""Hears that the process is to stop at the moment the signal comes.

The server waits for open connections before it tells the application that it stops, and live streams never close by
themselves: so they must hear of it first.
"""

from __future__ import annotations

import asyncio
import signal
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType

SIGNALS = (signal.SIGINT, signal.SIGTERM)


@contextmanager
def on_stop(tell: Callable[[], None]) -> Iterator[None]:
    """Call `tell` in the running event loop when a stop signal comes, and let the server's own handler follow."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    loop = asyncio.get_running_loop()
    server = {number: signal.getsignal(number) for number in SIGNALS}

    def handle(number: int, frame: FrameType | None) -> None:
        loop.call_soon_threadsafe(tell)
        following = server[signal.Signals(number)]
        if callable(following):
            following(number, frame)

    chained = [number for number in SIGNALS if callable(server[number])]
    for number in chained:
        signal.signal(number, handle)
    try:
        yield
    finally:
        for number in chained:
            signal.signal(number, server[number])
