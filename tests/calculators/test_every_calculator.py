"""What holds for every calculator, today's and tomorrow's: nothing here names one."""

from __future__ import annotations

import doctest
import inspect
import json
import math
import re
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import calculators
from calculators import Calculation, Calculator, InputSpec, Reading, ResultSpec

NAMES = calculators.names()
AGREED = {
    *("alcohol-and-attenuation", "altitude-pressure", "bitterness", "bottle-pressure", "carbonation-equilibrium"),
    *("cylinder-use", "dilution", "extract-conversion", "extraction-efficiency", "finish-estimate", "gas-in-room"),
    *("gravity-correction", "hydrometer-correction", "ice-to-chill", "line-balance", "mash-correction"),
    *("pitching-rate", "pressure-temperature-choice", "priming-sugar", "refractometer-correction", "relief-capacity"),
    *("residual-carbonation", "sealed-vessel-pressure", "spunding-plan", "strike-temperature", "transfer-time"),
    *("venting-release", "warming-vessel-pressure"),
}


def test_the_names_the_knowledge_counts_on_are_there() -> None:
    assert set(NAMES) >= AGREED


def test_an_unknown_name_is_answered_with_the_names_there_are() -> None:
    with pytest.raises(calculators.BadInput, match=r"no calculator 'spunding'\. There are: .*spunding-plan"):
        calculators.get("spunding")


@pytest.mark.parametrize("name", NAMES)
def test_the_function_takes_just_the_inputs_that_are_specified(name: str) -> None:
    calculator = calculators.get(name)
    assert list(inspect.signature(calculator.compute).parameters) == list(calculator.inputs)


@pytest.mark.parametrize("name", NAMES)
def test_the_docstring_tells_unit_and_range_of_every_input(name: str) -> None:
    for spec in calculators.get(name).inputs.values():
        if spec.kind == "quantity":
            assert re.match(rf"{re.escape(spec.unit)}\b", spec.description), f"{spec.name}: begin with {spec.unit}"
            told = {float(figure) for figure in re.findall(r"-?\d+(?:\.\d+)?", spec.description)}
            assert set(spec.possible) <= told, f"{spec.name}: say {spec.possible}"
        for word in spec.choices:
            assert word in spec.description, f"{spec.name}: say {word}"


@pytest.mark.parametrize("name", NAMES)
def test_the_docstring_tells_the_unit_of_every_result_and_gauge_from_absolute(name: str) -> None:
    calculator = calculators.get(name)
    for result in calculator.results.values():
        assert result.description.startswith(result.unit.removesuffix("_absolute")), (
            f"{result.name}: begin with its unit"
        )
    told: list[InputSpec | ResultSpec] = [*calculator.inputs.values(), *calculator.results.values()]
    for spec in told:
        if spec.unit in ("bar", "kPa", "psi"):
            assert "GAUGE" in spec.description, spec.name
        if spec.unit.endswith("_absolute"):
            assert "ABSOLUTE" in spec.description, spec.name


@pytest.mark.parametrize("name", NAMES)
def test_every_source_is_cited_in_the_docstring_and_in_full(name: str) -> None:
    calculator = calculators.get(name)
    assert calculator.sources
    for source, citation in calculator.sources.items():
        assert source in calculator.doc
        assert len(citation) > 20


@pytest.mark.parametrize("name", NAMES)
def test_the_docstrings_examples_run_and_are_right(name: str) -> None:
    test = doctest.DocTestParser().get_doctest(calculators.get(name).doc, {}, name, None, None)
    outcome = doctest.DocTestRunner(verbose=False).run(test)
    assert outcome.attempted >= 2
    assert outcome.failed == 0


@pytest.mark.parametrize("name", NAMES)
def test_the_input_schema_is_plain_json_that_lists_every_input(name: str) -> None:
    calculator = calculators.get(name)
    schema = json.loads(json.dumps(calculator.schema(), allow_nan=False))
    assert list(schema["properties"]) == list(calculator.inputs)
    assert all(part["description"] for part in schema["properties"].values())


# ---- anything at all that can be given -------------------------------------------------------------------------


def _inside(spec: InputSpec) -> st.SearchStrategy[Any]:
    """Values that can be, so that the arithmetic itself is reached."""
    if spec.kind == "choice":
        return st.sampled_from(spec.choices)
    if spec.kind == "flag":
        return st.booleans()
    usual = st.floats(*(spec.established or spec.possible))
    return st.one_of(usual, st.floats(*spec.possible), st.lists(usual, min_size=3, max_size=3).map(_as_reading))


