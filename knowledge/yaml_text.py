"""Reads one YAML text strictly: YAML 1.2 scalars, no aliases, no tags, no repeated keys, limited size and depth.

libyaml composes the nodes (forty times faster than a parser written in Python); the values are made here, so that
`no` stays a word, `12:30` is not 750, and every value keeps the line it was written on.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Any

import yaml
from yaml.cyaml import CParser  # type: ignore[attr-defined]  # missing from the stubs
from yaml.resolver import BaseResolver

from knowledge.faults import PathTo

MAX_CHARACTERS = 400_000
MAX_DEPTH = 24
MAX_VALUES = 40_000

_INTEGER = re.compile(r"[-+]?\d+\Z")
_NUMBER = re.compile(r"[-+]?(?:\d+\.\d*|\.\d+|\d+)(?:[eE][-+]?\d+)?\Z")
_WORDS = {"true": True, "false": False, "null": None, "~": None, "": None}
_PLAIN_TAGS = {f"tag:yaml.org,2002:{kind}" for kind in ("str", "seq", "map")}


class _Parser(CParser, BaseResolver):
    """libyaml's composer, resolving nothing by itself."""

    def __init__(self, text: str) -> None:
        CParser.__init__(self, text)
        BaseResolver.__init__(self)


class TextError(ValueError):
    """The text is not YAML we take. `line` counts from 1."""

    def __init__(self, line: int, message: str) -> None:
        self.line = line
        super().__init__(message)


@dataclass(frozen=True)
class Document:
    """The values of one file and the line each of them stands on."""

    data: Any
    lines: dict[PathTo, int] = field(repr=False)

    def line(self, path: PathTo) -> int:
        """The line of a value, or of the nearest value around it that is written in the file."""
        found: PathTo = ()
        for part in path:  # pydantic puts names of union members in its paths: what is not in the file is passed over
            if (*found, part) in self.lines:
                found = (*found, part)
        return self.lines.get(found, 1)


def read(text: str) -> Document:
    """The values of a YAML text; raises `TextError` for anything but plain data within the limits."""
    if len(text) > MAX_CHARACTERS:
        raise TextError(1, f"the file has {len(text)} characters; {MAX_CHARACTERS} are allowed: split it")
    try:
        node = _Parser(text).get_single_node()
    except yaml.MarkedYAMLError as fault:
        line = fault.problem_mark.line + 1 if fault.problem_mark else 1
        raise TextError(line, f"not YAML: {fault.problem or fault.context}") from fault
    except yaml.YAMLError as fault:
        raise TextError(1, f"not YAML: {' '.join(str(fault).split())}") from fault
    builder = _Builder()
    data = None if node is None else builder.build(node, ())
    return Document(data, builder.lines)


class _Builder:
    def __init__(self) -> None:
        self.lines: dict[PathTo, int] = {}
        self.seen: set[int] = set()

    def build(self, node: Any, path: PathTo) -> Any:
        line = node.start_mark.line + 1
        self._refuse(node, path, line)
        self.lines.setdefault(path, line)
        if isinstance(node, yaml.MappingNode):
            return self._mapping(node, path)
        if isinstance(node, yaml.SequenceNode):
            return [self.build(item, (*path, index)) for index, item in enumerate(node.value)]
        return _scalar(node.value, node.style)

    def _refuse(self, node: Any, path: PathTo, line: int) -> None:
        if id(node) in self.seen:
            raise TextError(line, "aliases (*name) are not allowed: write the value out")
        self.seen.add(id(node))
        if node.tag not in _PLAIN_TAGS:
            raise TextError(line, f"tags ({node.tag}) are not allowed")
        if len(path) > MAX_DEPTH:
            raise TextError(line, f"nested deeper than {MAX_DEPTH} levels")
        if len(self.seen) > MAX_VALUES:
            raise TextError(line, f"more than {MAX_VALUES} values in one file: split it")

    def _mapping(self, node: yaml.MappingNode, path: PathTo) -> dict[str, Any]:
        made: dict[str, Any] = {}
        for key_node, value_node in node.value:
            line = key_node.start_mark.line + 1
            self._refuse(key_node, path, line)
            if not isinstance(key_node, yaml.ScalarNode):
                raise TextError(line, "a key must be a word")
            key: str = key_node.value
            if key in made:
                raise TextError(line, f"`{key}` is written twice here")
            self.lines[(*path, key)] = line
            made[key] = self.build(value_node, (*path, key))
        return made


def _scalar(word: str, style: str | None) -> Any:
    if style:  # quoted, or a block of text
        return word
    if word.lower() in _WORDS and word in (word.lower(), word.capitalize(), word.upper()):
        return _WORDS[word.lower()]
    if _INTEGER.match(word):
        return int(word)
    return float(word) if _NUMBER.match(word) else word
