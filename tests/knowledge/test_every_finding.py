"""Every finding of every tree is reached by saying and answering things, in few questions, with its cautions."""

from __future__ import annotations

from functools import cache

import pytest

from knowledge import shipped
from knowledge.schema import Finding
from knowledge.tables import QuantityFact
from service.consultation import Units
from service.diagnosis import diagnose
from service.diagnosis.paths import Answer, Way, ways_to_findings
from service.understanding.model import Fact

MOST_QUESTIONS = 7
FINDINGS = [
    pytest.param(problem.id, name, id=f"{problem.id}-{name}")
    for problem in shipped().problems.values()
    for name, node in problem.nodes.items()
    if isinstance(node, Finding)
]


@cache
def ways(problem_id: str) -> dict[str, Way]:
    return ways_to_findings(shipped().problems[problem_id], shipped())


def fact(name: str, value: Answer) -> Fact:
    spec = shipped().facts[name]
    return Fact(name, value, spec.unit if isinstance(spec, QuantityFact) else None)


@pytest.mark.parametrize(("problem_id", "finding"), FINDINGS)
def test_a_finding_is_reached_in_few_questions(problem_id: str, finding: str) -> None:
    way = ways(problem_id).get(finding)
    assert way is not None, "nothing that was tried leads here: is there a branch before it that takes everything?"
    assert len(way.answers) <= MOST_QUESTIONS


@pytest.mark.parametrize("units", ["us", "metric"])
@pytest.mark.parametrize(("problem_id", "finding"), FINDINGS)
def test_answering_the_questions_one_by_one_ends_there(problem_id: str, finding: str, units: Units) -> None:
    way = ways(problem_id)[finding]
    facts = {name: fact(name, value) for name, value in way.said.items()}
    for asked, answer in way.answers:
        question = diagnose(problem_id, facts, shipped(), units).question
        assert question is not None
        assert question.fact == asked
        assert question.text
        assert "{" not in question.text + question.why
        facts[asked] = fact(asked, answer)
    found = diagnose(problem_id, facts, shipped(), units).finding
    assert found is not None
    assert found.id == finding
    assert found.summary
    assert found.cause
    assert found.steps
    assert found.check_again.what
    assert found.check_again.when
    assert "{" not in found.summary + found.cause + "".join(found.steps)


@pytest.mark.parametrize("problem_id", [problem.id for problem in shipped().problems.values() if problem.dangerous])
def test_a_dangerous_problem_shows_its_cautions_before_anything_is_known(problem_id: str) -> None:
    first = diagnose(problem_id, {}, shipped())
    assert set(shipped().problems[problem_id].cautions) <= set(first.cautions)
    assert first.cautions
