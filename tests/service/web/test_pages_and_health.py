"""The pages, the list of calls, and the two calls that ask how the service is."""

from __future__ import annotations

import re

import pytest

import calculators


def test_the_demo_shop_and_the_widget_are_served_and_revalidated(call) -> None:
    page = call("GET", "/")
    assert page.headers["content-type"].startswith("text/html")
    used = re.findall(r'(?:src|href)="(/[^"#]+)"', page.text)
    assert used
    assert {call("GET", path).status_code for path in used} == {200}
    script = call("GET", "/widget/spile-chat.js")
    assert script.headers["cache-control"] == "no-cache"
    assert call("GET", "/widget/spile-chat.js", headers={"If-None-Match": script.headers["etag"]}).status_code == 304


@pytest.mark.parametrize(
    "path", ["../pyproject.toml", "%2e%2e/pyproject.toml", "..%2fservice%2fcli.py", "__init__.py", ""]
)
def test_nothing_but_the_widgets_files_is_served_below_it(call, path) -> None:
    assert call("GET", f"/widget/{path}").status_code == 404


def test_openapi_describes_every_call_with_its_errors(call) -> None:
    described = call("GET", "/openapi.json").json()
    assert set(described["paths"]) == {
        "/api/consult",
        "/api/calculators",
        "/api/calculators/{name}",
        "/api/calculators/{name}/picture",
        "/api/chats",
        "/api/chats/{chat_id}",
        "/api/chats/{chat_id}/messages",
        "/api/chats/{chat_id}/events",
        "/healthz",
        "/readyz",
    }
    posting = [call for path in described["paths"].values() for method, call in path.items() if method == "post"]
    assert all({"400", "408", "413", "415", "422", "503"} <= set(each["responses"]) for each in posting)
    errors = [answer for each in posting for status, answer in each["responses"].items() if status >= "400"]
    assert {kind for answer in errors for kind in answer["content"]} == {"application/problem+json"}


def test_every_reference_of_openapi_leads_somewhere(call) -> None:
    text = call("GET", "/openapi.json").text
    known = call("GET", "/openapi.json").json()["components"]["schemas"]
    assert set(re.findall(r"#/components/schemas/(\w+)", text)) <= set(known)


def test_the_page_of_calls_lists_them_all_and_needs_nothing_from_elsewhere(call) -> None:
    page = call("GET", "/docs").text
    described = call("GET", "/openapi.json").json()
    assert all(path.replace("{", "{") in page for path in described["paths"])
    assert "<script" not in page
    assert re.findall(r'(?:src|href)="([^"]+)"', page)[0] == "/docs.css"
    assert not re.findall(r'(?:src|href)="(?!/|#)', page)


def test_the_type_of_a_problem_is_the_address_of_its_description(call) -> None:
    kind = call("GET", "/api/chats/x").json()["type"]
    page, _, anchor = kind.partition("#")
    assert f'id="{anchor}"' in call("GET", page).text


def test_the_list_of_calculators_has_their_input_schemas(call) -> None:
    listed = {each["name"]: each for each in call("GET", "/api/calculators").json()["calculators"]}
    assert tuple(listed) == calculators.names()
    assert "temperature" in listed["carbonation-equilibrium"]["inputs"]["properties"]


def test_alive_and_ready_while_the_database_answers(call) -> None:
    assert call("GET", "/healthz").json() == {"status": "alive"}
    assert call("GET", "/readyz").json() == {"status": "ready"}
