"""What customers say is tied to what is there: each problem has symptoms; evidence names known concepts and facts."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping

from knowledge.faults import Fault, PathTo
from knowledge.language import SOMETHING_ELSE, Evidence, Symptoms
from knowledge.loading import Draft

ID = "language"
WRITTEN_IN = {"concept": "lexicon/", "fact": "facts.yaml", "hazard": "catalogue.yaml"}


def faults(draft: Draft) -> Iterator[Fault]:
    known = draft.knowledge
    there: Mapping[str, Container[str]] = {
        "concept": known.lexicon.concepts,
        "fact": draft.written("facts.yaml"),
        "hazard": known.catalogue.hazards if known.catalogue else (),
    }
    for problem in sorted(draft.problem_ids()):
        if f"symptoms/{problem}.yaml" not in draft.documents:
            yield Fault(f"symptoms/{problem}.yaml", 1, ID, f"there are no symptoms of the problem `{problem}`")
    for symptoms in known.symptoms.values():
        if symptoms.id not in draft.problem_ids():
            message = f"these are symptoms of `{symptoms.id}`, which has no tree"
            yield draft.fault(ID, f"symptoms/{symptoms.id}.yaml", ("id",), message)
        for place, kind, name in _named(symptoms):
            if name not in there[kind]:
                message = f"there is no {kind} `{name}` in {WRITTEN_IN[kind]}"
                yield draft.fault(ID, f"symptoms/{symptoms.id}.yaml", place, message)
    yield from _told(draft, there["hazard"])
    yield from _danger_words(draft)


def _told(draft: Draft, hazards: Container[str]) -> Iterator[Fault]:
    for messages in draft.knowledge.told.values():
        file = f"told/{messages.id}.yaml"
        if messages.id not in draft.problem_ids() | {SOMETHING_ELSE}:
            yield draft.fault(ID, file, ("id",), f"these messages are about `{messages.id}`, which has no tree")
        for index, message in enumerate(messages.told):
            for hazard in message.hazards:
                if hazard not in hazards:
                    place = ("told", index, "hazards")
                    yield draft.fault(ID, file, place, f"there is no hazard `{hazard}` in {WRITTEN_IN['hazard']}")


def _named(symptoms: Symptoms) -> Iterator[tuple[PathTo, str, str]]:
    for side, pieces in (("for", symptoms.evidence.for_), ("against", symptoms.evidence.against)):
        for index, piece in enumerate(pieces):
            for kind, name in _of_evidence(piece):
                yield ("evidence", side, index), kind, name
    for index, group in enumerate(symptoms.evidence.needs):
        for name in group:
            yield ("evidence", "needs", index), "concept", name


def _of_evidence(piece: Evidence) -> Iterator[tuple[str, str]]:
    for written in piece.concepts:
        yield from (("concept", name.removeprefix("!")) for name in written.split("|"))
    for fact in piece.facts:
        yield from (("fact", name) for name in (fact.fact, fact.above, fact.below) if name is not None)
    if piece.hazard:
        yield "hazard", piece.hazard


def _danger_words(draft: Draft) -> Iterator[Fault]:
    catalogue, rules = draft.knowledge.catalogue, draft.knowledge.hazards
    for index, rule in enumerate(rules.rules if rules else ()):
        if catalogue and rule.hazard not in catalogue.hazards:
            message = f"`{rule.hazard}` is not a hazard of catalogue.yaml"
            yield draft.fault(ID, "hazards.yaml", ("rules", index, "hazard"), message)
    heard = {rule.hazard for rule in rules.rules} if rules else set()
    for hazard in catalogue.hazards if catalogue and rules else ():
        if hazard not in heard:
            yield draft.fault(ID, "hazards.yaml", ("rules",), f"no rule hears the hazard `{hazard}`")
