"""Validates what is written one part at a time, so that a fault in one does not hide the next."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Protocol, TypeVar

from pydantic import TypeAdapter, ValidationError

from knowledge.faults import Fault, PathTo
from knowledge.yaml_text import Document


class _Named(Protocol):
    @property
    def id(self) -> str: ...


T = TypeVar("T")
N = TypeVar("N", bound=_Named)


def stem(file: str) -> str:
    return Path(file).name.removesuffix(".yaml").removesuffix(".cases")


@dataclass
class Reader:
    """Validates the parts of the documents one by one, so that a fault in one does not hide the next."""

    documents: dict[str, Document]
    faults: list[Fault] = field(default_factory=list)

    def table(self, file: str, key: TypeAdapter[str], value: TypeAdapter[T]) -> dict[str, T]:
        document = self.documents.get(file)
        if document is None:
            self.missing(file)
            return {}
        if not isinstance(document.data, dict):
            self.faults.append(Fault(file, 1, "shape", "write a mapping of ids here"))
            return {}
        named = {name: row for name, row in document.data.items() if self.one(file, (name,), key, name) is not None}
        rows = {name: self.one(file, (name,), value, row) for name, row in named.items()}
        return {name: row for name, row in rows.items() if row is not None}

    def one(self, file: str, path: PathTo, kind: TypeAdapter[T], data: Any) -> T | None:
        try:
            return kind.validate_python(data)
        except ValidationError as fault:
            self.faults.extend(explained(file, self.documents[file], path, fault))
            return None

    def whole(self, file: str, kind: TypeAdapter[T]) -> T | None:
        if file not in self.documents:
            self.missing(file)
            return None
        return self.one(file, (), kind, self.documents[file].data)

    def named(self, files: Iterable[str], kind: TypeAdapter[N]) -> dict[str, N]:
        """One thing per file, which carries the file's name as its id."""
        found: dict[str, N] = {}
        for file in files:
            thing = self.whole(file, kind)
            if thing is not None and thing.id != stem(file):
                self.faults.append(Fault(file, 1, "shape", f"the id is `{thing.id}`, but the file is named {file}"))
            elif thing is not None:
                found[thing.id] = thing
        return found

    def missing(self, file: str) -> None:
        if file not in {fault.file for fault in self.faults}:
            self.faults.append(Fault(file, 1, "shape", "the file is missing"))


def explained(file: str, document: Document, path: PathTo, fault: ValidationError) -> Iterator[Fault]:
    for error in fault.errors(include_url=False):
        place = (*path, *error["loc"])
        key = str(error["loc"][-1]) if error["loc"] else str(path[-1] if path else file)
        message = {
            "extra_forbidden": f"`{key}` is not a key that belongs here",
            "missing": f"`{key}` is missing here",
        }.get(error["type"], f"`{key}`: {error['msg'].removeprefix('Value error, ')}")
        yield Fault(file, document.line(place), "shape", message)
