"""Every example in the package's documentation runs, and every module says what it is."""

from __future__ import annotations

import doctest
import pkgutil
from importlib import import_module
from pathlib import Path

import pytest

import calculators
from calculators.calculator import calculator
from calculators.core import COMMON_PRACTICE, ResultSpec
from calculators.measures import altitude, beer_temperature
from calculators.units import converting

MODULES = [
    module.name
    for module in pkgutil.walk_packages(calculators.__path__, "calculators.")
    if not module.name.startswith("calculators.__")
]


@pytest.mark.parametrize("name", ["calculators", *MODULES])
def test_a_module_says_what_it_is_and_its_examples_are_right(name: str) -> None:
    module = import_module(name)
    assert module.__doc__
    assert doctest.testmod(module).failed == 0


def test_a_calculator_that_its_docstring_does_not_fully_describe_is_refused() -> None:
    def half_described(temperature: float, altitude: float) -> dict[str, float]:
        """A calculator with a gap.

        Parameters
        ----------
        temperature : degC

        Returns
        -------
        pressure : bar GAUGE
        """
        return {"pressure": temperature + altitude}

    with pytest.raises(ValueError, match=r"gap: the docstring describes \['temperature'\], the code has \['temper"):
        calculator(
            "gap",
            title="Gap",
            inputs=(beer_temperature("temperature"), altitude()),
            results=(ResultSpec("pressure", "bar"),),
            sources=(COMMON_PRACTICE,),
        )(half_described)
    assert "gap" not in calculators.names()


def test_where_no_cache_folder_can_be_written_the_units_are_read_anew(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "a-file").write_text("in the way of a folder")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "a-file"))
    assert converting._read_definitions().Quantity(1.0, "foot").m_as("meter") == pytest.approx(0.3048)
