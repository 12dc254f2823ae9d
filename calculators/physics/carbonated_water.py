"""Carbon dioxide in pure water, which takes up a little more than beer. °C, bar ABSOLUTE, volumes."""

from __future__ import annotations

from math import exp, log

from calculators.physics import carbon_dioxide as beer

_GRAMS_PER_MOLE, _BAR_PER_ATMOSPHERE = 44.0095, 1.01325


def solubility(temperature: float) -> float:
    """Volumes of CO2 that water takes up for each bar of CO2 (absolute) over it; Weiss 1974, 0 to 40 °C.

    >>> round(solubility(20.0) * 1.01325 * 1.9768 / 44.0095, 4)    # mol/L at 1 atm
    0.0391
    """
    hundreds = (temperature + 273.15) / 100.0
    moles = exp(-58.0931 + 90.5069 / hundreds + 22.2940 * log(hundreds))
    return moles * _GRAMS_PER_MOLE / beer.GRAMS_PER_VOLUME / _BAR_PER_ATMOSPHERE


def carbonation(temperature: float, pressure: float) -> float:
    """Volumes of CO2 in water at rest under CO2 at ``pressure`` bar absolute."""
    return pressure * solubility(temperature)


def pressure_for(temperature: float, volumes: float) -> float:
    """Bar absolute of CO2 that holds ``volumes`` in water at ``temperature``."""
    return volumes / solubility(temperature)


def temperature_for(pressure: float, volumes: float) -> float:
    """Temperature, °C, at which water under ``pressure`` bar absolute holds ``volumes``; far out at the ends."""
    temperature = 20.0
    for _ in range(12):  # beer's share of water's solubility hardly changes: each round is 20 times nearer
        share = beer.carbonation(temperature, pressure) / carbonation(temperature, pressure)
        temperature = min(max(beer.temperature_for(pressure, volumes * share), -50.0), 100.0)
    return temperature
