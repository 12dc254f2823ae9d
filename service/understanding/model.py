"""What a message is taken to say: the types that pass between the stages of understanding.

    text -> tokens -> quantities, mentions -> facts, hazards -> ranked problems

Every piece keeps its place in the message (`start`, `end`, the half-open character span of the text as typed)
and its words (`said`), so that whatever the desk concludes can be shown to a person with "because you said …".
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal, TypeAlias

Value: TypeAlias = float | str | bool | None
Time: TypeAlias = Literal["past", "now", "planned", "hypothetical"]
Reason: TypeAlias = Literal["several-facts", "out-of-range", "no-unit"]
Kind: TypeAlias = Literal[
    "trouble",
    "greeting",
    "order",
    "other-language",
    "abuse",
    "manipulation",
    "vague",
    "other-craft",
    "small-talk",
    "answer",
]


@dataclass(frozen=True, slots=True)
class Token:
    """One word, figure or sign. `word` is lower case with its spelling put right; `clause` counts from 0."""

    text: str
    word: str
    start: int
    end: int
    clause: int


@dataclass(frozen=True, slots=True)
class Mention:
    """Something the lexicon knows, with who and when: "my friend's keg isn't leaking" is keg and leak, negated."""

    concept: str
    start: int
    end: int
    said: str
    clause: int
    negated: bool = False
    time: Time = "now"
    subject: str = "self"


@dataclass(frozen=True, slots=True)
class Quantity:
    """A figure as said. `unit` is a unit of the catalogue or None where none was said; `low`, `high` bound a range.

    `implied` figures have no digit: "a week", "half a pound".
    """

    value: float
    unit: str | None
    low: float | None
    high: float | None
    start: int
    end: int
    said: str
    implied: bool = False


@dataclass(frozen=True, slots=True)
class Fact:
    """One fact of the batch in the catalogue's unit. `value` None means: asked for, and not known.

    `said_unit` is the unit the customer used, which tells the measures they think in.
    """

    name: str
    value: Value
    unit: str | None = None
    low: float | None = None
    high: float | None = None
    said: str = ""
    said_unit: str | None = None


@dataclass(frozen=True, slots=True)
class Doubt:
    """A figure that was not taken: it could be several facts, or is out of every plausible range. It is asked about."""

    facts: tuple[str, ...]
    value: float
    unit: str | None
    said: str
    reason: Reason


@dataclass(frozen=True, slots=True)
class HazardFound:
    """A danger that is there, may soon be, or is asked about doing; `because` is the customer's own words."""

    id: str
    because: str


@dataclass(frozen=True, slots=True)
class ProblemMatch:
    """How well one problem explains the message, 0 to 1, with the words that speak for it and against it."""

    id: str
    score: float
    matched: tuple[str, ...] = ()
    against: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Understanding:
    """Everything read out of one message. `ranked` is empty where no problem is sure enough to be named; `others` are
    further troubles that the message tells of.

    `moved` names the fact that an earlier figure really was ("no, that was the sample temperature"); `takes_back`
    says that the message sets an earlier one right ("sorry, I meant 1.015").
    """

    text: str
    tokens: tuple[Token, ...] = ()
    mentions: tuple[Mention, ...] = ()
    quantities: tuple[Quantity, ...] = ()
    facts: dict[str, Fact] = field(default_factory=dict)
    doubts: tuple[Doubt, ...] = ()
    hazards: tuple[HazardFound, ...] = ()
    ranked: tuple[ProblemMatch, ...] = ()
    kind: Kind = "vague"
    moved: str | None = None
    takes_back: bool = False
    others: tuple[ProblemMatch, ...] = ()