def _as_reading(three: list[float]) -> Reading:
    low, value, high = sorted(three)
    return Reading(value, low, high)


ODD_TEXTS = ("", "12", "nan", "1e999 psi", "-5 bar", "68F", "20C", "1.050 SG", "1,050", "½ gal", "1/0 lb", "psi", "🍺")
ODD = st.one_of(
    st.floats(), st.integers(), st.booleans(), st.none(), st.text(max_size=20), st.sampled_from(ODD_TEXTS),
    st.tuples(st.floats(), st.floats(), st.floats()).map(lambda three: Reading(*three)),
    st.dictionaries(
        st.sampled_from(["value", "unit", "low", "high"]), st.one_of(st.floats(), st.text(max_size=8), st.none())
    ),
)  # fmt: skip


@st.composite
def _inputs(draw: st.DrawFn, calculator: Calculator, *, odd: bool) -> dict[str, Any]:
    inputs = {}
    for name, spec in calculator.inputs.items():
        if spec.required or draw(st.booleans()):
            inputs[name] = draw(ODD) if odd and draw(st.integers(0, 3)) == 0 else draw(_inside(spec))
    if odd and draw(st.integers(0, 9)) == 0:
        inputs[draw(st.text(max_size=10))] = draw(ODD)
    return inputs


def _run_or_refuse(name: str, inputs: dict[str, Any]) -> Calculation | None:
    try:
        return calculators.run(name, inputs)
    except calculators.BadInput as refusal:
        _is_clear(refusal)
        return None


def _is_clear(refusal: calculators.BadInput) -> None:
    assert len(refusal.message) > 10
    assert str(refusal).startswith(f"{refusal.field}: ")


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=50)
@given(data=st.data())
def test_whatever_is_given_makes_a_finite_result_with_a_range_or_a_clear_error(name: str, data: st.DataObject) -> None:
    done = _run_or_refuse(name, data.draw(_inputs(calculators.get(name), odd=data.draw(st.booleans()))))
    if done is not None:
        for reading in done.results.values():
            assert all(math.isfinite(part) for part in reading[:3])
            assert reading.low <= reading.value <= reading.high
        json.dumps(done.as_dict(), allow_nan=False)


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=25)
@given(data=st.data())
def test_the_range_is_never_narrower_than_the_methods_own(name: str, data: st.DataObject) -> None:
    calculator = calculators.get(name)
    done = _run_or_refuse(name, data.draw(_inputs(calculator, odd=False)))
    if done is None:
        return
    for result, reading in done.results.items():
        spec = calculator.results[result]
        if not (spec.echoes and result in done.inputs):
            own = spec.own_uncertainty(reading.value) * (1 - 1e-9)
            assert reading.low <= max(reading.value - own, spec.possible[0])
            assert reading.high >= min(reading.value + own, spec.possible[1])


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=20)
@given(data=st.data())
def test_the_units_a_figure_is_given_in_do_not_change_the_answer(name: str, data: st.DataObject) -> None:
    calculator = calculators.get(name)
    inputs = data.draw(_inputs(calculator, odd=False))
    plain = {key: value.value if isinstance(value, Reading) else value for key, value in inputs.items()}
    other = {key: _in_another_unit(data, calculator.inputs[key], value) for key, value in plain.items()}
    first, second = _run_or_refuse(name, plain), _run_or_refuse(name, other)
    if first is not None and second is not None:
        for result, reading in first.results.items():
            assert second.results[result].value == pytest.approx(reading.value, rel=1e-6, abs=1e-6)


OTHERS = {
    "degC": "degF", "bar": "psi", "L": "imp_gal", "g": "oz", "kg": "lb", "m": "ft", "SG": "points", "degBx": "degP",
    "vol": "g/L", "min": "h", "mm": "in", "m3": "ft3", "SG_difference": "points_difference",
    "mL": "imp_fl_oz", "d": "h", "kg/h": "lb/h", "g/h": "kg/h", "mL/s": "fl_oz/s", "L/h": "gal/min", "ppm": "percent",
    "delta_degC": "delta_degF", "mL/L": "fl_oz/gal", "mg/L": "oz/gal", "points L/kg": "points gal/lb",
}  # fmt: skip


def _in_another_unit(data: st.DataObject, spec: InputSpec, value: Any) -> Any:
    other = OTHERS.get(spec.unit)
    if other is None or spec.kind != "quantity" or value in spec.possible or not data.draw(st.booleans()):
        return value
    return {"value": calculators.units.convert(value, spec.unit, other), "unit": other}
