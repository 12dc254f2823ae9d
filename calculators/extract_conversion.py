"""Specific gravity, degrees Plato and degrees Brix of wort."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.calculator import calculator
from calculators.core import BadInput, Found, Given, ResultSpec, quantity
from calculators.measures import HYDROMETER, REFRACTOMETER
from calculators.physics import sugar

_SCALES = ("specific_gravity", "extract", "brix")


@calculator(
    "extract-conversion",
    title="Gravity, Plato and Brix",
    inputs=(
        quantity("specific_gravity", "SG", (0.98, 1.2), established=(0.985, 1.18), reading=HYDROMETER, optional=True),
        quantity("extract", "degP", (-5.0, 45.0), established=(-4.0, 40.0), reading=REFRACTOMETER, optional=True),
        quantity("brix", "degBx", (-5.0, 45.0), established=(-4.0, 40.0), reading=REFRACTOMETER, optional=True),
    ),
    results=(
        ResultSpec("specific_gravity", "SG", absolute=0.0001, echoes=True),
        ResultSpec("extract", "degP", absolute=0.02, echoes=True),
        ResultSpec("points", "points", absolute=0.1),
    ),
    sources=(sugar.NBS_C440,),
)
def extract_conversion(specific_gravity: float | None, extract: float | None, brix: float | None) -> dict[str, float]:
    """Specific gravity, degrees Plato and gravity points of wort from any one of SG, Plato or Brix.

    For wort and sugar solutions. In beer the alcohol lowers the gravity: its extract is then the APPARENT one, and
    below 1.000 it is negative. Brix and Plato may be treated as equal; a refractometer in beer needs
    refractometer-correction instead.

    Parameters
    ----------
    specific_gravity : SG at 20/20 °C, 0.98 to 1.2 (table: to 1.18)
    extract : degP, g per 100 g, -5 to 45 (table: to 40)
    brix : degBx, g per 100 g, -5 to 45 (table: to 40)

    Returns
    -------
    specific_gravity : SG at 20/20 °C
    extract : degP; equal to degrees Brix
    points : points; thousandths of SG above 1.000

    References
    ----------
    NBS Circular C440, 1942, table of degrees Brix and apparent specific gravity (nbs-c440)

    Examples
    --------
    The ASBC extract table gives 12.388 °P at 1.050; the table of C440 1.03017 at 7.6 °Bx:

    >>> import calculators
    >>> found = calculators.run("extract-conversion", {"specific_gravity": "1.050"})
    >>> round(found.results["extract"].value, 2)
    12.39
    >>> found = calculators.run("extract-conversion", {"brix": "7.6 degBx"})
    >>> round(found.results["specific_gravity"].value, 4)
    1.0302
    """
    if specific_gravity is None:
        degrees = extract if extract is not None else brix
        assert degrees is not None
        specific_gravity = sugar.specific_gravity(degrees)
    else:
        degrees = sugar.extract(specific_gravity)
    return {"specific_gravity": specific_gravity, "extract": degrees, "points": (specific_gravity - 1.0) * 1000.0}


@extract_conversion.checks
def _checks(given: Given) -> None:
    known = [name for name in _SCALES if given[name] is not None]
    if len(known) != 1:
        raise BadInput(
            known[1] if known else "specific_gravity", f"give exactly one of {', '.join(_SCALES)}, not {len(known)}."
        )


@extract_conversion.working
def _working(_given: Given, found: Found) -> Iterator[str]:
    s = found["specific_gravity"]
    yield f"°P = 182.4601 × {s:.4f}³ - 775.6821 × {s:.4f}² + 1262.7794 × {s:.4f} - 669.5622 = {found['extract']:.2f}"
    yield f"points = ({s:.4f} - 1) × 1000 = {found['points']:.1f}"


@extract_conversion.warnings
def _warnings(_given: Given, found: Found) -> Iterator[str]:
    if found["specific_gravity"] < 1.0:
        yield "Below 1.000 only alcohol can be the cause: the extract is apparent, not sugar."
