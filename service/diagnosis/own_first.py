"""Fixed sentences give metric measures with US ones after them in brackets; for a US customer the two change places."""

from __future__ import annotations

import re

from service.consultation import Units

_FIGURE = r"-?\d[\d.,/]*(?:(?: to | and | or )-?\d[\d.,/]*)?"
_METRIC = r"°C|bar|kPa|mL|L|kg|g|cm|mm|m"
_US = r"°F|psi|US gal|US fl oz|fl oz|oz|lb|quarts?|ft|in|inch(?:es)?"
_PAIR = re.compile(rf"(?<![\w.])({_FIGURE} (?:{_METRIC})) \(((?:{_FIGURE}|an?|half an?) (?:{_US}))\)")
_IN_WORDS = re.compile(rf"\b((?:\w+ or )?\w+ degrees? Celsius) \(((?:about )?{_FIGURE} °F)\)")


def own_first(text: str, system: Units) -> str:
    """The sentence with the customer's own measures first.

    >>> own_first("Chill it to 2 to 4 °C (36 to 39 °F), a day at 0.3 bar (5 psi).", "us")
    'Chill it to 36 to 39 °F (2 to 4 °C), a day at 5 psi (0.3 bar).'
    >>> own_first("Warm it by two or three degrees Celsius (5 °F).", "us")
    'Warm it by 5 °F (two or three degrees Celsius).'
    """
    if system == "metric" or "(" not in text:
        return text
    turned = _PAIR.sub(r"\2 (\1)", text)
    return _IN_WORDS.sub(lambda pair: f"{pair[2]} ({pair[1][0].lower()}{pair[1][1:]})", turned)
