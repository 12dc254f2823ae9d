"""The rules of danger: there now, soon, or asked about doing. Looked for first, whatever the problem.

A rule of hazards.yaml names groups of words that must stand close together, and what the facts must say. A group
that is denied does not count, nor does anything in a sentence told as over, or in jest ("two years ago", "joking").
What is marked on a vessel is weighed here too against every other pressure of the message, whosever figure it is.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from knowledge.language import Lexicon
from knowledge.reading import HazardRule, HazardRules
from service.understanding.model import Fact
from service.understanding.saying import quoted
from service.understanding.strain import overshoot, strain
from service.understanding.terms import NOTHING, Hit, Terms, Word, denied

MOST_PLACES, LONGEST_PHRASE = 12, 12
ASIDE, PRESENT, SETTLED = "aside", "present", "settled"
"""The words that set a whole sentence aside, those that speak of now all the same, and those that tell that
everything is over and well, or only wondered about."""
LONG_AGO = 12.0
"""Months; what was so long ago is over, unless the sentence speaks of now (common practice)."""
FERMENTED_OUT = 0.7
"""Beer that has used such a share of its gravity is finished, however strong it still reads (common practice)."""
MALT_EXTRACT = 0.68
"""Sugar that ferments in a gram of dry malt extract, against a gram of dextrose (common practice)."""


@dataclass(frozen=True, slots=True)
class RuleHeard:
    """What a rule says of a danger, with the customer's words that show it; `by_figures` where it weighed figures."""

    hazard: str
    because: str
    by_figures: bool
    calms: bool = False


@dataclass(frozen=True, slots=True)
class Heard:
    """The rules that hold; `over` where a danger is told as past, heard of elsewhere, in jest, or settled."""

    rules: tuple[RuleHeard, ...] = ()
    over: bool = False


class HazardFinder:
    """Hears the rules of danger; built once from the knowledge."""

    def __init__(self, rules: HazardRules, lexicon: Lexicon):
        self._rules = _RuleIndex(rules.rules, rules.words)
        self._terms = Terms(rules.words, lexicon, rules.hides)
        self.vocabulary = frozenset(self._terms.vocabulary)

    def hear(self, text: str, words: Sequence[Word], facts: Mapping[str, Fact]) -> Heard:
        """For each danger one rule for it and one that calms, one that weighs figures before one that hears words.

        Where all is settled no rule holds.
        """
        places = _places(words, self._terms.find(words))
        if SETTLED in places:
            return Heard(over=True)
        pressed = Pressed(strain(words, places), overshoot(words, places))
        found: dict[tuple[str, bool], RuleHeard] = {}
        for rule in self._rules.possible(places):
            known = found.get((rule.hazard, rule.calms))
            if known and (known.by_figures or not rule.weighs_figures):
                continue
            hits = _together(rule, places) if pressed.as_in(rule) and facts_hold(rule, facts) else None
            if hits is not None:
                because = _said(text, words, hits) or _said_facts(rule, facts) or text.strip()
                found[rule.hazard, rule.calms] = RuleHeard(rule.hazard, because, rule.weighs_figures, rule.calms)
        return Heard(tuple(found.values()), ASIDE in places)


@dataclass(frozen=True, slots=True)
class Pressed:
    """How hard a vessel is pressed, as a share of what is marked on it and of what was aimed at; 0 where not told."""

    strained: float
    overshot: float

    def as_in(self, rule: HazardRule) -> bool:
        """Whether it is as a rule says."""
        if self.strained < (rule.over_marking or 0) or self.overshot < (rule.over_setting or 0):
            return False
        return rule.under_marking is None or 0 < self.strained < rule.under_marking


class _RuleIndex:
    """Rules by the group they need that has the fewest phrases, so that a message looks at few of them."""

    def __init__(self, rules: Sequence[HazardRule], phrases: Mapping[str, Sequence[str]]):
        self._rules = [(rule, frozenset((*rule.all, *rule.also)), frozenset(rule.unless)) for rule in rules]
        self._by_group: dict[str | None, list[int]] = defaultdict(list)
        for at, (_, needed, _) in enumerate(self._rules):
            self._by_group[min(needed, key=lambda group: (len(phrases[group]), group), default=None)].append(at)

    def possible(self, places: Mapping[str, Sequence[Hit]]) -> Iterator[HazardRule]:
        """The rules whose groups are all there and none of those that forbid them, in their order."""
        for at in sorted(at for group in (None, *places) for at in self._by_group.get(group, ())):
            rule, needed, forbidden = self._rules[at]
            if needed <= places.keys() and forbidden.isdisjoint(places):
                yield rule


def _places(words: Sequence[Word], hits: Sequence[Hit]) -> Mapping[str, list[Hit]]:
    places: dict[str, list[Hit]] = defaultdict(list)
    aside = _set_aside(words, hits)
    if aside:
        places[ASIDE] = [Hit(ASIDE, 0, 0)]
    taken_back = {first: _taken_back(words, first, aside) for first in {hit.first for hit in hits}}
    for hit in hits:
        if hit.group != ASIDE and not taken_back[hit.first]:
            places[hit.group].append(hit)
    return places


def _taken_back(words: Sequence[Word], at: int, aside: Collection[int]) -> bool:
    """Whether what is said from this word on does not count: told as over, or denied."""
    return words[at].sentence in aside or denied(words, at, also=NOTHING)


