"""Gas through a relief valve: isentropic flow through a nozzle, choked or not. Bar ABSOLUTE, °C, mm², kg/h."""

from __future__ import annotations

from math import sqrt
from typing import NamedTuple

from calculators.core import Source

API_520 = Source(
    "api-520-1",
    "API Standard 520 Part I, Sizing, Selection, and Installation of Pressure-relieving Devices: sizing for gas or "
    "vapour, critical and subcritical flow. Its printed factors are the nozzle's constants, rounded; the exact ones "
    "are used here.",
)

_GAS_CONSTANT = 8314.462618
"""J/(kmol K)."""


class Gas(NamedTuple):
    """Molar mass, kg/kmol; ratio of specific heats; compressibility."""

    molar_mass: float
    isentropic_exponent: float
    compressibility: float = 1.0


CARBON_DIOXIDE = Gas(44.0095, 1.29)


def critical_ratio(gas: Gas) -> float:
    """Outlet over inlet pressure, both absolute, below which the flow is choked (critical).

    >>> round(critical_ratio(CARBON_DIOXIDE), 3)
    0.548
    """
    k = gas.isentropic_exponent
    return float((2.0 / (k + 1.0)) ** (k / (k - 1.0)))


def flow_per_area(gas: Gas, inlet: float, outlet: float, temperature: float) -> float:
    """kg/h through each mm² of an ideal nozzle; bar ABSOLUTE, °C at the inlet. None flows against the pressure."""
    if outlet >= inlet:
        return 0.0
    k = gas.isentropic_exponent
    ratio = max(outlet / inlet, critical_ratio(gas))
    expansion = sqrt(2.0 * k / (k - 1.0) * (ratio ** (2.0 / k) - ratio ** ((k + 1.0) / k)))
    thermal = gas.compressibility * _GAS_CONSTANT * (temperature + 273.15)
    return 3600e-6 * inlet * 1e5 * expansion * sqrt(gas.molar_mass / thermal)
