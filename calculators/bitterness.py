"""Bitterness of a hop addition, the hops for a wanted bitterness, and what can be done for one that was missed."""

from __future__ import annotations

from collections.abc import Iterator

from calculators import measures
from calculators.calculator import calculator
from calculators.core import BadInput, Found, Given, ResultSpec, quantity
from calculators.physics import hops

_MODEL_DOUBT = 0.25
_SHORTEST = 1.0
"""Minutes: in less the model gives next to nothing, and no amount of hops makes up for it."""


@calculator(
    "bitterness",
    title="Bitterness of a hop addition",
    inputs=(
        measures.volume("batch_volume"),
        measures.gravity("original_gravity", possible=(1.0, 1.2)),
        measures.gravity("preboil_gravity", possible=(1.0, 1.2), optional=True),
        quantity("alpha_acid", "percent", (0.1, 30.0), established=(1.0, 20.0), share=0.1),
        quantity("boil_minutes", "min", (0.0, 240.0), established=(0.0, 120.0), reading=1.0),
        quantity("hop_mass", "g", (0.0, 50_000.0), share=0.02, optional=True),
        quantity("target_bitterness", "IBU", (0.0, 200.0), established=(0.0, 100.0), optional=True),
        quantity("boil_minutes_left", "min", (0.0, 240.0), established=(0.0, 120.0), reading=1.0, optional=True),
        quantity("wort_temperature", "degC", (50.0, 130.0), established=(90.0, 130.0), default=100.0),
    ),
    results=(
        ResultSpec("bitterness", "IBU", relative=_MODEL_DOUBT, possible=(0.0, 1e7)),
        ResultSpec("bitterness_by_rager", "IBU", relative=0.3, possible=(0.0, 1e7)),
        ResultSpec("utilisation", "percent", relative=_MODEL_DOUBT, possible=(0.0, 100.0)),
        ResultSpec("utilisation_by_rager", "percent", relative=0.3, possible=(0.0, 100.0)),
        ResultSpec("utilisation_ceiling", "percent", relative=0.02, possible=(0.0, 100.0)),
        ResultSpec("hop_mass", "g", relative=_MODEL_DOUBT, possible=(0.0, 1e8), echoes=True),
        ResultSpec("bitterness_if_added_now", "IBU", relative=_MODEL_DOUBT, possible=(0.0, 1e7)),
        ResultSpec("hop_mass_if_added_now", "g", relative=0.1, possible=(0.0, 1e8)),
    ),
    sources=(hops.TINSETH, hops.RAGER, hops.ISOMERISATION),
)
def bitterness(
    batch_volume: float,
    original_gravity: float,
    preboil_gravity: float | None,
    alpha_acid: float,
    boil_minutes: float,
    hop_mass: float | None,
    target_bitterness: float | None,
    boil_minutes_left: float | None,
    wort_temperature: float,
) -> dict[str, float]:
    """Bitterness that hops of an addition bring, or the hops for a wanted bitterness; and the same with less time left.

    Tinseth's utilisation, at the average gravity of the boil, is the answer; Rager's table stands beside it as a
    second model (up to 30 % apart), and the isomerisation measured in the laboratory as a ceiling that no kettle
    reaches. Any prediction is within 20 to 30 % of a laboratory's figure at best. For an addition that was missed,
    boil_minutes_left tells what the planned hops would bring now, and how much of them would bring what was planned.

    Parameters
    ----------
    batch_volume : L of finished beer, 0.05 to 5000
    original_gravity : SG after the boil, 1.0 to 1.2
    preboil_gravity : SG before the boil, 1.0 to 1.2; the boil's average is taken with it, otherwise original_gravity
    alpha_acid : percent by mass on the pack, 0.1 to 30; old hops hold less
    boil_minutes : min the addition boils (or was to boil), 0 to 240 (usual: 0 to 120)
    hop_mass : g, 0 to 50000; this or target_bitterness
    target_bitterness : IBU wanted from this addition, 0 to 200; this or hop_mass
    boil_minutes_left : min, 0 to 240, for an addition that was missed
    wort_temperature : degC, 50 to 130 (established: 90 to 130), for the ceiling alone

    Returns
    -------
    bitterness : IBU by Tinseth
    bitterness_by_rager : IBU by Rager's table
    utilisation : percent by Tinseth
    utilisation_by_rager : percent by Rager's table, his allowance for strong wort included
    utilisation_ceiling : percent of alpha acid in solution that can be iso-alpha acid by then
    hop_mass : g, as given or for target_bitterness by Tinseth
    bitterness_if_added_now : IBU by Tinseth, of the same hops with the minutes left
    hop_mass_if_added_now : g of the same hops that bring the planned bitterness with the minutes left

    References
    ----------
    Tinseth (tinseth-1997); Rager (rager-1990); Malowicki and Shellhammer (malowicki-shellhammer-2005)

    Examples
    --------
    >>> import calculators
    >>> done = calculators.run("bitterness", {
    ...     "batch_volume": "20 L", "original_gravity": "1.050", "alpha_acid": "6 percent", "boil_minutes": "60 min",
    ...     "hop_mass": "28 g"})
    >>> round(done.results["bitterness"].value, 1)
    19.4
    """
    gravity = _boil_gravity(original_gravity, preboil_gravity)
    used, by_rager = hops.tinseth(boil_minutes, gravity), hops.rager(boil_minutes, gravity)
    per_gram = 10.0 * alpha_acid / batch_volume  # mg of alpha acid in a litre
    if hop_mass is None:
        assert target_bitterness is not None
        hop_mass = target_bitterness / (per_gram * hops.tinseth(max(boil_minutes, _SHORTEST), gravity))
    found = {
        "bitterness": hop_mass * per_gram * used,
        "bitterness_by_rager": hop_mass * per_gram * by_rager,
        "utilisation": 100.0 * used,
        "utilisation_by_rager": 100.0 * by_rager,
        "utilisation_ceiling": 100.0 * hops.isomerised(boil_minutes, wort_temperature),
        "hop_mass": hop_mass,
    }
    if boil_minutes_left is not None:
        left = hops.tinseth(boil_minutes_left, gravity)
        found["bitterness_if_added_now"] = hop_mass * per_gram * left
        found["hop_mass_if_added_now"] = hop_mass * used / hops.tinseth(max(boil_minutes_left, _SHORTEST), gravity)
    return found


