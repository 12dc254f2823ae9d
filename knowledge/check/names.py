"""Every fact, result and lookup that a tree names is there."""

from collections.abc import Iterator

import calculators
from knowledge.faults import Fault
from knowledge.loading import Draft, problem_file
from knowledge.names import CHOSEN_BY, UNIT_OF_FIELD
from knowledge.schema import Problem
from knowledge.trees import names_used

ID = "names"


def faults(draft: Draft) -> Iterator[Fault]:
    for problem in draft.knowledge.problems.values():
        for place, name in names_used(problem):
            if message := missing(name, problem, draft):
                yield draft.fault(ID, problem_file(problem.id), place, message)


def missing(name: str, problem: Problem, draft: Draft) -> str:
    """What is wrong with a name; "" if it is there."""
    head, dot, tail = name.partition(".")
    if not dot:
        return "" if name in draft.written("facts.yaml") else f"there is no fact `{name}` in facts.yaml"
    if head in CHOSEN_BY:
        known = ", ".join(UNIT_OF_FIELD)
        return "" if name in UNIT_OF_FIELD else f"there is no field `{name}` to look up; there are {known}"
    run = problem.calculations.get(head)
    if run is None:
        return f"there is no calculation `{head}` in this tree"
    if run.calculator not in calculators.names():
        return ""  # said once, where the calculator is named
    results = calculators.get(run.calculator).results
    return "" if tail in results else f"{run.calculator} has no result `{tail}`; it has {', '.join(results)}"
