"""The customers' own wording of each problem → log-odds for a message, word by word, known to the lexicon or not.

The second opinion beside the concepts: they carry meaning, this carries the manner of speaking, and a word that is
new is still heard by the groups of letters it shares with others ("gushed", "gushy"). All that was said of a problem
is one bag of words and one of letter groups, weighed by how rare each is and by the length of its phrase; a word tells
`log(P(word | problem))` against the mean over all problems (a multinomial naive Bayes over tf-idf, Rennie et al.,
"Tackling the poor assumptions of naive Bayes text classifiers", ICML 2003). Nothing is fitted: it is counting, so
the same phrases give the same weights, and a phrase that a shop adds counts at once.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import chain
from math import sqrt

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array

from service.understanding.counting import counted
from service.understanding.model import Token

SHORTEST, LONGEST = 3, 5
"""Letters in a group; the space before and after the word counts, so that beginnings and ends are told apart."""
UNMET = 0.1
"""What is added to the weight of every word in every bag, so that a word never met there forbids nothing."""
SHARE = 3.0
"""What the wording weighs against one concept's log-odds."""
FEW_WORDS, FEW_LETTERS = 500.0, 3800.0
"""The squared weights of a dozen words: a shorter message counts no more for being short."""
REMEMBERED = 20_000
"""Words whose weights are kept at hand."""

Floats = NDArray[np.float64]
Rows = NDArray[np.float32]
Whole = NDArray[np.intp]
Phrases = Mapping[str, Sequence[frozenset[str]]]


def worded(tokens: Iterable[Token]) -> frozenset[str]:
    """The words of a phrase as they were typed: figures too, for 1.050 is a gravity and 68 a mash."""
    return frozenset(map(_word, tokens))


def _word(token: Token) -> str:
    return token.text.lower()


def groups(word: str) -> Iterator[str]:
    """The groups of letters of a word: " ke", "keg", "eg ", " keg" …"""
    spaced = f" {word} "
    for size in range(SHORTEST, LONGEST + 1):
        yield from (spaced[at : at + size] for at in range(len(spaced) - size + 1))


@dataclass(frozen=True, slots=True)
class Spoken:
    """One word: what it tells of each problem by itself and by its letters, and the squared weight of both."""

    word: Rows
    letters: Rows
    of_word: float
    of_letters: float


@dataclass(frozen=True, slots=True)
class Worded:
    """The words of a message with their places (half-open), what each tells of all problems alone and by its letters
    (a row for each word), and what a weight of each kind counts in it."""

    places: Sequence[tuple[int, int]]
    words: Rows
    letters: Rows
    by_word: float
    by_letters: float


class WordingIndex:
    """The phrases of all problems as bags, built once from one revision of the knowledge."""

    def __init__(self, phrases: Phrases):
        self.problems = tuple(sorted(phrases))
        self._numbers = {problem: number for number, problem in enumerate(self.problems)}
        self._nothing = np.zeros(len(self.problems), dtype=np.float32)
        vocabulary = sorted({word for all_ in phrases.values() for phrase in all_ for word in phrase})
        self._words = {word: number for number, word in enumerate(vocabulary)}
        spelt = [list(groups(word)) for word in vocabulary]
        self._groups = {group: number for number, group in enumerate(dict.fromkeys(chain.from_iterable(spelt)))}
        said = [(number, phrase) for number, one in enumerate(self.problems) for phrase in phrases[one] if phrase]
        self._weigh_all(
            counted([[self._words[word] for word in sorted(phrase)] for _, phrase in said], len(vocabulary)),
            counted([[self._groups[group] for group in one] for one in spelt], len(self._groups)),
            np.array([number for number, _ in said], dtype=np.intp),
        )
        self._known = lru_cache(maxsize=REMEMBERED)(self._spoken)

    def _weigh_all(self, phrases: csr_array, spelt: csr_array, problem: Whole) -> None:
        """What every word and letter group tells: the words of each phrase, the groups of each word, and whose each
        phrase is."""
        count = len(problem)
        met = phrases.sum(axis=0)
        rare, rare_group = _rarity(met, count), _rarity(spelt.T @ met, count)
        squares = spelt @ rare_group**2
        in_words = self._shared(phrases, problem, rare**2)
        in_letters = self._shared(phrases, problem, squares)
        of_words = _tells(in_words * rare[:, None]) * rare[:, None]
        self._of_groups = _tells(spelt.T @ in_letters * rare_group[:, None]) * rare_group[:, None]
        of_letters = spelt @ self._of_groups
        self._of_words, self._of_letters = of_words.astype(np.float32), of_letters.astype(np.float32)
        self._squares, self._group_squares = np.stack([rare**2, squares], axis=1), rare_group**2

    def _shared(self, phrases: csr_array, problem: Whole, squares: Floats) -> Floats:
        """How much of each word stands in the phrases of each problem, each phrase being of length 1."""
        count = len(problem)
        parts = 1 / np.sqrt(phrases @ squares)
        whose = csr_array((parts, (np.arange(count), problem)), shape=(count, len(self.problems)))
        return np.asarray((phrases.T @ whose).toarray())

    def tell(self, tokens: Iterable[Token]) -> Worded:
        """The words of a message, each once: said twice is not twice as true."""
        first = {_word(token): (token.start, token.end) for token in reversed(list(tokens))}
        spoken = [self._known(word) for word in first]
        by_word = SHARE / sqrt(max(FEW_WORDS, sum(one.of_word for one in spoken)))
        by_letters = SHARE / sqrt(max(FEW_LETTERS, sum(one.of_letters for one in spoken)))
        rows = len(spoken), len(self.problems)
        words = np.array([one.word for one in spoken], dtype=np.float32).reshape(rows)
        letters = np.array([one.letters for one in spoken], dtype=np.float32).reshape(rows)
        return Worded(list(first.values()), words, letters, by_word, by_letters)

    def weigh(self, said: Worded) -> dict[str, float]:
        """The log-odds of each problem."""
        words, letters = (rows.sum(axis=0, dtype=np.float64) for rows in (said.words, said.letters))
        total = words * said.by_word + letters * said.by_letters
        return dict(zip(self.problems, total.tolist(), strict=True))

    def told(self, said: Worded, problem: str) -> Iterator[tuple[float, int, int]]:
        """What each word says about one problem, with its place; below 0 it speaks against."""
        number = self._numbers[problem]
        weights = said.words[:, number] * said.by_word + said.letters[:, number] * said.by_letters
        for weight, (start, end) in zip(weights.tolist(), said.places, strict=True):
            yield weight, start, end

    def _spoken(self, word: str) -> Spoken:
        number = self._words.get(word)
        if number is not None:
            of_word, of_letters = self._squares[number].tolist()
            return Spoken(self._of_words[number], self._of_letters[number], of_word, of_letters)
        known = [self._groups[group] for group in groups(word) if group in self._groups]
        letters = self._of_groups[known].sum(axis=0).astype(np.float32) if known else self._nothing
        return Spoken(self._nothing, letters, 0.0, float(self._group_squares[known].sum()) if known else 0.0)


def _rarity(met: NDArray[np.int_] | Floats, phrases: int) -> Floats:
    """The inverse document frequency: how rare a word is over all phrases."""
    return np.asarray(np.log((1 + phrases) / (1 + np.minimum(met, phrases))) + 1, dtype=np.float64)


def _tells(bags: Floats) -> Floats:
    """Log of each word's share in each problem's bag, against the mean over all problems."""
    shares = bags + UNMET
    told = np.log(shares / shares.sum(axis=0))
    return np.asarray(told - told.mean(axis=1, keepdims=True), dtype=np.float64)
