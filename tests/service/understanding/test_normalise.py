"""Text as typed becomes words with their spelling put right, each with its place and its clause."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowledge.language import Lexicon
from service.understanding.normalise import Speller, stem, tokens

LEXICON = Lexicon(spellings={"fermentor": "fermenter", "w/o": "without"}, forms={"blew": "blow"}, ordinary=("wedding",))
SPELLER = Speller(LEXICON, ["poppet", "fermenter", "spunding", "welding", "hydrometer", "blow"], ["kettle"])


@pytest.mark.parametrize(
    ("typed", "right"),
    [
        ("popet", "poppet"),
        ("spundnig", "spunding"),
        ("hydromter", "hydrometer"),
        ("hydrmoetr", "hydrometer"),
        ("fermentor", "fermenter"),
        ("blew", "blow"),
    ],
)
def test_a_slip_is_put_right(typed: str, right: str) -> None:
    assert SPELLER.right(typed) == right


@pytest.mark.parametrize("word", ["wedding", "kettle", "kettles", "beer", "gin", "porridge"])
def test_a_word_that_is_right_is_left_alone(word: str) -> None:
    assert SPELLER.right(word) == word


@pytest.mark.parametrize(
    ("word", "base"),
    [("bottles", "bottling"), ("stopped", "stopping"), ("primed", "prime"), ("carries", "carry"), ("boxes", "box")],
)
def test_forms_of_one_word_share_a_stem(word: str, base: str) -> None:
    assert stem(word) == stem(base)


@pytest.mark.parametrize(
    ("one", "other"), [("tape", "tap"), ("tube", "tub"), ("bare", "bar"), ("fermenter", "ferment"), ("hose", "hos")]
)
def test_different_words_keep_different_stems(one: str, other: str) -> None:
    assert stem(one) != stem(other)


def test_every_token_keeps_its_place_in_the_text() -> None:
    text = "It's 58c, 12psi\nand foaming!"
    assert [text[token.start : token.end] for token in tokens(text, SPELLER)] == [
        "It's", "58", "c", "12", "psi", "and", "foaming",
    ]  # fmt: skip


def test_a_clause_ends_at_a_mark_a_line_end_or_a_joining_word() -> None:
    split = tokens("no foam, lots of gas but flat\nhelp", SPELLER, frozenset({"but"}))
    assert [token.clause for token in split] == [0, 0, 1, 1, 1, 2, 2, 3]


def test_a_shortened_without_is_one_word() -> None:
    assert [token.word for token in tokens("open it w/o foam", SPELLER)] == ["open", "it", "without", "foam"]


@given(st.text(max_size=300))
def test_any_text_can_be_split(text: str) -> None:
    for token in tokens(text, SPELLER):
        assert text[token.start : token.end] == token.text
