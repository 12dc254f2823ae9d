"""Which fact each quantity is: by what it can be, the words around it, and what else is said.

Every quantity is scored against every fact of its kind, and against being no fact at all (a price, a kettle's size,
the range printed on the yeast). The reading with the highest sum wins, each fact being said once. Where two facts
explain a figure equally well, or none can be right, the figure is doubted and asked about, never guessed.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from calculators.units import convert
from knowledge.reading import Cues, FactReading, Reading
from service.understanding.model import Doubt, Fact, Quantity
from service.understanding.terms import Hit, Word

CATALOGUE_NAMES = {"inch": "in", "hour": "h", "day": "d"}
REACH = 6
NEARNESS = (1.0, 0.92, 0.84, 0.74, 0.62, 0.5, 0.4)
OVER_A_COMMA, OVER_A_STOP, OVER_ITS_LIKE, OVER_A_FIGURE = 0.75, 0.3, 0.4, 0.85
NEEDED = 1.0
BARE_NEEDS_CUE, BARE_WORD_NEEDS_CUE, BARE_VOLUME_NEEDS_CUE, BARE_BASE = 0.7, 1.6, 2.0, 0.4
LIKELY = 0.5
IMPLIED = 0.8
TOO_CLOSE = 0.05
PLAINLY_SAID = 1.5
CUED, STANDS_ALONE, ALIKE = 0.8, 1.15, 0.6
PLAIN = 2.5
STILL_WORT = 0.6
NO_CUES = Cues()
NEEDS_TALK = {"pressure": frozenset({"pressure-word", "said-pressure"}), "volume": frozenset({"said-volume"}), "gravity": frozenset({"said-gravity"})}
EXTRACT = ("degP", "degBx")
MOST_OF_A_KIND = 9
SAME = 1e-6
US_UNITS = frozenset({"degF", "psi", "gal", "qt", "oz", "lb", "ft", "inch", "ft3"})
METRIC_UNITS = frozenset({"degC", "bar", "kPa", "L", "g", "kg", "m", "mm", "m3"})
SURELY_FAHRENHEIT, WARMEST_COLD, COLD = 26.0, 18.0, "cold-place"


@dataclass(frozen=True, slots=True)
class Near:
    """A cue close to a figure: its group, its side, and how much of its weight reaches the figure."""

    group: str
    before: bool
    strength: float


@dataclass(frozen=True, slots=True)
class Usual:
    """The measures of a message: its unit for each kind, and above 0 where it is metric, below where it is US."""

    units: Mapping[str, str]
    metric: int


@dataclass(slots=True)
class _Candidate:
    """One value of one kind: the places where it is said, and its score for each fact it could be."""

    quantity: Quantity
    values: dict[str, tuple[float, float | None, float | None]]
    scores: dict[str, float]
    passed: float
    unlikely: dict[str, float]
    cued: set[str] = field(default_factory=set)

    def facts(self) -> dict[str, float]:
        """What it may be: its best fact, and others that words point to; none by mere elimination."""
        best = max(self.scores, key=lambda name: self.scores[name], default="")
        return {name: score for name, score in self.scores.items() if name == best or name in self.cued or score >= STANDS_ALONE}


class FactReader:
    """Reads figures as facts; built once from the knowledge."""

    def __init__(self, reading: Reading):
        self._reading = reading
        self._kind_of = {unit: kind for kind, units in reading.kinds.items() for unit in units}
        self._of_kind: dict[str, dict[str, FactReading]] = defaultdict(dict)
        for name, fact in reading.facts.items():
            self._of_kind[fact.kind][name] = fact
        self._bare = {kind: {n: f for n, f in facts.items() if f.bare} for kind, facts in self._of_kind.items()}
        self._passed: Mapping[str, Cues] = {str(kind): cues for kind, cues in reading.passed.items()}
        self._cues_of_bare = {kind: frozenset(groups) for kind, groups in reading.bare.items()}

    def read(self, words: Sequence[Word], hits: Sequence[Hit]) -> tuple[dict[str, Fact], tuple[Doubt, ...]]:
        """The facts among the quantities of a message, and what is to be asked about."""
        anywhere = {hit.group for hit in hits} | {f"said-{word.keys[1][2:]}" for word in words if word.quantity}
        figures = [(at, word.quantity) for at, word in enumerate(words) if word.quantity]
        usual = self._usual([quantity for _, quantity in figures])
        by_kind: dict[str, list[_Candidate]] = defaultdict(list)
        gravities = sorted({self._value(q, "SG") for _, q in figures if self._kind(q) == "gravity"})
        for at, quantity in figures:
            near = self._near(words, hits, at)
            if gravities and gravities[-1] - gravities[0] > 0.012 and self._kind(quantity) == "gravity":
                near += _rank(self._value(quantity, "SG"), gravities)
            for kind, candidate in self._candidates(quantity, near, anywhere, usual):
                _merge(by_kind[kind], candidate)
        facts, doubts = _assign(by_kind, self._reading.facts)
        return _same_moment(facts, anywhere), doubts

    def _usual(self, quantities: Sequence[Quantity]) -> Usual:
        """The unit the message uses for each kind, and how metric it is on the whole."""
        units = [quantity.unit for quantity in quantities if quantity.unit]
        metric = sum(unit in METRIC_UNITS for unit in units) - sum(unit in US_UNITS for unit in units)
        return Usual({self._kind_of[unit]: unit for unit in units if unit in self._kind_of and unit != "deg"}, metric)

    def _kind(self, quantity: Quantity) -> str | None:
        if quantity.unit == "points":
            return "gravity"
        return self._kind_of.get(quantity.unit) if quantity.unit else None

    def _value(self, quantity: Quantity, unit: str) -> float:
        said = "SG" if quantity.unit == "points" else quantity.unit or unit
        return in_unit(quantity.value, said, unit)

    def _near(self, words: Sequence[Word], hits: Sequence[Hit], at: int) -> list[Near]:
        found = [Near("alone", True, 1.0)] if _alone(words, at) else []
        for hit in hits:
            before = hit.last <= at
            if not before and hit.first <= at:
                continue
            gap = at - hit.last if before else hit.first - at - 1
            if gap > self._reading.reach.get(hit.group, REACH):
                continue
            strength = self._strength(words, at, hit.last - 1 if before else hit.first, gap)
            found.append(Near(hit.group, before, strength))
        return found

    def _strength(self, words: Sequence[Word], at: int, cue: int, gap: int) -> float:
        figure, word = words[at], words[cue]
        strength = NEARNESS[min(gap, len(NEARNESS) - 1)]
        if stops := abs(word.sentence - figure.sentence):
            strength *= OVER_A_STOP**stops
        strength *= OVER_A_COMMA ** (abs(word.part - figure.part) - stops)
        for other in words[min(at, cue) + 1 : max(at, cue)]:
            if other.quantity:
                alike = figure.quantity and self._kind(other.quantity) == self._kind(figure.quantity) != "length"
                strength *= OVER_ITS_LIKE if alike else OVER_A_FIGURE
        return strength

    def _candidates(
        self, quantity: Quantity, near: Sequence[Near], anywhere: Iterable[str], usual: Usual
    ) -> Iterable[tuple[str, _Candidate]]:
        kind = self._kind(quantity)
        if kind:
            yield kind, self._candidate(quantity, kind, self._of_kind[kind], near, anywhere, usual, bare=False)
        elif quantity.unit is None:
            groups = {one.group for one in near}
            for bare_kind, facts in self._bare.items():
                hinted = groups & self._cues_of_bare.get(bare_kind, frozenset()) or bare_kind in usual.units
                if not hinted or not self._in_talk(bare_kind, anywhere):
                    continue
                candidate = self._candidate(quantity, bare_kind, facts, near, anywhere, usual, bare=True)
                if candidate.scores:
                    yield bare_kind, candidate

    def _in_talk(self, kind: str, anywhere: Iterable[str]) -> bool:
        """A bare figure can be a pressure only where pressures are talked of, a volume where another one is said."""
        return kind not in NEEDS_TALK or not NEEDS_TALK[kind].isdisjoint(anywhere)

    def _candidate(
        self,
        quantity: Quantity,
        kind: str,
        facts: Mapping[str, FactReading],
        near: Sequence[Near],
        anywhere: Iterable[str],
        usual: Usual,
        *,
        bare: bool,
    ) -> _Candidate:
        passed = _sum(self._passed.get(kind, NO_CUES), near, anywhere)
        if bare:
            passed = max(passed, _sum(self._passed.get("any", NO_CUES), near, ()))
        made = _Candidate(quantity, {}, {}, passed, {})
        for name, fact in facts.items():
            if fact.units and not bare and quantity.unit not in fact.units:
                continue
            if fact.needs and not any(group in anywhere for group in fact.needs):
                continue
            cues = _sum(fact, near, ())
            if bare and cues < _cue_needed(quantity, kind):
                continue
            base = min(fact.base, BARE_BASE) + ALIKE * (kind in usual.units) if bare else fact.base
            score = base + cues + sum(fact.anywhere.get(group, 0.0) for group in anywhere) - quantity.implied * IMPLIED
            if (said := _scale(quantity, fact, usual, cold=any(one.group == COLD for one in near))) is None:
                made.unlikely[name] = score
                continue
            score += _likely(said[0], fact.likely)
            made.values[name], made.scores[name] = said, score
            if cues >= CUED:
                made.cued.add(name)
        return made


def _cue_needed(quantity: Quantity, kind: str) -> float:
    """How plainly the words must point to a fact for a figure without a unit; "two" is rarely a reading."""
    if kind == "volume":
        return BARE_VOLUME_NEEDS_CUE
    return BARE_WORD_NEEDS_CUE if quantity.said.isalpha() and quantity.value < 13 else BARE_NEEDS_CUE


def _sum(cues: Cues, near: Iterable[Near], anywhere: Iterable[str]) -> float:
    best: dict[tuple[str, bool], float] = {}
    for one in near:
        weight = (cues.before if one.before else cues.after).get(one.group)
        if weight is not None:
            key = (one.group, one.before)
            best[key] = max(best.get(key, -9.0), weight * one.strength)
    strongest = sorted(best.values(), reverse=True)
    return sum(strongest[:1]) + 0.5 * sum(strongest[1:3]) + sum(cues.anywhere.get(group, 0.0) for group in anywhere)


def _alone(words: Sequence[Word], at: int) -> bool:
    """Whether a figure stands by itself between commas: "9 C, 16 days, still sweet"."""
    neighbours = (*words[max(0, at - 1) : at], *words[at + 1 : at + 2])
    return len(words) > 1 and all(word.part != words[at].part for word in neighbours)


def _rank(value: float, gravities: Sequence[float]) -> list[Near]:
    ends = {gravities[-1]: "highest", gravities[0]: "lowest"}
    return [Near(ends[value], True, 1.0)] if value in ends else []


def in_unit(value: float, unit: str, to: str) -> float:
    """A value in another unit of the catalogue; raises `BadInput` where the two do not measure the same."""
    return convert(value, CATALOGUE_NAMES.get(unit, unit), CATALOGUE_NAMES.get(to, to))


def _scale(
    quantity: Quantity, fact: FactReading, usual: Usual, *, cold: bool
) -> tuple[float, float | None, float | None] | None:
    """The value (and range) in the fact's own unit, or None where it cannot be right."""
    unit = _unit(quantity, fact, usual, cold=cold)
    if unit is None:
        return None
    value, low, high = (None if v is None else in_unit(v, unit, fact.unit) for v in (quantity.value, quantity.low, quantity.high))
    if value is None or not fact.between[0] <= value <= fact.between[1]:
        return None
    return value, low, high


