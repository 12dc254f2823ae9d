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
    "OIML R 22, International alcoholometric tables (1975): density of ethanol-water mixtures, here as a polynomial "
    "fitted to its formula, within 0.000001 SG to 200 g/L. Pure ethanol 789.24 kg/m³ at 20 °C.",
)

CO2_PER_ALCOHOL = 0.9565
"""Grams of CO2 made with each gram of ethanol (Balling)."""
CO2_PER_GRAVITY = 985.0
"""Grams of CO2 per litre for each 1.000 of SG fermented: 0.985 g/L a point, or 0.50 vol; for 1.040 to 1.070."""
_ETHANOL, _WATER = 0.78924, 0.99820123
"""Densities at 20 °C, kg/L."""


class Fermented(NamedTuple):
    """Alcohol and real extract of a beer, g per 100 g."""

    alcohol: float
    real_extract: float


def alone(ethanol: float) -> float:
    """SG at 20/20 °C of ``ethanol`` kg made up with water to a litre; to 0.2 kg, a fourth of the volume.

    >>> round(alone(0.0395), 4)    # five per cent by volume
    0.9928
    """
    c = ethanol
    return 1.0 - c * (0.1936012 + c * (-0.3452937 + c * (1.167367 + c * (-7.456067 + c * (37.85424 + c * -60.77816)))))


def fermented(original_gravity: float, gravity: float) -> Fermented:
    """Alcohol and real extract of beer that began at ``original_gravity`` and now shows ``gravity``.

    >>> beer = fermented(1.050, 1.010)
    >>> round(beer.alcohol, 2), round(beer.real_extract, 2)
    (4.09, 4.48)
    """
    original = sugar.extract(original_gravity)
    alcohol = 100.0 * _ethanol(original_gravity, gravity) / (_WATER * gravity)
    return Fermented(alcohol, original - alcohol * _used(original))


def _used(original: float) -> float:
    """°P of extract gone for each g of alcohol in 100 g of beer that began at ``original`` °P (Balling)."""
    return 2.0665 - 0.010665 * original


@lru_cache(maxsize=4096)
def _ethanol(original_gravity: float, gravity: float) -> float:
    """Ethanol, kg per litre of beer, by Newton's method on the balance of extract.

    With s the SG of the beer's extract alone and c the ethanol: extract(s) s + (100 used / water) c = OE gravity,
    where by Tabarie s = gravity + 1 - alone(c).
    """
    original = sugar.extract(original_gravity)
    fall = original_gravity - gravity
    ethanol = fall * (1.006 + 0.24 * fall + 0.297 * (original_gravity - 1.0))  # within 1 %
    per_ethanol = 100.0 * _used(original) / _WATER
    slope = per_ethanol + 250.0 * (0.193 - 0.45 * ethanol)  # within 1 %, so each round is 100 times nearer
    for _ in range(20):
        extract = gravity + 1.0 - alone(ethanol)
        step = (sugar.extract(extract) * extract + per_ethanol * ethanol - original * gravity) / slope
        ethanol -= step
        if abs(step) < 1e-5:
            break
    return ethanol


def by_volume(alcohol: float, gravity: float) -> float:
    """Percent by volume at 20 °C of ``alcohol`` g per 100 g in beer of that gravity."""
    return alcohol * gravity * _WATER / _ETHANOL


def co2_made(original_gravity: float, start: float, end: float) -> float:
    """Grams of CO2 made in each litre while the gravity falls from ``start`` to ``end``; none if it does not fall."""
    made = _ethanol(original_gravity, end) - _ethanol(original_gravity, start)
    return max(0.0, 1000.0 * CO2_PER_ALCOHOL * made)


def gravity_before(original_gravity: float, end: float, co2: float) -> float:
    """The gravity from which the fall to ``end`` makes ``co2`` grams a litre; above the original where none does.

    The ethanol there is known, so the balance of extract is left with one unknown, the SG of the extract alone.
    """
    original = sugar.extract(original_gravity)
    ethanol = _ethanol(original_gravity, end) - co2 / (1000.0 * CO2_PER_ALCOHOL)
    lift = 1.0 - alone(ethanol)
    used = 100.0 * _used(original) / _WATER * ethanol
    extract = end + co2 / CO2_PER_GRAVITY + lift
    for _ in range(20):
        real = sugar.extract(extract)
        missed = real * extract + used - original * (extract - lift)
        extract -= missed / (sugar.extract_slope(extract) * extract + real - original)
        if abs(missed) < 1e-3:  # the step just taken squares what was missed
            break
    return extract - lift
