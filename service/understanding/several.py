"""Several troubles in one message: every sentence is also heard by itself, and what is sure then is kept in mind."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence, Set

from service.understanding.model import Mention, ProblemMatch, Token
from service.understanding.problems import Heard

ENDS = re.compile(r"[.!?;\n]")
ANOTHER = frozenset({"also", "plus", "another", "second", "secondly"})
"""Words that begin the telling of something else."""
SHORTEST = 3
SURE_BY_ITSELF = 0.8
PERHAPS_THE_SAME = 0.05
"""From this score on, a sentence may be about the main trouble after all."""

Matches = tuple[ProblemMatch, ...]
Hear = Callable[[str, Sequence[Token], Sequence[Mention]], Heard]


def besides(
    text: str,
    tokens: Sequence[Token],
    mentions: Sequence[Mention],
    troubles: Sequence[Mention],
    main: ProblemMatch,
    hear: Hear,
) -> list[Heard]:
    """The sentences that tell of a trouble by themselves beside the main one, one for each such trouble.

    `troubles` are the mentions that are no mere circumstance: a sentence without any tells of nothing.
    """
    sentences = list(parts(text, tokens))
    found: dict[str, Heard] = {}
    for sentence in sentences if len(sentences) > 1 else ():
        start, end = sentence[0].start, sentence[-1].end
        if not any(start <= one.start < end for one in troubles):
            continue
        if 2 * sum(words in text[start:end] for words in main.matched) > len(main.matched):
            continue  # most of what tells of the main trouble stands here
        heard = hear(text, sentence, [one for one in mentions if start <= one.start and one.end <= end])
        if heard.ranked and heard.ranked[0][1] >= SURE_BY_ITSELF and not _may_be(main.id, heard):
            found.setdefault(heard.ranked[0][0], heard)
    return list(found.values())


def _may_be(main: str, heard: Heard) -> bool:
    return any(problem == main and score >= PERHAPS_THE_SAME for problem, score in heard.ranked)


def parts(text: str, tokens: Sequence[Token]) -> Iterator[Sequence[Token]]:
    """The sentences of a message that are long enough to tell something."""
    begins = [0]
    for index in range(1, len(tokens)):
        between = text[tokens[index - 1].end : tokens[index].start]
        if ENDS.search(between) or tokens[index].word in ANOTHER:
            begins.append(index)
    for begin, end in zip(begins, [*begins[1:], len(tokens)], strict=True):
        if end - begin >= SHORTEST:
            yield tokens[begin:end]


def dangerous_first(ranked: Matches, others: Matches, dangerous: Set[str]) -> tuple[Matches, Matches]:
    """Begin with a trouble that goes with a danger in the message, where the main one goes with none.

    `dangerous` are the problems that go with the dangers found.
    """
    first = next((one for one in others if one.id in dangerous), None)
    if first is None or ranked[0].id in dangerous:
        return ranked, others
    rest = tuple(one for one in others if one.id != first.id)
    return (first, *(one for one in ranked if one.id != first.id))[: len(ranked)], (ranked[0], *rest)
