"""Strike water and mash correction, against heat balances with enthalpies of a reference equation of state."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from calculators import BadInput, Reading, run
from calculators.physics import heat

Found = Callable[..., dict[str, float]]
WATER_AT_20 = PropsSI("D", "T", 293.15, "P", 101325, "Water") / 1000


def enthalpy(celsius: float) -> float:
    """Liquid water at 101.325 kPa, kJ/kg."""
    return float(PropsSI("H", "T", celsius + 273.15, "P", 101325, "Water")) / 1000


def grain_heat(kilograms: float, kelvin: float) -> float:
    """Grain of 0.40 of water's specific heat, 4.1868 kJ/(kg K)."""
    return kilograms * 0.40 * 4.1868 * kelvin


@pytest.mark.parametrize("celsius", [0.5, 10, 25, 40, 66, 80, 99.5])
def test_waters_enthalpy_is_that_of_iapws_95(celsius: float) -> None:
    assert heat.water(celsius) == pytest.approx(enthalpy(celsius) - enthalpy(0.01) + 0.042, abs=0.05)
    assert heat.water_temperature(heat.water(celsius)) == pytest.approx(celsius, abs=1e-6)


# Pauls and Whites Brewing Room Book 1984/85, table of the specific heat of malt by its moisture, as a share of water's.
@pytest.mark.parametrize("printed", [0.38, 0.40, 0.42], ids=["0 % moisture", "3 to 4 %", "the table's end"])
def test_the_grains_heat_is_the_brewing_room_books(printed: float) -> None:
    mash = run("strike-temperature", {"grain_mass": 5, "mash_water_volume": 15, "target_mash_temperature": 67})
    taken = mash.inputs["grain_specific_heat"]
    assert isinstance(taken, Reading)
    assert taken.low <= printed <= taken.high
    assert taken.value == pytest.approx(printed, abs=0.021)


# Pauls and Whites Brewing Room Book 1984/85, worked example: malt of 2 % moisture at 27 °C, liquor at 69 °C,
# 2.68 L/kg, specific heat 0.39 and slaking rise 2.3 K by the book's table.
def test_repeats_the_brewing_room_books_worked_example(found: Found) -> None:
    done = found(
        "strike-temperature", grain_mass="10 kg", mash_water_volume="26.8 L", strike_temperature="69 degC",
        grain_temperature="27 degC", grain_specific_heat=0.39, slaking_rise="2.3 K",
    )  # fmt: skip
    assert done["mash_temperature"] == pytest.approx(66.0, abs=0.6)


# J. Palmer, How to Brew, 3rd ed. (Brewers Publications 2006), infusion equations, example of 8 lb of grain; figures
# from memory.
def test_repeats_the_handbooks_infusion_example(found: Found) -> None:
    strike = found(
        "strike-temperature", grain_mass="8 lb", mash_water_volume="8 qt", grain_temperature="70 degF",
        target_mash_temperature="104 degF",
    )  # fmt: skip
    infusion = found(
        "mash-correction", grain_mass="8 lb", mash_water_volume="8 qt", mash_temperature="104 degF",
        target_mash_temperature="140 degF", added_water_temperature="210 degF",
    )  # fmt: skip
    assert strike["strike_temperature"] * 1.8 + 32 == pytest.approx(110.8, abs=0.7)
    assert infusion["added_water_volume"] / 0.946352946 == pytest.approx(4.94, abs=0.15)


@pytest.mark.parametrize(
    ("grain", "water", "grain_at", "target"),
    [(5, 15, 20, 67), (4, 20, 18, 66), (6, 15, 10, 68), (3, 24, 25, 62), (10, 22, 5, 72)],
)
def test_the_strike_temperature_balances_the_heat(
    grain: float, water: float, grain_at: float, target: float, found: Found
) -> None:
    def missed(strike: float) -> float:
        given_up = water * WATER_AT_20 * (enthalpy(strike) - enthalpy(target))
        return given_up - grain_heat(grain, target - grain_at)

    done = found(
        "strike-temperature", grain_mass=grain, mash_water_volume=water, grain_temperature=grain_at,
        target_mash_temperature=target,
    )  # fmt: skip
    assert done["strike_temperature"] == pytest.approx(brentq(missed, target, 99.9), abs=0.2)


# Heat balance as above, published figures rounded to 0.1 K; tun not counted.
@pytest.mark.parametrize(
    ("grain", "water", "grain_at", "target", "strike"),
    [(5, 15, 20, 67, 73.3), (4, 20, 18, 66, 69.8), (6, 15, 10, 68, 77.3)],
)
def test_gives_the_worked_strike_temperatures(
    grain: float, water: float, grain_at: float, target: float, strike: float, found: Found
) -> None:
    done = found(
        "strike-temperature", grain_mass=grain, mash_water_volume=water, grain_temperature=grain_at,
        target_mash_temperature=target,
    )  # fmt: skip
    assert done["strike_temperature"] == pytest.approx(strike, abs=0.2)


