"""Sentences with figures use `say`, name what is there, and have something to say when a figure is missing."""

from collections.abc import Iterator

from knowledge.check.names import missing
from knowledge.faults import Fault, PathTo
from knowledge.loading import Draft, problem_file
from knowledge.names import unit_of
from knowledge.placeholders import PLACEHOLDER, Placeholder, placeholders
from knowledge.schema import Finding, Problem, Text
from knowledge.tables import QuantityFact
from knowledge.trees import texts

ID = "sentences"
NEVER_EMPTY = ("cause", "summary", "what", "when", "ask", "why", "first_action")


def faults(draft: Draft) -> Iterator[Fault]:
    for problem in draft.knowledge.problems.values():
        file = problem_file(problem.id)
        for place, text in texts(problem):
            for message in _of_text(text, _key(place), problem, draft):
                yield draft.fault(ID, file, place, message)
        for place, title in _titles(problem):
            if "{" in title:
                yield draft.fault(ID, file, place, "a title has no figures in braces")


def _key(place: PathTo) -> str:
    """What the sentence is there for: the last key of its place that is not `otherwise`."""
    return next(str(part) for part in reversed(place) if part != "otherwise")


def _titles(problem: Problem) -> Iterator[tuple[PathTo, str]]:
    yield ("title",), problem.title
    for name, node in problem.nodes.items():
        if isinstance(node, Finding):
            yield ("nodes", name, "title"), node.title


def _of_text(text: Text, key: str, problem: Problem, draft: Draft) -> Iterator[str]:
    if isinstance(text, str):
        if "{" in text or "}" in text:
            yield "a figure in braces needs the form {say: …, otherwise: …}"
        return
    found = list(placeholders(text))
    for placeholder in found:
        yield from _of_placeholder(placeholder, problem, draft)
    if not found and text.when is None:
        yield "`say` has neither a figure nor `when`: write the sentence alone"
    if key in NEVER_EMPTY and not text.otherwise:
        yield f"`{key}` always says something: give it `otherwise`"
    rest = PLACEHOLDER.sub("", text.say)
    if "{" in rest or "}" in rest:
        yield "a brace stands alone"


def _of_placeholder(placeholder: Placeholder, problem: Problem, draft: Draft) -> Iterator[str]:
    if message := missing(placeholder.name, problem, draft):
        yield message
        return
    fact = draft.knowledge.facts.get(placeholder.name)
    if placeholder.part and not unit_of(placeholder.name, problem, draft.knowledge):
        yield f"`{placeholder.name}` is no figure and has no `{placeholder.part}`"
    if fact is not None and not isinstance(fact, QuantityFact):
        yield f"`{placeholder.name}` is no figure: say it in words, with `when`"
