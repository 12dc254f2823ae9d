"""What stands where in a tree: ways out of nodes, conditions, sentences, operands, each with its place."""

from __future__ import annotations

from collections.abc import Iterator

from knowledge.conditions import All, AnyOf, Compare, Condition, Is, Known, Named, Not, OneOf, Operand, ResultOperand
from knowledge.faults import PathTo
from knowledge.placeholders import placeholders
from knowledge.schema import Finding, FirstKnown, Input, Node, Problem, Question, Say, Text

Leaf = Compare | OneOf | Is | Known


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


def texts(problem: Problem) -> Iterator[tuple[PathTo, Text]]:
    """Every sentence of a tree."""
    if problem.first_action is not None:
        yield from _with_otherwise(("first_action",), problem.first_action)
    for name, node in problem.nodes.items():
        for place, text in _texts_of(node):
            yield from _with_otherwise(("nodes", name, *place), text)


def _with_otherwise(place: PathTo, text: Text) -> Iterator[tuple[PathTo, Text]]:
    yield place, text
    if isinstance(text, Say) and text.otherwise:
        yield from _with_otherwise((*place, "otherwise"), text.otherwise)


def _texts_of(node: Node) -> Iterator[tuple[PathTo, Text]]:
    if isinstance(node, Question):
        yield from ((("ask",), node.ask), (("why",), node.why))
        if node.hint is not None:
            yield ("hint",), node.hint
    if isinstance(node, Finding):
        yield from ((("cause",), node.cause), (("summary",), node.summary))
        yield from ((("steps", index), text) for index, text in enumerate(node.steps))
        yield from ((("next_time", index), text) for index, text in enumerate(node.next_time))
        yield from ((("check_again", "what"), node.check_again.what), (("check_again", "when"), node.check_again.when))


def conditions(problem: Problem) -> Iterator[tuple[PathTo, Condition]]:
    """Every condition of a tree: those of branches, and those of sentences."""
    for name, node in problem.nodes.items():
        if not isinstance(node, Finding):
            for index, branch in enumerate(node.branches):
                yield ("nodes", name, "branches", index, "when"), branch.when
    for place, text in texts(problem):
        if isinstance(text, Say) and text.when is not None:
            yield (*place, "when"), text.when


def leaves(condition: Condition, place: PathTo = ()) -> Iterator[tuple[PathTo, Leaf]]:
    """The conditions at the ends of `all`, `any` and `not`."""
    if isinstance(condition, All):
        for index, part in enumerate(condition.all_):
            yield from leaves(part, (*place, "all", index))
    elif isinstance(condition, AnyOf):
        for index, part in enumerate(condition.any_):
            yield from leaves(part, (*place, "any", index))
    elif isinstance(condition, Not):
        yield from leaves(condition.not_, (*place, "not"))
    else:
        yield place, condition


def all_leaves(problem: Problem) -> Iterator[tuple[PathTo, Leaf]]:
    """Every comparison, choice, yes/no and `known` of a tree."""
    for place, condition in conditions(problem):
        yield from leaves(condition, place)


def limits(leaf: Leaf, place: PathTo) -> Iterator[tuple[PathTo, Operand]]:
    """The operands that a comparison is made with, each with its place."""
    if isinstance(leaf, Compare):
        for index, limit in enumerate(leaf.limits):
            yield (*place, leaf.bound, *((index,) if leaf.bound == "between" else ())), limit


def inputs(problem: Problem) -> Iterator[tuple[PathTo, str, str, Input]]:
    """Every input of every run, those inside `first` one by one: place, run, name, what it is taken from."""
    for run_name, run in problem.calculations.items():
        for name, source in run.inputs.items():
            place = ("calculations", run_name, "inputs", name)
            for deeper, one in _each(source, place):
                yield deeper, run_name, name, one


def _each(source: Input, place: PathTo) -> Iterator[tuple[PathTo, Input]]:
    if isinstance(source, FirstKnown):
        for index, one in enumerate(source.first):
            yield from _each(one, (*place, "first", index))
    else:
        yield place, source


def names_used(problem: Problem) -> Iterator[tuple[PathTo, str]]:
    """Every name of a fact, result or lookup that a tree uses in conditions, operands and inputs, with its place."""
    for place, leaf in all_leaves(problem):
        yield place, leaf.known if isinstance(leaf, Known) else leaf.name
        for deeper, limit in limits(leaf, place):
            if not isinstance(limit, str):
                yield deeper, limit.name
    for place, _, _, source in inputs(problem):
        if isinstance(source, str):
            yield place, source
        elif isinstance(source, Named):
            yield place, source.name
    for name, node in problem.nodes.items():
        if isinstance(node, Question):
            yield ("nodes", name, "fact"), node.fact


def spoken_of(problem: Problem) -> frozenset[str]:
    """Every value that a tree's sentences and conditions name."""
    in_text = {placeholder.name for _, text in texts(problem) for placeholder in placeholders(text)}
    return frozenset(in_text | {name for _, name in names_used(problem)})


def runs_behind(problem: Problem, run_name: str) -> set[str]:
    """The runs whose results a run takes in directly."""
    taken = (source for _, run, _, source in inputs(problem) if run == run_name)
    used = {source.result.partition(".")[0] for source in taken if isinstance(source, ResultOperand)}
    return used & problem.calculations.keys()
