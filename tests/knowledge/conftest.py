"""A tiny knowledge folder without a fault, and a way to put one fault into it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from knowledge.loading import texts

SAMPLE = Path(__file__).parent / "sample"
Files = dict[str, str]


@pytest.fixture(scope="session")
def sample() -> Files:
    """The texts of the sample folder."""
    return texts(SAMPLE)


@pytest.fixture
def changed(sample: Files) -> Callable[[str, str, str], Files]:
    """The sample with the first `old` of a file replaced by `new`; with no `old`, the file is replaced or taken out."""

    def change(file: str, old: str, new: str) -> Files:
        if not old:
            rest = {name: text for name, text in sample.items() if name != file}
            return {**rest, file: new} if new else rest
        assert old in sample[file], f"{old!r} is not in {file}"
        return {**sample, file: sample[file].replace(old, new, 1)}

    return change
