"""The customer's way from a first message to a finding, in a real browser."""

from __future__ import annotations

from playwright.sync_api import expect

from tests.widget.consultations import FINDING, GRAVITY_QUESTION, HANDOVER, consultation, over_pressure

GRAVITY = GRAVITY_QUESTION["text"]
YEAST = "How did the yeast come?"


def facts_sent(desk) -> list[dict]:
    return [message["facts"] for message in desk.messages() if message["facts"]]


def test_a_message_leads_through_questions_to_a_finding(start_desk, visit) -> None:
    desk = start_desk()
    customer = visit(desk.address)
    customer.write("stuck at 1.020 for four days")
    customer.sees_question(GRAVITY)
    customer.answer("1.050")
    customer.tap("Dry, in a sachet")
    customer.tap("No")
    customer.sees_finding("The yeast has gone to sleep too soon")
    assert facts_sent(desk) == [{"original_gravity": "1.050 SG"}, {"yeast_form": "dry"}, {"under_pressure": False}]


def test_a_finding_says_what_to_do_what_to_check_and_when_and_how_it_was_worked_out(start_desk, visit) -> None:
    customer = visit(start_desk().address)
    customer.write("stuck at 1.020")
    for _ in range(3):
        customer.question.get_by_role("button", name="I don't know").click()
        expect(customer.question.locator("[inert]")).to_have_count(0)
    customer.sees_finding("The yeast has gone to sleep too soon")
    expect(customer.sheet.locator(".steps ol > li")).to_have_count(2)
    for text in ("Measure the gravity.", "In three days.", "Keep the last third", "Heating belt"):
        customer.sees(text)
    working = customer.sheet.get_by_text("= 1.0125")
    expect(working).to_be_hidden()
    customer.sheet.get_by_text("Where it should finish: 1.010 to 1.015").click()
    expect(working).to_be_visible()


def test_not_knowing_is_an_answer(start_desk, visit) -> None:
    desk = start_desk()
    customer = visit(desk.address)
    customer.write("stuck at 1.020")
    customer.sees_question(GRAVITY)
    customer.tap("I don't know")
    customer.sees_question(YEAST)
    assert facts_sent(desk) == [{"original_gravity": None}]


def test_each_question_says_why_it_is_asked(start_desk, visit) -> None:
    customer = visit(start_desk().address)
    customer.write("stuck at 1.020")
    customer.sees_question(GRAVITY)
    customer.sees("It tells us how far the yeast has come.")
    customer.sees("The first reading you wrote down.")


def test_a_figure_can_be_put_right(start_desk, visit) -> None:
    desk = start_desk()
    customer = visit(desk.address)
    customer.write("stuck at 1.020")
    customer.page.get_by_role("button", name="That's not right: Gravity now").click()
    figure = customer.sheet.locator('[data-fact="current_gravity"]')
    expect(figure.get_by_role("textbox", name="Gravity now should be")).to_be_focused()
    figure.get_by_role("textbox").fill("1.030")
    customer.tap("Put it right")
    expect(figure.locator(".figure-value")).to_have_text("1.030 SG")
    assert facts_sent(desk) == [{"current_gravity": "1.030 SG"}]
    expect(customer.lines.last).to_contain_text("Gravity now: 1.030")


def test_a_choice_and_a_yes_or_no_can_be_put_right_too(start_desk, visit) -> None:
    desk = start_desk()
    customer = visit(desk.address)
    customer.write("stuck at 1.020")
    customer.tap("I don't know")
    customer.tap("Dry, in a sachet")
    customer.tap("No")
    customer.page.get_by_role("button", name="That's not right: Yeast form").click()
    customer.sheet.locator('.figure[data-fact="yeast_form"]').get_by_role("button", name="Liquid, in a pouch").click()
    expect(customer.sheet.locator('.figure[data-fact="yeast_form"] .figure-value')).to_have_text("liquid")
    customer.page.get_by_role("button", name="That's not right: Under pressure").click()
    customer.sheet.locator('.figure[data-fact="under_pressure"]').get_by_role("button", name="Yes").click()
    expect(customer.lines).to_have_count(6)
    assert facts_sent(desk)[-2:] == [{"yeast_form": "liquid"}, {"under_pressure": True}]


