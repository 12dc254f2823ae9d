"""Asks the desk and the calculators on behalf of a caller: what they refuse becomes a problem that names the field."""

from __future__ import annotations

import logging
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from itertools import takewhile
from typing import Any

import calculators
from knowledge import Knowledge
from service.consultation import Consultation, Turn, Units
from service.desk import consult
from service.given import BadFact
from service.web.problems import FIX, Invalid, NotFound

log = logging.getLogger("spile.web")
LONGEST_MESSAGE = 300
RECOGNISABLE = 8


def ask(turns: Sequence[Turn], knowledge: Knowledge, units: Units | None) -> Consultation:
    """One consultation. Raises Invalid for a fact of the last turn that cannot be taken."""
    try:
        return consult(turns, knowledge, units)
    except BadFact as error:
        if error.field in turns[-1].facts:
            message = str(error).removeprefix(f"{error.field}: ")
            raise Invalid(FIX, _named("facts", [(error.field, message)], turns[-1].facts)) from None
        log.warning("a fact taken under an earlier revision of the knowledge is no longer known; left out")
        return ask([_without(turn, error.field) for turn in turns], knowledge, units)


def calculate(name: str, inputs: Mapping[str, Any]) -> dict[str, Any]:
    """One run of a calculator. Raises NotFound, or Invalid for inputs that cannot be taken."""
    if name not in calculators.names():
        raise NotFound("There is no such calculator. GET /api/calculators lists them.")
    with refusals_named(inputs):
        return calculators.run(name, inputs).as_dict()


@contextmanager
def refusals_named(inputs: Mapping[str, Any]) -> Iterator[None]:
    """What a calculator refuses of these inputs becomes Invalid, each fault with its place."""
    try:
        yield
    except calculators.BadInput as error:
        raise Invalid(FIX, _named("inputs", error.faults, inputs)) from None


def _without(turn: Turn, name: str) -> Turn:
    return turn.model_copy(update={"facts": {key: value for key, value in turn.facts.items() if key != name}})


def _named(
    where: str, faults: Iterable[tuple[str, str]], given: Mapping[str, Any]
) -> Iterator[tuple[tuple[str, str], str]]:
    """The faults with their place. Messages of the desk may quote what was given; these do not repeat it."""
    for name, message in faults:
        for text in _texts(given):
            message = _hidden(message, text)
        yield (where, name), message[:LONGEST_MESSAGE]


def _hidden(message: str, text: str) -> str:
    """The message without the text, however much of it is quoted."""
    for quoted in (repr(text), text) if len(text) >= RECOGNISABLE else (repr(text),):
        start = message.find(quoted[:RECOGNISABLE])
        if start >= 0:
            same = takewhile(lambda pair: pair[0] == pair[1], zip(message[start:], quoted, strict=False))
            message = f"{message[:start]}this{message[start + sum(1 for _ in same) :]}"
    return message


def _texts(value: Any) -> Iterator[str]:
    """Every text in what was given, names included, and its words: a message may quote a part."""
    if isinstance(value, Mapping):
        for key, each in value.items():
            yield from (*_texts(key), *_texts(each))
    elif isinstance(value, str):
        yield from (value, *value.split())
