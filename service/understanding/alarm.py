"""Dangers in a message: as whole messages tell them, as rules hear them, and as the trouble itself goes with them.

A rule hears the words that somebody thought of. Customers tell of a danger in words that nobody thought of, by what
they see and feel and do, and mostly beside something else; that is learnt from many messages, dangerous and harmless,
that people labelled. Neither is enough alone: they are added up.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

from service.understanding.features import Features
from service.understanding.fitted import Fitted, Labelled
from service.understanding.hazards import Heard
from service.understanding.model import HazardFound, ProblemMatch
from service.understanding.saying import apart, quoted

HEARD = 0.4
"""From this sum on a danger is there. Of hard messages by other hands, many of them near misses, one calm one in
fifteen is then warned for nothing. Better one caution too many than one too few; but one on every message is read by
nobody."""
BY_WORDS, BY_FIGURES, CALMED = 0.25, 0.5, 0.25
"""What a rule adds that heard words, and one that weighed figures; what a rule takes away that calms."""
OVER = 0.15
"""What is taken away where a danger is told as over, in jest, or wondered about."""
BY_TROUBLE = 0.15
"""What a trouble adds that goes with a danger, where it is recognised for certain."""
SHOWN = 2
"""How many pieces of the customer's own words are shown for a danger that no rule heard."""


class Alarm:
    """Hears dangers; built once from the knowledge. `goes_with`: the dangers that each problem speaks for."""

    def __init__(self, told: Iterable[tuple[Features, Collection[str]]], goes_with: Mapping[str, Collection[str]]):
        self._fitted = Fitted([Labelled(held, hazards) for held, hazards in told])
        self._goes_with = goes_with

    def weigh(self, message: Features) -> Mapping[str, float]:
        """How far the message tells of each danger, near 1 where all of it does."""
        return self._fitted.weigh(message)

    def dangers(
        self,
        text: str,
        message: Features,
        weights: Mapping[str, float],
        heard: Heard,
        problems: Iterable[ProblemMatch] = (),
    ) -> tuple[HazardFound, ...]:
        """The dangers of a message, surest first, each with the customer's words that tell it.

        A danger that no message was labelled with is left to the rules alone.
        """
        sums = {hazard: weight - OVER * heard.over for hazard, weight in weights.items()}
        for one in heard.rules:
            counts = -CALMED if one.calms else BY_FIGURES if one.by_figures else BY_WORDS
            sums[one.hazard] = sums.get(one.hazard, HEARD) + counts
        for problem in problems:
            for hazard in self._goes_with.get(problem.id, ()):
                sums[hazard] = sums.get(hazard, 0.0) + BY_TROUBLE * problem.score
        said = {one.hazard: one.because for one in heard.rules if not one.calms}
        found = sorted((one for one, total in sums.items() if total >= HEARD), key=lambda one: (-sums[one], one))
        return tuple(HazardFound(one, said.get(one) or self._because(text, message, one)) for one in found)

    def _because(self, text: str, message: Features, hazard: str) -> str:
        """The words that tell most of a danger, in the order they were said; the whole message where none stand out."""
        told = sorted(self._fitted.told(message, hazard), reverse=True)
        strongest = ((start, end) for weight, start, end in told if weight > 0)
        return quoted(text, apart(strongest, SHOWN)) or text.strip()