def _unit(quantity: Quantity, fact: FactReading, usual: Usual, *, cold: bool) -> str | None:
    """The unit said, or the one that is meant where only one is possible."""
    if quantity.unit not in (None, "deg", "points"):
        return quantity.unit
    if quantity.unit == "points":
        return "SG"
    said = usual.units.get(fact.kind)
    if fact.kind == "gravity":
        return said if said in EXTRACT else fact.unit if fact.unit in EXTRACT else None
    if said:
        return said
    if fact.kind == "temperature":
        return _degrees(quantity.value, fact, usual.metric, cold=cold)
    if fact.kind == "volume":
        return "L" if usual.metric > 0 else "gal"
    if fact.kind == "pressure":
        return "bar" if usual.metric > 0 and quantity.value < 8 else "psi"
    return fact.unit


def _degrees(value: float, fact: FactReading, metric: int, *, cold: bool) -> str | None:
    """Fahrenheit or Celsius, by what is plausible and by the other units of the message."""
    low, high = fact.likely or fact.between
    celsius = low <= value <= (min(high, WARMEST_COLD) if cold else high)
    fahrenheit = low <= in_unit(value, "degF", "degC") <= high
    if celsius and fahrenheit:
        if metric:
            return "degC" if metric > 0 else "degF"
        return "degF" if value >= SURELY_FAHRENHEIT else "degC"
    return "degC" if celsius else "degF" if fahrenheit else None


