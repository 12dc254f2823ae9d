"""The whole way, from what a customer says to the answer."""

from __future__ import annotations

import knowledge
from service.consultation import Consultation, Turn, Units
from service.desk import consult

TREE = knowledge.shipped()
STUCK = "stuck at 1.020 for 4 days, started 1.052, 62F, american ale yeast"


def ask(*turns: Turn | str, units: Units | None = None) -> Consultation:
    return consult([Turn(text=turn) if isinstance(turn, str) else turn for turn in turns], TREE, units)


def test_the_same_words_always_give_the_same_object() -> None:
    assert ask(STUCK).model_dump_json() == ask(STUCK).model_dump_json()
    assert ask(STUCK).revision == TREE.revision


def test_figures_are_kept_in_the_catalogues_units_with_their_range_and_the_customers_words() -> None:
    facts = ask(STUCK).facts
    assert (facts["current_gravity"].value, facts["current_gravity"].low) == (1.020, 1.019)
    assert "62" in facts["beer_temperature"].said
    assert round(float(facts["beer_temperature"].value or 0), 1) == 16.7


def test_a_chosen_problem_leads_to_exactly_one_of_question_and_finding() -> None:
    said = ask(STUCK)
    assert said.problems[0].id == "stalled-ferment"
    assert (said.question is None) != (said.finding is None)


def test_measures_follow_the_customer_unless_they_are_chosen() -> None:
    assert ask(STUCK).units == "us"
    assert ask(STUCK, units="metric").facts["beer_temperature"].shown.startswith("16.7 °C")


def test_dangers_come_before_anything_else_whatever_the_problem() -> None:
    said = ask("the relief valve on my keg is taped shut and the gauge is past the end")
    assert said.hazards == ["over-pressure"]
    assert said.cautions[0].signal in ("DANGER", "WARNING")
    assert said.cautions[0].do


def test_an_emergency_stops_the_troubleshooting_until_everybody_is_safe() -> None:
    first = "burner in the garage with the door shut and now I feel dizzy, co alarm is going"
    said = ask(first)
    assert said.question is not None
    assert said.question.fact == "safe_now"
    assert said.finding is None
    assert said.handover is not None
    later = ask(first, Turn(facts={"safe_now": True}))
    assert later.question is None or later.question.fact != "safe_now"


def test_whoever_is_not_safe_is_sent_for_help_again_and_not_asked_as_if_unheard() -> None:
    first = "burner in the garage with the door shut and now I feel dizzy, co alarm is going"
    before, after = ask(first), ask(first, Turn(facts={"safe_now": False}))
    assert after.question == before.question
    assert after.handover is not None
    assert after.handover.text == TREE.replies["not-safe"].says


def test_of_equal_dangers_the_hurt_person_comes_before_the_vessel() -> None:
    said = ask("a bottle blew up and cut my hand, it is bleeding badly, more bottles may burst")
    assert {"injury", "bursting-glass"} <= set(said.hazards)
    assert said.cautions[0].id == "injury"


def test_words_that_tell_nothing_new_are_answered_as_such() -> None:
    assert ask(STUCK).note is None
    assert ask(STUCK, "what about the thing I said").note == TREE.replies["nothing-new"].says
    assert ask(STUCK, "what about the thing I said", Turn(facts={"wort_makeup": "grain"})).note is None


def test_an_order_asked_about_in_the_middle_of_a_case_goes_to_a_person_and_the_case_goes_on() -> None:
    said = ask(STUCK, "and where is my order, it should have arrived on tuesday")
    assert said.handover is not None
    assert said.handover.reason == "order"
    assert said.question is not None


def test_yes_in_words_answers_whether_everybody_is_safe() -> None:
    first = "i breathed in the fumes when bleach and acid cleaner mixed, coughing badly"
    assert ask(first).question is not None
    said = ask(first, "yes everyone is outside and fine")
    assert said.question is None or said.question.fact != "safe_now"


def test_a_vague_message_is_asked_about_and_never_guessed() -> None:
    said = ask("something is wrong with my beer please help")
    assert said.problems == []
    assert said.question is not None
    assert said.question.kind == "area"


def test_the_short_choice_leads_through_an_area_to_a_problem() -> None:
    vague = "something is wrong with my beer please help"
    areas = ask(vague).question
    assert areas is not None
    chosen = ask(vague, Turn(facts={"area": areas.options[0].value})).question
    assert chosen is not None
    assert chosen.fact == "problem"
    said = ask(vague, Turn(facts={"problem": chosen.options[0].value}))
    assert said.problems[0].id == chosen.options[0].value


def test_an_order_is_handed_to_a_person_without_a_diagnosis() -> None:
    said = ask("where is my parcel, I ordered two weeks ago, order number 4471")
    assert (said.problems, said.question) == ([], None)
    assert said.handover is not None
    assert said.handover.reason == "order"


def test_i_do_not_know_is_an_answer_and_the_path_still_ends() -> None:
    turns: list[Turn | str] = ["gauge on my fermenter is way higher than I set it"]
    for _ in range(9):
        said = ask(*turns)
        if said.finding:
            break
        turns.append("I don't know")
    assert said.finding is not None
    assert said.finding.steps


def test_a_bare_figure_answers_the_question_just_put() -> None:
    first = "what do I set my spunding valve to for 2.5 volumes"
    said = ask(first)
    assert said.question is not None
    assert said.question.fact == "beer_temperature"
    answered = ask(first, "64F")
    assert round(float(answered.facts["beer_temperature"].value or 0), 1) == 17.8


def test_a_corrected_figure_replaces_the_misread_one_and_everything_is_worked_out_again() -> None:
    answered = Turn(facts={"reading_tool": "hydrometer", "wort_makeup": None, "stall_history": None})
    before, after = ask(STUCK, answered), ask(STUCK, answered, Turn(facts={"current_gravity": "1.012"}))
    assert after.facts["current_gravity"].value == 1.012
    assert before.finding is not None
    assert after.finding is not None
    assert before.finding.id != after.finding.id


def test_every_source_named_is_given_with_its_citation() -> None:
    said = ask("gauge is at 45 psi on my keg, label says 130 psi max, I set 12")
    named = {source for caution in said.cautions for source in caution.sources}
    named |= set(said.finding.sources) if said.finding else set()
    assert named <= {source.id for source in said.sources}
    assert all(source.citation for source in said.sources)
