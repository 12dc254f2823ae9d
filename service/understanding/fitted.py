"""Weights fitted to labelled messages: how much each feature of a message speaks for each label.

Counting tells how often a word goes with a danger or a problem; it does not tell which of several words that go
together it rests on, nor what speaks against. So the weights are those of least squares with a penalty on their size
(ridge regression: Hoerl and Kennard, Technometrics 12, 1970, pp. 55-67), found by LSQR (Paige and Saunders, ACM
Transactions on Mathematical Software 8, 1982, pp. 43-71). The same messages always give the same weights, and what a
shop adds counts from the next revision on. A weight can be shown with the words it belongs to.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from math import sqrt

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array, hstack
from scipy.sparse.linalg import lsqr

from service.understanding.counting import counted
from service.understanding.features import Features
from service.understanding.saying import Span

OFTEN_ENOUGH = 2
"""In how many messages a feature must stand to have a weight."""
PENALTY = 2.0
STEPS, CLOSE_ENOUGH = 30, 3e-3
"""LSQR ends after so many steps, or when the residual changes by less than such a share."""

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Labelled:
    """A message to learn from, and its labels."""

    features: Features
    labels: Collection[str]


class Fitted:
    """The weights of all features for all labels, fitted once; then weighs any number of messages."""

    def __init__(self, messages: Sequence[Labelled]):
        self.labels = tuple(sorted({label for one in messages for label in one.labels}))
        self._kinds: list[_Kind] = []
        if self.labels:
            self._fit(messages)

    def _fit(self, messages: Sequence[Labelled]) -> None:
        kinds = list(zip(*(one.features for one in messages), strict=True))
        self._kinds = [_Kind(held, len(messages)) for held in kinds]
        matrix = hstack([kind.matrix(held) for kind, held in zip(self._kinds, kinds, strict=True)], format="csr")
        rows = np.stack([_solve(matrix, messages, label) for label in self.labels], axis=1)
        begin = 0
        for kind in self._kinds:
            kind.rows = rows[begin : begin + len(kind.rarity)] * kind.rarity[:, None]
            begin += len(kind.rarity)

    def weigh(self, message: Features) -> dict[str, float]:
        """What speaks for each label: near 1 where all does, near 0 where nothing does."""
        if not self.labels:
            return {}
        total = np.zeros(len(self.labels))
        for kind, held in zip(self._kinds, message, strict=True):
            if met := kind.met(held):
                total += kind.rows[met].sum(axis=0) / kind.length(met)
        return dict(zip(self.labels, total.tolist(), strict=True))

    def told(self, message: Features, label: str) -> Iterator[tuple[float, int, int]]:
        """What each feature says for one label, with its place."""
        number = self.labels.index(label)
        for kind, held in zip(self._kinds, message, strict=True):
            if met := kind.met(held):
                places = [place for feature, place in held.items() if feature in kind.numbers]
                weights = kind.rows[met, number] / kind.length(met)
                for weight, (start, end) in zip(weights.tolist(), places, strict=True):
                    yield weight, start, end


def _solve(matrix: csr_array, messages: Sequence[Labelled], label: str) -> Floats:
    """The weights of all features for one label."""
    wanted = np.array([float(label in one.labels) for one in messages])
    found = lsqr(matrix, wanted, damp=sqrt(PENALTY), atol=CLOSE_ENOUGH, btol=CLOSE_ENOUGH, iter_lim=STEPS)
    return np.asarray(found[0])


class _Kind:
    """The features of one kind: their numbers, how rare each is, and their weights for each label."""

    def __init__(self, held: Sequence[dict[str, Span]], messages: int):
        counts = Counter(feature for one in held for feature in one)
        often = sorted(feature for feature, count in counts.items() if count >= OFTEN_ENOUGH)
        self.numbers = {feature: number for number, feature in enumerate(often)}
        self.rarity: Floats = np.array([np.log((1 + messages) / (1 + counts[feature])) + 1 for feature in often])
        self.rows: Floats = np.zeros((len(often), 0))
        self._squares = self.rarity**2

    def met(self, held: dict[str, Span]) -> list[int]:
        """The numbers of the features that have a weight."""
        numbers = self.numbers
        return [numbers[feature] for feature in held if feature in numbers]

    def length(self, met: Sequence[int]) -> float:
        """What a message is divided by, so that a long one counts no more than a short one."""
        return sqrt(float(self._squares[met].sum()))

    def matrix(self, held: Sequence[dict[str, Span]]) -> csr_array:
        """One row for each message: its features by rarity, of length 1."""
        met = [self.met(one) for one in held]
        shares = np.array([1 / self.length(one) if one else 0.0 for one in met])
        return counted(met, len(self.numbers)).multiply(self.rarity).multiply(shares[:, None]).tocsr()
