"""The names other programs rely on (catalogue.yaml) are all there, with the same units and choices."""

from collections.abc import Iterator

from knowledge.faults import Fault
from knowledge.loading import Draft, problem_file
from knowledge.tables import Catalogue, ChoiceFact, Fact, QuantityFact, YesNoFact

ID = "catalogue"


def faults(draft: Draft) -> Iterator[Fault]:
    catalogue = draft.knowledge.catalogue
    if catalogue is None:
        return
    for problem in catalogue.problems:
        if problem not in draft.problem_ids():
            yield Fault(problem_file(problem), 1, ID, f"the problem `{problem}` has no tree")
    for problem in draft.problem_ids() - set(catalogue.problems):
        yield Fault(problem_file(problem), 1, ID, f"`{problem}` is not a problem of catalogue.yaml")
    for name, wanted, has in _facts(catalogue, draft):
        if wanted != has:
            message = f"the fact `{name}` must be {wanted}, and is {has or 'missing'}"
            yield draft.fault(ID, "facts.yaml", (name,), message)


def _facts(catalogue: Catalogue, draft: Draft) -> Iterator[tuple[str, str, str]]:
    for name, unit in catalogue.quantities.items():
        yield name, unit, _told(draft.knowledge.facts.get(name))
    for name, choices in catalogue.choices.items():
        yield name, "one of " + ", ".join(choices), _told(draft.knowledge.facts.get(name))
    for name in catalogue.yes_no:
        yield name, "yes or no", _told(draft.knowledge.facts.get(name))


def _told(fact: Fact | None) -> str:
    if isinstance(fact, QuantityFact):
        return fact.unit
    if isinstance(fact, ChoiceFact):
        return "one of " + ", ".join(fact.choices)
    return "yes or no" if isinstance(fact, YesNoFact) else ""
