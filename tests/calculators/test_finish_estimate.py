"""Where a beer should finish."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators import run

Found = Callable[..., dict[str, float]]


# Arithmetic from the definition of apparent attenuation, on gravity points.
@pytest.mark.parametrize(("original", "attenuation", "final"), [(1.060, 75, 1.0150), (1.048, 80, 1.0096)])
def test_follows_the_definition(original: float, attenuation: float, final: float, found: Found) -> None:
    done = found("finish-estimate", original_gravity=original, attenuation=attenuation)
    assert done["final_gravity"] == pytest.approx(final, abs=0.00005)


def test_the_yeasts_range_becomes_a_window() -> None:
    done = run("finish-estimate", {"original_gravity": "1.050", "attenuation": "70 to 80 percent"})
    window = done.results["final_gravity"]
    assert window.low < 1.0105 < 1.0145 < window.high
    assert window.high - window.low < 0.008


def test_a_hot_mash_ends_higher_and_less_sure_and_a_usual_one_changes_nothing() -> None:
    said = {"original_gravity": "1.050", "attenuation": "75 percent"}
    hot, usual, none = (
        run("finish-estimate", {**said, **mash}).results["final_gravity"]
        for mash in ({"mash_temperature": "71 degC"}, {"mash_temperature": "66 degC"}, {})
    )
    assert hot.value == pytest.approx(1.0155, abs=0.0001)  # 1.5 points of attenuation a degree (common practice)
    assert hot.high - hot.low > none.high - none.low
    assert usual.value == none.value


def test_what_is_left_to_fall_needs_the_gravity_now_and_may_be_negative(found: Found) -> None:
    said = {"original_gravity": "1.050", "attenuation": "75 percent"}
    assert "gravity_to_fall" not in found("finish-estimate", **said)
    assert found("finish-estimate", **said, current_gravity="1.020")["gravity_to_fall"] == pytest.approx(0.0075)
    assert found("finish-estimate", **said, current_gravity="0.998")["gravity_to_fall"] == pytest.approx(-0.0145)


def test_more_than_full_attenuation_ends_below_1_000(found: Found) -> None:
    assert found("finish-estimate", original_gravity="1.050", attenuation="106 percent")["final_gravity"] < 1.0


@given(original=st.floats(1.02, 1.12), low=st.floats(50, 95), more=st.floats(0.1, 10))
def test_a_thirstier_yeast_always_ends_lower(original: float, low: float, more: float) -> None:
    def final(attenuation: float) -> float:
        done = run("finish-estimate", {"original_gravity": original, "attenuation": attenuation})
        return done.results["final_gravity"].value

    assert final(low + more) < final(low)
