"""Temperature, gauge pressure and carbonation of beer at rest under carbon dioxide: any two give the third."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import NamedTuple

from calculators import measures
from calculators.calculator import calculator
from calculators.core import BadInput, Found, Given, ResultSpec, choice, quantity
from calculators.physics import atmosphere
from calculators.physics import carbon_dioxide as co2
from calculators.physics import carbonated_water as water


class Liquid(NamedTuple):
    """How a liquid takes up carbon dioxide at rest: °C, bar absolute and vol, each from the other two."""

    solubility: Callable[[float], float]
    carbonation: Callable[[float, float], float]
    pressure_for: Callable[[float, float], float]
    temperature_for: Callable[[float, float], float]


LIQUIDS = {
    "beer": Liquid(co2.solubility, co2.carbonation, co2.pressure_for, co2.temperature_for),
    "water": Liquid(water.solubility, water.carbonation, water.pressure_for, water.temperature_for),
}


@calculator(
    "carbonation-equilibrium",
    title="Carbonation, temperature and pressure at rest",
    inputs=(
        measures.beer_temperature("temperature", optional=True),
        quantity("gauge_pressure", "bar", (-0.5, 10.0), established=(0.0, 2.1), reading=measures.GAUGE, optional=True),
        measures.carbonation("carbonation", optional=True),
        measures.altitude(),
        choice("liquid", *LIQUIDS, default="beer"),
    ),
    results=(
        ResultSpec("temperature", "degC", absolute=1.0, possible=(-5.0, 60.0), echoes=True),
        measures.gauge_pressure_found("gauge_pressure", relative=0.03, echoes=True),
        ResultSpec("carbonation", "vol", relative=0.03, possible=(0.0, 40.0), echoes=True),
        ResultSpec("co2_mass_concentration", "g/L", relative=0.001),
    ),
    sources=(co2.MILLER_1994, co2.CHART_FIT, co2.WEISS_1974, atmosphere.STANDARD_ATMOSPHERE),
)
def carbonation_equilibrium(
    temperature: float | None,
    gauge_pressure: float | None,
    carbonation: float | None,
    altitude: float,
    liquid: str,
) -> dict[str, float]:
    """Carbonation, temperature and pressure of beer at rest under carbon dioxide: any two give the third.

    The ASBC chart as printed by Miller (1994), through a fit to it. The chart ends at 47 °F (8.3 °C); beyond it the
    fit runs parallel to the solubility in water (Weiss 1974) up to 40 °C and is good to about 3.5 %. It holds for
    beer left long enough (days, or hours when shaken) under carbon dioxide without air. Water takes up 2 to 7 % more.

    Parameters
    ----------
    temperature : degC, -5 to 60 (chart: -1.1 to 8.3); temperature of the beer itself
    gauge_pressure : bar GAUGE, -0.5 to 10 (chart: 0 to 2.1); pressure over the beer
    carbonation : vol, 0 to 12; volumes of CO2 in the beer
    altitude : m above sea level, -500 to 9000; the gauge reads from the air outside
    liquid : beer or water (pure water by Weiss, 0 to 40 degC)

    Returns
    -------
    temperature : degC; as given, or the one that balances the other two
    gauge_pressure : bar GAUGE at that altitude; as given, or the one that balances the other two
    carbonation : vol; as given, or the one that balances the other two
    co2_mass_concentration : g/L; the carbonation as a mass, 1 vol = 1.977 g/L

    References
    ----------
    D. Miller, BrewingTechniques 2(1), 1994, Table I (miller-1994); its fit, from memory (asbc-chart-fit);
    R.F. Weiss, Marine Chemistry 2, 1974 (weiss-1974); U.S. Standard Atmosphere, 1976 (us-standard-atmosphere-1976)

    Examples
    --------
    Miller's Table I prints 2.57 at 38 °F and 12 psi; the fit lies within 0.03 of it:

    >>> import calculators
    >>> found = calculators.run("carbonation-equilibrium", {"temperature": "38 degF", "gauge_pressure": "12 psi"})
    >>> round(found.results["carbonation"].value, 2)
    2.58
    """
    outside, held = atmosphere.pressure(altitude), LIQUIDS[liquid]
    if temperature is None:
        assert gauge_pressure is not None
        assert carbonation is not None
        temperature = held.temperature_for(gauge_pressure + outside, carbonation)
    elif gauge_pressure is None:
        assert carbonation is not None
        gauge_pressure = held.pressure_for(temperature, carbonation) - outside
    elif carbonation is None:
        carbonation = held.carbonation(temperature, gauge_pressure + outside)
    assert gauge_pressure is not None
    assert carbonation is not None
    return {
        "temperature": temperature,
        "gauge_pressure": gauge_pressure,
        "carbonation": carbonation,
        "co2_mass_concentration": carbonation * co2.GRAMS_PER_VOLUME,
    }


@carbonation_equilibrium.checks
def _checks(given: Given) -> None:
    three = ("temperature", "gauge_pressure", "carbonation")
    known = [name for name in three if given[name] is not None]
    if len(known) != 2:
        wrong = next((name for name in three if name not in known), "carbonation")
        raise BadInput(wrong, f"give two of temperature, gauge_pressure and carbonation, not {len(known)}.")


def _beyond_the_chart(given: Given, found: Found) -> Iterator[str]:
    return measures.beyond_the_chart(found["temperature"]) if given["liquid"] == "beer" else iter(())


@carbonation_equilibrium.more_uncertainty
def _more_uncertainty(given: Given, found: Found) -> dict[str, float]:
    """Half a per cent more beyond the chart; the mass has the doubt of a carbonation that was worked out, not told."""
    beyond = 0.005 if any(_beyond_the_chart(given, found)) else 0.0
    return {
        "gauge_pressure": beyond * (found["gauge_pressure"] + atmosphere.SEA_LEVEL),
        "carbonation": beyond * found["carbonation"],
        "co2_mass_concentration": (0.03 + beyond if given["carbonation"] is None else 0.0)
        * found["co2_mass_concentration"],
    }


@carbonation_equilibrium.working
def _working(given: Given, found: Found) -> Iterator[str]:
    warm, outside = found["temperature"], atmosphere.pressure(given["altitude"])
    taken_up, short = LIQUIDS[given["liquid"]].solubility(warm), 0.003 if given["liquid"] == "beer" else 0.0
    yield f"absolute pressure = {found['gauge_pressure']:.3f} + {outside:.3f} (air outside) bar"
    if given["liquid"] == "beer":
        yield (
            f"solubility at {warm:.2f} °C = 14.504 × (0.01821 + 0.090115 e^(-{warm:.2f}/23.95)) = "
            f"{taken_up:.4f} vol/bar"
        )
    else:
        yield f"solubility at {warm:.2f} °C = {taken_up:.4f} vol/bar (water, Weiss)"
    yield (
        f"carbonation = ({found['gauge_pressure']:.3f} + {outside:.3f}) × {taken_up:.4f} - {short:.3f} "
        f"= {found['carbonation']:.2f} vol"
    )
    yield f"CO2 = {found['carbonation']:.2f} × 1.977 = {found['co2_mass_concentration']:.2f} g/L"


@carbonation_equilibrium.warnings
def _warnings(given: Given, found: Found) -> Iterator[str]:
    yield from _beyond_the_chart(given, found)
    if given["gauge_pressure"] is None and found["gauge_pressure"] < 0:
        yield "The beer would hold this much, and more, with no pressure at all: it must lose gas to get there."
    if found["gauge_pressure"] > 1.0:
        yield "Keep below the pressure marked on the vessel, with a working relief valve: arithmetic does not rate it."
