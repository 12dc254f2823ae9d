"""A fresh small desk and page for each test, and a watch on everything the page reports."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Locator, Page, expect

from tests.widget.consultations import stalled
from tests.widget.small_desk import SmallDesk

WATCH = """
addEventListener("securitypolicyviolation", (event) => console.error(`CSP: ${event.violatedDirective} ${event.blockedURI}`));
"""
expect.set_options(timeout=8_000)


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    """A browser profile of its own for each test."""
    context = browser.new_context(locale="en-US", reduced_motion="reduce")
    context.add_init_script(WATCH)
    yield context
    context.close()


@pytest.fixture
def start_desk() -> Iterator[Callable[..., SmallDesk]]:
    """Starts a small desk with a given way to reply; stops it when the test ends."""
    desks: list[SmallDesk] = []

    def start(reply: Callable[[list[dict[str, Any]]], dict[str, Any]] = stalled, **options: Any) -> SmallDesk:
        desks.append(SmallDesk(reply, **options))
        return desks[-1]

    yield start
    for desk in desks:
        desk.stop()


@dataclass
class Customer:
    """Somebody with a browser: what they do, in words, and what their browser complained of."""

    page: Page
    complaints: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.page.on("console", lambda said: self.complaints.append(said.text) if said.type == "error" else None)
        self.page.on("pageerror", lambda error: self.complaints.append(str(error)))

    @property
    def sheet(self) -> Locator:
        """The widget."""
        return self.page.locator("spile-chat")

    @property
    def log(self) -> Locator:
        """What has been said."""
        return self.page.get_by_role("log")

    @property
    def lines(self) -> Locator:
        """The lines the customer wrote."""
        return self.sheet.locator('.line[data-from="customer"]')

    def write(self, text: str) -> None:
        """Write in one's own words and send."""
        self.page.get_by_role("textbox", name="What is happening").or_(
            self.page.get_by_role("textbox", name="Add anything")
        ).fill(text)
        self.page.get_by_role("button", name="Send to the desk").click()

    def answer(self, number: str) -> None:
        """Answer the question on the page with a number."""
        question = self.sheet.locator("[data-part=question]")
        question.get_by_role("textbox").fill(number)
        question.get_by_role("button", name="Answer").click()

    def tap(self, name: str) -> None:
        """Press a button by its name."""
        self.page.get_by_role("button", name=name, exact=True).click()

    def sees_question(self, text: str) -> None:
        """Wait until this question is asked."""
        expect(self.page.get_by_role("heading", name=text)).to_be_visible()

    def sees_finding(self, title: str) -> None:
        """Wait until the case ends in this finding."""
        expect(self.sheet.locator("[data-part=finding]").get_by_role("heading", name=title)).to_be_visible()


@pytest.fixture
def visit(context: BrowserContext) -> Iterator[Callable[..., Customer]]:
    """Opens a page as a customer. At the end nobody's browser may have complained, unless the test says so."""
    customers: list[Customer] = []

    def open_page(address: str, expect_network_errors: bool = False) -> Customer:
        customer = Customer(context.new_page())
        customer.page.goto(address)
        if not expect_network_errors:
            customers.append(customer)
        return customer

    yield open_page
    assert [customer.complaints for customer in customers if customer.complaints] == []
