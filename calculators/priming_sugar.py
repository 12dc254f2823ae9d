"""Priming sugar: how much for a wanted carbonation, or what carbonation a given amount makes."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from calculators import measures
from calculators.calculator import calculator
from calculators.core import COMMON_PRACTICE, BadInput, Found, Given, ResultSpec, Source, choice, quantity
from calculators.physics import atmosphere
from calculators.physics import carbon_dioxide as co2

STOICHIOMETRY = Source(
    "fermentation-stoichiometry",
    "C6H12O6 -> 2 C2H5OH + 2 CO2 with IUPAC molar masses (CO2 44.0095, glucose monohydrate 198.171, "
    "sucrose 342.297 g/mol); an upper bound, because yeast also grows.",
)


class Sugar(NamedTuple):
    """Grams of CO2 from a gram of sugar, and the fraction by which that may be off."""

    name: str
    co2: float
    doubt: float


SUGARS = {
    "dextrose": Sugar("dextrose (glucose monohydrate)", 0.4442, 0.06),
    "table-sugar": Sugar("table sugar (sucrose)", 0.5143, 0.06),
    "dry-malt-extract": Sugar("dry malt extract", 0.29, 0.12),
    "honey": Sugar("honey", 0.39, 0.10),
}
"""The first two by stoichiometry; malt extract (about 62 % of it ferments) and honey (about 80 % sugar) vary."""


@calculator(
    "priming-sugar",
    title="Priming sugar",
    inputs=(
        measures.volume("beer_volume"),
        measures.beer_temperature("warmest_temperature", optional=True),
        choice("sugar_type", *SUGARS),
        measures.carbonation("target_carbonation", optional=True),
        quantity("sugar_mass", "g", (0.0, 100_000.0), share=0.02, optional=True),
        measures.carbonation("present_carbonation", optional=True),
        measures.altitude(),
    ),
    results=(
        ResultSpec("sugar_mass", "g", echoes=True),
        ResultSpec("carbonation", "vol"),
        ResultSpec("residual_carbonation", "vol", relative=0.035),
        ResultSpec("sugar_concentration", "g/L"),
    ),
    sources=(STOICHIOMETRY, co2.MILLER_1994, co2.CHART_FIT, atmosphere.STANDARD_ATMOSPHERE, COMMON_PRACTICE),
)
def priming_sugar(
    beer_volume: float,
    warmest_temperature: float | None,
    sugar_type: str,
    target_carbonation: float | None,
    sugar_mass: float | None,
    present_carbonation: float | None,
    altitude: float,
) -> dict[str, float]:
    """Priming sugar for a wanted carbonation, or the carbonation a given amount of it makes.

    What the beer still holds from its fermentation (by its WARMEST temperature since, see residual-carbonation,
    without pressure) plus what the sugar makes. Beer that was kept under pressure, or is primed once more, holds
    something else: give its present carbonation. The beer must have finished: whatever it still ferments comes on top
    and can burst bottles.

    Parameters
    ----------
    beer_volume : L of beer to prime, 0.05 to 5000
    warmest_temperature : degC, -5 to 60; the warmest since it finished, not the cold crash; or present_carbonation
    sugar_type : dextrose (glucose monohydrate), table-sugar (sucrose), dry-malt-extract or honey
    target_carbonation : vol wanted, 0 to 12; this or sugar_mass
    sugar_mass : g of sugar in the whole volume, 0 to 100000; this or target_carbonation
    present_carbonation : vol in the beer as it is, 0 to 12; or warmest_temperature
    altitude : m above sea level, -500 to 9000; under thinner air beer keeps less

    Returns
    -------
    sugar_mass : g; as given, or for the target; 0 where the beer already holds as much
    carbonation : vol once all of it has fermented
    residual_carbonation : vol in the beer before this sugar
    sugar_concentration : g/L; sugar per litre of beer

    References
    ----------
    Stoichiometry of fermentation (fermentation-stoichiometry); Miller 1994 (miller-1994); its fit, from memory
    (asbc-chart-fit); U.S. Standard Atmosphere, 1976 (us-standard-atmosphere-1976); yields of malt extract and honey:
    common practice (common-practice)

    Examples
    --------
    >>> import calculators
    >>> wanted = {"beer_volume": "20 L", "warmest_temperature": "20 degC", "sugar_type": "table-sugar",
    ...           "target_carbonation": 2.4}
    >>> round(calculators.run("priming-sugar", wanted).results["sugar_mass"].value)
    120
    """
    residual = present_carbonation
    if residual is None:
        assert warmest_temperature is not None
        residual = co2.carbonation(warmest_temperature, atmosphere.pressure(altitude))
    per_gram = _volumes_per_gram(sugar_type, beer_volume)
    if sugar_mass is None:
        assert target_carbonation is not None
        sugar_mass = max(0.0, target_carbonation - residual) / per_gram
    return {
        "sugar_mass": sugar_mass,
        "carbonation": residual + sugar_mass * per_gram,
        "residual_carbonation": residual,
        "sugar_concentration": sugar_mass / beer_volume,
    }


def _volumes_per_gram(sugar_type: str, beer_volume: float) -> float:
    return SUGARS[sugar_type].co2 / (co2.GRAMS_PER_VOLUME * beer_volume)


@priming_sugar.checks
def _checks(given: Given) -> None:
    if (given["target_carbonation"] is None) == (given["sugar_mass"] is None):
        raise BadInput("target_carbonation", "give either target_carbonation or sugar_mass.")
    if (given["warmest_temperature"] is None) == (given["present_carbonation"] is None):
        raise BadInput("warmest_temperature", "give either warmest_temperature or present_carbonation.")


@priming_sugar.more_uncertainty
def _more_uncertainty(given: Given, found: Found) -> dict[str, float]:
    per_gram = _volumes_per_gram(given["sugar_type"], given["beer_volume"])
    of_residual = 0.035 * found["residual_carbonation"]
    of_sugar = SUGARS[given["sugar_type"]].doubt * found["sugar_mass"]
    mass = of_sugar + of_residual / per_gram
    return {
        "sugar_mass": mass,
        "sugar_concentration": mass / given["beer_volume"] if given["sugar_mass"] is None else 0.0,
        "carbonation": of_residual + of_sugar * per_gram,
    }


@priming_sugar.working
def _working(given: Given, found: Found) -> Iterator[str]:
    sugar, volume, residual = SUGARS[given["sugar_type"]], given["beer_volume"], found["residual_carbonation"]
    if given["present_carbonation"] is None:
        solubility = co2.solubility(given["warmest_temperature"])
        outside = atmosphere.pressure(given["altitude"])
        yield f"still in the beer = {outside:.3f} × {solubility:.4f} - 0.003 = {residual:.2f} vol"
    yield f"{sugar.name} gives {sugar.co2:.4f} g CO2 per g, within {sugar.doubt * 100:.0f} %; 1 vol = 1.977 g/L"
    if given["sugar_mass"] is None:
        yield (
            f"sugar = ({given['target_carbonation']:.2f} - {residual:.2f}) × {volume:.2f} L × 1.977 / {sugar.co2:.4f} "
            f"= {found['sugar_mass']:.1f} g"
        )
    else:
        yield (
            f"carbonation = {residual:.2f} + {given['sugar_mass']:.1f} × {sugar.co2:.4f} / (1.977 × {volume:.2f}) "
            f"= {found['carbonation']:.2f} vol"
        )


@priming_sugar.warnings
def _warnings(given: Given, found: Found) -> Iterator[str]:
    target = given["target_carbonation"]
    if target is not None and target < found["residual_carbonation"]:
        yield "The beer already holds more than that: it needs no sugar."
    if found["carbonation"] > 3.0:
        yield (
            "More than 3 volumes is more than standard beer bottles are commonly trusted with (common practice): "
            "the bottle maker's rating decides."
        )
    yield "Counts on finished beer: let the gravity stand still first. Sugar still fermenting can burst bottles."
