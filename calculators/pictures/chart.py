"""What a picture shows, as plain data in the calculators' own units: lines, the customer's points, limits, bands.

A chart knows nothing of drawing; it makes the table that stands behind the picture.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

import calculators
from calculators import units
from calculators.core import Calculation, Range, Reading, System

_ROWS = 9


class Axis(NamedTuple):
    """What runs along an axis, and its own unit."""

    label: str
    unit: str

    def title(self, system: System) -> str:
        """ "gauge pressure (psi)"; without a unit where there is none to say."""
        symbol = units.symbol(units.unit_in(self.unit, system))
        return f"{self.label} ({symbol})" if symbol else self.label

    def told(self, value: float, system: System) -> str:
        """A figure with its unit."""
        return units.in_system(value, self.unit, system)

    def figure(self, value: float, system: System) -> str:
        """A figure without its unit."""
        (shown,) = self.shown((value,), system)
        return units.figure(shown, units.unit_in(self.unit, system))

    def shown(self, values: Iterable[float], system: System) -> list[float]:
        """Figures in the unit the system shows."""
        return [units.convert(value, self.unit, units.unit_in(self.unit, system)) for value in values]


class Line(NamedTuple):
    """A curve: its name and its heights over the chart's ``xs``. ``faint``: an edge, not the answer itself."""

    name: str
    ys: tuple[float, ...]
    faint: bool = False


class Mark(NamedTuple):
    """The customer's own point, with the range of its height where that matters."""

    name: str
    x: float
    y: float
    y_range: Range | None = None


class Level(NamedTuple):
    """A height that means something: a limit, a target."""

    name: str
    y: float


class Band(NamedTuple):
    """A range that means something: across the picture by height, or upright (``along_x``)."""

    name: str
    low: float
    high: float
    along_x: bool = False


class Table(NamedTuple):
    """The figures behind a picture, as written text; the units stand in the head."""

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


class Picture(NamedTuple):
    """A picture ready to be shown: SVG text, the same in words for who cannot see it, and the table behind it."""

    name: str
    title: str
    svg: str
    alternative: str
    table: Table


@dataclass(frozen=True)
class Chart:
    """One picture before it is drawn. All figures are in the axes' own units."""

    title: str
    alternative: str
    x: Axis
    y: Axis
    xs: tuple[float, ...]
    lines: tuple[Line, ...]
    marks: tuple[Mark, ...] = ()
    levels: tuple[Level, ...] = ()
    bands: tuple[Band, ...] = ()

    def table(self, system: System) -> Table:
        """A row for every few places along the curves, then the customer's points, levels and bands."""
        head = (self.x.title(system), *(self._head(line, system) for line in self.lines))
        places = sorted({round(part * (len(self.xs) - 1) / (_ROWS - 1)) for part in range(_ROWS)})
        rows = [
            (self.x.figure(self.xs[at], system), *(self.y.figure(line.ys[at], system) for line in self.lines))
            for at in places
        ]
        blank = ("",) * (len(self.lines) - 1)
        return Table(head, (*rows, *((name, told, *blank) for name, told in self._told(system))))

    def _head(self, line: Line, system: System) -> str:
        return f"{line.name}: {self.y.title(system)}" if line.name else self.y.title(system)

    def _told(self, system: System) -> Iterator[tuple[str, str]]:
        """The customer's points, the levels and the bands, each by its name."""
        for mark in self.marks:
            yield f"{mark.name}, at {self.x.told(mark.x, system)}", self.y.told(mark.y, system)
        for level in self.levels:
            yield level.name, self.y.told(level.y, system)
        for band in self.bands:
            axis = self.x if band.along_x else self.y
            yield band.name, f"{axis.told(band.low, system)} to {axis.told(band.high, system)}"


def steps(low: float, high: float, count: int = 61) -> tuple[float, ...]:
    """Evenly spaced places from ``low`` to ``high``, both included."""
    return tuple(low + (high - low) * part / (count - 1) for part in range(count))


def bare(done: Calculation) -> dict[str, Any]:
    """The calculation's inputs as its calculator's function takes them; None where left out."""
    given: dict[str, Any] = dict.fromkeys(calculators.get(done.calculator).inputs)
    for name, value in done.inputs.items():
        given[name] = value.value if isinstance(value, Reading) else value
    return given


def along(done: Calculation, name: str, xs: Sequence[float], result: str) -> tuple[float, ...]:
    """``result`` of the same calculation with the input ``name`` at every one of ``xs``."""
    calculator, given = calculators.get(done.calculator), bare(done)
    return tuple(calculator.compute(**{**given, name: x})[result] for x in xs)
