"""Words and phrases become concepts, with denial, time and subject settled before anything is scored."""

from __future__ import annotations

import pytest

from knowledge.language import Concept, Lexicon, LexiconFile
from service.understanding.lexicon import Annotator, expand
from service.understanding.model import Mention
from service.understanding.normalise import Speller, tokens

LEXICON = Lexicon(
    concepts={
        "negator": Concept(words=("no", "not", "isnt")),
        "not-a-denial": Concept(words=("not sure",)),
        "time-past": Concept(words=("last batch",)),
        "someone-else": Concept(words=("my mate says",)),
        "keg": Concept(words=("keg", "corny")),
        "valve": Concept(words=("valve",)),
        "relief-valve": Concept(words=("relief valve",)),
        "leak": Concept(words=("leak",)),
        "no-flow": Concept(words=("nothing|nowt .. out",)),
        "runnings": Concept(words=("=runnings",)),
        "pressure": Concept(words=("0 psi",)),
    }
)
ANNOTATOR = Annotator(LEXICON)
SPELLER = Speller(LEXICON, ())


def mentions(text: str) -> dict[str, Mention]:
    return {one.concept: one for one in ANNOTATOR.mentions(text, tokens(text, SPELLER, frozenset({"but"})))}


def test_a_word_is_found_in_all_its_forms() -> None:
    assert mentions("both kegs leaking").keys() == {"keg", "leak"}


def test_a_longer_phrase_hides_the_shorter_one_inside_it() -> None:
    assert mentions("the relief valve").keys() == {"relief-valve"}
    assert mentions("relief valve beside a valve").keys() == {"relief-valve", "valve"}


@pytest.mark.parametrize("text", ["nothing comes out", "nowt out", "nothing at all comes out"])
def test_a_gap_takes_up_to_three_words(text: str) -> None:
    assert "no-flow" in mentions(text)


@pytest.mark.parametrize("text", ["nothing I tried all of yesterday came out", "out of nothing"])
def test_a_gap_takes_no_more_and_keeps_the_order(text: str) -> None:
    assert "no-flow" not in mentions(text)


def test_an_exact_form_is_that_form_only() -> None:
    assert "runnings" in mentions("first runnings")
    assert "runnings" not in mentions("it is running")


def test_any_figure_stands_for_a_figure() -> None:
    assert mentions("12.5 psi")["pressure"].said == "12.5 psi"


@pytest.mark.parametrize("text", ["the keg isn't leaking", "no leak", "not a single leak"])
def test_a_denied_thing_is_marked_as_denied(text: str) -> None:
    assert mentions(text)["leak"].negated


@pytest.mark.parametrize("text", ["not sure where the leak is", "no, a leak", "it is not the keg but there is a leak"])
def test_a_denial_ends_with_its_clause_and_doubt_is_no_denial(text: str) -> None:
    assert not mentions(text)["leak"].negated


def test_an_earlier_batch_and_other_people_are_told_apart() -> None:
    assert mentions("last batch the keg leaked")["leak"].time == "past"
    assert mentions("my mate says leak")["leak"].subject == "other"
    assert mentions("a leak")["leak"].subject == "self"


def test_alternatives_are_written_out() -> None:
    assert list(expand("a|b c")) == [("a", "c"), ("b", "c")]


def test_a_concept_defined_twice_is_named() -> None:
    file = LexiconFile(concepts={"keg": Concept(words=("keg",))})
    with pytest.raises(ValueError, match="concepts: keg defined twice in the lexicon"):
        Lexicon.of([file, file])


def test_a_link_to_an_unknown_concept_is_named() -> None:
    with pytest.raises(ValueError, match="concept 'keg' points to 'vessel', which no lexicon file defines"):
        Lexicon(concepts={"keg": Concept(words=("keg",), broader=("vessel",))})
