"""The arithmetic of brewing, with its uncertainty, its working and its sources. Knows no other part of the project.

>>> import calculators
>>> done = calculators.run("carbonation-equilibrium", {"temperature": "38 degF", "gauge_pressure": "12 psi"})
>>> round(done.results["carbonation"].value, 2)
2.58
"""

from __future__ import annotations

from collections.abc import Mapping

from calculators.calculator import Calculator
from calculators.core import BadInput, Calculation, InputSpec, Reading, ResultSpec, Source, System
from calculators.door import InputValue
from calculators.registry import get, names

__all__ = [
    "BadInput", "Calculation", "Calculator", "InputSpec", "InputValue", "Reading", "ResultSpec", "Source", "System",
    "get", "names", "run",
]  # fmt: skip


def run(name: str, inputs: Mapping[str, InputValue], units: System = "metric") -> Calculation:
    """Run the calculator ``name``.

    Each input is a string with its unit ("12 psi", "38 degF"; none for SG, pH, vol, percent), a number in the input's
    own unit, a :class:`Reading`, ``{"value": …, "unit": …, "low": …, "high": …}``, a choice, or a bool. ``units`` only
    says which system the working prints first. Raises :class:`BadInput` naming the input and what to do.
    """
    return get(name).run(inputs, units)
