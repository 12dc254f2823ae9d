"""Alcohol and attenuation against the excise table and against laboratory means."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators import BadInput, run
from calculators.physics import alcohol

Found = Callable[..., dict[str, float]]

# HM Revenue & Customs, Excise Notice 226 Beer Duty, section 30.3: the factor for (original - present gravity)
# in points, up to and including that many points.
HMRC_FACTORS = [(6.9, 0.125), (10.4, 0.126), (17.2, 0.127), (26.1, 0.128), (36.0, 0.129), (46.5, 0.130), (57.1, 0.131),
                (67.9, 0.132), (78.8, 0.133), (89.7, 0.134), (100.7, 0.135)]  # fmt: skip


def hmrc_abv(points: float) -> float:
    return points * next(factor for limit, factor in HMRC_FACTORS if points <= limit)


@pytest.mark.parametrize("original", range(1030, 1101, 2))
def test_agrees_with_the_hmrc_factor_table(original: int, found: Found) -> None:
    within = 0.06 if original <= 1070 else 0.1
    points = original - 1000
    for present in range(1000 + round(0.2 * points), 1001 + round(0.28 * points)):
        done = found("alcohol-and-attenuation", original_gravity=original / 1000, current_gravity=present / 1000)
        assert done["abv"] == pytest.approx(hmrc_abv(original - present), abs=within)


# A.J. Cutaia, A.-J. Reid, R.A. Speers, J. Inst. Brew. 115(4) (2009) 318-327, Table III: means of laboratory values.
@pytest.mark.parametrize(
    ("original", "apparent", "by_weight", "real"),
    [("11.34 degP", "2.01 degP", 3.82, 3.80), ("17.67 degP", "2.45 degP", 6.56, 5.38)],
)
def test_agrees_with_laboratory_means(
    original: str, apparent: str, by_weight: float, real: float, found: Found
) -> None:
    done = found("alcohol-and-attenuation", original_gravity=original, current_gravity=apparent)
    assert done["alcohol_by_weight"] == pytest.approx(by_weight, abs=0.12)
    assert done["real_extract"] == pytest.approx(real, abs=0.1)


def test_twelve_plato_fermented_to_three(found: Found) -> None:
    # Balling's balance with Tabarie's rule, ICUMSA and OIML R 22 densities, solved apart; attenuation by definition
    done = found("alcohol-and-attenuation", original_gravity="12 degP", current_gravity="3 degP")
    assert done["abv"] == pytest.approx(4.78, abs=0.05)
    assert done["real_extract"] == pytest.approx(4.76, abs=0.05)
    assert done["apparent_attenuation"] == pytest.approx(75.0, abs=0.1)
    assert done["real_attenuation"] == pytest.approx(60.3, abs=0.5)


def test_de_clercks_real_extract_lies_close(found: Found) -> None:
    # De Clerck: RE = ((0.22 + 0.001 OE) OE + AE) / (1.22 + 0.001 OE); from memory
    done = found("alcohol-and-attenuation", original_gravity="14 degP", current_gravity="3.5 degP")
    assert done["real_extract"] == pytest.approx(((0.22 + 0.014) * 14 + 3.5) / 1.234, abs=0.1)


def test_a_gravity_below_1_000_is_not_cut_off(found: Found) -> None:
    dry = found("alcohol-and-attenuation", original_gravity="1.050", current_gravity="0.996")
    at_one = found("alcohol-and-attenuation", original_gravity="1.050", current_gravity="1.000")
    assert dry["apparent_attenuation"] > 100.0
    assert dry["abv"] - at_one["abv"] == pytest.approx(4 * 0.131, abs=0.05)


def test_unfermented_wort_has_no_alcohol(found: Found) -> None:
    done = found("alcohol-and-attenuation", original_gravity="1.050", current_gravity="1.050")
    assert done["abv"] == pytest.approx(0.0, abs=1e-6)


def test_a_gravity_that_rose_is_refused() -> None:
    with pytest.raises(BadInput, match=r"current_gravity: 1\.060 is above the original gravity 1\.050; gravity only"):
        run("alcohol-and-attenuation", {"original_gravity": "1.050", "current_gravity": "1.060"})


def test_pure_ethanol_and_the_table_of_mixtures() -> None:
    assert alcohol.ethanol_solution(1.0) == pytest.approx(789.24, abs=0.01)  # OIML R 22 (1975)
    assert alcohol.ethanol_solution(0.0) == pytest.approx(998.201, abs=0.001)


@given(original=st.floats(1.02, 1.12), fall=st.floats(0.0, 0.9), more=st.floats(0.001, 0.1))
def test_the_further_it_falls_the_more_alcohol(original: float, fall: float, more: float) -> None:
    now = original - fall * (original - 1.0)
    further = now - more * (original - 1.0)
    assert alcohol.fermented(original, further).alcohol > alcohol.fermented(original, now).alcohol


@given(original=st.floats(1.02, 1.12), left=st.floats(0.1, 0.5), co2=st.floats(0.1, 10.0))
def test_the_gravity_to_close_at_and_the_gas_made_from_there_are_inverse(
    original: float, left: float, co2: float
) -> None:
    end = 1.0 + left * (original - 1.0)
    start = alcohol.gravity_before(original, end, co2)
    assert alcohol.co2_made(original, start, end) == pytest.approx(co2, abs=0.001)


def test_balling_s_masses_balance() -> None:
    # 2.0665 g extract give 1 g ethanol, 0.9565 g CO2 and 0.11 g yeast (Balling): nothing is lost
    assert pytest.approx(2.0665) == 1.0 + alcohol.CO2_PER_ALCOHOL + 0.11
