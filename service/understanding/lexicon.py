"""Tokens → mentions: what the lexicon knows, found by words and short phrases, with negation, time and subject.

The phrases stand in a trie over word stems, so the work grows with the message and hardly with the lexicon.
Negation is settled here, before anything is scored: "no film" and "film" are never the same evidence.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import groupby, product
from operator import attrgetter

from knowledge.language import Lexicon
from service.understanding.model import Mention, Time, Token
from service.understanding.normalise import stem, words_of

GAP = ".."
EXACT = "="
WIDEST_GAP = 3
NEGATION_REACH = 6
NEGATOR = "negator"
NOT_A_DENIAL = "not-a-denial"
TIMES: Mapping[str, Time] = {"time-past": "past", "time-planned": "planned", "time-if": "hypothetical"}
SOMEONE_ELSE = "someone-else"
FIGURE = "0"


Keys = tuple[str, str]
"""The stem of a word, and the word itself as an exact form."""


@dataclass(slots=True)
class Node:
    """One step of the trie: what may follow, what may follow after a gap, and the concepts that end here."""

    then: dict[str, Node] = field(default_factory=dict)
    gap: Node | None = None
    concepts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Found:
    """One phrase of the lexicon in the message: half-open range of tokens; `loose` if it spans a gap."""

    concept: str
    first: int
    last: int
    loose: bool


class Annotator:
    """Finds every concept of the lexicon in a message."""

    def __init__(self, lexicon: Lexicon):
        self._root = Node()
        self._lexicon = lexicon
        for name, concept in lexicon.concepts.items():
            for words in concept.words:
                for pattern in expand(words):
                    self._add(pattern, name)

    def _add(self, pattern: tuple[str, ...], concept: str) -> None:
        node = self._root
        for word in pattern:
            if word == GAP:
                node.gap = node = node.gap or Node()
            else:
                node = node.then.setdefault(self._key(word), Node())
        if concept not in node.concepts:
            node.concepts += (concept,)

    def _key(self, word: str) -> str:
        """What tokens turn this word into: the same spelling, the same form, its stem; `=word` is that very form."""
        if word[0] == EXACT:
            return word
        word = self._lexicon.spellings.get(word, word)
        return key(self._lexicon.forms.get(word, word))

    def mentions(self, text: str, tokens: Sequence[Token]) -> tuple[Mention, ...]:
        """Every mention in the order of the message; a phrase hides the shorter ones inside it."""
        keys = [(key(token.word), EXACT + token.text.lower()) for token in tokens]
        clauses = [token.clause for token in tokens]
        found = list(_longest(self._matches(keys, clauses)))
        denied = _denied(found, clauses)
        times, others = _scopes(found, clauses)
        return tuple(
            Mention(
                concept=one.concept,
                start=tokens[one.first].start,
                end=tokens[one.last - 1].end,
                said=text[tokens[one.first].start : tokens[one.last - 1].end],
                clause=clauses[one.first],
                negated=denied[one.first],
                time=times.get(clauses[one.first], "now"),
                subject="other" if clauses[one.first] in others else "self",
            )
            for one in found
            if one.concept != NEGATOR
        )

    def _matches(self, keys: Sequence[Keys], clauses: Sequence[int]) -> Iterator[Found]:
        for first in range(len(keys)):
            yield from _walk(self._root, keys, clauses, first, first, False)


@lru_cache(maxsize=50_000)
def key(word: str) -> str:
    """What stands for a word in the trie: its stem; every figure is the same to a phrase."""
    return FIGURE if word[0].isdigit() else stem(word)


def expand(words: str) -> Iterator[tuple[str, ...]]:
    """Every reading of a phrase: `a|b c` is "a c" and "b c"; `0v` is "0 v", as in a message."""
    for reading in product(*(part.split("|") if part != GAP else (GAP,) for part in words.lower().split())):
        yield tuple(
            piece for part in reading for piece in ([part] if part[0] in f"{GAP[0]}{EXACT}" else words_of(part))
        )


def _walk(
    node: Node, keys: Sequence[Keys], clauses: Sequence[int], first: int, at: int, loose: bool
) -> Iterator[Found]:
    for concept in node.concepts:
        yield Found(concept, first, at, loose)
    if at < len(keys):
        for word in keys[at]:
            if following := node.then.get(word):
                yield from _walk(following, keys, clauses, first, at + 1, loose)
    if node.gap:
        for skipped in range(at, min(at + WIDEST_GAP + 1, len(keys))):
            if clauses[skipped] > clauses[first] + 1:
                return
            for word in keys[skipped]:
                if following := node.gap.then.get(word):
                    yield from _walk(following, keys, clauses, first, skipped + 1, loose or skipped > at)


def _longest(matches: Iterable[Found]) -> Iterator[Found]:
    """Drop what lies inside a longer phrase that has no gap. Matches come in order of their first token."""
    reach = 0
    for _, same in groupby(matches, key=attrgetter("first")):
        here = list(same)
        longest = max((one.last for one in here if not one.loose), default=0)
        yield from (one for one in here if one.last > reach and (one.loose or one.last == longest))
        reach = max(reach, longest)


def _denied(found: Sequence[Found], clauses: Sequence[int]) -> list[bool]:
    """For each token, whether a denial before it in its clause reaches it."""
    denied = [False] * (len(clauses) + 1)
    for one in found:
        if one.concept == NEGATOR:
            for at in range(one.last, min(one.last + NEGATION_REACH, len(clauses))):
                if clauses[at] != clauses[one.first]:
                    break
                denied[at] = True
    return denied


def _scopes(found: Sequence[Found], clauses: Sequence[int]) -> tuple[dict[int, Time], set[int]]:
    times: dict[int, Time] = {}
    others: set[int] = set()
    for one in found:
        if one.concept in TIMES:
            times.setdefault(clauses[one.first], TIMES[one.concept])
        elif one.concept == SOMEONE_ELSE:
            others.add(clauses[one.first])
    return times, others
