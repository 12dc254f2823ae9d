"""Turns a folder of YAML texts into `Knowledge`, collecting every fault of shape on the way."""

from __future__ import annotations

import gc
import hashlib
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Protocol, TypeVar

from pydantic import TypeAdapter, ValidationError

import calculators
from knowledge import schema, tables
from knowledge.base import FactName, Id
from knowledge.faults import Fault, PathTo
from knowledge.language import Lexicon, LexiconFile, Symptoms
from knowledge.reading import HazardRules, Reading
from knowledge.yaml_text import Document, TextError, read


class _Named(Protocol):
    @property
    def id(self) -> str: ...


T = TypeVar("T")
N = TypeVar("N", bound=_Named)
SHIPPED = Path(__file__).parent


@dataclass(frozen=True)
class Knowledge:
    """One state of everything the desk knows. `revision` names it; equal content gives an equal revision."""

    revision: str
    problems: Mapping[str, schema.Problem]
    cases: Mapping[str, tuple[schema.Case, ...]]
    facts: Mapping[str, tables.Fact]
    cautions: Mapping[str, tables.Caution]
    sources: Mapping[str, tables.Source]
    yeasts: Mapping[str, tables.Yeast]
    vessels: Mapping[str, tables.Vessel]
    styles: Mapping[str, tables.Style]
    parts: Mapping[str, tables.Part]
    areas: tuple[tables.Area, ...]
    catalogue: tables.Catalogue | None
    replies: Mapping[str, tables.Reply]
    lexicon: Lexicon
    reading: Reading | None
    hazards: HazardRules | None
    symptoms: Mapping[str, Symptoms]


@dataclass(frozen=True)
class Draft:
    """Knowledge as far as it could be read, with what is needed to say where a fault is."""

    knowledge: Knowledge
    documents: Mapping[str, Document]
    faults: tuple[Fault, ...]

    def written(self, file: str) -> frozenset[str]:
        """The ids written in a table file, those of faulty entries too: a reference to one is no second fault."""
        document = self.documents.get(file)
        return frozenset(document.data) if document and isinstance(document.data, dict) else frozenset()

    def problem_ids(self) -> frozenset[str]:
        """The ids of all problem files, faulty ones too."""
        return frozenset(_stem(file) for file in self.documents if is_problem(file))

    def fault(self, check_id: str, file: str, path: PathTo, message: str) -> Fault:
        """A fault at the line where the value at `path` is written."""
        document = self.documents.get(file)
        return Fault(file, document.line(path) if document else 1, check_id, message)


def is_problem(file: str) -> bool:
    return file.startswith("problems/") and not file.endswith(".cases.yaml")


def is_cases(file: str) -> bool:
    return file.startswith("problems/") and file.endswith(".cases.yaml")


def _stem(file: str) -> str:
    return Path(file).name.removesuffix(".yaml").removesuffix(".cases")


def problem_file(problem_id: str) -> str:
    """Where a problem's tree stands, relative to the knowledge folder."""
    return f"problems/{problem_id}.yaml"


def texts(folder: Path) -> dict[str, str]:
    """The YAML texts of a knowledge folder by relative path, in a fixed order."""
    files = sorted(folder.rglob("*.yaml"))
    return {file.relative_to(folder).as_posix(): file.read_text("utf-8") for file in files}


def revision_of(files: Mapping[str, str]) -> str:
    """A short name that changes with any change of the content."""
    digest = hashlib.sha256()
    for name, text in sorted(files.items()):
        for part in (name, text):
            data = part.encode()
            digest.update(len(data).to_bytes(8, "big") + data)
    return digest.hexdigest()[:12]


@dataclass
class _Reader:
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
            self.faults.extend(_explain(file, self.documents[file], path, fault))
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
            if thing is not None and thing.id != _stem(file):
                self.faults.append(Fault(file, 1, "shape", f"the id is `{thing.id}`, but the file is named {file}"))
            elif thing is not None:
                found[thing.id] = thing
        return found

    def missing(self, file: str) -> None:
        if file not in {fault.file for fault in self.faults}:
            self.faults.append(Fault(file, 1, "shape", "the file is missing"))


def _explain(file: str, document: Document, path: PathTo, fault: ValidationError) -> Iterator[Fault]:
    for error in fault.errors(include_url=False):
        place = (*path, *error["loc"])
        key = str(error["loc"][-1]) if error["loc"] else str(path[-1] if path else file)
        message = {
            "extra_forbidden": f"`{key}` is not a key that belongs here",
            "missing": f"`{key}` is missing here",
        }.get(error["type"], f"`{key}`: {error['msg'].removeprefix('Value error, ')}")
        yield Fault(file, document.line(place), "shape", message)


