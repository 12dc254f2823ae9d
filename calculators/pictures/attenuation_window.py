"""How far a beer has come, against the window in which its yeast should finish."""

from __future__ import annotations

from calculators.core import BadInput, Calculation, Reading, System
from calculators.pictures.chart import Axis, Band, Chart, Line, Mark, bare, steps
from calculators.pictures.registry import picture


@picture("attenuation-window", calculator="finish-estimate")
def attenuation_window(done: Calculation, _system: System) -> Chart:
    given = bare(done)
    original, now = given["original_gravity"], given["current_gravity"]
    if now is None:
        raise BadInput("current_gravity", "is missing. Give what the hydrometer reads now, for example '1.020'.")
    window = done.results["final_gravity"]
    low, high = (_attenuation(original, end) for end in (window.high, window.low))
    reached = _attenuation(original, now)
    xs = steps(0.0, max(100.0, high, reached))
    return Chart(
        title="Attenuation so far, and the window to expect",
        alternative=(
            f"Gravity falls from {original:.3f} in a straight line as attenuation rises. The window to finish in is "
            f"{window.low:.3f} to {window.high:.3f}, {low:.0f} to {high:.0f} % apparent attenuation. Yours: "
            f"{now:.3f}, {reached:.0f} %, {_where(now, window)}."
        ),
        x=Axis("apparent attenuation", "percent"),
        y=Axis("specific gravity", "SG"),
        xs=xs,
        lines=(Line("", tuple(original - (original - 1.0) * x / 100.0 for x in xs)),),
        marks=(Mark(f"now: {now:.3f}", reached, now),),
        bands=(Band("window to finish in", low, high, along_x=True),),
    )


def _attenuation(original: float, gravity: float) -> float:
    """Percent, on gravity points."""
    return 100.0 * (original - gravity) / (original - 1.0)


def _where(now: float, window: Reading) -> str:
    if now > window.high:
        return f"{(now - window.high) * 1000:.0f} points above the window"
    return "below the window" if now < window.low else "inside the window"
