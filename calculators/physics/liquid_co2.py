"""Carbon dioxide in a cylinder: a liquid under its own vapour. Temperatures in °C, pressures in bar ABSOLUTE."""

from __future__ import annotations

from math import exp

from calculators.core import Source

SPAN_WAGNER = Source(
    "span-wagner-1996",
    "R. Span, W. Wagner, J. Phys. Chem. Ref. Data 25 (1996) 1509-1596, equation for the vapour pressure of carbon "
    "dioxide. Coefficients from memory; checked against a reference equation of state.",
)
FILLING = Source(
    "cfr-173-304a",
    "49 CFR 173.304a(a)(2) Table 1, carbon dioxide, maximum filling density 68 per cent of water mass.",
)

CRITICAL_TEMPERATURE = 30.978
"""Above it no liquid can be, °C."""
MAXIMUM_FILL = 0.68
"""kg of carbon dioxide for each kg (litre) of water the cylinder holds."""
_CRITICAL_KELVIN, _CRITICAL_PRESSURE = 304.1282, 73.773


def vapour_pressure(temperature: float) -> float:
    """Bar ABSOLUTE over liquid carbon dioxide; -56 to 31 °C, and the critical pressure above that.

    >>> round(vapour_pressure(20.0), 1)
    57.3
    """
    kelvin = min(temperature + 273.15, _CRITICAL_KELVIN)
    below = 1.0 - kelvin / _CRITICAL_KELVIN
    series = -7.0602087 * below + 1.9391218 * below**1.5 - 1.6463597 * below**2 - 3.2995634 * below**4
    return float(_CRITICAL_PRESSURE * exp(_CRITICAL_KELVIN / kelvin * series))
