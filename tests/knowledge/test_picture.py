"""A tree can be looked at as a flow chart."""

from __future__ import annotations

from knowledge import from_texts
from knowledge.picture import described, mermaid
from knowledge.schema import Finding, Problem
from knowledge.trees import conditions, exits

Files = dict[str, str]


def tree(sample: Files) -> Problem:
    return from_texts(sample).problems["pressure-too-high"]


def test_every_node_and_every_way_out_is_in_the_picture(sample: Files) -> None:
    problem = tree(sample)
    drawn = mermaid(problem).splitlines()
    ways = [way for node in problem.nodes.values() for way in exits(node)]
    assert sum("-->|" in line for line in drawn) == len(ways)
    assert sum(line.startswith("  n") and "-->" not in line for line in drawn) == len(problem.nodes)


def test_findings_with_cautions_stand_out(sample: Files) -> None:
    problem = tree(sample)
    cautioned = sum(isinstance(node, Finding) and bool(node.cautions) for node in problem.nodes.values())
    assert mermaid(problem).splitlines()[-1].count("n") - "caution".count("n") == cautioned


def test_marks_that_mean_something_to_the_chart_are_written_as_entities(sample: Files) -> None:
    assert '|"gauge_pressure #lt; 0.2 bar"|' in mermaid(tree(sample))


def test_conditions_are_told_in_short(sample: Files) -> None:
    problems = from_texts(sample).problems.values()
    told = {described(condition) for problem in problems for _, condition in conditions(problem)}
    assert "beer_temperature > yeast.temperature_high or dry_hopped" in told
    assert "1.010 ≤ current_gravity < 1.020 and beer_style known" in told
    assert "vessel_type = keg" in told
