"""What the calculators' tests share."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import HealthCheck, settings

import calculators

settings.register_profile("untimed", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("untimed")
"""No test fails because the machine is busy; time is for the benchmarks."""

Found = Callable[..., dict[str, float]]


@pytest.fixture(scope="session")
def found() -> Found:
    """Runs a calculator and gives its bare result values: ``found("priming-sugar", beer_volume="20 L", …)``."""

    def values(name: str, **inputs: calculators.InputValue) -> dict[str, float]:
        return {result: reading.value for result, reading in calculators.run(name, inputs).results.items()}

    return values