def _set_aside(words: Sequence[Word], hits: Sequence[Hit]) -> set[int]:
    """The sentences told as long over, as heard of or in jest: "got a shock two years ago", but not "and still do"."""
    aside = {words[hit.first].sentence for hit in hits if hit.group == ASIDE}
    for figure, ago in pairwise(words):
        one = figure.quantity
        if one and one.unit == "month" and one.value >= LONG_AGO and ago.word == "ago":
            aside.add(ago.sentence)
    return aside - {words[hit.first].sentence for hit in hits if hit.group == PRESENT}


def _together(rule: HazardRule, places: Mapping[str, Sequence[Hit]]) -> tuple[Hit, ...] | None:
    """One hit of each group of the rule, close enough to each other and not the same words."""
    if not rule.all:
        return ()
    groups = sorted((places[group] for group in rule.all), key=len)
    for hit in groups[0]:
        nearby = [_window(group, hit, rule.within) for group in groups[1:]]
        if all(nearby) and (found := _extend(rule.within, nearby, (hit,))):
            return found
    return None


def _window(group: Sequence[Hit], hit: Hit, within: int) -> Sequence[Hit]:
    """The hits of a group that can be close enough; groups are in the order of their first word."""
    begin = bisect_left(group, hit.first - within - LONGEST_PHRASE, key=_first)
    end = bisect_left(group, hit.last + within + 1, key=_first)
    return group[begin : min(end, begin + MOST_PLACES)]


def _extend(within: int, groups: Sequence[Sequence[Hit]], taken: tuple[Hit, ...]) -> tuple[Hit, ...] | None:
    if not groups:
        return taken
    for hit in groups[0]:
        if all(not _overlap(hit, other) and _apart(hit, other) <= within for other in taken):
            rest = _extend(within, groups[1:], (*taken, hit))
            if rest is not None:
                return rest
    return None


def _first(hit: Hit) -> int:
    return hit.first


def _overlap(one: Hit, other: Hit) -> bool:
    return one.first < other.last and other.first < one.last


def _apart(one: Hit, other: Hit) -> int:
    return max(one.first, other.first) - min(one.last, other.last)


def _above_its_limit(name: str, rated: float | None, facts: Mapping[str, Fact]) -> bool:
    """Whether a pressure is at the vessel's rating, or past where its relief valve should have opened."""
    figure, relief = _figure(facts, name), _figure(facts, "relief_pressure")
    if figure is None:
        return False
    return (rated is not None and figure >= rated) or (relief is not None and figure > relief)


def facts_hold(rule: HazardRule, facts: Mapping[str, Fact]) -> bool:
    """Whether what a rule says of the figures is so. A figure that is not known holds nothing."""
    rated = _figure(facts, "rated_pressure")
    if rule.above_rating and not _above_its_limit(rule.above_rating, rated, facts):
        return False
    if rule.near_rating:
        gauge = _figure(facts, "gauge_pressure")
        if rated is None or gauge is None or gauge < rule.near_rating * rated:
            return False
    if rule.gravity_over and not _bottled_over(rule.gravity_over, facts):
        return False
    if rule.sugar_under and not 0 < _sugar(facts) < rule.sugar_under:
        return False
    return rule.sugar_over is None or _sugar(facts) >= rule.sugar_over


def _bottled_over(gravity: float, facts: Mapping[str, Fact]) -> bool:
    """Whether beer that went into bottles, or is about to, has this much left to ferment."""
    start, figure = _figure(facts, "original_gravity"), _figure(facts, "current_gravity")
    if figure is None or figure < gravity:
        return False
    return not (start and start > figure and (start - figure) / (start - 1) >= FERMENTED_OUT)


def _figure(facts: Mapping[str, Fact], name: str) -> float | None:
    fact = facts.get(name)
    return float(fact.value) if fact and isinstance(fact.value, int | float) else None


def _sugar(facts: Mapping[str, Fact]) -> float:
    """Priming sugar in g/L of bottled beer; 0 where it is not known or the beer is in a keg."""
    mass, volume = _figure(facts, "priming_sugar_mass"), _figure(facts, "batch_volume")
    vessel = facts.get("vessel_type")
    if not mass or not volume or (vessel and vessel.value != "bottle"):
        return 0.0
    sugar = facts.get("sugar_type")
    return mass / volume * (MALT_EXTRACT if sugar and sugar.value == "dry-malt-extract" else 1.0)


def _said(text: str, words: Sequence[Word], hits: Sequence[Hit]) -> str:
    """The words that show the danger, in the order they were said."""
    spans = sorted({(words[hit.first].start, words[hit.last - 1].end) for hit in hits})
    return quoted(text, spans)


def _said_facts(rule: HazardRule, facts: Mapping[str, Fact]) -> str:
    if rule.sugar_over or rule.sugar_under:
        names: tuple[str, ...] = ("priming_sugar_mass", "batch_volume")
    elif rule.above_rating:
        names = (rule.above_rating, "rated_pressure", "relief_pressure")
    elif rule.near_rating:
        names = ("gauge_pressure", "rated_pressure")
    else:
        names = ("current_gravity",) if rule.gravity_over else ()
    return " … ".join(facts[name].said for name in names if name in facts)
