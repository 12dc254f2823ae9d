"""Closed vessels: sealed while fermenting, warmed, vented, spunded. Against balances solved independently here."""

from __future__ import annotations

from collections.abc import Callable
from math import exp

import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import brentq

from calculators import BadInput, run
from calculators.physics import carbon_dioxide as co2

Found = Callable[..., dict[str, float]]

# ---- the same physics once more, from the published pieces, with CoolProp for the gas and scipy for the solving ----

PSI = 6894.757
ATMOSPHERE = 101_325.0


def chart(celsius: float, pascal: float) -> float:
    """Volumes in beer: fit to the ASBC Beer-13 chart attributed to A.J. deLange, coefficients from memory."""
    return (pascal / PSI) * (0.01821 + 0.090115 * exp(-(celsius * 1.8) / 43.11)) - 0.003342


def gas(celsius: float, pascal: float) -> float:
    """Density of CO2, g/L (CoolProp: Span and Wagner's equation of state)."""
    return float(PropsSI("D", "T", celsius + 273.15, "P", pascal, "CO2"))


def held(beer: float, headspace: float, celsius: float, pascal: float) -> float:
    return 1.9768 * beer * chart(celsius, pascal) + headspace * gas(celsius, pascal)


def balanced(beer: float, headspace: float, celsius: float, grams: float) -> float:
    """Pascal absolute at which beer and headspace hold ``grams``."""
    return float(brentq(lambda pascal: held(beer, headspace, celsius, pascal) - grams, 1e3, 3e6))


def co2_by_excise(original: float, gravity: float) -> float:
    """Grams of CO2 a litre so far: alcohol as (OG - PG) x factor, HMRC Notice 226 section 30.3, times Balling's
    0.9565 g per g. The factors' steps smoothed by a straight line through the table's middle."""
    points = (original - gravity) * 1000
    return points * (0.1252 + 0.000115 * points) * 7.8924 * 0.9565


SEALED = [
    # vessel L, beer L, original, now, final, °C, bar gauge now
    (30, 23, 1.050, 1.020, 1.010, 20, 0.0),
    (19, 18, 1.050, 1.013, 1.010, 18, 0.0),
    (60, 50, 1.060, 1.018, 1.014, 12, 0.7),
    (23, 19, 1.048, 1.016, 1.012, 20, 1.0),
    (20, 5, 1.045, 1.030, 1.010, 25, 0.0),
]


@pytest.mark.parametrize(("vessel", "beer", "og", "now", "fg", "celsius", "bar"), SEALED)
def test_a_sealed_vessel_agrees_with_an_independent_balance_within_3_percent_of_absolute(
    vessel: float, beer: float, og: float, now: float, fg: float, celsius: float, bar: float, found: Found
) -> None:
    made = beer * (co2_by_excise(og, fg) - co2_by_excise(og, now))
    before = held(beer, vessel - beer, celsius, bar * 1e5 + ATMOSPHERE)
    absolute = balanced(beer, vessel - beer, celsius, before + made) / 1e5
    done = found(
        "sealed-vessel-pressure", vessel_volume=vessel, beer_volume=beer, original_gravity=og, current_gravity=now,
        final_gravity=fg, temperature=celsius, gauge_pressure=bar,
    )  # fmt: skip
    assert done["gauge_pressure"] + 1.01325 == pytest.approx(absolute, rel=0.03)


# CO2 balance with CoolProp gas, the chart's fit and Balling's CO2, solved apart.
@pytest.mark.parametrize(
    ("case", "bar", "within"),
    [(SEALED[0], 4.49, 0.14), (SEALED[1], 1.62, 0.08), (SEALED[2], 2.32, 0.1), (SEALED[3], 2.95, 0.1)],
)
def test_a_sealed_vessel_gives_the_worked_figures(
    case: tuple[float, ...], bar: float, within: float, found: Found
) -> None:
    names = "vessel_volume beer_volume original_gravity current_gravity final_gravity temperature gauge_pressure"
    done = found("sealed-vessel-pressure", **dict(zip(names.split(), case, strict=True)))
    assert done["gauge_pressure"] == pytest.approx(bar, abs=within)


def test_the_original_gravity_may_be_unknown_and_hardly_matters(found: Found) -> None:
    vessel = {
        "vessel_volume": 19,
        "beer_volume": 17,
        "current_gravity": 1.016,
        "final_gravity": 1.010,
        "temperature": 20,
    }
    guessed = run("sealed-vessel-pressure", vessel)
    told = found("sealed-vessel-pressure", **vessel, original_gravity=1.075)
    assert guessed.results["gauge_pressure"].value == pytest.approx(told["gauge_pressure"], rel=0.03)
    assert guessed.inputs["original_gravity"] == (1.050, 1.035, 1.090, "SG")


