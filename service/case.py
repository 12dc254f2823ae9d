"""One case as it stands after everything said so far: what is known, what is dangerous, which problem it is.

A case is folded from its turns, one after the other, so the same turns always give the same case.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from knowledge import Knowledge
from service.consultation import Turn, Units
from service.given import BadFact, read_given
from service.understanding import understand
from service.understanding.corrections import corrected, kinds_of
from service.understanding.model import Doubt, Fact, HazardFound, ProblemMatch, Understanding

PROBLEM, AREA, SAFE, PERSON = "problem", "area", "safe_now", "person"
SURE_ENOUGH_TO_OFFER = 0.5
WANTS_A_PERSON = "talk-person"
"""The lexicon's concept of asking for a person."""
EMERGENCIES = frozenset({"injury", "fuel-gas", "carbon-monoxide", "co2-atmosphere", "electrical", "chemical"})
"""Dangers to people that stop the troubleshooting until the customer says that everybody is safe."""
US_UNITS = frozenset({"degF", "psi", "gal", "qt", "oz", "lb", "ft", "inch"})
METRIC_UNITS = frozenset({"degC", "bar", "kPa", "L", "mL", "g", "kg", "m", "mm", "cm"})


@dataclass(frozen=True)
class Case:
    """What is known of one customer's trouble.

    `asked` is the fact of the question that was put last. `aside` is the kind of the last words if they told nothing
    new about a trouble under way.
    """

    words: tuple[str, ...] = ()
    kind: str = "vague"
    facts: dict[str, Fact] = field(default_factory=dict)
    doubts: tuple[Doubt, ...] = ()
    hazards: tuple[HazardFound, ...] = ()
    ranked: tuple[ProblemMatch, ...] = ()
    also: tuple[ProblemMatch, ...] = ()
    area: str | None = None
    wants_person: bool = False
    asked: str | None = None
    aside: str | None = None

    @property
    def problem(self) -> str | None:
        """The problem being worked on."""
        return self.ranked[0].id if self.ranked else None


def hear(case: Case, turn: Turn, knowledge: Knowledge) -> Case:
    """The case after one more turn."""
    case = replace(case, aside=None)
    if turn.text.strip():
        case = _listen(case, turn.text, knowledge)
    return _take(case, turn, knowledge)


def _listen(case: Case, text: str, knowledge: Knowledge) -> Case:
    """Take in words: facts, dangers, and which trouble they are about."""
    said = understand(text, knowledge, case.asked)
    heard = replace(
        case,
        words=(*case.words, text),
        facts=corrected(case.facts, said, kinds_of(knowledge.reading) if knowledge.reading else {}),
        doubts=said.doubts,
        hazards=_together(case.hazards, said.hazards),
        wants_person=case.wants_person or _asks_for_a_person(said),
    )
    decided = _decide(heard, said, knowledge)
    return replace(decided, aside=said.kind if case.ranked and _same(case, decided) else None)


def _asks_for_a_person(said: Understanding) -> bool:
    return any(mention.concept == WANTS_A_PERSON and not mention.negated for mention in said.mentions)


def _same(before: Case, after: Case) -> bool:
    """Whether nothing was learned between the two."""
    return (before.facts, before.hazards, before.also, ()) == (after.facts, after.hazards, after.also, after.doubts)


def _decide(case: Case, said: Understanding, knowledge: Knowledge) -> Case:
    """Keep to the problem under way; a different one is remembered and offered, not jumped to."""
    if case.ranked:
        return replace(case, also=_other(case.also, (*said.ranked[:1], *said.others), case.ranked[0].id))
    if not said.ranked and len(case.words) > 1:
        said = understand(". ".join(case.words), knowledge)
    also = _other((), said.others, said.ranked[0].id) if said.ranked else ()
    return replace(case, ranked=said.ranked, also=also, kind=said.kind)


def _other(kept: tuple[ProblemMatch, ...], heard: tuple[ProblemMatch, ...], current: str) -> tuple[ProblemMatch, ...]:
    known = {match.id for match in kept} | {current}
    new = [match for match in heard if match.id not in known and match.score >= SURE_ENOUGH_TO_OFFER]
    return (*kept, *new)


def _together(before: tuple[HazardFound, ...], now: tuple[HazardFound, ...]) -> tuple[HazardFound, ...]:
    known = {hazard.id for hazard in before}
    return (*before, *(hazard for hazard in now if hazard.id not in known))


def _take(case: Case, turn: Turn, knowledge: Knowledge) -> Case:
    """Take what was given as such: a problem or an area chosen, and facts."""
    given = dict(turn.facts)
    problem, area = given.pop(PROBLEM, None), given.pop(AREA, None)
    if (person := given.pop(PERSON, None)) is not None:
        case = replace(case, wants_person=_yes(PERSON, person))
    if area is not None:
        if not isinstance(area, str) or area not in {one.id for one in knowledge.areas}:
            raise BadFact(AREA, f"must be one of {', '.join(one.id for one in knowledge.areas)}.")
        case = replace(case, area=area)
    if problem is not None:
        case = _choose(case, problem, knowledge)
    return replace(case, facts=case.facts | read_given(given, knowledge))


def _yes(name: str, value: object) -> bool:
    if not isinstance(value, bool):
        raise BadFact(name, "must be true or false.")
    return value


def _choose(case: Case, problem: object, knowledge: Knowledge) -> Case:
    """The customer named the trouble; what was worked on before is remembered."""
    if not isinstance(problem, str) or problem not in knowledge.problems:
        raise BadFact(PROBLEM, "must be the id of a problem, such as stalled-ferment.")
    chosen = ProblemMatch(str(problem), 1.0)
    rest = tuple(match for match in (*case.ranked[:1], *case.also) if match.id != problem)
    return replace(case, ranked=(chosen,), also=rest, kind="trouble")


def measures(case: Case) -> Units:
    """The measures the customer thinks in, by the units they used; metric when they used none."""
    said = [fact.said_unit for fact in case.facts.values()]
    us = sum(unit in US_UNITS for unit in said)
    return "us" if us > sum(unit in METRIC_UNITS for unit in said) else "metric"
