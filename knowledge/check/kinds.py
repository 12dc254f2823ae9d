"""Conditions fit what they are about: quantities are compared, choices listed, yes/no answered, choices exist."""

from collections.abc import Iterator

from knowledge.conditions import Compare, Is, Known, OneOf
from knowledge.faults import Fault
from knowledge.loading import Draft, problem_file
from knowledge.names import CHOSEN_BY, UNIT_OF_FIELD, WORDS_OF_FIELD
from knowledge.tables import ChoiceFact, QuantityFact, YesNoFact
from knowledge.trees import Leaf, all_leaves

ID = "kinds"


def faults(draft: Draft) -> Iterator[Fault]:
    for problem in draft.knowledge.problems.values():
        for place, leaf in all_leaves(problem):
            if message := _misfit(leaf, draft):
                yield draft.fault(ID, problem_file(problem.id), place, message)


def _misfit(leaf: Leaf, draft: Draft) -> str:
    if isinstance(leaf, Known):
        return ""
    kind, choices = _kind(leaf, draft)
    if isinstance(leaf, OneOf) and kind == "choice":
        unknown = [word for word in leaf.one_of if word not in choices]
        return f"`{leaf.name}` is never {', '.join(unknown)}; it is one of {', '.join(choices)}" if unknown else ""
    wanted = {Compare: "quantity", OneOf: "choice", Is: "yes-no"}[type(leaf)]
    fix = {"quantity": "compare it with a bound", "choice": "use `one_of`", "yes-no": "use `is: true` or `is: false`"}
    return "" if kind in (wanted, "") else f"`{leaf.name}` is a {kind}: {fix[kind]}"


def _kind(leaf: Compare | OneOf | Is, draft: Draft) -> tuple[str, tuple[str, ...]]:
    """The kind of what a condition is about, "" where the name is unknown, and the choices of a choice."""
    if leaf.fact is not None:
        fact = draft.knowledge.facts.get(leaf.fact)
        if isinstance(fact, ChoiceFact):
            return "choice", tuple(fact.choices)
        return ("quantity" if isinstance(fact, QuantityFact) else "yes-no" if isinstance(fact, YesNoFact) else ""), ()
    if leaf.name.partition(".")[0] in CHOSEN_BY and UNIT_OF_FIELD.get(leaf.name, "unknown") is None:
        return "choice", WORDS_OF_FIELD[leaf.name]
    return "quantity", ()