WARMED = [
    # vessel L, beer L, °C and bar gauge at the start, °C at the end, bar gauge at the end, within
    (19, 18, 3.33, 0.827, 21.1, 2.11, 0.08),
    (19, 10, 4.0, 0.8, 25.0, 1.63, 0.06),
    (0.5, 0.48, 4.0, 0.9, 35.0, 3.45, 0.12),
    (30, 23, 20.0, 2.0, 4.0, 1.00, 0.06),
]


@pytest.mark.parametrize(("vessel", "beer", "cold", "bar", "warm", "worked", "within"), WARMED)
def test_a_warmed_vessel_agrees_with_an_independent_balance(
    vessel: float, beer: float, cold: float, bar: float, warm: float, worked: float, within: float, found: Found
) -> None:
    grown = (
        beer * PropsSI("D", "T", cold + 273.15, "P", 1e5, "Water") / PropsSI("D", "T", warm + 273.15, "P", 1e5, "Water")
    )
    grams = held(beer, vessel - beer, cold, bar * 1e5 + ATMOSPHERE)
    absolute = brentq(
        lambda pascal: 1.9768 * beer * chart(warm, pascal) + (vessel - grown) * gas(warm, pascal) - grams, 1e3, 3e6
    )
    done = found(
        "warming-vessel-pressure", vessel_volume=vessel, beer_volume=beer, start_temperature=cold, end_temperature=warm,
        start_gauge_pressure=bar,
    )  # fmt: skip
    assert done["gauge_pressure"] + 1.01325 == pytest.approx(absolute / 1e5, rel=0.01)
    assert done["gauge_pressure"] == pytest.approx(worked, abs=within)


def test_a_vessel_that_would_fill_with_grown_beer_is_refused_and_one_nearly_full_is_warned_of() -> None:
    warming = {"start_temperature": "2 degC", "end_temperature": "40 degC", "start_gauge_pressure": "1 bar"}
    with pytest.raises(BadInput, match=r"beer_volume: 18\.9 L grow to 19\.\d+ L at 40 °C and fill the 19 L"):
        run("warming-vessel-pressure", {"vessel_volume": 19, "beer_volume": 18.9, **warming})
    nearly = run("warming-vessel-pressure", {"vessel_volume": 19, "beer_volume": 18.6, **warming})
    assert any("headspace would be left" in warning for warning in nearly.warnings)


def test_in_a_nearly_full_vessel_the_growth_of_the_beer_raises_the_pressure() -> None:
    warmed = {"start_temperature": 2, "end_temperature": 38, "start_gauge_pressure": 1}
    done = run("warming-vessel-pressure", {"vessel_volume": 19, "beer_volume": 18.8, **warmed})
    rigid = co2.Vessel(18.8, 0.2, 38.0).pressure(co2.Vessel(18.8, 0.2, 2.0).co2(2.01325)) - 1.01325
    assert done.results["gauge_pressure"].value > rigid + 0.05


def test_more_beer_than_the_vessel_holds_is_refused() -> None:
    vessel = {"vessel_volume": 19, "beer_volume": 19, "temperature": 20}
    with pytest.raises(BadInput, match=r"beer_volume: 19 L of beer leave no headspace in a vessel of 19 L"):
        run("sealed-vessel-pressure", {**vessel, "current_gravity": 1.02, "final_gravity": 1.01})


@pytest.mark.parametrize(
    ("name", "inputs"),
    [
        ("sealed-vessel-pressure", {"current_gravity": 1.011, "final_gravity": 1.010, "temperature": 20}),
        ("warming-vessel-pressure", {"start_temperature": 4, "end_temperature": 10, "start_gauge_pressure": 0.1}),
        ("spunding-plan", {"temperature": 12, "target_carbonation": 2.0}),
    ],
)
def test_no_vessel_is_ever_judged_safe(name: str, inputs: dict[str, float]) -> None:
    warnings = " ".join(run(name, {"vessel_volume": 30, "beer_volume": 20, **inputs}).warnings)
    assert "the pressure marked on it and a working relief valve decide" in warnings
    assert "Local codes" in warnings
    assert "safe" not in warnings


