"""Two troubles in one message: one is taken up, the more dangerous first; the other is kept in mind and offered."""

from __future__ import annotations

import pytest

from knowledge import shipped
from service.consultation import Turn
from service.desk import consult
from service.understanding import understand
from service.understanding.model import ProblemMatch, Token
from service.understanding.several import dangerous_first, parts


def tokens(text: str) -> list[Token]:
    found, at = [], 0
    for word in text.split(" "):
        bare = word.strip(".?\n")
        start = at + word.index(bare)
        found.append(Token(bare, bare.lower(), start, start + len(bare), 0))
        at += len(word) + 1
    return found


def told(text: str) -> list[str]:
    return [" ".join(token.text for token in part) for part in parts(text, tokens(text))]


def test_a_message_is_heard_sentence_by_sentence() -> None:
    assert told("My keg pours foam. Then the lager smells") == ["My keg pours foam", "Then the lager smells"]
    assert told("my keg pours foam also the lager smells") == ["my keg pours foam", "also the lager smells"]


def test_a_cry_is_no_sentence_of_its_own() -> None:
    assert told("Help please. My keg pours only foam") == ["My keg pours only foam"]


def match(problem: str) -> ProblemMatch:
    return ProblemMatch(problem, 0.95, (), ())


def test_the_trouble_that_goes_with_a_danger_comes_first() -> None:
    flat, burn, hot = match("flat-bottles"), match("chemical-exposure"), match("pitched-too-hot")
    dangers = {"chemical-exposure"}
    assert dangerous_first((flat, hot), (burn,), dangers) == ((burn, flat), (flat,))
    assert dangerous_first((burn, hot), (flat,), dangers) == ((burn, hot), (flat,))
    assert dangerous_first((flat, hot), (burn,), set()) == ((flat, hot), (burn,))


@pytest.mark.parametrize(
    ("text", "first", "other"),
    [
        ("The keg pours nothing but foam. Also the lager smells of rotten eggs.", None, None),
        ("My stout is flat in the bottle. And I got caustic in my eye, it burns.", "chemical-exposure", "flat-bottles"),
        ("Mash is stuck, nothing runs out. My bottled stout gushes every time.", "gushing-bottles", "stuck-sparge"),
    ],
)
def test_both_troubles_of_a_message_are_known(text: str, first: str | None, other: str | None) -> None:
    read = understand(text, shipped())
    known = [read.ranked[0].id, *(one.id for one in read.others)]
    assert known == [first, other] if first else set(known) == {"foamy-pour", "sulfur-smell"}


def test_the_other_trouble_is_offered_with_the_answer() -> None:
    said = consult([Turn(text="Nothing runs out of the mash, it is stuck. Also my bottles are flat.")], shipped())
    assert {said.problems[0].id, *(one.id for one in said.also)} == {"stuck-sparge", "flat-bottles"}


def test_one_trouble_told_in_two_sentences_is_one() -> None:
    read = understand("My keg is flat. It had a week at 10 psi and there is no fizz in it.", shipped())
    assert [read.ranked[0].id, *read.others] == ["flat-keg"]
