"""Usable by eye, ear and keyboard, on a small screen, in large text, in the dark: WCAG 2.2 AA."""

from __future__ import annotations

import re
from importlib.resources import files
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.widget.conftest import Customer
from tests.widget.consultations import GRAVITY_QUESTION, over_pressure

AXE = (files("axe_playwright_python") / "axe.min.js").read_text()
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
GRAVITY = GRAVITY_QUESTION["text"]


def faults(page: Page, where: str = "html") -> list[str]:
    """What axe finds in this part of the page, shadow tree included."""
    if not page.evaluate("'axe' in window"):
        page.evaluate(AXE)
    found = page.evaluate("([where, rules]) => axe.run(where, { runOnly: rules })", [where, RULES])
    looked_at = [str(node["target"]) for each in found["passes"] for node in each["nodes"]]
    assert any("spile-chat" in target for target in looked_at)
    return [f"{each['id']}: {[node['target'] for node in each['nodes']]}" for each in found["violations"]]


def scrolls_sideways(page: Page) -> bool:
    return bool(page.evaluate("document.documentElement.scrollWidth > innerWidth"))


def sizes_of_controls(customer: Customer) -> list[dict[str, Any]]:
    measure = """chat => [...chat.shadowRoot.querySelectorAll("button, input, select, textarea, summary")]
      .map(control => ({ name: control.textContent, ...control.getBoundingClientRect().toJSON() }))
      .filter(box => box.height)"""
    found: list[dict[str, Any]] = customer.sheet.evaluate(measure)
    return found


def to_the_finding(customer: Customer) -> None:
    customer.tap("I don't know")
    customer.tap("Dry, in a sachet")
    customer.tap("No")
    customer.sees_finding("The yeast has gone to sleep too soon")


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [320, 1200])
def test_no_fault_and_no_sideways_scrolling_at_any_stage(start_desk, visit, scheme, width) -> None:
    desk = start_desk()
    customer = visit(desk.address)
    customer.page.set_viewport_size({"width": width, "height": 800})
    customer.page.emulate_media(color_scheme=scheme)
    found = faults(customer.page)
    customer.write("stuck at 1.020 for four days")
    customer.page.get_by_role("button", name="That's not right: Gravity now").click()
    found += faults(customer.page, "spile-chat")
    to_the_finding(customer)
    for fold in customer.sheet.locator("summary").all():
        fold.click()
    found += faults(customer.page, "spile-chat")
    desk.reply = over_pressure
    customer.write("and now the gauge says 45")
    customer.sees_danger()
    found += faults(customer.page, "spile-chat")
    assert found == []
    assert not scrolls_sideways(customer.page)


def test_text_at_twice_the_size_still_fits(start_desk, visit, context) -> None:
    customer = visit(start_desk(over_pressure).address)
    customer.page.set_viewport_size({"width": 640, "height": 800})
    context.new_cdp_session(customer.page).send("Page.setFontSizes", {"fontSizes": {"standard": 32, "fixed": 26}})
    customer.page.reload()
    customer.write("gauge says 45")
    customer.sees_danger()
    assert customer.sheet.locator("textarea").evaluate("field => getComputedStyle(field).fontSize") == "34px"
    assert not scrolls_sideways(customer.page)


def test_every_control_is_large_enough_for_a_wet_thumb(start_desk, visit) -> None:
    customer = visit(start_desk().address)
    customer.page.set_viewport_size({"width": 320, "height": 800})
    customer.write("stuck at 1.020, airlock full")
    customer.page.get_by_role("button", name="That's not right: Gravity now").click()
    controls = sizes_of_controls(customer)
    to_the_finding(customer)
    controls += sizes_of_controls(customer)
    assert len(controls) > 15
    assert [box["name"] for box in controls if box["height"] < 44 or box["width"] < 44] == []


def test_the_whole_way_can_be_gone_by_keyboard_and_focus_follows_the_case(start_desk, visit) -> None:
    customer = visit(start_desk().address)
    press = customer.page.keyboard.press
    customer.sheet.locator("textarea").focus()
    customer.page.keyboard.type("stuck at 1.020")
    press("Enter")
    customer.sees_question(GRAVITY)
    go_back_to(customer, "I don't know")
    press("Enter")
    expect(customer.page.get_by_role("heading", name="How did the yeast come?")).to_be_focused()
    press("Tab")
    press("Space")
    expect(customer.page.get_by_role("heading", name="Is the fermenter closed")).to_be_focused()
    press("Tab")
    press("Tab")
    press("Enter")
    expect(customer.page.get_by_role("heading", name="The yeast has gone to sleep")).to_be_focused()


def go_back_to(customer: Customer, name: str) -> None:
    """Press Shift and Tab until a button of this name has the focus."""
    wanted = customer.question.get_by_role("button", name=name)
    for _ in range(20):
        customer.page.keyboard.press("Shift+Tab")
        if wanted.evaluate("button => button === button.getRootNode().activeElement"):
            return
    raise AssertionError(f"{name} is not reached by keyboard")


def test_the_regions_that_announce_are_there_before_there_is_anything_to_say(start_desk, visit) -> None:
    customer = visit(start_desk().address)
    expect(customer.page.get_by_role("log", name="What has been said")).to_be_attached()
    expect(customer.page.get_by_role("status")).to_be_attached()
    expect(customer.page.get_by_role("alert")).to_be_attached()


def test_the_desks_reply_is_a_new_line_of_the_log_for_those_who_listen(start_desk, visit) -> None:
    customer = visit(start_desk().address)
    customer.write("stuck at 1.020")
    customer.sees_question(GRAVITY)
    expect(customer.page.get_by_role("log").get_by_role("listitem").last).to_contain_text(GRAVITY)


def test_a_wrong_entry_is_tied_to_its_field(start_desk, visit) -> None:
    customer = visit(start_desk().address)
    customer.write("stuck at 1.020")
    customer.answer("soon")
    field = customer.question.get_by_role("textbox", name=GRAVITY)
    expect(field).to_be_focused()
    expect(field).to_have_accessible_description(re.compile(r"^Write one number, such as 1\.050\."))
    expect(field).to_have_attribute("aria-invalid", "true")


def test_forced_colours_keep_the_signal_word_its_shape_and_its_box(start_desk, visit) -> None:
    customer = visit(start_desk(over_pressure).address)
    customer.page.emulate_media(forced_colors="active")
    customer.write("gauge says 45")
    customer.sees_danger()
    edge, fill = customer.sheet.locator(".caution").evaluate(
        "box => [getComputedStyle(box).borderTopColor, getComputedStyle(box.querySelector('svg')).fill]"
    )
    assert edge == fill == customer.page.evaluate("getComputedStyle(document.body).color")
