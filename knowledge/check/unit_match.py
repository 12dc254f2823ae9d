"""Figures and operands can be turned into the unit of what they are compared with, moved by, or put in for."""

from collections.abc import Iterator

import calculators
from calculators import BadInput, units
from knowledge.conditions import Compare, Named
from knowledge.faults import Fault, PathTo
from knowledge.loading import Draft, problem_file
from knowledge.names import difference_unit, figure, unit_of
from knowledge.schema import Problem, ValueInput
from knowledge.trees import all_leaves, inputs, limits

Found = Iterator[tuple[PathTo, str]]
ID = "units"


def faults(draft: Draft) -> Iterator[Fault]:
    for problem in draft.knowledge.problems.values():
        for place, message in (*_of_conditions(problem, draft), *_of_inputs(problem, draft)):
            yield draft.fault(ID, problem_file(problem.id), place, message)


def _of_conditions(problem: Problem, draft: Draft) -> Found:
    for place, leaf in all_leaves(problem):
        unit = unit_of(leaf.name, problem, draft.knowledge) if isinstance(leaf, Compare) else None
        for deeper, limit in limits(leaf, place) if unit else ():
            yield from _operand(deeper, limit, unit or "", problem, draft)


def _of_inputs(problem: Problem, draft: Draft) -> Found:
    for place, run, name, source in inputs(problem):
        unit = _input_unit(problem, run, name)
        if not unit:
            continue
        if isinstance(source, ValueInput):
            yield from _figure(place, str(source.value), unit)
        elif isinstance(source, str):
            yield from _named(place, source, unit, problem, draft)
        elif isinstance(source, Named):
            yield from _operand(place, source, unit, problem, draft)


def _input_unit(problem: Problem, run: str, name: str) -> str:
    calculator = problem.calculations[run].calculator
    spec = calculators.get(calculator).inputs.get(name) if calculator in calculators.names() else None
    return spec.unit if spec and spec.kind == "quantity" else ""


def _operand(place: PathTo, operand: str | Named, unit: str, problem: Problem, draft: Draft) -> Found:
    if isinstance(operand, str):
        yield from _figure(place, operand, unit)
        return
    yield from _named(place, operand.name, unit, problem, draft)
    own = unit_of(operand.name, problem, draft.knowledge)
    if operand.plus is not None and own:
        yield from _figure((*place, "plus"), operand.plus, difference_unit(own))


def _figure(place: PathTo, written: str, unit: str) -> Found:
    try:
        figure(written, unit)
    except BadInput as fault:
        yield place, fault.message


def _named(place: PathTo, name: str, unit: str, problem: Problem, draft: Draft) -> Found:
    own = unit_of(name, problem, draft.knowledge)
    try:
        if own:
            units.convert(1.0, own, unit)
    except BadInput as fault:
        yield place, f"`{name}`: {fault.message}"
