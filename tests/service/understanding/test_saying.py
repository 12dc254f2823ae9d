"""The customer's own words: the strongest that do not overlap, in the order they were said."""

from __future__ import annotations

from service.understanding.saying import apart, quoted

TEXT = "the gauge is past the red"


def test_the_strongest_come_first_and_hide_what_overlaps_them() -> None:
    assert apart([(13, 25), (4, 9), (22, 25)], 3) == [(4, 9), (13, 25)]


def test_no_more_are_shown_than_asked_for() -> None:
    assert apart([(22, 25), (4, 9), (13, 17)], 2) == [(4, 9), (22, 25)]


def test_what_is_left_out_between_is_shown_by_dots() -> None:
    assert quoted(TEXT, [(4, 9), (13, 25)]) == "gauge … past the red"
