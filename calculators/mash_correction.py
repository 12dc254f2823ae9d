"""Water that brings a mash to the temperature wanted, or the temperature that a given amount brings."""

from __future__ import annotations

from collections.abc import Iterator

from calculators import measures
from calculators.calculator import calculator
from calculators.core import BadInput, Found, Given, ResultSpec, quantity
from calculators.physics import heat, solution_density
from calculators.physics.wort import WATER_AT_20


@calculator(
    "mash-correction",
    title="Correcting the mash temperature with water",
    inputs=(
        measures.grain_mass(),
        measures.mash_water_volume(),
        quantity("mash_temperature", "degC", (0.0, 95.0), established=(30.0, 85.0), reading=measures.THERMOMETER),
        quantity("added_water_temperature", "degC", (0.0, 100.0), reading=measures.THERMOMETER),
        quantity("target_mash_temperature", "degC", (20.0, 90.0), established=(35.0, 80.0), optional=True),
        quantity("added_water_volume", "L", (0.0, 10_000.0), share=0.03, optional=True),
        measures.grain_specific_heat(),
    ),
    results=(
        ResultSpec("added_water_volume", "L", relative=0.05, possible=(0.0, 1e5), echoes=True),
        ResultSpec("mash_temperature", "degC", absolute=1.0, possible=(0.0, 100.0)),
        ResultSpec("water_to_grain", "L/kg"),
    ),
    sources=(heat.MALT_HEAT, heat.WATER_ENTHALPY),
)
def mash_correction(
    grain_mass: float,
    mash_water_volume: float,
    mash_temperature: float,
    added_water_temperature: float,
    target_mash_temperature: float | None,
    added_water_volume: float | None,
    grain_specific_heat: float,
) -> dict[str, float]:
    """Hot or cold water that brings a mash to a wanted temperature; or the temperature that a given amount brings.

    Heat balance of grain and water; the tun follows the mash with its own heat, which is not in it, so measure again
    after stirring. Boiling water raises, cold water lowers; both thin the mash.

    Parameters
    ----------
    grain_mass : kg of dry grain in the mash, 0.01 to 2000
    mash_water_volume : L of water in the mash, measured COLD (20 °C), 0.05 to 10000
    mash_temperature : degC of the mash now, stirred, 0 to 95 (usual: 30 to 85)
    added_water_temperature : degC of the water to add, 0 to 100; water off the boil in a jug is about 95 to 98
    target_mash_temperature : degC wanted, 20 to 90 (usual: 35 to 80); this or added_water_volume
    added_water_volume : L measured cold (20 °C), 0 to 10000; this or target_mash_temperature
    grain_specific_heat : 1, its specific heat as a share of water's, 0.2 to 0.6; 0.38 to 0.42 for malt

    Returns
    -------
    added_water_volume : L measured cold (20 °C); near the boil it takes 4 % more room
    mash_temperature : degC once it is stirred in
    water_to_grain : L/kg; the thickness of the mash then

    References
    ----------
    Pauls and Whites Brewing Room Book (pauls-whites-1984); water by IAPWS-95 (iapws-95)

    Examples
    --------
    >>> import calculators
    >>> done = calculators.run("mash-correction", {
    ...     "grain_mass": "5 kg", "mash_water_volume": "15 L", "mash_temperature": "62 degC",
    ...     "target_mash_temperature": "67 degC", "added_water_temperature": "99 degC"})
    >>> round(done.results["added_water_volume"].value, 2)
    2.65
    """
    mash = heat.Mash(grain_mass, grain_specific_heat, mash_water_volume * WATER_AT_20)
    if added_water_volume is None:
        assert target_mash_temperature is not None
        settled = target_mash_temperature
        added_water_volume = mash.water_for(mash_temperature, settled, added_water_temperature) / WATER_AT_20
    else:
        settled = mash.mixed(mash_temperature, added_water_volume * WATER_AT_20, added_water_temperature)
    return {
        "added_water_volume": added_water_volume,
        "mash_temperature": settled,
        "water_to_grain": (mash_water_volume + added_water_volume) / grain_mass,
    }


@mash_correction.checks
def _checks(given: Given) -> None:
    measures.known_of(given, ("target_mash_temperature", "added_water_volume"), 1)
    now, target, water = given["mash_temperature"], given["target_mash_temperature"], given["added_water_temperature"]
    if target is not None and target != now and not min(now, water) < target < max(now, water):
        raise BadInput(
            "added_water_temperature",
            f"water of {water:g} degC cannot bring a mash from {now:g} to {target:g} degC. "
            f"Take {'hotter' if target > now else 'colder'} water.",
        )


@mash_correction.working
def _working(given: Given, found: Found) -> Iterator[str]:
    mash = heat.Mash(given["grain_mass"], given["grain_specific_heat"], given["mash_water_volume"] * WATER_AT_20)
    now, settled, warm = given["mash_temperature"], found["mash_temperature"], given["added_water_temperature"]
    added = found["added_water_volume"]
    yield (
        f"grain {mash.grain:.2f} kg × {mash.grain_specific_heat:.2f} × 4.187 kJ/(kg K) and {mash.water:.2f} kg of "
        f"water from {now:.1f} to {settled:.1f} °C: {mash.heat(now, settled):.0f} kJ"
    )
    yield (
        f"each kg of water from {warm:.1f} to {settled:.1f} °C: {heat.water(warm) - heat.water(settled):.1f} kJ; "
        f"it takes {added * WATER_AT_20:.2f} kg = {added:.2f} L cold"
    )
    room = added * WATER_AT_20 * 1000.0 / solution_density.water(warm)
    yield f"measured at {warm:.0f} °C that is {room:.2f} L"


@mash_correction.warnings
def _warnings(given: Given, found: Found) -> Iterator[str]:
    yield "Add half, stir well, wait a minute and measure: the tun's own heat is not counted, and mash has hot spots."
    if given["added_water_temperature"] > 60.0:
        yield "Water that hot scalds in moments: pour low and slowly, away from you."
    if found["added_water_volume"] > given["mash_water_volume"]:
        yield "That is more water than is in the mash: see that the tun holds it, or heat or cool the mash another way."
