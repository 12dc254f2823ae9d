"""How much extract is in so much wort, and what wort a mass of water and extract makes. Volumes in L at 20 °C."""

from __future__ import annotations

from typing import NamedTuple

from calculators.core import Source
from calculators.physics import solution_density, sugar

MASS_BALANCE = Source(
    "extract-mass-balance",
    "Conservation of mass: neither water nor boiling changes the mass of extract; densities by the ICUMSA equation.",
)
WATER_AT_20 = 0.9982012
"""Density of water at 20 °C, kg/L."""
SUCROSE_POTENTIAL = 385.0
"""Points × L that a kilogram of sucrose gives (46.1 points lb/gal); potentials told in points are read against it."""


class Wort(NamedTuple):
    """Wort by its masses, kg."""

    extract: float
    water: float

    @property
    def mass(self) -> float:
        return self.extract + self.water

    @property
    def degrees(self) -> float:
        """Extract, °P."""
        return 100.0 * self.extract / self.mass

    @property
    def gravity(self) -> float:
        """SG at 20/20 °C."""
        return sugar.specific_gravity(self.degrees)

    @property
    def volume(self) -> float:
        """L at 20 °C."""
        return self.mass / (WATER_AT_20 * self.gravity)


def of(volume: float, gravity: float, temperature: float = 20.0) -> Wort:
    """The wort in ``volume`` L, measured at ``temperature`` °C, of ``gravity`` SG (a cooled sample's).

    >>> round(of(25.0, 1.045).extract, 2)
    2.92
    """
    cold = volume * solution_density.expansion(gravity, temperature, 20.0) if temperature != 20.0 else volume
    mass = cold * WATER_AT_20 * gravity
    extract = mass * sugar.extract(gravity) / 100.0
    return Wort(extract, mass - extract)


def extract_per_litre(gravity: float) -> float:
    """Extract, kg, in a litre of wort at 20 °C."""
    return WATER_AT_20 * gravity * sugar.extract(gravity) / 100.0


def gravity_of(extract: float, volume: float) -> float:
    """SG of wort that holds ``extract`` kg in ``volume`` L at 20 °C: extract(s) s = 100 extract / volume, by Newton."""
    wanted = 100.0 * extract / (volume * WATER_AT_20)
    gravity = 1.0 + wanted / 262.0
    for _ in range(20):
        degrees = sugar.extract(gravity)
        step = (degrees * gravity - wanted) / (sugar.extract_slope(gravity) * gravity + degrees)
        gravity -= step
        if abs(step) < 1e-10:
            break
    return gravity
