"""Walks a problem's tree with what is known, to the next question or to a finding."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from knowledge.conditions import Known as HasValue
from knowledge.schema import Branch, Finding, Question, Test
from knowledge.trees import leaves, limits
from service.diagnosis.conditions import truth
from service.diagnosis.known import Known


@dataclass(frozen=True, slots=True)
class Step:
    """One node the walk passed, and the way it left it. `about` names the values that decided."""

    node: str
    took: str
    about: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Stop:
    """Where the walk ended: a question not answered yet, or a finding; and the way there."""

    node: str
    at: Question | Finding
    path: tuple[Step, ...]


def walk(known: Known) -> Stop:
    """From the start to the first question whose fact is neither known nor known to be not known, or to a finding."""
    nodes, name = known.problem.nodes, known.problem.start
    path: list[Step] = []
    while len(path) <= len(nodes):
        node = nodes[name]
        if isinstance(node, Finding) or (isinstance(node, Question) and not known.answered(node.fact)):
            return Stop(name, node, tuple(path))
        step = _step(name, node, known)
        path.append(step)
        name = step.took
    raise RuntimeError(f"the tree {known.problem.id} goes round in a circle; `spile knowledge check` names it")


def _step(name: str, node: Question | Test, known: Known) -> Step:
    for branch in node.branches:
        if truth(branch.when, known) is True:
            return Step(name, branch.go, tuple(dict.fromkeys(_about(branch))))
    if isinstance(node, Test):
        return Step(name, node.otherwise, ())
    return Step(name, _not_sure(node, known), (node.fact,))


def _not_sure(node: Question, known: Known) -> str:
    """`unsure` is for values that are known and whose ranges straddle a limit; anything else is `unknown`."""
    straddles = any(
        truth(branch.when, known) is None and all(known.value(name) is not None for name in _about(branch))
        for branch in node.branches
    )
    return node.unsure if node.unsure is not None and straddles else node.unknown


def _about(branch: Branch) -> Iterable[str]:
    for _, leaf in leaves(branch.when):
        yield leaf.known if isinstance(leaf, HasValue) else leaf.name
        for _, limit in limits(leaf, ()):
            if not isinstance(limit, str):
                yield limit.name
