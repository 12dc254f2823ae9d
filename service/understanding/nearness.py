"""The cues around a figure, and how much of a cue's weight reaches it across the words between."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass

from knowledge.reading import Cues
from service.understanding.terms import Hit, Word

REACH = 6
LONGEST_PHRASE = 12
NEARNESS = (1.0, 0.92, 0.84, 0.74, 0.62, 0.5, 0.4)
OVER_A_COMMA, OVER_A_STOP, OVER_ITS_LIKE, OVER_A_FIGURE = 0.75, 0.3, 0.4, 0.8
SECOND_CUES = 0.5
"""A second and a third cue count half: they mostly say the same again."""


@dataclass(frozen=True, slots=True)
class Near:
    """A cue close to a figure: its group, its side, and how much of its weight reaches the figure."""

    group: str
    before: bool
    strength: float


class Nearness:
    """Finds the cues around figures."""

    def __init__(self, reach: Mapping[str, int], kind_of: Mapping[str, str]):
        self._reach = reach
        self._kind_of = kind_of
        self._farthest = max((REACH, *reach.values()))

    def around(self, words: Sequence[Word], hits: Sequence[Hit], at: int, light: Collection[int] = ()) -> list[Near]:
        """The cues around the figure at a word; `hits` are in the order of their first word.

        `light` are the places of words that only describe ("clear plastic") and do not count as a distance.
        """
        found = [Near("alone", True, 1.0)] if alone(words, at) else []
        for hit in hits[bisect_left(hits, at - self._farthest - LONGEST_PHRASE, key=_first) :]:
            if hit.first > at + self._farthest + 1:
                break
            before = hit.last <= at
            if not before and hit.first <= at:
                continue
            between = range(hit.last, at) if before else range(at + 1, hit.first)
            gap = len(between) - sum(place in light for place in between)
            reach = self._reach.get(hit.group, REACH)
            cue = hit.last - 1 if before else hit.first
            if 0 <= gap <= reach and (reach or words[cue].part == words[at].part):  # a neighbour is none over a comma
                found.append(Near(hit.group, before, self._strength(words, at, cue, gap)))
        return found

    def _strength(self, words: Sequence[Word], at: int, cue: int, gap: int) -> float:
        figure, word = words[at], words[cue]
        strength = NEARNESS[min(gap, len(NEARNESS) - 1)]
        stops = abs(word.sentence - figure.sentence)
        strength *= OVER_A_STOP**stops * OVER_A_COMMA ** (abs(word.part - figure.part) - stops)
        for other in words[min(at, cue) + 1 : max(at, cue)]:
            if other.quantity:
                strength *= OVER_ITS_LIKE if self._alike(figure, other) else OVER_A_FIGURE
        return strength

    def _alike(self, one: Word, other: Word) -> bool:
        """Whether two figures compete for the same cue; a line's bore and its length do not."""
        kinds = [self._kind_of.get(word.quantity.unit or "") for word in (one, other) if word.quantity]
        return len(set(kinds)) == 1 and kinds[0] != "length"


def _first(hit: Hit) -> int:
    return hit.first


def alone(words: Sequence[Word], at: int) -> bool:
    """Whether a figure stands by itself between commas: "9 C, 16 days, still sweet"."""
    neighbours = (*words[max(0, at - 1) : at], *words[at + 1 : at + 2])
    return len(words) > 1 and all(word.part != words[at].part for word in neighbours)


def weight_of(cues: Cues, near: Iterable[Near]) -> float:
    """What the cues around a figure say for one fact: the strongest in full, the next two in half."""
    best: dict[tuple[str, bool], float] = {}
    for one in near:
        weight = (cues.before if one.before else cues.after).get(one.group)
        if weight is not None:
            key = (one.group, one.before)
            best[key] = max(best.get(key, 0.0), weight * one.strength)
    strongest = sorted(best.values(), reverse=True)
    return sum(strongest[:1]) + SECOND_CUES * sum(strongest[1:3])


def weight_anywhere(cues: Cues, anywhere: Iterable[str]) -> float:
    """What the rest of the message says for one fact."""
    return sum(cues.anywhere.get(group, 0.0) for group in anywhere) if cues.anywhere else 0.0
