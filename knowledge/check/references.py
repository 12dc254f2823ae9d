"""Every caution, part, source and shown calculation that is named is there."""

from collections.abc import Iterator

from knowledge.faults import Fault, PathTo
from knowledge.loading import Draft, problem_file
from knowledge.schema import Finding, Problem

ID = "references"
FILES = {"cautions": "cautions.yaml", "parts": "parts.yaml", "sources": "sources.yaml"}


def faults(draft: Draft) -> Iterator[Fault]:
    for problem in draft.knowledge.problems.values():
        for place, kind, name in _of_problem(problem):
            known = frozenset(problem.calculations) if kind == "calculations" else _known(kind, draft)
            if name not in known:
                where = "in this tree" if kind == "calculations" else f"in {FILES[kind]}"
                message = f"there is no {kind.removesuffix('s')} `{name}` {where}"
                yield draft.fault(ID, problem_file(problem.id), place, message)
    yield from _of_tables(draft)


def _of_problem(problem: Problem) -> Iterator[tuple[PathTo, str, str]]:
    yield from _listed(("cautions",), "cautions", problem.cautions)
    for name, node in problem.nodes.items():
        if isinstance(node, Finding):
            for kind in (*FILES, "calculations"):
                yield from _listed(("nodes", name, kind), kind, getattr(node, kind))


def _listed(place: PathTo, kind: str, names: tuple[str, ...]) -> Iterator[tuple[PathTo, str, str]]:
    for index, name in enumerate(names):
        yield (*place, index), kind, name


def _of_tables(draft: Draft) -> Iterator[Fault]:
    known = _known("sources", draft)
    for table in ("cautions", "yeasts", "vessels", "styles"):
        for row_id, row in getattr(draft.knowledge, table).items():
            for place, _, name in _listed((row_id, "sources"), "sources", row.sources):
                if name not in known:
                    yield draft.fault(ID, f"{table}.yaml", place, f"there is no source `{name}` in sources.yaml")


def _known(kind: str, draft: Draft) -> frozenset[str]:
    return frozenset(getattr(draft.knowledge, kind)) | draft.written(FILES[kind])
