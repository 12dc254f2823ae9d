"""Reads the figures, choices and dangers of one message: tokens in, quantities, facts, doubts and hazards out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from knowledge.language import Lexicon
from knowledge.reading import HazardRules, Reading
from knowledge.tables import Fact as FactSpec
from service.understanding.answers import AnswerReader
from service.understanding.choices import ChoiceReader
from service.understanding.corrections import CorrectionReader
from service.understanding.facts import FactReader
from service.understanding.hazards import HazardFinder, Heard
from service.understanding.model import Doubt, Fact, Quantity, Token
from service.understanding.quantities import QuantityReader
from service.understanding.terms import Terms, Word, as_words


@dataclass(frozen=True, slots=True)
class Read:
    """What was read out of one message; `words` are kept for the dangers."""

    quantities: tuple[Quantity, ...] = ()
    facts: dict[str, Fact] = field(default_factory=dict)
    doubts: tuple[Doubt, ...] = ()
    words: tuple[Word, ...] = ()
    moved: str | None = None
    takes_back: bool = False


class Reader:
    """Built once from the knowledge; `vocabulary` are the words it listens for, so that their spelling is put right."""

    def __init__(self, reading: Reading, hazards: HazardRules, lexicon: Lexicon, specs: Mapping[str, FactSpec]):
        self._quantities = QuantityReader(reading.units)
        self._terms = Terms(reading.words, lexicon, reading.hides)
        self._choices = ChoiceReader(reading)
        self._answers = AnswerReader(specs)
        self._corrections = CorrectionReader(reading)
        self._kinds = {unit: str(kind) for kind, units in reading.kinds.items() for unit in units}
        self._facts = FactReader(reading, self._kinds)
        self._hazards = HazardFinder(hazards, lexicon)
        self.vocabulary = self._hazards.vocabulary | self._terms.vocabulary

    def read(self, text: str, tokens: Sequence[Token], asked: str | None = None) -> Read:
        """Everything this reader sees in one message; `asked` is the fact of the question just put."""
        quantities = self._quantities.find(text)
        words = as_words(text, tokens, quantities, self._kinds)
        hits = self._terms.find(words)
        facts, doubts = self._facts.read(words, hits)
        facts |= self._choices.read(text, words, hits)
        if asked:
            facts, unsure = self._answers.read(asked, words, hits, facts)
            doubts = (*unsure, *(doubt for doubt in doubts if doubt.said not in {fact.said for fact in facts.values()}))
        moved, takes_back = self._corrections.moved(words, hits), self._corrections.meant(hits)
        return Read(quantities, facts, doubts, tuple(words), moved, takes_back)

    def hear(self, text: str, read: Read) -> Heard:
        """What the rules of danger hear in the words and figures of a message."""
        return self._hazards.hear(text, read.words, read.facts)
