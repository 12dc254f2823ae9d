"""The list of pictures: every module of this package that uses ``@picture``. Nothing else is edited."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache
from types import MappingProxyType
from typing import NamedTuple

from calculators.core import BadInput, Calculation, System
from calculators.pictures.chart import Chart
from calculators.registry import import_modules

Charting = Callable[[Calculation, System], Chart]


class Pictured(NamedTuple):
    """A picture that can be made: of which calculator, and the function that charts one calculation of it."""

    calculator: str
    chart: Charting


_registered: dict[str, Pictured] = {}


def picture(name: str, *, calculator: str) -> Callable[[Charting], Charting]:
    """Make a picture of a function that charts a calculation of ``calculator``; a calculator has one at the most."""

    def made(chart: Charting) -> Charting:
        if name in _registered:
            raise ValueError(f"two pictures are called {name!r}")
        if calculator in (other.calculator for other in _registered.values()):
            raise ValueError(f"{calculator} has a picture already; {name!r} would be a second one")
        _registered[name] = Pictured(calculator, chart)
        return chart

    return made


@cache
def _pictures() -> Mapping[str, Pictured]:
    import_modules("calculators.pictures")
    return MappingProxyType(dict(sorted(_registered.items())))


def names() -> tuple[str, ...]:
    """The names of all pictures, in alphabetical order."""
    return tuple(_pictures())


def get(name: str) -> Pictured:
    """The picture of that name; raises BadInput with the names there are."""
    try:
        return _pictures()[name]
    except KeyError:
        raise BadInput("picture", f"there is no picture {name!r}. There are: {', '.join(names())}.") from None


def of(calculator: str) -> str:
    """The name of the picture of a calculator; raises BadInput with the calculators that have one."""
    pictured = {each.calculator: name for name, each in _pictures().items()}
    if calculator not in pictured:
        raise BadInput(
            "picture", f"there is none of {calculator}. There are pictures of {', '.join(sorted(pictured))}."
        )
    return pictured[calculator]


def pictured() -> frozenset[str]:
    """The names of the calculators that have a picture."""
    return frozenset(each.calculator for each in _pictures().values())
