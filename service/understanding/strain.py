"""How hard a vessel is pressed: the pressures told in a message against what is marked on it, or was aimed at."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from calculators.units import convert
from service.understanding.model import Quantity
from service.understanding.terms import Hit, Word, denied

MARKED, SET, READING, NOT_HELD = "marked-figure", "set-figure", "held-figure", "device-figure"
"""Groups around figures: what a vessel is marked with, what was aimed at, what it holds, what belongs to a relief
valve or cylinder."""
CYLINDER = 6.0
"""So many times the marking is the dial of the gas cylinder, not of the vessel (common practice)."""
WORTH_FEARING = 1.3
"""Gauge bar; below it a pressure past what was set is a nuisance only (common practice)."""
PSI_FROM = 6.0
"""A bare figure of so much or more is psi, a smaller one bar (common practice)."""


def strain(words: Sequence[Word], places: Mapping[str, Sequence[Hit]]) -> float:
    """The highest pressure of the message as a share of what is marked on a vessel; 0 where nothing is."""
    marks, held = _against(words, places, MARKED)
    shares = [_share(one, mark) for one in held for mark in marks]
    return max((share for share in shares if share <= CYLINDER), default=0.0)


def overshoot(words: Sequence[Word], places: Mapping[str, Sequence[Hit]]) -> float:
    """The highest pressure of the message as a share of what was aimed at, where it is worth fearing; else 0.

    What is marked on the vessel tells more: where that is said, nothing is weighed against the aim.
    """
    if places.get(MARKED):
        return 0.0
    aims, held = _against(words, places, SET)
    shares = [_share(one, aim) for one in held if _in_bar(one) >= WORTH_FEARING for aim in aims]
    return max((share for share in shares if share <= CYLINDER), default=0.0)


def _against(
    words: Sequence[Word], places: Mapping[str, Sequence[Hit]], limit: str
) -> tuple[list[Quantity], list[Quantity]]:
    """The figures of a limit, and the pressures that are none of it."""
    limits, reading, device = (set(_figures(words, places.get(group, ()))) for group in (limit, READING, NOT_HELD))
    told = {at for at, word in enumerate(words) if "0-pressure" in word.keys and not denied(words, at)}
    held = (told | reading) - limits - device
    return _quantities(words, limits - device), _quantities(words, held)


def _quantities(words: Sequence[Word], at: Iterable[int]) -> list[Quantity]:
    return [one for one in (words[place].quantity for place in at) if one]


def _in_bar(figure: Quantity) -> float:
    return convert(figure.value, figure.unit or ("psi" if figure.value >= PSI_FROM else "bar"), "bar")


def _figures(words: Sequence[Word], hits: Sequence[Hit]) -> Iterator[int]:
    """Where the pressures of a group stand; a bare figure can be one."""
    for hit in hits:
        for at in range(hit.first, hit.last):
            if {"0-pressure", "0-bare"} & set(words[at].keys):
                yield at


def _share(figure: Quantity, marking: Quantity) -> float:
    """A figure with no unit is in that of the other."""
    unit = marking.unit or figure.unit or "psi"
    return convert(figure.value, figure.unit or unit, unit) / marking.value if marking.value > 0 else 0.0
