"""Air that was in the headspace when a vessel was closed. It stays, and adds its own pressure. Bar ABSOLUTE, °C.

Oxygen that yeast takes up and nitrogen that beer takes up are left out: what comes out is the most the air can add.
"""

from __future__ import annotations

from typing import NamedTuple

from calculators.core import Source

PARTIAL_PRESSURES = Source(
    "dalton",
    "Dalton's law of partial pressures: each gas in a closed space presses as if it were there alone.",
)


class Mixed(NamedTuple):
    """What a gauge reads over, in its two parts, bar absolute."""

    gas: float
    air: float


def parted(absolute_pressure: float, outside: float, *, air: bool) -> Mixed:
    """The pressure of a headspace that was ``air`` at the outside pressure when it was closed, or gas alone."""
    shut_in = min(outside, absolute_pressure) if air else 0.0
    return Mixed(absolute_pressure - shut_in, shut_in)


def after(pressure: float, start: float, end: float, shrink: float) -> float:
    """Air of ``pressure`` at ``start`` °C, warmed to ``end`` in ``1 / shrink`` of the room.

    >>> round(after(1.01325, 4.0, 25.0, 1.0), 3)
    1.09
    """
    return pressure * (end + 273.15) / (start + 273.15) * shrink
