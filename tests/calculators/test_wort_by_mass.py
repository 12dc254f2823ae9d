"""Correcting gravity and volume, and extraction efficiency: extract is neither made nor lost."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from calculators import BadInput, run
from calculators.physics import wort

Found = Callable[..., dict[str, float]]


def icumsa_density(share: float) -> float:
    """Sucrose solution at 20 °C, kg/m³ (Bubnik and others, Sugar Technologists Manual, Bartens 1995, p. 164)."""
    terms = (385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890)
    return 998.2012 + sum(term * share ** (power + 1) for power, term in enumerate(terms))


def share_at(gravity: float) -> float:
    """Mass fraction of sugar in wort of that SG 20/20, both in air of 1.2 kg/m³."""
    return float(brentq(lambda w: (icumsa_density(w) - 1.2) / (998.2012 - 1.2) - gravity, -0.01, 0.6))


def extract(litres: float, gravity: float) -> float:
    """kg of extract."""
    share = share_at(gravity)
    return litres / 1000 * icumsa_density(share) * share


@pytest.mark.parametrize("gravity", [1.005, 1.020, 1.040, 1.060, 1.080, 1.100])
def test_extract_in_a_volume_is_that_of_the_icumsa_densities(gravity: float) -> None:
    assert wort.of(20.0, gravity).extract == pytest.approx(extract(20.0, gravity), rel=0.004, abs=0.003)


# Extract mass conserved, ICUMSA densities, volumes at 20 °C.
@pytest.mark.parametrize(("litres", "gravity", "new", "becomes"), [(25, 1.045, 20, 1.0562), (20, 1.060, 24, 1.0500)])
def test_gives_the_worked_gravities(litres: float, gravity: float, new: float, becomes: float, found: Found) -> None:
    done = found("gravity-correction", batch_volume=litres, gravity=gravity, target_volume=new)
    assert done["gravity_after"] == pytest.approx(becomes, abs=0.0003)
    assert done["gravity_after"] == pytest.approx(1 + (gravity - 1) * litres / new, abs=0.0004)  # points times volume


def test_water_to_add_for_a_wanted_gravity(found: Found) -> None:
    done = found("gravity-correction", batch_volume="20 L", gravity="1.060", target_gravity="1.050")
    assert done["water_to_add"] == pytest.approx(4.02, abs=0.02)  # extract mass conserved, ICUMSA densities
    assert done["water_to_boil_off"] == 0.0


# ICUMSA density; agrees with the 46 points that a pound of pure sugar gives a US gallon.
def test_a_pound_of_sugar_in_a_us_gallon_gives_46_points(found: Found) -> None:
    done = found(
        "gravity-correction", batch_volume="0.9 gal", gravity="1.000", extract_type="table-sugar", extract_mass="1 lb",
        target_volume="1 gal",
    )  # fmt: skip
    assert done["gravity_after"] == pytest.approx(1.0461, abs=0.0003)


def test_five_imperial_gallons_thin_sugar_more_than_five_us_gallons(found: Found) -> None:
    sugar = {"gravity": "1.000", "extract_type": "table-sugar", "extract_mass": "5 lb"}
    us = found("gravity-correction", **sugar, batch_volume="4 gal", target_volume="5 gal")["gravity_after"]
    imperial = found("gravity-correction", **sugar, batch_volume="4 gal", target_volume="5 imp gal")["gravity_after"]
    assert (us - 1) / (imperial - 1) == pytest.approx(4.54609 / 3.785411784, abs=0.003)


# Points times volume with 44 points lb/gal (367 points L/kg) for dry malt extract: common practice.
def test_malt_extract_that_makes_up_a_weak_wort_in_the_same_volume(found: Found) -> None:
    done = found(
        "gravity-correction", batch_volume="20 L", gravity="1.040", target_gravity="1.048", target_volume="20 L"
    )
    assert done["extract_to_add"] == pytest.approx(20 * 8 / 367, abs=0.01)


def test_the_extract_to_add_to_the_wort_as_it_is_brings_the_gravity(found: Found) -> None:
    wort_now = {"batch_volume": "20 L", "gravity": "1.040", "extract_type": "liquid-malt-extract"}
    needed = found("gravity-correction", **wort_now, target_gravity="1.048")["extract_to_add"]
    reached = found("gravity-correction", **wort_now, extract_mass=needed)
    assert reached["gravity_after"] == pytest.approx(1.048, abs=1e-6)
    assert reached["volume_after"] > 20.2  # the extract takes room too


def test_the_boil_that_thickens_it_takes_so_long(found: Found) -> None:
    done = found(
        "gravity-correction", batch_volume="25 L", gravity="1.045", target_gravity="1.0562", boil_off_rate="4 L/h"
    )
    assert done["volume_after"] == pytest.approx(20.0, abs=0.1)
    assert done["boil_time"] == pytest.approx(60 * done["water_to_boil_off"] / 4)


def test_a_volume_read_hot_holds_less_wort(found: Found) -> None:
    cold = found("gravity-correction", batch_volume="25 L", gravity="1.045", target_gravity="1.050")
    hot = found(
        "gravity-correction", batch_volume="25 L", gravity="1.045", target_gravity="1.050", volume_temperature="95 degC"
    )
    assert cold["volume_after"] / hot["volume_after"] == pytest.approx(1.038, abs=0.002)  # ICUMSA, as water's 3.8 %


def test_wort_with_too_much_extract_for_the_volume_is_told_so() -> None:
    done = run(
        "gravity-correction", {"batch_volume": 20, "gravity": 1.070, "target_gravity": 1.050, "target_volume": 22}
    )
    assert done.results["extract_to_add"].value == 0.0
    assert any("more extract than that volume should" in warning for warning in done.warnings)


def test_an_aim_is_needed_and_only_one() -> None:
    now = {"batch_volume": 20, "gravity": 1.040}
    with pytest.raises(BadInput, match="target_gravity: give target_gravity, target_volume or extract_mass"):
        run("gravity-correction", now)
    with pytest.raises(BadInput, match="extract_mass: give either target_gravity or extract_mass"):
        run("gravity-correction", {**now, "target_gravity": 1.050, "extract_mass": 1})


@given(litres=st.floats(1, 500), gravity=st.floats(1.010, 1.090), factor=st.floats(0.7, 2.0))
def test_thinning_and_boiling_back_change_nothing(litres: float, gravity: float, factor: float) -> None:
    def after(volume: float, sg: float, target: float) -> float:
        inputs = {"batch_volume": volume, "gravity": sg, "target_volume": target}
        return run("gravity-correction", inputs).results["gravity_after"].value

    there = after(litres, gravity, litres * factor)
    assert after(litres * factor, there, litres) == pytest.approx(gravity, abs=1e-7)


@given(litres=st.floats(1, 500), gravity=st.floats(1.010, 1.090), target=st.floats(1.010, 1.090))
def test_water_and_gravity_are_inverse(litres: float, gravity: float, target: float) -> None:
    start = {"batch_volume": litres, "gravity": gravity}
    done = run("gravity-correction", {**start, "target_gravity": target}).results
    reached = run("gravity-correction", {**start, "target_volume": done["volume_after"].value}).results
    assert reached["gravity_after"].value == pytest.approx(target, abs=1e-7)
    for way in ("water_to_add", "water_to_boil_off"):
        assert reached[way].value == pytest.approx(done[way].value, abs=1e-5 * litres)


# ---- efficiency -------------------------------------------------------------------------------------------------


def test_efficiency_on_points_is_points_times_volume_over_potential(found: Found) -> None:
    done = found(
        "extraction-efficiency", grain_mass="10 lb", potential_points="37 points gal/lb", batch_volume="6.5 gal",
        gravity="1.045",
    )  # fmt: skip
    assert done["efficiency"] == pytest.approx(100 * 6.5 * 45 / (10 * 37), abs=0.3)


def test_efficiency_on_mass_is_the_extract_of_the_icumsa_densities(found: Found) -> None:
    done = found(
        "extraction-efficiency", grain_mass="5 kg", extract_potential="80 percent", batch_volume="25 L", gravity="1.045"
    )
    assert done["efficiency"] == pytest.approx(100 * extract(25, 1.045) / (5 * 0.80), abs=0.3)
    assert done["efficiency"] == pytest.approx(73.1, abs=0.3)


def test_a_hot_volume_taken_as_cold_would_flatter_the_brewhouse(found: Found) -> None:
    mash = {"grain_mass": "5 kg", "batch_volume": "25 L", "gravity": "1.045"}
    as_read = found("extraction-efficiency", **mash)["efficiency"]
    true = found("extraction-efficiency", **mash, volume_temperature="95 degC")["efficiency"]
    assert as_read / true == pytest.approx(1.038, abs=0.003)


def test_more_than_all_of_the_extract_is_called_impossible() -> None:
    done = run("extraction-efficiency", {"grain_mass": "5 kg", "batch_volume": "25 L", "gravity": "1.070"})
    assert done.results["efficiency"].value > 100
    assert any("cannot be" in warning for warning in done.warnings)


def test_two_of_the_three_are_needed() -> None:
    with pytest.raises(BadInput, match="gravity: give two of grain_mass, gravity, efficiency, not 1"):
        run("extraction-efficiency", {"batch_volume": 25, "grain_mass": 5})


@given(
    grain=st.floats(1, 50),
    ratio=st.floats(2.5, 8),
    efficiency=st.floats(50, 95),
    hot=st.sampled_from([20.0, 60.0, 95.0]),
)
def test_gravity_grain_and_efficiency_are_inverse(grain: float, ratio: float, efficiency: float, hot: float) -> None:
    fixed = {"batch_volume": grain * ratio, "volume_temperature": hot}
    gravity = run("extraction-efficiency", {**fixed, "grain_mass": grain, "efficiency": efficiency}).results["gravity"]
    known = {**fixed, "gravity": gravity.value}
    back = run("extraction-efficiency", {**known, "grain_mass": grain}).results["efficiency"]
    mass = run("extraction-efficiency", {**known, "efficiency": efficiency}).results["grain_mass"]
    assert back.value == pytest.approx(efficiency, rel=2e-3)
    assert mass.value == pytest.approx(grain, rel=2e-3)
