"""What was said → how strongly it speaks for each problem, in log-odds that add up and can be shown one by one.

The customers' phrases of every problem are read through the same lexicon as the message. A sign (a concept, a denied
concept, or a plain word) weighs for a problem what its frequency there, against its frequency over all problems,
tells: `log(P(sign | problem) / P(sign))`. Two signs close together weigh a little more than each alone.
The weights are kept by sign, not by phrase, so a message costs the same however many phrases there are.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import log
from typing import Generic, TypeVar

from service.understanding.lexicon import FIGURE, NEGATOR, NOT_A_DENIAL, SOMEONE_ELSE, TIMES, key
from service.understanding.model import Mention, Token

GRAMMAR = frozenset({NEGATOR, NOT_A_DENIAL, SOMEONE_ELSE, *TIMES})
DENIED = "!"
WORD = "'"
SHORTEST_WORD = 3
REACH = 8
SMOOTHING = 2.0
UNSEEN = -0.7
STRONGEST = 3.5
DOUBT_OF_ONE = 0.5
DOUBT_OF_SILENCE = 5.0
TOGETHER = 0.25
ELSEWHERE = 0.5
"""What is said of other people's beer, or of an earlier batch, counts less."""
CIRCUMSTANCE = 0.5
"""A vessel, a style, a temperature is part of many stories: the trouble itself tells more."""

K = TypeVar("K", bound=Hashable)


@dataclass(frozen=True, slots=True)
class Sign:
    """One piece of evidence in a message: what it is, its tokens (half-open), and how far it is about this batch, now."""

    key: str
    first: int
    last: int
    weight: float = 1.0


@dataclass(frozen=True, slots=True)
class Row:
    """What one sign says: `unseen` for every problem, and the difference to it for those that know the sign."""

    unseen: float
    more: tuple[tuple[int, float], ...]


@dataclass(frozen=True, slots=True)
class Weighing:
    """Which words say nothing by themselves, and which concepts are circumstances rather than troubles."""

    stop: frozenset[str]
    circumstances: frozenset[str]

    def signs(self, tokens: Sequence[Token], mentions: Iterable[Mention]) -> list[Sign]:
        """The signs of a message in order: concepts the lexicon found, and words that mean something by themselves."""
        first_at = {token.start: index for index, token in enumerate(tokens)}
        last_at = {token.end: index + 1 for index, token in enumerate(tokens)}
        found: list[Sign] = []
        circumstantial: set[int] = set()
        for one in mentions:
            first, last = first_at[one.start], last_at[one.end]
            if one.concept in self.circumstances:
                circumstantial.update(range(first, last))
            if one.concept not in GRAMMAR:
                found.append(Sign(DENIED * one.negated + one.concept, first, last, self._weight(one)))
        for index, token in enumerate(tokens):
            word = key(token.word)
            if len(word) >= SHORTEST_WORD and word not in self.stop and word != FIGURE:
                found.append(Sign(WORD + word, index, index + 1, CIRCUMSTANCE if index in circumstantial else 1.0))
        return sorted(found, key=lambda sign: (sign.first, sign.last, sign.key))

    def _weight(self, mention: Mention) -> float:
        elsewhere = mention.subject == "other" or mention.time == "past"
        return (ELSEWHERE if elsewhere else 1.0) * (CIRCUMSTANCE if mention.concept in self.circumstances else 1.0)


def pairs(found: Sequence[Sign]) -> Iterator[tuple[tuple[str, str], Sign, Sign]]:
    """Signs that stand close together."""
    for index, one in enumerate(found):
        for other in found[index + 1 :]:
            if other.first - one.first > REACH:
                break
            if one.key != other.key:
                yield ((one.key, other.key) if one.key < other.key else (other.key, one.key)), one, other


class Table(Generic[K]):
    """The weights of all signs (or pairs) over the problems, learnt from the phrases."""

    def __init__(self, seen: Mapping[K, Counter[int]], phrases: Sequence[int], unseen: float):
        self._rows = {sign: _row(counts, phrases, unseen) for sign, counts in seen.items()}
        self.get: Callable[[K], Row | None] = self._rows.get


def _row(counts: Counter[int], phrases: Sequence[int], unseen: float) -> Row:
    shares = {problem: count / phrases[problem] for problem, count in counts.items()}
    usual = sum(shares.values()) / len(phrases)
    total = counts.total()
    silence = unseen * total / (total + DOUBT_OF_SILENCE)
    return Row(silence, tuple((p, _weight(n, phrases[p], usual) - silence) for p, n in sorted(counts.items())))


def _weight(count: int, phrases: int, usual: float) -> float:
    told = log((count + SMOOTHING * usual) / (phrases + SMOOTHING) / usual)
    return min(told, STRONGEST) * count / (count + DOUBT_OF_ONE)


class SymptomIndex:
    """All phrases of all problems, ready to weigh a message."""

    def __init__(self, phrases: Mapping[str, Sequence[list[Sign]]]):
        self.problems = tuple(sorted(phrases))
        singles: dict[str, Counter[int]] = defaultdict(Counter)
        doubles: dict[tuple[str, str], Counter[int]] = defaultdict(Counter)
        for number, problem in enumerate(self.problems):
            for phrase in phrases[problem]:
                for one in {sign.key for sign in phrase}:
                    singles[one][number] += 1
                for two in combinations(sorted({sign.key for sign in phrase}), 2):
                    doubles[two][number] += 1
        sizes = [len(phrases[problem]) for problem in self.problems]
        self._singles = Table(singles, sizes, UNSEEN)
        self._doubles = Table(doubles, sizes, 0.0)

    def weigh(self, found: Sequence[Sign]) -> list[float]:
        """Log-odds for each problem, in the order of `problems`."""
        odds = [0.0] * len(self.problems)
        everywhere = 0.0
        for sign in _strongest(found):
            if row := self._singles.get(sign.key):
                everywhere += row.unseen * sign.weight
                for problem, weight in row.more:
                    odds[problem] += weight * sign.weight
        for two in {two for two, _, _ in pairs(found)}:
            if row := self._doubles.get(two):
                for problem, weight in row.more:
                    odds[problem] += weight * TOGETHER
        return [one + everywhere for one in odds]

    def told(self, found: Sequence[Sign], problem: str) -> list[tuple[float, Sign]]:
        """What each sign says about one problem; below 0 it speaks against."""
        number = self.problems.index(problem)
        return [
            ((row.unseen + dict(row.more).get(number, 0.0)) * sign.weight, sign)
            for sign in _strongest(found)
            if (row := self._singles.get(sign.key))
        ]


def _strongest(found: Sequence[Sign]) -> Iterable[Sign]:
    """Each sign once, where it is most about this batch: what is said twice is not twice as true."""
    best: dict[str, Sign] = {}
    for sign in found:
        if sign.key not in best or sign.weight > best[sign.key].weight:
            best[sign.key] = sign
    return best.values()