def test_a_number_may_be_typed_as_people_write_it(start_desk, visit) -> None:
    typed = [
        ("1050", "SG"), ("1,050", "SG"), (" 1.05 ", "SG"), ("0.998", "SG"),
        ("12,5", "psi"), ("-2", "degC"), (".5", "bar"),
        ("3,000", "ft"), ("about 60", "degF"), ("60-65", "degF"), ("", "L"), ("1e3", "L"),
    ]  # fmt: skip
    read = "typed => import('/widget/units.js').then(units => typed.map(each => units.readNumber(...each)))"
    numbers = visit(start_desk().address).page.evaluate(read, typed)
    assert numbers[:7] == ["1.050", "1.050", "1.05", "0.998", "12.5", "-2", ".5"]
    assert numbers[7:] == [None] * 5


def test_what_is_not_a_number_is_not_sent_and_the_fix_is_said(start_desk, visit) -> None:
    desk = start_desk()
    customer = visit(desk.address)
    customer.write("stuck at 1.020")
    customer.answer("about fifty")
    customer.sees("Write one number, such as 1.050. If you don't know it, say so with the button below.")
    assert facts_sent(desk) == []


def test_the_customers_own_units_come_first(start_desk, visit) -> None:
    desk = start_desk(over_pressure)
    customer = visit(desk.address)
    customer.write("gauge says 45 and climbing")
    expect(customer.question.get_by_role("combobox")).to_have_value("psi")
    customer.answer("30")
    expect(customer.lines.last).to_contain_text("30 psi")
    assert facts_sent(desk) == [{"rated_pressure": "30 psi"}]


def test_danger_stands_before_everything_and_is_announced_at_once(start_desk, visit) -> None:
    customer = visit(start_desk(over_pressure).address)
    expect(customer.page.get_by_role("alert")).to_be_attached()  # a region is only heard when it was there before
    customer.write("gauge says 45 and climbing")
    alert = customer.page.get_by_role("alert")
    expect(alert).to_contain_text("DANGER")
    expect(alert).to_contain_text("Stand to one side of it, never over the lid.")
    expect(alert).to_contain_text("call the local emergency number")
    parts = customer.sheet.locator("[data-part]").evaluate_all("parts => parts.map(part => part.dataset.part)")
    assert parts == ["caution", "first-action", "question"]


def test_the_recognised_problem_comes_with_its_reason_and_never_with_a_score(start_desk, visit) -> None:
    customer = visit(start_desk().address)
    customer.write("stuck at 1.020")
    customer.sees("Fermentation has stalled")
    customer.sees("because you said “stuck at 1.020”")
    assert "0.93" not in customer.sheet.evaluate("chat => chat.shadowRoot.textContent")


def test_another_problem_mentioned_can_be_taken_up(start_desk, visit) -> None:
    desk = start_desk()
    customer = visit(desk.address)
    customer.write("stuck at 1.020, and the airlock is full")
    customer.sees("You also mentioned")
    customer.sheet.locator(".problem > .offer").click()
    expect(customer.lines.last).to_contain_text("Please look at this: Foam is climbing out of the airlock")
    assert facts_sent(desk) == [{"problem": "krausen-blowoff"}]


def test_a_person_can_be_asked_for_and_is_said_to_be_coming(start_desk, visit) -> None:
    desk = start_desk(lambda _turns: consultation(handover=HANDOVER))
    customer = visit(desk.address)
    customer.tap("Ask a person")
    customer.sees("Somebody at the counter reads this and answers here.")
    expect(customer.lines).to_contain_text("I would like to speak to a person, please.")
    assert facts_sent(desk) == [{"person": True}]


def test_a_figure_that_was_not_used_is_shown_with_the_reason(start_desk, visit) -> None:
    doubt = {"said": "1.5", "text": "“1.5” may be a gravity or a volume.", "facts": []}
    customer = visit(start_desk(lambda _turns: consultation(doubts=[doubt])).address)
    customer.write("its 1.5")
    customer.sees("“1.5” may be a gravity or a volume.")


