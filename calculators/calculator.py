"""A calculator: a plain function of floats, described by its docstring, run with uncertainty, working and warnings."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from types import MappingProxyType
from typing import Any, TypeVar

from calculators import door, units
from calculators.core import BadInput, Calculation, Found, Given, InputSpec, Reading, ResultSpec, Source, System
from calculators.docstrings import described
from calculators.registry import register
from calculators.uncertainty import carried

Compute = Callable[..., dict[str, float]]
Remarks = Callable[[Given, Found], Iterable[str]]
Own = Callable[[Given, Found], Mapping[str, float]]


def _nothing(_given: Given, _found: Found) -> Iterable[str]:
    return ()


def _no_more(_given: Given, _found: Found) -> Mapping[str, float]:
    return {}


@dataclass(slots=True)
class Calculator:
    """One calculation the shop can do. Made by ``@calculator``; see DEVELOPERS for how to add one.

    The parts of a run beside the function itself are attached by decorators: ``checks`` (combinations of inputs that
    cannot be; raises BadInput), ``working`` (lines of the formula with the figures put in), ``warnings`` (what to
    beware of) and ``more_uncertainty`` (the method's own, where it depends on the inputs).
    """

    name: str
    title: str
    summary: str
    doc: str
    inputs: Mapping[str, InputSpec]
    results: Mapping[str, ResultSpec]
    sources: Mapping[str, str]
    compute: Compute
    _checks: Callable[[Given], None] = field(default=lambda _given: None)
    _working: Remarks = _nothing
    _warnings: Remarks = _nothing
    _more_uncertainty: Own = _no_more

    def checks(self, function: Callable[[Given], None]) -> Callable[[Given], None]:
        self._checks = function
        return function

    def working(self, function: Remarks) -> Remarks:
        self._working = function
        return function

    def warnings(self, function: Remarks) -> Remarks:
        self._warnings = function
        return function

    def more_uncertainty(self, function: Own) -> Own:
        self._more_uncertainty = function
        return function

    def run(self, inputs: Mapping[str, door.InputValue], system: System = "metric") -> Calculation:
        """One calculation; raises BadInput where an input, or a combination of inputs, cannot be."""
        taken = door.take_all(self.inputs, inputs)
        given: dict[str, Any] = dict.fromkeys(self.inputs)
        readings = {name: t.value for name, t in taken.items() if isinstance(t.value, Reading)}
        given.update((name, t.value.value if isinstance(t.value, Reading) else t.value) for name, t in taken.items())
        self._checks(given)
        found = self.compute(**given)
        self._check_results(found)
        results = self._with_ranges(given, found, readings)
        return Calculation(
            self.name,
            MappingProxyType({name: t.value for name, t in taken.items()}),
            MappingProxyType(results),
            "\n".join(self._lines(taken, given, found, results, system)),
            tuple(self.sources),
            (*self._out_of_range(readings), *self._warnings(given, found)),
        )

    def schema(self) -> dict[str, Any]:
        """The inputs as a JSON Schema object, for a form or an API description."""
        return {
            "type": "object",
            "additionalProperties": False,
            "properties": {name: _schema(spec) for name, spec in self.inputs.items()},
            "required": [name for name, spec in self.inputs.items() if spec.required],
        }

    def _check_results(self, found: Found) -> None:
        for name, value in found.items():
            low, high = self.results[name].possible
            if not (math.isfinite(value) and low <= value <= high):
                raise BadInput(
                    name,
                    f"these figures together would give {units.show(value, self.results[name].unit)}, which cannot be. "
                    "Check them and their units.",
                )

    def _with_ranges(self, given: Given, found: Found, readings: Mapping[str, Reading]) -> dict[str, Reading]:
        below, above = carried(self.compute, given, found, readings)
        more = self._more_uncertainty(given, found)
        results = {}
        for name, value in found.items():
            spec = self.results[name]
            if spec.echoes and name in readings:
                results[name] = readings[name]
                continue
            own = spec.own_uncertainty(value) + more.get(name, 0.0)
            low, high = spec.possible
            results[name] = Reading(
                value,
                max(value - math.hypot(below[name], own), min(low, value)),
                min(value + math.hypot(above[name], own), max(high, value)),
                spec.unit,
            )
        return results

    def _lines(
        self,
        taken: Mapping[str, door.Taken],
        given: Given,
        found: Found,
        results: Mapping[str, Reading],
        system: System,
    ) -> Iterable[str]:
        for name, one in taken.items():
            yield f"{_words(name)}: {_input_line(one, system)}"
        yield from self._working(given, found)
        for name, reading in results.items():
            if self.results[name].echoes and name in taken:
                continue
            yield f"{_words(name)} = {units.both_systems(reading.value, reading.unit, system)}{_range(reading, system)}"

    def _out_of_range(self, readings: Mapping[str, Reading]) -> Iterable[str]:
        for name, reading in readings.items():
            established = self.inputs[name].established
            if established and not established[0] <= reading.value <= established[1]:
                low, high = (units.both_systems(end, reading.unit) for end in established)
                yield (
                    f"{_words(name)}: {units.both_systems(reading.value, reading.unit)} lies outside {low} to {high}, "
                    "for which this formula was established; take the result as a rough guide."
                )


def calculator(
    name: str, *, title: str, inputs: Sequence[InputSpec], results: Sequence[ResultSpec], sources: Sequence[Source]
) -> Callable[[Compute], Calculator]:
    """Make a calculator of a function of floats.

    The function takes every input by name (None where left out) and returns its results by name. Its docstring is the
    calculator's documentation: the first line its summary; under ``Parameters`` and ``Returns`` one entry each. A
    docstring that leaves one out, or describes one that is not there, is refused at import.
    """

    def made(function: Compute) -> Calculator:
        doc = described(function.__doc__ or "")
        new = Calculator(
            name=name,
            title=title,
            summary=doc.summary,
            doc=function.__doc__ or "",
            inputs=_told(name, inputs, doc.parameters),
            results=_told(name, results, doc.returns),
            sources=MappingProxyType({source.id: source.citation for source in sources}),
            compute=function,
        )
        register(new)
        return new

    return made


Spec = TypeVar("Spec", InputSpec, ResultSpec)


def _told(name: str, specs: Sequence[Spec], texts: Mapping[str, str]) -> Mapping[str, Spec]:
    """The specifications by name, each with its text from the docstring."""
    if [spec.name for spec in specs] != list(texts):
        raise ValueError(f"{name}: the docstring describes {list(texts)}, the code has {[s.name for s in specs]}")
    return MappingProxyType({spec.name: replace(spec, description=texts[spec.name]) for spec in specs})


def _range(reading: Reading, system: System) -> str:
    _, low, high, unit = reading
    if low == high:
        return ""
    return f", from {units.in_system(low, unit, system)} to {units.in_system(high, unit, system)}"


@cache
def _words(name: str) -> str:
    return name.replace("_", " ").replace("co2", "CO2").replace("abv", "ABV")


def _input_line(taken: door.Taken, system: System) -> str:
    """The customer's figure in their own words, and in the unit the formula takes."""
    if isinstance(taken.value, bool):
        return "yes" if taken.value else "no"
    if not isinstance(taken.value, Reading):
        return taken.value
    shown = units.both_systems(taken.value.value, taken.value.unit, system)
    told = not taken.said or shown == taken.said or shown.startswith(f"{taken.said} (")
    return shown if told else f"{taken.said} = {shown}"


_JSON_KINDS: dict[str, dict[str, Any]] = {
    "quantity": {"type": ["number", "string", "object"]},
    "choice": {"type": "string"},
    "flag": {"type": "boolean"},
}


def _schema(spec: InputSpec) -> dict[str, Any]:
    schema: dict[str, Any] = {**_JSON_KINDS[spec.kind], "description": spec.description}
    if spec.kind == "quantity":
        schema |= {"unit": spec.unit, "minimum": spec.possible[0], "maximum": spec.possible[1]}
        schema |= {"established": list(spec.established)} if spec.established else {}
    if spec.choices:
        schema["enum"] = list(spec.choices)
    if spec.default is not None:
        schema["default"] = spec.default.value if isinstance(spec.default, Reading) else spec.default
    return schema
