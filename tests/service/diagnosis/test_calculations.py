"""Runs are made once, when all they need is known; figures that cannot be become a warning, never a crash."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from calculators import Reading
from knowledge import Knowledge
from knowledge.schema import Problem
from service.diagnosis.known import Known
from service.diagnosis.shown import calculation_view
from service.understanding.model import Fact

Case = Callable[..., Known]
FactsOf = Callable[[dict[str, object]], dict[str, Fact]]


def tree(sample: Knowledge, calculations: dict[str, object]) -> Problem:
    return Problem.model_validate(
        {**sample.problems["cold-beer"].model_dump(by_alias=True), "calculations": calculations}
    )


def equilibrium(temperature: object) -> dict[str, object]:
    inputs = {"temperature": temperature, "gauge_pressure": {"value": "1 bar"}}
    return {"calculator": "carbonation-equilibrium", "inputs": inputs}


def test_a_run_is_made_with_the_customers_figures(case: Case) -> None:
    outcome = case(beer_temperature=3.3333, gauge_pressure=0.8274).runs.outcome("holds")
    assert outcome.calculation is not None
    # D. Miller, BrewingTechniques 2(1), 1994, Table I: 2.57 vol at 38 °F and 12 psi, held to half a step of the table
    assert outcome.calculation.results["carbonation"].value == pytest.approx(2.57, abs=0.02)


def test_a_run_is_made_once(case: Case) -> None:
    runs = case(beer_temperature=4, gauge_pressure=1).runs
    assert runs.outcome("holds") is runs.outcome("holds")


def test_without_what_it_needs_there_is_no_run_and_no_warning(case: Case) -> None:
    outcome = case(beer_temperature=4).runs.outcome("holds")
    assert (outcome.calculation, outcome.warning) == (None, None)


def test_the_first_of_several_that_is_known_is_taken(case: Case) -> None:
    with_gauge = case(beer_temperature=4, gauge_pressure=1, beer_style="wheat").value("wanted.carbonation")
    from_style = case(beer_temperature=4, beer_style="wheat").value("wanted.carbonation")
    assert isinstance(with_gauge, Reading)
    assert isinstance(from_style, Reading)
    assert 2.5 < with_gauge.value < 3.0
    assert (from_style.value, round(from_style.low, 1), round(from_style.high, 1)) == (3.3, 2.8, 3.8)


def test_a_figure_that_cannot_be_becomes_a_warning(case: Case) -> None:
    known = case(beer_temperature=4, gauge_pressure=60.0)
    assert "gauge_pressure: 60 bar cannot be" in (known.runs.outcome("holds").warning or "")
    assert known.value("holds.carbonation") is None
    assert known.runs.warned() == ["holds"]


def test_a_possible_reading_does_not_become_impossible_by_its_usual_error(sample: Knowledge, facts_of: FactsOf) -> None:
    inputs = {"warmest_temperature": "beer_temperature", "gauge_pressure": "gauge_pressure"}
    run = {"calculator": "residual-carbonation", "inputs": inputs}
    known = Known(tree(sample, {"rest": run}), facts_of({"beer_temperature": 20, "gauge_pressure": 0}), sample)
    assert isinstance(known.value("rest.carbonation"), Reading)


def test_a_run_that_needs_itself_finds_nothing_and_comes_to_an_end(sample: Knowledge) -> None:
    run = equilibrium({"result": "a.temperature"})
    assert Known(tree(sample, {"a": run}), {}, sample).value("a.carbonation") is None


def test_a_calculation_that_is_not_there_is_a_warning(sample: Knowledge) -> None:
    known = Known(tree(sample, {"a": {"calculator": "guesswork", "inputs": {"x": {"value": "1 bar"}}}}), {}, sample)
    view = calculation_view("a", known)
    assert view is not None
    assert view.warnings == ["the calculation guesswork is not there"]


def test_an_input_is_moved_by_its_plus(sample: Knowledge, facts_of: FactsOf) -> None:
    run = equilibrium({"fact": "beer_temperature", "plus": "9 delta_degF"})
    moved = Known(tree(sample, {"a": run}), facts_of({"beer_temperature": 4}), sample).value("a.temperature")
    assert isinstance(moved, Reading)
    assert round(moved.value, 6) == 9.0


def test_a_shown_calculation_carries_figures_working_and_sources(case: Case) -> None:
    view = calculation_view("holds", case("us", beer_temperature=3.3333, gauge_pressure=0.8274))
    assert view is not None
    assert view.results["carbonation"]["unit"] == "vol"
    assert "38 °F" in view.working
    assert "miller-1994" in view.sources
    assert view.summary == "carbonation 2.6 volumes"


def test_the_summary_of_a_calculation_gives_what_the_tree_speaks_of_and_no_more(sample: Knowledge) -> None:
    run = {
        "calculator": "bottle-pressure",
        "inputs": {"carbonation": {"value": "3 vol"}, "temperature": {"value": "20 degC"}},
    }
    view = calculation_view("a", Known(tree(sample, {"a": run}), {}, sample))
    assert view is not None
    assert "pressure" in view.summary
    assert "3 volumes" not in view.summary  # an input that only comes through


def test_two_calculations_of_one_kind_are_told_apart_by_what_differs(sample: Knowledge) -> None:
    runs = {
        name: {
            "calculator": "bottle-pressure",
            "inputs": {"carbonation": {"value": "3 vol"}, "temperature": {"value": at}},
        }
        for name, at in (("cold", "3 degC"), ("warm", "30 degC"))
    }
    known = Known(tree(sample, runs), {}, sample)
    titles = [view.title for name in runs if (view := calculation_view(name, known, list(runs))) is not None]
    assert [title.partition(", ")[2] for title in titles] == ["temperature 3 °C (37 °F)", "temperature 30 °C (86 °F)"]