def _likely(value: float, likely: tuple[float, float] | None) -> float:
    if likely is None:
        return 0.0
    return LIKELY if likely[0] <= value <= likely[1] else -LIKELY


def _merge(candidates: list[_Candidate], new: _Candidate) -> None:
    """The same figure said twice is one candidate with the evidence of both places."""
    for held in candidates:
        if _equal(held.quantity, new.quantity) and not _two_facts(held, new):
            for name, score in new.scores.items():
                if score > held.scores.get(name, -9.0):
                    held.scores[name], held.values[name] = score, new.values[name]
            held.passed = min(held.passed, new.passed)
            held.cued |= new.cued
            return
    candidates.append(new)


def _two_facts(one: _Candidate, other: _Candidate) -> bool:
    """Whether the same figure is plainly two things: set at 1.0 bar, and 1.0 bar on the plate."""
    best, second = (max(each.scores, key=lambda name: each.scores[name], default="") for each in (one, other))
    return best != second and bool(best and second) and min(one.scores[best], other.scores[second]) >= PLAIN


def _equal(one: Quantity, other: Quantity) -> bool:
    return one.unit is not None and one.unit == other.unit and abs(one.value - other.value) < SAME and one.low == other.low


def _assign(
    by_kind: Mapping[str, Sequence[_Candidate]], readings: Mapping[str, FactReading]
) -> tuple[dict[str, Fact], tuple[Doubt, ...]]:
    facts: dict[str, Fact] = {}
    doubts: list[Doubt] = []
    bare_taken = _bare_choice(by_kind)
    for kind, candidates in by_kind.items():
        mine = [one for one in candidates if bare_taken.get((one.quantity.start, one.quantity.end), kind) == kind]
        chosen = _best(mine[:MOST_OF_A_KIND])
        for one, name in chosen:
            if rival := _rival(one, name, {taken for _, taken in chosen}):
                doubts.append(Doubt((name, rival), one.quantity.value, one.quantity.unit, one.quantity.said, "several-facts"))
                continue
            value, low, high = one.values[name]
            unit = one.quantity.unit
            facts[name] = Fact(name, value, readings[name].unit, low, high, one.quantity.said, unit)
        doubts += [doubt for one in mine if not one.scores and (doubt := _impossible(one))]
    return facts, tuple(doubts)


