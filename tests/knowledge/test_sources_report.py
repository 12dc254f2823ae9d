"""What rests on which source can be looked up."""

from __future__ import annotations

from collections.abc import Callable

import calculators
from knowledge import from_texts
from knowledge.sources_report import on_practice_alone, report, uses

Files = dict[str, str]
Change = Callable[[str, str, str], Files]


def test_a_source_is_counted_once_for_each_thing_that_cites_it(sample: Files) -> None:
    used = uses(from_texts(sample))
    assert used["ansi-z535-6"] == {"findings": 1, "cautions": 1}
    assert used["common-practice"]["tables"] == 6


def test_the_sources_of_calculators_are_listed_too(sample: Files) -> None:
    citing = sum("miller-1994" in calculators.get(name).sources for name in calculators.names())
    assert uses(from_texts(sample))["miller-1994"] == {"calculators": citing}
    assert "Table I, degrees of carbonation" in report(from_texts(sample))


def test_a_source_that_nothing_cites_is_listed_and_stands_last(changed: Change) -> None:
    entry = "zymurgy: {kind: published, citation: 'A work that nothing cites.'}\nansi-z535-6:"
    lines = report(from_texts(changed("sources.yaml", "ansi-z535-6:", entry))).split("\n\n")[0].splitlines()
    assert lines[-1].split() == ["zymurgy", *"----", "A", "work", "that", "nothing", "cites."]


def test_a_finding_with_one_published_source_does_not_rest_on_practice_alone(sample: Files, changed: Change) -> None:
    before = [name for _, name, _ in on_practice_alone(from_texts(sample))]
    file, cited = "problems/cold-beer.yaml", "sources: [ansi-z535-6, common-practice]"
    after = [name for _, name, _ in on_practice_alone(from_texts(changed(file, "sources: [common-practice]", cited)))]
    assert len(before) - len(after) == 1
    assert f"On common practice alone: {len(before)} of {len(before) + 1} findings" in report(from_texts(sample))


def test_a_finding_names_the_calculators_its_figures_come_from(sample: Files) -> None:
    line = next(line for line in report(from_texts(sample)).splitlines() if "(figures: " in line)
    assert line.endswith(("(figures: carbonation-equilibrium)", "(figures: warming-vessel-pressure)"))


def test_the_same_knowledge_gives_the_same_report_in_whatever_order_its_files_come(sample: Files) -> None:
    assert report(from_texts(dict(reversed(sample.items())))) == report(from_texts(sample))
