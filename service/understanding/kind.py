"""What kind of message it is where it is no trouble with a brew: a greeting, an order, another craft, abuse …"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from knowledge.language import Lexicon
from service.understanding.model import Kind, Mention, Token

TALK: Mapping[str, Kind] = {
    "talk-manipulation": "manipulation",
    "talk-abuse": "abuse",
    "talk-order": "order",
    "talk-craft": "other-craft",
    "talk-bot": "small-talk",
    "talk-chat": "small-talk",
    "talk-howto": "small-talk",
    "talk-greeting": "greeting",
    "talk-vague": "vague",
}
"""In order of precedence: who orders us about is answered as such, whatever else is said."""
SHORT = 15
"""Words that one such thing stands for: in a story it may be said in passing."""


@dataclass(frozen=True, slots=True)
class Talk:
    """A kind of talk that was heard, how often, and what part of the message it stands for."""

    kind: Kind
    times: int = 1
    share: float = 1.0


COMPARED = re.compile(r"\b(?:like|as|than|of|resembles|reminds me of)\s+(?:\w+\s+){0,2}$", re.IGNORECASE)
"""Before a thing that the beer is only compared with."""
BEFORE = 80
"""Characters before a thing that are looked at: a few words."""
FOREIGN_SHARE = 0.4
FOREIGN_WORDS = 2
UNREADABLE_SHARE = 0.5


class KindReader:
    """Built once from the lexicon."""

    def __init__(self, lexicon: Lexicon):
        self._languages: dict[str, list[str]] = defaultdict(list)
        for name, words in lexicon.languages.items():
            for word in words:
                self._languages[word].append(name)

    def talk(self, text: str, tokens: Sequence[Token], mentions: Sequence[Mention]) -> Talk | None:
        """The kind of talk that was heard; None if it could be about a brew, as "like a cheddar" could."""
        told = (one.concept for one in mentions if one.concept in TALK and not one.negated and not _compared(text, one))
        heard = Counter(told)
        first = next((name for name in TALK if heard[name]), None)
        if first is None:
            return None
        return Talk(TALK[first], heard[first], min(1.0, SHORT * heard[first] / max(1, len(tokens))))

    def foreign(self, text: str, tokens: Sequence[Token]) -> bool:
        """Whether the message is in another language: another script, or the small words of one."""
        if not text.isascii():
            letters = [letter for letter in text if letter.isalpha()]
            if sum(letter > "\u024f" for letter in letters) > UNREADABLE_SHARE * len(letters) > 0:
                return True
        words = [token.text.lower() for token in tokens if token.text[0].isalpha()]
        heard = Counter(name for word in words for name in self._languages.get(word, ()))
        most = max(heard.values(), default=0)
        return most >= FOREIGN_WORDS and most >= FOREIGN_SHARE * len(words)


def _compared(text: str, mention: Mention) -> bool:
    return COMPARED.search(text, max(0, mention.start - BEFORE), mention.start) is not None
