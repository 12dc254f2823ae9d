"""The door: whatever a caller gives becomes a checked reading in the input's own unit, or one clear error."""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import cache
from typing import NamedTuple

from calculators import units
from calculators.core import BadInput, InputSpec, Reading

InputValue = str | float | bool | Reading | Mapping[str, object] | None


class Taken(NamedTuple):
    """An input as it was taken in: its value in the own unit (or choice, or bool) and the caller's own words."""

    value: Reading | str | bool
    said: str = ""


def take_all(specs: Mapping[str, InputSpec], inputs: Mapping[str, InputValue]) -> dict[str, Taken]:
    """Every input that was given or has a default; raises one BadInput that names everything wrong at once."""
    faults = [_unknown(name, specs) for name in inputs if name not in specs]
    taken: dict[str, Taken] = {}
    for name, spec in specs.items():
        try:
            given = inputs.get(name)
            found = _default(spec) if given is None else take(spec, given)
        except BadInput as fault:
            faults.append(fault)
        else:
            if found is not None:
                taken[name] = found
    if faults:
        raise BadInput.together(faults)
    return taken


def take(spec: InputSpec, given: InputValue) -> Taken:
    """One input; raises BadInput where it is of the wrong kind or unit, or cannot be."""
    if spec.kind == "flag":
        return Taken(_flag(spec, given))
    if spec.kind == "choice":
        return Taken(_choice(spec, given))
    reading, said = _reading(spec, given)
    return Taken(_checked(spec, reading), said)


def _unknown(name: str, specs: Mapping[str, InputSpec]) -> BadInput:
    return BadInput(str(name)[:60], f"there is no such input. There are: {', '.join(specs)}.")


@cache
def _default(spec: InputSpec) -> Taken | None:
    if spec.default is None:
        if spec.optional:
            return None
        raise BadInput(spec.name, f"is missing. {_wanted(spec)}")
    return take(spec, spec.default)


def _wanted(spec: InputSpec) -> str:
    if spec.kind == "quantity":
        return f"Give it, for example {units.example(spec.unit)!r}."
    return f"Give one of: {', '.join(spec.choices)}." if spec.kind == "choice" else "Say true or false."


def _flag(spec: InputSpec, given: InputValue) -> bool:
    if isinstance(given, bool):
        return given
    word = given.strip().casefold() if isinstance(given, str) else ""
    if word not in {"yes", "no", "true", "false"}:
        raise BadInput(spec.name, f"{_shown(given)} is neither yes nor no. Say true or false.")
    return word in {"yes", "true"}


def _choice(spec: InputSpec, given: InputValue) -> str:
    if not isinstance(given, str) or given not in spec.choices:
        raise BadInput(spec.name, f"{_shown(given)} is not one of: {', '.join(spec.choices)}.")
    return given


def _reading(spec: InputSpec, given: InputValue) -> tuple[Reading, str]:
    if isinstance(given, Reading):
        return _converted(spec, given), ""
    if isinstance(given, str):
        return _written(spec, given), given.strip()
    if isinstance(given, Mapping):
        return _from_mapping(spec, given), ""
    if isinstance(given, bool) or not isinstance(given, int | float):
        raise BadInput(spec.name, f"{_shown(given)} is not a figure. {_wanted(spec)}")
    return _with_usual_error(spec, _float(spec, given)), ""


def _written(spec: InputSpec, text: str) -> Reading:
    """ "12 psi", or a range: "65 to 75 percent"."""
    low_text, to, high_text = text.partition(" to ")
    if not to:
        return _with_usual_error(spec, units.parse(text, spec.unit, spec.name))
    high = units.parse(high_text, spec.unit, spec.name)
    _, said = units.split(high_text, spec.unit, spec.name)
    low = units.parse(low_text if units.has_unit(low_text) else f"{low_text} {said}", spec.unit, spec.name)
    return Reading((low + high) / 2, low, high, spec.unit)


def _from_mapping(spec: InputSpec, given: Mapping[str, object]) -> Reading:
    value = given.get("value")
    if isinstance(value, str):
        return _written(spec, f"{value} {given.get('unit', '')}")
    unit = str(given.get("unit") or spec.unit)
    figure = _float(spec, value)
    if given.get("low") is None and given.get("high") is None:
        return _with_usual_error(spec, units.parse(f"{figure!r} {unit}", spec.unit, spec.name))
    low, high = (figure if given.get(end) is None else _float(spec, given[end]) for end in ("low", "high"))
    return _converted(spec, Reading(figure, low, high, unit))


def _converted(spec: InputSpec, reading: Reading) -> Reading:
    if not reading.unit or reading.unit == spec.unit:
        return Reading(_float(spec, reading.value), _float(spec, reading.low), _float(spec, reading.high), spec.unit)
    value, low, high = (
        units.parse(f"{_float(spec, part)!r} {reading.unit}", spec.unit, spec.name) for part in reading[:3]
    )
    return Reading(value, low, high, spec.unit)


def _float(spec: InputSpec, value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise BadInput(spec.name, f"{_shown(value)} is not a figure. {_wanted(spec)}")
    try:
        figure = float(value)
    except OverflowError:
        figure = math.inf
    if not math.isfinite(figure):
        raise BadInput(spec.name, f"{figure} is not a finite figure. {_wanted(spec)}")
    return figure


def _with_usual_error(spec: InputSpec, value: float) -> Reading:
    error = spec.reading + spec.share * abs(value)
    if not error:
        return Reading(value, value, value, spec.unit)
    low, high = spec.possible
    # the usual error never carries a possible value outside what can be; an impossible one is refused next
    return Reading(value, min(value, max(value - error, low)), max(value, min(value + error, high)), spec.unit)


def _checked(spec: InputSpec, reading: Reading) -> Reading:
    value, least, most, _unit = reading
    low, high = spec.possible
    if not least <= value <= most:
        raise BadInput(spec.name, "its range does not hold its value. Give low, value and high in rising order.")
    if low <= least and most <= high:
        return reading
    wrong = next(part for part in (value, least, most) if not low <= part <= high)
    raise BadInput(
        spec.name,
        f"{units.show(wrong, spec.unit)} cannot be: it must lie between {units.show(low, spec.unit)} and "
        f"{units.show(high, spec.unit)}. Check the figure and its unit.",
    )


def _shown(given: object) -> str:
    return repr(given)[:60]
