"""What was said → how strongly it speaks for each problem, in log-odds that add up and can be shown one by one.

The customers' phrases of every problem are read through the same lexicon as the message. A sign (a concept, a denied
concept, or a plain word) weighs for a problem what its frequency there, against its frequency over all problems,
tells: `log(P(sign | problem) / P(sign))`. Two signs close together weigh a little more than each alone.
The weights are kept by sign, not by phrase, so a message costs the same however many phrases there are.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import log
from typing import TypeVar

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
COVERED = 0.5
"""A word that a concept stands for already counts half by itself."""
FAMILIAR = 3.0
"""So many times must a wording be met before its own use tells as much as its concept's."""
CIRCUMSTANCE = 0.5
"""A vessel, a style, a temperature is part of many stories: the trouble itself tells more."""

K = TypeVar("K")


@dataclass(frozen=True, slots=True)
class Sign:
    """One piece of evidence: what it is, its tokens (half-open), how much it counts, and the words it was said with."""

    key: str
    first: int
    last: int
    weight: float = 1.0
    surface: str = ""


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
        words = [key(token.word) for token in tokens]
        found: list[Sign] = []
        covered: set[int] = set()
        for one in mentions:
            if one.concept not in GRAMMAR:
                first, last = first_at[one.start], last_at[one.end]
                covered.update(range(first, last))
                surface = " ".join(words[first:last])
                found.append(Sign(DENIED * one.negated + one.concept, first, last, self._weight(one), surface))
        for index, word in enumerate(words):
            if len(word) >= SHORTEST_WORD and word not in self.stop and word != FIGURE:
                found.append(Sign(WORD + word, index, index + 1, COVERED if index in covered else 1.0))
        return sorted(found, key=lambda sign: (sign.first, sign.last, sign.key))

    def _weight(self, mention: Mention) -> float:
        elsewhere = mention.subject == "other" or mention.time == "past"
        return (ELSEWHERE if elsewhere else 1.0) * (CIRCUMSTANCE if mention.concept in self.circumstances else 1.0)


def pairs(found: Sequence[Sign]) -> Iterator[tuple[str, str]]:
    """Signs that stand close together."""
    for index, one in enumerate(found):
        for other in found[index + 1 :]:
            if other.first - one.first > REACH:
                break
            if one.key != other.key:
                yield (one.key, other.key) if one.key < other.key else (other.key, one.key)


Counts = dict[K, Counter[int]]


class SymptomIndex:
    """All phrases of all problems, ready to weigh a message."""

    def __init__(self, phrases: Mapping[str, Sequence[list[Sign]]]):
        self.problems = tuple(sorted(phrases))
        concepts: Counts[str] = defaultdict(Counter)
        wordings: Counts[tuple[str, str]] = defaultdict(Counter)
        close: Counts[tuple[str, str]] = defaultdict(Counter)
        for number, problem in enumerate(self.problems):
            for phrase in phrases[problem]:
                for one in {sign.key for sign in phrase}:
                    concepts[one][number] += 1
                for wording in {(sign.key, sign.surface) for sign in phrase if sign.surface}:
                    wordings[wording][number] += 1
                for two in combinations(sorted({sign.key for sign in phrase}), 2):
                    close[two][number] += 1
        sizes = [len(phrases[problem]) for problem in self.problems]
        self._concepts = {sign: _row(counts, sizes, UNSEEN) for sign, counts in concepts.items()}
        self._wordings = {
            wording: _blend(_row(counts, sizes, UNSEEN), self._concepts[wording[0]], counts.total())
            for wording, counts in wordings.items()
        }
        self._close = {two: _row(counts, sizes, 0.0) for two, counts in close.items()}

    def weigh(self, found: Sequence[Sign]) -> list[float]:
        """Log-odds for each problem, in the order of `problems`."""
        odds = [0.0] * len(self.problems)
        everywhere = 0.0
        for sign in _strongest(found):
            if row := self._row(sign):
                everywhere += row.unseen * sign.weight
                for problem, weight in row.more:
                    odds[problem] += weight * sign.weight
        for two in set(pairs(found)):
            if row := self._close.get(two):
                for problem, weight in row.more:
                    odds[problem] += weight * TOGETHER
        return [one + everywhere for one in odds]

    def told(self, found: Sequence[Sign], problem: str) -> list[tuple[float, Sign]]:
        """What each sign says about one problem; below 0 it speaks against."""
        number = self.problems.index(problem)
        return [
            ((row.unseen + dict(row.more).get(number, 0.0)) * sign.weight, sign)
            for sign in _strongest(found)
            if (row := self._row(sign))
        ]

    def _row(self, sign: Sign) -> Row | None:
        return self._wordings.get((sign.key, sign.surface)) or self._concepts.get(sign.key)


def _row(counts: Counter[int], phrases: Sequence[int], unseen: float) -> Row:
    shares = {problem: count / phrases[problem] for problem, count in counts.items()}
    usual = sum(shares.values()) / len(phrases)
    total = counts.total()
    silence = unseen * total / (total + DOUBT_OF_SILENCE)
    return Row(silence, tuple((p, _weight(n, phrases[p], usual) - silence) for p, n in sorted(counts.items())))


def _weight(count: int, phrases: int, usual: float) -> float:
    told = log((count + SMOOTHING * usual) / (phrases + SMOOTHING) / usual)
    return min(told, STRONGEST) * count / (count + DOUBT_OF_ONE)


def _blend(wording: Row, concept: Row, met: int) -> Row:
    """A wording often met speaks for itself; one hardly met speaks as its concept does."""
    share = met / (met + FAMILIAR)
    more: dict[int, float] = defaultdict(float)
    for row, part in ((wording, share), (concept, 1 - share)):
        for problem, weight in row.more:
            more[problem] += weight * part
    return Row(wording.unseen * share + concept.unseen * (1 - share), tuple(sorted(more.items())))


def _strongest(found: Sequence[Sign]) -> Iterable[Sign]:
    """Each sign once, where it is most about this batch: what is said twice is not twice as true."""
    best: dict[str, Sign] = {}
    for sign in found:
        if sign.key not in best or sign.weight > best[sign.key].weight:
            best[sign.key] = sign
    return best.values()
