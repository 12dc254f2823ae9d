"""One listener serves all revisions of the knowledge that understand messages alike."""

from __future__ import annotations

from dataclasses import replace

from knowledge import shipped
from service.understanding import listener


def test_a_revision_that_changes_no_words_shares_the_listener_of_the_one_before() -> None:
    assert listener(replace(shipped(), revision="a-tree-was-mended")) is listener(shipped())


def test_told_messages_phrases_and_rules_of_danger_are_words() -> None:
    language = shipped().language
    assert replace(shipped(), told={}).language != language
    assert replace(shipped(), symptoms={}).language != language
    assert replace(shipped(), hazards=None).language != language