def _boil_gravity(original_gravity: float, preboil_gravity: float | None) -> float:
    return original_gravity if preboil_gravity is None else (original_gravity + preboil_gravity) / 2.0


@bitterness.checks
def _checks(given: Given) -> None:
    measures.known_of(given, ("hop_mass", "target_bitterness"), 1)
    before = given["preboil_gravity"]
    if before is not None and before > given["original_gravity"] + 2 * measures.HYDROMETER:
        raise BadInput("preboil_gravity", "is above original_gravity; boiling only raises it. Check which is which.")
    if given["target_bitterness"] is not None and given["boil_minutes"] < _SHORTEST:
        raise BadInput("boil_minutes", "hops that do not boil bring hardly any bitterness: give at least 1 minute.")


@bitterness.working
def _working(given: Given, found: Found) -> Iterator[str]:
    gravity = _boil_gravity(given["original_gravity"], given["preboil_gravity"])
    minutes, alpha, volume = given["boil_minutes"], given["alpha_acid"], given["batch_volume"]
    yield (
        f"utilisation (Tinseth) = 1.65 × 0.000125^{gravity - 1:.4f} × (1 - e^(-0.04 × {minutes:.0f})) / 4.15 "
        f"= {found['utilisation']:.1f} %"
    )
    yield (
        f"bitterness = {found['hop_mass']:.1f} g × {alpha:.1f} % × {found['utilisation']:.1f} % × 1000 mg/g / "
        f"{volume:.2f} L = {found['bitterness']:.1f} IBU; by Rager's {found['utilisation_by_rager']:.1f} % "
        f"{found['bitterness_by_rager']:.1f} IBU"
    )
    if "bitterness_if_added_now" in found:
        yield (
            f"with {given['boil_minutes_left']:.0f} min left: {found['bitterness_if_added_now']:.1f} IBU of the same "
            f"{found['hop_mass']:.1f} g, or {found['hop_mass_if_added_now']:.1f} g for the planned bitterness"
        )


@bitterness.warnings
def _warnings(given: Given, found: Found) -> Iterator[str]:
    yield "Predictions of bitterness are within 20 to 30 % of a laboratory's figure at best; trust differences more."
    if found.get("hop_mass_if_added_now", 0.0) > 3.0 * found["hop_mass"]:
        yield (
            "Making up for it now would take more than three times the hops, and much flavour comes with them: boil "
            "longer instead, or let the beer be less bitter."
        )
    if given["boil_minutes"] > 120.0:
        yield "Longer than 120 minutes nothing is gained: iso-alpha acid also breaks down."
