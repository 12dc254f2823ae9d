"""How warm a beer may ferment under pressure, and how much pressure a warm ferment asks for."""

from __future__ import annotations

from collections.abc import Iterator

from calculators import measures
from calculators.calculator import calculator
from calculators.core import COMMON_PRACTICE, BadInput, Found, Given, ResultSpec, choice, quantity

_WARMTH_PER_BAR = 5.6
_FULL_PRESSURE = 1.0
_PRESSURE_DOUBT = 0.2
"""About 10 F degrees (5.6 K) for about 15 psi (1 bar); more pressure buys no more warmth that practice agrees on."""


@calculator(
    "pressure-temperature-choice",
    title="Pressure and temperature of a ferment under pressure",
    inputs=(
        quantity("gauge_pressure", "bar", (0.0, 5.0), established=(0.0, 2.1), reading=measures.GAUGE, optional=True),
        quantity(
            "temperature", "degC", (-2.0, 45.0), established=(0.0, 40.0), reading=measures.THERMOMETER, optional=True
        ),
        quantity("yeast_temperature_low", "degC", (0.0, 40.0)),
        quantity("yeast_temperature_high", "degC", (0.0, 45.0)),
        choice("yeast_group", "ale", "lager", optional=True),
    ),
    results=(
        ResultSpec("temperature_high", "degC", absolute=1.5),
        ResultSpec("extra_warmth", "delta_degC", absolute=1.5),
        ResultSpec("gauge_pressure", "bar", absolute=_PRESSURE_DOUBT),
    ),
    sources=(COMMON_PRACTICE,),
)
def pressure_temperature_choice(
    gauge_pressure: float | None,
    temperature: float | None,
    yeast_temperature_low: float,  # noqa: ARG001 - decides only what is warned of
    yeast_temperature_high: float,
    yeast_group: str | None,  # noqa: ARG001 - decides only what is warned of
) -> dict[str, float]:
    """How warm a yeast may sensibly go under a pressure, and what pressure a wanted temperature asks for.

    Pressure holds back esters and other by-products of a warm ferment. The trade allows about 10 F degrees (5.6 K)
    over the yeast's usual range at about 15 psi (1 bar), and in proportion below; all common practice, good to 1.5 K.

    Parameters
    ----------
    gauge_pressure : bar GAUGE that will be held, 0 to 5 (usual: to 2.1); for temperature_high and extra_warmth
    temperature : degC wanted, -2 to 45; for gauge_pressure
    yeast_temperature_low : degC, 0 to 40; lower end of the yeast's usual range
    yeast_temperature_high : degC, 0 to 45; upper end of the yeast's usual range, without pressure
    yeast_group : ale or lager; decides what to beware of

    Returns
    -------
    temperature_high : degC; the warmest sensible under that pressure
    extra_warmth : delta_degC; a DIFFERENCE over the yeast's usual upper end
    gauge_pressure : bar GAUGE that the wanted temperature asks for; 0 where it needs none

    References
    ----------
    Common practice (common-practice)

    Examples
    --------
    >>> import calculators
    >>> done = calculators.run("pressure-temperature-choice", {
    ...     "gauge_pressure": "1 bar", "yeast_temperature_low": "10 degC", "yeast_temperature_high": "14 degC"})
    >>> round(done.results["temperature_high"].value, 1)
    19.6
    """
    found = {}
    if gauge_pressure is not None:
        extra = _WARMTH_PER_BAR * min(gauge_pressure, _FULL_PRESSURE)
        found = {"temperature_high": yeast_temperature_high + extra, "extra_warmth": extra}
    if temperature is not None:
        found["gauge_pressure"] = max(0.0, temperature - yeast_temperature_high) / _WARMTH_PER_BAR
    return found


@pressure_temperature_choice.checks
def _checks(given: Given) -> None:
    if given["gauge_pressure"] is None and given["temperature"] is None:
        raise BadInput("gauge_pressure", "give gauge_pressure, temperature, or both.")
    if given["yeast_temperature_low"] > given["yeast_temperature_high"]:
        raise BadInput("yeast_temperature_low", "is above yeast_temperature_high. Give the yeast's range low to high.")


@pressure_temperature_choice.working
def _working(given: Given, found: Found) -> Iterator[str]:
    top = given["yeast_temperature_high"]
    if "extra_warmth" in found:
        counted = min(given["gauge_pressure"], _FULL_PRESSURE)
        yield f"extra warmth = 5.6 K/bar × {counted:.2f} bar = {found['extra_warmth']:.1f} K (no more above 1 bar)"
        yield f"warmest sensible = {top:.1f} + {found['extra_warmth']:.1f} = {found['temperature_high']:.1f} °C"
    if "gauge_pressure" in found:
        yield f"pressure = ({given['temperature']:.1f} - {top:.1f}) K / 5.6 K/bar = {found['gauge_pressure']:.2f} bar"


@pressure_temperature_choice.warnings
def _warnings(given: Given, found: Found) -> Iterator[str]:
    temperature = given["temperature"]
    if temperature is not None and temperature < given["yeast_temperature_low"]:
        yield "The temperature is below the yeast's usual range: expect it slow, or stopping; pressure does not help."
    if found.get("gauge_pressure", 0.0) > _FULL_PRESSURE + _PRESSURE_DOUBT:
        yield "That is warmer than practice allows even at 15 psi (1 bar): choose a cooler ferment, not more pressure."
    if given["yeast_group"] == "ale":
        yield "An ale whose style lives on the yeast's fruit or spice loses it under pressure."
    if given["yeast_group"] == "lager" and "temperature_high" in found and found["temperature_high"] > 20.0:
        yield "Lagers fermented above about 20 °C (68 °F) often taste of it even under pressure (common practice)."
    yield measures.RATING
