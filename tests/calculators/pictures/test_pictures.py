"""Pictures: drawn on demand, the same each time, with words and a table for who cannot see them."""

from __future__ import annotations

import subprocess
import sys
from itertools import combinations
from math import isfinite
from typing import Any
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import calculators
from calculators import BadInput, InputSpec, pictures
from calculators.pictures import drawing
from calculators.pictures.chart import Chart
from calculators.pictures.registry import get

INPUTS: dict[str, dict[str, calculators.InputValue]] = {
    "attenuation-window": {"original_gravity": "1.060", "attenuation": "72 to 78 percent", "current_gravity": "1.022"},
    "carbonation-curves": {"temperature": "38 degF", "gauge_pressure": "12 psi"},
    "mash-steps": {
        "grain_mass": "5 kg", "mash_water_volume": "15 L", "mash_temperature": "62 degC",
        "target_mash_temperature": "67 degC", "added_water_temperature": "99 degC",
    },
    "pressure-by-gravity-left": {
        "vessel_volume": "30 L", "beer_volume": "23 L", "current_gravity": "1.020", "final_gravity": "1.010",
        "temperature": "20 degC",
    },
    "pressure-by-temperature": {
        "vessel_volume": "19 L", "beer_volume": "18 L", "start_temperature": "38 degF", "end_temperature": "70 degF",
        "start_gauge_pressure": "12 psi",
    },
    "room-concentration": {"room_volume": "30 m3", "co2_mass": "5 lb", "air_changes": "2 per hour"},
    "viability-by-age": {"batch_volume": "20 L", "original_gravity": "1.050", "yeast_age": "75 d"},
}  # fmt: skip
SVG = "{http://www.w3.org/2000/svg}"


def charted(name: str, **changed: calculators.InputValue) -> Chart:
    picture = get(name)
    return picture.chart(calculators.run(picture.calculator, INPUTS[name] | changed), "metric")


def test_every_picture_has_an_example_here() -> None:
    assert pictures.names() == tuple(sorted(INPUTS))


@pytest.mark.parametrize("name", INPUTS)
def test_a_picture_is_one_svg_element_that_says_what_it_shows(name: str) -> None:
    made = pictures.draw(name, INPUTS[name])
    root = ElementTree.fromstring(made.svg)
    assert root.tag == f"{SVG}svg"
    assert root.get("role") == "img"
    told = {child.get("id"): child.text for child in root if child.tag in (f"{SVG}title", f"{SVG}desc")}
    assert [told[part] for part in str(root.get("aria-labelledby")).split()] == [made.title, made.alternative]
    assert len(made.alternative) > 80


@pytest.mark.parametrize("name", INPUTS)
def test_the_same_inputs_make_the_same_svg_without_date_or_maker(name: str) -> None:
    first, second = (pictures.draw(name, INPUTS[name], "us").svg for _ in range(2))
    assert first == second
    assert "metadata" not in first
    assert "<script" not in first


def test_another_process_makes_the_same_svg() -> None:
    code = (
        "import sys; from calculators import pictures;"
        f"sys.stdout.write(pictures.draw('carbonation-curves', {INPUTS['carbonation-curves']}).svg)"
    )
    elsewhere = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert elsewhere == pictures.draw("carbonation-curves", INPUTS["carbonation-curves"]).svg


