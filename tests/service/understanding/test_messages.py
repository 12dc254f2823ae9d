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


@pytest.mark.parametrize("message", [*MESSAGES, *DANGERS], ids=says)
def test_sees_every_danger_of_a_message_and_no_other(message: dict[str, Any]) -> None:
    found = {hazard.id for hazard in understand(message["says"], knowledge.shipped()).hazards}
    assert found == set(message.get("hazards") or ())


@pytest.mark.parametrize("message", MESSAGES, ids=says)
def test_every_fact_is_shown_in_the_customers_own_words(message: dict[str, Any]) -> None:
    said = {fact.said for fact in understand(message["says"], knowledge.shipped()).facts.values()}
    assert all(words and words in message["says"] for words in said)
