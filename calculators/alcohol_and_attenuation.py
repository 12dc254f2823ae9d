"""Alcohol, real extract and attenuation from two gravities."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.calculator import calculator
from calculators.core import Found, Given, ResultSpec
from calculators.measures import gravity, must_not_rise
from calculators.physics import alcohol, sugar


@calculator(
    "alcohol-and-attenuation",
    title="Alcohol and attenuation",
    inputs=(gravity("original_gravity", possible=(1.005, 1.2)), gravity("current_gravity")),
    results=(
        ResultSpec("abv", "percent", absolute=0.1),
        ResultSpec("alcohol_by_weight", "percent", absolute=0.1),
        ResultSpec("real_extract", "degP", absolute=0.1),
        ResultSpec("apparent_attenuation", "percent", absolute=0.2),
        ResultSpec("real_attenuation", "percent", absolute=1.0),
    ),
    sources=(alcohol.BALLING, alcohol.TABARIE, alcohol.OIML_R22, sugar.NBS_C440),
)
def alcohol_and_attenuation(original_gravity: float, current_gravity: float) -> dict[str, float]:
    """Alcohol, real extract and attenuation of beer, from its gravity before fermentation and now.

    Balling's mass balance with Tabarie's rule for the gravity of beer. Within 0.06 % by volume of the whole factor
    table of HM Revenue & Customs Notice 226 at 77 to 82 % apparent attenuation, within 0.11 at 70 to 85 %: the table
    rounds its factor to 0.001 and does not ask how far the beer has fermented. Beyond that the two may be 0.15 apart.
    A gravity below 1.000 is in order: the alcohol carries it there.

    Parameters
    ----------
    original_gravity : SG of the wort at pitching, 1.005 to 1.2 (established: to 1.13)
    current_gravity : SG of the beer now by hydrometer, degassed, 0.98 to 1.2

    Returns
    -------
    abv : percent by volume at 20 °C
    alcohol_by_weight : percent; g per 100 g
    real_extract : degP; what is left once the alcohol is taken away
    apparent_attenuation : percent; (OE - AE) / OE on degrees Plato, above 100 where the gravity is below 1.000
    real_attenuation : percent; (OE - RE) / OE on degrees Plato

    References
    ----------
    Balling, as tested by Cutaia, Reid and Speers 2009 (balling); Tabarie (tabarie); OIML R 22 (oiml-r22);
    NBS Circular C440 (nbs-c440)

    Examples
    --------
    HMRC's table gives 40 points × 0.130 = 5.20 % for 1.050 and 1.010:

    >>> import calculators
    >>> done = calculators.run("alcohol-and-attenuation", {"original_gravity": "1.050", "current_gravity": "1.010"})
    >>> round(done.results["abv"].value, 1), round(done.results["apparent_attenuation"].value)
    (5.2, 79)
    """
    original, apparent = sugar.extract(original_gravity), sugar.extract(current_gravity)
    beer = alcohol.fermented(original_gravity, current_gravity)
    return {
        "abv": alcohol.by_volume(beer.alcohol, current_gravity),
        "alcohol_by_weight": beer.alcohol,
        "real_extract": beer.real_extract,
        "apparent_attenuation": 100.0 * (original - apparent) / original,
        "real_attenuation": 100.0 * (original - beer.real_extract) / original,
    }


@alcohol_and_attenuation.checks
def _checks(given: Given) -> None:
    must_not_rise(given, "original_gravity", "current_gravity")


@alcohol_and_attenuation.working
def _working(given: Given, found: Found) -> Iterator[str]:
    og, now = given["original_gravity"], given["current_gravity"]
    oe, ae, re, by_weight = sugar.extract(og), sugar.extract(now), found["real_extract"], found["alcohol_by_weight"]
    yield f"original extract = {oe:.2f} °P, apparent extract = {ae:.2f} °P"
    yield (
        f"alcohol A and real extract RE that give both {oe:.2f} = 100 (2.0665 A + RE) / (100 + 1.0665 A) and a gravity "
        f"of {now:.4f}: A = {by_weight:.2f} %, RE = {re:.2f} °P"
    )
    yield f"alcohol by volume = {by_weight:.2f} × {now:.4f} × 998.2 / 789.24 = {found['abv']:.2f} %"
    yield f"apparent attenuation = ({oe:.2f} - {ae:.2f}) / {oe:.2f} = {found['apparent_attenuation']:.1f} %"
    yield f"real attenuation = ({oe:.2f} - {re:.2f}) / {oe:.2f} = {found['real_attenuation']:.1f} %"
