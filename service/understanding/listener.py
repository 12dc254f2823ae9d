"""The whole of understanding, in order: spelling, concepts, figures and facts, dangers, problems, kind of message."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from knowledge import Knowledge
from knowledge.language import Lexicon
from service.understanding import decide
from service.understanding.evidence import EvidenceIndex, Told
from service.understanding.kind import KindReader
from service.understanding.lexicon import Annotator, expand
from service.understanding.model import Fact, Kind, Mention, ProblemMatch, Token, Understanding
from service.understanding.normalise import Speller, stem, tokens, words_of
from service.understanding.reader import Read, Reader
from service.understanding.symptoms import Sign, SymptomIndex, Weighing

CANNOT_BE = 2.0
"""What a problem loses in log-odds where something it cannot be without was not said."""
SURE = 0.5
"""The score from which on a problem counts among the signs of danger."""
NOT_ABOUT_BEER = frozenset({"other-language", "order", "abuse", "manipulation"})
"""Kinds of message whose figures are none of a batch."""
MATCHED_SHOWN = 4
WORTH_SHOWING = 0.5


class Listener:
    """Built once from one revision of the knowledge; then reads any number of messages."""

    def __init__(self, knowledge: Knowledge):
        lexicon, symptoms = knowledge.lexicon, knowledge.symptoms
        self._reader = Reader(knowledge.reading, knowledge.hazards, lexicon, knowledge.facts) if knowledge.reading and knowledge.hazards else None
        phrases = [phrase for one in symptoms.values() for phrase in one.symptoms]
        heard = self._reader.vocabulary if self._reader else frozenset()
        familiar = (word for phrase in phrases for word in words_of(phrase))
        self._speller = Speller(lexicon, {*_vocabulary(lexicon), *heard}, familiar)
        self._joints = frozenset(lexicon.joints)
        self._weighing = Weighing(
            frozenset(stem(lexicon.forms.get(word, word)) for word in lexicon.stop),
            frozenset(name for name, concept in lexicon.concepts.items() if concept.circumstance),
        )
        self._annotator = Annotator(lexicon)
        self._evidence = EvidenceIndex(symptoms, wider(lexicon))
        self._kinds = KindReader(lexicon)
        self._symptoms = SymptomIndex({problem: [self._signs(phrase) for phrase in one.symptoms] for problem, one in symptoms.items()})

    def understand(self, text: str, asked: str | None = None) -> Understanding:
        """Everything read out of one message."""
        split = self._tokens(text)
        mentions = self._annotator.mentions(text, split)
        read = self._reader.read(text, split, asked) if self._reader else Read()
        problems, kind = self._problems(text, split, mentions, read.facts)
        if not problems and asked in read.facts:
            kind = "answer"
        sure = problems[0].id if problems and problems[0].score >= SURE else None
        hazards = self._reader.hazards(text, read, sure) if self._reader else ()
        if kind in NOT_ABOUT_BEER:
            read = Read(read.quantities)
        return Understanding(text, split, mentions, read.quantities, read.facts, read.doubts, hazards, tuple(problems), kind, read.moved, read.takes_back)

    def _tokens(self, text: str) -> tuple[Token, ...]:
        return tokens(text, self._speller, self._joints)

    def _signs(self, phrase: str) -> list[Sign]:
        split = self._tokens(phrase)
        return self._weighing.signs(split, self._annotator.mentions(phrase, split))

    def _problems(
        self, text: str, split: Sequence[Token], mentions: Sequence[Mention], facts: Mapping[str, Fact]
    ) -> tuple[list[ProblemMatch], Kind]:
        if self._kinds.foreign(text, split):
            return [], "other-language"
        talk = self._kinds.talk(mentions)
        found = self._weighing.signs(split, mentions)
        odds = dict(zip(self._symptoms.problems, self._symptoms.weigh(found), strict=True))
        told = self._evidence.find(mentions, facts)
        for one in told:
            odds[one.problem] += one.weight
        for problem in self._evidence.lacking(mentions):
            odds[problem] -= CANNOT_BE
        best = decide.ranked(odds, decide.needed(talk))
        if not best:
            return [], talk[0] if talk else "vague"
        return [self._match(text, split, problem, score, found, told) for problem, score in best], "trouble"

    def _match(
        self, text: str, split: Sequence[Token], problem: str, score: float, found: Sequence[Sign], told: Sequence[Told]
    ) -> ProblemMatch:
        """The score of one problem with the customer's own words for and against it."""
        weighed = [(weight, split[sign.first].start, split[sign.last - 1].end) for weight, sign in self._symptoms.told(found, problem)]
        weighed += [(one.weight, mention.start, mention.end) for one in told if one.problem == problem for mention in one.mentions]
        weighed.sort(key=lambda item: (-item[0], item[1]))
        return ProblemMatch(
            problem,
            round(score, 4),
            tuple(_words(text, (one for one in weighed if one[0] >= WORTH_SHOWING))),
            tuple(_words(text, (one for one in reversed(weighed) if one[0] <= -WORTH_SHOWING))),
        )


def _words(text: str, weighed: Iterator[tuple[float, int, int]]) -> Iterator[str]:
    """The words at the strongest places that do not overlap."""
    taken: list[tuple[int, int]] = []
    for _, start, end in weighed:
        if len(taken) < MATCHED_SHOWN and all(end <= first or start >= last for first, last in taken):
            taken.append((start, end))
            yield text[start:end]


def wider(lexicon: Lexicon) -> dict[str, frozenset[str]]:
    """Each concept with all broader ones."""
    def all_of(name: str, seen: frozenset[str]) -> frozenset[str]:
        more = frozenset(lexicon.concepts[name].broader) - seen
        return frozenset({name}).union(*(all_of(one, seen | more) for one in more))

    return {name: all_of(name, frozenset({name})) for name in lexicon.concepts}


def _vocabulary(lexicon: Lexicon) -> Iterator[str]:
    """Every word of the lexicon."""
    for concept in lexicon.concepts.values():
        for words in concept.words:
            for pattern in expand(words):
                yield from pattern
