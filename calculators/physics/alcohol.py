"""What fermentation makes of wort: alcohol, real extract and carbon dioxide from two gravities.

Balling's mass balance gives the alcohol and the real extract that belong together; Tabarie's rule says what gravity
beer with both of them shows. Extract in °P, alcohol in g per 100 g beer unless said otherwise, SG at 20/20 °C.
"""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from calculators.core import Source
from calculators.physics import sugar

BALLING = Source(
    "balling",
    "C.J.N. Balling's mass balance: 2.0665 g extract give 1 g ethanol, 0.9565 g CO2 and 0.11 g yeast, so "
    "OE = 100 (2.0665 A + RE)/(100 + 1.0665 A); as tested by A.J. Cutaia, A.-J. Reid, R.A. Speers, "
    "J. Inst. Brew. 115(4) (2009) 318-327.",
)
TABARIE = Source(
    "tabarie",
    "Tabarie's rule: SG of beer = SG(extract alone) + SG(alcohol alone) - 1, each made up to the same volume. "
    "From memory.",
)
OIML_R22 = Source(
    "oiml-r22",
    "OIML R 22, International alcoholometric tables (1975): density of ethanol-water mixtures. "
    "Coefficients from memory; pure ethanol 789.24 kg/m³ at 20 °C.",
)

CO2_PER_ALCOHOL = 0.9565
"""Grams of CO2 made with each gram of ethanol (Balling)."""
CO2_PER_GRAVITY = 985.0
"""Grams of CO2 per litre for each 1.000 of SG fermented: 0.985 g/L a point, or 0.50 vol; for 1.040 to 1.070."""
ETHANOL_DENSITY, _WATER = 789.24, 998.20123
_AT_20 = (
    998.20123, -192.9769495, 389.1238958, -1668.103923, 13522.15441, -88292.78388,
    306287.4042, -613838.1234, 747017.2998, -547846.1354, 223446.0334, -39032.85426,
)  # fmt: skip


class Fermented(NamedTuple):
    """Alcohol and real extract of a beer, g per 100 g."""

    alcohol: float
    real_extract: float


def ethanol_solution(share: float) -> float:
    """Density, kg/m³ at 20 °C, of ethanol in water; ``share`` is the mass fraction, 0 to 1."""
    total = 0.0
    for term in reversed(_AT_20):
        total = total * share + term
    return total


def _alcohol_alone(concentration: float) -> float:
    """SG of ``concentration`` g of ethanol made up with water to a litre."""
    share = concentration / _WATER
    for _ in range(2):  # each round is 60 times nearer; the first guess is within 1 %
        share = concentration / ethanol_solution(share)
    return ethanol_solution(share) / _WATER


@lru_cache(maxsize=4096)
def fermented(original_gravity: float, gravity: float) -> Fermented:
    """Alcohol and real extract of beer that began at ``original_gravity`` and now shows ``gravity``.

    >>> beer = fermented(1.050, 1.010)
    >>> round(beer.alcohol, 2), round(beer.real_extract, 2)
    (4.08, 4.3)
    """
    original = sugar.extract(original_gravity)
    alone = gravity + 0.19 * (original_gravity - gravity)
    for _ in range(20):
        real = sugar.extract(alone) * alone / gravity
        alcohol = (original - real) / (2.0665 - 0.010665 * original)
        step = (alone + _alcohol_alone(alcohol * gravity * _WATER / 100.0) - 1.0 - gravity) / 1.24
        alone -= step
        if abs(step) < 1e-10:
            break
    return Fermented(alcohol, real)


def by_volume(alcohol: float, gravity: float) -> float:
    """Percent by volume at 20 °C of ``alcohol`` g per 100 g in beer of that gravity."""
    return alcohol * gravity * _WATER / ETHANOL_DENSITY


def co2_made(original_gravity: float, start: float, end: float) -> float:
    """Grams of CO2 made in each litre while the gravity falls from ``start`` to ``end``; none if it does not fall."""
    return max(0.0, _co2_so_far(original_gravity, end) - _co2_so_far(original_gravity, start))


def _co2_so_far(original_gravity: float, gravity: float) -> float:
    return CO2_PER_ALCOHOL * fermented(original_gravity, gravity).alcohol * gravity * _WATER / 100.0


def gravity_before(original_gravity: float, end: float, co2: float) -> float:
    """The gravity from which the fall to ``end`` makes ``co2`` grams a litre; above the original where none does."""
    target = _co2_so_far(original_gravity, end) - co2
    gravity = end + co2 / CO2_PER_GRAVITY
    for _ in range(20):
        step = (_co2_so_far(original_gravity, gravity) - target) / CO2_PER_GRAVITY
        gravity += step
        if abs(step) < 1e-9:
            break
    return gravity
