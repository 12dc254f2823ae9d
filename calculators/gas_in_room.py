"""Carbon dioxide in a room against the published limits, and how long it takes to clear."""

from __future__ import annotations

from collections.abc import Iterator

from calculators import measures
from calculators.calculator import calculator
from calculators.core import BadInput, Found, Given, ResultSpec, choice, quantity
from calculators.physics import alcohol, atmosphere, room_air
from calculators.physics import carbon_dioxide as co2

_FERMENTING = ("beer_volume", "original_gravity", "final_gravity")


@calculator(
    "gas-in-room",
    title="Carbon dioxide in a room",
    inputs=(
        choice("gas", *room_air.LIMITS, default="co2"),
        quantity("room_volume", "m3", (0.02, 100_000.0), share=0.1, optional=True),
        quantity("co2_mass", "kg", (0.0, 5000.0), share=0.05, optional=True),
        measures.volume("beer_volume", optional=True),
        measures.gravity("original_gravity", possible=(1.0, 1.2), optional=True),
        measures.gravity("final_gravity", optional=True),
        quantity("co2_flow", "g/h", (0.0, 1e6), share=0.1, optional=True),
        quantity("air_changes", "1/h", (0.01, 100.0), share=0.3, optional=True),
        quantity("start_concentration", "ppm", (0.0, 1e6), share=0.05, optional=True),
        quantity("outside_concentration", "ppm", (300.0, 2000.0), default=420.0),
        quantity("room_temperature", "degC", (-20.0, 50.0), default=20.0),
    ),
    results=(
        ResultSpec("limit_working_day", "ppm"),
        ResultSpec("limit_short_time", "ppm"),
        ResultSpec("limit_immediate_danger", "ppm"),
        ResultSpec("co2_mass", "kg", relative=0.05, possible=(0.0, 1e7), echoes=True),
        ResultSpec("gas_volume", "m3", relative=0.015, possible=(0.0, 1e7)),
        ResultSpec("mean_concentration", "ppm", possible=(0.0, 1e6)),
        ResultSpec("low_concentration", "ppm", possible=(0.0, 1e6)),
        ResultSpec("mass_to_working_day_limit", "kg", relative=0.01, possible=(0.0, 1e6)),
        ResultSpec("steady_concentration", "ppm", possible=(0.0, 1e6)),
        ResultSpec("time_to_clear", "min", relative=0.3, possible=(0.0, 1e9)),
    ),
    sources=(
        room_air.OSHA_CO2, room_air.NIOSH_CO2, room_air.OSHA_CO, room_air.NIOSH_CO, room_air.WELL_MIXED,
        alcohol.BALLING, co2.GAS_EQUATION,
    ),
)  # fmt: skip
def gas_in_room(
    gas: str,
    room_volume: float | None,
    co2_mass: float | None,
    beer_volume: float | None,
    original_gravity: float | None,
    final_gravity: float | None,
    co2_flow: float | None,
    air_changes: float | None,
    start_concentration: float | None,
    outside_concentration: float,
    room_temperature: float,
) -> dict[str, float]:
    """Carbon dioxide that gathers in a room, against the published limits, and the time until it has cleared.

    The MEAN of a well-mixed room. Carbon dioxide is heavier than air: the air low down, in a pit, a cellar or a chest
    freezer, is worse than the mean; low_concentration takes all of it to lie in the lowest third, and still air can be
    worse yet. The limits are for healthy people at work, not targets for a home. For carbon monoxide only the limits
    are told: no arithmetic makes it safe.

    Parameters
    ----------
    gas : co2 (carbon dioxide) or co (carbon monoxide: limits only)
    room_volume : m3 of free air, 0.02 to 100000
    co2_mass : kg of gas let out, 0 to 5000; this, or the next three
    beer_volume : L fermenting in the room, 0.05 to 5000
    original_gravity : SG, 1.0 to 1.2
    final_gravity : SG, 0.98 to 1.2
    co2_flow : g/h let out all the time, 0 to 1000000; for steady_concentration
    air_changes : 1/h, 0.01 to 100; how often the room's air is renewed (closed rooms: often under 0.5)
    start_concentration : ppm measured, 0 to 1000000; for time_to_clear, otherwise the higher one found here is taken
    outside_concentration : ppm, 300 to 2000; 420 is taken
    room_temperature : degC, -20 to 50; 20 is taken

    Returns
    -------
    limit_working_day : ppm over a working day
    limit_short_time : ppm for 15 minutes at most (carbon monoxide: never above)
    limit_immediate_danger : ppm immediately dangerous to life or health
    co2_mass : kg let out, as given or made by the whole fermentation
    gas_volume : m3 of that gas at room temperature and 101.325 kPa
    mean_concentration : ppm when it is mixed evenly and none has left
    low_concentration : ppm if all of it lies in the lowest third of the room
    mass_to_working_day_limit : kg that bring the mean to that limit
    steady_concentration : ppm, the mean in the end with co2_flow and air_changes
    time_to_clear : min of such air changes, from start_concentration to the working day's limit, mixed evenly

    References
    ----------
    OSHA (osha-z1, osha-co); NIOSH (niosh-idlh-co2, niosh-idlh-co); mass balance (well-mixed-room); Balling (balling);
    gas equation (smith-van-ness-abbott)

    Examples
    --------
    >>> import calculators
    >>> done = calculators.run("gas-in-room", {"room_volume": "30 m3", "co2_mass": "5 lb"})
    >>> round(done.results["mean_concentration"].value, -3)
    42000.0
    """
    limits = room_air.LIMITS[gas]
    found = {
        "limit_working_day": limits.working_day,
        "limit_short_time": limits.short_time,
        "limit_immediate_danger": limits.immediate_danger,
    }
    if gas != "co2":
        return found
    density = co2.gas_density(room_temperature, atmosphere.SEA_LEVEL)  # g/L is kg/m3
    if beer_volume is not None and original_gravity is not None and final_gravity is not None:
        co2_mass = beer_volume * alcohol.co2_made(original_gravity, original_gravity, final_gravity) / 1000.0
    if room_volume is not None:
        found["mass_to_working_day_limit"] = (limits.working_day - outside_concentration) / 1e6 * room_volume * density
    if co2_mass is not None:
        found |= {"co2_mass": co2_mass, "gas_volume": co2_mass / density}
        if room_volume is not None:
            found |= _gathered(co2_mass / density / room_volume, outside_concentration)
    if air_changes is not None:
        if room_volume is not None and co2_flow is not None:
            made = co2_flow / 1000.0 / density / (air_changes * room_volume)
            found["steady_concentration"] = min(1e6, outside_concentration + 1e6 * made)
        start = clearing_from(start_concentration, found)
        if start is not None:
            found["time_to_clear"] = 60.0 * room_air.hours_to_clear(
                start, limits.working_day, outside_concentration, air_changes
            )
    return found