@pytest.mark.parametrize(
    ("now", "target", "added_at", "litres", "within"), [(62, 67, 99, 2.65, 0.03), (72, 67, 10, 1.49, 0.03)]
)
def test_water_to_add_balances_the_heat(
    now: float, target: float, added_at: float, litres: float, within: float, found: Found
) -> None:
    done = found(
        "mash-correction", grain_mass=5, mash_water_volume=15, mash_temperature=now, target_mash_temperature=target,
        added_water_temperature=added_at,
    )  # fmt: skip
    needed = grain_heat(5, target - now) + 15 * WATER_AT_20 * (enthalpy(target) - enthalpy(now))
    by_hand = needed / (enthalpy(added_at) - enthalpy(target)) / WATER_AT_20
    assert done["added_water_volume"] == pytest.approx(by_hand, abs=0.02)
    assert done["added_water_volume"] == pytest.approx(litres, abs=within)


def test_hot_water_takes_four_per_cent_more_room_and_the_working_says_so(found: Found) -> None:
    mash = {
        "grain_mass": 5, "mash_water_volume": 15, "mash_temperature": 62, "target_mash_temperature": 67,
        "added_water_temperature": 95,
    }  # fmt: skip
    cold = found("mash-correction", **mash)["added_water_volume"]
    hot = cold * WATER_AT_20 * 1000 / PropsSI("D", "T", 368.15, "P", 101325, "Water")
    assert hot / cold == pytest.approx(1.038, abs=0.001)
    assert f"measured at 95 °C that is {hot:.2f} L" in run("mash-correction", mash).working


def test_a_rise_on_wetting_is_a_difference_without_the_32(found: Found) -> None:
    mash = {"grain_mass": 5, "mash_water_volume": 15, "strike_temperature": 73}
    plain = found("strike-temperature", **mash)["mash_temperature"]
    raised = found("strike-temperature", **mash, slaking_rise="3.6 degF")["mash_temperature"]
    assert raised - plain == pytest.approx(2.0, abs=1e-6)


def test_the_tun_leaves_a_degree_of_doubt() -> None:
    done = run(
        "strike-temperature",
        {"grain_mass": 5, "mash_water_volume": 15, "target_mash_temperature": 67, "grain_temperature": 20},
    )
    strike = done.results["strike_temperature"]
    assert strike.high - strike.value >= 1.0
    assert any("tun's own heat is not counted" in warning for warning in done.warnings)


def test_the_water_for_a_given_strike_temperature(found: Found) -> None:
    grain = {"grain_mass": "5 kg", "grain_temperature": "20 degC", "target_mash_temperature": "67 degC"}
    strike = found("strike-temperature", **grain, mash_water_volume="15 L")["strike_temperature"]
    water = found("strike-temperature", **grain, strike_temperature=strike)["mash_water_volume"]
    assert water == pytest.approx(15.0, abs=1e-6)


def test_all_three_or_one_alone_are_refused() -> None:
    grain = {"grain_mass": "5 kg"}
    with pytest.raises(BadInput, match=r"mash_water_volume: give two of .*, not 3\."):
        run(
            "strike-temperature",
            {**grain, "mash_water_volume": 15, "strike_temperature": 73, "target_mash_temperature": 67},
        )
    with pytest.raises(BadInput, match=r"strike_temperature: give two of .*, not 1\."):
        run("strike-temperature", {**grain, "mash_water_volume": 15})


def test_water_cannot_bring_a_mash_beyond_its_own_temperature() -> None:
    mash = {"grain_mass": 5, "mash_water_volume": 15, "mash_temperature": 62, "target_mash_temperature": 67}
    with pytest.raises(BadInput, match=r"water of 65 degC cannot bring a mash from 62 to 67 degC\. Take hotter water"):
        run("mash-correction", {**mash, "added_water_temperature": 65})
    with pytest.raises(
        BadInput, match="target_mash_temperature: 67 degC must lie between the grain's 20 and the water"
    ):
        run("strike-temperature", {"grain_mass": 5, "strike_temperature": 60, "target_mash_temperature": 67})


def test_a_thin_mash_and_a_mash_at_its_target_are_no_special_cases(found: Found) -> None:
    mash = {"grain_mass": 5, "mash_water_volume": 15, "mash_temperature": 67, "added_water_temperature": 98}
    assert found("mash-correction", **mash, target_mash_temperature=67)["added_water_volume"] == 0.0
    unchanged = found("mash-correction", **mash, added_water_volume=0.0)["mash_temperature"]
    assert unchanged == pytest.approx(67.0, abs=1e-6)


@given(
    grain=st.floats(1, 50), ratio=st.floats(1.5, 8), now=st.floats(40, 75), change=st.floats(-15, 15).filter(abs)
)  # fmt: skip
def test_water_and_temperature_are_inverse(grain: float, ratio: float, now: float, change: float) -> None:
    mash = {
        "grain_mass": grain, "mash_water_volume": grain * ratio, "mash_temperature": now,
        "added_water_temperature": 99.0 if change > 0 else 5.0,
    }  # fmt: skip
    target = now + change
    water = run("mash-correction", {**mash, "target_mash_temperature": target}).results["added_water_volume"].value
    reached = run("mash-correction", {**mash, "added_water_volume": water}).results["mash_temperature"].value
    assert reached == pytest.approx(target, abs=1e-4)


@given(target=st.floats(40, 75), step=st.floats(0.05, 3), ratio=st.floats(2, 6))
def test_a_warmer_mash_always_wants_hotter_strike_water(target: float, step: float, ratio: float) -> None:
    def strike(mash: float) -> float:
        inputs = {"grain_mass": 5.0, "mash_water_volume": 5 * ratio, "target_mash_temperature": mash}
        return run("strike-temperature", inputs).results["strike_temperature"].value

    assert strike(target + step) > strike(target)
