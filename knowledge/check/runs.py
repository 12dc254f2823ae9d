"""Every run names a calculator and inputs that are there, gives all that are required, and none needs itself."""

from collections.abc import Iterator

import calculators
from knowledge.faults import Fault
from knowledge.loading import Draft, problem_file
from knowledge.schema import Problem, ValueInput
from knowledge.trees import inputs, runs_behind

ID = "runs"


def faults(draft: Draft) -> Iterator[Fault]:
    for problem in draft.knowledge.problems.values():
        yield from _calculators(problem, draft)
        yield from _choices(problem, draft)
        yield from _circles(problem, draft)


def _calculators(problem: Problem, draft: Draft) -> Iterator[Fault]:
    file = problem_file(problem.id)
    for name, run in problem.calculations.items():
        place = ("calculations", name)
        if run.calculator not in calculators.names():
            yield draft.fault(ID, file, (*place, "calculator"), f"there is no calculator `{run.calculator}`")
            continue
        specs = calculators.get(run.calculator).inputs
        for unknown in run.inputs.keys() - specs.keys():
            message = f"{run.calculator} has no input `{unknown}`; it has {', '.join(specs)}"
            yield draft.fault(ID, file, (*place, "inputs", unknown), message)
        for needed in (spec.name for spec in specs.values() if spec.required and spec.name not in run.inputs):
            yield draft.fault(ID, file, (*place, "inputs"), f"{run.calculator} needs the input `{needed}`")


def _choices(problem: Problem, draft: Draft) -> Iterator[Fault]:
    for place, run, name, source in inputs(problem):
        spec = _spec(problem, run, name)
        if spec and spec.choices and isinstance(source, ValueInput) and source.value not in spec.choices:
            message = f"`{source.value}` is not one of {', '.join(spec.choices)}"
            yield draft.fault(ID, problem_file(problem.id), place, message)


def _spec(problem: Problem, run: str, name: str) -> calculators.InputSpec | None:
    calculator = problem.calculations[run].calculator
    return calculators.get(calculator).inputs.get(name) if calculator in calculators.names() else None


def _circles(problem: Problem, draft: Draft) -> Iterator[Fault]:
    for name in problem.calculations:
        behind: set[str] = set()
        ahead = [name]
        while ahead:
            new = runs_behind(problem, ahead.pop()) - behind
            behind |= new
            ahead.extend(new)
        if name in behind:
            message = f"the calculation `{name}` needs its own result"
            yield draft.fault(ID, problem_file(problem.id), ("calculations", name), message)
