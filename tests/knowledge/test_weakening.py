"""A state of the knowledge that warns less than the one before is told line by line."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from knowledge import Knowledge, from_texts, shipped
from knowledge.schema import Finding, Problem
from knowledge.tables import Caution
from knowledge.weakening import weakened

Files = dict[str, str]
TREE = "problems/pressure-too-high.yaml"


def with_caution(known: Knowledge, name: str, caution: Caution | None) -> Knowledge:
    rest = {other: row for other, row in known.cautions.items() if other != name}
    return replace(known, cautions=rest if caution is None else {**rest, name: caution})


def with_problem(known: Knowledge, problem: Problem) -> Knowledge:
    return replace(known, problems={**known.problems, problem.id: problem})


def without(names: tuple[str, ...], name: str) -> tuple[str, ...]:
    return tuple(other for other in names if other != name)


def test_the_same_knowledge_loses_nothing() -> None:
    assert weakened(shipped(), shipped()) == []


@pytest.mark.parametrize("name", shipped().cautions)
def test_a_caution_taken_out_is_told(name: str) -> None:
    (lost,) = weakened(shipped(), with_caution(shipped(), name, None))
    assert lost == ("cautions.yaml", name, "the caution is gone")


@pytest.mark.parametrize("name", shipped().cautions)
def test_every_line_of_what_to_do_is_missed(name: str) -> None:
    caution = shipped().cautions[name]
    for line in caution.do:
        shorter = caution.model_copy(update={"do": without(caution.do, line)})
        (lost,) = weakened(shipped(), with_caution(shipped(), name, shorter))
        assert lost.message == f"`do` no longer says: {line}"


@pytest.mark.parametrize("problem_id", shipped().problems)
def test_a_caution_no_longer_shown_with_the_first_answer_is_told(problem_id: str) -> None:
    problem = shipped().problems[problem_id]
    for name in problem.cautions:
        less = problem.model_copy(update={"cautions": without(problem.cautions, name)})
        lost = weakened(shipped(), with_problem(shipped(), less))
        assert [loss.message for loss in lost] == [f"the first answer no longer shows {name}"]


@pytest.mark.parametrize("problem_id", shipped().problems)
def test_a_caution_no_longer_shown_with_a_finding_is_told(problem_id: str) -> None:
    problem = shipped().problems[problem_id]
    for node_id, node in problem.nodes.items():
        for name in node.cautions if isinstance(node, Finding) else ():
            less = node.model_copy(update={"cautions": without(node.cautions, name)})
            lost = weakened(
                shipped(),
                with_problem(shipped(), problem.model_copy(update={"nodes": {**problem.nodes, node_id: less}})),
            )
            assert [(loss.id, loss.message) for loss in lost] == [(node_id, f"the finding no longer shows {name}")]


@pytest.mark.parametrize(
    ("file", "old", "new", "message"),
    [
        ("cautions.yaml", "signal: WARNING", "signal: NOTICE", "the signal word falls from WARNING to NOTICE"),
        ("cautions.yaml", "It can burst and kill.", "It may pop.", "`text` no longer says: It can burst and kill."),
        ("cautions.yaml", "hazards: [over-pressure]", "hazards: []", "no longer answers the hazard over-pressure"),
        (TREE, "dangerous: true", "dangerous: false", "no longer counts as dangerous"),
        (TREE, "first_action: Step to one side.\n", "", "what to do at once"),
        (TREE, "near-the-limit", "close-to-it", ""),
    ],
)
def test_other_ways_of_warning_less_are_told(
    sample: Files, changed: Callable[[str, str, str], Files], file: str, old: str, new: str, message: str
) -> None:
    files = changed(file, old, new)
    if not message:  # a finding under another name: nobody can tell whether its cautions came along
        files = {**sample, file: sample[file].replace(old, new)}
        message = "the finding and its cautions are gone"
    assert any(message in lost.message for lost in weakened(from_texts(sample), from_texts(files)))


def test_warning_more_is_no_loss(sample: Files, changed: Callable[[str, str, str], Files]) -> None:
    louder = from_texts(changed("cautions.yaml", "signal: WARNING", "signal: DANGER"))
    assert weakened(from_texts(sample), louder) == []


def test_a_tree_taken_out_takes_its_warnings_along(sample: Files) -> None:
    known = from_texts(sample)
    rest = replace(known, problems={"cold-beer": known.problems["cold-beer"]})
    assert [loss.message for loss in weakened(known, rest)] == ["the tree and its warnings are gone"]
