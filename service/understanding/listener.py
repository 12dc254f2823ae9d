"""The whole of understanding, in order: spelling, concepts, figures and facts, dangers, problems, kind of message."""

from __future__ import annotations

from collections.abc import Iterator, Sequence, Set

from knowledge import Knowledge
from knowledge.language import Lexicon
from knowledge.memory import nothing_collected
from service.understanding.alarm import Alarm
from service.understanding.features import features
from service.understanding.hazards import Heard
from service.understanding.kind import KindReader
from service.understanding.lexicon import Annotator, expand
from service.understanding.model import Kind, Mention, ProblemMatch, Token, Understanding
from service.understanding.normalise import Speller, tokens, words_of
from service.understanding.problems import ProblemFinder
from service.understanding.reader import Read, Reader
from service.understanding.several import besides, dangerous_first

NOT_ABOUT_BEER = frozenset({"other-language", "order", "abuse", "manipulation"})
"""Kinds of message whose figures are none of a batch."""


class Listener:
    """Built once from one revision of the knowledge; then reads any number of messages."""

    @nothing_collected()
    def __init__(self, knowledge: Knowledge):
        self.language = knowledge.language
        lexicon, symptoms = knowledge.lexicon, knowledge.symptoms
        self._reader = (
            Reader(knowledge.reading, knowledge.hazards, lexicon, knowledge.facts)
            if knowledge.reading and knowledge.hazards
            else None
        )
        vocabulary = self._reader.vocabulary if self._reader else frozenset()
        familiar = (word for text in _texts(knowledge) for word in words_of(text))
        self._speller = Speller(lexicon, {*_vocabulary(lexicon), *vocabulary}, familiar)
        self._joints = frozenset(lexicon.joints)
        self._annotator = Annotator(lexicon)
        self._kinds = KindReader(lexicon)
        phrases = {name: [self._heard(text) for text in one.symptoms] for name, one in symptoms.items()}
        told = {name: [self._heard(message.says) for message in one.told] for name, one in knowledge.told.items()}
        self._problems = ProblemFinder(lexicon, symptoms, phrases, told)
        labelled = (
            (features(*heard), message.hazards)
            for name, one in knowledge.told.items()
            for heard, message in zip(told[name], one.told, strict=True)
        )
        self._alarm = Alarm(labelled, self._problems.goes_with)

    def understand(self, text: str, asked: str | None = None) -> Understanding:
        """Everything read out of one message."""
        split, mentions = self._heard(text)
        read = self._reader.read(text, split, asked) if self._reader else Read()
        foreign, talk = self._kinds.foreign(text, split), self._kinds.talk(text, split, mentions)
        rules = self._reader.hear(text, read) if self._reader else Heard()
        said = features(split, mentions)
        weights = self._alarm.weigh(said)
        hazards = self._alarm.dangers(text, said, weights, rules)
        dangers = frozenset(one.id for one in hazards)
        problems: tuple[ProblemMatch, ...] = ()
        if not foreign:
            problems = self._problems.show(self._problems.hear(text, split, mentions, read.facts, dangers, talk))
        problems, others = self._all(text, split, mentions, problems, dangers)
        kind: Kind = "trouble" if problems else "other-language" if foreign else talk.kind if talk else "vague"
        if not problems and asked in read.facts:
            kind = "answer"
        if problems:
            hazards = self._alarm.dangers(text, said, weights, rules, problems)
        if kind in NOT_ABOUT_BEER:
            read = Read(read.quantities)
        return Understanding(
            text,
            split,
            mentions,
            read.quantities,
            read.facts,
            read.doubts,
            hazards,
            problems,
            kind,
            read.moved,
            read.takes_back,
            others,
        )

    def _all(
        self,
        text: str,
        split: Sequence[Token],
        mentions: Sequence[Mention],
        problems: tuple[ProblemMatch, ...],
        dangers: Set[str],
    ) -> tuple[tuple[ProblemMatch, ...], tuple[ProblemMatch, ...]]:
        """The problems of a message, the more dangerous first, and the further troubles that it tells of."""
        if not problems:
            return (), ()
        troubles = self._problems.troubles(mentions)
        aside = besides(text, split, mentions, troubles, problems[0], self._problems.hear)
        others = tuple(self._problems.show(heard)[0] for heard in aside)
        return dangerous_first(problems, others, self._problems.going_with(dangers)) if others else (problems, ())

    def _heard(self, text: str) -> tuple[tuple[Token, ...], tuple[Mention, ...]]:
        split = tokens(text, self._speller, self._joints)
        return split, self._annotator.mentions(text, split)


def _texts(knowledge: Knowledge) -> Iterator[str]:
    """Everything that customers are known to say."""
    for symptoms in knowledge.symptoms.values():
        yield from symptoms.symptoms
    for messages in knowledge.told.values():
        yield from (message.says for message in messages.told)


def _vocabulary(lexicon: Lexicon) -> Iterator[str]:
    """Every word of the lexicon."""
    for concept in lexicon.concepts.values():
        for words in concept.words:
            for pattern in expand(words):
                yield from pattern
