"""The widget with the real service behind it: the demo shop's page, the shipped knowledge, a real database."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import expect

import knowledge
from service.diagnosis.questions import units_offered
from tests.serving import ServiceProcess
from tests.widget.conftest import Customer
from tests.widget.consultations import stalled
from tests.widget.small_desk import SmallDesk

STUCK = "my amber ale has been stuck at 1.020 for five days, it started at 1.050, 64F, hydrometer"
LONGEST_PATH = 7


@pytest.fixture(scope="module")
def other_site() -> Iterator[SmallDesk]:
    """A shop's own site, which is not the service's."""
    site = SmallDesk(stalled)
    yield site
    site.stop()


@pytest.fixture(scope="module")
def service(tmp_path_factory: pytest.TempPathFactory, other_site: SmallDesk) -> Iterator[ServiceProcess]:
    """The service as it is installed, at an address it keeps, open to the shop's own site."""
    folder: Path = tmp_path_factory.mktemp("service")
    process = ServiceProcess(folder, f"sqlite:///{folder / 'chats.sqlite3'}", origins=other_site.address).start()
    process.environment["SPILE_PORT"] = str(urlsplit(process.address).port)
    yield process
    process.end()


def answer_all_questions(customer: Customer) -> None:
    """Say "I don't know" until the case ends."""
    finding = customer.sheet.locator("[data-part=finding]")
    for answered in range(LONGEST_PATH + 1):
        expect(customer.sheet.locator("[data-part=question]:not([inert])").or_(finding)).to_be_visible()
        if finding.is_visible():
            return
        before = customer.lines.count()
        customer.question.get_by_role("button", name="I don't know").click()
        expect(customer.lines).to_have_count(before + 1)
        expect(customer.sheet.locator(".waiting .line")).to_have_count(0)
        assert answered < LONGEST_PATH, "more questions than a path may have"


def test_from_the_first_message_to_a_finding_with_its_working(service, visit) -> None:
    customer = visit(service.address)
    customer.write(STUCK)
    customer.sees("Do this first")
    expect(customer.sheet.locator('[data-fact="current_gravity"] .figure-value')).to_contain_text("1.020")
    answer_all_questions(customer)
    expect(customer.sheet.locator(".steps ol > li").first).to_be_visible()
    expect(customer.sheet.locator(".check-again dd")).to_have_count(2)


def test_a_corrected_figure_is_worked_out_again(service, visit) -> None:
    customer = visit(service.address)
    customer.write(STUCK)
    customer.page.get_by_role("button", name="That's not right: Gravity now").click()
    figure = customer.sheet.locator('.figure[data-fact="current_gravity"]')
    figure.get_by_role("textbox").fill("1030")
    customer.tap("Put it right")
    expect(figure.locator(".figure-value")).to_contain_text("1.030")


def test_an_impossible_answer_is_refused_in_words_a_customer_understands(service, visit) -> None:
    customer = visit(service.address, lost_connections_expected=True)
    customer.write(STUCK)
    customer.page.get_by_role("button", name="That's not right: Gravity now").click()
    customer.sheet.locator('.figure[data-fact="current_gravity"]').get_by_role("textbox").fill("55")
    customer.tap("Put it right")
    customer.sees("Not accepted: that answer is outside what is possible here")
    customer.tap("Take it back")
    expect(customer.lines).to_have_count(1)


def test_danger_comes_first_with_the_way_to_help(service, visit) -> None:
    customer = visit(service.address)
    customer.write("the gauge on my keg says 45 psi and I set 12, what do I do")
    alert = customer.page.get_by_role("alert")
    expect(alert).to_contain_text("WARNING")
    expect(alert).to_contain_text("local emergency number")
    assert customer.sheet.locator("[data-part]").first.get_attribute("data-part") == "caution"


def test_a_person_can_be_asked_for_while_the_desk_goes_on(service, visit) -> None:
    customer = visit(service.address)
    customer.write(STUCK)
    customer.tap("Ask a person")
    customer.sees("A person takes this over")
    expect(customer.question).to_be_visible()


def test_it_works_in_another_sites_page_that_allows_nothing_but_the_service(service, other_site, visit) -> None:
    other_site.policy = (
        f"default-src 'none'; script-src {service.address}; connect-src {service.address}; "
        "require-trusted-types-for 'script'; trusted-types 'none'"
    )
    other_site.pages["/"] = (
        "<!doctype html><html lang=en><head><title>Another site</title>"
        f'<script type=module src="{service.address}/widget/spile-chat.js"></script></head>'
        f'<body><spile-chat shop="Another site" src="{service.address}/"></spile-chat></body></html>'
    )
    customer = visit(other_site.address, lost_connections_expected=True)  # this page has no picture of its own
    customer.write(STUCK)
    customer.sees("Do this first")
    customer.page.reload()
    customer.sees("Do this first")


def test_every_unit_the_desk_offers_has_a_name_people_use(service, visit) -> None:
    facts = knowledge.shipped().facts.values()
    units = sorted({unit for fact in facts for system in ("us", "metric") for unit in units_offered(fact, system)})
    named = "units => import('/widget/units.js').then(({ unitName }) => units.filter(unit => unitName(unit) === unit))"
    assert visit(service.address).page.evaluate(named, units) == ["bar", "kPa", "pH", "psi"]


def test_the_service_killed_between_sending_and_answer_loses_and_doubles_nothing(service, visit) -> None:
    customer = visit(service.address, lost_connections_expected=True)
    customer.write(STUCK)
    expect(customer.question).to_be_visible()
    customer.page.route("**/messages", lambda route: (route.fetch(), service.kill(), route.abort()))
    customer.write("the fermenter stands in the garage")
    expect(customer.sheet).to_have_attribute("state", "unreachable")
    customer.page.unroute_all(behavior="ignoreErrors")
    service.start()
    customer.page.reload()
    expect(customer.question).to_be_visible()
    expect(customer.sheet.get_by_text("the fermenter stands in the garage")).to_have_count(1)
    expect(customer.lines).to_have_count(2)
