"""The schema that editors use is the one the knowledge is read with."""

from __future__ import annotations

import json

from knowledge.editors import FILE, schema_text


def test_the_published_schema_is_current() -> None:
    assert FILE.read_text("utf-8") == schema_text(), "run `python -m knowledge.editors`"


def test_the_schema_refuses_keys_that_do_not_belong() -> None:
    schema = json.loads(schema_text())
    assert schema["additionalProperties"] is False
    assert schema["$defs"]["Finding"]["additionalProperties"] is False
    assert {"Facts", "Cautions", "Cases", "Symptoms", "LexiconFile"} <= schema["$defs"].keys()
