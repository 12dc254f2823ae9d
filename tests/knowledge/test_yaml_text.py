"""YAML is read strictly: what surprises people elsewhere is a word here, or a fault with its line."""

from __future__ import annotations

import pytest

from knowledge.yaml_text import MAX_CHARACTERS, MAX_VALUES, TextError, read


def test_words_that_older_yaml_turns_into_something_else_stay_words() -> None:
    assert read("a: no\nb: 12:30\nc: 2026-11-25\nd: '1'\n").data == {
        "a": "no",
        "b": "12:30",
        "c": "2026-11-25",
        "d": "1",
    }


def test_numbers_truth_and_nothing_are_themselves() -> None:
    assert read("[1, -2, 1.5, 1e3, true, False, null, ~]").data == [1, -2, 1.5, 1000.0, True, False, None, None]


def test_every_value_keeps_its_line() -> None:
    document = read("a:\n  - b: 1\n    c: 2\n")
    assert document.line(("a", 0, "c")) == 3
    assert document.line(("a", 0, "not there")) == 2


def test_names_that_a_validator_adds_to_a_place_are_passed_over() -> None:
    assert read("nodes:\n  x:\n    kind: test\n").line(("nodes", "x", "question", "kind")) == 3


@pytest.mark.parametrize(
    ("text", "line", "message"),
    [
        ("a: 1\nb: 2\na: 3\n", 3, "`a` is written twice"),
        ("a: &x [1]\nb: *x\n", 1, r"aliases \(\*name\) are not allowed"),
        ("a: !!python/object:os.system {}\n", 1, r"tags .* are not allowed"),
        ("a: 1\n---\nb: 2\n", 2, "another document"),
        ("a: [1\n", 2, "not YAML"),
        ("a: \x00\n", 1, "not YAML"),
        ("[a]: 1\n", 1, "a key must be a word"),
        ("- " * 30 + "1\n", 1, "nested deeper"),
        ("[" * 5000, 1, "nesting depth"),
    ],
)
def test_what_is_not_plain_data_is_a_fault_with_its_line(text: str, line: int, message: str) -> None:
    with pytest.raises(TextError, match=message) as fault:
        read(text)
    assert fault.value.line == line


def test_a_text_too_large_is_refused_before_it_is_read() -> None:
    with pytest.raises(TextError, match="split it"):
        read("#" * (MAX_CHARACTERS + 1))


def test_too_many_values_are_refused() -> None:
    with pytest.raises(TextError, match=f"more than {MAX_VALUES} values"):
        read("[" + "1," * MAX_VALUES + "1]")


def test_a_bomb_of_aliases_is_refused_at_its_first_alias() -> None:
    bomb = "a: &a [x, x]\n" + "".join(
        f"{new}: &{new} [*{old}, *{old}]\n" for old, new in zip("abcdef", "bcdefg", strict=True)
    )
    with pytest.raises(TextError, match="aliases"):
        read(bomb)


def test_an_anchor_nobody_refers_to_is_harmless() -> None:
    assert read("a: &x 1\n").data == {"a": 1}
