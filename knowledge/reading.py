"""How figures and choices become facts, and which words are danger: the shape of reading.yaml and hazards.yaml.

A phrase is written as in the lexicon: plain words, `a|b` for either word, `..` for up to three words in between;
plural, -ed and -ing need not be written. `0` stands for any figure.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, StringConstraints, model_validator

from knowledge.base import FactName, Id, Model

Phrase = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=400)]
Kind = Literal[
    "gravity",
    "temperature",
    "pressure",
    "volume",
    "mass",
    "time",
    "length",
    "carbonation",
    "acidity",
    "percent",
    "room",
]
Weights = dict[Id, float]
PLACES = frozenset({"highest", "lowest", "alone", "in-hours", "zero", "said-grain", "heavy-as-malt"})
"""Cues that are no words: the highest and lowest gravity said, a figure by itself between commas, one in hours, zero,
a weight that can only be malt (in the message, and just here).

The groups `describing`, `craft-word`, `brewing-word`, `another-batch`, `back-to-this` and `taken-back` are known to
the reader of figures by their names.
"""


class UnitWords(Model):
    """How a unit is written. One that the catalogue does not have is `same_as` one that it has, `times` a factor."""

    words: tuple[str, ...] = Field(min_length=1)
    same_as: str | None = None
    times: float = 1.0


class Cues(Model):
    """What speaks for one fact, or (under `passed`) for a figure that is no fact.

    `before`: the word stands before the figure, `after`: behind it, `anywhere`: somewhere in the message.
    """

    before: Weights = Field(default_factory=dict)
    after: Weights = Field(default_factory=dict)
    anywhere: Weights = Field(default_factory=dict)


class FactReading(Cues):
    """One fact: its kind, its units, its plausible range in the catalogue's unit, and the words that point to it."""

    kind: Kind
    units: tuple[str, ...] = ()
    unit: str
    between: tuple[float, float]
    likely: tuple[float, float] | None = None
    needs: tuple[Id, ...] = ()
    base: float = 0.0
    bare: bool = Field(False, description="may be said without a unit")


class Choice(Model):
    """Words that settle one choice. With `needs`, one of these is in the message too; with `unless`, none of those.

    A figure of a kind counts as the group `said-<kind>`. The choice with the highest weight wins.
    """

    value: str | bool
    words: tuple[Id, ...] = Field(min_length=1)
    weight: float = 1.0
    needs: tuple[Id, ...] = ()
    unless: tuple[Id, ...] = ()


class Reading(Model):
    """Everything in reading.yaml."""

    units: dict[str, UnitWords]
    kinds: dict[Kind, tuple[str, ...]]
    words: dict[Id, tuple[Phrase, ...]]
    reach: dict[Id, float] = Field(default_factory=dict)
    hides: dict[Id, tuple[Id, ...]] = Field(default_factory=dict)
    bare: dict[Kind, tuple[Id, ...]] = Field(default_factory=dict)
    facts: dict[FactName, FactReading]
    named: dict[FactName, tuple[Id, ...]] = Field(default_factory=dict)
    passed: dict[Kind | Literal["any"], Cues] = Field(default_factory=dict)
    choices: dict[FactName, tuple[Choice, ...]] = Field(default_factory=dict)

    @model_validator(mode="after")
    def _words_are_there(self) -> Reading:
        used: set[str] = {*self.reach, *self.hides}
        for groups in (*self.hides.values(), *self.bare.values(), *self.named.values()):
            used |= set(groups)
        for fact in self.facts.values():
            used |= set(fact.needs)
        for cues in (*self.facts.values(), *self.passed.values()):
            used |= {*cues.before, *cues.after, *cues.anywhere}
        for choices in self.choices.values():
            for choice in choices:
                used |= {*choice.words, *choice.unless, *choice.needs}
        said = {f"said-{kind}" for kind in self.kinds}
        if missing := sorted(used - set(self.words) - PLACES - said):
            raise ValueError(f"words: {', '.join(missing)} used but not listed")
        return self


class HazardRule(Model):
    """One way to be in danger. All that is written must hold; a group that is denied ("no smell of gas") is not found.

    `within`: the groups of `all` stand within so many words; those of `also` stand anywhere, those of `unless` nowhere.
    `above_rating`: this pressure is at or over what is marked on the vessel, or past where its relief valve opens.
    `near_rating`: the gauge is at such a share of the marking or more. `sugar_over`: priming sugar, g/L of beer, in
    bottles. `gravity_over`: the beer in them, SG.
    """

    hazard: Id
    all: tuple[Id, ...] = ()
    within: int = Field(12, ge=1)
    also: tuple[Id, ...] = ()
    unless: tuple[Id, ...] = ()
    above_rating: FactName | None = None
    near_rating: float | None = Field(None, gt=0, le=1)
    sugar_over: float | None = Field(None, gt=0)
    sugar_under: float | None = Field(None, gt=0, description="priming sugar in bottles is known and below this, g/L")
    gravity_over: float | None = Field(None, gt=0.9, lt=1.2)
    over_marking: float | None = Field(None, gt=0, description="some pressure is such a share of what is marked")
    over_setting: float | None = Field(None, gt=1, description="some pressure is such a share of what was aimed at")
    under_marking: float | None = Field(None, gt=0, lt=1, description="every pressure is below such a share of it")
    calms: bool = Field(False, description="speaks against the danger: all is well inside its limits")

    @property
    def weighs_figures(self) -> bool:
        """Whether it rests on figures rather than on words alone."""
        pressures = self.above_rating, self.near_rating, self.over_marking, self.over_setting, self.under_marking
        return any((*pressures, self.sugar_over, self.sugar_under, self.gravity_over))

    @model_validator(mode="after")
    def _says_something(self) -> HazardRule:
        if not self.all and not self.weighs_figures:
            raise ValueError("a rule names words or facts")
        return self


class HazardRules(Model):
    """Everything in hazards.yaml. Groups named `mask-…` hide the words inside them."""

    words: dict[Id, tuple[Phrase, ...]]
    hides: dict[Id, tuple[Id, ...]] = Field(default_factory=dict)
    rules: tuple[HazardRule, ...]

    @model_validator(mode="after")
    def _words_are_there(self) -> HazardRules:
        used = {group for rule in self.rules for group in (*rule.all, *rule.also, *rule.unless)}
        used |= {group for mask, hidden in self.hides.items() for group in (mask, *hidden)}
        if missing := sorted(used - set(self.words)):
            raise ValueError(f"words: {', '.join(missing)} used but not listed")
        return self
