"""Log-odds of all problems → the few that explain the message, with scores of 0 to 1; none where that would be a guess.

Beside the problems stands "something else": talk, trade, another craft, or too little said. It has messages of its
own, as the problems do, and wins unless a problem has enough more evidence, so a shop's chat is not answered with a
brewing problem at every word. Which problem it is, evidence and wording tell together; whether it is one at all is
left mostly to the evidence, for any talk is worded like some problem.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import exp

from knowledge.language import SOMETHING_ELSE as ELSE
from service.understanding.kind import Talk
from service.understanding.model import Kind

SOMETHING_ELSE = 7.0
"""How far ahead of "something else" a problem must be to be named."""
WORDED = 0.15
"""What the wording counts where the question is whether there is a problem at all."""
AGAINST_TALK: Mapping[Kind, float] = {
    "manipulation": 12.0,
    "abuse": 6.0,
    "order": 6.0,
    "other-craft": 14.0,
    "small-talk": 6.0,
    "greeting": 0.0,
    "vague": 2.0,
}
HEARD_AGAIN = 2.0
CALM = 5.0
"""Evidence is not independent: odds are divided by this before they are read as probabilities. Messages by other hands
are right about as often as the scores then say."""
SHOWN = 3


def something_else(talk: Talk | None) -> float:
    """The log-odds that the message is about no brewing trouble, given the talk that was heard."""
    if talk is None:
        return SOMETHING_ELSE
    return SOMETHING_ELSE + talk.share * (AGAINST_TALK[talk.kind] + HEARD_AGAIN * (talk.times - 1))


def together(odds: Mapping[str, float], wording: Mapping[str, float]) -> dict[str, float]:
    """The log-odds of each problem, evidence and wording in one."""
    return {one: odds[one] + wording[one] for one in odds if one != ELSE}


def explained(odds: Mapping[str, float], wording: Mapping[str, float], otherwise: float) -> bool:
    """Whether the likeliest problem explains the message better than "something else" does."""
    both = together(odds, wording)
    if not both:
        return False
    best = max(sorted(both), key=lambda one: both[one])
    ahead = odds[best] - odds.get(ELSE, 0.0) + WORDED * (wording[best] - wording.get(ELSE, wording[best]))
    return ahead > otherwise


def ranked(odds: Mapping[str, float]) -> list[tuple[str, float]]:
    """Problems best first with their scores."""
    highest = max(odds.values())
    shares = {problem: exp((one - highest) / CALM) for problem, one in odds.items()}
    whole = sum(shares.values())
    best = sorted(shares.items(), key=lambda item: (-item[1], item[0]))[:SHOWN]
    return [(problem, share / whole) for problem, share in best]
