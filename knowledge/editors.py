"""The JSON Schema that editors use while a tree is written: `knowledge/schema.json`.

The schema as a whole is that of problems/<id>.yaml; the other files' are under `$defs` (Cases, Facts, Cautions, …).
Rewrite it with `python -m knowledge.editors`.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter
from pydantic.json_schema import GenerateJsonSchema, models_json_schema

from knowledge import language, reading, schema, tables

FILE = Path(__file__).parent / "schema.json"
BY_ID: dict[str, TypeAdapter[Any]] = {
    "Cases": TypeAdapter(tuple[schema.Case, ...]),
    "Cautions": TypeAdapter(dict[str, tables.Caution]),
    "Facts": TypeAdapter(dict[str, tables.Fact]),
    "Parts": TypeAdapter(dict[str, tables.Part]),
    "Sources": TypeAdapter(dict[str, tables.Source]),
    "Styles": TypeAdapter(dict[str, tables.Style]),
    "Vessels": TypeAdapter(dict[str, tables.Vessel]),
    "Yeasts": TypeAdapter(dict[str, tables.Yeast]),
}
WHOLE_FILES = (
    tables.Areas,
    tables.Catalogue,
    tables.Replies,
    language.LexiconFile,
    language.Symptoms,
    language.ToldMessages,
)
RULES = (reading.Reading, reading.HazardRules)
REFERENCE = "#/$defs/{model}"


def schema_text() -> str:
    """The schema as it is published."""
    _, shared = models_json_schema([(model, "validation") for model in (*WHOLE_FILES, *RULES)], ref_template=REFERENCE)
    definitions = dict(shared["$defs"])
    for name, adapter in BY_ID.items():
        made = adapter.json_schema(ref_template=REFERENCE)
        definitions |= {**made.pop("$defs", {}), name: made}
    problem = schema.Problem.model_json_schema(ref_template=REFERENCE)
    definitions |= problem.pop("$defs")
    whole = {"$schema": GenerateJsonSchema.schema_dialect, **problem, "$defs": dict(sorted(definitions.items()))}
    return json.dumps(whole, indent=1, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    FILE.write_text(schema_text(), encoding="utf-8")
