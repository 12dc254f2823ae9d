"""A fault in the knowledge: where it is, which check found it, and what to do about it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

PathTo = tuple[str | int, ...]
"""The way to a value inside a file: ("nodes", "limit", "branches", 0, "go")."""


@dataclass(frozen=True, order=True, slots=True)
class Fault:
    """One fault. `file` is relative to the knowledge folder, `line` counts from 1."""

    file: str
    line: int
    check_id: str
    message: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line}: {self.message} [{self.check_id}]"


class KnowledgeFaults(ValueError):
    """The knowledge cannot be used; `faults` lists every reason."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(sorted(set(faults)))
        super().__init__("\n".join(str(fault) for fault in self.faults))
