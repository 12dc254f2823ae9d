"""Heat in water, grain, wort and ice. Temperatures in °C, masses in kg, heat in kJ."""

from __future__ import annotations

from typing import NamedTuple

from calculators.core import Source

WATER_ENTHALPY = Source(
    "iapws-95",
    "IAPWS-95 (W. Wagner, A. Pruß, J. Phys. Chem. Ref. Data 31 (2002) 387-535), enthalpy of liquid water at 101.325 "
    "kPa; here as a polynomial fitted to it, within 0.03 kJ/kg from 0 to 100 °C.",
)
ICE_FUSION = Source(
    "iapws-06",
    "IAPWS R10-06, equation of state for ice Ih: heat of fusion 333.4 kJ/kg at 0 °C and 101.325 kPa; specific heat "
    "of ice about 2.05 kJ/(kg K) (the latter from memory).",
)
MALT_HEAT = Source(
    "pauls-whites-1984",
    "Pauls and Whites Brewing Room Book 1984/85, table of malt specific heat and slaking heat by moisture: specific "
    "heat 0.38 to 0.42 of water's, 0.40 for well kept malt of 3 to 4 % moisture.",
)
WORT_HEAT = Source(
    "sugar-solution-heat",
    "Specific heat of sugar solutions, c = 4.1868 - 0.0297 B + 4.6e-5 B q + 7.5e-5 B t kJ/(kg K), B °Bx, q purity %, "
    "t °C, as in Z. Bubnik and others, Sugar Technologists Manual (Bartens, 1995). From memory; q = 95 taken here.",
)

WATER_HEAT = 4.1868
"""Specific heat of water that the shares of it are told against, kJ/(kg K)."""
FUSION, _ICE_HEAT = 333.4, 2.05
UNREACHABLE = 1e6
"""kg: stands for more water than there is."""


def water(temperature: float) -> float:
    """Enthalpy of liquid water, kJ/kg above that at 0 °C; 0 to 100 °C.

    >>> round(water(100.0), 1)
    419.1
    """
    t = temperature
    return t * (4.2131897 + t * (-1.0035235e-3 + t * (1.14494e-5 + t * -3.64944e-8)))


def water_temperature(enthalpy: float) -> float:
    """Temperature, °C, of liquid water of that enthalpy, kJ/kg. The inverse of :func:`water`."""
    temperature = enthalpy / 4.19
    for _ in range(3):  # the slope is within 0.6 % of 4.19, so each round is 200 times nearer
        temperature -= (water(temperature) - enthalpy) / 4.19
    return temperature


def wort_specific_heat(extract: float, temperature: float) -> float:
    """Specific heat of wort of ``extract`` °P, kJ/(kg K); 0 to 30 °P.

    >>> round(wort_specific_heat(12.4, 30.0), 2)
    3.9
    """
    return WATER_HEAT + extract * (-0.0297 + 4.6e-5 * 95.0 + 7.5e-5 * temperature)


def to_warm_ice(ice_temperature: float, temperature: float) -> float:
    """Heat, kJ/kg, that turns ice of ``ice_temperature`` (0 or below) into water at ``temperature``."""
    return FUSION - _ICE_HEAT * min(ice_temperature, 0.0) + water(temperature)


class Mash(NamedTuple):
    """Grain and water at one temperature; the tun is not counted. No water: grain alone."""

    grain: float
    grain_specific_heat: float
    water: float = 0.0

    def heat(self, start: float, end: float) -> float:
        """kJ that warm it from ``start`` to ``end``; negative where it cools."""
        grain = self.grain * self.grain_specific_heat * WATER_HEAT * (end - start)
        return grain + self.water * (water(end) - water(start))

    def mixed(self, temperature: float, added: float, added_temperature: float) -> float:
        """Temperature once ``added`` kg of water of ``added_temperature`` is in, by the heat balance."""
        capacity = 4.19 * (self.grain * self.grain_specific_heat + self.water + added)
        given_up = water(added_temperature)
        settled = added_temperature
        for _ in range(4):  # each round is 100 times nearer
            missed = self.heat(temperature, settled) - added * (given_up - water(settled))
            settled -= missed / capacity
        return settled

    def water_for(self, start: float, end: float, added_temperature: float) -> float:
        """kg of water of ``added_temperature`` that bring it from ``start`` to ``end``.

        None where such water moves it the other way; ``UNREACHABLE`` where it can never get there.
        """
        if (end - start) * (added_temperature - start) <= 0.0:
            return 0.0
        needed, given_up = self.heat(start, end), water(added_temperature) - water(end)
        return min(needed / given_up, UNREACHABLE) if needed * given_up > 0.0 else UNREACHABLE
