"""Every tree has examples beside it, of what leads to it and of what must not, and they name what is there."""

from collections.abc import Iterator

from knowledge.faults import Fault
from knowledge.loading import Draft
from knowledge.schema import Case, Finding, Problem

ID = "cases"


def faults(draft: Draft) -> Iterator[Fault]:
    for problem in draft.knowledge.problems.values():
        file = f"problems/{problem.id}.cases.yaml"
        if file not in draft.documents:
            yield Fault(file, 1, ID, "there are no examples beside this tree")
            continue
        listed = draft.knowledge.cases.get(problem.id, ())
        if listed and not any(case.not_ is None for case in listed):
            yield Fault(file, 1, ID, "no example leads to this problem (`ends` or `asks`)")
        if listed and not any(case.not_ is not None for case in listed):
            yield Fault(file, 1, ID, "no example shows what must not be taken for this problem (`not`)")
        for index, case in enumerate(listed):
            for key, message in _wrong(case, problem, draft):
                yield draft.fault(ID, file, (index, key), message)
    for name in draft.knowledge.cases.keys() - draft.problem_ids():
        yield Fault(f"problems/{name}.cases.yaml", 1, ID, f"there is no tree {name}.yaml beside these examples")


def _wrong(case: Case, problem: Problem, draft: Draft) -> Iterator[tuple[str, str]]:
    if case.ends is not None and not isinstance(problem.nodes.get(case.ends), Finding):
        yield "ends", f"there is no finding `{case.ends}` in this tree"
    if case.asks is not None and case.asks not in draft.written("facts.yaml"):
        yield "asks", f"there is no fact `{case.asks}` in facts.yaml"
    if case.not_ is not None and case.not_ != problem.id:
        yield "not", f"`not` names this problem, `{problem.id}`"
    for name in case.facts:
        if name not in draft.written("facts.yaml"):
            yield "facts", f"there is no fact `{name}` in facts.yaml"
