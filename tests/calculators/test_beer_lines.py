"""Balancing a beer line and the time of a transfer: the draught manual and the pipe flow equation."""

from __future__ import annotations

from collections.abc import Callable
from math import pi

import pytest
from fluids.core import Reynolds
from fluids.friction import friction_factor
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from calculators import BadInput, InputValue, run
from calculators.physics import pipe_flow

Found = Callable[..., dict[str, float]]
Inputs = dict[str, InputValue]
PSI, FOOT = 0.0689475729, 0.3048
FL_OZ = 29.5735295625


def library_drop(bore: float, length: float, flow: float, viscosity: float = 2.42e-3, density: float = 1010.0) -> float:
    """bar lost in a line (m, m³/s), Darcy and Weisbach with the friction factor of the fluids library, 1.5 µm rough."""
    speed = flow / (pi / 4 * bore**2)
    factor = friction_factor(Re=Reynolds(V=speed, D=bore, rho=density, mu=viscosity), eD=1.5e-6 / bore)
    return float(factor * length / bore * density * speed**2 / 2) / 1e5


# Brewers Association, Draught Beer Quality Manual, chapter on balance; the 3/16 in row from memory.
@pytest.mark.parametrize(
    ("bore", "material", "feet", "psi", "within"),
    [("1/4 in", "vinyl", 20, 17, 0.3), ("5/16 in", "barrier", 20, 2, 0.3), ("3/16 in", "vinyl", 5, 15, 2.0)],
)
def test_spends_what_the_manuals_table_says(
    bore: str, material: str, feet: float, psi: float, within: float, found: Found
) -> None:
    done = found("line-balance", line_bore=bore, line_material=material, line_length=f"{feet} ft")
    assert done["gauge_pressure_by_manual"] / PSI == pytest.approx(psi, abs=within / 10)


def test_gives_the_manuals_balanced_length(found: Found) -> None:
    # manual's method: (12 psi - 6 ft at 0.5 psi/ft) / 0.85 psi/ft = 10.6 ft
    done = found("line-balance", line_bore="1/4 in", gauge_pressure="12 psi", rise="6 ft")
    assert done["line_length_by_manual"] / FOOT == pytest.approx(9 / 0.85, abs=0.01)


def test_the_lift_is_hydrostatic_and_the_manuals_rule_is_seven_parts_in_six(found: Found) -> None:
    # rho g h with 1010 kg/m³: 0.099 bar a metre, 2.63 psi for 6 ft; the rule of thumb says 3.0
    assert found("line-balance", line_bore="1/4 in", rise="1 m")["lift"] == pytest.approx(0.099, abs=0.0005)
    assert found("line-balance", line_bore="1/4 in", rise="6 ft")["lift"] / PSI == pytest.approx(2.63, abs=0.01)


# The fluids library; beer of 2.42 mPa s and 1010 kg/m³ at 6 °C (Liger-Belair and Cilindre, ACS Omega 6 (2021) 9672).
@pytest.mark.parametrize(
    ("bore", "metres", "flow", "bar"),
    [(4.7625, 1.524, 59.147, 0.623), (6.35, 3.048, 59.147, 0.319), (4.7625, 3.0, 45.0, 0.765)],
)
def test_pipe_flow_agrees_with_the_fluids_library(
    bore: float, metres: float, flow: float, bar: float, found: Found
) -> None:
    done = found("line-balance", line_bore=bore, line_length=metres, flow=flow)
    assert done["gauge_pressure_by_pipe_flow"] == pytest.approx(library_drop(bore / 1e3, metres, flow / 1e6), rel=0.005)
    assert done["gauge_pressure_by_pipe_flow"] == pytest.approx(bar, rel=0.01)


