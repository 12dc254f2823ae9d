"""Densities, kg/m³, of water and of sugar solutions at a temperature in °C: what a hydrometer floats in."""

from __future__ import annotations

from calculators.core import Source
from calculators.physics import sugar

KELL_1975 = Source(
    "kell-1975",
    "G.S. Kell, 'Density, thermal expansivity, and compressibility of liquid water from 0° to 150 °C', "
    "J. Chem. Eng. Data 20 (1975) 97-105. Coefficients from memory; checked against a reference equation of state.",
)
ICUMSA_DENSITY = Source(
    "icumsa-sucrose-density",
    "ICUMSA equation for the density of sucrose solutions, in Z. Bubnik, P. Kadlec, D. Urban, M. Bruhns, "
    "Sugar Technologists Manual, 8th ed. (Bartens, 1995), p. 164.",
)

_AT_20 = (385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890)
_PER_X = (-46.2720, -7.1720, 1.1597, 5.1126, 17.5254)
_PER_X2 = (59.7712, 7.2491, 12.3630, -35.4791)
_PER_X3 = (-47.2207, -21.6977, 27.6301)
_PER_X4 = (18.3184, 12.3081)


def water(temperature: float) -> float:
    """Density of water, kg/m³, 0 to 100 °C.

    >>> round(water(20.0), 2)
    998.2
    """
    t = temperature
    above = 999.83952 + t * (
        16.945176 + t * (-7.9870401e-3 + t * (-46.170461e-6 + t * (105.56302e-9 - t * 280.54253e-12)))
    )
    return above / (1.0 + 16.879850e-3 * t)


def sugar_solution(share: float, temperature: float) -> float:
    """Density of a sucrose solution (wort), kg/m³; ``share`` is the mass fraction of sugar, 0 to 0.6; 0 to 100 °C.

    A small negative share continues the curve below water, for beer that reads under 1.000.
    """
    x = (temperature - 20.0) / 100.0
    at_20, per_x, per_x2, per_x3, per_x4 = (
        _series(terms, share) for terms in (_AT_20, _PER_X, _PER_X2, _PER_X3, _PER_X4)
    )
    return water(temperature) + at_20 + x * (per_x + x * (per_x2 + x * (per_x3 + x * per_x4)))


def share_for(density: float, temperature: float) -> float:
    """Mass fraction of sugar in a solution of that density, kg/m³, by Newton's method with a fixed slope."""
    share = sugar.extract(density / water(temperature)) / 100.0
    for _ in range(40):
        step = (sugar_solution(share, temperature) - density) / (385.0 + 300.0 * share)
        share -= step
        if abs(step) < 1e-12:
            break
    return share


def expansion(gravity: float, start: float, end: float) -> float:
    """By what factor a volume of wort or beer grows from ``start`` to ``end`` °C (about 1.008 from 4 to 40)."""
    share = sugar.extract(gravity) / 100.0
    return sugar_solution(share, start) / sugar_solution(share, end)


def _series(terms: tuple[float, ...], share: float) -> float:
    """share·t1 + share²·t2 + …"""
    total = 0.0
    for term in reversed(terms):
        total = (total + term) * share
    return total
