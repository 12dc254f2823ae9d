"""Figures that stand in a sentence: `{fact}`, `{run.result}`, `{yeast.field}`, with `.low`, `.high` or `.range`."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from knowledge.schema import Say, Text

PLACEHOLDER = re.compile(r"\{[^{}]*\}")
PARTS = ("low", "high", "range")


class Placeholder(NamedTuple):
    """The name of a value, and which part of its range is meant: "" for the value itself."""

    name: str
    part: str

    @classmethod
    def of(cls, written: str) -> Placeholder:
        """`{finish.final_gravity.range}` names finish.final_gravity and its range."""
        name = written.strip("{}")
        head, _, tail = name.rpartition(".")
        return cls(head, tail) if head and tail in PARTS else cls(name, "")


def placeholders(text: Text) -> Iterator[Placeholder]:
    """The placeholders of a sentence that may have them."""
    if isinstance(text, Say):
        for match in PLACEHOLDER.finditer(text.say):
            yield Placeholder.of(match[0])
