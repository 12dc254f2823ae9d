"""The customer's words as an answer to the question just put: "1.050", "no idea", "yep", "the glass one".

A bare figure is an answer only where its unit can be told; otherwise it is doubted and the unit asked for.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from calculators import BadInput
from knowledge.tables import ChoiceFact, QuantityFact, YesNoFact
from knowledge.tables import Fact as FactSpec
from service.understanding.model import Doubt, Fact, Quantity
from service.understanding.normalise import stem
from service.understanding.scales import in_unit
from service.understanding.terms import Hit, Word, denied

NOT_KNOWN, YES, NO = "not-known", "says-yes", "says-no"
SHORT_ANSWER = 9
UNITS_BY_SIZE: Mapping[str, tuple[tuple[str, float, float], ...]] = {
    "degC": (("degC", -3, 34), ("degF", 35, 230)),
    "bar": (("bar", 0, 3.9), ("psi", 4, 150)),
    "L": (("gal", 0.5, 9), ("L", 18, 500)),
    "g": (("oz", 0.2, 9), ("g", 20, 3000)),
    "kg": (),
    "m": (),
    "mm": (("mm", 2.5, 20),),
}
"""For a fact in the first unit, the unit that a bare figure of this size must be in; between these it is asked."""
POINTS = (30.0, 130.0)


class AnswerReader:
    """Reads answers to one question at a time; built once from the knowledge."""

    def __init__(self, specs: Mapping[str, FactSpec]):
        self._specs = specs

    def read(
        self, asked: str, words: Sequence[Word], hits: Sequence[Hit], read: Mapping[str, Fact]
    ) -> tuple[dict[str, Fact], tuple[Doubt, ...]]:
        """What the message says about the fact asked for, in place of what it was taken for otherwise."""
        spec = self._specs.get(asked)
        if spec is None or asked in read:
            return dict(read), ()
        answer: Fact | Doubt | None
        if isinstance(spec, QuantityFact):
            answer = _quantity(asked, spec, words, read)
        elif isinstance(spec, ChoiceFact):
            answer = _choice(asked, spec, words)
        else:
            answer = _yes_no(asked, spec, words, hits)
        if answer is None and any(hit.group == NOT_KNOWN for hit in hits):
            answer = Fact(asked, None, said=" ".join(word.word for word in words))
        if isinstance(answer, Doubt):
            return dict(read), (answer,)
        if answer is None:
            return dict(read), ()
        others = {name: fact for name, fact in read.items() if fact.said != answer.said}
        return others | {asked: answer}, ()


def _quantity(asked: str, spec: QuantityFact, words: Sequence[Word], read: Mapping[str, Fact]) -> Fact | Doubt | None:
    """The one figure that can be the answer: unclaimed, or claimed only because nothing else was known of it."""
    claimed = {fact.said for fact in read.values()} if len(words) > SHORT_ANSWER else set()
    open_ones = [word.quantity for word in words if word.quantity and word.quantity.said not in claimed]
    possible = [(one, unit) for one in open_ones if (unit := _unit_of(one, spec)) is not None]
    if len(possible) == 1:
        return _taken(asked, spec, *possible[0])
    bare = [one for one in open_ones if one.unit is None]
    if not possible and len(bare) == 1:
        return Doubt((asked,), bare[0].value, None, bare[0].said, "no-unit")
    return None


def _taken(asked: str, spec: QuantityFact, said: Quantity, unit: str) -> Fact | Doubt:
    value, low, high = (None if v is None else in_unit(v, unit, spec.unit) for v in (said.value, said.low, said.high))
    if value is None or not spec.low <= value <= spec.high:
        return Doubt((asked,), said.value, unit, said.said, "out-of-range")
    return Fact(asked, value, spec.unit, low, high, said.said, unit if unit != spec.unit else said.unit)


def _unit_of(said: Quantity, spec: QuantityFact) -> str | None:
    """The unit a figure is in, if it can measure what was asked for."""
    if said.unit == "points":
        return "SG" if spec.unit == "SG" else None
    if said.unit == "deg":
        return _by_size(said.value, "degC") if spec.unit == "degC" else None
    if said.unit is not None:
        return said.unit if _measures(said.unit, spec.unit) else None
    if spec.unit in UNITS_BY_SIZE:
        return _by_size(said.value, spec.unit)
    if spec.unit == "SG":
        return "points" if POINTS[0] <= said.value <= POINTS[1] else None
    return spec.unit


def _by_size(value: float, unit: str) -> str | None:
    return next((name for name, low, high in UNITS_BY_SIZE[unit] if low <= value <= high), None)


def _measures(unit: str, wanted: str) -> bool:
    try:
        in_unit(1.05, unit, wanted)
    except BadInput:
        return False
    return True


def _choice(asked: str, spec: ChoiceFact, words: Sequence[Word]) -> Fact | None:
    """The choice whose label shares most words with the answer, where one does so more than any other."""
    said = {word.keys[0]: word for at, word in enumerate(words) if not denied(words, at)}
    labels = {value: {stem(part) for part in _parts(value, label)} for value, label in spec.choices.items()}
    shared = {value: len(label & said.keys()) for value, label in labels.items()}
    common = set.intersection(*labels.values()) if labels else set()
    best = max(shared.values(), default=0)
    chosen = [value for value, count in shared.items() if count == best and (labels[value] & said.keys()) - common]
    return Fact(asked, chosen[0], said=" ".join(word.word for word in words)) if len(chosen) == 1 else None


def _parts(value: str, label: str) -> Iterator[str]:
    for part in f"{value} {label}".lower().replace("-", " ").replace(",", " ").split():
        if len(part) > 2 and part not in ("the", "and", "for", "with", "that", "was"):
            yield part.strip(".()'’")


def _yes_no(asked: str, _spec: YesNoFact, words: Sequence[Word], hits: Sequence[Hit]) -> Fact | None:
    """Yes or no by what is said first; "not sure" is neither."""
    unsure = [hit for hit in hits if hit.group == NOT_KNOWN]
    answers = sorted((hit.first, hit.group) for hit in hits if hit.group in (YES, NO))
    if unsure or not answers:
        return None
    return Fact(asked, answers[0][1] == YES, said=words[answers[0][0]].word)
