"""What a whole message holds, with the place of each: words, words side by side, concepts, concepts close together.

These are the features that weights are fitted for (see `fitted`). Words are taken by their stems, spelling put right;
a concept that is denied is another one.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

from service.understanding.model import Mention, Token
from service.understanding.normalise import stem
from service.understanding.saying import Span
from service.understanding.symptoms import DENIED, GRAMMAR

CLOSE = 7
"""Of how many following concepts one is taken together with each."""

Features = tuple[dict[str, Span], ...]
"""Features of each kind, with where each stands first."""


def features(tokens: Sequence[Token], mentions: Iterable[Mention]) -> Features:
    """The features of a message, kind by kind."""
    stems = [(stem(token.word), token.start, token.end) for token in tokens]
    words: dict[str, Span] = {}
    for word, start, end in stems:
        words.setdefault(word, (start, end))
    beside: dict[str, Span] = {}
    for (word, start, _), (other, _, end) in pairwise(stems):
        beside.setdefault(f"{word} {other}", (start, end))
    return words, beside, *_of_concepts([one for one in mentions if one.concept not in GRAMMAR])


def _of_concepts(mentions: Sequence[Mention]) -> tuple[dict[str, Span], dict[str, Span]]:
    keys = [DENIED * one.negated + one.concept for one in mentions]
    concepts: dict[str, Span] = {}
    together: dict[str, Span] = {}
    for at, one in enumerate(mentions):
        concepts.setdefault(keys[at], (one.start, one.end))
        for later in range(at + 1, min(at + 1 + CLOSE, len(mentions))):
            pair = " & ".join(sorted((keys[at], keys[later])))
            together.setdefault(pair, (one.start, max(one.end, mentions[later].end)))
    return concepts, together
