"""The consultation object: the whole state of one case, as every caller sees it.

Facts are in the units of `knowledge/facts.yaml`; gauge pressures are gauge. The same turns and the same
revision of the knowledge give the same object, byte for byte.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field

Units = Literal["us", "metric"]
FactValue = float | int | bool | str | Mapping[str, Any] | None
"""A number in the fact's own unit, "62 degF", {"value": …, "unit": …}, a choice, true/false, or None: not known."""


FactKind = Literal["quantity", "choice", "yes-no"]


LONGEST_TEXT = 4000
"""The most characters (Unicode code points) one message may have."""


class Part(BaseModel):
    """Base of every part of a consultation: fixed once made, and nothing unknown in it."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class Turn(Part):
    """One thing the customer said: words, answers to questions, or both."""

    text: str = ""
    facts: dict[str, Any] = Field(default_factory=dict)


class ProblemView(Part):
    """A problem the desk recognised, and the customer's words that made it think so."""

    id: str
    title: str
    score: float
    matched: list[str]


class Option(Part):
    """One answer a customer may tap."""

    value: str
    label: str


class FactView(Part):
    """One fact as understood, and how it may be put right. `value` None: the customer does not know it."""

    value: float | bool | str | None
    unit: str | None = None
    low: float | None = None
    high: float | None = None
    said: str
    label: str = ""
    shown: str = ""
    kind: FactKind | None = None
    units: list[str] = Field(default_factory=list)
    options: list[Option] = Field(default_factory=list)


class CautionView(Part):
    """A hazard, what it can do and what to do about it, under its ANSI Z535.6 signal word."""

    id: str
    signal: Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]
    text: str
    do: list[str]
    help: str = ""
    sources: list[str]


class CalculationView(Part):
    """One run of a calculator, with everything needed to do it again by hand."""

    calculator: str
    title: str = ""
    inputs: dict[str, Any]
    results: dict[str, Any]
    working: str
    sources: list[str]
    warnings: list[str]
    summary: str = ""


class Question(Part):
    """The one question that matters next."""

    fact: str
    text: str
    why: str
    kind: Literal["quantity", "choice", "yes-no", "area", "safety"] = "quantity"
    unit: str | None = None
    units: list[str] = Field(default_factory=list)
    options: list[Option] = Field(default_factory=list)
    hint: str = ""


class CheckAgain(Part):
    """What to look at next, and when."""

    what: str
    when: str


class FindingView(Part):
    """Where a path ends: the cause, what to do now, what to check next and when."""

    id: str
    title: str
    cause: str
    summary: str
    steps: list[str]
    next_time: list[str]
    check_again: CheckAgain
    parts: list[str]
    sources: list[str]
    reviewed: str = ""


class PathStep(Part):
    """One node the diagnosis went through, and the way it left it."""

    node: str
    took: str
    because: str = ""


class SourceView(Part):
    """A source named anywhere in this consultation."""

    id: str
    citation: str


class PartView(Part):
    """A part that may be needed, and what to ask before selling one."""

    id: str
    name: str
    ask: list[str]


class Doubt(Part):
    """A figure that was read but not used, and why."""

    said: str
    text: str
    facts: list[str] = Field(default_factory=list)


class Handover(Part):
    """Why a person should take this over, and what to tell the customer meanwhile."""

    reason: str
    text: str


class Consultation(Part):
    """The state of one case after everything said so far."""

    revision: str
    kind: str
    units: Units
    problems: list[ProblemView]
    hazards: list[str]
    facts: dict[str, FactView]
    doubts: list[Doubt]
    cautions: list[CautionView]
    first_action: str | None
    calculations: list[CalculationView]
    question: Question | None
    finding: FindingView | None
    path: list[PathStep]
    also: list[ProblemView]
    handover: Handover | None
    note: str | None = None
    parts: list[PartView]
    sources: list[SourceView]
