"""Evidence that the knowledge names: concepts in one breath, denials, and facts against figures and each other."""

from __future__ import annotations

import pytest

from knowledge.language import Evidence, EvidenceLists, FactIs, Symptoms
from service.understanding.evidence import BREATH, EvidenceIndex, holds
from service.understanding.model import Fact, Mention, Time

NAMES = ("bottle", "keg", "foam", "vessel")
WIDER = {name: frozenset({name}) for name in NAMES} | {"keg": frozenset({"keg", "vessel"})}


def mention(concept: str, start: int, negated: bool = False, time: Time = "now") -> Mention:
    return Mention(concept, start, start + 3, concept, 0, negated, time)


def found(one: Evidence, mentions: list[Mention], facts: dict[str, Fact] | None = None) -> list[float]:
    symptoms = Symptoms(id="foaming", symptoms=("foam",), evidence=EvidenceLists(for_=(one,)))
    return [told.weight for told in EvidenceIndex({"foaming": symptoms}, WIDER).find(mentions, facts or {})]


def fact(name: str, value: float | str | bool | None) -> dict[str, Fact]:
    return {name: Fact(name, value)}


BOTH = Evidence(concepts=("bottle|keg", "foam"), weight=2)


def test_all_concepts_in_one_breath_are_evidence() -> None:
    assert found(BOTH, [mention("keg", 0), mention("foam", BREATH)]) == [2]


def test_too_far_apart_they_are_none_unless_anywhere_will_do() -> None:
    far = [mention("keg", 0), mention("foam", BREATH + 1)]
    assert found(BOTH, far) == []
    assert found(BOTH.model_copy(update={"anywhere": True}), far) == [2]


def test_a_second_mention_close_by_counts() -> None:
    assert found(BOTH, [mention("keg", 0), mention("keg", 500), mention("foam", 510)]) == [2]


def test_a_denied_concept_is_not_the_concept() -> None:
    denied = [mention("keg", 0), mention("foam", 10, negated=True)]
    assert found(BOTH, denied) == []
    assert found(Evidence(concepts=("keg", "!foam"), weight=1), denied) == [1]


def test_an_earlier_batch_is_no_evidence() -> None:
    assert found(BOTH, [mention("keg", 0, time="past"), mention("foam", 10)]) == []


def test_a_narrower_concept_is_its_broader_one_too() -> None:
    assert found(Evidence(concepts=("vessel",), weight=1), [mention("keg", 0)]) == [1]


def test_evidence_speaks_once_however_often_it_is_said() -> None:
    assert found(BOTH, [mention("keg", 0), mention("foam", 5), mention("keg", 10), mention("foam", 15)]) == [2]


@pytest.mark.parametrize(
    ("condition", "value", "true"),
    [
        (FactIs(fact="dry_hopped", equals=True), True, True),
        (FactIs(fact="dry_hopped", equals=True), False, False),
        (FactIs(fact="vessel_type", one_of=("keg",)), "keg", True),
        (FactIs(fact="vessel_type", one_of=("keg",)), "bottle", False),
        (FactIs(fact="mash_ph"), 5.4, True),
        (FactIs(fact="mash_ph"), None, False),
        (FactIs(fact="mash_ph", at_least=5.6), 5.6, True),
        (FactIs(fact="mash_ph", at_most=5.2), 5.4, False),
    ],
)
def test_a_fact_is_as_the_evidence_says(condition: FactIs, value: float | str | bool | None, true: bool) -> None:
    assert holds(condition, fact(condition.fact, value)) is true


def test_two_facts_are_compared() -> None:
    above = FactIs(fact="gauge_pressure", above="set_pressure")
    assert holds(above, fact("gauge_pressure", 1.5) | fact("set_pressure", 1.0))
    assert not holds(above, fact("gauge_pressure", 1.0) | fact("set_pressure", 1.0))
    assert not holds(above, fact("gauge_pressure", 1.5))


def test_what_a_problem_cannot_be_without_is_missed() -> None:
    symptoms = Symptoms(id="foaming", symptoms=("foam",), evidence=EvidenceLists(needs=(("bottle", "keg"),)))
    index = EvidenceIndex({"foaming": symptoms}, WIDER)
    assert index.lacking([mention("foam", 0)]) == ["foaming"]
    assert index.lacking([mention("keg", 0)]) == []


def test_evidence_of_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="evidence names concepts, facts or a hazard"):
        Evidence(weight=1)
