"""Every way out of a node leads to a node of the same tree, and every node can be reached."""

from collections.abc import Iterator

from knowledge.faults import Fault
from knowledge.loading import Draft, problem_file
from knowledge.trees import exits, reachable

ID = "go-targets"


def faults(draft: Draft) -> Iterator[Fault]:
    for problem in draft.knowledge.problems.values():
        file = problem_file(problem.id)
        if problem.start not in problem.nodes:
            yield draft.fault(ID, file, ("start",), f"there is no node `{problem.start}` to start at")
        for name, node in problem.nodes.items():
            for place, target in exits(node):
                if target not in problem.nodes:
                    yield draft.fault(ID, file, ("nodes", name, *place), f"there is no node `{target}` to go to")
        for name in problem.nodes.keys() - reachable(problem):
            yield draft.fault(ID, file, ("nodes", name), f"no path leads to the node `{name}`: delete it or go to it")
