"""The inputs and results that many calculators share: what can be, what is usual, what the instrument may be off by."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.core import BadInput, Given, InputSpec, Range, Reading, ResultSpec, flag, quantity
from calculators.physics.atmosphere import SEA_LEVEL
from calculators.physics.carbon_dioxide import CHART_TEMPERATURES

HYDROMETER = 0.001
THERMOMETER = 1.0
GAUGE = 0.05
REFRACTOMETER = 0.2
"""Usual errors of a home brewer's instruments: SG, K, bar, °Bx (common practice)."""
BEER_TEMPERATURES = (-2.0, 40.0)
"""Where the beer chart's fit has been compared with the solubility in water, °C."""
_VACUUM = 1.1
"""No gauge reads lower than this below zero, bar: the air outside is never heavier."""
UNKNOWN_ORIGINAL = Reading(1.050, 1.035, 1.090, "SG")
"""Stands in for an original gravity not told: the CO2 of the last points hardly depends on it."""

RATING = (
    "This is arithmetic and does not judge the vessel: the pressure marked on it and a working relief valve decide. "
    "Local codes and licensed practice come first."
)


def gravity(name: str, *, optional: bool = False, possible: Range = (0.98, 1.2)) -> InputSpec:
    """A hydrometer reading, SG."""
    return quantity(name, "SG", possible, established=(0.985, 1.13), reading=HYDROMETER, optional=optional)


def original_gravity_if_known() -> InputSpec:
    """An original gravity that may be left out, because little depends on it."""
    spec = gravity("original_gravity", possible=(1.005, 1.2))
    return quantity(
        spec.name, spec.unit, spec.possible, established=spec.established, reading=spec.reading,
        default=UNKNOWN_ORIGINAL,
    )  # fmt: skip


def beer_temperature(name: str, *, optional: bool = False) -> InputSpec:
    """A thermometer reading of beer, °C."""
    return quantity(name, "degC", (-5.0, 60.0), established=BEER_TEMPERATURES, reading=THERMOMETER, optional=optional)


def gauge_pressure(name: str, *, optional: bool = False, default: float | None = None) -> InputSpec:
    """A gauge reading over beer, bar gauge."""
    return quantity(
        name, "bar", (-0.5, 10.0), established=(-0.1, 6.0), reading=GAUGE, optional=optional, default=default
    )


def volume(name: str, *, optional: bool = False) -> InputSpec:
    """A volume of beer or of a vessel, L; marks and labels are good to 2 %."""
    return quantity(name, "L", (0.05, 5000.0), share=0.02, optional=optional)


def grain_mass(*, optional: bool = False) -> InputSpec:
    """Dry grain, kg."""
    return quantity("grain_mass", "kg", (0.01, 2000.0), share=0.01, optional=optional)


def mash_water_volume(*, optional: bool = False) -> InputSpec:
    """Water in the mash, L, measured cold."""
    return quantity("mash_water_volume", "L", (0.05, 10_000.0), share=0.02, optional=optional)


def grain_specific_heat() -> InputSpec:
    """Specific heat of grain as a share of water's; malt's range where nothing is said."""
    return quantity("grain_specific_heat", "1", (0.2, 0.6), default=Reading(0.40, 0.38, 0.42, "1"))


def altitude() -> InputSpec:
    """Height above sea level, m; sea level where nothing is said. Its error is lost in the method's own."""
    return quantity("altitude", "m", (-500.0, 9000.0), established=(-500.0, 5000.0), default=0.0)


def headspace_is_air() -> InputSpec:
    """Whether the headspace was air, not carbon dioxide, when the vessel was closed."""
    return flag("headspace_is_air", default=False)


def carbonation(name: str, *, optional: bool = False) -> InputSpec:
    """Volumes of CO2, wanted or known."""
    return quantity(name, "vol", (0.0, 12.0), optional=optional)


def gauge_pressure_found(name: str, *, relative: float = 0.035, echoes: bool = False) -> ResultSpec:
    """A gauge pressure worked out; the method errs in proportion to the absolute pressure."""
    return ResultSpec(name, "bar", relative=relative, zero=-SEA_LEVEL, possible=(-_VACUUM, 100.0), echoes=echoes)


def closed_vessel_found() -> tuple[ResultSpec, ResultSpec]:
    """What a closed vessel comes to at rest: gauge pressure, bar, and carbonation, vol, good to 3.5 % (the chart)."""
    return (
        gauge_pressure_found("gauge_pressure"),
        ResultSpec("carbonation", "vol", relative=0.035, possible=(0.0, 200.0)),
    )


def beyond_the_chart(temperature: float) -> Iterator[str]:
    """A warning where the brewers' chart of carbonation has to be continued."""
    coldest, warmest = CHART_TEMPERATURES
    if not coldest <= temperature <= warmest:
        yield (
            "The brewers' chart ends at 47 °F (8.3 °C) and at 30 °F (-1.1 °C); beyond it this follows the solubility "
            "in water and is good to about 3.5 %."
        )


def gauge_line(gas: float, air: float, outside: float, gauge: float) -> str:
    """The last line of a closed vessel's working: from the pressure inside to what the gauge reads."""
    if air:
        return f"gauge pressure = {gas:.3f} + {air:.3f} (air shut in) - {outside:.3f} (air outside) = {gauge:.3f} bar"
    return f"gauge pressure = {gas:.3f} - {outside:.3f} = {gauge:.3f} bar; air shut in would come on top"


def known_of(given: Given, names: tuple[str, ...], count: int) -> None:
    """Just ``count`` of these inputs must be given: the others follow from them."""
    known = [name for name in names if given[name] is not None]
    if len(known) != count:
        wrong = next((name for name in names if (name in known) == (len(known) > count)), names[0])
        raise BadInput(wrong, f"give {_count(count)} of {', '.join(names)}, not {len(known)}.")


def _count(count: int) -> str:
    return {1: "just one", 2: "two"}.get(count, str(count))


def must_fit(given: Given) -> None:
    """The beer must be less than the vessel holds."""
    beer, vessel = given["beer_volume"], given["vessel_volume"]
    if beer is not None and vessel is not None and beer >= vessel:
        raise BadInput(
            "beer_volume",
            f"{beer:g} L of beer leave no headspace in a vessel of {vessel:g} L. Give the vessel's volume to the brim.",
        )


def must_not_rise(given: Given, earlier: str, later: str) -> None:
    """A gravity can only fall; a rise of more than two readings' errors is a mix-up."""
    if given[earlier] is not None and given[later] is not None and given[later] > given[earlier] + 2 * HYDROMETER:
        raise BadInput(
            later,
            f"{given[later]:.3f} is above the {earlier.replace('_', ' ')} {given[earlier]:.3f}; gravity only falls. "
            "Check which is which, and the sample's temperature.",
        )
