"""Questions about the shape of a tree that the checks, the pictures and the tests all ask."""

from __future__ import annotations

from collections.abc import Iterator

from knowledge.faults import PathTo
from knowledge.schema import Finding, Node, Problem, Question


def exits(node: Node) -> Iterator[tuple[PathTo, str]]:
    """Every way out of a node: where in the node it is written, and the id it leads to."""
    if isinstance(node, Finding):
        return
    for index, branch in enumerate(node.branches):
        yield ("branches", index, "go"), branch.go
    if isinstance(node, Question):
        yield ("unknown",), node.unknown
        if node.unsure is not None:
            yield ("unsure",), node.unsure
    else:
        yield ("otherwise",), node.otherwise


def reachable(problem: Problem) -> set[str]:
    """The nodes that some path from the start comes to."""
    found: set[str] = set()
    ahead = [problem.start]
    while ahead:
        name = ahead.pop()
        if name in problem.nodes and name not in found:
            found.add(name)
            ahead.extend(target for _, target in exits(problem.nodes[name]))
    return found
