"""The walk asks only what is not known, takes the first branch that surely holds, and the careful way when unsure."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from knowledge import Knowledge
from knowledge.schema import Finding, Problem, Question
from service.diagnosis.known import Known
from service.diagnosis.walk import walk
from service.understanding.model import Fact

Case = Callable[..., Known]
FactsOf = Callable[[dict[str, object]], dict[str, Fact]]


def test_it_stops_at_the_first_question_that_has_no_answer(case: Case) -> None:
    stop = walk(case())
    assert isinstance(stop.at, Question)
    assert (stop.node, stop.path) == ("reading", ())


def test_what_is_known_is_not_asked_again(case: Case) -> None:
    stop = walk(case(gauge_pressure=2.0))
    assert isinstance(stop.at, Question)
    assert stop.at.fact == "rated_pressure"
    assert [(step.node, step.took, step.about) for step in stop.path] == [("reading", "limit", ("gauge_pressure",))]


def test_an_answer_of_not_known_takes_the_way_for_it(case: Case) -> None:
    assert walk(case(gauge_pressure=None)).node == "stand-clear"


def test_a_reading_too_close_to_the_limit_takes_the_way_for_that(case: Case) -> None:
    assert walk(case(gauge_pressure=2.0, rated_pressure=2.0)).node == "near-the-limit"


def test_without_a_way_for_unsure_a_straddling_reading_is_as_good_as_not_known(case: Case) -> None:
    assert walk(case(gauge_pressure=0.2)).node == "stand-clear"


def test_not_known_is_not_the_same_as_unsure(case: Case) -> None:
    assert walk(case(gauge_pressure=2.0, rated_pressure=None)).node == "stand-clear"


def test_a_limit_that_is_not_known_is_not_a_straddled_one(sample: Knowledge, facts_of: FactsOf) -> None:
    tree = sample.problems["pressure-too-high"].model_dump(by_alias=True)
    tree["nodes"]["limit"]["fact"] = "gauge_pressure"
    known = Known(Problem.model_validate(tree), facts_of({"gauge_pressure": 2.0}), sample)
    assert walk(known).node == "stand-clear"


def test_a_test_branches_on_what_is_known_and_asks_nothing(case: Case) -> None:
    reached = walk(case(gauge_pressure=1.0, rated_pressure=3.0, dry_hopped=True))
    assert isinstance(reached.at, Finding)
    assert reached.node == "calm"
    assert walk(case(gauge_pressure=1.0, rated_pressure=3.0)).node == "stand-clear"


def test_a_tree_that_goes_round_is_stopped_and_named(sample: Knowledge, facts_of: FactsOf) -> None:
    tree = sample.problems["cold-beer"].model_dump(by_alias=True)
    tree["nodes"]["hopped"]["otherwise"] = "how-cold"
    known = Known(Problem.model_validate(tree), facts_of({"vessel_type": "glass-carboy"}), sample)
    with pytest.raises(RuntimeError, match="the tree cold-beer goes round in a circle"):
        walk(known)
