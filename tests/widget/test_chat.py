"""The customer's way from a first message to a finding, in a real browser."""

from __future__ import annotations

from playwright.sync_api import expect

from tests.widget.consultations import over_pressure


def test_a_message_leads_through_questions_to_a_finding(start_desk, visit) -> None:
    customer = visit(start_desk().address)
    customer.write("stuck at 1.020 for four days")
    customer.sees_question("What was the gravity before the yeast went in?")
    customer.answer("1.050")
    customer.tap("Dry, in a sachet")
    customer.tap("No")
    customer.sees_finding("The yeast has gone to sleep too soon")
    expect(customer.sheet.locator(".steps li")).to_have_count(2)
