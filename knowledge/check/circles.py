"""No path comes to the same node twice."""

from collections.abc import Iterator

from knowledge.faults import Fault
from knowledge.loading import Draft, problem_file
from knowledge.schema import Problem
from knowledge.trees import exits

ID = "circles"


def faults(draft: Draft) -> Iterator[Fault]:
    for problem in draft.knowledge.problems.values():
        for circle in _circles(problem):
            message = f"a path goes round in a circle: {' > '.join(circle)}"
            yield draft.fault(ID, problem_file(problem.id), ("nodes", circle[0]), message)


def _circles(problem: Problem) -> Iterator[tuple[str, ...]]:
    """Each circle once, as the ids along it: depth first, looking for a way back to a node still being looked at."""
    done: set[str] = set()

    def look(name: str, way: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
        if name in way:
            yield (*way[way.index(name) :], name)
        elif name not in done and name in problem.nodes:
            for target in dict.fromkeys(target for _, target in exits(problem.nodes[name])):
                yield from look(target, (*way, name))
            done.add(name)

    for name in problem.nodes:
        yield from look(name, ())
