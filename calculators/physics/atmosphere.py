"""The air outside: what a gauge reads zero against. Pressures in bar; altitude in m."""

from __future__ import annotations

from calculators.core import Source

STANDARD_ATMOSPHERE = Source(
    "us-standard-atmosphere-1976",
    "NOAA, NASA and USAF, U.S. Standard Atmosphere, 1976 (the same as ISO 2533 below 32 km): "
    "p = 101.325 (1 - 2.25577e-5 h)^5.25588 kPa, h the geopotential altitude in m.",
)
SEA_LEVEL = 1.01325
"""Standard pressure at sea level, bar absolute."""
_EARTH_RADIUS = 6_356_766.0


def pressure(altitude: float) -> float:
    """Air pressure, bar ABSOLUTE, at a geometric altitude in m, -500 to 11,000; the weather moves it ±0.02 bar.

    >>> round(pressure(1609.0), 4)
    0.8344
    """
    geopotential = _EARTH_RADIUS * altitude / (_EARTH_RADIUS + altitude)
    return float(SEA_LEVEL * (1.0 - 2.25577e-5 * geopotential) ** 5.25588)


def absolute(gauge: float, altitude: float = 0.0) -> float:
    """Absolute pressure, bar, where a gauge at that altitude reads ``gauge`` bar."""
    return gauge + pressure(altitude)


def gauge(absolute_pressure: float, altitude: float = 0.0) -> float:
    """What a gauge at that altitude reads, bar, at an absolute pressure in bar."""
    return absolute_pressure - pressure(altitude)
