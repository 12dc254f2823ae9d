"""Diluting a cleaner or sanitiser as its label says, or telling how strong a mix is."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.calculator import calculator
from calculators.core import BadInput, Found, Given, ResultSpec, Source, quantity

C1V1 = Source("c1v1-c2v2", "Conservation of the dissolved: C1 V1 = C2 V2, volumes of the concentrate and of the mix.")
SP_811 = Source(
    "nist-sp-811",
    "NIST Special Publication 811 (2008), Appendix B: US gallon 3.785411784 L, imperial gallon 4.54609 L, US fluid "
    "ounce 29.5735 mL, imperial fluid ounce 28.4131 mL.",
)
_LABEL_DOUBT = 0.1


@calculator(
    "dilution",
    title="Diluting a concentrate",
    inputs=(
        quantity("water_volume", "L", (0.01, 10_000.0), share=0.02),
        quantity("dose_volume", "mL", (0.0, 1e6), share=0.03, optional=True),
        quantity("label_dose", "mL/L", (0.01, 1000.0), optional=True),
        quantity("label_dose_volume", "mL", (0.01, 1e6), optional=True),
        quantity("label_water_volume", "L", (0.01, 10_000.0), optional=True),
        quantity("stock_strength", "g/L", (0.01, 1500.0), share=0.05, optional=True),
        quantity("target_strength", "mg/L", (0.01, 1e6), optional=True),
    ),
    results=(
        ResultSpec("dose_volume", "mL", possible=(0.0, 1e9), echoes=True),
        ResultSpec("dose", "mL/L", possible=(0.0, 1e9)),
        ResultSpec("label_dose", "mL/L", echoes=True),
        ResultSpec("share_of_label", "percent", possible=(0.0, 1e9)),
        ResultSpec("dose_to_add", "mL", possible=(0.0, 1e9)),
        ResultSpec("water_to_add", "L", possible=(0.0, 1e9)),
        ResultSpec("strength", "mg/L", possible=(0.0, 2e6)),
    ),
    sources=(C1V1, SP_811),
)
def dilution(
    water_volume: float,
    dose_volume: float | None,
    label_dose: float | None,
    label_dose_volume: float | None,
    label_water_volume: float | None,
    stock_strength: float | None,
    target_strength: float | None,
) -> dict[str, float]:
    """Concentrate for an amount of water, by the label's dose or by strength; or how strong a given mix is.

    What the label says decides: its dose, its contact time, whether to rinse. With dose_volume it tells the strength
    of the mix and, against the label, what would put it right; without, the dose for the label or the strength
    wanted. "1 oz in 5 gal" is 1.5625 mL/L in US measure and 1.25 mL/L in imperial: say which.

    Parameters
    ----------
    water_volume : L of mix to make (or that was made), 0.01 to 10000
    dose_volume : mL of concentrate that went in, 0 to 1000000
    label_dose : mL/L, concentrate in each litre, as the label says, 0.01 to 1000; this or the next two
    label_dose_volume : mL that the label wants, 0.01 to 1000000, ...
    label_water_volume : L ... in so much water, 0.01 to 10000
    stock_strength : g/L of the active in the concentrate, 0.01 to 1500; 6 % mass per volume is 60
    target_strength : mg/L of the active wanted, 0.01 to 1000000, as the label says

    Returns
    -------
    dose_volume : mL of concentrate
    dose : mL/L of concentrate in the mix
    label_dose : mL/L, what the label wants
    share_of_label : percent of the label's dose (100 is right)
    dose_to_add : mL that bring a weak mix to the label's dose; 0 where none is missing
    water_to_add : L that bring a strong mix to the label's dose; 0 where none is needed
    strength : mg/L of the active in the mix

    References
    ----------
    C1 V1 = C2 V2 (c1v1-c2v2); NIST SP 811 (nist-sp-811)

    Examples
    --------
    >>> import calculators
    >>> done = calculators.run("dilution", {"water_volume": "5 gal", "dose_volume": "1 fl oz"})
    >>> round(done.results["dose"].value, 4)
    1.5625
    """
    if label_dose_volume is not None and label_water_volume is not None:
        label_dose = label_dose_volume / label_water_volume
    wanted = dose_volume
    if wanted is None:
        if label_dose is not None:
            wanted = label_dose * water_volume
        else:
            assert stock_strength is not None
            assert target_strength is not None
            wanted = target_strength * water_volume / stock_strength
    found = {"dose_volume": wanted, "dose": wanted / water_volume}
    if stock_strength is not None:
        found["strength"] = stock_strength * wanted / water_volume
    if label_dose is not None:
        found |= {
            "label_dose": label_dose,
            "share_of_label": 100.0 * wanted / water_volume / label_dose,
            "dose_to_add": max(0.0, label_dose * water_volume - wanted),
            "water_to_add": max(0.0, wanted / label_dose - water_volume),
        }
    return found


@dilution.checks
def _checks(given: Given) -> None:
    label = [given[name] is not None for name in ("label_dose_volume", "label_water_volume")]
    if any(label) and not all(label):
        missing = "label_water_volume" if label[0] else "label_dose_volume"
        raise BadInput(missing, "is missing: give label_dose_volume and label_water_volume together.")
    if all(label) and given["label_dose"] is not None:
        raise BadInput("label_dose", "give either label_dose or label_dose_volume with label_water_volume.")
    known = all(label) or given["label_dose"] is not None
    strength = given["stock_strength"] is not None and given["target_strength"] is not None
    if given["dose_volume"] is None and not known and not strength:
        raise BadInput(
            "label_dose", "give what the label says (or stock_strength and target_strength), or dose_volume."
        )
    if given["target_strength"] is not None and (known or given["dose_volume"] is not None or not strength):
        raise BadInput("target_strength", "goes with stock_strength alone: leave out the label's dose and dose_volume.")
    if strength and given["target_strength"] > 1000.0 * given["stock_strength"]:
        raise BadInput("target_strength", "is above the concentrate's own strength. Check both and their units.")


@dilution.working
def _working(given: Given, found: Found) -> Iterator[str]:
    water, dose = given["water_volume"], found["dose_volume"]
    if given["label_dose_volume"] is not None:
        yield (
            f"label: {given['label_dose_volume']:.2f} mL / {given['label_water_volume']:.2f} L "
            f"= {found['label_dose']:.4f} mL/L"
        )
    if given["target_strength"] is not None:
        yield (
            f"dose = {given['target_strength']:.1f} mg/L × {water:.3f} L / {given['stock_strength'] * 1000:.0f} mg/L "
            f"= {dose:.2f} mL"
        )
    elif given["dose_volume"] is None:
        yield f"dose = {found['label_dose']:.4f} mL/L × {water:.3f} L = {dose:.2f} mL"
    yield f"in the mix {dose:.2f} mL / {water:.3f} L = {found['dose']:.4f} mL/L"
    if "strength" in found:
        yield f"active = {given['stock_strength']:.1f} g/L × {found['dose']:.4f} mL/L = {found['strength']:.1f} mg/L"


@dilution.warnings
def _warnings(given: Given, found: Found) -> Iterator[str]:
    share = found.get("share_of_label", 100.0)
    if given["dose_volume"] is not None and share > 100.0 * (1.0 + _LABEL_DOUBT):
        yield "Stronger than the label: it may hurt skin and eyes, and no longer be one to leave unrinsed. Thin it."
    if given["dose_volume"] is not None and share < 100.0 * (1.0 - _LABEL_DOUBT):
        yield "Weaker than the label: do not count on it to sanitise. Bring it up to the label's dose."
    yield "Only what the label says counts: dose, contact time, rinsing, gloves and glasses. Concentrate into water."
    yield "Never mix products: chlorine (bleach) with acid or ammonia gives off poisonous gas."
    yield "A US gallon is 3.785 L and an imperial one 4.546 L: check which the label and your measure mean."
