"""Pictures of what the calculators say: an SVG made on demand, the same in words, and the table behind it.

>>> from calculators import pictures
>>> made = pictures.draw("carbonation-curves", {"temperature": "38 degF", "gauge_pressure": "12 psi"}, "us")
>>> made.alternative.split(". ")[1]
'Your beer: 38 °F and 12 psi hold 2.58 volumes'
"""

from __future__ import annotations

from collections.abc import Mapping

import calculators
from calculators.core import BadInput, Calculation, System
from calculators.door import InputValue
from calculators.pictures import drawing
from calculators.pictures.chart import Chart, Picture, Table
from calculators.pictures.registry import get, names, of, pictured

__all__ = ["Chart", "Picture", "Table", "draw", "names", "of", "pictured"]


def draw(name: str, of: Calculation | Mapping[str, InputValue], units: System = "metric") -> Picture:
    """The picture ``name`` of a calculation, or of inputs for its calculator, in one system of units.

    Raises BadInput where there is no such picture, where the calculation is another calculator's, and where the inputs
    cannot be or do not make a picture. The same inputs make the same SVG, byte for byte.
    """
    picture = get(name)
    done = of if isinstance(of, Calculation) else calculators.run(picture.calculator, of, units)
    if done.calculator != picture.calculator:
        raise BadInput("calculation", f"{name} shows {picture.calculator}, not {done.calculator}. Give one of those.")
    chart = picture.chart(done, units)
    return Picture(name, chart.title, drawing.svg(name, chart, units), chart.alternative, chart.table(units))
