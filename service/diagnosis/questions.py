"""A tree's question as a customer is asked it: words, why it matters, and the answers to choose from."""

from __future__ import annotations

from knowledge.schema import Question as Asking
from knowledge.tables import ChoiceFact, Fact, QuantityFact
from service.consultation import Option, Question, Units
from service.diagnosis.known import Known
from service.diagnosis.own_first import own_first
from service.diagnosis.wording import capital, words

_ANSWERED_IN: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {  # unit: metric first, US first
    "SG": (("SG", "degP"), ("SG", "degP")),
    "degC": (("degC", "degF"), ("degF", "degC")),
    "bar": (("bar", "psi", "kPa"), ("psi", "bar", "kPa")),
    "L": (("L", "gal"), ("gal", "qt", "L")),
    "g": (("g", "oz"), ("oz", "g", "lb")),
    "kg": (("kg", "lb"), ("lb", "oz", "kg")),
    "m": (("m", "ft"), ("ft", "m")),
    "mm": (("mm", "in"), ("in", "mm")),
    "m3": (("m3", "ft3"), ("ft3", "m3")),
    "h": (("h", "d"), ("h", "d")),
    "d": (("d", "week", "month"), ("d", "week", "month")),
}


def asked(node: Asking, known: Known) -> Question:
    """The question of a node, with the options or units an answer may be given in, the customer's own first."""
    spec = known.knowledge.facts[node.fact]
    return Question(
        fact=node.fact,
        text=words(node.ask, known) or own_first(spec.ask, known.system),
        why=words(node.why, known),
        kind=spec.kind,
        unit=spec.unit if isinstance(spec, QuantityFact) else None,
        units=units_offered(spec, known.system),
        options=options_offered(spec, known.system),
        hint=words(node.hint or spec.hint or "", known),
    )


def units_offered(spec: Fact, system: Units) -> list[str]:
    """The units an answer may be given in, the customer's own first."""
    if not isinstance(spec, QuantityFact):
        return []
    metric, us = _ANSWERED_IN.get(spec.unit, ((spec.unit,), (spec.unit,)))
    return list(us if system == "us" else metric)


def options_offered(spec: Fact, system: Units) -> list[Option]:
    """The answers to choose from; none for a figure."""
    if isinstance(spec, ChoiceFact):
        return [Option(value=value, label=own_first(capital(label), system)) for value, label in spec.choices.items()]
    return [] if isinstance(spec, QuantityFact) else [Option(value="yes", label="Yes"), Option(value="no", label="No")]
