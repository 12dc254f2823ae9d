"""Bodies written by hand, byte by byte: what a generator of JSON never makes and an attacker does."""

from __future__ import annotations

import pytest

from service.web.problems import Invalid, NotJson
from service.web.strict_json import read_json

JSON = {"Content-Type": "application/json"}
REFUSED = [
    (b'{"text":NaN}', 422),
    (b'{"text":"x","facts":{"beer_temperature":NaN}}', 422),
    (b'{"text":"x","facts":{"beer_temperature":Infinity}}', 422),
    (b'{"text":"x","facts":{"beer_temperature":-Infinity}}', 422),
    (b'{"text":"x","facts":{"beer_temperature":1e400}}', 422),
    (b'{"text":"x","facts":{"beer_temperature":{"value":1e400,"unit":"degC"}}}', 422),
    (b'{"text":"\\ud800"}', 422),
    (b'{"text":"half an emoji \\ude00 here"}', 422),
    (b'{"text":"x","client_id":"\\udfff"}', 422),
    (b'{"text":"x","facts":{"\\ud800":1}}', 422),
    (b'{"text":"x","facts":{"vessel_type":"\\ud83d"}}', 422),
    (b'{"\\ud800":"x"}', 422),
    (b'{"text":"nul \\u0000 inside"}', 422),
    (b'{"text":"x","facts":{"vessel_type":"\\u0000"}}', 422),
    (b'{"text":"once","text":"twice"}', 422),
    (b'{"text":"x","facts":{"a":1,"a":2}}', 422),
    (b'{"text":true}', 422),
    (b'{"text":"x","facts":{"beer_temperature":true}}', 422),
    (b'{"text":' + b"[" * 33 + b"]" * 33 + b"}", 422),
    (b'{"text":' + b"[" * 500 + b"]" * 500 + b"}", 422),
    (b'{"text":' + b"[" * 30_000 + b"]" * 30_000 + b"}", 422),
    (b'{"text":' + b'{"a":' * 9_000 + b"1" + b"}" * 9_000 + b"}", 422),
    (b'{"text":"x","facts":{"beer_temperature":' + b"9" * 5_000 + b"}}", 422),
    (b'{"text":' + b"-" * 1 + b"9" * 5_000 + b"}", 422),
    (b'{"text":"x"', 400),
    (b"", 422),
    (b"null", 422),
    (b'{"text":"\xff"}', 400),
    (b'{"text":"\xed\xa0\x80"}', 400),
    (b"\xef\xbb\xbf{}", 400),
    ('{"text":"x"}'.encode("utf-16"), 400),
    (b'{"text":"raw \x00 inside"}', 400),
    (b'{"text":"a\nb"}', 400),
    (b"{'text':'x'}", 400),
    (b'{"text":"x"} {}', 400),
    (b'{"text":"x",}', 400),
    (b"{}" * 3, 400),
]
BODIES = pytest.mark.parametrize(("body", "status"), REFUSED, ids=range(len(REFUSED)))


@BODIES
def test_a_consultation_refuses_it(call, body, status) -> None:
    refused = call("POST", "/api/consult", content=body, headers=JSON)
    assert refused.status_code == status
    assert refused.headers["content-type"] == "application/problem+json"
    assert len(refused.content) < 4096


@BODIES
def test_a_message_refuses_it_and_stores_nothing(chat, body, status) -> None:
    refused = chat("POST", "/messages", content=body.replace(b'{"text"', b'{"client_id":"a","text"'), headers=JSON)
    assert refused.status_code == status
    assert chat("GET").json()["messages"] == []


@BODIES
def test_an_opening_refuses_it(call, body, status) -> None:
    refused = call("POST", "/api/chats", content=body, headers=JSON)
    assert refused.status_code == (status if body else 201)  # a chat may be opened without a body


@BODIES
def test_a_calculator_never_fails_on_it(call, body, status) -> None:
    refused = call("POST", "/api/calculators/carbonation-equilibrium", content=body, headers=JSON)
    assert refused.status_code in {400, 422}
    assert (refused.status_code == 400) == (status == 400)


@pytest.mark.parametrize(("text", "place"), [(b'{"a":[1,{"b":1e999}]}', ("a", 1, "b")), (b'["\\u0000"]', (0,))])
def test_the_place_of_a_value_that_cannot_be_taken_is_known(text, place) -> None:
    with pytest.raises(Invalid) as refused:
        read_json(text)
    assert refused.value.errors[0][0] == place


@pytest.mark.parametrize("text", ['{"a": [1, 2.5, "x", null, true]}', '"\u2028 \\u00e9 \\ud83d\\ude00"', "12", " [ ] "])
def test_json_of_any_other_shape_is_read(text) -> None:
    read_json(text.encode())


def test_what_is_no_json_is_told_without_quoting_it() -> None:
    with pytest.raises(NotJson) as refused:
        read_json(b'{"secret')
    assert "secret" not in str(refused.value.detail)
