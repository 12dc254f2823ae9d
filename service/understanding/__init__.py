"""Reads one message: which problem it is about, its facts, its dangers, and the words each conclusion rests on."""

from __future__ import annotations

from knowledge import Knowledge
from service.understanding.listener import Listener
from service.understanding.model import Understanding

__all__ = ["Understanding", "understand"]

REVISIONS_KEPT = 8
_listeners: dict[str, Listener] = {}


def understand(text: str, knowledge: Knowledge, asked: str | None = None) -> Understanding:
    """What a message says. `asked` is the fact of the question just put, which a bare "1.050" or "no idea" answers."""
    return listener(knowledge).understand(text, asked)


def listener(knowledge: Knowledge) -> Listener:
    """The listener of a revision, built when it is first needed; the latest few revisions are kept.

    Building takes seconds: a revision that changes trees and no words shares the listener of one before it.
    """
    if knowledge.revision not in _listeners:
        alike = (one for one in _listeners.values() if one.language == knowledge.language)
        _listeners[knowledge.revision] = next(alike, None) or Listener(knowledge)
        for oldest in list(_listeners)[:-REVISIONS_KEPT]:
            _listeners.pop(oldest, None)
    return _listeners[knowledge.revision]
