"""The list of calculators: every module of this package that uses ``@calculator``. Nothing else is edited."""

from __future__ import annotations

import pkgutil
from functools import cache
from importlib import import_module
from types import MappingProxyType
from typing import TYPE_CHECKING

from calculators.core import BadInput

if TYPE_CHECKING:
    from collections.abc import Mapping

    from calculators.calculator import Calculator

_registered: dict[str, Calculator] = {}


def register(calculator: Calculator) -> None:
    """Take a calculator into the list; two of one name are a fault of the program."""
    if calculator.name in _registered:
        raise ValueError(f"two calculators are called {calculator.name!r}")
    _registered[calculator.name] = calculator


@cache
def calculators() -> Mapping[str, Calculator]:
    """Every calculator by name, in alphabetical order."""
    import_modules("calculators")
    return MappingProxyType(dict(sorted(_registered.items())))


def import_modules(package: str) -> None:
    """Import every module of a package, so that each puts itself into its list."""
    for module in pkgutil.iter_modules(import_module(package).__path__):
        import_module(f"{package}.{module.name}")


def names() -> tuple[str, ...]:
    """The names of all calculators, in alphabetical order."""
    return tuple(calculators())


def get(name: str) -> Calculator:
    """The calculator of that name; raises BadInput with the names there are."""
    try:
        return calculators()[name]
    except KeyError:
        raise BadInput("calculator", f"there is no calculator {name!r}. There are: {', '.join(names())}.") from None
