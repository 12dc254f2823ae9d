"""Weights fitted to labelled messages: the published least-squares solution, and what follows from it."""

from __future__ import annotations

import numpy as np
import pytest

import service.understanding.fitted as fitted
from service.understanding.features import Features
from service.understanding.fitted import PENALTY, Fitted, Labelled


def message(text: str) -> Features:
    """Words alone, each at its place."""
    words: dict[str, tuple[int, int]] = {}
    at = 0
    for word in text.split():
        words.setdefault(word, (at, at + len(word)))
        at += len(word) + 1
    return (words,)


def learnt(*pairs: tuple[str, str]) -> Fitted:
    return Fitted([Labelled(message(text), labels.split()) for text, labels in pairs])


EXAMPLES = [
    ("glass burst", "glass"),
    ("glass burst cut", "glass hurt"),
    ("hand cut", "hurt"),
    ("glass stands", ""),
    ("hand washed", ""),
    ("glass washed", ""),
]


def test_what_goes_with_a_label_speaks_for_it_and_what_goes_without_speaks_against() -> None:
    of = learnt(*EXAMPLES)
    assert of.weigh(message("glass burst"))["glass"] > 0.4 > of.weigh(message("glass washed"))["glass"]
    assert [weight < 0 for weight, _, _ in of.told(message("washed"), "glass")] == [True]


def test_a_message_with_nothing_known_says_nothing() -> None:
    assert set(learnt(*EXAMPLES).weigh(message("tuesday")).values()) == {0.0}


def test_the_same_messages_give_the_same_weights_in_any_order() -> None:
    one, other = learnt(*EXAMPLES), learnt(*reversed(EXAMPLES))
    assert one.weigh(message("glass burst")) == pytest.approx(other.weigh(message("glass burst")), abs=1e-9)


def test_what_each_word_tells_adds_up_to_the_whole() -> None:
    of = learnt(*EXAMPLES)
    said = message("hand cut glass")
    assert sum(weight for weight, _, _ in of.told(said, "hurt")) == pytest.approx(of.weigh(said)["hurt"])


def test_without_labels_nothing_is_told() -> None:
    assert Fitted([]).weigh(message("glass")) == {}
    assert learnt(("glass burst", ""), ("hand cut", "")).weigh(message("glass")) == {}


def test_the_weights_are_those_of_ridge_regression(monkeypatch: pytest.MonkeyPatch) -> None:
    """The closed form of Hoerl and Kennard (1970): (X'X + kI)^-1 X'y, solved by NumPy, over rows of length 1."""
    monkeypatch.setattr(fitted, "CLOSE_ENOUGH", 1e-12)
    monkeypatch.setattr(fitted, "STEPS", 200)
    words = ["burst", "cut", "glass", "hand", "washed"]  # "stands" is met once only
    counts = {word: sum(word in text.split() for text, _ in EXAMPLES) for word in words}
    rarity = np.array([np.log((1 + len(EXAMPLES)) / (1 + counts[word])) + 1 for word in words])
    rows = np.array([[rarity[at] * (word in text.split()) for at, word in enumerate(words)] for text, _ in EXAMPLES])
    rows /= np.linalg.norm(rows, axis=1, keepdims=True)
    wanted = np.array([float("hurt" in labels.split()) for _, labels in EXAMPLES])
    weights = np.linalg.solve(rows.T @ rows + PENALTY * np.eye(len(words)), rows.T @ wanted)
    asked = np.array([1.0 * (word in ("hand", "cut")) for word in words]) * rarity
    expected = weights @ asked / np.linalg.norm(asked)
    assert learnt(*EXAMPLES).weigh(message("hand cut"))["hurt"] == pytest.approx(expected, abs=1e-6)
