"""The element in pages it cannot trust, with words it cannot trust."""

from __future__ import annotations

import re
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.widget.consultations import (
    CALCULATION,
    FINDING,
    GRAVITY,
    GRAVITY_QUESTION,
    HANDOVER,
    OTHER,
    PRESSURE,
    PROBLEM,
    consultation,
)
from tests.widget.small_desk import WIDGET

NO_POLICY = "default-src * 'unsafe-inline' 'unsafe-eval'"
PAYLOAD = (
    "<img src=x onerror='globalThis.hit=1'><script>globalThis.hit=1</script>"
    "\"'`${7*7}{{7*7}}</textarea><svg/onload=globalThis.hit=1>"
)
KEPT_AS_THEY_ARE = {
    "id",
    "signal",
    "kind",
    "fact",
    "unit",
    "units",
    "sources",
    "revision",
    "calculator",
    "value",
    "options",
}
HOSTILE_STYLE = """
:root { font-size: 3px !important; }
* { font: 60px/3 fantasy !important; color: lime !important; letter-spacing: .6em !important;
    text-transform: uppercase !important; word-spacing: 2em !important; text-align: right !important;
    text-indent: 5em !important; white-space: nowrap !important; }
spile-chat { display: none !important; visibility: hidden !important; opacity: 0 !important;
    pointer-events: none !important; position: fixed !important; z-index: -9 !important; width: 0 !important;
    transform: rotate(90deg) !important; }
button, textarea, .line, .main { display: none !important; }
"""
HOSTILE_SCRIPT = """
for (const name of ["method", "body", "headers", "credentials", "redirect", "referrer", "polluted"])
  Object.prototype[name] = "https://elsewhere.example/";
Array.prototype.extra = "extra";
globalThis.SpileChat = globalThis.strings = globalThis.make = "taken";
globalThis.name = "words";
"""


def page_with(head: str) -> str:
    return (
        f"<!doctype html><html lang=en><head><title>A page</title>{head}<link rel=icon href=/widget/shop-mark.svg>"
        "<script type=module src=/widget/spile-chat.js></script></head>"
        "<body><h1>A page</h1><spile-chat>loading</spile-chat></body></html>"
    )


def poisoned(part: Any, name: str = "") -> Any:
    """The same part with every text for people replaced by the payload."""
    if isinstance(part, dict):
        return {key: each if key in KEPT_AS_THEY_ARE else poisoned(each, key) for key, each in part.items()}
    if isinstance(part, list):
        return [poisoned(each, name) for each in part]
    return PAYLOAD if isinstance(part, str) else part


def everything(**instead: Any) -> dict[str, Any]:
    parts = {
        "problems": [PROBLEM, OTHER], "also": [OTHER], "facts": {"current_gravity": GRAVITY}, "cautions": [PRESSURE],
        "first_action": "x", "calculations": [CALCULATION], "question": GRAVITY_QUESTION, "handover": HANDOVER,
        "doubts": [{"said": "x", "text": "x", "facts": []}], "parts": [{"id": "belt", "name": "x", "ask": ["x"]}],
        "sources": [{"id": "handbook", "citation": "x"}], **instead,
    }  # fmt: skip
    return consultation(**{name: poisoned(part, name) for name, part in parts.items()})


@pytest.mark.parametrize("end", [{}, {"question": None, "finding": FINDING}], ids=["question", "finding"])
def test_markup_in_any_text_is_shown_as_text(start_desk, visit, end: dict[str, Any]) -> None:
    desk = start_desk(lambda _turns: everything(**end))
    customer = visit(desk.address)
    customer.write(PAYLOAD)
    expect(customer.sheet.locator("[data-part=caution]")).to_contain_text(PAYLOAD)
    desk.from_the_shop(PAYLOAD)
    expect(customer.page.get_by_role("log").locator(".line").last).to_contain_text(PAYLOAD)
    markup = "chat => chat.shadowRoot.querySelectorAll('img, script, iframe, a, style').length"
    assert customer.sheet.evaluate(markup) == 0
    assert customer.page.evaluate("globalThis.hit") is None