class _Kinds:
    """Validators, made once."""

    id = TypeAdapter[str](Id)
    fact_name = TypeAdapter[str](FactName)
    problem = TypeAdapter(schema.Problem)
    cases = TypeAdapter(tuple[schema.Case, ...])
    fact: TypeAdapter[tables.Fact] = TypeAdapter(tables.Fact)
    caution = TypeAdapter(tables.Caution)
    source = TypeAdapter(tables.Source)
    yeast = TypeAdapter(tables.Yeast)
    vessel = TypeAdapter(tables.Vessel)
    style = TypeAdapter(tables.Style)
    part = TypeAdapter(tables.Part)
    areas = TypeAdapter(tables.Areas)
    replies = TypeAdapter(tables.Replies)
    catalogue = TypeAdapter(tables.Catalogue)
    lexicon = TypeAdapter(LexiconFile)
    symptoms = TypeAdapter(Symptoms)
    reading = TypeAdapter(Reading)
    hazards = TypeAdapter(HazardRules)


@contextmanager
def _nothing_collected() -> Iterator[None]:
    """Hold off the garbage collector while much is made and nothing is let go: a third of the time otherwise."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


@_nothing_collected()
def parse(files: Mapping[str, str]) -> Draft:
    """Everything that can be read of the texts, and the faults of shape."""
    documents, faults = _documents(files)
    reader = _Reader(documents, faults)
    areas, replies = reader.whole("areas.yaml", _Kinds.areas), reader.whole("replies.yaml", _Kinds.replies)
    knowledge = Knowledge(
        revision=revision_of(files),
        problems=reader.named(filter(is_problem, documents), _Kinds.problem),
        cases={_stem(file): reader.whole(file, _Kinds.cases) or () for file in filter(is_cases, documents)},
        facts=reader.table("facts.yaml", _Kinds.fact_name, _Kinds.fact),
        cautions=reader.table("cautions.yaml", _Kinds.id, _Kinds.caution),
        sources=_calculators_sources() | reader.table("sources.yaml", _Kinds.id, _Kinds.source),
        yeasts=reader.table("yeasts.yaml", _Kinds.id, _Kinds.yeast),
        vessels=reader.table("vessels.yaml", _Kinds.id, _Kinds.vessel),
        styles=reader.table("styles.yaml", _Kinds.id, _Kinds.style),
        parts=reader.table("parts.yaml", _Kinds.id, _Kinds.part),
        areas=areas.areas if areas else (),
        catalogue=reader.whole("catalogue.yaml", _Kinds.catalogue),
        replies=replies.replies if replies else {},
        lexicon=_lexicon(reader),
        reading=reader.whole("reading.yaml", _Kinds.reading),
        hazards=reader.whole("hazards.yaml", _Kinds.hazards),
        symptoms=reader.named((file for file in documents if file.startswith("symptoms/")), _Kinds.symptoms),
    )
    return Draft(knowledge, documents, tuple(reader.faults))


def _calculators_sources() -> dict[str, tables.Source]:
    """The sources that the calculators bring with them."""
    cited: dict[str, str] = {}
    for name in calculators.names():
        cited |= calculators.get(name).sources
    return {name: tables.Source(citation=citation, kind="published") for name, citation in cited.items()}


def _documents(files: Mapping[str, str]) -> tuple[dict[str, Document], list[Fault]]:
    documents, faults = {}, []
    for name, text in files.items():
        try:
            documents[name] = read(text)
        except TextError as fault:
            faults.append(Fault(name, fault.line, "yaml", str(fault)))
    return documents, faults


def _lexicon(reader: _Reader) -> Lexicon:
    files = [file for file in reader.documents if file.startswith("lexicon/")]
    read_well = [found for file in files if (found := reader.whole(file, _Kinds.lexicon))]
    try:
        return Lexicon.of(read_well)
    except ValueError as fault:  # a link or a repetition across files
        reader.faults.append(Fault("lexicon", 1, "lexicon", _first_line(fault)))
        return Lexicon.of(())


def _first_line(fault: ValueError) -> str:
    if isinstance(fault, ValidationError):
        return "; ".join(error["msg"].removeprefix("Value error, ") for error in fault.errors(include_url=False))
    return str(fault)
