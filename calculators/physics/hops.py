"""How much of the hops' alpha acid turns bitter in the boil: three models. Minutes, °C, SG, fractions of 1."""

from __future__ import annotations

from math import exp

from calculators.core import Source

TINSETH = Source(
    "tinseth-1997",
    "G. Tinseth, 'Glenn's Hop Utilization Numbers' (1995-97): U = 1.65 × 0.000125^(SG - 1) × (1 - e^(-0.04 t))/4.15.",
)
RAGER = Source(
    "rager-1990",
    "J. Rager, 'Calculating Hop Bitterness in Beer', Zymurgy special issue 13(4), 1990, pp. 53-54. The rows for 30 "
    "and 45 minutes read second hand, the others from memory.",
)
ISOMERISATION = Source(
    "malowicki-shellhammer-2005",
    "M.G. Malowicki, T.H. Shellhammer, J. Agric. Food Chem. 53 (2005) 4434-4439: k1 = 7.9e11 e^(-11858/T) and "
    "k2 = 4.1e12 e^(-12994/T) per minute, T in K, 90 to 130 °C; alpha acid in solution, so an upper bound.",
)

_RAGER = (
    (5.0, 5.0), (10.0, 6.0), (15.0, 8.0), (20.0, 10.1), (25.0, 12.1), (30.0, 15.3),
    (35.0, 18.8), (40.0, 22.8), (45.0, 26.9), (50.0, 28.1), (60.0, 30.0),
)  # fmt: skip
"""Up to so many minutes, percent."""


def tinseth(minutes: float, gravity: float) -> float:
    """Utilisation by Tinseth; ``gravity`` is the average during the boil.

    >>> round(tinseth(60.0, 1.050), 3)
    0.231
    """
    return float(1.65 * 0.000125 ** (gravity - 1.0) * (1.0 - exp(-0.04 * minutes)) / 4.15)


def rager(minutes: float, gravity: float) -> float:
    """Utilisation by Rager's table, its allowance for wort above 1.050 included; nothing at no minutes."""
    if minutes <= 0.0:
        return 0.0
    percent = next((found for upto, found in _RAGER if minutes < upto + 1e-9), _RAGER[-1][1])
    return percent / 100.0 / (1.0 + max(0.0, gravity - 1.050) / 0.2)


def isomerised(minutes: float, temperature: float) -> float:
    """Share of dissolved alpha acid present as iso-alpha acid after ``minutes`` at ``temperature``; rises and falls.

    >>> round(isomerised(60.0, 100.0), 3)
    0.476
    """
    kelvin = temperature + 273.15
    made, lost = 7.9e11 * exp(-11858.0 / kelvin), 4.1e12 * exp(-12994.0 / kelvin)
    return made / (lost - made) * (exp(-made * minutes) - exp(-lost * minutes))
