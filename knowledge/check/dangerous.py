"""A dangerous problem shows a grave caution with its first answer, and a caution with each of its findings."""

from collections.abc import Iterator

from knowledge.faults import Fault
from knowledge.loading import Draft, problem_file
from knowledge.schema import Finding

ID = "dangerous"
GRAVE = ("DANGER", "WARNING")


def faults(draft: Draft) -> Iterator[Fault]:
    cautions = draft.knowledge.cautions
    for problem in draft.knowledge.problems.values():
        file = problem_file(problem.id)
        grave = [name for name in problem.cautions if name in cautions and cautions[name].signal in GRAVE]
        if problem.dangerous and not grave:
            message = "a dangerous problem needs a DANGER or WARNING among its `cautions`, shown before any question"
            yield draft.fault(ID, file, ("dangerous",), message)
        if problem.dangerous:
            for name, node in problem.nodes.items():
                if isinstance(node, Finding) and not node.cautions:
                    message = "a finding of a dangerous problem needs `cautions`"
                    yield draft.fault(ID, file, ("nodes", name), message)
