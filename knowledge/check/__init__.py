"""Checks the knowledge: every fault in one run, each with file and line.

One check is one small module of this package with an `ID` and a function `faults(draft)`. Faults of shape (`yaml`,
`shape`, `lexicon`) are found while reading.
"""

from __future__ import annotations

from pathlib import Path

from knowledge.check import (
    areas,
    cases,
    catalogue,
    circles,
    coverage,
    dangerous,
    go_targets,
    hazards,
    kinds,
    language,
    names,
    path_length,
    references,
    reviewed,
    runs,
    sentences,
    table_rows,
    unit_match,
    unused,
)
from knowledge.faults import Fault
from knowledge.loading import SHIPPED, Draft, parse, texts

CHECKS = (
    areas,
    cases,
    catalogue,
    circles,
    coverage,
    dangerous,
    go_targets,
    hazards,
    kinds,
    language,
    names,
    path_length,
    references,
    reviewed,
    runs,
    sentences,
    table_rows,
    unit_match,
    unused,
)


SOUND = (circles, go_targets, kinds, names, references, runs, unit_match)
"""The checks without which a walk could come to nothing; the others keep the knowledge good, not the walk safe."""


def run(folder: Path | None = None) -> list[Fault]:
    """Every fault of the knowledge in a folder (default: the shipped one), by file and line."""
    return check(parse(texts(folder or SHIPPED)))


def check(draft: Draft) -> list[Fault]:
    """Every fault of a draft: those of shape, then those of each check, by file and line."""
    return sorted({*draft.faults, *(fault for module in CHECKS for fault in module.faults(draft))})


def unsound(draft: Draft) -> list[Fault]:
    """The faults for which knowledge is not taken into use at all: of shape, and those that would mislead a walk."""
    return sorted({*draft.faults, *(fault for module in SOUND for fault in module.faults(draft))})
