"""What one run of each calculator costs, with uncertainty and working, beside one bare unit conversion.

Run as a script: ``.venv/bin/python tests/bench/bench_calculators.py``. Times differ between machines; the ratio to a
bare conversion by the unit library, taken in the same run, is what to compare. The figures given are varied a
little from run to run, so that nothing is answered from a cache.
"""

from __future__ import annotations

import doctest
from collections.abc import Callable
from time import process_time

import calculators
from calculators import units

VESSEL = {"vessel_volume": "30 L", "beer_volume": "23 L"}
GRAVITIES = {"original_gravity": "1.050", "current_gravity": "1.016", "final_gravity": "1.010"}
YEAST = {"yeast_temperature_low": "10 degC", "yeast_temperature_high": "14 degC"}
CASES: dict[str, dict[str, calculators.InputValue]] = {
    "altitude-pressure": {"altitude": "5000 ft", "sea_level_gauge_pressure": "12 psi"},
    "alcohol-and-attenuation": {"original_gravity": "1.050", "current_gravity": "1.010"},
    "bottle-pressure": {"carbonation": 2.5, "temperature": "20 degC", "gravity_to_fall": 0.002},
    "carbonation-equilibrium": {"temperature": "38 degF", "gauge_pressure": "12 psi"},
    "extract-conversion": {"specific_gravity": "1.050"},
    "finish-estimate": {"original_gravity": "1.050", "attenuation": "72 to 78 percent", "current_gravity": "1.020"},
    "hydrometer-correction": {"reading": "1.050", "sample_temperature": "30 degC"},
    "pressure-temperature-choice": {"gauge_pressure": "15 psi", "temperature": "68 degF", **YEAST},
    "priming-sugar": {
        "beer_volume": "5 gal",
        "warmest_temperature": "68 degF",
        "sugar_type": "dextrose",
        "target_carbonation": 2.4,
    },
    "refractometer-correction": {"current_brix": "6.5 degBx", "original_brix": "12.4 degBx"},
    "residual-carbonation": {"warmest_temperature": "68 degF"},
    "sealed-vessel-pressure": {**VESSEL, **GRAVITIES, "temperature": "20 degC"},
    "spunding-plan": {**VESSEL, **GRAVITIES, "temperature": "12 degC", "target_carbonation": 2.5},
    "venting-release": {
        **VESSEL,
        "temperature": "20 degC",
        "start_gauge_pressure": "2 bar",
        "end_gauge_pressure": "10 psi",
    },
    "warming-vessel-pressure": {
        **VESSEL,
        "start_temperature": "38 degF",
        "end_temperature": "70 degF",
        "start_gauge_pressure": "12 psi",
    },
    "bitterness": {
        "batch_volume": "5 gal",
        "original_gravity": "1.050",
        "preboil_gravity": "1.044",
        "alpha_acid": "6 percent",
        "boil_minutes": "60 min",
        "hop_mass": "1 oz",
        "boil_minutes_left": "20 min",
    },
    "cylinder-use": {
        "cylinder_temperature": "68 degF",
        "cylinder_water_capacity": "3.4 L",
        "cylinder_mass": "12 lb",
        "empty_cylinder_mass": "7.5 lb",
        "beer_volume": "5 gal",
        "beer_temperature": "38 degF",
        "gauge_pressure": "12 psi",
        "start_carbonation": 0.85,
        "target_carbonation": 2.5,
        "leak_rate": "5 g/h",
    },
    "dilution": {
        "water_volume": "5 gal",
        "dose_volume": "2 fl oz",
        "label_dose_volume": "1 fl oz",
        "label_water_volume": "5 gal",
        "stock_strength": "60 g/L",
    },
    "extraction-efficiency": {
        "grain_mass": "10 lb",
        "batch_volume": "6.5 gal",
        "gravity": "1.045",
        "potential_points": "37 points gal/lb",
        "volume_temperature": "200 degF",
    },
    "gas-in-room": {
        "room_volume": "30 m3",
        "beer_volume": "20 L",
        "original_gravity": "1.050",
        "final_gravity": "1.010",
        "co2_flow": "10 g/h",
        "air_changes": "2 per hour",
    },
    "gravity-correction": {
        "batch_volume": "20 L",
        "gravity": "1.040",
        "volume_temperature": "95 degC",
        "target_gravity": "1.048",
        "target_volume": "20 L",
        "boil_off_rate": "3 L/h",
    },
    "ice-to-chill": {
        "batch_volume": "20 L",
        "wort_temperature": "30 degC",
        "target_temperature": "20 degC",
        "original_gravity": "1.050",
        "cold_water_temperature": "12 degC",
    },
    "line-balance": {
        "line_bore": "3/16 in",
        "line_length": "10 ft",
        "gauge_pressure": "12 psi",
        "rise": "2 ft",
        "temperature": "38 degF",
    },
    "mash-correction": {
        "grain_mass": "5 kg",
        "mash_water_volume": "15 L",
        "mash_temperature": "62 degC",
        "target_mash_temperature": "67 degC",
        "added_water_temperature": "99 degC",
    },
    "pitching-rate": {
        "batch_volume": "5 gal",
        "original_gravity": "1.050",
        "yeast_type": "lager",
        "yeast_age": "60 d",
        "pack_count": 1,
        "final_gravity": "1.010",
    },
    "relief-capacity": {
        "relief_pressure": "35 psi",
        "orifice_bore": "3 mm",
        "beer_volume": "23 L",
        "gravity_fall_per_day": "20 points",
        "altitude": "5000 ft",
    },
    "strike-temperature": {
        "grain_mass": "10 lb",
        "mash_water_volume": "15 qt",
        "target_mash_temperature": "152 degF",
        "grain_temperature": "68 degF",
    },
    "transfer-time": {
        "beer_volume": "20 L",
        "line_bore": "6 mm",
        "line_length": "2 m",
        "gauge_pressure": "0.15 bar",
        "rise": "0.5 m",
    },
}
VARIED = ("original_gravity", "specific_gravity", "reading", "gravity")


