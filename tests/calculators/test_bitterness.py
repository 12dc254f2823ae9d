"""Bitterness: three models of the boil against their authors' tables."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from calculators import BadInput, run
from calculators.physics import hops

Found = Callable[..., dict[str, float]]
HOPS = {"batch_volume": "20 L", "original_gravity": "1.050", "alpha_acid": "6 percent"}

# Tinseth's table: two rows as printed in J. Palmer, How to Brew, Table 7; the others by the equation on G. Tinseth's
# own page (1995-97), rounded.
TINSETH = [
    (30, 1.050, 0.177), (60, 1.080, 0.176), (60, 1.030, 0.2761), (60, 1.040, 0.2524), (60, 1.050, 0.2307),
    (60, 1.070, 0.1927), (15, 1.050, 0.1145), (5, 1.050, 0.046), (90, 1.060, 0.2255), (0, 1.050, 0.0),
]  # fmt: skip


@pytest.mark.parametrize(("minutes", "gravity", "utilisation"), TINSETH)
def test_agrees_with_tinseths_table(minutes: float, gravity: float, utilisation: float) -> None:
    assert hops.tinseth(minutes, gravity) == pytest.approx(utilisation, abs=0.0006)


def test_repeats_the_handbooks_worked_example(found: Found) -> None:
    # J. Palmer, How to Brew: 1.5 oz of 6.4 % (9.6 AAU), utilisation 0.176, 5 US gal: 25 IBU
    done = found(
        "bitterness", batch_volume="5 gal", original_gravity="1.080", alpha_acid="6.4 percent", boil_minutes="60 min",
        hop_mass="1.5 oz",
    )  # fmt: skip
    assert done["bitterness"] == pytest.approx(25, abs=0.5)


# mg/L of alpha acid times Tinseth's utilisation.
@pytest.mark.parametrize(
    ("grams", "alpha", "minutes", "gravity", "litres", "ibu"),
    [(28, 6, 60, 1.050, 20, 19.4), (50, 10, 10, 1.055, 23, 17.4)],
)
def test_gives_the_worked_bitterness(
    grams: float, alpha: float, minutes: float, gravity: float, litres: float, ibu: float, found: Found
) -> None:
    done = found(
        "bitterness", batch_volume=litres, original_gravity=gravity, alpha_acid=alpha, boil_minutes=minutes,
        hop_mass=grams,
    )  # fmt: skip
    assert done["bitterness"] == pytest.approx(ibu, abs=0.1)


# J. Rager, Zymurgy special issue 13(4), 1990, pp. 53-54, utilisation table (read second hand).
@pytest.mark.parametrize(("minutes", "percent"), [(30, 15.3), (45, 26.9)])
def test_ragers_table_stands_beside_it_as_a_second_model(minutes: float, percent: float, found: Found) -> None:
    done = found("bitterness", **HOPS, boil_minutes=minutes, hop_mass=28)
    assert done["utilisation_by_rager"] == pytest.approx(percent, abs=0.05)
    assert done["bitterness_by_rager"] == pytest.approx(28 * 0.06 * percent / 100 * 1000 / 20, abs=0.05)


# M.G. Malowicki and T.H. Shellhammer, J. Agric. Food Chem. 53 (2005) 4434-4439: k1 = 7.9e11 e^(-11858/T), k2 = 4.1e12
# e^(-12994/T) per minute; the two reactions integrated numerically here.
@pytest.mark.parametrize(("minutes", "celsius", "fraction"), [(60, 100, 0.476), (20, 90, 0.098)])
def test_the_ceiling_is_the_measured_isomerisation(minutes: float, celsius: float, fraction: float) -> None:
    kelvin = celsius + 273.15
    first, second = 7.9e11 * 2.718281828459045 ** (-11858 / kelvin), 4.1e12 * 2.718281828459045 ** (-12994 / kelvin)
    path = solve_ivp(
        lambda _, y: [-first * y[0], first * y[0] - second * y[1]], (0, minutes), [1, 0], rtol=1e-9, atol=1e-12
    )
    assert hops.isomerised(minutes, celsius) == pytest.approx(path.y[1][-1], rel=1e-6)
    assert hops.isomerised(minutes, celsius) == pytest.approx(fraction, abs=0.001)


@given(minutes=st.floats(0, 120), gravity=st.floats(1.030, 1.110))
def test_no_model_passes_the_ceiling(minutes: float, gravity: float) -> None:
    assert hops.tinseth(minutes, gravity) <= hops.isomerised(minutes, 100.0) + 0.02


def test_the_average_of_the_boil_counts(found: Found) -> None:
    done = found("bitterness", **HOPS, preboil_gravity="1.040", boil_minutes=60, hop_mass=28)
    assert done["utilisation"] == pytest.approx(100 * hops.tinseth(60, 1.045))


def test_a_prediction_is_only_good_to_a_quarter() -> None:
    done = run("bitterness", {**HOPS, "boil_minutes": "60 min", "hop_mass": "28 g"})
    ibu = done.results["bitterness"]
    assert ibu.low <= 0.75 * ibu.value
    assert ibu.high >= 1.25 * ibu.value
    assert any("within 20 to 30 %" in warning for warning in done.warnings)


def test_what_a_missed_addition_would_bring_now_and_how_much_makes_up_for_it(found: Found) -> None:
    done = found("bitterness", **HOPS, boil_minutes="60 min", hop_mass="28 g", boil_minutes_left="20 min")
    now = found("bitterness", **HOPS, boil_minutes="20 min", hop_mass="28 g")["bitterness"]
    more = found("bitterness", **HOPS, boil_minutes="20 min", hop_mass=done["hop_mass_if_added_now"])
    assert done["bitterness_if_added_now"] == pytest.approx(now)
    assert more["bitterness"] == pytest.approx(done["bitterness"])


def test_with_hardly_a_minute_left_it_says_not_to_chase_it_with_hops() -> None:
    done = run("bitterness", {**HOPS, "boil_minutes": 60, "hop_mass": 28, "boil_minutes_left": 3})
    assert any("more than three times the hops" in warning for warning in done.warnings)


def test_hops_that_do_not_boil_make_no_target() -> None:
    with pytest.raises(BadInput, match="boil_minutes: hops that do not boil bring hardly any bitterness"):
        run("bitterness", {**HOPS, "boil_minutes": "0 min", "target_bitterness": 30})


def test_mass_and_target_together_are_refused() -> None:
    with pytest.raises(BadInput, match="hop_mass: give just one of hop_mass, target_bitterness, not 2"):
        run("bitterness", {**HOPS, "boil_minutes": "60 min", "target_bitterness": 30, "hop_mass": 20})


def test_five_imperial_gallons_are_less_bitter_than_five_us_gallons(found: Found) -> None:
    rest = {"original_gravity": 1.050, "alpha_acid": 6, "boil_minutes": 60, "hop_mass": "1 oz"}
    us = found("bitterness", **rest, batch_volume="5 gal")["bitterness"]
    imperial = found("bitterness", **rest, batch_volume="5 imp gal")["bitterness"]
    assert us / imperial == pytest.approx(4.54609 / 3.785411784)


@given(
    target=st.floats(1, 120), minutes=st.floats(1, 120), gravity=st.floats(1.030, 1.110), alpha=st.floats(1, 20)
)  # fmt: skip
def test_hops_and_bitterness_are_inverse(target: float, minutes: float, gravity: float, alpha: float) -> None:
    rest = {"batch_volume": 20.0, "original_gravity": gravity, "alpha_acid": alpha, "boil_minutes": minutes}
    mass = run("bitterness", {**rest, "target_bitterness": target}).results["hop_mass"].value
    assert run("bitterness", {**rest, "hop_mass": mass}).results["bitterness"].value == pytest.approx(target)


@given(minutes=st.floats(0, 119), more=st.floats(0.01, 1), gravity=st.floats(1.030, 1.110))
def test_longer_is_never_less_bitter_and_stronger_wort_never_more(minutes: float, more: float, gravity: float) -> None:
    assert hops.tinseth(minutes + more, gravity) > hops.tinseth(minutes, gravity)
    assert hops.rager(minutes + more, gravity) >= hops.rager(minutes, gravity)
    assert hops.tinseth(minutes + more, gravity + 0.005) < hops.tinseth(minutes + more, gravity)