def test_the_flow_a_pressure_drives_is_the_librarys(found: Found) -> None:
    done = found("line-balance", line_bore=4.7625, line_length=1.5, gauge_pressure=0.8, rise=0.5)
    spent = 0.8 - 1010 * 9.80665 * 0.5 / 1e5
    reference = brentq(lambda flow: library_drop(4.7625e-3, 1.5, flow) - spent, 1e-5, 1e-3) * 1e6
    assert done["flow_by_pipe_flow"] == pytest.approx(reference, rel=0.005)
    assert done["flow_by_pipe_flow"] == pytest.approx(66.5, abs=0.5)


@pytest.mark.parametrize(("reynolds", "rough"), [(500, 1e-4), (2000, 1e-4), (4500, 3e-4), (2e4, 1e-5), (2e5, 1e-3)])
def test_the_friction_factor_is_colebrooks_or_laminar(reynolds: float, rough: float) -> None:
    assert pipe_flow.friction_factor(reynolds, rough) == pytest.approx(friction_factor(Re=reynolds, eD=rough), rel=1e-4)


def test_both_methods_are_named_and_both_stand_in_the_working() -> None:
    done = run("line-balance", {"line_bore": "3/16 in", "gauge_pressure": "12 psi"})
    by_manual, by_flow = (done.results[f"line_length_by_{way}"].value for way in ("manual", "pipe_flow"))
    assert by_flow > 1.5 * by_manual
    assert "length (manual)" in done.working
    assert "length (pipe flow)" in done.working
    assert any("The two methods disagree" in warning for warning in done.warnings)


def test_warns_below_a_reynolds_number_of_4000() -> None:
    slow = run("line-balance", {"line_bore": "3/8 in", "line_length": "10 ft", "flow": "30 mL/s"})
    usual = run("line-balance", {"line_bore": "3/16 in", "line_length": "10 ft"})
    assert any("the line may then spend only half as much" in warning for warning in slow.warnings)
    assert not any("laminar" in warning for warning in usual.warnings)


def test_says_where_the_bore_is_not_in_the_manuals_table() -> None:
    done = run("line-balance", {"line_bore": "4 mm", "gauge_pressure": "1 bar"})
    assert any("outside the manual's table" in warning for warning in done.warnings)


def test_a_pressure_that_does_not_lift_the_beer_is_refused() -> None:
    with pytest.raises(BadInput, match=r"gauge_pressure: 0\.2 bar does not lift beer 3 m\. Give more, or a lower tap"):
        run("line-balance", {"line_bore": "1/4 in", "gauge_pressure": "0.2 bar", "rise": "3 m"})


@given(bore=st.floats(3, 12), metres=st.floats(0.3, 30), bar=st.floats(0.001, 4))
def test_flow_and_pressure_drop_are_inverse(bore: float, metres: float, bar: float) -> None:
    line = pipe_flow.Line(bore / 1e3, metres, 2.42e-3)
    flow = line.flow(bar * 1e5)
    if line.reynolds(flow) <= pipe_flow.LAMINAR * (1 + 1e-9):  # at the limit the drop jumps up to the turbulent one
        assert line.pressure_drop(flow * (1 - 1e-9)) <= bar * 1e5 * (1 + 1e-6)
    else:
        assert line.pressure_drop(flow) == pytest.approx(bar * 1e5, rel=1e-4)


@given(bore=st.floats(3, 12), metres=st.floats(0.3, 30), bar=st.floats(0.001, 4), more=st.floats(0.001, 1))
def test_more_pressure_never_pours_less(bore: float, metres: float, bar: float, more: float) -> None:
    line = pipe_flow.Line(bore / 1e3, metres, 2.42e-3)
    assert line.flow((bar + more) * 1e5) >= line.flow(bar * 1e5) * (1 - 1e-12)