def microseconds(work: Callable[[int], object], repeats: int = 5, each: int = 200) -> float:
    """Best of ``repeats`` mean processor times of ``each`` calls; every call gets a number of its own."""
    times = []
    for repeat in range(repeats):
        start = process_time()
        for number in range(each):
            work(repeat * each + number)
        times.append((process_time() - start) / each * 1e6)
    return min(times)


def varied(inputs: dict[str, calculators.InputValue], number: int) -> dict[str, calculators.InputValue]:
    """The same inputs with the gravity moved by a millionth, so that no cache knows them."""
    return {name: f"{float(str(v)) + number * 1e-6:.6f}" if name in VARIED else v for name, v in inputs.items()}


def case(name: str) -> dict[str, calculators.InputValue]:
    """The case above, or else the first run in the calculator's own docstring: a new calculator is measured at once."""
    if name in CASES:
        return CASES[name]
    runs: list[dict[str, calculators.InputValue]] = []

    class Recorder:
        @staticmethod
        def run(name: str, inputs: dict[str, calculators.InputValue]) -> calculators.Calculation:
            runs.append(inputs)
            return calculators.run(name, inputs)

    names: dict[str, object] = {"calculators": Recorder}
    for example in doctest.DocTestParser().get_examples(calculators.get(name).doc):
        if not example.source.startswith("import"):
            exec(example.source, names)
    return runs[0]


def running(name: str) -> Callable[[int], object]:
    """One run of the calculator for each number, every time with inputs of its own."""
    inputs = [varied(case(name), number) for number in range(1000)]
    return lambda number: calculators.run(name, inputs[number])


def main() -> None:
    bare = microseconds(lambda _: units.registry.Quantity(12.0, "psi").to("bar"))
    print(f"{'one bare unit conversion':32}{bare:8.1f} µs  1.00")
    for name in calculators.names():
        took = microseconds(running(name))
        print(f"{name:32}{took:8.1f} µs {took / bare:5.2f}{'' if took <= 200 else '  over 200 µs'}")


if __name__ == "__main__":
    main()
