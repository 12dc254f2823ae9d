"""What one run of each calculator costs, with uncertainty and working, beside one bare unit conversion.

Run as a script: ``.venv/bin/python tests/bench/bench_calculators.py``. Times differ between machines; the ratio to a
bare conversion by the unit library, taken in the same run, is what to compare. The figures given are varied a
little from run to run, so that nothing is answered from a cache.
"""

from __future__ import annotations

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
}
VARIED = ("original_gravity", "specific_gravity", "reading")


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


def main() -> None:
    bare = microseconds(lambda _: units.registry.Quantity(12.0, "psi").to("bar"))
    print(f"{'one bare unit conversion':32}{bare:8.1f} µs  1.00")
    for name in calculators.names():
        if name not in CASES:
            print(f"{name:32}not measured: add a case")
            continue
        inputs = [varied(CASES[name], number) for number in range(1000)]
        took = microseconds(lambda number, name=name, inputs=inputs: calculators.run(name, inputs[number]))
        print(f"{name:32}{took:8.1f} µs {took / bare:5.2f}{'' if took <= 200 else '  over 200 µs'}")


if __name__ == "__main__":
    main()
