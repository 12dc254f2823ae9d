"""Bringing wort to the gravity or volume wanted: water, boiling, or more extract."""

from __future__ import annotations

from collections.abc import Iterator

from calculators import measures
from calculators.calculator import calculator
from calculators.core import COMMON_PRACTICE, BadInput, Found, Given, ResultSpec, choice, quantity
from calculators.physics import solution_density, sugar, wort
from calculators.physics.wort import WATER_AT_20, Wort

EXTRACT_IN = {"dry-malt-extract": 0.953, "liquid-malt-extract": 0.78, "table-sugar": 1.0, "dextrose": 0.909}
"""Mass fraction of extract. Malt extracts: 44 and 36 points lb/gal (common practice); dextrose holds 9.1 % water."""


@calculator(
    "gravity-correction",
    title="Correcting gravity and volume of wort",
    inputs=(
        measures.volume("batch_volume"),
        measures.gravity("gravity", possible=(1.0, 1.2)),
        quantity("volume_temperature", "degC", (0.0, 100.0), default=20.0),
        measures.volume("target_volume", optional=True),
        quantity("target_gravity", "SG", (1.001, 1.2), established=(1.001, 1.13), optional=True),
        choice("extract_type", *EXTRACT_IN, default="dry-malt-extract"),
        quantity("extract_mass", "kg", (0.0, 1000.0), share=0.01, optional=True),
        quantity("boil_off_rate", "L/h", (0.05, 500.0), share=0.15, optional=True),
    ),
    results=(
        ResultSpec("gravity_after", "SG", absolute=0.0003, possible=(0.99, 1.4)),
        ResultSpec("volume_after", "L", possible=(0.0, 1e6)),
        ResultSpec("water_to_add", "L", possible=(0.0, 1e6)),
        ResultSpec("water_to_boil_off", "L", possible=(0.0, 1e6)),
        ResultSpec("extract_to_add", "kg", relative=0.03, possible=(0.0, 1e5)),
        ResultSpec("boil_time", "min", possible=(0.0, 1e8)),
    ),
    sources=(wort.MASS_BALANCE, solution_density.ICUMSA_DENSITY, sugar.NBS_C440, COMMON_PRACTICE),
)
def gravity_correction(
    batch_volume: float,
    gravity: float,
    volume_temperature: float,
    target_volume: float | None,
    target_gravity: float | None,
    extract_type: str,
    extract_mass: float | None,
    boil_off_rate: float | None,
) -> dict[str, float]:
    """What to do for a wanted gravity or volume of wort, or what gravity a change of volume or added extract makes.

    The mass of extract is conserved: water and boiling only thin or thicken it. All volumes found are at 20 °C; a
    volume measured hot is corrected first (water at 95 °C takes 3.8 % more room). With

    - target_gravity: the water to add or to boil off, or else the extract to add to the wort as it is;
    - target_gravity and target_volume: the extract to add, and then the water to add or to boil off;
    - target_volume or extract_mass or both: the gravity that comes out.

    Parameters
    ----------
    batch_volume : L of wort now, 0.05 to 5000
    gravity : SG of the wort now, of a sample cooled to the hydrometer's temperature, 1.0 to 1.2
    volume_temperature : degC at which batch_volume was read, 0 to 100; 20 is taken
    target_volume : L at 20 °C wanted, 0.05 to 5000
    target_gravity : SG wanted, 1.001 to 1.2
    extract_type : what to add: dry-malt-extract, liquid-malt-extract, table-sugar or dextrose (glucose monohydrate)
    extract_mass : kg of it added, 0 to 1000; not together with target_gravity
    boil_off_rate : L/h that the kettle boils off, 0.05 to 500; for boil_time

    Returns
    -------
    gravity_after : SG once it is done
    volume_after : L at 20 °C once it is done
    water_to_add : L at 20 °C; 0 where none is
    water_to_boil_off : L at 20 °C; 0 where none is
    extract_to_add : kg of extract_type; with target_gravity alone it is the OTHER way, instead of boiling
    boil_time : min to boil that water off

    References
    ----------
    Conservation of extract (extract-mass-balance); ICUMSA densities (icumsa-sucrose-density); NBS C440 (nbs-c440);
    yields of malt extracts: common practice (common-practice)

    Examples
    --------
    >>> import calculators
    >>> done = calculators.run("gravity-correction", {
    ...     "batch_volume": "20 L", "gravity": "1.060", "target_gravity": "1.050"})
    >>> round(done.results["water_to_add"].value, 2)
    4.03
    """
    now = wort.of(batch_volume, gravity, volume_temperature)
    share = EXTRACT_IN[extract_type]
    if target_gravity is None:
        found = _outcome(now, share * (extract_mass or 0.0), extract_mass or 0.0, target_volume)
    elif target_volume is None:
        found = _by_water_or_extract(now, target_gravity, share)
    else:
        found = _by_both(now, target_gravity, target_volume, share)
    if boil_off_rate is not None:
        found["boil_time"] = 60.0 * found["water_to_boil_off"] / boil_off_rate
    return found


