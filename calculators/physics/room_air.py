"""Gas in a room: the limits published for work places, and how it gathers and clears. Parts per million, m³, hours."""

from __future__ import annotations

from math import exp, log
from typing import NamedTuple

from calculators.core import Source

OSHA_CO2 = Source(
    "osha-z1",
    "OSHA, 29 CFR 1910.1000 Table Z-1, carbon dioxide 5,000 ppm (9,000 mg/m³) over eight hours.",
)
NIOSH_CO2 = Source(
    "niosh-idlh-co2",
    "NIOSH, Documentation for Immediately Dangerous to Life or Health Concentrations, carbon dioxide (May 1994): "
    "40,000 ppm; 30,000 ppm for 15 minutes.",
)
OSHA_CO = Source(
    "osha-co",
    "OSHA, Chemical Sampling Information, carbon monoxide: NIOSH 35 ppm over a working day, 200 ppm at any time.",
)
NIOSH_CO = Source(
    "niosh-idlh-co",
    "NIOSH, Documentation for Immediately Dangerous to Life or Health Concentrations, carbon monoxide (May 1994), "
    "1,200 ppm.",
)
WELL_MIXED = Source(
    "well-mixed-room",
    "Mass balance of a well-mixed room: C = Cb + (C0 - Cb) e^(-n t), n air changes an hour; at rest Cb + q/(n V).",
)


class Limits(NamedTuple):
    """ppm: over a working day; for a short time (CO2 15 minutes, CO at any time); immediately dangerous."""

    working_day: float
    short_time: float
    immediate_danger: float


LIMITS = {"co2": Limits(5_000.0, 30_000.0, 40_000.0), "co": Limits(35.0, 200.0, 1_200.0)}
LOW_LAYER = 3.0
"""How many times the mean the air low down may hold: as if all the gas lay in the lowest third of a still room."""


def hours_to_clear(start: float, target: float, outside: float, air_changes: float) -> float:
    """Hours until a well-mixed room has fallen from ``start`` to ``target`` ppm; none where it is there already."""
    if start <= target:
        return 0.0
    return log((start - outside) / (target - outside)) / air_changes


def gathered(outside: float, inflow: float, room: float, air_changes: float, hours: float) -> float:
    """ppm after ``hours`` of ``inflow`` m³/h of gas into a well-mixed ``room`` of outside air."""
    if air_changes <= 0.0:
        return outside + 1e6 * inflow * hours / room
    return outside + 1e6 * inflow / (air_changes * room) * (1.0 - exp(-air_changes * hours))
