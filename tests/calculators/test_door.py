"""How inputs come in: as text, number, reading, range or mapping; and how bad ones are refused."""

from __future__ import annotations

import pytest

import calculators
from calculators import BadInput, Reading

Inputs = dict[str, calculators.InputValue]

EQUILIBRIUM = "carbonation-equilibrium"


def test_a_number_is_in_the_inputs_own_unit_and_gets_the_instruments_usual_error() -> None:
    done = calculators.run(EQUILIBRIUM, {"temperature": 4, "gauge_pressure": 0.8})
    assert done.inputs["temperature"] == Reading(4.0, 3.0, 5.0, "degC")
    assert done.inputs["gauge_pressure"] == pytest.approx((0.8, 0.75, 0.85, "bar"))


def test_a_reading_keeps_its_own_range_and_may_bring_its_unit() -> None:
    done = calculators.run(
        EQUILIBRIUM, {"temperature": Reading(38, 36, 40, "degF"), "gauge_pressure": Reading(0.83, 0.80, 0.86)}
    )
    assert done.inputs["temperature"] == pytest.approx((3.3333, 2.2222, 4.4444, "degC"), abs=1e-4)
    assert done.inputs["gauge_pressure"] == Reading(0.83, 0.80, 0.86, "bar")


def test_a_range_is_a_value_with_ends() -> None:
    done = calculators.run("finish-estimate", {"original_gravity": "1.050", "attenuation": "72 to 78 percent"})
    assert done.inputs["attenuation"] == Reading(75.0, 72.0, 78.0, "percent")


def test_a_mapping_brings_value_unit_and_range() -> None:
    done = calculators.run(EQUILIBRIUM, {"temperature": {"value": 38, "unit": "degF"}, "carbonation": {"value": 2.5}})
    assert done.results["gauge_pressure"].value == pytest.approx(0.773, abs=0.01)


def test_all_bad_inputs_are_named_in_one_message() -> None:
    with pytest.raises(BadInput, match=r"colour: there is no such input.*temperature: '3 L' is a volume") as refused:
        calculators.run(EQUILIBRIUM, {"temperature": "3 L", "gauge_pressure": "1 bar", "colour": "blue"})
    assert [field for field, _ in refused.value.faults] == ["colour", "temperature"]


@pytest.mark.parametrize(
    ("inputs", "message"),
    [
        ({"temperature": "4 degC"}, r"gauge_pressure: give two of temperature, gauge_pressure and carbonation, not 1"),
        ({"temperature": 4, "gauge_pressure": 90}, r"gauge_pressure: 90 bar cannot be: it must lie between -0\.5 bar"),
        ({"temperature": float("nan"), "carbonation": 2}, r"temperature: nan is not a finite figure"),
        ({"temperature": True, "carbonation": 2}, r"temperature: True is not a figure"),
        ({"temperature": Reading(4, 6, 8), "carbonation": 2}, r"temperature: its range does not hold its value"),
        ({"gauge_pressure": 0.1, "carbonation": 9}, r"temperature: these figures together would give .*cannot be"),
    ],
)
def test_a_value_that_cannot_be_is_refused_by_name_with_what_to_do(inputs: Inputs, message: str) -> None:
    with pytest.raises(BadInput, match=message):
        calculators.run(EQUILIBRIUM, inputs)


def test_a_missing_input_and_a_wrong_choice_say_what_there_is() -> None:
    with pytest.raises(BadInput, match=r"reading: is missing\. Give it, for example '1\.050'"):
        calculators.run("hydrometer-correction", {"sample_temperature": "30 degC"})
    with pytest.raises(BadInput, match=r"sugar_type: 'treacle' is not one of: dextrose, table-sugar"):
        calculators.run("priming-sugar", {"sugar_type": "treacle", "beer_volume": 20, "warmest_temperature": 20})


def test_the_working_holds_the_customers_own_figures_and_both_unit_systems() -> None:
    done = calculators.run(EQUILIBRIUM, {"temperature": "38 degF", "gauge_pressure": "12 psi"}, "us")
    assert "temperature: 38 degF = 38 °F (3.3 °C)" in done.working
    assert "carbonation = (0.827 + 1.013) × 1.4013 - 0.003 = 2.58 vol" in done.working


def test_a_calculation_as_data_has_the_shape_of_the_consultation() -> None:
    data = calculators.run(EQUILIBRIUM, {"temperature": "38 degF", "gauge_pressure": "12 psi"}).as_dict()
    assert list(data) == ["calculator", "inputs", "results", "working", "sources", "warnings"]
    assert data["results"]["carbonation"].keys() == {"value", "unit", "low", "high"}
    assert "miller-1994" in data["sources"]
