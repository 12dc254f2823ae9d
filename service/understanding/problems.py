"""Which problems explain a message, best first, each with the customer's own words for and against it."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass

from knowledge.language import Lexicon, Symptoms
from service.understanding import decide
from service.understanding.evidence import EvidenceIndex, Told
from service.understanding.kind import Talk
from service.understanding.model import Fact, Mention, ProblemMatch, Token
from service.understanding.normalise import stem
from service.understanding.saying import Span, apart
from service.understanding.symptoms import GRAMMAR, Known, SymptomIndex, Weighing
from service.understanding.wording import Worded, WordingIndex, worded

CANNOT_BE = 2.0
"""What a problem loses in log-odds where something it cannot be without was not said."""
OUTRIGHT = 2.0
"""What evidence that the knowledge names outright counts against signs that are only counted."""
NOTHING: Mapping[str, Fact] = {}
MATCHED_SHOWN = 4
WORTH_SHOWING = 0.5
BARE_WORD = 0.2
"""A bare word explains less to the customer than what the lexicon knows, however much it tells."""

Said = tuple[Sequence[Token], Sequence[Mention]]
"""A text with its words and what the lexicon knows of them."""
Place = tuple[float, int, int]
"""What was said at a place in the text (half-open), and how strongly it speaks."""


@dataclass(frozen=True, slots=True)
class Heard:
    """What was heard in a message or a part of it, and the problems that explain it, best first with their scores."""

    text: str
    tokens: Sequence[Token]
    known: Sequence[Known]
    told: Sequence[Told]
    said: Worded
    ranked: Sequence[tuple[str, float]]


class ProblemFinder:
    """All symptoms of one revision of the knowledge, ready to explain messages."""

    def __init__(
        self,
        lexicon: Lexicon,
        symptoms: Mapping[str, Symptoms],
        phrases: Mapping[str, Sequence[Said]],
        told: Mapping[str, Sequence[Said]],
    ):
        self._weighing = Weighing(
            frozenset(stem(lexicon.forms.get(word, word)) for word in lexicon.stop),
            frozenset(name for name, concept in lexicon.concepts.items() if concept.circumstance),
        )
        self._evidence = EvidenceIndex(symptoms, wider(lexicon))
        self.goes_with = {
            problem: frozenset(one.hazard for one in symptom.evidence.for_ if one.hazard)
            for problem, symptom in symptoms.items()
        }
        said = {name: (*phrases.get(name, ()), *told.get(name, ())) for name in sorted({*phrases, *told})}
        self._index = SymptomIndex({name: [self._weighing.signs(*one) for one in all_] for name, all_ in said.items()})
        self._wording = WordingIndex({name: [worded(tokens) for tokens, _ in all_] for name, all_ in said.items()})

    def hear(
        self,
        text: str,
        tokens: Sequence[Token],
        mentions: Sequence[Mention],
        facts: Mapping[str, Fact] = NOTHING,
        hazards: Collection[str] = (),
        talk: Talk | None = None,
    ) -> Heard:
        """The problems worth naming; none where something else, or too much, would explain the message as well."""
        found = self._weighing.signs(tokens, mentions)
        known = self._index.known(found)
        told = self._evidence.find(mentions, facts, hazards)
        said = self._wording.tell(tokens)
        odds = self._index.weigh(known, found)
        for one in told:
            odds[one.problem] += OUTRIGHT * one.weight
        for problem in self._evidence.lacking(mentions):
            odds[problem] -= CANNOT_BE
        wording = self._wording.weigh(said)
        explained = decide.explained(odds, wording, decide.something_else(talk))
        ranked = decide.ranked(decide.together(odds, wording)) if explained else []
        return Heard(text, tokens, known, told, said, ranked)

    def show(self, heard: Heard) -> tuple[ProblemMatch, ...]:
        """The problems with the customer's words for and against each."""
        return tuple(self._match(heard, problem, score) for problem, score in heard.ranked)

    def troubles(self, mentions: Iterable[Mention]) -> list[Mention]:
        """What is named that is more than a circumstance."""
        unsaid = self._weighing.circumstances | GRAMMAR
        return [one for one in mentions if one.concept not in unsaid]

    def going_with(self, hazards: Set[str]) -> set[str]:
        """The problems that these dangers are evidence for."""
        return {problem for problem, dangers in self.goes_with.items() if not dangers.isdisjoint(hazards)}

    def _match(self, heard: Heard, problem: str, score: float) -> ProblemMatch:
        tokens = heard.tokens
        places = [
            (weight, tokens[sign.first].start, tokens[sign.last - 1].end)
            for weight, sign in self._index.told(heard.known, problem)
        ]
        places += [
            (one.weight, at.start, at.end) for one in heard.told if one.problem == problem for at in one.mentions
        ]
        said = self._wording.told(heard.said, problem)
        places += [(weight * BARE_WORD, start, end) for weight, start, end in said]
        places.sort(key=lambda place: (-place[0], place[1]))
        return ProblemMatch(
            problem,
            round(score, 4),
            tuple(_words(heard.text, (place for place in places if place[0] > 0))),
            tuple(_words(heard.text, (place for place in reversed(places) if place[0] < 0))),
        )


def _words(text: str, places: Iterable[Place]) -> Iterator[str]:
    """The words at the strongest places that do not overlap, in the order they were said; neighbours are joined."""
    worth = ((start, end) for weight, start, end in places if abs(weight) >= WORTH_SHOWING)
    joined: list[Span] = []
    for start, end in apart(worth, MATCHED_SHOWN):
        if joined and not text[joined[-1][1] : start].strip():
            joined[-1] = (joined[-1][0], end)
        else:
            joined.append((start, end))
    yield from (text[start:end] for start, end in joined)


def wider(lexicon: Lexicon) -> dict[str, frozenset[str]]:
    """Each concept with all broader ones."""

    def add(name: str, seen: set[str]) -> set[str]:
        for broader in {name, *lexicon.concepts[name].broader} - seen:
            seen.add(broader)
            add(broader, seen)
        return seen

    return {name: frozenset(add(name, set())) for name in lexicon.concepts}
