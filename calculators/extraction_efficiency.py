"""How much of the grain's extract came into the wort."""

from __future__ import annotations

from collections.abc import Iterator

from calculators import measures
from calculators.calculator import calculator
from calculators.core import COMMON_PRACTICE, BadInput, Found, Given, Reading, ResultSpec, quantity
from calculators.physics import solution_density, sugar, wort

THREE = ("grain_mass", "gravity", "efficiency")


@calculator(
    "extraction-efficiency",
    title="Extraction efficiency",
    inputs=(
        measures.grain_mass(optional=True),
        measures.volume("batch_volume"),
        measures.gravity("gravity", possible=(1.0, 1.2), optional=True),
        quantity("efficiency", "percent", (1.0, 110.0), established=(40.0, 100.0), reading=3.0, optional=True),
        quantity("extract_potential", "percent", (5.0, 100.0), default=Reading(80.0, 77.0, 82.0, "percent")),
        quantity("potential_points", "points L/kg", (20.0, 400.0), share=0.02, optional=True),
        quantity("volume_temperature", "degC", (0.0, 100.0), default=20.0),
    ),
    results=(
        ResultSpec("efficiency", "percent", relative=0.01, possible=(0.0, 1e6), echoes=True),
        ResultSpec("gravity", "SG", absolute=0.0005, possible=(0.99, 1.35), echoes=True),
        ResultSpec("grain_mass", "kg", relative=0.01, possible=(0.0, 1e6), echoes=True),
        ResultSpec("extract_mass", "kg", relative=0.005, possible=(0.0, 1e6)),
    ),
    sources=(wort.MASS_BALANCE, solution_density.ICUMSA_DENSITY, sugar.NBS_C440, COMMON_PRACTICE),
)
def extraction_efficiency(
    grain_mass: float | None,
    batch_volume: float,
    gravity: float | None,
    efficiency: float | None,
    extract_potential: float,
    potential_points: float | None,
    volume_temperature: float,
) -> dict[str, float]:
    """Share of the grain's extract that came into the wort; or the gravity, or the grain, that a share gives.

    Extract in the wort (volume, gravity) over the extract the grain could give. Give two of grain_mass, gravity and
    efficiency. In the kettle before the boil it tells mash and lauter; in the fermenter it tells the whole brewhouse.

    Parameters
    ----------
    grain_mass : kg of grain, 0.01 to 2000
    batch_volume : L of wort, 0.05 to 5000
    gravity : SG of the wort, of a sample cooled to the hydrometer's temperature, 1.0 to 1.2
    efficiency : percent, 1 to 110 (usual: 60 to 85)
    extract_potential : percent of the grain's mass that can become extract, 5 to 100; 77 to 82 for pale malt is taken
    potential_points : points L/kg, the same told in points, 20 to 400 (pure sugar gives 385; 37 points gal/lb is 309);
        where given it counts instead of extract_potential
    volume_temperature : degC at which batch_volume was read, 0 to 100; 20 is taken

    Returns
    -------
    efficiency : percent of the possible extract that is in the wort
    gravity : SG of the wort
    grain_mass : kg of grain
    extract_mass : kg of extract in the wort

    References
    ----------
    Conservation of extract (extract-mass-balance); ICUMSA densities (icumsa-sucrose-density); NBS C440 (nbs-c440);
    usual potentials: common practice (common-practice)

    Examples
    --------
    >>> import calculators
    >>> done = calculators.run("extraction-efficiency", {
    ...     "grain_mass": "5 kg", "batch_volume": "25 L", "gravity": "1.045", "extract_potential": "80 percent"})
    >>> round(done.results["efficiency"].value, 1)
    73.0
    """
    possible = _possible(extract_potential, potential_points)
    if gravity is None:
        assert grain_mass is not None
        assert efficiency is not None
        extract = grain_mass * possible * efficiency / 100.0
        gravity = _gravity(extract, batch_volume, volume_temperature)
    else:
        extract = wort.of(batch_volume, gravity, volume_temperature).extract
    if grain_mass is None:
        assert efficiency is not None
        grain_mass = extract / possible / (efficiency / 100.0)
    return {
        "efficiency": 100.0 * extract / (grain_mass * possible) if efficiency is None else efficiency,
        "gravity": gravity,
        "grain_mass": grain_mass,
        "extract_mass": extract,
    }


def _possible(extract_potential: float, potential_points: float | None) -> float:
    """kg of extract in a kg of grain."""
    return extract_potential / 100.0 if potential_points is None else potential_points / wort.SUCROSE_POTENTIAL


def _gravity(extract: float, volume: float, temperature: float) -> float:
    """Gravity of the wort whose volume was read at ``temperature``: it shrinks by nearly the same share at any SG."""
    gravity = wort.gravity_of(extract, volume)
    if temperature == 20.0:
        return gravity
    return wort.gravity_of(extract, volume * solution_density.expansion(gravity, temperature, 20.0))


@extraction_efficiency.checks
def _checks(given: Given) -> None:
    measures.known_of(given, THREE, 2)
    if given["gravity"] is None and given["grain_mass"] > 2.0 * given["batch_volume"]:
        raise BadInput("batch_volume", "so little wort cannot come from so much grain. Check the figures and units.")


@extraction_efficiency.working
def _working(given: Given, found: Found) -> Iterator[str]:
    possible = _possible(given["extract_potential"], given["potential_points"])
    cold = given["batch_volume"] * solution_density.expansion(found["gravity"], given["volume_temperature"], 20.0)
    yield (
        f"extract in the wort = {cold:.2f} L at 20 °C × 0.9982 × {found['gravity']:.4f} kg/L × "
        f"{sugar.extract(found['gravity']):.2f} °P = {found['extract_mass']:.3f} kg"
    )
    could = found["grain_mass"] * possible
    yield f"the grain could give {found['grain_mass']:.3f} kg × {possible:.3f} = {could:.3f} kg"
    yield f"efficiency = {found['extract_mass']:.3f} / {could:.3f} = {found['efficiency']:.1f} %"


@extraction_efficiency.warnings
def _warnings(_given: Given, found: Found) -> Iterator[str]:
    if found["efficiency"] > 100.0:
        yield "More than all of the extract cannot be: check grain, volume and gravity, and that the wort was mixed."
    elif found["efficiency"] > 92.0:
        yield "That is unusually high for a small brewhouse: mix the wort and measure again before you trust it."
    elif found["efficiency"] < 55.0:
        yield "That is low: check the crush, the volume, and that the wort was mixed and the sample cooled."
