"""Living yeast: how much of a pack lives, how much wort wants, what a starter grows. Cells in billions, L, days."""

from __future__ import annotations

from math import exp, log
from typing import NamedTuple

from calculators.core import Source

FIX_FIX = Source(
    "fix-fix-1997",
    "G. Fix, L. Fix, An Analysis of Brewing Techniques (Brewers Publications, 1997): 0.75 (ale) and 1.5 (lager) "
    "million viable cells per mL and °P.",
)
STARTER_TABLE = Source(
    "white-zainasheff-2010",
    "C. White, J. Zainasheff, Yeast: The Practical Guide to Beer Fermentation (Brewers Publications, 2010), starter "
    "sizes and Figure 5.5: 100 billion cells in 9 °P wort, not stirred, grow to 112 in 0.5 L, 152 in 1 L, 276 in 4 L.",
)

_GROWTH = ((200.0, 0.12), (100.0, 0.52), (25.0, 1.76))
"""Million cells per mL at the start of a starter, and by how many times their number they grow (STARTER_TABLE)."""
MOST_GROWTH = 3.0
"""Beyond this a starter's growth is a guess; it is also about what the book's largest starter gives (from memory)."""


class Keeping(NamedTuple):
    """How a form of yeast keeps: percent alive when fresh, the share left after 30 days, the doubt in points."""

    fresh: float
    left_after_30_days: float
    doubt: float


KEEPING = {
    "dry": Keeping(100.0, 0.985, 15.0),
    "liquid": Keeping(100.0, 0.78, 15.0),
    "slurry": Keeping(95.0, 0.55, 20.0),
}
"""In the refrigerator (common practice): a planning guess only, strains and handling differ widely."""


def viability(form: str, age: float) -> float:
    """Percent of cells alive after ``age`` days in the refrigerator.

    >>> round(viability("liquid", 30.0))
    78
    """
    keeping = KEEPING[form]
    return float(keeping.fresh * keeping.left_after_30_days ** (age / 30.0))


def grown(cells: float, volume: float) -> float:
    """Billions of cells after an unstirred starter of ``volume`` L of 9 °P wort; ``cells`` billion go in.

    Between the table's rows the growth follows the logarithm of the crowding; no growth where it is too crowded.

    >>> round(grown(100.0, 1.0)), round(grown(100.0, 4.0))
    (152, 276)
    """
    if cells <= 0.0 or volume <= 0.0:
        return cells
    (crowded, low), (middle, some), (sparse, high) = _GROWTH
    crowding = cells / max(volume, 1e-9)  # billion per L is million per mL
    if crowding > middle:
        growth = low + (some - low) * log(crowded / crowding) / log(crowded / middle)
    else:
        growth = some + (high - some) * log(middle / crowding) / log(middle / sparse)
    return cells * (1.0 + min(max(growth, 0.0), MOST_GROWTH))


def starter_for(cells: float, wanted: float) -> float:
    """L of unstirred starter in which ``cells`` billion grow to ``wanted``; the inverse of :func:`grown`.

    None where there are enough already; past the most growth, the starter that gives the most.
    """
    if wanted <= cells or cells <= 0.0:
        return 0.0
    growth = min(wanted / cells - 1.0, MOST_GROWTH)
    (crowded, low), (middle, some), (sparse, high) = _GROWTH
    if growth < some:
        crowding = crowded * exp(-(growth - low) / (some - low) * log(crowded / middle))
    else:
        crowding = middle * exp(-(growth - some) / (high - some) * log(middle / sparse))
    return cells / crowding
