"""Reads a calculator's docstring, so that what people are told of an input is written once, beside the formula."""

from __future__ import annotations

import re
from inspect import cleandoc
from typing import NamedTuple

_SECTION = re.compile(r"\n *(\w+)\n *-{3,} *\n")
_ENTRY = re.compile(r"^(\w+) : ", re.MULTILINE)


class Described(NamedTuple):
    """The parts of a docstring that the program itself uses."""

    summary: str
    parameters: dict[str, str]
    returns: dict[str, str]


def described(doc: str) -> Described:
    """Summary line, and the entries under Parameters and Returns ("name : unit; what it is")."""
    head, *parts = _SECTION.split(cleandoc(doc) + "\n")
    sections = dict(zip(parts[::2], parts[1::2], strict=True))
    summary = " ".join(head.strip().split("\n\n")[0].split())
    return Described(summary, _entries(sections.get("Parameters", "")), _entries(sections.get("Returns", "")))


def _entries(text: str) -> dict[str, str]:
    _, *parts = _ENTRY.split(text)
    return {name: " ".join(words.split()) for name, words in zip(parts[::2], parts[1::2], strict=True)}
