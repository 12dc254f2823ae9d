"""The language half of the knowledge: what customers call things, and what they say for each problem.

Three kinds of file are read through these models:

- `lexicon/*.yaml` (`LexiconFile`): words and short phrases → concepts, and the small grammar that goes with them;
- `symptoms/<problem-id>.yaml` (`Symptoms`): phrases customers use for one problem, and evidence for and against it;
- `told/<problem-id>.yaml` (`ToldMessages`): whole messages about one problem, the trouble amid everything else that is
  told; those of `something-else` are about no brewing trouble at all.

A phrase is written in plain words. `a|b` means either word, `..` means up to three words in between:
`nothing|nowt .. out` is found in "nowt is coming out". Word forms (plural, -ed, -ing) need not be written; `=runnings`
is that very form and no other. `0` is any figure.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Annotated

from pydantic import Field, StringConstraints, model_validator

from knowledge.base import FactName, Id, Model

SOMETHING_ELSE = "something-else"
"""Under this name stand messages about no brewing trouble."""
Phrase = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=160)]
EvidenceConcept = Annotated[str, StringConstraints(pattern=r"^!?[a-z0-9-]+(\|!?[a-z0-9-]+)*$")]


class Concept(Model):
    """One thing people name: its words, and the broader concepts it belongs to.

    A `circumstance` (a vessel, a style, a figure of temperature) is part of many stories and of few complaints:
    it counts half.
    """

    words: tuple[Phrase, ...] = ()
    broader: tuple[Id, ...] = Field(default=(), alias="is")
    circumstance: bool = False


class LexiconFile(Model):
    """One file of `lexicon/`."""

    concepts: dict[Id, Concept] = Field(default_factory=dict)
    spellings: dict[str, str] = Field(default_factory=dict, description="spelling: the spelling it stands for")
    forms: dict[str, str] = Field(default_factory=dict, description="irregular form: the form it stands for")
    ordinary: tuple[str, ...] = Field((), description="words that are right as they are, however near to a known one")
    stop: tuple[str, ...] = Field((), description="words that carry no evidence by themselves")
    joints: tuple[str, ...] = Field((), description="words that begin a new clause")
    languages: dict[Id, tuple[str, ...]] = Field(default_factory=dict, description="small words of a language")


class Lexicon(LexiconFile):
    """All files of `lexicon/` as one."""

    @model_validator(mode="after")
    def _links_resolve(self) -> Lexicon:
        for name, concept in self.concepts.items():
            for other in concept.broader:
                if other not in self.concepts:
                    raise ValueError(f"concept {name!r} points to {other!r}, which no lexicon file defines")
        return self

    @classmethod
    def of(cls, files: Iterable[LexiconFile]) -> Lexicon:
        """Join the files; a concept or spelling defined twice is a fault that names it."""
        together: dict[str, dict[str, object]] = {"concepts": {}, "spellings": {}, "forms": {}, "languages": {}}
        words: dict[str, tuple[str, ...]] = {"ordinary": (), "stop": (), "joints": ()}
        for file in files:
            for section, entries in together.items():
                _add(section, entries, getattr(file, section))
            for section in words:
                words[section] += getattr(file, section)
        return cls.model_validate({**together, **words})


def _add(section: str, entries: dict[str, object], more: Mapping[str, object]) -> None:
    if twice := sorted(entries.keys() & more.keys()):
        raise ValueError(f"{section}: {', '.join(twice)} defined twice in the lexicon")
    entries.update(more)


class FactIs(Model):
    """What a fact must be: `is`, `one_of`, figures in the catalogue's unit, or `above` or `below` another fact.

    With none of these it must be known.
    """

    fact: FactName
    equals: bool | str | None = Field(default=None, alias="is")
    one_of: tuple[str, ...] = ()
    at_least: float | None = None
    at_most: float | None = None
    above: FactName | None = None
    below: FactName | None = None


class Evidence(Model):
    """Something that speaks for or against a problem: concepts said in one breath, facts, a danger, or several.

    In `concepts` all must be there, close together (`anywhere: true`: anywhere in the message); `a|b` is either,
    `!c` means that c is denied. `weight` 1 is worth noticing, 3 is as good as certain.
    """

    concepts: tuple[EvidenceConcept, ...] = ()
    anywhere: bool = False
    facts: tuple[FactIs, ...] = ()
    hazard: Id | None = None
    weight: float = Field(gt=0, le=8)
    because: str | None = None

    @model_validator(mode="after")
    def _says_something(self) -> Evidence:
        if not self.concepts and not self.facts and not self.hazard:
            raise ValueError("evidence names concepts, facts or a hazard")
        return self


class EvidenceLists(Model):
    """For, against, and what the problem cannot be without (at least one concept of each list)."""

    for_: tuple[Evidence, ...] = Field(default=(), alias="for")
    against: tuple[Evidence, ...] = ()
    needs: tuple[tuple[Id, ...], ...] = ()


class Symptoms(Model):
    """What customers say when they have one problem."""

    id: Id
    symptoms: tuple[Phrase, ...] = Field(min_length=1)
    evidence: EvidenceLists = EvidenceLists()


class ToldMessage(Model):
    """One message as a customer tells it, and the dangers in it: there now, soon, or asked about doing."""

    says: str = Field(min_length=1, max_length=2000)
    hazards: tuple[Id, ...] = ()


class ToldMessages(Model):
    """Whole messages about one problem, or about `something-else`."""

    id: Id
    told: tuple[ToldMessage, ...] = Field(min_length=1)
