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
_FALLING = _AT_20[::-1]


class Fermented(NamedTuple):
    """Alcohol and real extract of a beer, g per 100 g."""

    alcohol: float
    real_extract: float


def ethanol_solution(share: float) -> float:
    """Density, kg/m³ at 20 °C, of ethanol in water; ``share`` is the mass fraction, 0 to 1."""
    total = 0.0
    for term in _FALLING:
        total = total * share + term
    return total


@lru_cache(maxsize=4096)
def fermented(original_gravity: float, gravity: float) -> Fermented:
    """Alcohol and real extract of beer that began at ``original_gravity`` and now shows ``gravity``.

    >>> beer = fermented(1.050, 1.010)
    >>> round(beer.alcohol, 2), round(beer.real_extract, 2)
    (4.09, 4.48)
    """
    original = sugar.extract(original_gravity)
    used = 2.0665 - 0.010665 * original  # °P of extract gone for each g of alcohol in 100 g
    share = 1.04 * (original_gravity - gravity)  # of ethanol in the water-and-alcohol half of Tabarie's rule
    slope, missed_before, step = 240.0, 0.0, 0.0
    for _ in range(20):
        density = ethanol_solution(share)
        alone = gravity + 1.0 - density / _WATER
        real = sugar.extract(alone) * alone / gravity
        alcohol = 100.0 * share * density / (_WATER * gravity)
        missed = real + alcohol * used - original
        if abs(missed) < 1e-9:
            break
        if step:
            slope = (missed - missed_before) / step
        step, missed_before = -missed / slope, missed
        share += step
    return Fermented(alcohol, real)


def by_volume(alcohol: float, gravity: float) -> float:
    """Percent by volume at 20 °C of ``alcohol`` g per 100 g in beer of that gravity."""
    return alcohol * gravity * _WATER / ETHANOL_DENSITY


def co2_made(original_gravity: float, start: float, end: float) -> float:
    """Grams of CO2 made in each litre while the gravity falls from ``start`` to ``end``; none if it does not fall."""
    return max(0.0, _co2_so_far(original_gravity, end) - _co2_so_far(original_gravity, start))


def _co2_so_far(original_gravity: float, gravity: float) -> float:
    if gravity == original_gravity:
        return 0.0
    return CO2_PER_ALCOHOL * fermented(original_gravity, gravity).alcohol * gravity * _WATER / 100.0


@lru_cache(maxsize=1024)
def gravity_before(original_gravity: float, end: float, co2: float) -> float:
    """The gravity from which the fall to ``end`` makes ``co2`` grams a litre; above the original where none does.

    The alcohol there is known, so its share of the gravity is too; what is left is a polynomial in the SG of the
    extract alone: extract(s) s = OE (s + a - 1) - alcohol (2.0665 - 0.010665 OE), with a the SG of the alcohol alone.
    """
    original = sugar.extract(original_gravity)
    alcohol = _co2_so_far(original_gravity, end) / CO2_PER_ALCOHOL - co2 / CO2_PER_ALCOHOL  # g/L of beer
    aside = _alcohol_alone(alcohol) - 1.0
    used = 100.0 * alcohol / _WATER * (2.0665 - 0.010665 * original)
    alone = end + co2 / CO2_PER_GRAVITY - aside
    for _ in range(30):
        real = sugar.extract(alone)
        missed = real * alone - original * (alone + aside) + used
        alone -= missed / (sugar.extract_slope(alone) * alone + real - original)
        if abs(missed) < 1e-6:  # the step just taken squares what was missed
            break
    return alone + aside


def _alcohol_alone(concentration: float) -> float:
    """SG of ``concentration`` g of ethanol made up with water to a litre."""
    share = concentration / _WATER
    for _ in range(2):  # each round is 60 times nearer; the first guess is within 2 %
        share = concentration / ethanol_solution(share)
    return ethanol_solution(share) / _WATER
