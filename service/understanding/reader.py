"""Reads the figures, choices and dangers of one message: tokens in, quantities, facts, doubts and hazards out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from knowledge.reading import HazardRules, Reading
from service.understanding.facts import FactReader
from service.understanding.hazards import HazardFinder
from service.understanding.model import Doubt, Fact, HazardFound, Quantity, Token
from service.understanding.quantities import QuantityReader
from service.understanding.terms import Terms, as_words


@dataclass(frozen=True, slots=True)
class Read:
    """What was read out of one message."""

    quantities: tuple[Quantity, ...]
    facts: dict[str, Fact]
    doubts: tuple[Doubt, ...]
    hazards: tuple[HazardFound, ...]


class Reader:
    """Built once from the knowledge; `vocabulary` are the words it listens for, so that their spelling is put right."""

    def __init__(self, reading: Reading, hazards: HazardRules):
        self._quantities = QuantityReader(reading.units)
        self._terms = Terms(reading.words)
        self._facts = FactReader(reading)
        self._hazards = HazardFinder(hazards)
        self.vocabulary = self._hazards.vocabulary | self._terms.vocabulary

    def read(self, text: str, tokens: Sequence[Token], asked: str | None = None) -> Read:
        """Everything this reader sees in one message; `asked` is the fact of the question just put."""
        quantities = self._quantities.find(text)
        words = as_words(text, tokens, quantities)
        hits = self._terms.find(words)
        facts, doubts = self._facts.read(words, hits)
        return Read(quantities, facts, doubts, self._hazards.find(text, words, facts))
