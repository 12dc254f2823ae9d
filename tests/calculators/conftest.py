"""What the calculators' tests share."""

from __future__ import annotations

from collections.abc import Callable

import pytest

import calculators

Found = Callable[..., dict[str, float]]


@pytest.fixture(scope="session")
def found() -> Found:
    """Runs a calculator and gives its bare result values: ``found("priming-sugar", beer_volume="20 L", …)``."""

    def values(name: str, **inputs: calculators.InputValue) -> dict[str, float]:
        return {result: reading.value for result, reading in calculators.run(name, inputs).results.items()}

    return values