def _rival(one: _Candidate, name: str, taken: Collection[str]) -> str | None:
    """Another fact that explains a figure as well."""
    close = [other for other, score in one.scores.items() if other not in taken and score > one.scores[name] - TOO_CLOSE]
    return close[0] if close else None


def _impossible(one: _Candidate) -> Doubt | None:
    """A figure that is plainly said for a fact, and cannot be right."""
    name = max(one.unlikely, key=lambda fact: one.unlikely[fact], default="")
    if not name or one.quantity.unit is None or one.unlikely[name] < PLAINLY_SAID or one.passed >= one.unlikely[name]:
        return None
    return Doubt((name,), one.quantity.value, one.quantity.unit, one.quantity.said, "out-of-range")


def _same_moment(facts: dict[str, Fact], anywhere: Iterable[str]) -> dict[str, Fact]:
    """A gravity measured against a planned one of the same moment was taken before fermentation, not now."""
    measured, planned = facts.get("current_gravity"), facts.get("target_gravity")
    if not measured or not planned or not isinstance(measured.value, float) or not isinstance(planned.value, float):
        return facts
    name = "preboil_gravity" if "preboil" in anywhere else "original_gravity"
    if name in facts or measured.value - 1 < STILL_WORT * (planned.value - 1):
        return facts
    del facts["current_gravity"]
    return facts | {name: replace(measured, name=name)}


def _bare_choice(by_kind: Mapping[str, Sequence[_Candidate]]) -> dict[tuple[int, int], str]:
    """A figure without a unit could be of several kinds: the kind that its best fact is of."""
    best: dict[tuple[int, int], tuple[float, str]] = {}
    for kind, candidates in by_kind.items():
        for one in candidates:
            if one.quantity.unit is None and one.scores:
                place = (one.quantity.start, one.quantity.end)
                best[place] = max(best.get(place, (-9.0, "")), (max(one.scores.values()), kind))
    return {place: kind for place, (_, kind) in best.items()}


def _best(candidates: Sequence[_Candidate]) -> list[tuple[_Candidate, str]]:
    """The assignment with the highest sum, each fact at most once: dynamic programming over the facts used."""
    states: dict[frozenset[str], tuple[float, tuple[tuple[_Candidate, str], ...]]] = {frozenset(): (0.0, ())}
    for one in candidates:
        following: dict[frozenset[str], tuple[float, tuple[tuple[_Candidate, str], ...]]] = {}
        for used, (total, chosen) in states.items():
            _keep(following, used, total + max(NEEDED, one.passed), chosen)
            for name, score in one.facts().items():
                if name not in used and score > NEEDED:
                    _keep(following, used | {name}, total + score, (*chosen, (one, name)))
        states = following
    return list(max(states.values(), key=lambda state: state[0])[1])


def _keep(
    states: dict[frozenset[str], tuple[float, tuple[tuple[_Candidate, str], ...]]],
    used: frozenset[str],
    total: float,
    chosen: tuple[tuple[_Candidate, str], ...],
) -> None:
    if used not in states or total > states[used][0]:
        states[used] = (total, chosen)

