"""The few types every calculator speaks in: readings, specifications, sources, results and the one error."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal, NamedTuple

System = Literal["us", "metric"]
Range = tuple[float, float]
Given = Mapping[str, Any]
"""Input values by name, in the inputs' own units: a float, a choice, a bool, or None where left out."""
Found = Mapping[str, float]
"""Result values by name, in the results' own units."""


class Reading(NamedTuple):
    """A value and the range it surely lies in, all in one unit.

    An empty ``unit`` means the own unit of the input it is given to.
    """

    value: float
    low: float
    high: float
    unit: str = ""

    def as_dict(self) -> dict[str, float | str]:
        return {"value": _tidy(self.value), "unit": self.unit, "low": _tidy(self.low), "high": _tidy(self.high)}


class BadInput(ValueError):
    """What a caller gave cannot be used. ``field`` names the input, ``message`` says what is wrong and the fix."""

    def __init__(self, field: str, message: str, others: Sequence[BadInput] = ()) -> None:
        self.field = field
        self.message = message
        self.faults: tuple[tuple[str, str], ...] = ((field, message), *((o.field, o.message) for o in others))
        super().__init__("; ".join(f"{name}: {text}" for name, text in self.faults))

    @classmethod
    def together(cls, faults: Sequence[BadInput]) -> BadInput:
        """One error that names every bad input at once."""
        return cls(faults[0].field, faults[0].message, faults[1:])


class Source(NamedTuple):
    """A published work (or the honest ``common practice``) behind a formula."""

    id: str
    citation: str


COMMON_PRACTICE = Source("common-practice", "Common practice of the trade; no published source known.")


@dataclass(frozen=True, slots=True, eq=False)
class InputSpec:
    """One input: its unit, the values that can be, the values the formula was established for, its usual error.

    ``possible``: outside it the value is refused. ``established``: outside it the answer carries a warning.
    ``reading``: what the usual instrument may be off by, in the own unit, used where no range is given.
    ``share``: the same as a fraction of the value. ``default``: used where nothing is given; an input without
    a default that is not ``optional`` is required.
    """

    name: str
    kind: Literal["quantity", "choice", "flag"]
    unit: str = ""
    possible: Range = (float("-inf"), float("inf"))
    established: Range | None = None
    reading: float = 0.0
    share: float = 0.0
    default: float | str | bool | Reading | None = None
    optional: bool = False
    choices: tuple[str, ...] = ()
    description: str = ""

    @property
    def required(self) -> bool:
        return not self.optional and self.default is None


@dataclass(frozen=True, slots=True)
class ResultSpec:
    """One result: its unit, the values that can be, and the method's own uncertainty.

    The method's own: ``absolute`` plus ``relative`` times the distance from ``zero`` (for a gauge pressure the
    zero is the vacuum, -1.01325 bar, because such a model errs in proportion to the absolute pressure).
    ``echoes``: where the input of the same name is given, this result is that input, with its range and no more.
    """

    name: str
    unit: str
    absolute: float = 0.0
    relative: float = 0.0
    zero: float = 0.0
    possible: Range = (float("-inf"), float("inf"))
    echoes: bool = False
    description: str = ""

    def own_uncertainty(self, value: float) -> float:
        return self.absolute + self.relative * abs(value - self.zero)


def quantity(
    name: str,
    unit: str,
    possible: Range,
    *,
    established: Range | None = None,
    reading: float = 0.0,
    share: float = 0.0,
    default: float | Reading | None = None,
    optional: bool = False,
) -> InputSpec:
    """An input with a unit; see :class:`InputSpec` for what the parts mean."""
    return InputSpec(name, "quantity", unit, possible, established, reading, share, default, optional)


def choice(name: str, *choices: str, default: str | None = None, optional: bool = False) -> InputSpec:
    """An input that is one of a few words."""
    return InputSpec(name, "choice", choices=choices, default=default, optional=optional)


def flag(name: str, *, default: bool | None = None, optional: bool = False) -> InputSpec:
    """An input that is yes or no."""
    return InputSpec(name, "flag", default=default, optional=optional)


@dataclass(frozen=True, slots=True)
class Calculation:
    """One run: what went in, what came out with its range, the working, whose formula it is, what to beware of."""

    calculator: str
    inputs: Mapping[str, Reading | str | bool]
    results: Mapping[str, Reading]
    working: str
    sources: tuple[str, ...]
    warnings: tuple[str, ...] = field(default=())

    def as_dict(self) -> dict[str, Any]:
        """The calculation as JSON-able data, in the shape of the consultation object."""
        return {
            "calculator": self.calculator,
            "inputs": {name: _plain(value) for name, value in self.inputs.items()},
            "results": {name: value.as_dict() for name, value in self.results.items()},
            "working": self.working,
            "sources": list(self.sources),
            "warnings": list(self.warnings),
        }


def _plain(value: Reading | str | bool) -> dict[str, float | str] | str | bool:
    return value.as_dict() if isinstance(value, Reading) else value


def _tidy(value: float) -> float:
    """Seven significant digits: more would only show the arithmetic, not the beer."""
    return float(f"{value:.7g}")
