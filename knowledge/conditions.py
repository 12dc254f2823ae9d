"""Conditions of the trees: typed data that names facts, results and figures; never code to be evaluated.

A condition is told apart by its key: `all`, `any`, `not`, `known`, `is`, `one_of`; any other is a comparison.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Discriminator, Field, Tag, model_validator

from knowledge.base import FactName, Figure, Line, Model, ResultName

Name = Annotated[str, Field(pattern=r"^[a-z][a-z0-9_.-]*$", max_length=120)]
"""A fact, or with a dot a result (`run.result`) or a lookup (`yeast.attenuation`)."""


class FactOperand(Model):
    """The value of a fact, moved by `plus` (a difference: `3 delta_degC`)."""

    fact: FactName
    plus: Figure | None = None

    @property
    def name(self) -> str:
        return self.fact


class ResultOperand(Model):
    """A result of one of the problem's named calculations."""

    result: ResultName
    plus: Figure | None = None

    @property
    def name(self) -> str:
        return self.result


class LookupOperand(Model):
    """A field of the row of yeasts, vessels or styles that the customer's own choice picks."""

    lookup: ResultName
    plus: Figure | None = None

    @property
    def name(self) -> str:
        return self.lookup


Named = FactOperand | ResultOperand | LookupOperand


def _operand_tag(written: Any) -> str:
    for key in ("fact", "result", "lookup"):
        if (key in written) if isinstance(written, dict) else hasattr(written, key):
            return key
    return "figure"


Operand = Annotated[
    Annotated[Figure, Tag("figure")]
    | Annotated[FactOperand, Tag("fact")]
    | Annotated[ResultOperand, Tag("result")]
    | Annotated[LookupOperand, Tag("lookup")],
    Discriminator(_operand_tag),
]

BOUNDS = ("at_least", "above", "below", "at_most", "between")
Bound = Literal["at_least", "above", "below", "at_most", "between"]


class Subject(Model):
    """What a condition is about: exactly one of a fact, a result and a lookup."""

    fact: FactName | None = None
    result: ResultName | None = None
    lookup: ResultName | None = None

    @model_validator(mode="after")
    def _exactly_one(self) -> Subject:
        if sum(name is not None for name in (self.fact, self.result, self.lookup)) != 1:
            raise ValueError("a condition is about exactly one of `fact`, `result` and `lookup`")
        return self

    @property
    def name(self) -> str:
        return self.fact or self.result or self.lookup or ""


class Compare(Subject):
    """A quantity against a bound; `between: [low, high]` includes the low end and not the high one."""

    at_least: Operand | None = None
    above: Operand | None = None
    below: Operand | None = None
    at_most: Operand | None = None
    between: tuple[Operand, Operand] | None = None

    @model_validator(mode="after")
    def _one_bound(self) -> Compare:
        if sum(getattr(self, bound) is not None for bound in BOUNDS) != 1:
            raise ValueError(f"a comparison has exactly one of {', '.join(BOUNDS)}; join two with `all`")
        return self

    @property
    def bound(self) -> Bound:
        for bound in BOUNDS:
            if getattr(self, bound) is not None:
                return bound  # type: ignore[return-value]
        raise AssertionError("validated: one bound is set")

    @property
    def limits(self) -> tuple[Operand, ...]:
        """The operand of the bound, or the two of `between`."""
        limit = getattr(self, self.bound)
        return limit if isinstance(limit, tuple) else (limit,)


class OneOf(Subject):
    """A choice that is one of those listed."""

    one_of: tuple[Line, ...] = Field(min_length=1)


class Is(Subject):
    """A yes-or-no fact that is yes (`is: true`) or no (`is: false`)."""

    is_: bool = Field(alias="is", strict=True)


class Known(Model):
    """A fact, result or lookup that has a value; one the customer does not know has none."""

    known: Name


class All(Model):
    """True when every one is; false when any is false; otherwise unsure."""

    all_: tuple[Condition, ...] = Field(alias="all", min_length=1)


class AnyOf(Model):
    """True when any is; false when every one is false; otherwise unsure."""

    any_: tuple[Condition, ...] = Field(alias="any", min_length=1)


class Not(Model):
    """The opposite; unsure stays unsure."""

    not_: Condition = Field(alias="not")


_KEYS = {"all": "all_", "any": "any_", "not": "not_", "known": "known", "is": "is_", "one_of": "one_of"}


def _condition_tag(written: Any) -> str:
    for key, attribute in _KEYS.items():
        if (key in written or attribute in written) if isinstance(written, dict) else hasattr(written, attribute):
            return key
    return "compare"


Condition = Annotated[
    Annotated[All, Tag("all")]
    | Annotated[AnyOf, Tag("any")]
    | Annotated[Not, Tag("not")]
    | Annotated[Known, Tag("known")]
    | Annotated[Is, Tag("is")]
    | Annotated[OneOf, Tag("one_of")]
    | Annotated[Compare, Tag("compare")],
    Discriminator(_condition_tag),
]

for _model in (All, AnyOf, Not):
    _model.model_rebuild()
