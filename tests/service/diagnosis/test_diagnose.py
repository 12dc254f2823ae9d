"""A diagnosis is the question or the finding, the way there, and everything that is to be shown with it."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from knowledge import Knowledge, shipped
from service.consultation import Units
from service.diagnosis import Diagnosis, diagnose
from service.understanding.model import Fact

FactsOf = Callable[[dict[str, float | str | bool | None]], dict[str, Fact]]
Diagnose = Callable[..., Diagnosis]


@pytest.fixture
def at(sample: Knowledge, facts_of: FactsOf) -> Diagnose:
    """The diagnosis of too high a pressure when these facts are known."""

    def made(units: Units = "metric", **values: float | str | bool | None) -> Diagnosis:
        return diagnose("pressure-too-high", facts_of(values), sample, units)

    return made


def test_the_first_answer_of_a_dangerous_problem_has_its_caution_and_what_to_do_at_once(at: Diagnose) -> None:
    first = at()
    assert (first.cautions, first.first_action) == (("over-pressure",), "Step to one side.")
    assert first.finding is None


def test_a_question_says_why_and_in_which_units_it_may_be_answered(at: Diagnose) -> None:
    question = at("us").question
    assert question is not None
    assert (question.fact, question.why, question.unit) == ("gauge_pressure", "It decides.", "bar")
    assert question.units == ["psi", "bar", "kPa"]


def test_a_choice_has_its_options(sample: Knowledge) -> None:
    question = diagnose("cold-beer", {}, sample).question
    assert question is not None
    assert (question.options[0].value, question.options[0].label) == ("keg", "Keg")


def test_the_way_says_which_values_decided(at: Diagnose) -> None:
    path = at("us", gauge_pressure=2.758, rated_pressure=2.413).path
    assert [(step.node, step.took) for step in path] == [("reading", "limit"), ("limit", "stand-clear")]
    assert path[1].because == (
        "pressure on the gauge: 40 psi (2.76 bar); pressure marked on the vessel: 35 psi (2.41 bar)"
    )


def test_a_finding_is_in_the_customers_words_and_figures(at: Diagnose) -> None:
    finding = at("us", gauge_pressure=2.758, rated_pressure=2.413, beer_temperature=20).finding
    assert finding is not None
    assert finding.summary == "It reads 40 psi (2.76 bar), marked 35 psi (2.41 bar)."
    assert finding.steps[1].startswith("It holds 3.")


def test_the_calculations_of_a_finding_are_shown_when_they_could_be_made(at: Diagnose) -> None:
    assert [view.calculator for view in at(gauge_pressure=2.7, rated_pressure=2.0).calculations] == []
    shown = at(gauge_pressure=2.7, rated_pressure=2.0, beer_temperature=20).calculations
    assert [view.calculator for view in shown] == ["carbonation-equilibrium"]


def test_figures_that_cannot_be_are_shown_as_a_warning(at: Diagnose) -> None:
    (view,) = at(gauge_pressure=60.0, rated_pressure=2.0, beer_temperature=20).calculations
    assert view.results == {}
    assert "cannot be" in view.warnings[0]


def test_sources_are_those_of_the_finding_and_of_what_is_shown(at: Diagnose) -> None:
    sources = at(gauge_pressure=2.7, rated_pressure=2.0, beer_temperature=20).sources
    assert sources[:2] == ("ansi-z535-6", "common-practice")
    assert "miller-1994" in sources


def test_the_same_facts_give_the_same_diagnosis_in_any_order(at: Diagnose) -> None:
    values = {"gauge_pressure": 2.7, "rated_pressure": 2.0, "beer_temperature": 20}
    assert at(**values) == at(**dict(reversed(values.items())))


def test_nobody_is_told_by_a_general_hint_to_do_what_the_question_forbids() -> None:
    known = {name: Fact(name, value) for name, value in {"vessel_type": "keg", "gauge_pressure": 1.5}.items()}
    known |= {name: Fact(name, value) for name, value in {"rated_pressure": 9.0, "relief_valve_state": "clear"}.items()}
    known |= {name: Fact(name, value) for name, value in {"gas_side": "nothing", "pressure_change": None}.items()}
    question = diagnose("pressure-too-high", known, shipped()).question
    assert question is not None
    assert question.fact == "current_gravity"
    assert question.hint == "From your notes or from memory; an older reading will do."
