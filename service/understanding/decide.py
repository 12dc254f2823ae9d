"""Log-odds of all problems → the few that explain the message, with scores of 0 to 1; none where that would be a guess.

Beside the problems stands "something else": talk, trade, another craft, or too little said. It wins unless a problem
has enough evidence, so a shop's chat is not answered with a brewing problem at every word.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import exp

from service.understanding.kind import Talk
from service.understanding.model import Kind

SOMETHING_ELSE = 4.0
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
CALM = 2.0
"""Evidence is not independent: odds are divided by this before they are read as probabilities."""
SURE = 0.15
SHOWN = 3


def something_else(talk: Talk | None) -> float:
    """The log-odds that the message is about no brewing trouble, given the talk that was heard."""
    return SOMETHING_ELSE + (AGAINST_TALK[talk[0]] + HEARD_AGAIN * (talk[1] - 1) if talk else 0.0)


def ranked(odds: Mapping[str, float], otherwise: float) -> list[tuple[str, float]]:
    """Problems best first with their scores; empty where "something else", or no problem in particular, is likelier."""
    highest = max([*odds.values(), otherwise])
    shares = {problem: exp((one - highest) / CALM) for problem, one in odds.items()}
    whole = sum(shares.values()) + exp((otherwise - highest) / CALM)
    best = sorted(shares.items(), key=lambda item: (-item[1], item[0]))[:SHOWN]
    if not best or odds[best[0][0]] <= otherwise or best[0][1] / whole < SURE:
        return []
    return [(problem, share / whole) for problem, share in best]
