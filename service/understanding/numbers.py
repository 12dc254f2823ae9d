"""Figures in a message: 1.050, 1,050, 1050, "ten fifty", 3/16, 1 1/2, ½, "thirty-two", "five point eight".

Prices, clock times, dates, ordinals, order numbers and telephone numbers are seen and passed over, so that
nothing further on takes them for a measurement.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import takewhile

ONES = {
    "zero": 0, "nought": 0, "oh": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7,
    "eight": 8, "nine": 9,
}  # fmt: skip
TEENS = {
    "ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16,
    "seventeen": 17, "eighteen": 18, "nineteen": 19,
}  # fmt: skip
TENS = {
    "twenty": 20, "thirty": 30, "forty": 40, "fourty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80,
    "ninety": 90,
}  # fmt: skip
SMALL = ONES | TEENS | TENS
COUNTED = {"half a dozen": 6, "a dozen": 12, "a couple of": 2}
VULGAR = {"½": 1 / 2, "¼": 1 / 4, "¾": 3 / 4, "⅓": 1 / 3, "⅔": 2 / 3, "⅛": 1 / 8, "⅜": 3 / 8, "⅝": 5 / 8, "⅞": 7 / 8}
GLUED = frozenset(
    ["og", "fg", "sg", "ph", "at", "to", "is", "was", "day", "from", "now", "still", "only", "about", "abt", "set", "d"]
)

PARTS = {
    "third": 3, "quarter": 4, "fifth": 5, "sixteenth": 16, "sixth": 6, "eighth": 8, "tenth": 10,
}  # fmt: skip
SOME = {"a": 1, "one": 1, "two": 2, "three": 3, "five": 5, "seven": 7, "nine": 9}

_WORD = "|".join([*SMALL, "hundred", "thousand", "point"])
_PASSED = r"""
    [£$€]\s?\d[\d.,]* | \d+(?:[.,]\d+)?\s?(?:[£$€]|euros?\b|dollars?\b|bucks\b|quid\b|cents?\b)   # prices
  | \d{1,2}:\d\d(?:\s?[ap]m\b)? | \d{1,2}\s?[ap]\.?m\b\.? | \d{1,2}\s?o['’]?clock\b             # clock times
  | \d{1,4}[/-]\d{1,2}[/-]\d{2,4}(?!\d) | 24/7 | \d{7,} | \#\s?\d+                               # dates, calls, orders
  | \d+(?:st|nd|rd|th)\b | \d+\s?x\b(?!\s?\d) | \bx\s?\d+\b(?![.,]\d|\s?mm)      # 1st, 2x
"""
_FIGURE = re.compile(
    rf"""
    (?P<passed>{_PASSED})
  | (?P<mixed>\d+(?:\s+|-|\s-\s?)(?P<top>\d)/(?P<bottom>2|3|4|8|16|32)(?![\d/]))
  | (?:(?P<whole>\d+)\s?)?(?P<vulgar>[{"".join(VULGAR)}])
  | (?P<fraction>(?<!\d)\d{{1,2}}/(?:2|3|4|5|6|8|16|32)(?![\d/]))
  | (?P<spaced>(?<![\d.,])1\s?[.,]\s?0\d{{1,2}}(?!\d))
  | (?P<digits>(?:(?<![\w.,])-)?\d+(?:,\d{{3}}(?=(?:,\d{{3}})+(?!\d)))*(?:[.,]\d+)?|(?<![\w.])\.\d+)
  | (?P<share>\b(?P<some>{"|".join(SOME)})[\s-]+(?P<parts>{"|".join(PARTS)})s?
      (?=\s+(?:of\s+an?|inch)\b|(?<=sixteenths)\b))
  | (?P<counted>\b(?:{"|".join(COUNTED).replace(" ", "[ ]")})\b)
  | (?P<spoken>\b(?:{"|".join(SMALL)}|(?:a\s+)?hundred)(?:(?:[\s-]+(?:and\s+)?)(?:{_WORD}))*\b)
    """,
    re.VERBOSE,
)


@dataclass(frozen=True, slots=True)
class Figure:
    """A number and its place. `thousands` is the other reading of "1,050", for a unit that asks for it."""

    value: float
    start: int
    end: int
    spoken: bool = False
    thousands: float | None = None


def find_figures(lowered: str) -> Iterator[Figure]:
    """Every figure of a lower-case text, from left to right."""
    for match in _FIGURE.finditer(lowered):
        kind = match.lastgroup
        if match["passed"] or not _stands_alone(lowered, match.start()):
            continue
        if match["share"]:
            yield Figure(SOME[match["some"]] / PARTS[match["parts"]], *match.span())
        elif match["counted"]:
            yield Figure(COUNTED[match["counted"]], *match.span(), spoken=True)
        elif match["spoken"]:
            yield from _spoken(match["spoken"], match.start())
        else:
            yield _written(match, "mixed" if match["mixed"] else kind)


def _stands_alone(text: str, start: int) -> bool:
    """A digit glued to a word is part of a name (co2, W-34), unless that word leads to a figure (og1.050)."""
    if start > 1 and text[start - 1] == "-" and text[start - 2].isalpha() and not text[max(0, start - 3)].isalpha():
        return False
    if not start or not text[start - 1].isalpha() or not (text[start].isdigit() or text[start] in VULGAR):
        return True
    begin = start - 1
    while begin and text[begin - 1].isalpha():
        begin -= 1
    return text[begin:start] in GLUED


def _written(match: re.Match[str], kind: str | None) -> Figure:
    start, end = match.span()
    text = match.group()
    if kind == "mixed":
        whole = re.match(r"\d+", text)
        value = float(whole.group() if whole else 0) + int(match["top"]) / int(match["bottom"])
    elif match["vulgar"]:
        value = float(match["whole"] or 0) + VULGAR[match["vulgar"]]
    elif match["fraction"]:
        top, bottom = text.split("/")
        value = int(top) / int(bottom)
    else:
        return _decimal("".join(text.split()), start, end)
    return Figure(value, start, end)


def _decimal(text: str, start: int, end: int) -> Figure:
    head, comma, tail = text.rpartition(",")
    if not comma:
        return Figure(float(text), start, end)
    if "," in head or (len(tail) == 3 and head.lstrip("-") not in ("0", "1")):
        return Figure(float(text.replace(",", "")), start, end)
    thousands = float(text.replace(",", "")) if len(tail) == 3 else None
    return Figure(float(f"{head}.{tail}"), start, end, thousands=thousands)


def _spoken(text: str, offset: int) -> Iterator[Figure]:
    """Numbers in words; several in a row ("two five") are several figures."""
    pieces = [(m.group(), m.start()) for m in re.finditer(r"[a-z]+", text) if m.group() not in ("and", "a")]
    words = [word for word, _ in pieces]
    at = 0
    while at < len(words):
        value, used = in_words(words[at:])
        if not used:
            at += 1
            continue
        last, last_start = pieces[at + used - 1]
        yield Figure(value, offset + pieces[at][1], offset + last_start + len(last), spoken=True)
        at += used


def in_words(words: Sequence[str]) -> tuple[float, int]:
    """The number the first words say and how many they are: ten fifty is 1050, one fifty three 153, none (0.0, 0)."""
    value, used = _whole(words)
    if not used or used >= len(words) - 1 or words[used] != "point":
        return float(value), used
    digits = ""
    at = used + 1
    while at < len(words) and words[at] in SMALL:
        piece, step = _below_hundred(words[at:])
        digits, at = digits + str(piece), at + step
    return float(f"{value}.{digits}") if digits else float(value), at


def _whole(words: Sequence[str]) -> tuple[int, int]:
    if words and words[0] == "hundred":
        words = ("one", *words)
        value, used = _whole(words)
        return value, used - 1
    if not words or words[0] not in SMALL:
        return 0, 0
    if (string := _digit_string(words)) is not None:
        return string
    value, used = _below_hundred(words)
    following = words[used] if used < len(words) else ""
    if following in ("hundred", "thousand"):
        return _multiplied(words, value, used)
    if value == 10 and following in ("oh", *TEENS, *TENS):  # a gravity: ten fifty, ten oh eight
        rest, more = _below_hundred(words[used:] if following != "oh" else words[used + 1 :])
        return 1000 + rest, used + more + (following == "oh")
    if value in range(1, 4) and following in (*TEENS, *TENS) and used == 1:  # one fifty three
        rest, more = _below_hundred(words[used:])
        return value * 100 + rest, used + more
    return value, used


def _multiplied(words: Sequence[str], value: int, used: int) -> tuple[int, int]:
    factor = 100 if words[used] == "hundred" else 1000
    rest, more = _whole(words[used + 1 :])
    return (value * factor + rest, used + 1 + more) if rest < factor else (value * factor, used + 1)


def _digit_string(words: Sequence[str]) -> tuple[int, int] | None:
    """One oh five two, nine nine six, one oh fifty: digits said one after the other."""
    run = [ONES[word] for word in takewhile(ONES.__contains__, words)]
    if len(run) in (3, 4):
        return int("".join(map(str, run))), len(run)
    if tuple(words[:2]) != ("one", "oh"):
        return None
    digits, at = "10", 2
    while at < len(words) and words[at] in SMALL and len(digits) < 4:
        piece, step = _below_hundred(words[at:])
        digits, at = digits + str(piece), at + step
    return (int(digits), at) if len(digits) == 4 else None


def _below_hundred(words: Sequence[str]) -> tuple[int, int]:
    if not words or words[0] not in SMALL:
        return 0, 0
    if words[0] in TENS and len(words) > 1 and ONES.get(words[1], 0) > 0:
        return TENS[words[0]] + ONES[words[1]], 2
    return SMALL[words[0]], 1