def test_a_reload_half_way_comes_back_to_the_same_place(start_desk, visit) -> None:
    customer = visit(start_desk().address)
    customer.write("stuck at 1.020")
    customer.answer("1.050")
    customer.sees_question(YEAST)
    customer.sheet.locator("textarea").fill("I also wanted to")
    customer.page.reload()
    customer.sees_question(YEAST)
    assert [line.split("\n")[-1] for line in customer.lines.all_inner_texts()] == ["stuck at 1.020", "1.050"]
    expect(customer.sheet.locator("textarea")).to_have_value("I also wanted to")


def test_enter_sends_and_shift_enter_starts_a_new_line(start_desk, visit) -> None:
    desk = start_desk()
    customer = visit(desk.address)
    field = customer.sheet.locator("textarea")
    field.press_sequentially("one")
    field.press("Shift+Enter")
    field.press_sequentially("two")
    field.press("Enter")
    customer.sees_question(GRAVITY)
    assert desk.said() == ["one\ntwo"]


def test_a_new_sheet_is_started_only_after_a_second_yes(start_desk, visit) -> None:
    customer = visit(start_desk().address)
    customer.write("stuck at 1.020")
    customer.sees_question(GRAVITY)
    customer.tap("Start a new sheet")
    customer.tap("No, keep this one")
    customer.sees_question(GRAVITY)
    customer.tap("Start a new sheet")
    customer.tap("Yes, start a new one")
    expect(customer.lines).to_have_count(0)
    expect(customer.sheet).to_have_attribute("state", "empty")
    assert customer.kept_in_browser() == "{}{}"


def pressure_twice(turns: list[dict]) -> dict:
    """A dangerous problem that asks until it is told, and says once that it understood nothing."""
    known = any("rated_pressure" in turn["facts"] for turn in turns)
    first = over_pressure(turns)
    if known:
        return consultation(problems=first["problems"], cautions=first["cautions"], finding=FINDING)
    return {**first, "note": "I found nothing new in that." if len(turns) > 1 else None}


def test_what_to_do_about_a_danger_folds_once_it_was_read_and_opens_again_when_it_is_time_to_act(
    start_desk, visit
) -> None:
    customer = visit(start_desk(pressure_twice).address)
    folded = customer.sheet.locator("[data-part=caution] details:not([open])")
    customer.write("gauge says 45")
    customer.sees("Do not loosen the lid or a clamp.")
    customer.write("hello?")
    customer.sees("I found nothing new in that.")
    expect(folded).to_have_count(1)
    customer.sees_danger()
    customer.answer("60")
    customer.sees("Do not loosen the lid or a clamp.")
    expect(folded).to_have_count(0)


def test_what_is_not_known_stands_apart_and_can_be_told_later(start_desk, visit) -> None:
    customer = visit(start_desk().address)
    customer.write("stuck at 1.020")
    customer.tap("I don't know")
    customer.sheet.get_by_text("Not known so far (1)").click()
    customer.page.get_by_role("button", name="I know it now: Original gravity").click()
    expect(customer.sheet.locator(".correction:not([hidden]) input")).to_be_focused()


def test_a_plain_count_is_answered_with_the_number_alone(start_desk, visit) -> None:
    packs = {
        "fact": "pack_count", "text": "How many packs?", "why": "Cells are counted by the pack.",
        "kind": "quantity", "unit": "1", "units": ["1"],
    }  # fmt: skip
    desk = start_desk(lambda _turns: consultation(question=packs))
    customer = visit(desk.address)
    customer.write("is my yeast enough")
    customer.answer("2")
    expect(customer.lines.last).to_contain_text("2")
    assert facts_sent(desk) == [{"pack_count": "2"}]


def test_a_problem_chosen_from_the_short_choice_stands_in_the_log_by_its_name(start_desk, visit) -> None:
    choice = {
        "fact": "problem", "text": "Which of these is closest?", "why": "", "kind": "area",
        "options": [{"value": "gushing-bottles", "label": "Bottles foam over when opened"}],
    }  # fmt: skip
    customer = visit(start_desk(lambda _turns: consultation(question=choice)).address)
    customer.write("help")
    customer.tap("Bottles foam over when opened")
    expect(customer.lines.last).to_contain_text("Please look at this: Bottles foam over when opened")