def _gathered(share: float, outside: float) -> dict[str, float]:
    """The mean where gas of ``share`` of the room's volume is mixed in, and the air low down."""
    mean, low = outside + 1e6 * share, outside + 1e6 * room_air.LOW_LAYER * share
    return {"mean_concentration": min(1e6, mean), "low_concentration": min(1e6, low)}


def clearing_from(told: float | None, found: Found) -> float | None:
    """ppm that has to clear: as measured, or else the highest mean found; None where neither is known."""
    if told is not None:
        return told
    mean, steady = found.get("mean_concentration"), found.get("steady_concentration")
    return steady if mean is None else mean if steady is None else max(mean, steady)


@gas_in_room.checks
def _checks(given: Given) -> None:
    if given["gas"] == "co":
        return
    measures.must_not_rise(given, "original_gravity", "final_gravity")
    fermenting = [name for name in _FERMENTING if given[name] is not None]
    if fermenting and len(fermenting) < 3:
        missing = next(name for name in _FERMENTING if name not in fermenting)
        raise BadInput(missing, f"is missing: give {', '.join(_FERMENTING)} together, or co2_mass instead.")
    if fermenting and given["co2_mass"] is not None:
        raise BadInput("co2_mass", f"give either co2_mass or {', '.join(_FERMENTING)}.")


@gas_in_room.more_uncertainty
def _more_uncertainty(_given: Given, found: Found) -> dict[str, float]:
    """How the gas mixes: with air leaving meanwhile the mean is lower, by up to half the share of gas, squared."""
    doubt = {}
    for name in ("mean_concentration", "low_concentration", "steady_concentration"):
        if name in found:
            doubt[name] = 0.05 * found[name] + 0.5 * found[name] ** 2 / 1e6
    return doubt


@gas_in_room.working
def _working(given: Given, found: Found) -> Iterator[str]:
    outside, room = given["outside_concentration"], given["room_volume"]
    if "gas_volume" in found:
        density = co2.gas_density(given["room_temperature"], atmosphere.SEA_LEVEL)
        yield f"gas = {found['co2_mass']:.3f} kg / {density:.3f} kg/m³ = {found['gas_volume']:.3f} m³"
    if "mean_concentration" in found:
        yield (
            f"mean = {found['gas_volume']:.3f} / {room:.2f} m³ × 1,000,000 + {outside:.0f} (air outside) "
            f"= {found['mean_concentration']:.0f} ppm; all in the lowest third: {found['low_concentration']:.0f} ppm"
        )
    if "steady_concentration" in found:
        yield (
            f"in the end with {given['co2_flow']:.1f} g/h and {given['air_changes']:.2f} air changes an hour: "
            f"{found['steady_concentration']:.0f} ppm"
        )
    if "time_to_clear" in found:
        yield (
            f"to clear = ln(({clearing_from(given['start_concentration'], found):.0f} - {outside:.0f}) / "
            f"({found['limit_working_day']:.0f} - {outside:.0f})) / {given['air_changes']:.2f} per h "
            f"= {found['time_to_clear']:.0f} min"
        )


@gas_in_room.warnings
def _warnings(given: Given, found: Found) -> Iterator[str]:
    if given["gas"] == "co":
        yield (
            "Carbon monoxide has no smell and no arithmetic makes it safe: burner off, everyone out into fresh air, "
            "and call the emergency number. Only a detector's reading counts."
        )
        return
    yield from _reached(found)
    yield (
        "Carbon dioxide lies low: near the floor, in a pit, a cellar or a chest freezer it is worse than the mean, and "
        "children and pets breathe there first."
    )
    yield (
        "Feel dizzy, breathless or headachy: leave at once, air the room from outside, and do not go back in for "
        "anyone: call the emergency number. These limits are for healthy people at work; a meter decides, not this."
    )


def _reached(found: Found) -> Iterator[str]:
    """Which limit is passed, judged by the air low down."""
    concentrations = [found[name] for name in ("low_concentration", "steady_concentration") if name in found]
    worst = max(concentrations, default=0.0)
    if worst >= found["limit_immediate_danger"]:
        yield "DANGER: low down this can pass 40,000 ppm, which NIOSH calls immediately dangerous to life. Stay out."
    elif worst >= found["limit_short_time"]:
        yield "WARNING: low down this can pass 30,000 ppm, NIOSH's limit for 15 minutes. Stay out until it is aired."
    elif worst >= found["limit_working_day"]:
        yield "CAUTION: low down this can pass 5,000 ppm, OSHA's limit for a working day. Air the room."
