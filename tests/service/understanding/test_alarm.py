"""Dangers are heard by what whole messages tell, by rules, and by the trouble that goes with them, added up."""

from __future__ import annotations

from service.understanding.alarm import BY_FIGURES, BY_WORDS, CALMED, HEARD, OVER, Alarm
from service.understanding.features import Features
from service.understanding.hazards import Heard, RuleHeard
from service.understanding.model import ProblemMatch

NOTHING: Features = ({},)
QUIET = Heard()


def words(text: str) -> Features:
    found: dict[str, tuple[int, int]] = {}
    at = 0
    for word in text.split():
        found.setdefault(word, (at, at + len(word)))
        at += len(word) + 1
    return (found,)


def alarm() -> Alarm:
    told = [
        ("glass burst loud", ["glass"]),
        ("glass burst again", ["glass"]),
        ("glass stands", []),
        ("hand cut", ["hurt"]),
    ]
    return Alarm([(words(text), hazards) for text, hazards in told], {"bottles": {"glass"}, "flat": set()})


def rule(hazard: str = "glass", by_figures: bool = False, calms: bool = False) -> Heard:
    return Heard((RuleHeard(hazard, "as said", by_figures, calms),))


def dangers(weight: float, heard: Heard = QUIET, *problems: ProblemMatch) -> list[str]:
    return [one.id for one in alarm().dangers("text", NOTHING, {"glass": weight}, heard, problems)]


def test_what_messages_tell_is_enough_where_it_is_plain() -> None:
    assert dangers(HEARD) == ["glass"]
    assert dangers(HEARD - 0.01) == []


def test_a_rule_adds_to_it_and_one_that_weighs_figures_adds_more() -> None:
    assert dangers(HEARD - BY_WORDS, rule()) == ["glass"]
    assert dangers(HEARD - BY_FIGURES - 0.01, rule(by_figures=True)) == []
    assert dangers(HEARD - BY_FIGURES, rule(by_figures=True)) == ["glass"]


def test_a_rule_that_calms_takes_it_away() -> None:
    assert dangers(HEARD + CALMED - 0.01, rule(by_figures=True, calms=True)) == []


def test_the_trouble_that_goes_with_a_danger_speaks_for_it() -> None:
    assert dangers(HEARD - 0.05, QUIET, ProblemMatch("bottles", 0.9)) == ["glass"]
    assert dangers(HEARD - 0.05, QUIET, ProblemMatch("flat", 0.9)) == []


def test_what_is_told_as_over_must_be_told_more_plainly() -> None:
    assert dangers(HEARD + OVER - 0.01, Heard(over=True)) == []
    assert dangers(HEARD + OVER, Heard(over=True)) == ["glass"]


def test_a_danger_that_no_message_was_labelled_with_is_left_to_the_rules() -> None:
    assert [one.id for one in alarm().dangers("text", NOTHING, {}, rule("gas"))] == ["gas"]


def test_the_surest_danger_comes_first() -> None:
    found = alarm().dangers("text", NOTHING, {"glass": 0.5, "hurt": 0.9}, QUIET)
    assert [one.id for one in found] == ["hurt", "glass"]


def test_a_danger_is_shown_in_the_words_of_the_rule_or_in_those_that_tell_most() -> None:
    text = "they stand there and glass burst loud"
    said = words(text)
    by_rule = alarm().dangers(text, said, {"glass": 0.9}, rule())
    by_words = alarm().dangers(text, said, {"glass": 0.9}, QUIET)
    assert [one.because for one in by_rule] == ["as said"]
    assert [one.because for one in by_words] == ["glass … burst"]
