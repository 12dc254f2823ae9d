"""Everything that carries a date of review was looked at within two years, and not in the future."""

from collections.abc import Iterator
from datetime import date, timedelta

from knowledge.faults import Fault, PathTo
from knowledge.loading import Draft, problem_file
from knowledge.schema import Finding, Problem

ID = "reviewed"
HOLDS_FOR = timedelta(days=2 * 365)
TABLES = ("cautions", "yeasts", "vessels", "styles", "parts")


def faults(draft: Draft, today: date | None = None) -> Iterator[Fault]:
    now = today or date.today()
    for file, place, day in _dates(draft):
        if day > now + timedelta(days=1):  # it may be tomorrow already where it was written
            yield draft.fault(ID, file, place, f"reviewed on {day}, which is still to come")
        elif now - day > HOLDS_FOR:
            yield draft.fault(ID, file, place, f"last reviewed on {day}, more than two years ago: look at it again")


def _dates(draft: Draft) -> Iterator[tuple[str, PathTo, date]]:
    for problem in draft.knowledge.problems.values():
        for place, day in _of_problem(problem):
            yield problem_file(problem.id), place, day
    for table in TABLES:
        for name, row in getattr(draft.knowledge, table).items():
            yield f"{table}.yaml", (name, "reviewed"), row.reviewed


def _of_problem(problem: Problem) -> Iterator[tuple[PathTo, date]]:
    yield ("reviewed",), problem.reviewed
    for name, node in problem.nodes.items():
        if isinstance(node, Finding):
            yield ("nodes", name, "reviewed"), node.reviewed
