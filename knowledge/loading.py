"""Turns a folder of YAML texts into `Knowledge`, collecting every fault of shape on the way."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from pydantic import TypeAdapter, ValidationError

import calculators
from knowledge import schema, tables
from knowledge.base import FactName, Id
from knowledge.faults import Fault, PathTo
from knowledge.language import Lexicon, LexiconFile, Symptoms, ToldMessages
from knowledge.memory import nothing_collected
from knowledge.reading import HazardRules, Reading
from knowledge.trees import spoken_of
from knowledge.validation import Reader, stem
from knowledge.yaml_text import Document, TextError, read

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
    told: Mapping[str, ToldMessages]

    @property
    def language(self) -> tuple[object, ...]:
        """All that the understanding of messages is built from: a revision that changes none of it reads them alike."""
        return self.lexicon, self.reading, self.hazards, self.facts, self.symptoms, self.told

    @cached_property
    def spoken_of(self) -> Mapping[str, frozenset[str]]:
        """For each problem, every value that its sentences and conditions name."""
        return {name: spoken_of(problem) for name, problem in self.problems.items()}


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
        return frozenset(stem(file) for file in self.documents if is_problem(file))

    def fault(self, check_id: str, file: str, path: PathTo, message: str) -> Fault:
        """A fault at the line where the value at `path` is written."""
        document = self.documents.get(file)
        return Fault(file, document.line(path) if document else 1, check_id, message)


def is_problem(file: str) -> bool:
    return file.startswith("problems/") and not file.endswith(".cases.yaml")


def is_cases(file: str) -> bool:
    return file.startswith("problems/") and file.endswith(".cases.yaml")


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
    told = TypeAdapter(ToldMessages)
    reading = TypeAdapter(Reading)
    hazards = TypeAdapter(HazardRules)


@nothing_collected()
def parse(files: Mapping[str, str]) -> Draft:
    """Everything that can be read of the texts, and the faults of shape."""
    documents, faults = _documents(files)
    reader = Reader(documents, faults)
    areas, replies = reader.whole("areas.yaml", _Kinds.areas), reader.whole("replies.yaml", _Kinds.replies)
    knowledge = Knowledge(
        revision=revision_of(files),
        problems=reader.named(filter(is_problem, documents), _Kinds.problem),
        cases={stem(file): reader.whole(file, _Kinds.cases) or () for file in filter(is_cases, documents)},
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
        told=reader.named((file for file in documents if file.startswith("told/")), _Kinds.told),
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


def _lexicon(reader: Reader) -> Lexicon:
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
