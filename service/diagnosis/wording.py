"""The sentences of a tree as a customer reads them: figures put in, in both unit systems, the customer's own first."""

from __future__ import annotations

from collections.abc import Iterable

from calculators import Reading, units
from knowledge.names import CHOSEN_BY
from knowledge.placeholders import PLACEHOLDER, Placeholder
from knowledge.schema import Say, Text
from knowledge.tables import ChoiceFact
from service.consultation import Units
from service.diagnosis.conditions import truth
from service.diagnosis.known import Known
from service.diagnosis.own_first import own_first


def words(text: Text, known: Known) -> str:
    """The sentence, or "" where it is not to be said."""
    while not isinstance(text, str):
        said = None if text.when is not None and truth(text.when, known) is not True else _filled(text, known)
        if said is not None:
            return own_first(said, known.system)
        text = text.otherwise
    return own_first(text, known.system)


def sentences(texts: Iterable[Text], known: Known) -> list[str]:
    """Those sentences that are to be said."""
    return [said for text in texts if (said := words(text, known))]


def _filled(text: Say, known: Known) -> str | None:
    """The sentence with its figures; None where one is not known."""
    shown = {match[0]: _shown(Placeholder.of(match[0]), known) for match in PLACEHOLDER.finditer(text.say)}
    if None in shown.values():
        return None
    return PLACEHOLDER.sub(lambda match: shown[match[0]] or "", text.say)


def _shown(placeholder: Placeholder, known: Known) -> str | None:
    return value_shown(placeholder.name, known, placeholder.part)


def value_shown(name: str, known: Known, part: str = "") -> str | None:
    """The value of a fact, result or lookup as it is read; None where there is none. A lookup shows its range."""
    value = known.value(name)
    if isinstance(value, Reading):
        head, dot, _ = name.partition(".")
        if head in CHOSEN_BY:
            return reading_shown(value, part or "range", known.system)
        return reading_shown(value, part, known.system, doubt=(value.high - value.low) / 2, said=not dot)
    if isinstance(value, bool):
        return "yes" if value else "no"
    spec = known.knowledge.facts.get(name)
    return spec.choices.get(value, value) if isinstance(spec, ChoiceFact) and value is not None else value


def reading_shown(reading: Reading, part: str, system: Units, doubt: float = 0.0, said: bool = False) -> str:
    """A reading, or one end (`low`, `high`) or the `range` of it, in both unit systems: "12 psi (0.83 bar)".

    Rounded to its `doubt`, plus or minus; what the customer `said` keeps its figures.
    """
    if part == "range":
        return span(reading, system, doubt)
    value = {"low": reading.low, "high": reading.high}.get(part, reading.value)
    return units.both_systems(value, reading.unit, system, doubt, said)


def span(reading: Reading, system: Units, doubt: float = 0.0) -> str:
    """The range of a reading in both unit systems: "10 to 14 °C (50 to 57 °F)"; one figure where its ends agree."""
    other: Units = "metric" if system == "us" else "us"
    first, second = (_ends(reading, each, doubt) for each in (system, other))
    return first if first == second else f"{first} ({second})"


def _ends(reading: Reading, system: Units, doubt: float) -> str:
    low, high = (units.in_system(end, reading.unit, system, doubt) for end in (reading.low, reading.high))
    if low == high:
        return low
    figure, _, unit = low.partition(" ")
    return f"{figure} to {high}" if unit and high.endswith(f" {unit}") else f"{low} to {high}"


def capital(label: str) -> str:
    """A label as it stands alone: "glass carboy" becomes "Glass carboy"."""
    return label[:1].upper() + label[1:]
