"""The rules of danger by themselves: what they say of figures, what a denial or a mask takes back."""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import knowledge
from service.understanding import understand
from service.understanding.hazards import Heard
from service.understanding.normalise import Speller, tokens
from service.understanding.reader import Reader

KNOWN = knowledge.shipped()


def reader() -> Reader:
    assert KNOWN.reading
    assert KNOWN.hazards
    return Reader(KNOWN.reading, KNOWN.hazards, KNOWN.lexicon, KNOWN.facts)


READER = reader()
SPELLER = Speller(KNOWN.lexicon, READER.vocabulary)


def heard(text: str) -> Heard:
    return READER.hear(text, READER.read(text, tokens(text, SPELLER)))


def hazards(text: str) -> set[str]:
    return {rule.hazard for rule in heard(text).rules if not rule.calms}


@pytest.mark.parametrize(
    ("text", "dangerous"),
    [
        ("gauge reads 36 psi on a tank rated 35 psi", True),
        ("gauge reads 20 psi on a tank rated 35 psi", False),
        ("gauge reads 25 psi on a tank rated 35 psi and still climbing", True),
        ("gauge reads 10 psi on a tank rated 35 psi and still climbing", False),
        ("set the regulator to 3 bar, plate says max 2 bar", True),
    ],
)
def test_pressure_is_weighed_against_what_is_marked_on_the_vessel(text: str, dangerous: bool) -> None:
    assert ("over-pressure" in hazards(text)) is dangerous


@pytest.mark.parametrize(
    ("text", "dangerous"),
    [
        ("relief valve opens at 2 bar, gauge reads 2.6 bar", True),
        ("relief valve opens at 2 bar, gauge reads 1 bar", False),
    ],
)
def test_pressure_past_the_relief_valve_that_has_not_opened_is_dangerous(text: str, dangerous: bool) -> None:
    found = {rule.hazard: rule.because for rule in heard(text).rules if not rule.calms}
    assert ("over-pressure" in found) is dangerous
    assert not dangerous or found["over-pressure"] == "2.6 bar … 2 bar"


@pytest.mark.parametrize(
    ("text", "hazard", "there"),
    [
        ("the wort pump slipped into a bucket of water and is still plugged in", "electrical", True),
        ("the wort pump is running and the beer is cold", "electrical", False),
        ("put half a teaspoon of sugar in each bottle", "bursting-glass", False),
        ("how long should I wait, I never want any bottle bombs", "bursting-glass", False),
    ],
)
def test_a_danger_is_told_from_its_harmless_neighbour(text: str, hazard: str, there: bool) -> None:
    assert (hazard in hazards(text)) is there


@pytest.mark.parametrize(
    ("text", "dangerous"),
    [
        ("primed 20 litres with 300 g of dextrose and bottled", True),
        ("primed 20 litres with 130 g of dextrose and bottled", False),
        ("primed a 20 litre keg with 300 g of dextrose", False),
    ],
)
def test_priming_sugar_in_bottles_is_weighed_by_the_litre(text: str, dangerous: bool) -> None:
    assert ("bursting-glass" in hazards(text)) is dangerous


@pytest.mark.parametrize(
    "text",
    [
        "no smell of gas at the regulator",
        "I did not get a shock off the kettle",
        "nobody hurt, just a mess",
        "there is no gas leak in the cellar",
    ],
)
def test_what_is_denied_is_no_danger(text: str) -> None:
    assert hazards(text) == set()


@pytest.mark.parametrize(
    "text",
    [
        "I burst carbed it at 30 psi",
        "did I shock the yeast",
        "it has a burnt rubber taste",
        "bleed the keg first",
        "like a lager",
    ],
)
def test_words_of_the_trade_that_sound_like_danger_are_none(text: str) -> None:
    assert hazards(text) == set()


@pytest.mark.parametrize(
    ("text", "dangerous"),
    [
        ("Label says 2 bar. Sitting here watching it creep, 2.6 bar.", True),
        ("2 bar moulded on the base, holding 0.8 bar", False),
        ("relief marked 2 bar, nothing on the dial", False),
        ("tank marked 2 bar, cylinder gauge reads 50 bar", False),
        ("plate 30 psi, and I have never been above 30 psi", False),
    ],
)
def test_any_pressure_told_is_weighed_against_what_is_marked(text: str, dangerous: bool) -> None:
    assert ("over-pressure" in hazards(text)) is dangerous


@pytest.mark.parametrize(
    ("text", "dangerous"),
    [
        ("I got a shock off the kettle two years ago", False),
        ("I got a shock off the kettle two days ago", True),
        ("a regulator from two years ago, and now the kitchen smells of gas", True),
        ("is it true that bottles explode in the cupboard?", False),
        ("joking: no bottles exploded", False),
    ],
)
def test_what_is_long_over_heard_of_or_in_jest_is_no_danger_unless_it_is_so_now(text: str, dangerous: bool) -> None:
    assert bool(hazards(text)) is dangerous


@pytest.mark.parametrize(
    ("text", "dangerous"),
    [
        ("spunding set to 10 psi, the gauge reads 25 psi", True),
        ("spunding set to 10 psi, the gauge reads 13 psi", False),
        ("spunding set to 5 psi, the gauge reads 12 psi", False),
        ("spunding set to 10 psi, the gauge reads 25 psi, tank marked 60 psi", False),
    ],
)
def test_a_pressure_far_past_what_was_aimed_at_is_dangerous_unless_the_vessel_is_marked_for_it(
    text: str, dangerous: bool
) -> None:
    assert ("over-pressure" in hazards(text)) is dangerous


@pytest.mark.parametrize(
    "text",
    [
        "out of curiosity, why do bottles explode in the cupboard?",
        "a bottle exploded in the cupboard and cut my hand; it has healed",
    ],
)
def test_what_is_settled_or_only_wondered_about_is_no_danger(text: str) -> None:
    assert hazards(text) == set()


def test_strong_beer_that_has_fermented_out_may_be_bottled_at_a_high_gravity() -> None:
    assert hazards("og 1.104, bottled at 1.026") == set()
    assert hazards("og 1.050, bottled at 1.026") == {"bursting-glass"}


def test_a_danger_is_shown_in_the_customers_words() -> None:
    (found,) = heard("the kitchen smells of gas").rules
    assert found.because == "smells of gas"


def test_several_dangers_of_one_message_are_all_found() -> None:
    assert hazards("boil over put out the burner, the kitchen smells of gas and my hand is blistered by the wort") >= {
        "fuel-gas",
        "injury",
        "scald",
    }


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=400))
def test_no_text_is_too_strange_to_be_read(text: str) -> None:
    said = understand(text, KNOWN)
    assert said.text == text


@settings(max_examples=30, deadline=None)
@given(st.randoms(use_true_random=False))
def test_any_shuffle_of_a_dangerous_message_is_read_without_harm(shuffle: random.Random) -> None:
    words = [
        "the",
        "glass",
        "carboy",
        "has",
        "8",
        "psi",
        "on",
        "it",
        ",",
        "burner",
        "in",
        "the",
        "garage",
        ",",
        "bleach",
        "and",
        "acid",
        "1.050",
        "68F",
        "3",
        "days",
    ] * 8
    shuffle.shuffle(words)
    assert understand(" ".join(words), KNOWN).hazards


def test_the_same_message_is_always_read_the_same() -> None:
    text = "gauge 18 psi, set at 15, tank max 30, lager 60F, bottles gushing, smells of gas"
    assert understand(text, KNOWN) == understand(text, KNOWN)
