"""What kind of message it is where it is no trouble with a brew: a greeting, an order, another craft, abuse …"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence

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
Talk = tuple[Kind, int]
"""A kind of talk that was heard, and how often."""
FOREIGN_SHARE = 0.4
FOREIGN_WORDS = 2
UNREADABLE_SHARE = 0.5


class KindReader:
    """Built once from the lexicon."""

    def __init__(self, lexicon: Lexicon):
        self._languages = {name: frozenset(words) for name, words in lexicon.languages.items()}

    def talk(self, mentions: Sequence[Mention]) -> Talk | None:
        """The kind of talk that was heard, and how often; None if it could be about a brew."""
        heard = Counter(mention.concept for mention in mentions if mention.concept in TALK and not mention.negated)
        return next(((TALK[name], heard[name]) for name in TALK if heard[name]), None)

    def foreign(self, text: str, tokens: Sequence[Token]) -> bool:
        """Whether the message is in another language: another script, or the small words of one."""
        letters = [letter for letter in text if letter.isalpha()]
        if sum(letter > "\u024f" for letter in letters) > UNREADABLE_SHARE * len(letters) > 0:
            return True
        words = [token.text.lower() for token in tokens if token.text[0].isalpha()]
        most = max((sum(word in known for word in words) for known in self._languages.values()), default=0)
        return most >= FOREIGN_WORDS and most >= FOREIGN_SHARE * len(words)
