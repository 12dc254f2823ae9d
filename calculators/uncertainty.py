"""Carries the uncertainty of the inputs to the results: one input at a time, both sides, root sum of squares."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import sqrt

from calculators.core import Found, Given, Reading


def carried(
    compute: Callable[..., Found], given: Given, found: Found, readings: Mapping[str, Reading]
) -> tuple[dict[str, float], dict[str, float]]:
    """How far below and above ``found`` each result may lie because of its inputs (both positive)."""
    below, above = dict.fromkeys(found, 0.0), dict.fromkeys(found, 0.0)
    case = dict(given)
    for name, (value, low, high, _unit) in readings.items():
        moved = []
        for end in (low, high):
            if end != value:
                case[name] = end
                moved.append(compute(**case))
        case[name] = value
        if moved:
            _add_squares(below, above, found, moved)
    return {name: sqrt(total) for name, total in below.items()}, {name: sqrt(total) for name, total in above.items()}


def _add_squares(below: dict[str, float], above: dict[str, float], found: Found, moved: list[Found]) -> None:
    """Where both ends move a result the same way, the further one counts."""
    for result, value in found.items():
        one, other = moved[0][result] - value, moved[-1][result] - value
        if one or other:
            down, up = min(one, other, 0.0), max(one, other, 0.0)
            below[result] += down * down  # overflows to infinity, where ** would raise
            above[result] += up * up
