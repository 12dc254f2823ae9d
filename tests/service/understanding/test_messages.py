"""What is read out of invented messages: both facts and dangers, facts alone (figures.yaml), dangers alone."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

import knowledge
from calculators.units import convert
from knowledge.yaml_text import read
from service.understanding import understand
from service.understanding.model import Fact

HERE = Path(__file__).parent
MESSAGES: list[dict[str, Any]] = read((HERE / "messages.yaml").read_text("utf-8")).data
FIGURES: list[dict[str, Any]] = read((HERE / "figures.yaml").read_text("utf-8")).data
DANGERS: list[dict[str, Any]] = read((HERE / "dangers.yaml").read_text("utf-8")).data
OUR_NAMES = {"inch": "in", "hour": "h", "day": "d"}
CLOSE = {"SG": 0.0006, "degC": 0.3}


def says(message: dict[str, Any]) -> str:
    return str(message["says"])[:70]


def figures(written: str) -> tuple[list[float], str]:
    """ "72 to 75 degF" is the two ends and the unit."""
    *numbers, unit = written.replace(" to ", " ").split()
    return [float(number) for number in numbers], unit


def agrees(wanted: object, fact: Fact) -> bool:
    """Whether a fact is what was said, within the tolerance of a reading."""
    if not isinstance(wanted, str) or not wanted.lstrip("-")[0].isdigit():
        return fact.value == wanted
    numbers, unit = figures(wanted)
    ours = OUR_NAMES.get(str(fact.unit), str(fact.unit))
    ends = [convert(number, OUR_NAMES.get(unit, unit), ours) for number in numbers]
    close = CLOSE.get(ours, 0.01 * abs(ends[0]) + 1e-9)
    assert isinstance(fact.value, float)
    return min(ends) - close <= fact.value <= max(ends) + close


@pytest.mark.parametrize("message", [*MESSAGES, *FIGURES], ids=says)
def test_reads_every_fact_of_a_message_and_no_other(message: dict[str, Any]) -> None:
    read_out = understand(message["says"], knowledge.shipped()).facts
    wanted = message.get("facts") or {}
    assert set(read_out) == set(wanted)
    wrong = {name: fact for name, fact in read_out.items() if not agrees(wanted[name], fact)}
    assert not wrong


@pytest.fixture(scope="module")
def dangers() -> list[tuple[set[str], set[str]]]:
    """Of each message the dangers in it, and those that were seen."""
    known = knowledge.shipped()
    return [
        (set(message.get("hazards") or ()), {hazard.id for hazard in understand(message["says"], known).hazards})
        for message in (*MESSAGES, *DANGERS)
    ]


def test_sees_nearly_every_danger(dangers: list[tuple[set[str], set[str]]]) -> None:
    missed = [there - seen for there, seen in dangers]
    assert sum(map(len, missed)) <= 0.05 * sum(len(there) for there, _ in dangers)


def test_a_message_with_a_danger_never_goes_without_any_caution_but_for_one_in_fifty(
    dangers: list[tuple[set[str], set[str]]],
) -> None:
    dangerous = [seen for there, seen in dangers if there]
    assert sum(not seen for seen in dangerous) <= 0.02 * len(dangerous)


def test_seldom_warns_of_a_danger_that_only_sounds_like_one(dangers: list[tuple[set[str], set[str]]]) -> None:
    """These harmless messages are neighbours of dangers, every one; among everyday messages far fewer are taken so."""
    calm = [seen for there, seen in dangers if not there]
    assert sum(map(bool, calm)) <= 0.15 * len(calm)


@pytest.mark.parametrize("message", MESSAGES, ids=says)
def test_every_fact_is_shown_in_the_customers_own_words(message: dict[str, Any]) -> None:
    said = {fact.said for fact in understand(message["says"], knowledge.shipped()).facts.values()}
    assert all(words and words in message["says"] for words in said)
