"""The shared tables have a row for every choice that picks one, in the right units, and plausible ranges rise."""

from collections.abc import Iterator

from calculators import BadInput
from knowledge.faults import Fault
from knowledge.loading import Draft
from knowledge.names import CHOSEN_BY, UNIT_OF_FIELD, look_up
from knowledge.tables import ChoiceFact, QuantityFact

ID = "tables"


def faults(draft: Draft) -> Iterator[Fault]:
    for table, fact in CHOSEN_BY.items():
        yield from _rows(table, fact, draft)
    for name, spec in draft.knowledge.facts.items():
        if isinstance(spec, QuantityFact) and spec.low >= spec.high:
            yield draft.fault(ID, "facts.yaml", (name, "low"), f"`{name}`: low must be below high")


def _rows(table: str, fact: str, draft: Draft) -> Iterator[Fault]:
    file = f"{table}s.yaml"
    spec = draft.knowledge.facts.get(fact)
    rows = draft.written(file)
    for choice in spec.choices if isinstance(spec, ChoiceFact) else ():
        if choice not in rows:
            yield draft.fault(ID, file, (), f"there is no row for `{choice}`, a choice of {fact}")
    for row in sorted(rows):
        for field in (field for field in UNIT_OF_FIELD if field.startswith(f"{table}.")):
            if message := _wrong(field, row, draft):
                yield draft.fault(ID, file, (row, field.partition(".")[2]), message)


def _wrong(field: str, row: str, draft: Draft) -> str:
    try:
        found = look_up(field, row, draft.knowledge)
    except BadInput as fault:
        return fault.message
    if found is None or isinstance(found, str) or found.low <= found.high:
        return ""
    return "the low end of a range comes first"
