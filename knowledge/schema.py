"""The shape of one problem's tree and of the examples beside it (problems/<id>.yaml, problems/<id>.cases.yaml)."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Any, Literal

from pydantic import Discriminator, Field, Tag, model_validator

from knowledge.base import FactName, Figure, Id, Line, Model
from knowledge.conditions import Condition, FactOperand, LookupOperand, ResultOperand


class Say(Model):
    """A sentence with figures in it, or one that is only said in a certain case.

    `{fact}`, `{run.result}` and `{yeast.field}` stand for their values; `.low`, `.high` and `.range` after them
    give the ends and the whole of what is known. When a value is not known, or `when` is not surely true,
    `otherwise` is said instead, a sentence or another `say`; left empty, nothing is.
    """

    say: Line
    otherwise: Otherwise = ""
    when: Condition | None = None


def _text_tag(written: Any) -> str:
    return "say" if isinstance(written, dict | Say) else "plain"


Otherwise = Annotated[Annotated[str, Tag("plain")] | Annotated[Say, Tag("say")], Discriminator(_text_tag)]
Say.model_rebuild()
Text = Annotated[Annotated[Line, Tag("plain")] | Annotated[Say, Tag("say")], Discriminator(_text_tag)]


class ValueInput(Model):
    """A fixed figure with its unit, a choice, or yes/no."""

    value: Figure | bool | Line


class FirstKnown(Model):
    """The first of several that has a value: what was said, else what is usual."""

    first: tuple[Input, ...] = Field(min_length=2)


def _input_tag(written: Any) -> str:
    if isinstance(written, str):
        return "name"
    for key in ("fact", "result", "lookup", "value"):
        if (key in written) if isinstance(written, dict) else hasattr(written, key):
            return key
    return "first"


Input = Annotated[
    Annotated[FactName, Tag("name")]
    | Annotated[FactOperand, Tag("fact")]
    | Annotated[ResultOperand, Tag("result")]
    | Annotated[LookupOperand, Tag("lookup")]
    | Annotated[ValueInput, Tag("value")]
    | Annotated[FirstKnown, Tag("first")],
    Discriminator(_input_tag),
]
FirstKnown.model_rebuild()

RunName = Annotated[str, Field(pattern=r"^[a-z][a-z0-9_-]*$", max_length=60)]


class Run(Model):
    """One named run of a calculator, made when the inputs it cannot do without are known."""

    calculator: Id
    inputs: dict[FactName, Input] = Field(min_length=1)


class Branch(Model):
    """Where to go when the condition is surely true."""

    when: Condition
    go: Id


class Question(Model):
    """Asks the customer for one fact that is not known yet, then branches on it."""

    kind: Literal["question"]
    fact: FactName
    ask: Text
    why: Text
    hint: Text | None = Field(None, description="how to read or find it, in place of what facts.yaml says")
    branches: tuple[Branch, ...] = Field(min_length=1)
    unknown: Id = Field(description="the way on when the answer is not known, or no branch is surely true")
    unsure: Id | None = Field(None, description="another way on when a reading's range straddles a limit")


class Test(Model):
    """Branches on what is known, without asking."""

    kind: Literal["test"]
    branches: tuple[Branch, ...] = Field(min_length=1)
    otherwise: Id


class CheckAgain(Model):
    """What to look at next, and when."""

    what: Text
    when: Text


class Finding(Model):
    """Where a path ends: the cause, what to do now, what to check next and when."""

    kind: Literal["finding"]
    title: Line
    cause: Text
    summary: Text
    steps: tuple[Text, ...] = Field(min_length=1)
    next_time: tuple[Text, ...] = ()
    check_again: CheckAgain
    calculations: tuple[RunName, ...] = ()
    parts: tuple[Id, ...] = ()
    cautions: tuple[Id, ...] = ()
    sources: tuple[Id, ...] = Field(min_length=1)
    reviewed: date


Node = Annotated[Question | Test | Finding, Field(discriminator="kind")]


class Problem(Model):
    """One complaint and the tree that finds the cause behind it."""

    id: Id
    title: Line
    reviewed: date
    dangerous: bool = False
    cautions: tuple[Id, ...] = Field((), description="shown with the first answer, before any question")
    first_action: Text | None = Field(None, description="what to do at once, said before any question")
    calculations: dict[RunName, Run] = Field(default_factory=dict)
    start: Id
    nodes: dict[Id, Node] = Field(min_length=1)


class Case(Model):
    """An example beside the tree: what a customer says, and where it leads or must not lead."""

    says: Line
    facts: dict[FactName, bool | int | float | str | None] = Field(
        default_factory=dict, description="answers to the questions"
    )
    ends: Id | None = Field(None, description="the finding it leads to")
    asks: FactName | None = Field(None, description="the fact it is asked for next")
    not_: Id | None = Field(None, alias="not", description="the problem it must not be taken for")

    @model_validator(mode="after")
    def _one_outcome(self) -> Case:
        if sum(outcome is not None for outcome in (self.ends, self.asks, self.not_)) != 1:
            raise ValueError("a case has exactly one of `ends`, `asks` and `not`")
        return self
