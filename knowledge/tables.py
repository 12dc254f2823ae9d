"""The shape of the shared tables: facts, cautions, sources, yeasts, vessels, styles and parts."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Literal

from pydantic import AfterValidator, Field

from calculators import units
from knowledge.base import FactName, Figure, Id, Line, Model, Span

SIGNALS = ("DANGER", "WARNING", "CAUTION", "NOTICE")
"""Signal words of ANSI Z535.6, gravest first."""


class _Fact(Model):
    label: Line = Field(description="what people call it")
    ask: Line = Field(description="the question that asks for it, where a tree has none of its own")
    hint: Line | None = Field(None, description="how to read or find it")
    asked_only: bool = Field(False, description="never read out of free text, only from an answer")


def _known_unit(unit: str) -> str:
    try:
        units.kind_of(unit)
    except KeyError:
        raise ValueError(f"there is no unit `{unit}`; write one of calculators/units/names.py") from None
    return unit


class QuantityFact(_Fact):
    """A figure. `low` and `high` are the ends of what is plausible, `uncertainty` the usual reading error (±)."""

    kind: Literal["quantity"]
    unit: Annotated[str, AfterValidator(_known_unit)]
    low: float
    high: float
    uncertainty: float = Field(ge=0)


class ChoiceFact(_Fact):
    """One of a few; `choices` gives each its words for people."""

    kind: Literal["choice"]
    choices: dict[Id, Line] = Field(min_length=2)


class YesNoFact(_Fact):
    """Yes or no."""

    kind: Literal["yes-no"]


Fact = Annotated[QuantityFact | ChoiceFact | YesNoFact, Field(discriminator="kind")]


class Caution(Model):
    """A hazard, what it can do, what to do about it, and who can help: ANSI Z535.6 wording."""

    signal: Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]
    title: Line = Field(description="the hazard in a few words")
    text: Line = Field(description="the hazard and what it can do")
    do: tuple[Line, ...] = Field(min_length=1, description="how to avoid it; most urgent first")
    help: Line = Field(description="who to turn to: emergency number, poison centre, licensed trades, local codes")
    hazards: tuple[Id, ...] = Field((), description="the hazards this caution answers")
    sources: tuple[Id, ...] = Field(min_length=1)
    reviewed: date


class Source(Model):
    """A published work with section or table, or the common practice of the trade."""

    citation: Line
    kind: Literal["published", "common-practice"]
    note: Line | None = None


class Yeast(Model):
    """Usual behaviour of one kind of yeast; the maker's own figures come first."""

    title: Line
    attenuation: Span = Field(description="apparent attenuation, percent")
    temperature: Span = Field(description="usual fermentation temperature without pressure")
    group: Literal["ale", "lager"]
    pressure: Line = Field(description="how it takes to fermenting under pressure")
    pressure_limit: Figure = Field(description="highest usual gauge pressure for good flavour")
    remarks: tuple[Line, ...] = ()
    sources: tuple[Id, ...] = Field(min_length=1)
    reviewed: date


class Vessel(Model):
    """Whether one kind of vessel is made to hold pressure. The marking on the vessel itself always rules."""

    title: Line
    holds_pressure: Literal["yes", "no", "if-marked"]
    glass: bool
    remark: Line
    sources: tuple[Id, ...] = Field(min_length=1)
    reviewed: date


class Style(Model):
    """Usual carbonation of a family of beers."""

    title: Line
    carbonation: Span = Field(description="volumes of CO2")
    sources: tuple[Id, ...] = Field(min_length=1)
    reviewed: date


def _whole_question(text: str) -> str:
    if not (text.endswith("?") and text[0].isupper()):
        raise ValueError(f"`{text}` is only a piece of a question: put quotation marks round one with a comma in it")
    return text


class Part(Model):
    """A generic part, and what to ask before selling one so that it fits."""

    title: Line
    purpose: Line
    ask_first: tuple[Annotated[Line, AfterValidator(_whole_question)], ...] = Field(min_length=1)
    reviewed: date


FactTable = dict[FactName, Fact]


class Area(Model):
    """One part of the brew day, offered when a message is too vague."""

    id: Id
    label: Line
    problems: tuple[Id, ...] = Field(min_length=1)


class Areas(Model):
    """The areas in the order shown; every problem stands in exactly one."""

    areas: tuple[Area, ...] = Field(min_length=1)


class Reply(Model):
    """What the desk says to a message that is no trouble it can work through."""

    says: Line
    asks: bool = Field(False, description="offer the short choice of areas")
    person: bool = Field(False, description="hand the chat to somebody at the counter")


class Replies(Model):
    """Replies by kind of message."""

    replies: dict[Id, Reply]


class Catalogue(Model):
    """The names other programs rely on: problems and hazards, and facts with their units and choices."""

    problems: tuple[Id, ...]
    hazards: tuple[Id, ...]
    quantities: dict[FactName, Line]
    choices: dict[FactName, tuple[Id, ...]]
    yes_no: tuple[FactName, ...]
