"""Densities, kg/m³, of water and of sugar solutions at a temperature in °C: what a hydrometer floats in."""

from __future__ import annotations

from functools import lru_cache

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

# Rows: 1, x, x², x³, x⁴ with x = (t - 20)/100; columns: w, w², … w⁶ with w the mass fraction; kg/m³ over water.
_TERMS = (
    (385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890),
    (-46.2720, -7.1720, 1.1597, 5.1126, 17.5254, 0.0),
    (59.7712, 7.2491, 12.3630, -35.4791, 0.0, 0.0),
    (-47.2207, -21.6977, 27.6301, 0.0, 0.0, 0.0),
    (18.3184, 12.3081, 0.0, 0.0, 0.0, 0.0),
)


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
    one, two, three, four, five, six = _terms_at(temperature)
    over_water = share * (one + share * (two + share * (three + share * (four + share * (five + share * six)))))
    return water(temperature) + over_water


@lru_cache(maxsize=256)
def _terms_at(temperature: float) -> tuple[float, ...]:
    """The coefficients of w, w² … w⁶ at one temperature."""
    x = (temperature - 20.0) / 100.0
    return tuple(a + x * (b + x * (c + x * (d + x * e))) for a, b, c, d, e in zip(*_TERMS, strict=True))


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
