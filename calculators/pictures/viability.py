"""How much of a pack of yeast still lives, against its age."""

from __future__ import annotations

from calculators.core import Calculation, System
from calculators.physics import yeast
from calculators.pictures.chart import Axis, Chart, Line, Mark, bare, steps
from calculators.pictures.registry import picture


@picture("viability-by-age", calculator="pitching-rate")
def viability_by_age(done: Calculation, _system: System) -> Chart:
    given = bare(done)
    form, age = given["yeast_form"], given["yeast_age"]
    doubt = yeast.KEEPING[form].doubt
    xs = steps(0.0, max(180.0, 1.2 * age))
    alive = [yeast.viability(form, x) for x in xs]
    now = done.results["viability"]
    return Chart(
        title=f"Yeast alive by age: {form}, kept cold",
        alternative=(
            f"The share of living cells in {form} yeast falls with age, quickly at first, and is known only to about "
            f"{doubt:.0f} points either way. Yours: {age:.0f} days old, about {now.value:.0f} %, between "
            f"{now.low:.0f} and {now.high:.0f} %. A planning guess: strains and handling differ widely."
        ),
        x=Axis("age", "d"),
        y=Axis("living cells", "percent"),
        xs=xs,
        lines=(
            Line("about", tuple(alive)),
            Line("at best", tuple(min(100.0, y + doubt) for y in alive), faint=True),
            Line("at worst", tuple(max(0.0, y - doubt) for y in alive), faint=True),
        ),
        marks=(Mark(f"yours: {now.value:.0f} %", age, now.value, (now.low, now.high)),),
    )
