"""Sugar solutions: gravity and extract. Extract in °P (= g per 100 g, equal to °Bx), gravity as SG at 20/20 °C."""

from __future__ import annotations

from calculators.core import Source

NBS_C440 = Source(
    "nbs-c440",
    "F.J. Bates and others, Polarimetry, Saccharimetry and the Sugars, NBS Circular C440 (1942), table of degrees "
    "Brix and apparent specific gravity 20/20 °C; cubic fit 182.4601 S^3 - 775.6821 S^2 + 1262.7794 S - 669.5622, "
    "to 40 °Bx. Within 0.01 °P of the ASBC Methods of Analysis extract table, SG 1.000-1.100.",
)


def extract(gravity: float) -> float:
    """Extract, °P, of a sugar solution (wort) of that SG; 0.98 to 1.18. Below 1.000 it is negative, as it should be.

    >>> round(extract(1.050), 2)
    12.39
    """
    return ((182.4601 * gravity - 775.6821) * gravity + 1262.7794) * gravity - 669.5622


def extract_slope(gravity: float) -> float:
    """By how many °P the extract rises for 1.000 of SG there."""
    return (547.3803 * gravity - 1551.3642) * gravity + 1262.7794


def specific_gravity(degrees: float) -> float:
    """SG at 20/20 °C of a sugar solution of ``degrees`` °P; -5 to 42. The inverse of :func:`extract`.

    >>> round(specific_gravity(12.0), 4)
    1.0484
    """
    gravity = 1.0 + degrees / 258.0
    for _ in range(30):
        step = (extract(gravity) - degrees) / extract_slope(gravity)
        gravity -= step
        if abs(step) < 1e-13:
            break
    return gravity
