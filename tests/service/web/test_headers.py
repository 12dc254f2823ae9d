"""Headers: what browsers may do with an answer, and which pages may ask for it."""

from __future__ import annotations

import pytest

SHOP, OTHER = "https://shop.example", "https://other.example"
ANSWERS = [
    ("GET", "/healthz", {}, 200),
    ("POST", "/api/consult", {"json": {"text": "my keg leaks"}}, 200),
    ("POST", "/api/consult", {"content": b"x"}, 415),
    ("POST", "/api/consult", {"content": b"x" * 70_000}, 413),
    ("GET", "/api/nothing", {}, 404),
    ("GET", "/api/chats/x", {}, 401),
    ("POST", "/api/consult", {"json": {}}, 422),
]


@pytest.mark.parametrize(("method", "path", "options", "status"), ANSWERS)
def test_a_listed_origin_may_read_every_answer_errors_included(call, method, path, options, status) -> None:
    answer = call(method, path, headers={"Origin": SHOP}, **options)
    assert (answer.status_code, answer.headers["access-control-allow-origin"]) == (status, SHOP)
    assert "access-control-allow-credentials" not in answer.headers
    assert "Origin" in answer.headers["vary"]


@pytest.mark.parametrize("origin", [OTHER, "null", "https://shop.example.evil.example", "http://shop.example", "*"])
@pytest.mark.parametrize(("method", "path", "options", "status"), ANSWERS[:3])
def test_no_other_origin_may(call, method, path, options, status, origin) -> None:
    answer = call(method, path, headers={"Origin": origin}, **options)
    assert answer.status_code == status
    assert "access-control-allow-origin" not in answer.headers


def test_a_browser_asking_before_it_calls_is_told_what_the_widget_needs(call) -> None:
    asked = {
        "Origin": SHOP,
        "Access-Control-Request-Method": "POST",
        "Access-Control-Request-Headers": "authorization,content-type,last-event-id",
    }
    told = call("OPTIONS", "/api/chats", headers=asked)
    assert told.status_code == 200
    assert told.headers["access-control-allow-origin"] == SHOP


@pytest.mark.parametrize(("method", "path", "options", "_status"), ANSWERS)
def test_an_answer_that_is_no_page_may_do_nothing_in_a_browser(call, method, path, options, _status) -> None:
    headers = call(method, path, **options).headers
    assert headers["content-security-policy"] == "default-src 'none'; frame-ancestors 'none'"
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["referrer-policy"] == "no-referrer"
    assert headers["cache-control"] == "no-store"


@pytest.mark.parametrize("path", ["/", "/docs"])
def test_a_page_runs_our_scripts_and_styles_only(call, path) -> None:
    page = call("GET", path)
    policy = dict(rule.split(" ", 1) for rule in page.headers["content-security-policy"].split("; "))
    assert page.status_code == 200
    assert policy["default-src"] == policy["base-uri"] == policy["frame-ancestors"] == "'none'"
    assert {policy[name] for name in ("script-src", "connect-src", "style-src", "img-src")} == {"'self'"}


def test_https_is_asked_for_again_only_where_it_was_used(call) -> None:
    assert "strict-transport-security" not in call("GET", "/healthz").headers
    assert "max-age=" in call("GET", "https://test/healthz").headers["strict-transport-security"]
