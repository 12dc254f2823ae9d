"""What the consulting calls take. Types are strict: true is no number, and a number in quotes is text."""

from __future__ import annotations

import math
from typing import Annotated, Any, Literal

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    PlainValidator,
    StringConstraints,
    WithJsonSchema,
    model_validator,
)

from service.consultation import LONGEST_TEXT

LONGEST_VALUE = 200
MOST_FACTS = 64

FIGURE = (
    'must be a number, text such as "62 degF", an object with value and unit, true or false, or null when not known'
)
MEASURED_KEYS = {"value": (int, float), "low": (int, float), "high": (int, float), "unit": (str,), "said": (str,)}


def _given(value: Any) -> Any:
    """One value of a fact or an input: short, of a plain type; what it means is for those who use it."""
    if isinstance(value, dict):
        for key, each in value.items():
            kinds = MEASURED_KEYS.get(key)
            if kinds is None or isinstance(each, bool) or not isinstance(each, kinds):
                raise ValueError(FIGURE)
            _given(each)
        if not value:
            raise ValueError(FIGURE)
    elif isinstance(value, str):
        if len(value) > LONGEST_VALUE:
            raise ValueError(f"is too long: at most {LONGEST_VALUE} characters (Unicode code points)")
    elif isinstance(value, int | float):
        if not math.isfinite(value):
            raise ValueError("must be a finite number")
    elif value is not None:
        raise ValueError(FIGURE)
    return value


_SHORT = {"type": "string", "maxLength": LONGEST_VALUE}
_FIGURE_SCHEMA = {
    "description": "A number in the catalogue's unit, text with a unit, a choice, yes or no; null: not known.",
    "anyOf": [
        {"type": "number"},
        _SHORT,
        {"type": "boolean"},
        {"type": "null"},
        {
            "type": "object",
            "minProperties": 1,
            "additionalProperties": False,
            "properties": {
                "value": {"type": "number"},
                "low": {"type": "number"},
                "high": {"type": "number"},
                "unit": _SHORT,
            },
        },
    ],
}
Given = Annotated[Any, PlainValidator(_given), WithJsonSchema(_FIGURE_SCHEMA)]
Name = Annotated[str, StringConstraints(min_length=1, max_length=64)]
Givens = Annotated[dict[Name, Given], Field(max_length=MOST_FACTS)]


def _unwrapped(value: Any) -> Any:
    wrapped = isinstance(value, dict) and set(value) == {"inputs"} and isinstance(value["inputs"], dict)
    return value["inputs"] if wrapped else value


Inputs = Annotated[Givens, BeforeValidator(_unwrapped)]
Text = Annotated[str, StringConstraints(max_length=LONGEST_TEXT)]
UnitSystem = Literal["us", "metric"]


class Body(BaseModel):
    """Base of what is sent: strict, and nothing unknown in it."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)


class Said(Body):
    """Something a customer said: words, facts, or both."""

    text: Text = ""
    facts: Givens = Field(default_factory=dict, description="facts by name, as in the catalogue")

    @model_validator(mode="after")
    def _says_something(self) -> Said:
        if not self.text.strip() and not self.facts:
            raise ValueError("says nothing: send text, or facts, or both")
        return self


class Asked(Said):
    """One consultation, nothing stored."""

    units: UnitSystem | None = Field(None, description="units of the answer; without it, as the customer wrote")


class CalculationDone(BaseModel):
    """One run of a calculator, with everything needed to do it again by hand."""

    calculator: str
    inputs: dict[str, Any]
    results: dict[str, Any]
    working: str
    sources: list[str]
    warnings: list[str]


class PictureTable(BaseModel):
    """The figures behind a picture, written; the units stand in the head."""

    head: list[str]
    rows: list[list[str]]


class PictureDrawn(BaseModel):
    """The picture of a calculation."""

    name: str
    title: str
    svg: str = Field(description="one svg element, with the title and the words in it")
    alternative: str = Field(description="the same in words")
    table: PictureTable


class ResultListed(BaseModel):
    """One result of a calculator."""

    unit: str
    description: str


class CalculatorListed(BaseModel):
    """A calculator: what goes in, what comes out, and where the relation is from."""

    name: str
    title: str
    summary: str
    inputs: dict[str, Any] = Field(description="their JSON Schema")
    results: dict[str, ResultListed]
    sources: dict[str, str]
    picture: bool = Field(description="whether POST /api/calculators/{name}/picture draws one")


class CalculatorList(BaseModel):
    """Every calculator."""

    calculators: list[CalculatorListed]
