"""Named groups of words found in a message: the cues around figures, the choices, the words of danger.

The phrases of all groups stand in one trie over word stems, so one pass finds them all. In a phrase `=hopped` is
that very form, `0` any figure, `0-pressure` a pressure, `0-cup` one in a unit of no kind. What a `mask-…` group
covers is hidden from the others: "burst carbing" is no burst, "like a lager" no lager.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import product

from knowledge.language import Lexicon
from service.understanding.model import Quantity, Token
from service.understanding.normalise import APOSTROPHES, stem

OPENED = re.compile(r"\s?[(:]\s?|\s?=\s?")
"""A figure in brackets or behind a colon belongs to the word before: "carboy (6.5 gal)", "reg: 0.9 bar"."""
GAP, WIDEST_GAP = "..", 3
FIGURE = "0"
MASK = "mask-"
STOP = re.compile(r"[.;!?…\n]")
COMMA = re.compile(r"[,:()|—]|\s[-–/]+\s")
SIGNS: Mapping[str, str] = {"@": "at", "&": "and"}
"""Signs that stand for a word, and the word."""
_PLAIN_DENIALS = ("no", "not", "never", "none", "nor", "nobody", "without")
_VERBS_DENIED = ("isnt", "arent", "aint", "wasnt", "werent", "dont", "doesnt", "didnt", "hasnt", "havent", "hadnt")
DENIALS = frozenset((*_PLAIN_DENIALS, *_VERBS_DENIED))
NOTHING = frozenset(("nothing", "nothings", "noone", "hardly"))
"""What denies too, of an event: "nothing burst". Of a figure or a choice it says nothing."""
DENIAL_REACH = 4


@dataclass(frozen=True, slots=True)
class Word:
    """One word or quantity, with the number of the sentence and of the comma-part it stands in."""

    keys: tuple[str, str]
    word: str
    start: int
    end: int
    sentence: int
    part: int
    quantity: Quantity | None = None


@dataclass(frozen=True, slots=True)
class Hit:
    """A group found at words `first` up to, not including, `last`."""

    group: str
    first: int
    last: int


@dataclass(slots=True)
class _Node:
    then: dict[str, _Node] = field(default_factory=dict)
    gap: _Node | None = None
    groups: tuple[str, ...] = ()


class Terms:
    """Finds groups of words; built once from the knowledge."""

    def __init__(self, groups: Mapping[str, Iterable[str]], lexicon: Lexicon, hides: Mapping[str, Sequence[str]]):
        self._hides = hides
        self._root = _Node()
        self._lexicon = lexicon
        self.vocabulary: set[str] = set()
        for group, phrases in groups.items():
            for phrase in phrases:
                for pattern in patterns(phrase):
                    self._add(pattern, group)

    def _add(self, pattern: tuple[str, ...], group: str) -> None:
        node = self._root
        for word in pattern:
            if word == GAP:
                node.gap = node = node.gap or _Node()
                continue
            if (plain := word.removeprefix("=")).isalpha():
                self.vocabulary.add(plain)
            node = node.then.setdefault(word if word[0] in f"{FIGURE}=" else self._key(word), _Node())
        if group not in node.groups:
            node.groups += (group,)

    def _key(self, word: str) -> str:
        """What tokens turn this word into: the same spelling, the same form, its stem."""
        word = self._lexicon.spellings.get(word, word)
        word = SIGNS.get(word, word)
        return stem(self._lexicon.forms.get(word, word))

    def find(self, words: Sequence[Word]) -> list[Hit]:
        """Every group at every place: the longest phrase of a group at a place, and nothing that is masked."""
        longest: dict[tuple[str, int], int] = {}
        for first in range(len(words)):
            for group, last in _step(self._root, words, first, first):
                if last > longest.get((group, first), 0):
                    longest[group, first] = last
        hits = [Hit(group, first, last) for (group, first), last in longest.items()]
        masks: dict[int, list[Hit]] = defaultdict(list)
        for hit in hits:
            if hit.group.startswith(MASK):
                for at in range(hit.first, hit.last):
                    masks[at].append(hit)
        return [hit for hit in hits if not any(self._hides_it(mask, hit) for mask in masks.get(hit.first, ()))]

    def _hides_it(self, mask: Hit, hit: Hit) -> bool:
        return hit.last <= mask.last and (mask.group not in self._hides or hit.group in self._hides[mask.group])


def patterns(phrase: str) -> Iterator[tuple[str, ...]]:
    """Every reading of a phrase: `a|b c` is "a c" and "b c"."""
    return product(*(part.split("|") for part in phrase.lower().replace("'", "").split()))


def _walk(node: _Node, words: Sequence[Word], first: int, at: int) -> Iterator[tuple[str, int]]:
    """The groups that end on the way from a node, and the word after each; no phrase goes on over a comma."""
    for group in node.groups:
        yield group, at
    if at == len(words):
        return
    if node.then and words[at].part == words[at - 1].part:
        yield from _step(node, words, first, at)
    if node.gap:
        for skipped in range(at, min(at + WIDEST_GAP + 1, len(words))):
            if words[skipped].sentence != words[at - 1].sentence:
                return
            yield from _step(node.gap, words, first, skipped)


def _step(node: _Node, words: Sequence[Word], first: int, at: int) -> Iterator[tuple[str, int]]:
    then = node.then
    for key in words[at].keys:
        if following := then.get(key):
            yield from _walk(following, words, first, at + 1)


def _joined(tokens: Sequence[Token]) -> Iterator[Token]:
    """A letter or two with a digit on it is one word: co2, h2."""
    held: Token | None = None
    for token in tokens:
        if held and held.end == token.start and len(held.text) <= 2 and held.text.isalpha() and token.text.isdigit():
            held = Token(held.text + token.text, held.word + token.word, held.start, token.end, held.clause)
            continue
        if held:
            yield held
        held = token
    if held:
        yield held


def _typed(text: str) -> str:
    """The very form of a word; "keg's" is kegs, as it is written in the groups."""
    return text.lower().translate(APOSTROPHES)


def as_words(
    text: str, tokens: Sequence[Token], quantities: Sequence[Quantity], kinds: Mapping[str, str]
) -> list[Word]:
    """The message as words and quantities in order; `kinds` says of each unit what it measures."""
    pieces: list[tuple[int, int, str, str, Quantity | None]] = [(q.start, q.end, FIGURE, "", q) for q in quantities]
    spans = [(q.start, q.end) for q in quantities]
    at = 0
    for token in _joined(tokens):
        while at < len(spans) and spans[at][1] <= token.start:
            at += 1
        if at == len(spans) or token.end <= spans[at][0]:
            word = SIGNS.get(token.word, token.word)
            pieces.append((token.start, token.end, word, _typed(word if word != token.word else token.text), None))
    pieces.sort(key=lambda piece: piece[0])
    words: list[Word] = []
    sentence = part = last = 0
    for start, end, word, typed, quantity in pieces:
        gap = text[last:start]
        if gap and gap != " ":
            if STOP.search(gap):
                sentence, part = sentence + 1, part + 1
            elif COMMA.search(gap) and not (quantity and OPENED.fullmatch(gap)):
                part += 1
        keys = (FIGURE, f"0-{_kind(quantity, kinds)}") if quantity else (stem(word), f"={typed}")
        words.append(Word(keys, word, start, end, sentence, part, quantity))
        last = end
    return words


def _kind(quantity: Quantity, kinds: Mapping[str, str]) -> str:
    """What a figure measures; its unit, where that is of no kind: spoons, cups, volts."""
    return kinds.get(quantity.unit, quantity.unit) if quantity.unit else "bare"


def denied(words: Sequence[Word], at: int, reach: int = DENIAL_REACH, also: frozenset[str] = frozenset()) -> bool:
    """Whether a denial stands close before a word, in the same part of the sentence; `also` are more such words."""
    for back in range(at - 1, max(-1, at - 1 - reach), -1):
        if words[back].part != words[at].part:
            return False
        if words[back].word in DENIALS or words[back].word in also:
            return True
    return False
