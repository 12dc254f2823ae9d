"""The search for ways to findings finds what can be reached, and does not claim what cannot."""

from __future__ import annotations

from typing import Any

import pytest

from knowledge import Knowledge
from knowledge.schema import Finding, Problem
from service.diagnosis.paths import ways_to_findings


def test_there_is_a_way_to_every_finding_of_the_sample(sample: Knowledge) -> None:
    for problem in sample.problems.values():
        findings = {name for name, node in problem.nodes.items() if isinstance(node, Finding)}
        assert ways_to_findings(problem, sample).keys() == findings


def test_a_finding_behind_what_was_never_asked_is_reached_by_something_said_before(sample: Knowledge) -> None:
    way = ways_to_findings(sample.problems["pressure-too-high"], sample)["calm"]
    assert way.said.keys() & {"beer_temperature", "dry_hopped"}


@pytest.mark.parametrize(
    "never",
    [
        {"all": [{"fact": "dry_hopped", "is": True}, {"fact": "dry_hopped", "is": False}]},
        {"fact": "rated_pressure", "above": "1000 bar"},
        {"fact": "gauge_pressure", "above": {"fact": "gauge_pressure"}},
    ],
)
def test_a_finding_behind_a_condition_that_never_holds_is_not_reached(sample: Knowledge, never: dict[str, Any]) -> None:
    tree = sample.problems["pressure-too-high"].model_dump(by_alias=True)
    tree["nodes"]["warm"]["branches"][0]["when"] = never
    assert "calm" not in ways_to_findings(Problem.model_validate(tree), sample)


def test_the_search_finds_the_same_ways_every_time(sample: Knowledge) -> None:
    problem = sample.problems["pressure-too-high"]
    assert ways_to_findings(problem, sample) == ways_to_findings(problem, sample)
