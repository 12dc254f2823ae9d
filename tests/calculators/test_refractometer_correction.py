"""The refractometer in beer."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from calculators import BadInput, run

Found = Callable[..., dict[str, float]]


# S. Terrill, 'Refractometer FG Results' (2011): FG = 1 - 0.00085683 Bi + 0.0034941 Bf, readings over the wort factor.
@pytest.mark.parametrize(("wort", "beer", "gravity"), [(12.4, 6.5, 1.0121), (15.0, 7.5, 1.0134)])
def test_gives_the_figures_of_the_published_fit(wort: float, beer: float, gravity: float, found: Found) -> None:
    done = found("refractometer-correction", original_brix=wort, current_brix=beer, wort_factor=1.0)
    assert done["current_gravity"] == pytest.approx(gravity, abs=0.0001)


def test_both_readings_are_divided_by_the_wort_factor(found: Found) -> None:
    plain = found("refractometer-correction", original_brix=12.0, current_brix=6.0, wort_factor=1.0)
    scaled = found("refractometer-correction", original_brix=12.48, current_brix=6.24, wort_factor=1.04)
    assert scaled["current_gravity"] == pytest.approx(plain["current_gravity"], abs=1e-9)


def test_an_original_gravity_by_hydrometer_needs_no_wort_factor(found: Found) -> None:
    by_hydrometer = found("refractometer-correction", original_gravity="1.050", current_brix="6.24 brix")
    by_refractometer = found("refractometer-correction", original_brix=12.387 * 1.04, current_brix="6.24 brix")
    assert by_hydrometer["current_gravity"] == pytest.approx(by_refractometer["current_gravity"], abs=1e-5)


def test_a_dry_beer_may_come_out_below_1_000(found: Found) -> None:
    done = found("refractometer-correction", original_brix=12.0, current_brix=2.5, wort_factor=1.0)
    assert done["current_gravity"] < 1.0


def test_early_in_the_ferment_the_fit_is_poor_and_the_answer_says_so() -> None:
    early = run("refractometer-correction", {"original_brix": "12 brix", "current_brix": "9 brix"})
    late = run("refractometer-correction", {"original_brix": "12 brix", "current_brix": "5.5 brix"})
    assert any("Less than 60 % attenuated" in warning for warning in early.warnings)
    assert not any("Less than 60 % attenuated" in warning for warning in late.warnings)


def test_the_wort_is_asked_for_once_and_cannot_read_less_than_the_beer() -> None:
    with pytest.raises(BadInput, match="original_brix: give the wort before pitching once"):
        run("refractometer-correction", {"current_brix": 6.0})
    with pytest.raises(BadInput, match="current_brix: the beer reads more than its wort did"):
        run("refractometer-correction", {"current_brix": 12.0, "original_brix": 6.0})
