"""Gravity, Plato and Brix against the tables of the trade."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators import BadInput, run
from calculators.physics import solution_density, sugar

Found = Callable[..., dict[str, float]]


def asbc_table(gravity: float) -> float:
    """ASBC Methods of Analysis, extract table (apparent SG 20/20 °C to °P), by its published cubic fit."""
    return 135.997 * gravity**3 - 630.272 * gravity**2 + 1111.14 * gravity - 616.868


@pytest.mark.parametrize("points", range(101))
def test_agrees_with_the_asbc_extract_table_within_a_hundredth(points: int, found: Found) -> None:
    gravity = 1.0 + points / 1000.0
    extract = found("extract-conversion", specific_gravity=gravity)["extract"]
    assert extract == pytest.approx(asbc_table(gravity), abs=0.01)


# Degrees Brix to apparent specific gravity 20/20 °C, table on the basis of NBS Circular C440 (Bates and others, 1942),
# as reproduced with the USDA AMS Sucrose Conversion Table (File Code 135-A-50).
@pytest.mark.parametrize(("brix", "printed"), [(4.0, 1.01569), (7.6, 1.03017)])
def test_agrees_with_the_nbs_table(brix: float, printed: float, found: Found) -> None:
    assert found("extract-conversion", brix=brix)["specific_gravity"] == pytest.approx(printed, abs=0.0001)


# ICUMSA sucrose density (Bubnik and others, Sugar Technologists Manual, 1995, p. 164), weighed in air of 1.2 kg/m³.
@pytest.mark.parametrize("degrees", [2.0, 7.0, 12.0, 16.0, 20.0, 24.0, 30.0, 40.0])
def test_agrees_with_the_icumsa_density_weighed_in_air(degrees: float, found: Found) -> None:
    in_air = (solution_density.sugar_solution(degrees / 100, 20.0) - 1.2) / (solution_density.water(20.0) - 1.2)
    assert found("extract-conversion", extract=degrees)["specific_gravity"] == pytest.approx(in_air, abs=0.00015)


# The same density on CoolProp's water, worked apart.
@pytest.mark.parametrize(("degrees", "worked"), [(12.0, 1.04839), (20.0, 1.08302)])
def test_gives_the_worked_gravities(degrees: float, worked: float, found: Found) -> None:
    assert found("extract-conversion", extract=degrees)["specific_gravity"] == pytest.approx(worked, abs=0.0001)


def test_plato_is_not_the_points_over_four(found: Found) -> None:
    assert 80 / 4 - found("extract-conversion", specific_gravity="1.080")["extract"] == pytest.approx(0.7, abs=0.05)


def test_brix_and_plato_are_one(found: Found) -> None:
    assert found("extract-conversion", brix=12.0) == found("extract-conversion", extract=12.0)


def test_below_1_000_the_extract_is_negative_and_the_answer_says_why() -> None:
    done = run("extract-conversion", {"specific_gravity": "0.996"})
    assert done.results["extract"].value == pytest.approx(-1.04, abs=0.02)
    assert any("apparent, not sugar" in warning for warning in done.warnings)


def test_two_scales_at_once_are_refused() -> None:
    with pytest.raises(BadInput, match="brix: give exactly one of specific_gravity, extract, brix, not 2"):
        run("extract-conversion", {"specific_gravity": 1.05, "brix": 12.0})


@given(gravity=st.floats(0.98, 1.18))
def test_there_and_back_is_the_same_gravity(gravity: float) -> None:
    assert sugar.specific_gravity(sugar.extract(gravity)) == pytest.approx(gravity, abs=1e-9)


@given(gravity=st.floats(0.98, 1.179), step=st.floats(1e-6, 0.001))
def test_more_gravity_is_always_more_extract(gravity: float, step: float) -> None:
    assert sugar.extract(gravity + step) > sugar.extract(gravity)
