"""Whatever is written in a knowledge file, it is read or refused with faults; nothing else happens."""

from __future__ import annotations

import json
import random
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from knowledge.check import check
from knowledge.loading import parse
from knowledge.yaml_text import TextError, read

Files = dict[str, str]
LEAVES = st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False) | st.text(max_size=8)
ANYTHING = st.recursive(
    LEAVES, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=6), inner, max_size=3)
)
FILES = ["problems/cold-beer.yaml", "problems/cold-beer.cases.yaml", "facts.yaml", "cautions.yaml", "yeasts.yaml",
         "areas.yaml", "catalogue.yaml", "lexicon/things.yaml", "symptoms/cold-beer.yaml", "hazards.yaml"]  # fmt: skip
unhurried = settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])


@given(text=st.text(max_size=200))
def test_any_text_is_read_or_refused(text: str) -> None:
    try:
        line = read(text).line(("anything", 0))
    except TextError as fault:
        line = fault.line
    assert line >= 1


@pytest.mark.parametrize("file", FILES)
@unhurried
@given(written=ANYTHING)
def test_any_data_in_any_file_gives_faults_and_no_error(sample: Files, file: str, written: Any) -> None:
    found = check(parse({**sample, file: json.dumps(written)}))
    assert all(fault.line >= 1 and fault.message for fault in found)


@pytest.mark.parametrize("file", FILES)
def test_a_file_with_one_value_changed_gives_faults_and_no_error(sample: Files, file: str) -> None:
    """Each value of a good file in turn becomes something else: this reaches deeper than data made at random."""
    chance = random.Random(file)
    good = read(sample[file]).data
    for place in _places(good):
        changed = json.loads(json.dumps(good))
        _put(changed, place, chance.choice([None, True, 7, "x", "a.b", [], {}, [{}], {"say": "{x"}, "1 bar"]))
        found = check(parse({**sample, file: json.dumps(changed)}))
        assert all(fault.line >= 1 and fault.message for fault in found)


def _places(data: Any) -> list[tuple[Any, ...]]:
    items = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    return [(key, *deeper) for key, value in items for deeper in [(), *_places(value)]]


def _put(data: Any, place: tuple[Any, ...], value: Any) -> None:
    for key in place[:-1]:
        data = data[key]
    data[place[-1]] = value