def test_air_shut_in_is_said_to_come_on_top() -> None:
    vessel = {"vessel_volume": 30, "beer_volume": 20, "temperature": 20, "current_gravity": 1.02, "final_gravity": 1.01}
    assert "air shut in would come on top" in run("sealed-vessel-pressure", vessel).working


# CO2 balance with CoolProp gas and the chart's fit; the headspace alone is CoolProp's density difference.
@pytest.mark.parametrize(
    ("vessel", "beer", "celsius", "start", "end", "released", "from_headspace"),
    [(30, 23, 20, 2.0, 0.7, 66.0, 16.9), (19, 18, 4, 1.5, 0.0, 76.1, 2.9)],
)
def test_venting_agrees_with_an_independent_balance(
    vessel: float, beer: float, celsius: float, start: float, end: float, released: float, from_headspace: float,
    found: Found,
) -> None:  # fmt: skip
    done = found(
        "venting-release", vessel_volume=vessel, beer_volume=beer, temperature=celsius, start_gauge_pressure=start,
        end_gauge_pressure=end,
    )  # fmt: skip
    head = vessel - beer
    balance = held(beer, head, celsius, start * 1e5 + ATMOSPHERE) - held(beer, head, celsius, end * 1e5 + ATMOSPHERE)
    assert done["co2_released"] == pytest.approx(balance, rel=0.005)
    assert done["co2_released"] == pytest.approx(released, rel=0.02)
    assert done["co2_from_headspace"] == pytest.approx(from_headspace, abs=0.1)
    assert done["gas_volume"] == pytest.approx(balance / gas(celsius, ATMOSPHERE), rel=0.005)


def test_venting_upwards_is_refused() -> None:
    vessel = {"vessel_volume": 30, "beer_volume": 23, "temperature": 20}
    with pytest.raises(BadInput, match="end_gauge_pressure: venting lowers the pressure"):
        run("venting-release", {**vessel, "start_gauge_pressure": 1, "end_gauge_pressure": 2})


SPUNDED = [
    # vessel L, beer L, original, final, °C, volumes wanted, close at
    (30, 23, 1.050, 1.010, 12, 2.5, 1.0136),
    (19, 17, 1.048, 1.010, 20, 2.4, 1.0135),
]


@pytest.mark.parametrize(("vessel", "beer", "og", "fg", "celsius", "target", "close"), SPUNDED)
def test_closed_at_the_gravity_it_says_the_vessel_ends_at_the_target(
    vessel: float, beer: float, og: float, fg: float, celsius: float, target: float, close: float, found: Found
) -> None:
    volumes = {"vessel_volume": vessel, "beer_volume": beer, "original_gravity": og, "final_gravity": fg}
    plan = found("spunding-plan", **volumes, temperature=celsius, target_carbonation=target)
    assert plan["close_valve_at_gravity"] == pytest.approx(close, abs=0.0003)
    sealed = found(
        "sealed-vessel-pressure", **volumes, current_gravity=plan["close_valve_at_gravity"], temperature=celsius
    )
    assert sealed["carbonation"] == pytest.approx(target, abs=0.005)
    assert sealed["gauge_pressure"] == pytest.approx(plan["gauge_pressure"], abs=0.005)


def test_the_valve_setting_is_gauge_and_follows_the_altitude(found: Found) -> None:
    at_sea = found("spunding-plan", temperature="12 degC", target_carbonation=2.5)["gauge_pressure"]
    high_up = found("spunding-plan", temperature="12 degC", target_carbonation=2.5, altitude="1609 m")["gauge_pressure"]
    assert chart(12, at_sea * 1e5 + ATMOSPHERE) == pytest.approx(2.5, abs=0.002)
    assert high_up - at_sea == pytest.approx((101.325 - 83.44) / 100, abs=0.001)


def test_without_gravities_and_volumes_only_the_setting_is_given(found: Found) -> None:
    assert found("spunding-plan", temperature=12, target_carbonation=2.5).keys() == {"gauge_pressure"}


def test_closed_now_is_what_the_sealed_vessel_would_reach(found: Found) -> None:
    volumes = {
        "vessel_volume": 30,
        "beer_volume": 23,
        "original_gravity": 1.05,
        "final_gravity": 1.01,
        "temperature": 12,
    }
    plan = found("spunding-plan", **volumes, current_gravity=1.016, target_carbonation=2.5)
    sealed = found("sealed-vessel-pressure", **volumes, current_gravity=1.016)
    assert plan["gauge_pressure_if_closed_now"] == pytest.approx(sealed["gauge_pressure"], abs=1e-6)
    assert plan["carbonation_if_closed_now"] == pytest.approx(sealed["carbonation"], abs=1e-6)


