"""A calculation for a person at a terminal: its working, what to mind, whose formula it is; its picture in words."""

from __future__ import annotations

from collections.abc import Iterator

import calculators
from calculators import pictures


def as_text(run: calculators.Calculation, picture: pictures.Picture | None = None) -> str:
    """The calculation, and what stands behind its picture where one was drawn."""
    return "\n".join((*_calculation(run), *(_picture(picture) if picture else ())))


def _calculation(run: calculators.Calculation) -> Iterator[str]:
    yield run.working.rstrip()
    yield from (f"Mind: {warning}" for warning in run.warnings)
    yield from (f"Source: {citation}" for citation in calculators.get(run.calculator).sources.values())


def _picture(picture: pictures.Picture) -> Iterator[str]:
    yield ""
    yield picture.alternative
    yield ""
    table = (picture.table.head, *picture.table.rows)
    widths = [max(map(len, column)) for column in zip(*table, strict=True)]
    yield from ("  ".join(map(str.ljust, row, widths)).rstrip() for row in table)
