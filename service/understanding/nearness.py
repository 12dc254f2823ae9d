"""The cues around a figure, and how much of a cue's weight reaches it across the words between."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from knowledge.reading import Cues
from service.understanding.terms import Hit, Word

REACH = 6
LONGEST_PHRASE = 12
NEARNESS = (1.0, 0.92, 0.84, 0.74, 0.62, 0.5, 0.4)
OVER_A_COMMA, OVER_A_STOP, OVER_ITS_LIKE, OVER_A_FIGURE = 0.75, 0.3, 0.4, 0.8
SPENT = 0.4
"""A cue right before one figure says less of another behind the comma: "should be 1.048, 21 L"."""
COMPARING = frozenset({"need-next", "expected"})
"""Cues between a figure and the one it is compared with: "64, should be 67"."""
SECOND_CUES = 0.5
"""A second and a third cue count half: they mostly say the same again."""


Around: TypeAlias = tuple[Mapping[str, float], Mapping[str, float]]
"""The strength of each group before a figure, and after it."""


@dataclass(frozen=True, slots=True)
class Near:
    """A cue close to a figure: its group, its side, and how much of its weight reaches the figure."""

    group: str
    before: bool
    strength: float


class Nearness:
    """Finds the cues around figures: groups that `cues` weigh on that side, and `hints` on either."""

    def __init__(
        self, reach: Mapping[str, float], kind_of: Mapping[str, str], cues: Iterable[Cues], hints: Iterable[str]
    ):
        self._reach = reach
        hints = frozenset(hints)
        self._before, self._after = hints, hints
        for one in cues:
            self._before |= one.before.keys()
            self._after |= one.after.keys()
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
            if hit.group not in (self._before if before else self._after) or (not before and hit.first <= at):
                continue
            gap = at - hit.last if before else hit.first - at - 1
            if gap and light:
                gap -= sum(place in light for place in (range(hit.last, at) if before else range(at + 1, hit.first)))
            reach = self._reach.get(hit.group, REACH)
            cue = hit.last - 1 if before else hit.first
            if 0 <= gap <= reach and (reach or words[cue].part == words[at].part):  # a neighbour is none over a comma
                strength = self._strength(words, at, cue, gap)
                spent = not before and hit.group not in COMPARING and _leads_on(words, at, hit)
                found.append(Near(hit.group, before, strength * SPENT if spent else strength))
        return found

    def _strength(self, words: Sequence[Word], at: int, cue: int, gap: int) -> float:
        figure, word = words[at], words[cue]
        strength = NEARNESS[min(gap, len(NEARNESS) - 1)]
        stops = abs(word.sentence - figure.sentence)
        strength *= OVER_A_STOP**stops * OVER_A_COMMA ** (abs(word.part - figure.part) - stops)
        for other in words[min(at, cue) + 1 : max(at, cue)]:
            if other.quantity:
                strength *= OVER_ITS_LIKE if self._alike(figure, other) else OVER_A_FIGURE
        if cue < at - 1 and words[cue + 1].quantity and words[cue + 1].part != figure.part:
            strength *= SPENT
        return strength

    def _alike(self, one: Word, other: Word) -> bool:
        """Whether two figures compete for the same cue; a line's bore and its length do not."""
        kinds = [self._kind_of.get(word.quantity.unit or "") for word in (one, other) if word.quantity]
        return len(set(kinds)) == 1 and kinds[0] != "length"


def _leads_on(words: Sequence[Word], at: int, hit: Hit) -> bool:
    """Whether a cue behind the comma leads to a figure of its own: "garage 70, fridge 38"."""
    if hit.last >= len(words) or words[hit.first].part == words[at].part:
        return False
    return words[hit.last].quantity is not None and words[hit.last].part == words[hit.first].part


def _first(hit: Hit) -> int:
    return hit.first


def alone(words: Sequence[Word], at: int) -> bool:
    """Whether a figure stands by itself between commas: "9 C, 16 days, still sweet"."""
    neighbours = (*words[max(0, at - 1) : at], *words[at + 1 : at + 2])
    return len(words) > 1 and all(word.part != words[at].part for word in neighbours)


def strongest(near: Iterable[Near]) -> Around:
    """How strongly each group reaches a figure, from before it and from behind it."""
    before: dict[str, float] = {}
    after: dict[str, float] = {}
    for one in near:
        side = before if one.before else after
        if one.strength > side.get(one.group, 0.0):
            side[one.group] = one.strength
    return before, after


def weight_of(cues: Cues, around: Around) -> float:
    """What the cues around a figure say for one fact: the strongest in full, the next two in half."""
    before, after = around
    weights = [weight * before[group] for group, weight in cues.before.items() if group in before]
    weights += [weight * after[group] for group, weight in cues.after.items() if group in after]
    weights.sort(reverse=True)
    return sum(weights[:1]) + SECOND_CUES * sum(weights[1:3])


def weight_anywhere(cues: Cues, anywhere: Collection[str]) -> float:
    """What the rest of the message says for one fact."""
    return sum(weight for group, weight in cues.anywhere.items() if group in anywhere)