def test_a_refusals_text_is_text_too(start_desk, visit) -> None:
    desk = start_desk()
    desk.status_for_messages, desk.refusal = 422, PAYLOAD
    customer = visit(desk.address, lost_connections_expected=True)
    customer.write("hello")
    customer.sees(PAYLOAD)
    assert customer.page.evaluate("globalThis.hit") is None


def test_a_hostile_style_sheet_leaves_it_usable(start_desk, visit) -> None:
    desk = start_desk(policy=NO_POLICY)
    desk.pages["/hostile"] = page_with(f"<style>{HOSTILE_STYLE}</style>")
    customer = visit(f"{desk.address}/hostile")
    customer.write("stuck at 1.020")
    customer.sees_question(GRAVITY_QUESTION["text"])
    customer.answer("1.050")
    expect(customer.lines).to_have_count(2)
    style = (
        "field => { const { fontSize, letterSpacing } = getComputedStyle(field); return [fontSize, letterSpacing]; }"
    )
    assert customer.sheet.locator("textarea").evaluate(style) == ["17px", "normal"]


def test_its_own_style_does_not_leak_into_the_page(start_desk, visit) -> None:
    desk = start_desk(policy=NO_POLICY)
    style = "(style => [...style].map(each => style[each]))(getComputedStyle(document.querySelector('h1')))"
    desk.pages["/with"] = page_with("")
    desk.pages["/without"] = page_with("").replace("/widget/spile-chat.js", "/widget/strings.js")
    with_it, without = visit(f"{desk.address}/with"), visit(f"{desk.address}/without")
    expect(with_it.sheet).to_have_attribute("state", "empty")
    assert with_it.page.evaluate(style) == without.page.evaluate(style)


def test_a_page_that_meddles_with_the_language_steers_no_request(start_desk, visit) -> None:
    desk = start_desk(policy=NO_POLICY)
    desk.pages["/meddling"] = page_with(f"<script>{HOSTILE_SCRIPT}</script>")
    customer = visit(f"{desk.address}/meddling")
    called: list[str] = []
    customer.page.on("request", lambda request: called.append(request.url))
    customer.write("stuck at 1.020")
    customer.sees_question(GRAVITY_QUESTION["text"])
    assert [url for url in called if not url.startswith(desk.address)] == []
    assert {headers.get("Cookie") for _, path, headers in desk.requests if path.startswith("/api")} == {None}


def test_it_shows_the_content_between_its_tags_until_the_script_has_run(start_desk, visit, context) -> None:
    desk = start_desk()
    context.route("**/spile-chat.js", lambda route: route.abort())
    customer = visit(desk.address, lost_connections_expected=True)
    expect(customer.page.get_by_text("Our brew-day desk needs JavaScript.")).to_be_visible()


def test_an_address_that_is_not_http_is_refused(start_desk, visit) -> None:
    customer = visit(start_desk().address)
    error = customer.page.evaluate("""() => new Promise(told => {
        addEventListener("error", event => { event.preventDefault(); told(event.message); }, { once: true });
        document.querySelector("spile-chat").setAttribute("src", "javascript:alert(1)");
    })""")
    assert "src must be an http or https address" in error


SINKS = re.compile(
    r"innerHTML|outerHTML|insertAdjacentHTML|document\.write|\beval\(|new Function|\.style\b|srcdoc"
    r"|https?://(?!www\.w3\.org)"
)


@pytest.mark.parametrize("script", sorted(WIDGET.glob("*.js")), ids=lambda script: script.name)
def test_no_script_writes_markup_or_names_a_host(script) -> None:
    code = re.sub(r"/\*.*?\*/|(?<!:)//[^\n]*", "", script.read_text(), flags=re.S)
    assert SINKS.findall(code) == []
