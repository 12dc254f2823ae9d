"""The customers' own wording: words and groups of letters, counted, compare the problems with each other."""

from __future__ import annotations

from math import log, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.understanding.model import Token
from service.understanding.wording import FEW_LETTERS, FEW_WORDS, SHARE, UNMET, WordingIndex, groups, worded

LEAK = ["the keg leaks", "gas leaks from the post", "hissing post"]
FLAT = ["the beer is flat", "no fizz in the beer", "flat keg"]


def tokens(text: str) -> list[Token]:
    found, at = [], 0
    for word in text.split():
        found.append(Token(word, word.lower(), at, at + len(word), 0))
        at += len(word) + 1
    return found


def index(**phrases: list[str]) -> WordingIndex:
    return WordingIndex({name: [worded(tokens(one)) for one in all_] for name, all_ in phrases.items()})


def weigh(of: WordingIndex, text: str) -> dict[str, float]:
    return of.weigh(of.tell(tokens(text)))


def test_words_met_with_one_problem_speak_for_it() -> None:
    odds = weigh(index(leak=LEAK, flat=FLAT), "post leaks gas")
    assert odds["leak"] > 0 > odds["flat"]


def test_a_word_never_met_is_heard_by_its_letters() -> None:
    odds = weigh(index(leak=LEAK, flat=FLAT), "leaky")
    assert odds["leak"] > odds["flat"]


def test_what_shares_no_letters_with_anything_says_nothing() -> None:
    assert set(weigh(index(leak=LEAK, flat=FLAT), "zzqq").values()) == {0.0}


def test_figures_are_words_too_and_said_twice_is_not_twice_as_true() -> None:
    assert worded(tokens("12 Psi twelve psi 30")) == {"12", "psi", "twelve", "30"}
    of = index(leak=LEAK, flat=FLAT)
    assert weigh(of, "leaks leaks leaks") == pytest.approx(weigh(of, "leaks"))


def test_groups_of_letters_know_where_a_word_begins_and_ends() -> None:
    assert set(groups("keg")) == {" ke", "keg", "eg ", " keg", "keg ", " keg "}


def test_each_word_is_shown_with_its_place_and_its_part_of_the_whole() -> None:
    of = index(leak=LEAK, flat=FLAT)
    said = of.tell(tokens("the post leaks"))
    places = {(start, end) for _, start, end in of.told(said, "leak")}
    assert places == {(0, 3), (4, 8), (9, 14)}
    assert sum(weight for weight, _, _ in of.told(said, "leak")) == pytest.approx(of.weigh(said)["leak"])


def test_the_weight_of_a_word_can_be_worked_out_by_hand() -> None:
    """Two phrases of one letter, so that word and letter group are one: the formula of Rennie et al. (2003)."""
    rare = log((1 + 2) / (1 + 1)) + 1  # one of two phrases holds it
    met, unmet = 1.0 + UNMET, UNMET  # its weight over the length of its phrase, and what is added everywhere
    ahead = log(met / (met + unmet)) - log(unmet / (met + unmet))
    lengths = 1 / sqrt(max(FEW_WORDS, rare**2)) + 1 / sqrt(max(FEW_LETTERS, rare**2))
    expected = ahead / 2 * rare * SHARE * lengths
    assert weigh(index(leak=["a"], flat=["b"]), "a") == pytest.approx({"leak": expected, "flat": -expected})


@given(st.lists(st.sampled_from([word for one in LEAK + FLAT for word in one.split()]), min_size=1, max_size=30))
def test_the_order_of_words_does_not_matter(words: list[str]) -> None:
    of = index(leak=LEAK, flat=FLAT)
    assert weigh(of, " ".join(words)) == pytest.approx(weigh(of, " ".join(reversed(words))))


def test_no_phrases_at_all_say_nothing() -> None:
    assert weigh(index(leak=[], flat=[]), "hiss") == {"leak": 0.0, "flat": 0.0}
