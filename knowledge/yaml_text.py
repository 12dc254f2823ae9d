"""Reads one YAML text strictly: YAML 1.2 scalars, no aliases, no tags, no repeated keys, limited size and depth.

libyaml composes the nodes (forty times faster than a parser written in Python); the values are made here, so that
`no` stays a word, `12:30` is not 750, and every value keeps the line it was written on.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

import yaml
from yaml.cyaml import CParser  # type: ignore[attr-defined]  # missing from the stubs

from knowledge.faults import PathTo

MAX_CHARACTERS = 400_000
MAX_DEPTH = 24
MAX_VALUES = 40_000

_INTEGER = re.compile(r"[-+]?\d+\Z")
_NUMBER = re.compile(r"[-+]?(?:\d+\.\d*|\.\d+|\d+)(?:[eE][-+]?\d+)?\Z")
_WORDS = {"true": True, "false": False, "null": None, "~": None, "": None}
_TAGS: dict[type[yaml.Node], str] = {yaml.ScalarNode: "str", yaml.SequenceNode: "seq", yaml.MappingNode: "map"}


class _Parser(CParser):
    """libyaml's composer. It asks for the type of every untagged node: all are told apart here, by their shape."""

    def resolve(self, kind: type[yaml.Node], _value: str | None, _implicit: object) -> str:
        return _TAGS[kind]

    def descend_resolver(self, _parent: yaml.Node | None, _index: object) -> None:
        """The composer tells where it is; types do not depend on that here."""

    def ascend_resolver(self) -> None:
        """The way back up."""


class TextError(ValueError):
    """The text is not YAML we take. `line` counts from 1."""

    def __init__(self, line: int, message: str) -> None:
        self.line = line
        super().__init__(message)


@dataclass(frozen=True)
class Document:
    """The values of one text. The line of each is looked for only when a fault has to be shown."""

    data: Any
    text: str = field(repr=False)

    @cached_property
    def lines(self) -> dict[PathTo, int]:
        """The line of every value, by the way to it."""
        node = _compose(self.text)
        return {} if node is None else dict(_lines(node, ()))

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
    node = _compose(text)
    return Document(None if node is None else _Builder().build(node, 0), text)


def _compose(text: str) -> Any:
    try:
        return _Parser(text).get_single_node()
    except yaml.MarkedYAMLError as fault:
        line = fault.problem_mark.line + 1 if fault.problem_mark else 1
        raise TextError(line, f"not YAML: {fault.problem or fault.context}") from fault
    except yaml.YAMLError as fault:
        raise TextError(1, f"not YAML: {' '.join(str(fault).split())}") from fault


def _lines(node: Any, path: PathTo) -> Iterator[tuple[PathTo, int]]:
    if not path:
        yield path, node.start_mark.line + 1
    if isinstance(node, yaml.MappingNode):
        for key, value in node.value:
            yield (*path, key.value), key.start_mark.line + 1
            yield from _lines(value, (*path, key.value))
    elif isinstance(node, yaml.SequenceNode):
        for index, item in enumerate(node.value):
            yield (*path, index), item.start_mark.line + 1
            yield from _lines(item, (*path, index))


class _Builder:
    """Makes the values of composed nodes, each node once."""

    def __init__(self) -> None:
        self.seen: set[int] = set()

    def build(self, node: Any, depth: int) -> Any:
        self._refuse(node, depth)
        if isinstance(node, yaml.ScalarNode):
            return _scalar(node.value, node.style)
        if isinstance(node, yaml.SequenceNode):
            return [self.build(item, depth + 1) for item in node.value]
        return self._mapping(node, depth)

    def _refuse(self, node: Any, depth: int) -> None:
        if id(node) in self.seen:
            raise TextError(_line(node), "aliases (*name) are not allowed: write the value out")
        self.seen.add(id(node))
        if node.tag not in _TAGS.values():
            raise TextError(_line(node), f"tags ({node.tag}) are not allowed")
        if depth > MAX_DEPTH:
            raise TextError(_line(node), f"nested deeper than {MAX_DEPTH} levels")
        if len(self.seen) > MAX_VALUES:
            raise TextError(_line(node), f"more than {MAX_VALUES} values in one file: split it")

    def _mapping(self, node: yaml.MappingNode, depth: int) -> dict[str, Any]:
        made: dict[str, Any] = {}
        for key_node, value_node in node.value:
            self._refuse(key_node, depth)
            if not isinstance(key_node, yaml.ScalarNode):
                raise TextError(_line(key_node), "a key must be a word")
            key: str = key_node.value
            if key in made:
                raise TextError(_line(key_node), f"`{key}` is written twice here")
            made[key] = self.build(value_node, depth + 1)
        return made


def _line(node: Any) -> int:
    line: int = node.start_mark.line
    return line + 1


def _scalar(word: str, style: str | None) -> Any:
    if style:  # quoted, or a block of text
        return word
    if word.lower() in _WORDS and word in (word.lower(), word.capitalize(), word.upper()):
        return _WORDS[word.lower()]
    if _INTEGER.match(word):
        return int(word)
    return float(word) if _NUMBER.match(word) else word
