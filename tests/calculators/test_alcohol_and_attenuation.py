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
WHOLE_TABLE = [tenths / 10 for tenths in range(5, 1008)]


def hmrc_abv(points: float) -> float:
    return points * next(factor for limit, factor in HMRC_FACTORS if points <= limit)


def hmrc_abv_without_steps(points: float) -> float:
    """A factor printed to 0.001 stands half-way to the next where the table changes over: straight lines between."""
    before = (0.0, 0.1245)
    for limit, factor in HMRC_FACTORS:
        if points <= limit:
            share = (points - before[0]) / (limit - before[0])
            return points * (before[1] + share * (factor + 0.0005 - before[1]))
        before = (limit, factor + 0.0005)
    raise ValueError(points)


def off(points: float, attenuated: float, table: Callable[[float], float]) -> float:
    original = 1.0 + points / attenuated / 1000.0
    beer = alcohol.fermented(original, original - points / 1000.0)
    return abs(alcohol.by_volume(beer.alcohol, original - points / 1000.0) - table(points))


@pytest.mark.parametrize(
    ("original", "present", "duty"),
    [("1.040", "1.010", 3.87), ("1.050", "1.010", 5.20), ("1.060", "1.015", 5.85), ("1.080", "1.018", 8.184)],
)
def test_gives_the_alcohol_the_hmrc_table_gives(original: str, present: str, duty: float, found: Found) -> None:
    done = found("alcohol-and-attenuation", original_gravity=original, current_gravity=present)
    assert done["abv"] == pytest.approx(duty, abs=0.06)


@pytest.mark.parametrize("attenuated", [0.77, 0.78, 0.79, 0.80, 0.81, 0.82])
def test_agrees_with_the_whole_hmrc_table_where_beer_ferments_as_far_as_it_supposes(attenuated: float) -> None:
    assert max(off(points, attenuated, hmrc_abv) for points in WHOLE_TABLE) < 0.06


@pytest.mark.parametrize("attenuated", [0.70, 0.73, 0.76, 0.85])
def test_at_other_attenuations_the_hmrc_table_rounds_its_factor_and_knows_no_attenuation(attenuated: float) -> None:
    falls = [points for points in WHOLE_TABLE if points < 130 * attenuated]  # wort to 1.130
    assert max(off(points, attenuated, hmrc_abv) for points in falls) < 0.11
    assert max(off(points, attenuated, hmrc_abv_without_steps) for points in falls) < 0.065


# A.J. Cutaia, A.-J. Reid, R.A. Speers, J. Inst. Brew. 115(4) (2009) 318-327, Table III: means of laboratory values.
@pytest.mark.parametrize(
    ("original", "apparent", "by_weight", "real"),
    [("11.34 degP", "2.01 degP", 3.82, 3.80), ("17.67 degP", "2.45 degP", 6.56, 5.38)],
)
def test_agrees_with_laboratory_means(
    original: str, apparent: str, by_weight: float, real: float, found: Found
) -> None:
    done = found("alcohol-and-attenuation", original_gravity=original, current_gravity=apparent)
    assert done["alcohol_by_weight"] == pytest.approx(by_weight, abs=0.05)
    assert done["real_extract"] == pytest.approx(real, abs=0.03)


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


# OIML R 22, International alcoholometric tables (1975): density of ethanol in water by mass fraction, kg/m³ at 20 °C.
# Coefficients from memory; they give its 998.20 for water and 789.24 for pure ethanol.
OIML_R22 = (998.20123, -192.9769495, 389.1238958, -1668.103923, 13522.15441, -88292.78388, 306287.4042, -613838.1234,
            747017.2998, -547846.1354, 223446.0334, -39032.85426)  # fmt: skip


def mixture(share: float) -> float:
    return sum(term * share**power for power, term in enumerate(OIML_R22))


def test_the_alcohol_table_ends_in_water_and_pure_ethanol() -> None:
    assert mixture(0.0) == pytest.approx(998.20, abs=0.01)
    assert mixture(1.0) == pytest.approx(789.24, abs=0.01)


@pytest.mark.parametrize("share", [0.001, 0.01, 0.02, 0.04, 0.06, 0.08, 0.1, 0.13, 0.16, 0.2])
def test_alcohol_alone_is_as_light_as_the_alcohol_table_says(share: float) -> None:
    density = mixture(share)
    assert alcohol.alone(share * density / 1000) == pytest.approx(density / 998.20123, abs=1e-6)


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