def test_too_little_left_to_ferment_is_pointed_out() -> None:
    done = run("spunding-plan", {
        "temperature": 12, "target_carbonation": 2.5, "original_gravity": 1.05, "current_gravity": 1.011,
        "final_gravity": 1.010, "beer_volume": 23, "vessel_volume": 30,
    })  # fmt: skip
    assert done.results["close_valve_at_gravity"].value > 1.011
    assert any("cylinder or priming" in warning for warning in done.warnings)


# ---- in the mountains, and with air shut in ----------------------------------------------------------------------

DENVER, OUTSIDE = "1609 m", 83_436.0
"""U.S. Standard Atmosphere, 1976: Pa outside at 1609 m."""


def test_a_sealed_vessel_in_the_mountains_starts_from_thinner_air(found: Found) -> None:
    made = 23 * (co2_by_excise(1.05, 1.01) - co2_by_excise(1.05, 1.014))
    end = balanced(23, 7, 20, held(23, 7, 20, OUTSIDE) + made)
    done = found(
        "sealed-vessel-pressure", vessel_volume=30, beer_volume=23, original_gravity=1.05, current_gravity=1.014,
        final_gravity=1.010, temperature=20, altitude=DENVER,
    )  # fmt: skip
    assert done["gauge_pressure"] + OUTSIDE / 1e5 == pytest.approx(end / 1e5, rel=0.03)


def test_a_keg_warmed_in_the_mountains_agrees_with_an_independent_balance(found: Found) -> None:
    rigid = balanced(10, 9, 25, held(10, 9, 4, 0.8e5 + OUTSIDE))
    done = found(
        "warming-vessel-pressure", vessel_volume=19, beer_volume=10, start_temperature=4, end_temperature=25,
        start_gauge_pressure=0.8, altitude=DENVER,
    )  # fmt: skip
    assert done["gauge_pressure"] + OUTSIDE / 1e5 == pytest.approx(rigid / 1e5, rel=0.01)


def test_venting_in_the_mountains_lets_out_the_same_beer_gas_and_a_larger_cloud(found: Found) -> None:
    venting = {"vessel_volume": 30, "beer_volume": 23, "temperature": 20, "start_gauge_pressure": 2.0}
    at_sea, high_up = (found("venting-release", **venting, end_gauge_pressure=0.7, altitude=m) for m in (0, DENVER))
    assert high_up["co2_released"] == pytest.approx(at_sea["co2_released"], rel=0.005)  # it follows the difference
    assert high_up["gas_volume"] / at_sea["gas_volume"] == pytest.approx(ATMOSPHERE / OUTSIDE, rel=0.01)


def test_a_bottle_presses_harder_against_thinner_air(found: Found) -> None:
    bottle = {"carbonation": 2.5, "temperature": 20}
    at_sea, high_up = (found("bottle-pressure", **bottle, altitude=metres)["gauge_pressure"] for metres in (0, DENVER))
    assert high_up - at_sea == pytest.approx((ATMOSPHERE - OUTSIDE) / 1e5, abs=0.0005)


def test_air_shut_in_over_fermenting_beer_adds_its_pressure(found: Found) -> None:
    # Dalton: beer saturated at the outside pressure, a headspace of air alone; the gas spreads, the air stays
    made = 23 * (co2_by_excise(1.05, 1.01) - co2_by_excise(1.05, 1.014))
    gas_at_end = balanced(23, 7, 20, 1.9768 * 23 * chart(20, ATMOSPHERE) + made)
    vessel = {"vessel_volume": 30, "beer_volume": 23, "original_gravity": 1.05, "temperature": 20}
    with_air, without = (
        found("sealed-vessel-pressure", **vessel, current_gravity=1.014, final_gravity=1.010, headspace_is_air=air)
        for air in (True, False)
    )
    assert with_air["gauge_pressure"] == pytest.approx(gas_at_end / 1e5, rel=0.03)
    assert with_air["gauge_pressure"] > without["gauge_pressure"] + 0.5
    assert with_air["carbonation"] < without["carbonation"]


