"""Second thoughts: "sorry, I meant 1.015", "no, that was the sample temperature".

A correction gives a figure its right name, or a name its right figure; anything else said later simply replaces
what was said earlier.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from knowledge.reading import Reading
from service.understanding.model import Fact, Understanding
from service.understanding.terms import Hit, Word

MEANT = "second-thought"
THAT_WAS = "that-was"
REACH = 4


class CorrectionReader:
    """Reads corrections; built once from the knowledge."""

    def __init__(self, reading: Reading):
        self._named = {group: name for name, groups in reading.named.items() for group in groups}

    def moved(self, words: Sequence[Word], hits: Sequence[Hit]) -> str | None:
        """The fact that an earlier figure really was: the one named after "that was", with no figure in the message."""
        if any(word.quantity for word in words):
            return None
        starts = [hit.last for hit in hits if hit.group == THAT_WAS]
        named = [(hit.first, self._named[hit.group]) for hit in hits if hit.group in self._named]
        return next(
            (name for first, name in sorted(named) if any(0 <= first - start <= REACH for start in starts)), None
        )

    def meant(self, hits: Sequence[Hit]) -> bool:
        """Whether the message takes something back."""
        return any(hit.group == MEANT for hit in hits)


def corrected(before: Mapping[str, Fact], said: Understanding, kinds: Mapping[str, str]) -> dict[str, Fact]:
    """What is known after a message: what it says over what was said, with corrections where they belong.

    `kinds` gives what each fact measures (`kinds_of`).
    """
    if said.moved and (wrong := _latest(before, kinds, said.moved)):
        kept = {name: fact for name, fact in before.items() if name != wrong.name}
        return kept | {said.moved: replace(wrong, name=said.moved)} | said.facts
    if said.takes_back and len(said.facts) == 1:
        (fact,) = said.facts.values()
        alike = _alike(before, kinds, fact.name)
        if len(alike) == 1:
            return {**before, alike[0].name: replace(fact, name=alike[0].name)}
    return {**before, **said.facts}


def kinds_of(reading: Reading) -> dict[str, str]:
    """What each fact measures."""
    return {name: fact.kind for name, fact in reading.facts.items()}


def _latest(before: Mapping[str, Fact], kinds: Mapping[str, str], moved: str) -> Fact | None:
    """The figure said last that measures the same as `moved` and goes by another name."""
    alike = [fact for fact in _alike(before, kinds, moved) if fact.name != moved]
    return alike[-1] if alike else None


def _alike(before: Mapping[str, Fact], kinds: Mapping[str, str], name: str) -> list[Fact]:
    return [
        fact
        for fact in before.values()
        if name in kinds and kinds.get(fact.name) == kinds[name] and fact.value is not None
    ]
