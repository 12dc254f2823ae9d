"""What a whole message holds: words, words side by side, concepts, concepts close together, each with its place."""

from __future__ import annotations

from service.understanding.features import CLOSE, features
from service.understanding.model import Mention, Token


def token(text: str, start: int) -> Token:
    return Token(text, text.lower(), start, start + len(text), 0)


def mention(concept: str, start: int, negated: bool = False) -> Mention:
    return Mention(concept, start, start + 3, "", 0, negated)


def test_words_are_taken_by_their_stems_and_with_the_word_beside_them() -> None:
    words, beside, _, _ = features([token("burst", 0), token("bottles", 6), token("burst", 14)], [])
    assert words == {"burst": (0, 5), "bottl": (6, 13)}
    assert beside == {"burst bottl": (0, 13), "bottl burst": (6, 19)}


def test_a_denied_concept_is_another_one() -> None:
    _, _, concepts, together = features([], [mention("leak", 0), mention("gas", 5, negated=True)])
    assert concepts == {"leak": (0, 3), "!gas": (5, 8)}
    assert together == {"!gas & leak": (0, 8)}


def test_only_concepts_close_to_each_other_are_taken_together() -> None:
    found = [mention(f"c{number}", 4 * number) for number in range(CLOSE + 2)]
    _, _, _, together = features([], found)
    assert "c0 & c1" in together
    assert f"c0 & c{CLOSE + 1}" not in together


def test_the_words_of_grammar_are_no_concepts() -> None:
    _, _, concepts, _ = features([], [mention("negator", 0), mention("keg", 4)])
    assert list(concepts) == ["keg"]
