"""Units at the door: a person's "12 psi" becomes a plain float in the unit a calculator works in, and back again.

- One pint registry for the whole project (``registry``) supplies the factors; each pair is derived once and kept.
- ``bar``, ``kPa``, ``mbar`` and ``psi`` are GAUGE; absolute pressures carry ``_absolute`` in the unit's name and are
  never mixed up with gauge ones: that takes an atmosphere, see ``calculators.physics.atmosphere``.
- ``gal``, ``qt``, ``pt``, ``fl_oz`` are US; the imperial ones carry ``imp_``.
- A temperature difference is ``delta_degC`` or ``delta_degF``: no 32 offset.
- ``vol`` is the volume of CO2 gas at 0 °C and 101.325 kPa dissolved in a volume of beer; 1 vol = 1.9768 g/L.
"""

from __future__ import annotations

from calculators.units.converting import convert, factor, kind_of, registry
from calculators.units.parsing import example, has_unit, parse, split
from calculators.units.showing import both_systems, figure, in_system, show, symbol, unit_in

__all__ = [
    "both_systems",
    "convert",
    "example",
    "factor",
    "figure",
    "has_unit",
    "in_system",
    "kind_of",
    "parse",
    "registry",
    "show",
    "split",
    "symbol",
    "unit_in",
]
