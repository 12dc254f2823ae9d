"""The guide for those who write trees lists what there is."""

from __future__ import annotations

from pathlib import Path

import pytest

import knowledge
from knowledge import check
from knowledge.loading import SHIPPED

GUIDE = (Path(knowledge.__file__).parent / "README.md").read_text("utf-8")


@pytest.mark.parametrize("check_id", ["yaml", "shape", "lexicon", *(module.ID for module in check.CHECKS)])
def test_the_guide_lists_every_check(check_id: str) -> None:
    assert f"| `{check_id}` |" in GUIDE


@pytest.mark.parametrize("file", sorted(path.name for path in SHIPPED.glob("*.yaml")))
def test_the_guide_names_every_table(file: str) -> None:
    assert f"`{file}`" in GUIDE
