"""How hot the strike water must be, or how warm the mash will come out."""

from __future__ import annotations

from collections.abc import Iterator

from calculators import measures
from calculators.calculator import calculator
from calculators.core import BadInput, Found, Given, Reading, ResultSpec, quantity
from calculators.physics import heat
from calculators.physics.wort import WATER_AT_20

THREE = ("mash_water_volume", "strike_temperature", "target_mash_temperature")


@calculator(
    "strike-temperature",
    title="Strike water",
    inputs=(
        measures.grain_mass(),
        measures.mash_water_volume(optional=True),
        quantity("strike_temperature", "degC", (0.0, 100.0), reading=measures.THERMOMETER, optional=True),
        quantity("target_mash_temperature", "degC", (20.0, 90.0), established=(35.0, 80.0), optional=True),
        quantity("grain_temperature", "degC", (-10.0, 50.0), default=Reading(20.0, 17.0, 23.0, "degC")),
        measures.grain_specific_heat(),
        quantity("slaking_rise", "delta_degC", (0.0, 6.0), established=(0.0, 3.0), default=0.0),
    ),
    results=(
        ResultSpec("strike_temperature", "degC", absolute=1.0, possible=(0.0, 100.0), echoes=True),
        ResultSpec("mash_temperature", "degC", absolute=1.0, possible=(-10.0, 100.0)),
        ResultSpec("mash_water_volume", "L", relative=0.03, possible=(0.0, 100_000.0), echoes=True),
        ResultSpec("water_to_grain", "L/kg"),
    ),
    sources=(heat.MALT_HEAT, heat.WATER_ENTHALPY),
)
def strike_temperature(
    grain_mass: float,
    mash_water_volume: float | None,
    strike_temperature: float | None,
    target_mash_temperature: float | None,
    grain_temperature: float,
    grain_specific_heat: float,
    slaking_rise: float,
) -> dict[str, float]:
    """Strike water temperature for a wanted mash; or the mash that given water makes; or the water it takes.

    Heat balance: what the water gives up the grain takes. The tun is not in it: a cold tun takes a kelvin or more,
    one warmed beforehand next to nothing, so the result is good to 1 K. Give two of mash_water_volume,
    strike_temperature and target_mash_temperature.

    Parameters
    ----------
    grain_mass : kg of dry grain, 0.01 to 2000
    mash_water_volume : L of mash water measured COLD (20 °C), 0.05 to 10000; hot water takes up to 4 % more room
    strike_temperature : degC of the water when it meets the grain, 0 to 100
    target_mash_temperature : degC wanted when all is mixed, 20 to 90 (usual: 35 to 80)
    grain_temperature : degC of the grain, -10 to 50; 17 to 23 is taken where it is not known
    grain_specific_heat : 1, its specific heat as a share of water's, 0.2 to 0.6; 0.38 to 0.42 for malt
    slaking_rise : delta_degC, a DIFFERENCE, 0 to 6, that dry malt adds on wetting (to 3 in the table; usually lost in a
        small tun, so 0 is taken)

    Returns
    -------
    strike_temperature : degC of the water when it meets the grain
    mash_temperature : degC when all is mixed
    mash_water_volume : L measured cold (20 °C)
    water_to_grain : L/kg; the thickness of the mash

    References
    ----------
    Pauls and Whites Brewing Room Book (pauls-whites-1984); water by IAPWS-95 (iapws-95)

    Examples
    --------
    >>> import calculators
    >>> done = calculators.run("strike-temperature", {
    ...     "grain_mass": "5 kg", "mash_water_volume": "15 L", "target_mash_temperature": "67 degC"})
    >>> round(done.results["strike_temperature"].value, 1)
    73.3
    """
    grain = heat.Mash(grain_mass, grain_specific_heat)
    if target_mash_temperature is None:
        assert mash_water_volume is not None
        assert strike_temperature is not None
        mixed = grain.mixed(grain_temperature, mash_water_volume * WATER_AT_20, strike_temperature)
    else:
        mixed = target_mash_temperature - slaking_rise
    if strike_temperature is None:
        assert mash_water_volume is not None
        taken = grain.heat(grain_temperature, mixed) / (mash_water_volume * WATER_AT_20)
        strike_temperature = heat.water_temperature(heat.water(mixed) + taken)
    elif mash_water_volume is None:
        mash_water_volume = grain.water_for(grain_temperature, mixed, strike_temperature) / WATER_AT_20
    return {
        "strike_temperature": strike_temperature,
        "mash_temperature": mixed + slaking_rise,
        "mash_water_volume": mash_water_volume,
        "water_to_grain": mash_water_volume / grain_mass,
    }


@strike_temperature.checks
def _checks(given: Given) -> None:
    measures.known_of(given, THREE, 2)
    target, strike = given["target_mash_temperature"], given["strike_temperature"]
    if target is not None and strike is not None and not given["grain_temperature"] < target < strike:
        raise BadInput(
            "target_mash_temperature",
            f"{target:g} degC must lie between the grain's {given['grain_temperature']:g} and the water's {strike:g}.",
        )


@strike_temperature.working
def _working(given: Given, found: Found) -> Iterator[str]:
    grain, cold = heat.Mash(given["grain_mass"], given["grain_specific_heat"]), given["grain_temperature"]
    mixed, strike = found["mash_temperature"] - given["slaking_rise"], found["strike_temperature"]
    yield (
        f"the grain takes {grain.grain:.2f} kg × {grain.grain_specific_heat:.2f} × 4.187 × ({mixed:.1f} - {cold:.1f}) "
        f"K = {grain.heat(cold, mixed):.0f} kJ"
    )
    yield (
        f"{found['mash_water_volume']:.2f} L × 0.998 kg/L × ({heat.water(strike):.1f} - {heat.water(mixed):.1f}) kJ/kg "
        f"give just that, from {strike:.1f} to {mixed:.1f} °C"
    )
    if given["slaking_rise"]:
        yield f"wetting adds {given['slaking_rise']:.1f} K: {found['mash_temperature']:.1f} °C"


@strike_temperature.warnings
def _warnings(_given: Given, found: Found) -> Iterator[str]:
    yield "The tun's own heat is not counted: warm it first, stir well, and measure before you correct."
    if found["strike_temperature"] > 85.0:
        yield "Water that hot scalds in moments. A thinner mash needs cooler strike water."
    if not 1.5 <= found["water_to_grain"] <= 8.0:
        yield "That is an unusual thickness for a mash (commonly 2 to 5 L/kg): check the volume and the grain's mass."
