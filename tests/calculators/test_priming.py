"""Residual carbonation, priming sugar and the pressure in a bottle."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators import BadInput, InputValue, run
from calculators.priming_sugar import SUGARS

Found = Callable[..., dict[str, float]]
Inputs = dict[str, InputValue]


# Midpoint of Weiss (1974), pure water less its vapour, and the fit to the ASBC chart, both at 1 atm.
@pytest.mark.parametrize(("celsius", "volumes"), [(20, 0.84), (10, 1.16)])
def test_finished_beer_holds_what_its_warmest_day_left(celsius: float, volumes: float, found: Found) -> None:
    done = found("residual-carbonation", warmest_temperature=celsius)
    assert done["carbonation"] == pytest.approx(volumes, abs=0.04)


def test_pressure_kept_and_altitude_count_for_what_is_left(found: Found) -> None:
    plain = found("residual-carbonation", warmest_temperature="20 degC")["carbonation"]
    kept = found("residual-carbonation", warmest_temperature="20 degC", gauge_pressure="10 psi")["carbonation"]
    high = found("residual-carbonation", warmest_temperature="20 degC", altitude="1609 m")["carbonation"]
    assert kept == pytest.approx(plain * (1 + 10 / 14.696), abs=0.01)
    assert high == pytest.approx(plain * 83.44 / 101.325, abs=0.01)


def test_beer_under_thinner_air_keeps_less_and_is_primed_with_more(found: Found) -> None:
    # U.S. Standard Atmosphere, 1976: 83.44 kPa at 1609 m against 101.325 at the sea
    beer: Inputs = {
        "beer_volume": 20,
        "warmest_temperature": 20,
        "sugar_type": "table-sugar",
        "target_carbonation": 2.4,
    }
    at_sea, high_up = (found("priming-sugar", **beer, altitude=metres) for metres in (0, 1609))
    kept = high_up["residual_carbonation"] / at_sea["residual_carbonation"]
    assert kept == pytest.approx(83.44 / 101.325, abs=0.002)
    assert high_up["sugar_mass"] > at_sea["sugar_mass"] + 10


# Stoichiometry C6H12O6 -> 2 C2H5OH + 2 CO2 with IUPAC molar masses: grams of CO2 per gram.
@pytest.mark.parametrize(("sugar", "moles", "molar_mass"), [("dextrose", 2, 198.171), ("table-sugar", 4, 342.297)])
def test_the_pure_sugars_follow_the_stoichiometry(sugar: str, moles: int, molar_mass: float) -> None:
    assert SUGARS[sugar].co2 == pytest.approx(moles * 44.0095 / molar_mass, abs=0.0001)


# Residual CO2 as above and the stoichiometric yield; 1 vol = 1.977 g/L (CoolProp, 0 °C, 101.325 kPa).
@pytest.mark.parametrize(
    ("litres", "target", "warmest", "sugar", "grams", "within"),
    [
        (20, 2.4, 20, "table-sugar", 120.0, 3.5),
        (20, 2.4, 20, "dextrose", 139.0, 4.0),
        (10, 3.0, 12, "table-sugar", 74.0, 2.0),
    ],
)
def test_gives_the_worked_amounts(
    litres: float, target: float, warmest: float, sugar: str, grams: float, within: float, found: Found
) -> None:
    beer: Inputs = {"beer_volume": litres, "warmest_temperature": warmest, "sugar_type": sugar}
    assert found("priming-sugar", **beer, target_carbonation=target)["sugar_mass"] == pytest.approx(grams, abs=within)


def test_five_ounces_of_dextrose_in_five_us_gallons(found: Found) -> None:
    # the same balance the other way; five ounces to five gallons is the trade's old rule (common practice)
    done = found(
        "priming-sugar", beer_volume="5 gal", warmest_temperature="20 degC", sugar_type="dextrose", sugar_mass="5 oz"
    )
    assert done["carbonation"] == pytest.approx(2.53, abs=0.08)


def test_five_imperial_gallons_need_a_fifth_more_than_five_us_gallons(found: Found) -> None:
    beer = {"warmest_temperature": "20 degC", "sugar_type": "dextrose", "target_carbonation": 2.4}
    us = found("priming-sugar", **beer, beer_volume="5 gal")["sugar_mass"]
    imperial = found("priming-sugar", **beer, beer_volume="5 imp gal")["sugar_mass"]
    assert imperial / us == pytest.approx(4.54609 / 3.785411784)


def test_a_cold_crashed_beer_is_primed_by_its_warmest_day(found: Found) -> None:
    beer = {"beer_volume": "20 L", "sugar_type": "table-sugar", "target_carbonation": 2.4}
    by_the_warm_day = found("priming-sugar", **beer, warmest_temperature="20 degC")["sugar_mass"]
    by_the_cold_crash = found("priming-sugar", **beer, warmest_temperature="2 degC")["sugar_mass"]
    assert by_the_warm_day - by_the_cold_crash > 40  # reckoned by the crash the beer would be nearly flat


def test_the_target_is_the_carbonation_and_the_dose_is_per_litre(found: Found) -> None:
    done = found("priming-sugar", beer_volume=20, warmest_temperature=20, sugar_type="honey", target_carbonation=2.4)
    assert done["carbonation"] == pytest.approx(2.4)
    assert done["sugar_concentration"] == pytest.approx(done["sugar_mass"] / 20)


def test_malt_extract_is_less_sure_than_sugar() -> None:
    beer: Inputs = {"beer_volume": 20, "warmest_temperature": 20, "target_carbonation": 2.4}
    spread = {}
    for sugar in ("table-sugar", "dry-malt-extract"):
        mass = run("priming-sugar", {**beer, "sugar_type": sugar}).results["sugar_mass"]
        spread[sugar] = (mass.high - mass.low) / mass.value
    assert spread["dry-malt-extract"] > 1.3 * spread["table-sugar"]


def test_a_beer_that_holds_more_than_the_target_gets_no_sugar_and_is_told_so() -> None:
    beer: Inputs = {"beer_volume": 20, "warmest_temperature": 2, "sugar_type": "dextrose"}
    done = run("priming-sugar", {**beer, "target_carbonation": 1.2})
    assert done.results["sugar_mass"].value == 0.0
    assert any("already holds more" in warning for warning in done.warnings)


def test_priming_warns_of_beer_not_finished_and_of_more_than_bottles_take() -> None:
    beer: Inputs = {"beer_volume": 20, "warmest_temperature": 20, "sugar_type": "dextrose"}
    usual = run("priming-sugar", {**beer, "target_carbonation": 2.4}).warnings
    much = run("priming-sugar", {**beer, "sugar_mass": "400 g"}).warnings
    assert any("can burst bottles" in warning for warning in usual)
    assert any("More than 3 volumes" in warning for warning in much)


def test_beer_kept_under_pressure_or_primed_once_more_gets_only_what_it_lacks(found: Found) -> None:
    beer = {"beer_volume": 20, "sugar_type": "table-sugar", "target_carbonation": 2.4}
    lacking = found("priming-sugar", **beer, present_carbonation=1.4)["sugar_mass"]
    assert lacking == pytest.approx(1.0 * 20 * 1.977 / 0.5143, abs=0.1)  # one volume by the stoichiometry above


@pytest.mark.parametrize("held", [{}, {"warmest_temperature": 20, "present_carbonation": 1.4}])
def test_what_the_beer_holds_is_told_in_exactly_one_way(held: dict[str, float]) -> None:
    beer: Inputs = {"beer_volume": 20, "sugar_type": "dextrose", "sugar_mass": 100}
    with pytest.raises(BadInput, match="give either warmest_temperature or present_carbonation"):
        run("priming-sugar", {**beer, **held})


def test_target_and_mass_together_are_refused() -> None:
    beer: Inputs = {"beer_volume": 20, "warmest_temperature": 20, "sugar_type": "dextrose"}
    with pytest.raises(BadInput, match="target_carbonation: give either target_carbonation or sugar_mass"):
        run("priming-sugar", {**beer, "target_carbonation": 2.4, "sugar_mass": 100})


@given(litres=st.floats(1, 1000), warmest=st.floats(0, 35), more=st.floats(0.1, 2.5), sugar=st.sampled_from([*SUGARS]))
def test_mass_and_carbonation_are_inverse(litres: float, warmest: float, more: float, sugar: str) -> None:
    beer: Inputs = {"beer_volume": litres, "warmest_temperature": warmest, "sugar_type": sugar}
    residual = run("residual-carbonation", {"warmest_temperature": warmest}).results["carbonation"].value
    mass = run("priming-sugar", {**beer, "target_carbonation": residual + more}).results["sugar_mass"].value
    made = run("priming-sugar", {**beer, "sugar_mass": mass}).results["carbonation"].value
    assert made == pytest.approx(residual + more, abs=1e-9)


# The fit to the ASBC chart, inverted (coefficients from memory); air in the neck not counted.
@pytest.mark.parametrize(("volumes", "celsius", "bar", "within"), [(2.5, 20, 2.0, 0.05), (3.0, 30, 3.7, 0.1)])
def test_gives_the_worked_bottle_pressures(
    volumes: float, celsius: float, bar: float, within: float, found: Found
) -> None:
    done = found("bottle-pressure", carbonation=volumes, temperature=celsius)
    assert done["gauge_pressure"] == pytest.approx(bar, abs=within)


def test_each_point_left_to_ferment_adds_half_a_volume(found: Found) -> None:
    # Balling: 0.9565 g CO2 per g ethanol, about 0.50 vol for each gravity point
    done = found("bottle-pressure", carbonation=2.5, temperature="20 degC", gravity_to_fall="4 points")
    assert done["carbonation"] == pytest.approx(2.5 + 4 * 0.50, abs=0.03)
    past = found("bottle-pressure", carbonation=2.5, temperature="20 degC", gravity_to_fall=-0.003)
    assert past["carbonation"] == 2.5


def test_arithmetic_never_judges_a_bottle() -> None:
    done = run("bottle-pressure", {"carbonation": 2.0, "temperature": "4 degC"})
    assert any("its maker's rating decides" in warning for warning in done.warnings)


@given(volumes=st.floats(0.5, 6), cold=st.floats(-2, 39), step=st.floats(0.1, 1))
def test_a_warmer_bottle_always_holds_more_pressure(volumes: float, cold: float, step: float) -> None:
    def pressure(temperature: float) -> float:
        done = run("bottle-pressure", {"carbonation": volumes, "temperature": temperature})
        return done.results["gauge_pressure"].value

    assert pressure(cold + step) > pressure(cold)
