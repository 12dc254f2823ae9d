"""What was said weighs for the problems whose phrases say it, and adds up."""

from __future__ import annotations

from service.understanding.model import Mention, Token
from service.understanding.symptoms import Sign, SymptomIndex, Weighing


def phrase(*keys: str) -> list[Sign]:
    return [Sign(key, at, at + 1) for at, key in enumerate(keys)]


PHRASES = {
    "clogged": [phrase("no-flow", "keg"), phrase("no-flow", "hops"), phrase("no-flow", "tap")],
    "flat": [phrase("flat", "keg"), phrase("flat", "tap"), phrase("flat", "bottle")],
    "leak": [phrase("leak", "keg"), phrase("leak", "tap"), phrase("leak", "hose")],
}
INDEX = SymptomIndex(PHRASES)


def odds(*keys: str) -> dict[str, float]:
    found = phrase(*keys)
    return INDEX.weigh(INDEX.known(found), found)


def test_a_telling_sign_lifts_its_problem_and_lowers_the_others() -> None:
    assert odds("no-flow")["clogged"] > 0 > odds("no-flow")["flat"]


def test_what_every_problem_says_tells_little() -> None:
    assert abs(odds("keg")["clogged"]) < 0.2 * odds("no-flow")["clogged"]


def test_signs_add_up_and_close_together_they_say_more() -> None:
    apart = odds("no-flow")["clogged"] + odds("hops")["clogged"]
    assert odds("no-flow", "hops")["clogged"] > apart


def test_said_twice_is_not_twice_as_true() -> None:
    assert odds("no-flow", "no-flow") == odds("no-flow")


def test_an_unknown_word_says_nothing() -> None:
    assert set(odds("wedding").values()) == {0.0}


def test_what_was_told_sums_to_the_odds_of_a_single_sign() -> None:
    found = phrase("no-flow")
    ((weight, sign),) = INDEX.told(INDEX.known(found), "clogged")
    assert (weight, sign.key) == (odds("no-flow")["clogged"], "no-flow")


def test_a_wording_met_often_speaks_for_itself() -> None:
    def worded(surface: str) -> list[Sign]:
        return [Sign("state", 0, 1, surface=surface)]

    index = SymptomIndex({"one": [worded("stuck")] * 20, "other": [worded("hung")] * 20})
    weighed = {said: index.weigh(index.known(worded(said)), []) for said in ("stuck", "hung", "wedged")}
    assert weighed["stuck"]["one"] > weighed["stuck"]["other"]
    assert weighed["wedged"]["one"] == weighed["wedged"]["other"]


def test_circumstances_and_other_peoples_beer_count_less() -> None:
    tokens = [Token("keg", "keg", 0, 3, 0), Token("leak", "leak", 4, 8, 0)]
    mentions = [Mention("keg", 0, 3, "keg", 0), Mention("leak", 4, 8, "leak", 0, subject="other")]
    signs = {sign.key: sign.weight for sign in Weighing(frozenset(), frozenset({"keg"})).signs(tokens, mentions)}
    assert signs["keg"] < 1
    assert signs["leak"] < 1


def test_a_denied_concept_is_a_sign_of_its_own() -> None:
    tokens = [Token("leak", "leak", 0, 4, 0)]
    signs = Weighing(frozenset(), frozenset()).signs(tokens, [Mention("leak", 0, 4, "leak", 0, negated=True)])
    assert "!leak" in {sign.key for sign in signs}
