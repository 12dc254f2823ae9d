"""A picture of one tree, as the text of a Mermaid flow chart."""

from __future__ import annotations

from collections.abc import Iterator

from knowledge.conditions import All, AnyOf, Compare, Condition, Is, Known, Named, Not, OneOf
from knowledge.schema import Finding, Node, Problem, Question, Text

BOUNDS = {"at_least": "≥", "above": ">", "below": "<", "at_most": "≤"}


def mermaid(problem: Problem) -> str:
    """A flow chart of the tree: questions as rounded boxes, tests as diamonds, findings as boxes."""
    numbers = {name: f"n{index}" for index, name in enumerate(problem.nodes)}
    lines = ["flowchart TD", f"  start(({_quoted(problem.title)})) --> {numbers[problem.start]}"]
    for name, node in problem.nodes.items():
        lines.append(f"  {numbers[name]}{_box(name, node)}")
        lines.extend(f"  {numbers[name]} -->|{_quoted(label)}| {numbers[target]}" for label, target in _arrows(node))
    if dangerous := [
        numbers[name] for name, node in problem.nodes.items() if isinstance(node, Finding) and node.cautions
    ]:
        lines += ["  classDef caution stroke-width:3px", f"  class {','.join(dangerous)} caution"]
    return "\n".join(lines) + "\n"


def _box(name: str, node: Node) -> str:
    if isinstance(node, Question):
        return f"({_quoted(_said(node.ask))})"
    return f"[{_quoted(node.title)}]" if isinstance(node, Finding) else f"{{{_quoted(name)}}}"


def _arrows(node: Node) -> Iterator[tuple[str, str]]:
    if isinstance(node, Finding):
        return
    for branch in node.branches:
        yield described(branch.when), branch.go
    if isinstance(node, Question):
        yield "not known", node.unknown
        if node.unsure is not None:
            yield "too close to tell", node.unsure
    else:
        yield "otherwise", node.otherwise


def described(condition: Condition) -> str:
    """A condition in short: "gauge_pressure ≥ rated_pressure"."""
    if isinstance(condition, All):
        return " and ".join(_grouped(part) for part in condition.all_)
    if isinstance(condition, AnyOf):
        return " or ".join(_grouped(part) for part in condition.any_)
    if isinstance(condition, Not):
        return f"not {_grouped(condition.not_)}"
    if isinstance(condition, Known):
        return f"{condition.known} known"
    if isinstance(condition, Is):
        return condition.name if condition.is_ else f"not {condition.name}"
    return f"{condition.name} {_one_of(condition)}" if isinstance(condition, OneOf) else _compared(condition)


def _grouped(condition: Condition) -> str:
    text = described(condition)
    return f"({text})" if isinstance(condition, All | AnyOf) else text


def _one_of(condition: OneOf) -> str:
    return f"= {condition.one_of[0]}" if len(condition.one_of) == 1 else f"in {', '.join(condition.one_of)}"


def _compared(condition: Compare) -> str:
    limits = [_operand(limit) for limit in condition.limits]
    if condition.bound == "between":
        return f"{limits[0]} ≤ {condition.name} < {limits[1]}"
    return f"{condition.name} {BOUNDS[condition.bound]} {limits[0]}"


def _operand(operand: str | Named) -> str:
    if isinstance(operand, str):
        return operand
    return operand.name if operand.plus is None else f"{operand.name} + {operand.plus}"


def _said(text: Text) -> str:
    return text if isinstance(text, str) else text.say


def _quoted(text: str) -> str:
    """Text in a label: quotes and other marks that mean something to the chart are written as entities."""
    for mark, entity in (("#", "#35;"), ('"', "#quot;"), ("<", "#lt;"), (">", "#gt;"), ("|", "#124;")):
        text = text.replace(mark, entity)
    return f'"{text}"'
