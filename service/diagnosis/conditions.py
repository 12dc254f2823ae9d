"""Three-valued truth of a tree's conditions: true, false, or None where a range straddles or something is not known."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TypeAlias

from calculators import Reading
from knowledge.conditions import All, AnyOf, Compare, Condition, Is, Not, OneOf
from knowledge.conditions import Known as HasValue
from service.diagnosis.known import Known

Truth: TypeAlias = bool | None
HAIR = 1e-9
"""Figures closer than this are equal: the same figure written in two units must not differ in its last bit."""


def truth(condition: Condition, known: Known) -> Truth:
    """Whether the condition surely holds (True), surely does not (False), or cannot be told (None)."""
    if isinstance(condition, All):
        return _all(truth(part, known) for part in condition.all_)
    if isinstance(condition, AnyOf):
        return _not(_all(_not(truth(part, known)) for part in condition.any_))
    if isinstance(condition, Not):
        return _not(truth(condition.not_, known))
    return _leaf(condition, known)


def _leaf(condition: Compare | OneOf | Is | HasValue, known: Known) -> Truth:
    if isinstance(condition, HasValue):
        return known.value(condition.known) is not None
    value = known.value(condition.name)
    if isinstance(condition, Is):
        return value is condition.is_ if isinstance(value, bool) else None
    if isinstance(condition, OneOf):
        return value in condition.one_of if isinstance(value, str) else None
    return _compare(condition, value, known) if isinstance(value, Reading) else None


def _compare(condition: Compare, value: Reading, known: Known) -> Truth:
    limits = [known.limit(limit, value.unit) for limit in condition.limits]
    sure = [limit for limit in limits if limit is not None]
    if condition.bound != "between":
        return _BOUNDS[condition.bound](value, sure[0]) if sure else None
    ends = (_BOUNDS["at_least"], _BOUNDS["below"])
    return _all(None if limit is None else end(value, limit) for end, limit in zip(ends, limits, strict=True))


def _at_least(value: Reading, limit: Reading) -> Truth:
    if value.low >= limit.high - HAIR:
        return True
    return False if value.high < limit.low - HAIR else None


def _above(value: Reading, limit: Reading) -> Truth:
    if value.low > limit.high + HAIR:
        return True
    return False if value.high <= limit.low + HAIR else None


_BOUNDS: dict[str, Callable[[Reading, Reading], Truth]] = {
    "at_least": _at_least,
    "above": _above,
    "below": lambda value, limit: _not(_at_least(value, limit)),
    "at_most": lambda value, limit: _not(_above(value, limit)),
}


def _not(one: Truth) -> Truth:
    return None if one is None else not one


def _all(parts: Iterable[Truth]) -> Truth:
    found = list(parts)
    if False in found:
        return False
    return None if None in found else True
