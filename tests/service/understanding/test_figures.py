"""Figures and their units, however they are written."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

import knowledge
from service.understanding.numbers import find_figures, in_words
from service.understanding.quantities import QuantityReader

reading = knowledge.shipped().reading
assert reading is not None
READER = QuantityReader(reading.units)


def quantities(text: str) -> list[tuple[float, str | None]]:
    return [(round(one.value, 4), one.unit) for one in READER.find(text)]


@pytest.mark.parametrize(
    "written",
    [
        "1.050",
        "1,050",
        "1050",
        "ten fifty",
        "one point oh five oh",
        "one oh five oh",
        "1. 050",
        "sg 1.050",
        "50 points",
    ],
)
def test_a_gravity_is_the_same_however_it_is_written(written: str) -> None:
    assert [value for value, _ in quantities(written)] == [1.05]


@pytest.mark.parametrize(
    ("words", "value"),
    [
        ("thirty two", 32),
        ("one hundred sixty five", 165),
        ("one fifty three", 153),
        ("ten oh eight", 1008),
        ("five point eight", 5.8),
        ("two hundred and twelve", 212),
    ],
)
def test_numbers_in_words(words: str, value: float) -> None:
    assert in_words([word for word in words.split() if word != "and"])[0] == value


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("68F", 68, "degF"),
        ("20 °C", 20, "degC"),
        ("64 degress", 64, "deg"),
        ("12 pis", 12, "psi"),
        ("15 pounds of pressure", 15, "psi"),
        ("half a bar", 0.5, "bar"),
        ("800 mbar", 0.8, "bar"),
        ("5 imperial gallons", 22.7305, "L"),
        ("6 1/4 gal", 6.25, "gal"),
        ("2½ galons", 2.5, "gal"),
        ("500 ml", 0.5, "L"),
        ("1 lb 4 oz", 1.25, "lb"),
        ("6 ft 6 in of line", 6.0, "ft"),
        ("hour and a half", 1.5, "hour"),
        ("a fortnight", 2, "week"),
        ("2,5 vol", 2.5, "vol"),
        ("12# of malt", 12, "lb"),
        ("half a dozen psi", 6, "psi"),
        ("a whole week", 1, "week"),
        ("day and a half", 1.5, "day"),
        ("the 4th day", 4, "day"),
        ("d14", 14, "day"),
        ("stopped at eight pounds", 8, "psi"),
        ("5,280 ft", 5280, "ft"),
        ("3/16 line", 0.1875, "inch"),
        ("-2 C", -2, "degC"),
        ("ph 5,2", 5.2, None),
        ("five and a quarter gallons", 5.25, "gal"),
        ("two and two thirds cups", 2.6667, "cup"),
        ("hour thirty", 30, "hour"),
        ("day6", 6, "day"),
        ("day twenty-two", 22, "day"),
        ("Eight feet of 3/16, then the tap", 8, "ft"),
        ("36 pints", 20.4574, "L"),
        ("spunding valve set at twelve pounds", 12, "psi"),
        ("a valve and ten pounds of malt", 10, "lb"),
        ("20ish deg", 20, "deg"),
        ("0.7 of a bar", 0.7, "bar"),
        ("a tenth of a bar", 0.1, "bar"),
        ("three sixteenths of an inch", 0.1875, "inch"),
        ("nine nine six", 0.996, "SG"),
    ],
)
def test_a_figure_with_its_unit(text: str, value: float, unit: str | None) -> None:
    assert quantities(text)[:1] == [(value, unit)] or quantities(f"an {text}") == [(value, unit)]


@pytest.mark.parametrize(
    ("text", "low", "high", "unit"),
    [
        ("10 to 12 psi", 10, 12, "psi"),
        ("62-63F", 62, 63, "degF"),
        ("between 60 and 65 F", 60, 65, "degF"),
        ("1.010-1.012", 1.010, 1.012, "SG"),
        ("4 or 5 days", 4, 5, "day"),
    ],
)
def test_two_figures_that_bound_one_reading_are_a_range(text: str, low: float, high: float, unit: str) -> None:
    (one,) = READER.find(text)
    assert (one.low, one.high, one.unit) == (low, high, unit)
    assert one.value == pytest.approx((low + high) / 2)


@pytest.mark.parametrize("text", ["from 1.054 to 1.030", "1.052 → 1.020", "raised from 18 to 20 C", "1.050 to 1.010"])
def test_a_movement_is_two_figures(text: str) -> None:
    assert len(READER.find(text)) == 2


@pytest.mark.parametrize("text", ["19 litres (5 gal)", "20 C/68 F", "30 psi (2 bar)", "5 gal or 19 L"])
def test_one_figure_in_two_units_is_one_figure(text: str) -> None:
    (one,) = READER.find(text)
    assert one.said == text


def test_two_figures_in_two_units_that_differ_are_two() -> None:
    assert quantities("12 psi (2 bar)") == [(12, "psi"), (2, "bar")]


@pytest.mark.parametrize("text", ["2 bags", "it weeps at 3 weeps", "20 ppm", "'Mash at 66' it says", "oh"])
def test_words_like_units_are_none(text: str) -> None:
    assert {unit for _, unit in quantities(text)} <= {None, "other"}


@pytest.mark.parametrize(
    "text",
    [
        "$80",
        "80 euros",
        "at 5:30",
        "5 pm",
        "#48213",
        "3x",
        "co2",
        "the other one",
        "overnight",
        "0044 7700900123",
        "24/7",
        "1st",
        "2026-11-25",
    ],
)
def test_prices_times_and_names_are_no_measurements(text: str) -> None:
    assert [one for one in quantities(text) if one[1] is not None] == []
    assert len(quantities(text)) <= 1


def test_twice_a_month_and_one_spoon_a_gallon_are_no_durations_or_volumes() -> None:
    assert quantities("I brew twice a month") == []
    assert quantities("1 tbsp a gallon") == [(1, "tablespoon")]


@given(st.text(max_size=300))
def test_no_text_is_too_strange_to_be_read_for_figures(text: str) -> None:
    for one in READER.find(text):
        assert 0 <= one.start < one.end <= len(text)
        assert one.said == text[one.start : one.end]


@given(value=st.integers(1, 999), unit=st.sampled_from(["psi", "gal", "L", "kg", "days", "minutes"]))
def test_a_plain_figure_with_a_plain_unit_is_always_found(value: int, unit: str) -> None:
    (one,) = READER.find(f"so it is {value} {unit} now")
    assert one.value == value


@given(st.text(alphabet="0123456789.,/- ", max_size=60))
def test_strings_of_digits_never_overlap(text: str) -> None:
    ends = [(figure.start, figure.end) for figure in find_figures(text)]
    assert all(first[1] <= second[0] for first, second in pairwise(ends))
