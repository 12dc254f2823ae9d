"""A small tree, and values put in for a case of it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

import knowledge
from knowledge import Knowledge
from knowledge.tables import QuantityFact
from service.consultation import Units
from service.diagnosis.known import Known
from service.understanding.model import Fact

SAMPLE = Path(__file__).parents[2] / "knowledge" / "sample"
Value = float | str | bool | None
FactsOf = Callable[[dict[str, Value]], dict[str, Fact]]
Case = Callable[..., Known]


@pytest.fixture(scope="session")
def sample() -> Knowledge:
    return knowledge.load(SAMPLE)


@pytest.fixture(scope="session")
def facts_of(sample: Knowledge) -> FactsOf:
    """Facts in their own units, as if they had been said."""

    def fact(name: str, value: Value) -> Fact:
        spec = sample.facts[name]
        return Fact(name, value, spec.unit if isinstance(spec, QuantityFact) else None)

    return lambda values: {name: fact(name, value) for name, value in values.items()}


@pytest.fixture
def case(sample: Knowledge, facts_of: FactsOf) -> Case:
    """A case of the sample's pressure tree in which these facts are known; None: known to be not known."""

    def made(system: Units = "metric", **values: float | str | bool | None) -> Known:
        return Known(sample.problems["pressure-too-high"], facts_of(values), sample, system)

    return made
