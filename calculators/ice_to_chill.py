"""Ice or cold water that brings hot wort down, or the temperature that a given amount brings."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from calculators import measures
from calculators.calculator import calculator
from calculators.core import BadInput, Found, Given, Reading, ResultSpec, quantity
from calculators.physics import heat, solution_density, sugar
from calculators.physics.wort import WATER_AT_20

_AIMS = ("target_temperature", "ice_mass", "cold_water_volume")


@calculator(
    "ice-to-chill",
    title="Ice or cold water to chill wort",
    inputs=(
        measures.volume("batch_volume"),
        quantity("wort_temperature", "degC", (0.0, 100.0), reading=measures.THERMOMETER),
        quantity("target_temperature", "degC", (0.5, 95.0), optional=True),
        quantity("ice_mass", "kg", (0.0, 5000.0), share=0.05, optional=True),
        quantity("cold_water_volume", "L", (0.0, 5000.0), share=0.03, optional=True),
        quantity("original_gravity", "SG", (1.0, 1.2), default=Reading(1.050, 1.035, 1.080, "SG")),
        quantity("ice_temperature", "degC", (-40.0, 0.0), default=Reading(-5.0, -18.0, 0.0, "degC")),
        quantity("cold_water_temperature", "degC", (0.0, 60.0), reading=measures.THERMOMETER, optional=True),
    ),
    results=(
        ResultSpec("temperature", "degC", absolute=0.5, possible=(0.0, 100.0)),
        ResultSpec("ice_mass", "kg", relative=0.05, possible=(0.0, 1e5), echoes=True),
        ResultSpec("cold_water_volume", "L", relative=0.05, possible=(0.0, 1e7), echoes=True),
        ResultSpec("gravity_with_ice", "SG", absolute=0.001),
        ResultSpec("gravity_with_cold_water", "SG", absolute=0.001),
    ),
    sources=(heat.ICE_FUSION, heat.WATER_ENTHALPY, heat.WORT_HEAT, solution_density.ICUMSA_DENSITY),
)
def ice_to_chill(
    batch_volume: float,
    wort_temperature: float,
    target_temperature: float | None,
    ice_mass: float | None,
    cold_water_volume: float | None,
    original_gravity: float,
    ice_temperature: float,
    cold_water_temperature: float | None,
) -> dict[str, float]:
    """Ice, or cold water, that brings wort to a wanted temperature; or the temperature that a given amount brings.

    Heat balance of wort and ice or water; vessel and air not counted. Added to the wort they thin it, see the
    gravities; the same mass of ice in a bath around the vessel takes up as much heat and thins nothing. Give one of
    target_temperature, ice_mass and cold_water_volume; with cold_water_temperature a target is answered both ways.

    Parameters
    ----------
    batch_volume : L of wort, at its own temperature, 0.05 to 5000
    wort_temperature : degC now, stirred, 0 to 100
    target_temperature : degC wanted, 0.5 to 95
    ice_mass : kg of ice, 0 to 5000
    cold_water_volume : L of cold water, 0 to 5000
    original_gravity : SG of the wort before, 1.0 to 1.2; 1.035 to 1.080 is taken where it is not known
    ice_temperature : degC of the ice, -40 to 0; from a home freezer -18, melting ice 0
    cold_water_temperature : degC, 0 to 60; for cold_water_volume

    Returns
    -------
    temperature : degC once all is melted and mixed
    ice_mass : kg of ice
    cold_water_volume : L of cold water, where its temperature is given
    gravity_with_ice : SG after the ice has melted into the wort
    gravity_with_cold_water : SG after the water is stirred in

    References
    ----------
    Heat of fusion (iapws-06); water (iapws-95); wort as a sugar solution, from memory (sugar-solution-heat);
    densities (icumsa-sucrose-density)

    Examples
    --------
    >>> import calculators
    >>> done = calculators.run("ice-to-chill", {
    ...     "batch_volume": "20 L", "wort_temperature": "30 degC", "target_temperature": "20 degC",
    ...     "original_gravity": "1.050", "ice_temperature": "0 degC"})
    >>> round(done.results["ice_mass"].value, 1)
    2.0
    """
    hot = _Hot.of(batch_volume, wort_temperature, original_gravity)
    if target_temperature is not None:
        found = {"temperature": target_temperature}
        ice_mass = hot.ice_for(target_temperature, ice_temperature)
        if cold_water_temperature is not None:
            cold_water_volume = hot.water_for(target_temperature, cold_water_temperature) / WATER_AT_20
    elif ice_mass is not None:
        found = {"temperature": max(0.0, hot.mixed(ice_mass, heat.to_warm_ice(ice_temperature, 0.0)))}
    else:
        assert cold_water_volume is not None
        assert cold_water_temperature is not None
        given_up = -heat.water(cold_water_temperature)
        found = {"temperature": hot.mixed(cold_water_volume * WATER_AT_20, given_up)}
    if ice_mass is not None:
        found |= {"ice_mass": ice_mass, "gravity_with_ice": hot.gravity_with(ice_mass)}
    if cold_water_volume is not None:
        gravity = hot.gravity_with(cold_water_volume * WATER_AT_20)
        found |= {"cold_water_volume": cold_water_volume, "gravity_with_cold_water": gravity}
    return found


class _Hot(NamedTuple):
    """The wort before: kg, °P, °C, kJ/(kg K)."""

    mass: float
    extract: float
    temperature: float
    specific_heat: float

    @classmethod
    def of(cls, volume: float, temperature: float, gravity: float) -> _Hot:
        extract = sugar.extract(gravity)
        mass = volume * solution_density.sugar_solution(extract / 100.0, temperature) / 1000.0
        return cls(mass, extract, temperature, heat.wort_specific_heat(extract, temperature))

    def heat_above(self, temperature: float) -> float:
        """kJ it gives up down to ``temperature``; none where it is no warmer."""
        return max(0.0, self.mass * self.specific_heat * (self.temperature - temperature))

    def ice_for(self, target: float, ice_temperature: float) -> float:
        return self.heat_above(target) / heat.to_warm_ice(ice_temperature, target)

    def water_for(self, target: float, water_temperature: float) -> float:
        """kg; at most a hundred times the wort, where the water is hardly colder than the target."""
        taken_up = heat.water(target) - heat.water(water_temperature)
        most = 100.0 * self.mass
        return min(most, self.heat_above(target) / taken_up) if taken_up > 0.0 else most

    def mixed(self, mass: float, to_zero: float) -> float:
        """Temperature with ``mass`` kg in it that take up ``to_zero`` kJ/kg to become water of 0 °C."""
        capacity = self.mass * self.specific_heat + 4.19 * mass
        temperature = (self.mass * self.specific_heat * self.temperature - mass * to_zero) / capacity
        for _ in range(3):
            given_up = self.mass * self.specific_heat * (self.temperature - temperature)
            temperature += (given_up - mass * (to_zero + heat.water(temperature))) / capacity
        return temperature

    def gravity_with(self, water: float) -> float:
        return sugar.specific_gravity(self.extract * self.mass / (self.mass + water))


@ice_to_chill.checks
def _checks(given: Given) -> None:
    measures.known_of(given, _AIMS, 1)
    wort, target, water = (given[name] for name in ("wort_temperature", "target_temperature", "cold_water_temperature"))
    if target is not None and target > wort:
        raise BadInput("target_temperature", f"{target:g} degC is above the wort's {wort:g}: this only chills.")
    if target is not None and water is not None and water >= target:
        raise BadInput(
            "cold_water_temperature",
            f"water of {water:g} degC cannot bring wort to {target:g}. Leave it out: take ice.",
        )
    if given["cold_water_volume"] is not None and water is None:
        raise BadInput("cold_water_temperature", "is missing. Give it, for example '12 degC'.")


@ice_to_chill.working
def _working(given: Given, found: Found) -> Iterator[str]:
    hot = _Hot.of(given["batch_volume"], given["wort_temperature"], given["original_gravity"])
    end = found["temperature"]
    yield (
        f"wort gives up {hot.mass:.2f} kg × {hot.specific_heat:.2f} kJ/(kg K) × ({hot.temperature:.1f} - {end:.1f}) K "
        f"= {hot.heat_above(end):.0f} kJ"
    )
    if "ice_mass" in found:
        per_kg = heat.to_warm_ice(given["ice_temperature"], end)
        yield f"ice from {given['ice_temperature']:.0f} °C takes up {per_kg:.0f} kJ/kg: {found['ice_mass']:.2f} kg"
    if "cold_water_volume" in found:
        per_kg = heat.water(end) - heat.water(given["cold_water_temperature"])
        yield (
            f"water of {given['cold_water_temperature']:.0f} °C takes up {per_kg:.0f} kJ/kg: "
            f"{found['cold_water_volume']:.2f} L"
        )


@ice_to_chill.warnings
def _warnings(given: Given, found: Found) -> Iterator[str]:
    yield (
        "Into the wort only ice or water that was boiled and kept clean, sealed: what falls in below about 70 °C "
        "(160 °F) is not sterilised any more."
    )
    yield "Never put hot glass into ice or cold water: it can shatter and cut."
    if given["ice_mass"] is not None and found["temperature"] <= 0.0:
        yield "That is more ice than melts: the wort comes down to about 0 °C and ice is left."
