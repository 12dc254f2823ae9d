"""Knowledge is read whole or refused with every fault of shape, each with file and line."""

from __future__ import annotations

from collections.abc import Callable

import pytest

import knowledge
from knowledge import KnowledgeFaults
from knowledge.loading import parse, revision_of
from knowledge.tables import QuantityFact

Files = dict[str, str]
Change = Callable[[str, str, str], Files]
TREE = "problems/pressure-too-high.yaml"


def test_the_sample_is_read(sample: Files) -> None:
    known = knowledge.from_texts(sample)
    assert set(known.problems) == {"pressure-too-high", "cold-beer"}
    assert isinstance(known.facts["gauge_pressure"], QuantityFact)
    assert known.cases["cold-beer"][0].asks == "vessel_type"


def test_equal_content_has_an_equal_revision_and_any_change_another(sample: Files, changed: Change) -> None:
    backwards = dict(reversed(sample.items()))
    assert revision_of(sample) == revision_of(backwards) == knowledge.from_texts(sample).revision
    assert revision_of(changed(TREE, "Step back.", "Step back!")) != revision_of(sample)


def test_text_moved_from_one_file_to_the_next_changes_the_revision() -> None:
    assert revision_of({"a.yaml": "x: 1\ny: 2\n", "b.yaml": ""}) != revision_of(
        {"a.yaml": "x: 1\n", "b.yaml": "y: 2\n"}
    )


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("    why: It decides.", "    wyh: It decides.", "`wyh` is not a key that belongs here"),
        ("    why: It decides.\n", "", "`why` is missing here"),
        ("    unknown: stand-clear\n", "", "`unknown` is missing here"),
        ("kind: question", "kind: qestion", "'qestion'"),
        ("{fact: gauge_pressure, below: 0.2 bar}", "{fact: gauge_pressure}", "exactly one of at_least"),
        ("below: 0.2 bar}", "below: low}", "'low' is not a figure"),
        ("below: 0.2 bar}", "below: 0.2 bar, above: 0 bar}", "exactly one of at_least"),
        (
            "{fact: gauge_pressure, below",
            "{fact: gauge_pressure, result: holds.carbonation, below",
            "exactly one of `fact`",
        ),
        ("id: pressure-too-high", "id: pressure-high", "the id is `pressure-high`, but the file is named"),
        ("    steps: [Look for the leak.]", "    steps: []", "`steps`"),
        ("    sources: [common-practice]\n", "", "`sources` is missing"),
        ("    reviewed: 2026-11-01\n", "", "`reviewed` is missing"),
        ("    check_again: {what: The gauge., when: In an hour.}\n", "", "`check_again` is missing"),
        ("{fact: dry_hopped, is: true}]", "{fact: dry_hopped, is: yes}]", "valid boolean"),
    ],
)
def test_a_fault_of_shape_says_what_is_wrong(changed: Change, old: str, new: str, message: str) -> None:
    draft = parse(changed(TREE, old, new))
    assert any(message in fault.message and fault.file == TREE for fault in draft.faults), draft.faults


def test_a_fault_has_the_line_it_is_on(changed: Change) -> None:
    (fault,) = parse(changed(TREE, "    why: It decides.", "    why: It decides.\n    wyh: x")).faults
    assert str(fault) == f"{TREE}:21: `wyh` is not a key that belongs here [shape]"


def test_every_fault_is_told_at_once(changed: Change) -> None:
    files = changed(TREE, "title: Pressure too high", "titel: x") | {
        "styles.yaml": "lager: {title: Lagers}\nlager: {}\n"
    }
    with pytest.raises(KnowledgeFaults) as refused:
        knowledge.from_texts(files)
    assert {fault.file for fault in refused.value.faults} == {TREE, "styles.yaml"}
    assert "`lager` is written twice" in str(refused.value)


def test_a_missing_table_is_named(changed: Change) -> None:
    (fault,) = parse(changed("parts.yaml", "", "")).faults
    assert (fault.file, fault.message) == ("parts.yaml", "the file is missing")


def test_one_faulty_row_does_not_hide_the_others(changed: Change) -> None:
    draft = parse(changed("facts.yaml", "kind: yes-no", "kind: maybe"))
    assert "dry_hopped" not in draft.knowledge.facts
    assert "gauge_pressure" in draft.knowledge.facts
    assert "dry_hopped" in draft.written("facts.yaml")


def test_a_unit_nobody_knows_is_refused(changed: Change) -> None:
    (fault,) = parse(changed("facts.yaml", "unit: bar", "unit: bars")).faults
    assert "there is no unit `bars`" in fault.message


def test_a_question_that_fell_apart_at_its_comma_is_found(changed: Change) -> None:
    faults = parse(
        changed("parts.yaml", "[What is marked on the vessel?]", "[Barbed or threaded, and for what hose?]")
    ).faults
    assert any("`Barbed or threaded` is only a piece of a question" in fault.message for fault in faults)


def test_sources_of_the_calculators_are_known_without_writing_them_down(sample: Files) -> None:
    assert "miller-1994" in knowledge.from_texts(sample).sources


def test_knowledge_that_would_mislead_a_walk_is_not_taken_into_use(changed: Change) -> None:
    with pytest.raises(KnowledgeFaults, match="there is no node `clam` to go to"):
        knowledge.from_texts(changed(TREE, "go: calm", "go: clam"))


def test_knowledge_that_only_needs_a_fresh_look_still_works(changed: Change) -> None:
    old = changed(TREE, "reviewed: 2026-11-01", "reviewed: 2020-01-01")
    assert knowledge.from_texts(old).problems["pressure-too-high"].reviewed.year == 2020