@given(
    bar=st.floats(0.6, 3), rise=st.floats(-2, 3), bore=st.floats(4, 10), material=st.sampled_from(["vinyl", "barrier"])
)
def test_length_and_pressure_are_inverse_by_both_methods(bar: float, rise: float, bore: float, material: str) -> None:
    line: Inputs = {"line_bore": bore, "rise": rise, "line_material": material}
    lengths = run("line-balance", {**line, "gauge_pressure": bar}).results
    for way in ("manual", "pipe_flow"):
        length = lengths[f"line_length_by_{way}"].value
        if 0.05 <= length <= 200:
            back = run("line-balance", {**line, "line_length": length}).results[f"gauge_pressure_by_{way}"].value
            assert back == pytest.approx(bar, abs=1e-9)


# ---- transfers --------------------------------------------------------------------------------------------------


def test_a_transfer_takes_the_librarys_time(found: Found) -> None:
    # fluids library, smooth tube, 1012 kg/m³ and 1.7 mPa s; beer near 18 °C is as thin
    flow = brentq(lambda q: library_drop(6e-3, 2.0, q, 1.7e-3, 1012.0) - 0.15, 1e-6, 1e-3)
    done = found(
        "transfer-time", beer_volume="20 L", line_bore="6 mm", line_length="2 m", gauge_pressure="0.15 bar",
        temperature="18 degC",
    )  # fmt: skip
    assert done["transfer_time"] == pytest.approx(20e-3 / flow / 60, rel=0.02)
    assert done["transfer_time"] == pytest.approx(7.6, abs=0.2)


def test_a_balanced_tap_pours_a_us_pint_in_eight_seconds(found: Found) -> None:
    # Draught Beer Quality Manual: 2 fl oz/s; 16 fl oz in 8 s
    done = found("transfer-time", beer_volume="16 fl oz", flow="2 fl oz/s")
    assert done["transfer_time"] * 60 == pytest.approx(8.0)
    assert found("transfer-time", beer_volume="1 imp pint", flow="2 fl oz/s")["transfer_time"] * 60 == pytest.approx(
        20 * 28.4130625 / (2 * FL_OZ)
    )


def test_a_siphon_runs_by_its_fall(found: Found) -> None:
    line = {"beer_volume": "20 L", "line_bore": "8 mm", "line_length": "2 m"}
    siphon = found("transfer-time", **line, gauge_pressure="0 bar", rise="-1 m")
    pushed = found("transfer-time", **line, gauge_pressure=1010 * 9.80665 / 1e5)
    assert siphon["transfer_time"] == pytest.approx(pushed["transfer_time"], rel=1e-9)


def test_counter_pressure_that_stops_it_is_named() -> None:
    line = {"beer_volume": "20 L", "line_bore": "8 mm", "line_length": "2 m", "gauge_pressure": "0.5 bar"}
    with pytest.raises(BadInput, match=r"0\.5 bar moves nothing against 0\.60 bar .*vent the receiving vessel"):
        run("transfer-time", {**line, "receiving_gauge_pressure": "0.6 bar"})


def test_a_transfer_time_is_called_the_least() -> None:
    line = {"beer_volume": "20 L", "line_bore": "8 mm", "line_length": "2 m", "gauge_pressure": "0.5 bar"}
    done = run("transfer-time", line)
    assert any("with nothing in the way" in warning for warning in done.warnings)
    assert any("the pressure marked on it and a working relief valve decide" in warning for warning in done.warnings)


@given(bore=st.floats(4, 12), metres=st.floats(0.5, 10), minutes=st.floats(0.5, 60), rise=st.floats(-1, 2))
def test_time_and_pressure_are_inverse(bore: float, metres: float, minutes: float, rise: float) -> None:
    line = {"beer_volume": 20.0, "line_bore": bore, "line_length": metres, "rise": rise}
    wanted = run("transfer-time", {**line, "transfer_time": minutes}).results
    pressure = wanted["gauge_pressure"].value
    if -0.5 <= pressure <= 10 and wanted["reynolds_number"].value > pipe_flow.LAMINAR * 1.01:
        back = run("transfer-time", {**line, "gauge_pressure": pressure}).results["transfer_time"].value
        assert back == pytest.approx(minutes, rel=1e-3)
