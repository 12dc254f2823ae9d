"""What was said → how strongly it speaks for each problem, in log-odds that add up and can be shown one by one.

The customers' phrases of every problem are read through the same lexicon as the message. A sign (a concept, a denied
concept, or a plain word) weighs for a problem what its frequency there, against its frequency over all problems,
tells: `log(P(sign | problem) / P(sign))`. Two signs close together weigh a little more than each alone.
The weights are kept by sign, not by phrase, so a message costs the same however many phrases there are.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain
from math import log
from typing import Generic, TypeVar

import numpy as np
from numpy.typing import NDArray

from service.understanding.lexicon import FIGURE, NEGATOR, NOT_A_DENIAL, SOMEONE_ELSE, TIMES, key
from service.understanding.model import Mention, Token
from service.understanding.numbers import SMALL

GRAMMAR = frozenset({NEGATOR, NOT_A_DENIAL, SOMEONE_ELSE, *TIMES})
DENIED = "!"
WORD = "'"
SHORTEST_WORD = 3
REACH = 8
"""Tokens between the beginnings of two signs that count as close together."""
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

SPOKEN_FIGURES = frozenset(map(key, SMALL))

K = TypeVar("K")
V = TypeVar("V")
Odds = NDArray[np.float64]
"""Log-odds of every problem, in the order of their ids."""
Counts = dict[int, int]
"""Problem by number → how many of its phrases hold something."""


@dataclass(frozen=True, slots=True)
class Sign:
    """One piece of evidence: what it is, its tokens (half-open), how much it counts, and the words it was said with."""

    key: str
    first: int
    last: int
    weight: float = 1.0
    surface: str = ""


Known = tuple[Sign, Odds]
"""A sign, and what it says."""


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
            if len(word) >= SHORTEST_WORD and word not in self.stop and word != FIGURE and word not in SPOKEN_FIGURES:
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


class Rows(dict[K, "V | None"], Generic[K, V]):
    """What all signs tell, each worked out when a message first asks for it: most are never asked for."""

    def __init__(self, counts: Mapping[K, Counts], work_out: Callable[[K, Counts], V]):
        self._counts, self._work_out = counts, work_out

    def __missing__(self, key: K) -> V | None:
        counts = self._counts.get(key)
        self[key] = row = None if counts is None else self._work_out(key, counts)
        return row


class SymptomIndex:
    """All phrases of all problems, ready to weigh a message."""

    def __init__(self, phrases: Mapping[str, Sequence[list[Sign]]]):
        self.problems = tuple(sorted(phrases))
        self._numbers = {problem: number for number, problem in enumerate(self.problems)}
        self._sizes = [len(phrases[problem]) for problem in self.problems]
        concepts: dict[str, Counts] = {}
        wordings: dict[tuple[str, str], Counts] = {}
        close: dict[tuple[str, str], Counts] = {}
        for number, problem in enumerate(self.problems):
            said = phrases[problem]
            _count(concepts, ({sign.key for sign in phrase} for phrase in said), number)
            _count(wordings, ({(sign.key, sign.surface) for sign in phrase if sign.surface} for phrase in said), number)
            _count(close, (set(pairs(phrase)) for phrase in said), number)
        self._concepts = Rows(concepts, lambda _, counts: self._row(counts))
        self._wordings = Rows(wordings, self._blend)
        self._close = Rows(
            close, lambda _, counts: [(problem, TOGETHER * told) for problem, told in self._told(counts)]
        )

    def known(self, found: Sequence[Sign]) -> list[Known]:
        """The signs that say something, each once (said twice is not twice as true), where it counts most."""
        best: dict[str, Sign] = {}
        for sign in found:
            if sign.key not in best or sign.weight > best[sign.key].weight:
                best[sign.key] = sign
        said = ((sign, self._wordings[sign.key, sign.surface]) for sign in best.values())
        rows = ((sign, self._concepts[sign.key] if row is None else row) for sign, row in said)
        return [(sign, row) for sign, row in rows if row is not None]

    def weigh(self, known: Sequence[Known], found: Sequence[Sign]) -> dict[str, float]:
        """Log-odds of each problem."""
        rows = np.array([row * sign.weight for sign, row in known]).reshape(len(known), len(self.problems))
        odds = rows.sum(axis=0).tolist()
        for two in dict.fromkeys(pairs(found)):
            for problem, told in self._close[two] or ():
                odds[problem] += told
        return dict(zip(self.problems, odds, strict=True))

    def told(self, known: Sequence[Known], problem: str) -> list[tuple[float, Sign]]:
        """What each sign says about one problem; below 0 it speaks against."""
        number = self._numbers[problem]
        return [(float(row[number]) * sign.weight, sign) for sign, row in known]

    def _row(self, counts: Counts) -> Odds:
        """What a sign tells of every problem; that a problem's phrases never hold it tells a little too."""
        total = sum(counts.values())
        row = np.full(len(self._sizes), UNSEEN * total / (total + DOUBT_OF_SILENCE))
        for problem, told in self._told(counts):
            row[problem] = told
        return row

    def _told(self, counts: Counts) -> Iterator[tuple[int, float]]:
        """What a sign tells of the problems that have it: of how many phrases of each, against the mean over all."""
        sizes = self._sizes
        usual = sum([count / sizes[problem] for problem, count in counts.items()]) / len(sizes)
        smooth = SMOOTHING * usual
        for problem, count in counts.items():
            told = log((count + smooth) / ((sizes[problem] + SMOOTHING) * usual))
            yield problem, (told if told < STRONGEST else STRONGEST) * count / (count + DOUBT_OF_ONE)

    def _blend(self, wording: tuple[str, str], counts: Counts) -> Odds:
        """A wording often met speaks for itself; one hardly met speaks as its concept does."""
        own, concept = self._row(counts), self._concepts[wording[0]]
        assert concept is not None, "a wording is counted together with its concept"
        met = sum(counts.values())
        share = met / (met + FAMILIAR)
        return np.asarray(own * share + concept * (1 - share))


def _count(counts: dict[K, Counts], held: Iterable[Iterable[K]], problem: int) -> None:
    """Note in how many of a problem's phrases each thing is held."""
    for one, count in Counter(chain.from_iterable(held)).items():
        counts.setdefault(one, {})[problem] = count
