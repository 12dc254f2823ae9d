"""Every problem stands in exactly one area of the short choice."""

from collections import Counter
from collections.abc import Iterator

from knowledge.faults import Fault
from knowledge.loading import Draft

ID = "areas"


def faults(draft: Draft) -> Iterator[Fault]:
    problems = draft.problem_ids()
    catalogue = set(draft.knowledge.catalogue.problems) if draft.knowledge.catalogue else set()
    listed = Counter(problem for area in draft.knowledge.areas for problem in area.problems)
    for index, area in enumerate(draft.knowledge.areas):
        for unknown in sorted(set(area.problems) - problems - catalogue):
            yield draft.fault(ID, "areas.yaml", ("areas", index, "problems"), f"there is no problem `{unknown}`")
    for problem in sorted(problems):
        if listed[problem] != 1 and draft.knowledge.areas:
            message = f"the problem `{problem}` stands in {listed[problem]} areas instead of one"
            yield draft.fault(ID, "areas.yaml", ("areas",), message)
