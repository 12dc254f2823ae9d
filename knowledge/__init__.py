"""What the desk knows, as data: trees of problems, facts, cautions, sources and the tables they draw on."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path

from knowledge.check import unsound
from knowledge.faults import Fault, KnowledgeFaults
from knowledge.loading import SHIPPED, Knowledge, parse, texts

__all__ = ["Fault", "Knowledge", "KnowledgeFaults", "from_texts", "load", "shipped"]


def from_texts(files: Mapping[str, str]) -> Knowledge:
    """Knowledge from texts by relative path; raises `KnowledgeFaults` for every fault that would mislead a walk."""
    draft = parse(files)
    if faults := unsound(draft):
        raise KnowledgeFaults(faults)
    return draft.knowledge


def load(folder: Path | None = None) -> Knowledge:
    """The knowledge of a folder (default: the shipped one); raises `KnowledgeFaults` listing every fault."""
    return from_texts(texts(folder or SHIPPED))


@lru_cache(maxsize=1)
def shipped() -> Knowledge:
    """The knowledge that comes with the program, read once. Only its shape is checked: the tests hold the rest."""
    draft = parse(texts(SHIPPED))
    if draft.faults:
        raise KnowledgeFaults(draft.faults)
    return draft.knowledge
