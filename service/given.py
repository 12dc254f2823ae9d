"""Facts given as such: an answer tapped, a correction, `--fact NAME=VALUE`, the `facts` of a request.

Unlike words, which are read with doubt, a given fact is either taken or refused with a message that names it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from calculators import BadInput, units
from calculators.units.names import UNITS
from knowledge import Knowledge
from knowledge.tables import ChoiceFact, QuantityFact, YesNoFact
from service.understanding.model import Fact

NOT_KNOWN = frozenset({"", "not known", "unknown", "don't know", "dont know", "i don't know", "?"})
YES_NO = {"yes": True, "true": True, "y": True, "no": False, "false": False, "n": False}


class BadFact(ValueError):
    """A given fact that cannot be taken. `field` is its name; the message says what to do about it."""

    def __init__(self, field: str, message: str) -> None:
        super().__init__(f"{field}: {message}")
        self.field = field


def read_given(given: Mapping[str, Any], knowledge: Knowledge) -> dict[str, Fact]:
    """Every given fact in the unit of `knowledge/facts.yaml`; raises `BadFact` for the first that cannot be taken."""
    return {name: _read(name, value, knowledge) for name, value in given.items()}


def _read(name: str, value: Any, knowledge: Knowledge) -> Fact:
    spec = knowledge.facts.get(name)
    if spec is None:
        raise BadFact(name, "is not a fact Spile knows; the names are those of knowledge/facts.yaml.")
    if value is None or (isinstance(value, str) and value.strip().lower() in NOT_KNOWN):
        return Fact(name, None, said="not known")
    if isinstance(spec, QuantityFact):
        return _quantity(name, value, spec)
    if isinstance(spec, ChoiceFact):
        return _choice(name, value, spec)
    return _yes_no(name, value, spec)


def _choice(name: str, value: Any, spec: ChoiceFact) -> Fact:
    if not isinstance(value, str) or value not in spec.choices:
        raise BadFact(name, f"must be one of {', '.join(spec.choices)}.")
    return Fact(name, value, said=spec.choices[value])


def _yes_no(name: str, value: Any, _spec: YesNoFact) -> Fact:
    answer = YES_NO.get(value.strip().lower()) if isinstance(value, str) else value
    if not isinstance(answer, bool):
        raise BadFact(name, "must be yes or no.")
    return Fact(name, answer, said="yes" if answer else "no")


def _quantity(name: str, value: Any, spec: QuantityFact) -> Fact:
    written, low, high = _as_written(name, value)
    figure = _in_own_unit(name, written, spec)
    if not spec.low <= figure <= spec.high:
        raise BadFact(
            name,
            f"is outside what is possible here, {spec.low:g} to {spec.high:g} {spec.unit}. "
            "Check the figure and its unit, or measure again.",
        )
    ends = [_in_own_unit(name, end, spec) if end is not None else None for end in (low, high)]
    return Fact(name, figure, spec.unit, ends[0], ends[1], said=_as_said(written), said_unit=_unit_said(written))


def _as_said(written: Any) -> str:
    """The figure as a person writes it: "62 degF" is "62 °F", "1.050 SG" is "1.050"."""
    figure, _, unit = str(written).strip().partition(" ")
    return f"{figure} {units.symbol(unit)}".strip() if unit in UNITS else str(written)


def _as_written(name: str, value: Any) -> tuple[Any, Any, Any]:
    """The figure with its unit, and the ends of its range where they were given."""
    if not isinstance(value, Mapping):
        return value, None, None
    extra = set(value) - {"value", "unit", "low", "high", "said"}
    if extra or not isinstance(value.get("value"), int | float) or isinstance(value.get("value"), bool):
        raise BadFact(name, 'must be a number, text such as "62 degF", or {"value": 62, "unit": "degF"}.')
    unit = value.get("unit")
    if not isinstance(unit, str | None):
        raise BadFact(name, "its unit must be text, such as degF.")
    return _with_unit(value["value"], unit), _with_unit(value.get("low"), unit), _with_unit(value.get("high"), unit)


def _with_unit(figure: Any, unit: str | None) -> Any:
    return figure if figure is None or unit is None else f"{figure} {unit}"


def _unit_said(written: Any) -> str | None:
    return written.strip().partition(" ")[2] or None if isinstance(written, str) else None


def _in_own_unit(name: str, written: Any, spec: QuantityFact) -> float:
    if isinstance(written, bool) or not isinstance(written, int | float | str):
        raise BadFact(name, f'must be a number in {spec.unit}, or text with a unit such as "12 {spec.unit}".')
    try:
        figure = units.parse(written, spec.unit) if isinstance(written, str) else float(written)
    except BadInput as error:
        raise BadFact(name, error.message) from error
    except OverflowError as error:
        raise BadFact(name, f"must be a finite number in {spec.unit}.") from error
    if not math.isfinite(figure):
        raise BadFact(name, f"must be a finite number in {spec.unit}.")
    return figure
