"""The names a tree may use for a value, and the unit each value is in.

A fact is `current_gravity`; a result of one of the tree's runs is `run.result`; a lookup is `yeast.attenuation`: a
field of the row that the customer's own choice (yeast_type, vessel_type, beer_style) picks from a shared table.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import NamedTuple

import calculators
from calculators import units
from knowledge.base import Model, ends
from knowledge.loading import Knowledge
from knowledge.schema import Problem
from knowledge.tables import QuantityFact


class Figures(NamedTuple):
    """A figure or a range of the tables, in the field's own unit."""

    low: float
    high: float
    unit: str


CHOSEN_BY = {"yeast": "yeast_type", "vessel": "vessel_type", "style": "beer_style"}
"""The fact that picks the row of each table."""

UNIT_OF_FIELD: dict[str, str | None] = {
    "yeast.attenuation": "percent",
    "yeast.temperature": "degC",
    "yeast.temperature_low": "degC",
    "yeast.temperature_high": "degC",
    "yeast.pressure_limit": "bar",
    "yeast.group": None,
    "vessel.holds_pressure": None,
    "style.carbonation": "vol",
}
"""The fields that may be looked up, with the unit of each; None for words."""

WORDS_OF_FIELD = {"yeast.group": ("ale", "lager"), "vessel.holds_pressure": ("yes", "no", "if-marked")}
"""What the fields that hold words may say."""


def look_up(field: str, row_id: str, knowledge: Knowledge) -> Figures | str | None:
    """The field (`yeast.attenuation`) of a row; None where there is no such row."""
    table, _, column = field.partition(".")
    tables: Mapping[str, Mapping[str, Model]] = {
        "yeast": knowledge.yeasts,
        "vessel": knowledge.vessels,
        "style": knowledge.styles,
    }
    row = tables[table].get(row_id)
    if row is None or field not in UNIT_OF_FIELD:
        return None
    column, _, end = column.partition("_") if column.startswith("temperature") else (column, "", "")
    written: str = getattr(row, column)
    if end:
        written = ends(written)[end == "high"]
    unit = UNIT_OF_FIELD[field]
    return written if unit is None else _figures(written, unit)


def _figures(written: str, unit: str) -> Figures:
    low, high = ends(written) if " to " in written else (written, written)
    return Figures(figure(low, unit), figure(high, unit), unit)


def unit_of(name: str, problem: Problem, knowledge: Knowledge) -> str | None:
    """The unit of a fact, result or lookup; None where it has none (a choice, yes/no, words, or an unknown name)."""
    if "." not in name:
        fact = knowledge.facts.get(name)
        return fact.unit if isinstance(fact, QuantityFact) else None
    head, _, tail = name.partition(".")
    if head in CHOSEN_BY:
        return UNIT_OF_FIELD.get(name)
    run = problem.calculations.get(head)
    if run is None or run.calculator not in calculators.names():
        return None
    result = calculators.get(run.calculator).results.get(tail)
    return result.unit if result else None


_DIFFERENCES = {"degC": "delta_degC", "degF": "delta_degF", "SG": "SG_difference"}


def difference_unit(unit: str) -> str:
    """The unit in which a difference between two values in `unit` is given."""
    return _DIFFERENCES.get(unit, unit)


@lru_cache(maxsize=4096)
def figure(written: str, unit: str) -> float:
    """A figure of the trees ("12 psi") in a unit; raises `calculators.BadInput` for one of another kind."""
    return units.parse(written, unit)
