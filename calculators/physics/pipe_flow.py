"""Beer in a line: pressure lost to friction, and to height. SI inside: m, m³/s, Pa; temperatures in °C."""

from __future__ import annotations

from functools import lru_cache
from math import exp, log, log10, pi, sqrt
from typing import NamedTuple

from calculators.core import Source

DARCY_WEISBACH = Source(
    "darcy-weisbach-colebrook",
    "Darcy-Weisbach equation with the friction factor of C.F. Colebrook, J. Inst. Civ. Eng. 11 (1939) 133-156; "
    "64/Re where the flow is laminar. Smooth tube, roughness 1.5 µm.",
)
BEER_VISCOSITY = Source(
    "liger-belair-cilindre-2021",
    "G. Liger-Belair, C. Cilindre, ACS Omega 6 (2021) 9672-9679: beer of 2.42 mPa s and 1010 kg/m³ at 6 °C. At other "
    "temperatures it is taken to thin as water does (Vogel equation, coefficients from memory).",
)

BEER_DENSITY = 1010.0
STANDARD_GRAVITY = 9.80665
LAMINAR, TURBULENT = 2040.0, 4000.0
"""Below the first Reynolds number the flow is laminar, above the second surely turbulent; between, either."""
MAY_BE_LAMINAR = "Reynolds number below 4000: the flow may be laminar, and the line may then spend only half as much."
_ROUGHNESS = 1.5e-6
_LN_10 = log(10.0)
_BEER_TO_WATER = 2.42 / 1.4685


@lru_cache(maxsize=256)
def viscosity(temperature: float) -> float:
    """Viscosity of beer, Pa s; -5 to 40 °C."""
    return _BEER_TO_WATER * 2.939e-5 * exp(507.88 / (temperature + 123.85))


def head(rise: float) -> float:
    """Pressure, Pa, of a column of beer ``rise`` m high."""
    return BEER_DENSITY * STANDARD_GRAVITY * rise


class Line(NamedTuple):
    """A straight tube full of beer: bore and length in m, viscosity in Pa s. Fittings and gas breakout not counted."""

    bore: float
    length: float
    viscosity: float

    def reynolds(self, flow: float) -> float:
        return 4.0 * BEER_DENSITY * flow / (pi * self.bore * self.viscosity)

    def pressure_drop(self, flow: float) -> float:
        """Pa lost to friction at ``flow`` m³/s."""
        speed = 4.0 * flow / (pi * self.bore**2)
        factor = friction_factor(self.reynolds(flow), _ROUGHNESS / self.bore)
        return factor * self.length / self.bore * BEER_DENSITY * speed**2 / 2.0

    def flow(self, pressure: float) -> float:
        """m³/s that spends ``pressure`` Pa in friction: the inverse of :meth:`pressure_drop`, without a search.

        Re √f does not depend on the flow, and Colebrook's equation needs no more. Where the pressure lies between the
        laminar and the turbulent drop at the limit, the flow stays at the limit.
        """
        laminar = pi * self.bore**4 * pressure / (128.0 * self.viscosity * self.length)
        if self.reynolds(laminar) <= LAMINAR:
            return laminar
        root = sqrt(2.0 * pressure * self.bore**3 * BEER_DENSITY / self.length) / self.viscosity
        speed = sqrt(2.0 * pressure * self.bore / (self.length * BEER_DENSITY)) * _inverse_root(root, self.bore)
        at_limit = LAMINAR * pi * self.bore * self.viscosity / (4.0 * BEER_DENSITY)
        return max(at_limit, pi * self.bore**2 / 4.0 * speed)


def friction_factor(reynolds: float, roughness: float) -> float:
    """Darcy friction factor; ``roughness`` is the tube's over its bore.

    >>> round(friction_factor(1e5, 1e-4), 4)
    0.0185
    """
    if reynolds <= LAMINAR:
        return 64.0 / max(reynolds, 1e-9)
    rough, smooth = roughness / 3.7, 2.51 / reynolds
    x = -1.8 * log10(rough**1.11 + 6.9 / reynolds)  # 1/√f by Haaland's fit, within 1 %
    inside = rough + smooth * x  # one step of Newton's on Colebrook's equation: within 0.005 %
    x -= (x + 2.0 * log10(inside)) / (1.0 + 2.0 * smooth / (_LN_10 * inside))
    return x**-2


def _inverse_root(reynolds_root: float, bore: float) -> float:
    """1/√f by Colebrook's equation, where Re √f is known."""
    return -2.0 * log10(_ROUGHNESS / bore / 3.7 + 2.51 / reynolds_root)
