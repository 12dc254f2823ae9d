"""No path asks more than seven questions."""

from collections.abc import Iterator
from functools import cache

from knowledge.check import circles
from knowledge.faults import Fault
from knowledge.loading import Draft, problem_file
from knowledge.schema import Problem, Question
from knowledge.trees import exits

ID = "path-length"
MOST = 7


def faults(draft: Draft) -> Iterator[Fault]:
    without_end = {fault.file for fault in circles.faults(draft)}
    for problem in draft.knowledge.problems.values():
        asked = () if problem_file(problem.id) in without_end else longest(problem)
        if len(asked) > MOST:
            message = f"a path asks {len(asked)} questions ({', '.join(asked)}); at most {MOST} are allowed"
            yield draft.fault(ID, problem_file(problem.id), ("start",), message)


def longest(problem: Problem) -> tuple[str, ...]:
    """The facts asked for along the path that asks most. A fact met twice on a path is asked for once."""

    @cache
    def ahead(name: str) -> tuple[str, ...]:
        if name not in problem.nodes:
            return ()
        node = problem.nodes[name]
        most = max((ahead(target) for _, target in exits(node)), key=len, default=())
        return most if not isinstance(node, Question) or node.fact in most else (node.fact, *most)

    return ahead(problem.start)