def _outcome(now: Wort, extract: float, mass: float, target_volume: float | None) -> dict[str, float]:
    """Gravity and volume with ``mass`` kg added of which ``extract`` kg are extract, made up to the volume wanted."""
    mixed = Wort(now.extract + extract, now.water + mass - extract)
    if target_volume is None:
        return _told(mixed.volume, 0.0) | {"gravity_after": mixed.gravity}
    gravity = wort.gravity_of(mixed.extract, target_volume)
    return _told(target_volume, target_volume * WATER_AT_20 * gravity - mixed.mass) | {"gravity_after": gravity}


def _by_water_or_extract(now: Wort, gravity: float, share: float) -> dict[str, float]:
    degrees = sugar.extract(gravity)
    missing = now.mass * degrees / 100.0 - now.extract
    found = _told(now.extract / wort.extract_per_litre(gravity), 100.0 * now.extract / degrees - now.mass)
    extract = max(0.0, missing / (share - degrees / 100.0))
    return found | {"gravity_after": gravity, "extract_to_add": extract}


def _by_both(now: Wort, gravity: float, volume: float, share: float) -> dict[str, float]:
    mass = max(0.0, volume * wort.extract_per_litre(gravity) - now.extract) / share
    return _outcome(now, share * mass, mass, volume) | {"extract_to_add": mass}


def _told(volume: float, water: float) -> dict[str, float]:
    """Volume after, and ``water`` kg as litres to add or, where negative, to boil off."""
    litres = water / WATER_AT_20
    return {"volume_after": volume, "water_to_add": max(0.0, litres), "water_to_boil_off": max(0.0, -litres)}


@gravity_correction.checks
def _checks(given: Given) -> None:
    if given["target_gravity"] is not None and given["extract_mass"] is not None:
        raise BadInput("extract_mass", "give either target_gravity or extract_mass.")
    if all(given[name] is None for name in ("target_gravity", "target_volume", "extract_mass")):
        raise BadInput("target_gravity", "give target_gravity, target_volume or extract_mass.")


@gravity_correction.working
def _working(given: Given, found: Found) -> Iterator[str]:
    now = wort.of(given["batch_volume"], given["gravity"], given["volume_temperature"])
    yield (
        f"extract now = {now.volume:.2f} L at 20 °C × 0.9982 × {given['gravity']:.4f} kg/L × {now.degrees:.2f} °P "
        f"= {now.extract:.3f} kg"
    )
    added = found.get("extract_to_add", given["extract_mass"] or 0.0)
    after, volume = found["gravity_after"], found["volume_after"]
    instead = given["target_gravity"] is not None and given["target_volume"] is None
    if added and not instead:
        yield f"{added:.3f} kg of {given['extract_type']} bring {added * EXTRACT_IN[given['extract_type']]:.3f} kg more"
    yield f"at the end {volume:.2f} L of {after:.4f} ({sugar.extract(after):.2f} °P)"
    if found["water_to_boil_off"] and "boil_time" in found:
        rate = given["boil_off_rate"]
        yield f"boiling = {found['water_to_boil_off']:.2f} L / {rate:.2f} L/h = {found['boil_time']:.0f} min"
    if added and instead:
        yield (
            f"or instead add {added:.3f} kg of {given['extract_type']} ({EXTRACT_IN[given['extract_type']]:.3f} of it "
            "extract) to the wort as it is"
        )


@gravity_correction.warnings
def _warnings(given: Given, found: Found) -> Iterator[str]:
    if found["water_to_boil_off"] and found["water_to_add"] == 0.0:
        yield "Boiling longer also makes the beer more bitter and darker; never leave a boiling kettle alone."
    if found["water_to_add"] or found.get("extract_to_add"):
        yield "After the boil, add only water or extract solution that was boiled itself and cooled; stir well."
    target = given["target_gravity"]
    if target is not None and found["gravity_after"] > target + 0.0005:
        yield "The wort holds more extract than that volume should: take a larger volume, or part of the wort."