def test_air_shut_in_warms_with_the_vessel_and_is_not_taken_for_carbon_dioxide(found: Found) -> None:
    # Dalton and the ideal gas: of 1 bar gauge over air at 1 atm just 1 bar is CO2; the air grows with the kelvins
    gas_at_end = balanced(10, 9, 25, held(10, 9, 4, 1e5))
    air_at_end = ATMOSPHERE * 298.15 / 277.15
    done = found(
        "warming-vessel-pressure", vessel_volume=19, beer_volume=10, start_temperature=4, end_temperature=25,
        start_gauge_pressure=1.0, headspace_is_air=True,
    )  # fmt: skip
    assert done["gauge_pressure"] == pytest.approx((gas_at_end + air_at_end - ATMOSPHERE) / 1e5, rel=0.015)


def test_air_shut_in_is_told_in_the_working_and_in_a_warning() -> None:
    vessel = {"vessel_volume": 19, "beer_volume": 10, "start_temperature": 4, "end_temperature": 25}
    done = run("warming-vessel-pressure", {**vessel, "start_gauge_pressure": 1.0, "headspace_is_air": "yes"})
    assert "headspace is air: yes" in done.working
    assert "(air shut in) - 1.013 (air outside)" in done.working
    assert any("Reckoned from a gauge at rest" in warning for warning in done.warnings)


@given(fall=st.floats(0.0, 0.02), litres=st.floats(5, 29), altitude=st.floats(0, 4000))
def test_a_headspace_closed_full_of_air_ends_higher_than_one_of_gas(
    fall: float, litres: float, altitude: float
) -> None:
    vessel = {"vessel_volume": 30, "beer_volume": litres, "temperature": 20, "altitude": altitude}
    closed = {**vessel, "current_gravity": 1.03, "final_gravity": 1.03 - fall}
    with_air, without = (
        run("sealed-vessel-pressure", {**closed, "headspace_is_air": air}).results["gauge_pressure"].value
        for air in (True, False)
    )
    assert with_air > without


# ---- what physics says of every vessel -------------------------------------------------------------------------

BEER, HEAD, TEMPERATURE, PRESSURE = st.floats(1, 500), st.floats(0, 500), st.floats(-2, 45), st.floats(0.5, 8)


@given(beer=BEER, head=HEAD, temperature=TEMPERATURE, pressure=PRESSURE)
def test_gas_held_and_pressure_are_inverse(beer: float, head: float, temperature: float, pressure: float) -> None:
    vessel = co2.Vessel(beer, head, temperature)
    assert vessel.pressure(vessel.co2(pressure)) == pytest.approx(pressure, rel=1e-9)


@given(beer=BEER, head=HEAD, temperature=TEMPERATURE, pressure=PRESSURE, rise=st.floats(0.1, 10))
def test_the_same_gas_in_a_warmer_vessel_presses_harder(
    beer: float, head: float, temperature: float, pressure: float, rise: float
) -> None:
    grams = co2.Vessel(beer, head, temperature).co2(pressure)
    assert co2.Vessel(beer, head, temperature + rise).pressure(grams) > pressure


@given(start=st.floats(0, 8), drop=st.floats(0, 1), celsius=st.floats(0, 40))
def test_more_comes_out_of_beer_and_headspace_than_of_the_headspace_alone(
    start: float, drop: float, celsius: float
) -> None:
    done = run("venting-release", {
        "vessel_volume": 30, "beer_volume": 20, "temperature": celsius, "start_gauge_pressure": start,
        "end_gauge_pressure": start * drop,
    }).results  # fmt: skip
    assert done["co2_released"].value >= done["co2_from_headspace"].value >= 0.0


@given(now=st.floats(1.010, 1.040), fall=st.floats(0.0, 0.01), more=st.floats(0.0005, 0.01))
def test_the_more_is_left_to_ferment_the_higher_the_pressure(now: float, fall: float, more: float) -> None:
    assume(now - fall - more > 0.99)

    def pressure(final: float) -> float:
        vessel = {"vessel_volume": 30, "beer_volume": 20, "temperature": 20, "original_gravity": 1.06}
        done = run("sealed-vessel-pressure", {**vessel, "current_gravity": now, "final_gravity": final})
        return done.results["gauge_pressure"].value

    assert pressure(now - fall - more) > pressure(now - fall)


@pytest.mark.parametrize("celsius", [0, 10, 20, 40])
@pytest.mark.parametrize("bar", [1.01325, 3.0, 6.0, 10.0])
def test_the_gas_is_as_dense_as_a_reference_equation_of_state_says(celsius: float, bar: float) -> None:
    assert co2.gas_density(celsius, bar) == pytest.approx(gas(celsius, bar * 1e5), rel=0.003)
