"""Choices and yes/no facts: the yeast, the vessel, the sugar, the bottles, the tool, pressure and dry hops."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from knowledge.reading import Choice, Reading
from service.understanding.facts import said_kind
from service.understanding.model import Fact
from service.understanding.terms import Hit, Word, denied

MEANT = "meant-to-be"
MEANT_REACH = 4
DENIAL_REACH = 2
MEANT_WEIGHT = 0.5
SAID_AGAIN = 0.01
WORDS_BETWEEN_ALTERNATIVES = 8


class ChoiceReader:
    """Reads choices; built once from the knowledge."""

    def __init__(self, reading: Reading):
        self._choices = reading.choices

    def read(self, text: str, words: Sequence[Word], hits: Sequence[Hit]) -> dict[str, Fact]:
        """The choices that are settled by what is said; one that is asked about ("keg or bucket?") is not."""
        places: dict[str, list[Hit]] = {}
        for hit in hits:
            places.setdefault(hit.group, []).append(hit)
        for at, word in enumerate(words):
            if word.quantity:
                places.setdefault(said_kind(word), []).append(Hit("", at, at + 1))
        found = {}
        for name, choices in self._choices.items():
            best = _weigh(choices, words, places)
            if chosen := _settled(best, words):
                value, hit = chosen
                said = text[words[hit.first].start : words[hit.last - 1].end]
                found[name] = Fact(name, value, said=said)
        return found


Weighed = dict[str | bool, tuple[float, Hit]]


def _weigh(choices: Sequence[Choice], words: Sequence[Word], places: Mapping[str, Sequence[Hit]]) -> Weighed:
    best: Weighed = {}
    for choice in choices:
        if any(group in places for group in choice.unless):
            continue
        if choice.needs and not any(group in places for group in choice.needs):
            continue
        said = [hit for group in choice.words for hit in places.get(group, ())]
        if choice.value is not False:
            said = [hit for hit in said if not denied(words, hit.first, DENIAL_REACH)]
        if not said:
            continue
        weight = choice.weight + SAID_AGAIN * len(said) + MEANT_WEIGHT * any(_meant(hit, places) for hit in said)
        if weight > best.get(choice.value, (0.0,))[0]:
            best[choice.value] = weight, said[0]
    return best


def _meant(hit: Hit, places: Mapping[str, Sequence[Hit]]) -> bool:
    """Whether this is what the beer is meant to be, not what it has become."""
    return any(0 <= hit.first - meant.last <= MEANT_REACH for meant in places.get(MEANT, ()))


def _settled(best: Weighed, words: Sequence[Word]) -> tuple[str | bool, Hit] | None:
    ranked = sorted(best.items(), key=lambda item: -item[1][0])
    if not ranked:
        return None
    value, (weight, hit) = ranked[0]
    if len(ranked) > 1:
        second, other = ranked[1][1]
        if weight == second or _alternatives(hit, other, words):
            return None
    return value, hit


def _alternatives(one: Hit, other: Hit, words: Sequence[Word]) -> bool:
    first, last = min(one.last, other.last), max(one.first, other.first)
    return 0 < last - first <= WORDS_BETWEEN_ALTERNATIVES and any(word.word == "or" for word in words[first:last])