def test_the_drawing_library_is_loaded_only_for_a_picture() -> None:
    code = (
        "import sys, calculators; from calculators import pictures; calculators.names(); pictures.names();"
        "sys.exit('matplotlib' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


@pytest.mark.parametrize("name", INPUTS)
def test_a_calculation_and_its_inputs_make_the_same_picture(name: str) -> None:
    done = calculators.run(get(name).calculator, INPUTS[name])
    assert pictures.draw(name, done) == pictures.draw(name, INPUTS[name])


@pytest.mark.parametrize("name", INPUTS)
def test_the_table_behind_it_is_full_and_tells_the_customers_points(name: str) -> None:
    chart = charted(name)
    table = chart.table("metric")
    assert all(len(row) == len(table.head) for row in table.rows)
    assert len(table.rows) == 9 + len(chart.marks) + len(chart.levels) + len(chart.bands)
    for mark in chart.marks:
        assert any(row[0].startswith(mark.name) for row in table.rows)


def test_figures_and_words_come_in_the_system_asked_for() -> None:
    us, metric = (
        pictures.draw("carbonation-curves", INPUTS["carbonation-curves"], system) for system in ("us", "metric")
    )
    assert us.table.head[0] == "beer temperature (°F)"
    assert metric.table.head[0] == "beer temperature (°C)"
    assert "Your beer: 38 °F and 12 psi hold 2.58 volumes" in us.alternative
    assert "gauge pressure (psi)" in us.svg
    assert "gauge pressure (bar)" in metric.svg


# ---- what is drawn is what the calculators say -------------------------------------------------------------------


def on_the_curve(chart: Chart, x: float) -> float:
    """Height of the first curve at x, straight between its places."""
    after = next(at for at, place in enumerate(chart.xs) if place >= x and at)
    (x0, y0), (x1, y1) = ((chart.xs[at], chart.lines[0].ys[at]) for at in (after - 1, after))
    return y0 + (y1 - y0) * (x - x0) / (x1 - x0)


@pytest.mark.parametrize("name", [name for name in INPUTS if name not in ("carbonation-curves", "room-concentration")])
def test_the_customers_points_lie_on_the_curve(name: str) -> None:
    chart = charted(name)
    height = max(chart.lines[0].ys) - min(chart.lines[0].ys)
    assert chart.marks
    for mark in chart.marks:
        assert on_the_curve(chart, mark.x) == pytest.approx(mark.y, abs=0.005 * height)


def test_the_carbonation_curves_are_the_charts_cells() -> None:
    # Miller, BrewingTechniques 2(1) 1994, Table I (ASBC Beer-13): 38 °F and 12 psi hold 2.57 vol
    chart = charted("carbonation-curves")
    heights = {line.name: line.ys for line in chart.lines}
    at = min(range(len(chart.xs)), key=lambda place: abs(chart.xs[place] - 3.33))
    assert heights["2.5 volumes"][at] < 0.8274 < heights["3 volumes"][at]


def test_the_room_clears_by_the_decay_of_a_well_mixed_room_and_low_down_is_worse() -> None:
    chart = charted("room-concentration")
    mean, low = (line.ys for line in chart.lines)
    assert (mean[30] - 420) / (mean[0] - 420) == pytest.approx(2.718281828 ** (-2 * chart.xs[30]))
    assert all(below > even for below, even in zip(low, mean, strict=True))
    assert [level.y for level in chart.levels] == [5000, 30000, 40000]


def test_a_room_that_fills_shows_where_it_settles() -> None:
    room: dict[str, calculators.InputValue] = {"room_volume": 30, "co2_flow": 100, "air_changes": 0.5}
    chart = get("room-concentration").chart(calculators.run("gas-in-room", room), "metric")
    settled = calculators.run("gas-in-room", room).results["steady_concentration"].value
    assert chart.lines[0].ys[-1] == pytest.approx(settled, rel=0.01)
    assert chart.title == "Carbon dioxide gathering in a room"


def test_the_window_is_where_the_yeast_should_finish() -> None:
    (band,) = charted("attenuation-window").bands
    assert band.along_x
    assert band.low < 72 < 78 < band.high
    assert "points above the window" in charted("attenuation-window").alternative
    assert "inside the window" in charted("attenuation-window", current_gravity="1.015").alternative


# ---- what cannot be ----------------------------------------------------------------------------------------------


def test_an_unknown_picture_is_answered_with_those_there_are() -> None:
    with pytest.raises(BadInput, match=r"there is no picture 'pressure'\. There are: .*pressure-by-temperature"):
        pictures.draw("pressure", {})


def test_a_calculation_of_another_calculator_is_refused() -> None:
    done = calculators.run("extract-conversion", {"specific_gravity": "1.050"})
    with pytest.raises(BadInput, match="mash-steps shows mash-correction, not extract-conversion"):
        pictures.draw("mash-steps", done)


def test_no_picture_makes_carbon_monoxide_look_like_a_curve() -> None:
    with pytest.raises(BadInput, match="no picture of carbon monoxide: burner off, everyone out"):
        pictures.draw("room-concentration", {"gas": "co"})


@pytest.mark.parametrize(
    ("name", "without", "message"),
    [
        ("attenuation-window", "current_gravity", r"current_gravity: is missing\. Give what the hydrometer reads now"),
        ("room-concentration", "air_changes", r"air_changes: is missing\. Say how often the air is renewed"),
        ("room-concentration", "co2_mass", r"start_concentration: is missing"),
    ],
)
def test_what_a_picture_needs_beyond_its_calculator_is_asked_for(name: str, without: str, message: str) -> None:
    with pytest.raises(BadInput, match=message):
        pictures.draw(name, {key: value for key, value in INPUTS[name].items() if key != without})


def _possible(spec: InputSpec) -> st.SearchStrategy[Any]:
    if spec.kind == "choice":
        return st.sampled_from(spec.choices)
    return st.booleans() if spec.kind == "flag" else st.floats(*(spec.established or spec.possible))


@pytest.mark.parametrize("name", INPUTS)
@settings(max_examples=40)
@given(data=st.data())
def test_whatever_can_be_calculated_makes_finite_curves_or_a_clear_error(name: str, data: st.DataObject) -> None:
    picture = get(name)
    specs = calculators.get(picture.calculator).inputs
    inputs = {
        key: data.draw(_possible(spec)) for key, spec in specs.items() if spec.required or data.draw(st.booleans())
    }
    try:
        chart = picture.chart(calculators.run(picture.calculator, inputs), "metric")
    except BadInput:
        return
    assert all(before < after for before, after in zip(chart.xs, chart.xs[1:], strict=False))
    assert all(isfinite(y) for line in chart.lines for y in line.ys)
    assert {len(line.ys) for line in chart.lines} == {len(chart.xs)}


# ---- colours -----------------------------------------------------------------------------------------------------


def linear(colour: str) -> list[float]:
    """Linear light of "#rrggbb" (IEC 61966-2-1)."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    return [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]


def luminance(colour: str) -> float:
    return sum(share * part for share, part in zip((0.2126, 0.7152, 0.0722), linear(colour), strict=True))


def contrast(one: str, other: str) -> float:
    """Contrast ratio of W3C, Web Content Accessibility Guidelines 2.2."""
    dark, bright = sorted((luminance(one), luminance(other)))
    return (bright + 0.05) / (dark + 0.05)


# Full deficiency, applied to linear light: G.M. Machado, M.M. Oliveira, L.A.F. Fernandes, IEEE Trans. Vis. Comput.
# Graph. 15 (2009) 1291-1298; matrices from memory.
SIGHTS = {
    "usual": ((1, 0, 0), (0, 1, 0), (0, 0, 1)),
    "protan": ((0.152286, 1.052583, -0.204868), (0.114503, 0.786281, 0.099216), (-0.003882, -0.048116, 1.051998)),
    "deutan": ((0.367322, 0.860646, -0.227968), (0.280085, 0.672501, 0.047413), (-0.011820, 0.042940, 0.968881)),
}


def lab(colour: str, sight: str) -> tuple[float, float, float]:
    """CIELAB (D65) of a colour as that eye sees it."""
    light = linear(colour)
    red, green, blue = (sum(a * b for a, b in zip(row, light, strict=True)) for row in SIGHTS[sight])
    x = (0.4124 * red + 0.3576 * green + 0.1805 * blue) / 0.9505
    y = 0.2126 * red + 0.7152 * green + 0.0722 * blue
    z = (0.0193 * red + 0.1192 * green + 0.9505 * blue) / 1.089
    fx, fy, fz = (max(part, 0) ** (1 / 3) if part > 0.008856 else 7.787 * part + 16 / 116 for part in (x, y, z))
    return 116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)


COLOURS = {variable: pair for variable, *pair in drawing._COLOURS.values()}
WRITTEN = [name for name in COLOURS if name not in ("paper", "shade")]


@pytest.mark.parametrize("mode", [0, 1], ids=["light", "dark"])
@pytest.mark.parametrize("name", WRITTEN)
def test_every_colour_that_is_written_with_is_readable_on_its_paper(name: str, mode: int) -> None:
    assert contrast(COLOURS[name][mode], COLOURS["paper"][mode]) >= 4.5


@pytest.mark.parametrize("mode", [0, 1], ids=["light", "dark"])
@pytest.mark.parametrize("sight", SIGHTS)
def test_the_curves_and_the_customers_colour_are_told_apart_by_every_eye(sight: str, mode: int) -> None:
    seen = [lab(COLOURS[name][mode], sight) for name in COLOURS if name == "yours" or "curve" in name]
    assert len(seen) == len(drawing.CURVES) + 1
    for one, other in combinations(seen, 2):
        assert sum((a - b) ** 2 for a, b in zip(one, other, strict=True)) ** 0.5 > 25


def test_curves_differ_in_their_dashes_too() -> None:
    assert len({str(dashes) for dashes in drawing._DASHES}) == len(drawing.CURVES)


def test_a_stand_in_colour_never_reaches_the_reader() -> None:
    for name, inputs in INPUTS.items():
        svg = pictures.draw(name, inputs).svg
        assert not any(stand_in in svg for stand_in in drawing._COLOURS)
        assert "#000000" not in svg
