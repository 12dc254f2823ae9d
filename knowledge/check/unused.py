"""Nothing lies about: every run, every caution, every source and every fact that is only asked for is used."""

from collections.abc import Iterator

from knowledge.faults import Fault
from knowledge.loading import Draft, Knowledge, problem_file
from knowledge.names import CHOSEN_BY
from knowledge.placeholders import placeholders
from knowledge.schema import Finding, Problem
from knowledge.trees import names_used, texts

ID = "unused"
DESK_ASKS = frozenset({"safe_now"})
"""Facts that the desk asks for by itself, before any tree."""


def faults(draft: Draft) -> Iterator[Fault]:
    problems = draft.knowledge.problems
    for problem in problems.values():
        for name in problem.calculations.keys() - _runs(problem):
            message = f"nothing uses the calculation `{name}`"
            yield draft.fault(ID, problem_file(problem.id), ("calculations", name), message)
    if draft.problem_ids() == problems.keys():  # with a tree missing, what it uses is not known
        yield from _tables(draft)


def _names(problem: Problem) -> set[str]:
    in_text = {placeholder.name for _, text in texts(problem) for placeholder in placeholders(text)}
    return in_text | {name for _, name in names_used(problem)}


def _runs(problem: Problem) -> set[str]:
    shown = {run for node in problem.nodes.values() if isinstance(node, Finding) for run in node.calculations}
    return shown | {name.partition(".")[0] for name in _names(problem) if "." in name}


def _tables(draft: Draft) -> Iterator[Fault]:
    for name in _facts_unasked(draft.knowledge):
        yield draft.fault(ID, "facts.yaml", (name,), f"no tree asks for the fact `{name}`")
    for name in _cautions_unshown(draft.knowledge):
        yield draft.fault(ID, "cautions.yaml", (name,), f"nothing shows the caution `{name}`")
    for name in draft.written("sources.yaml") - _cited(draft.knowledge):
        yield draft.fault(ID, "sources.yaml", (name,), f"nothing cites the source `{name}`")


def _facts_unasked(known: Knowledge) -> Iterator[str]:
    names = {name for problem in known.problems.values() for name in _names(problem)}
    names |= {CHOSEN_BY.get(name.partition(".")[0], "") for name in names}
    return (name for name, fact in known.facts.items() if fact.asked_only and name not in names | DESK_ASKS)


def _cautions_unshown(known: Knowledge) -> Iterator[str]:
    shown = {name for problem in known.problems.values() for name in problem.cautions}
    shown |= {name for finding in _findings(known) for name in finding.cautions}
    return (name for name, caution in known.cautions.items() if name not in shown and not caution.hazards)


def _cited(known: Knowledge) -> set[str]:
    rows = (known.cautions, known.yeasts, known.vessels, known.styles)
    cited = {name for table in rows for row in table.values() for name in row.sources}
    cited |= {name for finding in _findings(known) for name in finding.sources}
    return cited


def _findings(known: Knowledge) -> Iterator[Finding]:
    for problem in known.problems.values():
        yield from (node for node in problem.nodes.values() if isinstance(node, Finding))
