"""Carbon dioxide in beer and above it. Temperatures in °C, pressures in bar ABSOLUTE, gas in grams or volumes.

The beer chart and the gas equation are joined in :class:`Vessel`: beer and headspace in balance, mass conserved.
"""

from __future__ import annotations

from functools import lru_cache
from math import exp, log, sqrt
from typing import NamedTuple

from calculators.core import Source

MILLER_1994 = Source(
    "miller-1994",
    "D. Miller, BrewingTechniques vol. 2 no. 1 (1994), Table I, degrees of carbonation at various beer temperatures "
    "(the data of the ASBC Beer-13 chart, 30-47 °F).",
)
CHART_FIT = Source(
    "asbc-chart-fit",
    "Exponential fit to the ASBC Beer-13 chart attributed to A.J. deLange: v = (P + 14.695)(0.01821 + 0.090115 "
    "e^(-(F - 32)/43.11)) - 0.003342, P psi gauge, F °F. Coefficients from memory; within 0.03 vol of the chart.",
)
WEISS_1974 = Source(
    "weiss-1974",
    "R.F. Weiss, 'Carbon dioxide in water and seawater: the solubility of a non-ideal gas', "
    "Marine Chemistry 2 (1974) 203-215.",
)
GAS_EQUATION = Source(
    "smith-van-ness-abbott",
    "J.M. Smith, H.C. Van Ness, M.M. Abbott, Introduction to Chemical Engineering Thermodynamics (McGraw-Hill), "
    "generalised second virial coefficient. Coefficients from memory; checked against a reference equation of state.",
)

GRAMS_PER_VOLUME = 1.9768
"""Density of CO2 at 0 °C and 101.325 kPa, g/L: what one volume dissolved in a litre of beer weighs."""
CHART_TEMPERATURES = (-1.12, 8.34)
"""The chart's own range, 30 to 47 °F, in °C; beyond it the fit is an extrapolation."""

_PSI_PER_BAR = 14.503773773
_FIXED, _COLD, _FADING = 0.01821, 0.090115, 43.11 / 1.8
_SHORT = 0.003342
_GAS_CONSTANT, _MOLAR_MASS = 0.08314462618, 44.0095
_CRITICAL_TEMPERATURE, _CRITICAL_PRESSURE, _ACENTRIC = 304.13, 73.77, 0.2239


@lru_cache(maxsize=256)
def solubility(temperature: float) -> float:
    """Volumes of CO2 that beer takes up for each bar of CO2 (absolute) over it; -2 to 40 °C."""
    return _PSI_PER_BAR * (_FIXED + _COLD * exp(-temperature / _FADING))


def carbonation(temperature: float, pressure: float) -> float:
    """Volumes of CO2 in beer at rest under CO2 at ``pressure`` bar absolute.

    >>> round(carbonation(3.333, 0.827 + 1.01325), 2)    # 38 °F, 12 psi: the chart prints 2.57
    2.58
    """
    return pressure * solubility(temperature) - _SHORT


def pressure_for(temperature: float, volumes: float) -> float:
    """Bar absolute of CO2 that holds ``volumes`` in beer at ``temperature``."""
    return (volumes + _SHORT) / solubility(temperature)


def temperature_for(pressure: float, volumes: float) -> float:
    """Temperature, °C, at which beer under ``pressure`` bar absolute holds ``volumes``; far out at the ends."""
    share = ((volumes + _SHORT) / (pressure * _PSI_PER_BAR) - _FIXED) / _COLD
    return -_FADING * log(max(share, 1e-3))


@lru_cache(maxsize=256)
def second_virial(temperature: float) -> float:
    """Second virial coefficient of CO2, L/mol (negative): how far the gas is from ideal."""
    reduced = (temperature + 273.15) / _CRITICAL_TEMPERATURE
    simple = 0.083 - 0.422 / reduced**1.6
    bent = 0.139 - 0.172 / reduced**4.2
    return float(_GAS_CONSTANT * _CRITICAL_TEMPERATURE / _CRITICAL_PRESSURE * (simple + _ACENTRIC * bent))


def gas_density(temperature: float, pressure: float) -> float:
    """Density of CO2 gas, g/L, at ``pressure`` bar absolute; within 0.5 % below 10 bar.

    >>> round(gas_density(20.0, 1.01325), 2)
    1.84
    """
    return pressure * _MOLAR_MASS / (_GAS_CONSTANT * (temperature + 273.15) + second_virial(temperature) * pressure)


class Vessel(NamedTuple):
    """A closed vessel at rest: ``beer`` litres of beer, ``headspace`` litres of CO2, one temperature in °C.

    Pressures are those of the CO2; air in the headspace adds its own on top (see ``shut_in_air``).
    """

    beer: float
    headspace: float
    temperature: float

    def co2(self, pressure: float) -> float:
        """Grams of CO2 in beer and headspace together at ``pressure`` bar absolute."""
        dissolved = GRAMS_PER_VOLUME * self.beer * carbonation(self.temperature, pressure)
        return dissolved + self.headspace * gas_density(self.temperature, pressure)

    def in_beer(self, pressure: float) -> float:
        """Grams of CO2 that the beer holds under ``pressure`` bar absolute of it."""
        return GRAMS_PER_VOLUME * self.beer * carbonation(self.temperature, pressure)

    def in_headspace(self, pressure: float) -> float:
        """Grams of CO2 gas above the beer at ``pressure`` bar absolute of it."""
        return self.headspace * gas_density(self.temperature, pressure)

    def pressure(self, co2: float) -> float:
        """Bar absolute at which the vessel holds ``co2`` grams: the balance above, a quadratic, solved for pressure."""
        thermal = _GAS_CONSTANT * (self.temperature + 273.15)
        bend = second_virial(self.temperature)
        taken = GRAMS_PER_VOLUME * self.beer * solubility(self.temperature)
        mass = co2 + GRAMS_PER_VOLUME * self.beer * _SHORT
        linear = taken * thermal + _MOLAR_MASS * self.headspace - mass * bend
        # taken*bend*p^2 + linear*p - mass*thermal = 0, written so that no difference of near equals is taken
        root = linear * linear + 4.0 * taken * bend * mass * thermal
        return 2.0 * mass * thermal / (linear + sqrt(max(root, 0.0)))
