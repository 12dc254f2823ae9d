"""How much yeast a wort wants, what a pack of some age still holds, and the packs or starter that make it up."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, hypot

from calculators import measures
from calculators.calculator import calculator
from calculators.core import COMMON_PRACTICE, BadInput, Found, Given, ResultSpec, choice, quantity
from calculators.physics import alcohol, sugar, wort, yeast

RATES = {"lager": 1.5}
_ALE_RATE, _ANY_RATE = 0.75, 1.0
_RATE_DOUBT, _ANY_RATE_DOUBT = 0.15, 0.25
_FEWEST = 1e-3
"""Billion living cells: what an old pack is taken to hold at least, so that a number of packs can be told."""
_YEAST_PER_CO2 = 0.11 / alcohol.CO2_PER_ALCOHOL
"""Grams of dry yeast grown with each gram of carbon dioxide (Balling: 0.11 with each gram of ethanol)."""
CELLS_IN_A_PACK = {"dry": 110.0, "liquid": 100.0, "slurry": 100.0}
"""Billions when fresh: 11 g of dry yeast, a liquid pack, 100 mL of thick slurry (common practice)."""
_STARTER_GRAVITY, _STARTER_DEGREES = 1.036, 9.0
_MALT_EXTRACT = 0.953


@calculator(
    "pitching-rate",
    title="Yeast: how much, how old, packs and starter",
    inputs=(
        measures.volume("batch_volume"),
        measures.gravity("original_gravity", possible=(1.005, 1.2)),
        choice(
            "yeast_type", "lager", "clean-ale", "estery-ale", "belgian", "wheat", "saison", "kveik", "wild",
            optional=True,
        ),
        choice("yeast_form", *yeast.KEEPING, default="liquid"),
        quantity("yeast_age", "d", (0.0, 3650.0), established=(0.0, 365.0), default=0.0, reading=3.0),
        quantity("viability", "percent", (1.0, 100.0), reading=10.0, optional=True),
        quantity("pitching_rate", "million/mL/degP", (0.05, 5.0), established=(0.35, 2.0), optional=True),
        quantity("cells_per_pack", "billion", (0.1, 100_000.0), share=0.15, optional=True),
        quantity("pack_count", "1", (0.1, 1000.0), optional=True),
        quantity("starter_volume", "L", (0.0, 100.0), share=0.05, optional=True),
        measures.gravity("final_gravity", optional=True),
    ),
    results=(
        ResultSpec("cells_needed", "billion", possible=(0.0, 1e9)),
        ResultSpec("viability", "percent", possible=(0.0, 100.0), echoes=True),
        ResultSpec("living_cells_per_pack", "billion", possible=(0.0, 1e9)),
        ResultSpec("packs_needed", "1", possible=(0.0, 1e9)),
        ResultSpec("packs", "1", possible=(0.0, 1e9)),
        ResultSpec("cells_in_hand", "billion", possible=(0.0, 1e9)),
        ResultSpec("share_of_need", "percent", possible=(0.0, 1e9)),
        ResultSpec("starter_volume", "L", relative=0.2, possible=(0.0, 1e7), echoes=True),
        ResultSpec("starter_extract", "g", relative=0.2, possible=(0.0, 1e9)),
        ResultSpec("cells_with_starter", "billion", relative=0.15, possible=(0.0, 1e9)),
        ResultSpec("yeast_growth", "g/L", relative=0.1, possible=(0.0, 1000.0)),
    ),
    sources=(yeast.FIX_FIX, yeast.STARTER_TABLE, sugar.NBS_C440, alcohol.BALLING, COMMON_PRACTICE),
)  # fmt: skip
def pitching_rate(
    batch_volume: float,
    original_gravity: float,
    yeast_type: str | None,
    yeast_form: str,
    yeast_age: float,
    viability: float | None,
    pitching_rate: float | None,
    cells_per_pack: float | None,
    pack_count: float | None,
    starter_volume: float | None,
    final_gravity: float | None,
) -> dict[str, float]:
    """Living cells that a wort wants, and the packs or the starter that make them up, by the yeast's age and form.

    Cells = rate x volume x degrees Plato. Rates: 1.5 million for lager, 0.75 for the others (Fix and Fix); 1.0 where
    the yeast is not known. Life left by age is common practice, in the refrigerator, and good to 15 points at best:
    count on the range, not on the figure. With pack_count also the starter that grows them to the need; a starter
    that is stirred grows more.

    Parameters
    ----------
    batch_volume : L of wort, 0.05 to 5000
    original_gravity : SG, 1.005 to 1.2
    yeast_type : lager, clean-ale, estery-ale, belgian, wheat, saison, kveik or wild; decides the usual rate
    yeast_form : dry (a pack of 11 g), liquid (a pack of 100 billion) or slurry (a "pack" is 100 mL of thick slurry)
    yeast_age : d since it was made or harvested, 0 to 3650; 0 is taken
    viability : percent of living cells, 1 to 100, where it is known; otherwise by form and age
    pitching_rate : million/mL/degP wanted, 0.05 to 5; otherwise by yeast_type
    cells_per_pack : billion cells in a fresh pack, 0.1 to 100000; otherwise by form
    pack_count : 1, how many packs are in hand, 0.1 to 1000; for the results after packs
    starter_volume : L of unstirred starter of 9 degP, 0 to 100; otherwise the one that makes up the need
    final_gravity : SG at the end, 0.98 to 1.2; for yeast_growth

    Returns
    -------
    cells_needed : billion living cells
    viability : percent of cells alive
    living_cells_per_pack : billion in a pack of that age
    packs_needed : 1, without a starter, as a fraction
    packs : 1, the same rounded up to whole packs
    cells_in_hand : billion living cells in pack_count packs
    share_of_need : percent of the cells needed that are in hand
    starter_volume : L of unstirred starter; 0 where none is needed
    starter_extract : g of dry malt extract for that starter
    cells_with_starter : billion after the starter
    yeast_growth : g/L of dry yeast that the whole fermentation grows

    References
    ----------
    Fix and Fix (fix-fix-1997); White and Zainasheff (white-zainasheff-2010); NBS C440 (nbs-c440); Balling (balling);
    life by age, cells in a pack: common practice (common-practice)

    Examples
    --------
    >>> import calculators
    >>> done = calculators.run("pitching-rate", {
    ...     "batch_volume": "20 L", "original_gravity": "1.048", "yeast_type": "clean-ale"})
    >>> round(done.results["cells_needed"].value)
    179
    """
    rate = _rate(yeast_type) if pitching_rate is None else pitching_rate
    needed = rate * batch_volume * sugar.extract(original_gravity)
    alive = yeast.viability(yeast_form, yeast_age) if viability is None else viability
    fresh = CELLS_IN_A_PACK[yeast_form] if cells_per_pack is None else cells_per_pack
    living = fresh * alive / 100.0
    found = {
        "cells_needed": needed,
        "viability": alive,
        "living_cells_per_pack": living,
        "packs_needed": needed / max(living, _FEWEST),
        "packs": float(ceil(needed / max(living, _FEWEST) - 1e-9)),
    }
    if pack_count is not None:
        found |= _with_starter(needed, living * pack_count, starter_volume)
    if final_gravity is not None:
        found["yeast_growth"] = _YEAST_PER_CO2 * alcohol.co2_made(original_gravity, original_gravity, final_gravity)
    return found


def _rate(yeast_type: str | None) -> float:
    return _ANY_RATE if yeast_type is None else RATES.get(yeast_type, _ALE_RATE)


def _with_starter(needed: float, in_hand: float, starter_volume: float | None) -> dict[str, float]:
    volume = yeast.starter_for(in_hand, needed) if starter_volume is None else starter_volume
    return {
        "cells_in_hand": in_hand,
        "share_of_need": 100.0 * in_hand / needed,
        "starter_volume": volume,
        "starter_extract": 1000.0 * volume * wort.extract_per_litre(_STARTER_GRAVITY) / _MALT_EXTRACT,
        "cells_with_starter": yeast.grown(in_hand, volume),
    }


@pitching_rate.checks
def _checks(given: Given) -> None:
    measures.must_not_rise(given, "original_gravity", "final_gravity")
    if given["starter_volume"] is not None and given["pack_count"] is None:
        raise BadInput("pack_count", "is missing. Say how many packs go into the starter.")


@pitching_rate.more_uncertainty
def _more_uncertainty(given: Given, found: Found) -> dict[str, float]:
    """The doubt of the usual rates, and that of life told by age, in each result they enter."""
    rate = 0.0
    if given["pitching_rate"] is None:
        rate = _ANY_RATE_DOUBT if given["yeast_type"] is None else _RATE_DOUBT
    life = 0.0
    if given["viability"] is None:
        life = min(1.0, yeast.KEEPING[given["yeast_form"]].doubt / found["viability"])
    by_rate = dict.fromkeys(("cells_needed",), rate)
    by_life = dict.fromkeys(("viability", "living_cells_per_pack", "cells_in_hand", "cells_with_starter"), life)
    both = dict.fromkeys(("packs_needed", "packs", "share_of_need"), hypot(rate, life))
    starter = dict.fromkeys(
        ("starter_volume", "starter_extract"), rate + life if given["starter_volume"] is None else 0
    )
    return {name: doubt * found.get(name, 0.0) for name, doubt in (by_rate | by_life | both | starter).items()}


@pitching_rate.working
def _working(given: Given, found: Found) -> Iterator[str]:
    rate = _rate(given["yeast_type"]) if given["pitching_rate"] is None else given["pitching_rate"]
    degrees = sugar.extract(given["original_gravity"])
    yield (
        f"cells needed = {rate:.2f} million/mL/°P × {given['batch_volume']:.2f} L × {degrees:.2f} °P "
        f"= {found['cells_needed']:.0f} billion"
    )
    if given["viability"] is None:
        keeping = yeast.KEEPING[given["yeast_form"]]
        yield (
            f"alive = {keeping.fresh:.0f} % × {keeping.left_after_30_days:.3f}^({given['yeast_age']:.0f} d / 30) "
            f"= {found['viability']:.0f} %, good to {keeping.doubt:.0f} points"
        )
    yield (
        f"packs = {found['cells_needed']:.0f} / {found['living_cells_per_pack']:.1f} = {found['packs_needed']:.2f}, "
        f"rounded up: {found['packs']:.0f}"
    )
    if "starter_volume" in found:
        yield (
            f"{found['cells_in_hand']:.0f} billion in {found['starter_volume']:.2f} L of unstirred starter grow to "
            f"{found['cells_with_starter']:.0f} billion"
        )


@pitching_rate.warnings
def _warnings(given: Given, found: Found) -> Iterator[str]:
    if given["viability"] is None and given["yeast_age"] > 0.0:
        yield "Life by age is a planning guess: a small starter that takes off proves the yeast, a date does not."
    if "cells_with_starter" in found and found["cells_with_starter"] < 0.98 * found["cells_needed"]:
        yield "One starter of that size does not reach the need: grow it in two steps, or take more packs."
    if given["yeast_form"] == "dry" and found.get("starter_volume", 0.0) > 0.0:
        yield "Dry yeast is better pitched in more packs than grown in a starter (common practice)."
