"""A fresh small desk and page for each test, and a watch on everything the page reports."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, Locator, Page, expect

from tests.widget.consultations import stalled
from tests.widget.small_desk import SmallDesk

WATCH = """
addEventListener("securitypolicyviolation", ({ violatedDirective, blockedURI }) =>
  console.error("policy", violatedDirective, blockedURI));
"""
expect.set_options(timeout=20_000)


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
    lost_connections_expected: bool = False
    complaints: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.page.on("console", self._hear)
        self.page.on("pageerror", lambda error: self.complaints.append(str(error)))

    def _hear(self, said: ConsoleMessage) -> None:
        lost = said.text.startswith("Failed to load resource") and self.lost_connections_expected
        if said.type in ("error", "warning") and not lost:
            self.complaints.append(said.text)

    @property
    def sheet(self) -> Locator:
        """The widget."""
        return self.page.locator("spile-chat")

    @property
    def question(self) -> Locator:
        """The question on the page."""
        return self.sheet.locator("[data-part=question]")

    @property
    def lines(self) -> Locator:
        """The lines the customer wrote, sent or not."""
        return self.sheet.locator('.line[data-from="customer"]')

    def write(self, text: str) -> None:
        """Write in one's own words and send."""
        self.sheet.locator("textarea").fill(text)
        self.tap("Send to the desk")

    def answer(self, number: str) -> None:
        """Answer the question on the page with a number."""
        self.question.get_by_role("textbox").fill(number)
        self.question.get_by_role("button", name="Answer").click()

    def tap(self, name: str) -> None:
        """Press a button by its name."""
        self.page.get_by_role("button", name=name, exact=True).click()

    def sees(self, text: str) -> None:
        """Wait until this text stands on the sheet, where an eye finds it."""
        expect(self.sheet.get_by_text(text).first).to_be_visible()

    def sees_danger(self) -> None:
        """Wait until a caution stands on the sheet."""
        expect(self.sheet.locator("[data-part=caution]").get_by_text("DANGER", exact=True)).to_be_visible()

    def sees_question(self, text: str) -> None:
        """Wait until this question is asked."""
        expect(self.question.get_by_role("heading", name=text)).to_be_visible()

    def sees_finding(self, title: str) -> None:
        """Wait until the case ends in this finding."""
        expect(self.sheet.locator("[data-part=finding]").get_by_role("heading", name=title)).to_be_visible()

    def kept_in_browser(self) -> str:
        """Everything the browser's storage holds."""
        return str(self.page.evaluate("JSON.stringify(localStorage) + JSON.stringify(sessionStorage)"))


@pytest.fixture
def visit(context: BrowserContext) -> Iterator[Callable[..., Customer]]:
    """Opens a page as a customer. At the end nobody's browser may have complained: no error, no policy violation."""
    customers: list[Customer] = []

    def open_page(address: str, lost_connections_expected: bool = False) -> Customer:
        customers.append(Customer(context.new_page(), lost_connections_expected))
        customers[-1].page.goto(address)
        return customers[-1]

    yield open_page
    assert [customer.complaints for customer in customers if customer.complaints] == []
