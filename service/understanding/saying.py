"""The customer's own words that a conclusion rests on: which of them to show, and how they are quoted."""

from __future__ import annotations

from collections.abc import Iterable

Span = tuple[int, int]
"""A place in the text (half-open)."""


def apart(spans: Iterable[Span], most: int) -> list[Span]:
    """The first so many that do not overlap, in the order they were said; the strongest are to come first."""
    taken: list[Span] = []
    for start, end in spans:
        if all(end <= first or start >= last for first, last in taken):
            taken.append((start, end))
            if len(taken) == most:
                break
    return sorted(taken)


def quoted(text: str, spans: Iterable[Span]) -> str:
    """The words at some places, with dots between."""
    return " … ".join(text[start:end] for start, end in spans)
