"""What the desk knows, as data: trees of problems, facts, cautions, sources and the tables they draw on."""

from functools import lru_cache

from knowledge.faults import Fault, KnowledgeFaults
from knowledge.loading import Knowledge, from_texts, load

__all__ = ["Fault", "Knowledge", "KnowledgeFaults", "from_texts", "load", "shipped"]


@lru_cache(maxsize=1)
def shipped() -> Knowledge:
    """The knowledge that comes with the program, read once."""
    return load()
