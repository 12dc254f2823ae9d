"""Text as typed → tokens: words with their spelling put right, figures, signs, each with its place and clause."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator
from functools import lru_cache

from rapidfuzz.distance import OSA
from rapidfuzz.process import extractOne

from knowledge.language import Lexicon
from service.understanding.model import Token

PIECE = re.compile(r"\b[wW]/[oO]?(?![^\W_])|\d+(?:[.,]\d+)*|[^\W\d_]+(?:['’`´][^\W\d_]+)*|[^\s_]")
BREAKS = frozenset('.,;:!?…—–()[]{}"“”*|•')
APOSTROPHES = str.maketrans("", "", "'’`´")
REPEATED = re.compile(r"(.)\1{2,}")
SHORTEST_CORRECTED = 5
LONGEST_CORRECTED = 20
TWO_ERRORS_FROM = 8
VOWELS = frozenset("aeiouy")


@lru_cache(maxsize=20_000)
def stem(word: str) -> str:
    """Cut plural, -ed and -ing. Only inflections: a fermenter is not a fermentation, and tape is not a tap."""
    if len(word) <= 3 or not word.isascii():
        return word
    word = _singular(word)
    for ending in ("ing", "ed"):
        if word.endswith(ending) and not word.endswith("eed"):
            word = _without(word, ending)
            break
    return word[:-1] if word.endswith("e") and len(word) >= 5 else word


def _singular(word: str) -> str:
    if word.endswith(("ies", "ied")):
        return word[:-3] + "y" if len(word) > 4 else word[:-1]
    if word.endswith(("sses", "xes", "ches", "shes", "zes")):
        return word[:-2]
    return word[:-1] if word.endswith("s") and not word.endswith(("ss", "us", "is")) else word


def _without(word: str, ending: str) -> str:
    """The base of an -ed or -ing form: "tapped" is tap, "taped" tape, "boiling" boil; "ring" and "bed" are no forms."""
    base = word[: -len(ending)]
    if len(base) < 2 or not VOWELS & set(base):
        return word
    if len(base) > 3 and base[-1] == base[-2] and base[-1] not in "lszeo":
        return base[:-1]
    short = len(base) == 2 or (
        len(base) == 3 and base[0] not in VOWELS and base[1] in VOWELS and base[2] not in VOWELS | set("wx")
    )
    return base + "e" if short else base


class Speller:
    """Puts one word right: known spellings first, then a near word of the vocabulary if only one letter or two differ.

    `vocabulary` is what a slip may have been meant for; `familiar` words, and `ordinary` ones of the language,
    are right as they are.
    """

    def __init__(self, lexicon: Lexicon, vocabulary: Iterable[str], familiar: Iterable[str] = ()):
        self._spellings, self._forms = lexicon.spellings, lexicon.forms
        words = {word for word in vocabulary if word.isalpha()}
        self._known = {
            stem(word) for word in (*words, *familiar, *lexicon.ordinary, *lexicon.stop, *self._spellings, *self._forms)
        }
        self._near: dict[tuple[str, int], list[str]] = defaultdict(list)
        for word in sorted(words):
            if len(word) >= SHORTEST_CORRECTED:
                self._near[word[0], len(word)].append(word)
        self.right = lru_cache(maxsize=50_000)(self._right)

    def _right(self, word: str) -> str:
        word = REPEATED.sub(r"\1\1", word)
        word = self._spellings.get(word, word)
        word = self._forms.get(word, word)
        if stem(word) in self._known or not SHORTEST_CORRECTED <= len(word) <= LONGEST_CORRECTED:
            return word
        return self._forms.get(near, near) if (near := self._nearest(word)) else word

    def _nearest(self, word: str) -> str | None:
        errors = 2 if len(word) >= TWO_ERRORS_FROM else 1
        for first in dict.fromkeys((word[0], word[1])):
            candidates = [
                near for size in range(-errors, errors + 1) for near in self._near.get((first, len(word) + size), ())
            ]
            if found := extractOne(word, candidates, scorer=OSA.distance, score_cutoff=errors):
                return str(found[0])
        return None


def words_of(phrase: str) -> Iterator[str]:
    """The words of a phrase as a message would hold them, spelling not yet put right."""
    return filter(None, (_plain(match.group()) for match in PIECE.finditer(phrase)))


@lru_cache(maxsize=50_000)
def _plain(piece: str) -> str:
    return piece.lower().translate(APOSTROPHES)


def tokens(text: str, speller: Speller, joints: frozenset[str] = frozenset()) -> tuple[Token, ...]:
    """Split a message into tokens. A clause ends at a mark, a line end or a dash, or before a joining word ("but")."""
    found: list[Token] = []
    clause = fresh = 0
    last_end = 0
    for match in PIECE.finditer(text):
        piece, start = match.group(), match.start()
        if piece in BREAKS or "\n" in text[last_end:start] or (piece == "-" and text[start - 1 : start] == " "):
            clause, fresh = clause + fresh, 0
        last_end = match.end()
        if piece in BREAKS or piece in ("-", "/"):
            continue
        word = speller.right(_plain(piece)) if piece[0].isalpha() else piece
        if word in joints:
            clause, fresh = clause + fresh, 0
        found.append(Token(piece, word, start, last_end, clause))
        fresh = 1
    return tuple(found)
