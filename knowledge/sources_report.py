"""How far each source carries: what cites it, and which findings rest on the common practice of the trade alone."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping

import calculators
from knowledge.loading import Knowledge
from knowledge.schema import Finding, Problem

USED_BY = ("findings", "cautions", "tables", "calculators")


def report(known: Knowledge) -> str:
    """A line for each source, the most cited first; then the findings that cite no published work, by problem."""
    return "\n".join([*_sources(known), "", *_on_practice(known)]) + "\n"


def uses(known: Knowledge) -> Mapping[str, Counter[str]]:
    """For each source, how many findings, cautions, rows of tables and calculators cite it."""
    used: dict[str, Counter[str]] = {source: Counter() for source in known.sources}
    for kind, source in _citations(known):
        used[source][kind] += 1
    return used


def on_practice_alone(known: Knowledge) -> list[tuple[Problem, str, Finding]]:
    """The findings none of whose own sources is a published work: problem, node and finding."""
    practice = {name for name, source in known.sources.items() if source.kind == "common-practice"}
    return [(problem, name, one) for problem, name, one in _findings(known) if practice.issuperset(one.sources)]


def _findings(known: Knowledge) -> Iterator[tuple[Problem, str, Finding]]:
    for _, problem in sorted(known.problems.items()):
        for name, node in problem.nodes.items():
            if isinstance(node, Finding):
                yield problem, name, node


def _citations(known: Knowledge) -> Iterator[tuple[str, str]]:
    rows = [row for table in (known.yeasts, known.vessels, known.styles) for row in table.values()]
    citing: dict[str, Iterator[tuple[str, ...]]] = {
        "findings": (finding.sources for _, _, finding in _findings(known)),
        "cautions": (caution.sources for caution in known.cautions.values()),
        "tables": (row.sources for row in rows),
        "calculators": (tuple(calculators.get(name).sources) for name in calculators.names()),
    }
    return ((kind, source) for kind, each in citing.items() for sources in each for source in sources)


def _sources(known: Knowledge) -> Iterator[str]:
    used = uses(known)
    width = max(map(len, used))
    yield f"{'source':{width}}  {'  '.join(USED_BY)}  citation"
    for source in sorted(used, key=lambda one: (-used[one].total(), one)):
        counts = "  ".join(f"{used[source][kind] or '-':>{len(kind)}}" for kind in USED_BY)
        yield f"{source:{width}}  {counts}  {known.sources[source].citation}"


def _on_practice(known: Knowledge) -> Iterator[str]:
    alone = on_practice_alone(known)
    yield f"On common practice alone: {len(alone)} of {len(list(_findings(known)))} findings"
    for problem, name, finding in alone:
        yield f"  {problem.id}/{name}: {finding.title}{_figures(problem, finding)}"


def _figures(problem: Problem, finding: Finding) -> str:
    """Its figures do not rest on practice: the calculators have sources of their own."""
    named = dict.fromkeys(problem.calculations[run].calculator for run in finding.calculations)
    return f" (figures: {', '.join(named)})" if named else ""
