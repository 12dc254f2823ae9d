"""The door and the units, against NIST Special Publication 811 (2008), Appendix B."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators import BadInput, System, units
from calculators.units.names import SPELT, UNITS

# NIST SP 811 (2008), Appendix B.8 and B.9: factors as printed there (gallon, quart, ounces, pound and inch exact).
NIST_SP_811 = [
    ("1 US gal", "L", 3.785411784, 1e-9),
    ("1 imp gal", "L", 4.54609, 1e-9),
    ("5 imperial gallons", "L", 22.73045, 1e-9),
    ("1 qt", "L", 0.946352946, 1e-9),
    ("1 US fl oz", "mL", 29.5735295625, 1e-9),
    ("1 imp fl oz", "mL", 28.4130625, 1e-9),
    ("1 lb", "kg", 0.45359237, 1e-12),
    ("1 oz", "g", 28.349523125, 1e-9),
    ("1 psi", "kPa", 6.894757, 1e-6),
    ("1 bar", "psi", 14.503774, 1e-6),
    ("1 atm", "psi_absolute", 14.695949, 1e-6),
    ("100 degF", "degC", 37.7777778, 1e-7),
    ("1 ft", "m", 0.3048, 1e-12),
    ("3/16 in", "mm", 4.7625, 1e-12),
]


@pytest.mark.parametrize(("said", "unit", "exact", "within"), NIST_SP_811)
def test_agrees_with_nist_sp_811(said: str, unit: str, exact: float, within: float) -> None:
    assert units.parse(said, unit) == pytest.approx(exact, abs=within)


def test_a_rise_of_ten_fahrenheit_degrees_is_5_6_kelvin_and_no_32_is_taken_off() -> None:
    assert units.parse("10 degF", "delta_degC") == pytest.approx(5.5556, abs=1e-4)
    assert units.parse("10 F", "degC") == pytest.approx(-12.2222, abs=1e-4)


def test_letters_after_a_temperature_are_degrees_not_farad_and_coulomb() -> None:
    assert units.parse("68F", "degC") == pytest.approx(20.0)
    assert units.parse("20C", "degC") == 20.0


@pytest.mark.parametrize(
    ("said", "unit", "value"),
    [
        ("12 psi", "bar", 0.82737),
        ("12psig", "bar", 0.82737),
        ("38 °F", "degC", 3.3333),
        ("38 ° F", "degC", 3.3333),
        ("68 degrees fahrenheit", "degC", 20.0),
        ("-1 °C", "degC", -1.0),
        ("−1 °C", "degC", -1.0),
        ("1.050", "SG", 1.050),
        ("1,050", "SG", 1.050),
        ("50 points", "SG", 1.050),
        ("12 plato", "SG", 1.0484),
        ("1.050 SG", "degP", 12.387),
        ("1,5 bar", "bar", 1.5),
        ("1,609 m", "m", 1609.0),
        ("1,609.5 m", "m", 1609.5),
        ("5 1/2 gal", "L", 20.8198),
        (".5 L", "L", 0.5),
        ("2.5", "vol", 2.5),
        ("5 g/L", "vol", 2.5293),
        ("75%", "percent", 75.0),
        ("8 oz", "mL", 236.588),
        ("8 oz", "g", 226.796),
    ],
)  # fmt: skip
def test_reads_what_people_write(said: str, unit: str, value: float) -> None:
    assert units.parse(said, unit) == pytest.approx(value, abs=1e-4 * max(1.0, abs(value)))


@pytest.mark.parametrize(
    ("said", "unit", "message"),
    [
        ("12", "bar", r"gauge_pressure: say the unit too, for example '0\.8 bar'"),
        ("38", "degC", r"say the unit too, for example '20 degC'"),
        ("68 psi", "degC", r"'68 psi' is a gauge pressure; a temperature is needed\. Write for example '20 degC'"),
        ("26.7 psia", "bar", r"is an absolute pressure; a gauge pressure is needed\. Write what the gauge reads"),
        ("12 firkins", "L", r"the unit 'firkins' is not known\. Write for example '20 L'"),
        ("a lot", "L", r"'a lot' is not a figure"),
        ("1.2.3 L", "L", r"is not a figure"),
        ("1/0 L", "L", r"is not a figure"),
        ("1e999 L", "L", r"is not a figure"),
    ],
)
def test_refuses_what_it_cannot_read_and_says_what_to_write(said: str, unit: str, message: str) -> None:
    with pytest.raises(BadInput, match=message):
        units.parse(said, unit, "gauge_pressure")


def test_knows_only_units_of_its_own_list_and_each_spelling_means_one() -> None:
    assert set(SPELT.values()) == set(UNITS)
    with pytest.raises(BadInput, match="the unit 'parsec' is not known"):
        units.parse("3 parsec", "m")


@given(value=st.floats(-1000, 1000), pair=st.sampled_from([("degC", "degF"), ("bar", "psi"), ("L", "imp_gal"),
       ("g", "oz"), ("m", "ft"), ("SG", "points"), ("vol", "g/L")]))  # fmt: skip
def test_there_and_back_is_where_it_began(value: float, pair: tuple[str, str]) -> None:
    unit, other = pair
    assert units.convert(units.convert(value, unit, other), other, unit) == pytest.approx(value, abs=1e-9)


@pytest.mark.parametrize(
    ("value", "unit", "prefer", "shown"),
    [
        (3.3333, "degC", "us", "38 °F (3.3 °C)"),
        (0.82737, "bar", "metric", "0.83 bar (12 psi)"),
        (5.5556, "delta_degC", "us", "10 °F (5.6 °C)"),
        (18.927, "L", "us", "5 US gal (18.9 L)"),
        (0.33, "L", "metric", "330 mL (11.2 US fl oz)"),
        (83.44, "kPa_absolute", "metric", "83.4 kPa absolute (12.1 psi absolute)"),
        (131.4, "g", "us", "4.6 oz (131 g)"),
        (28.0, "g", "us", "0.99 oz (28 g)"),
        (2300.0, "g", "metric", "2.3 kg (5.07 lb)"),
        (1.05, "SG", "us", "1.050"),
        (2.5, "vol", "us", "2.5 volumes"),
        (0.0061, "SG_difference", "us", "6.1 points"),
        (0.0, "SG_difference", "metric", "0 points"),
        (4.0, "d", "metric", "4 days"),
        (1.0, "d", "metric", "1 day"),
        (36.0, "h", "us", "36 hours"),
        (2.0, "L", "us", "2.1 US qt (2 L)"),
        (-0.001, "degC", "metric", "0 °C (32 °F)"),
    ],
)
def test_shows_a_figure_in_both_systems_rounded_as_the_trade_reads_it(
    value: float, unit: str, prefer: System, shown: str
) -> None:
    assert units.both_systems(value, unit, prefer) == shown


@pytest.mark.parametrize(
    ("value", "unit", "doubt", "shown"),
    [
        (8.38, "bar", 0.9, "8.4 bar (120 psi)"),
        (0.0112, "SG_difference", 0.002, "11 points"),
        (75.2, "percent", 1.4, "75 %"),
        (5.2, "percent", 3.0, "5.2 %"),  # never fewer than two figures
        (1.0132, "SG", 0.02, "1.013"),  # a gravity always has three decimals
        (0.0, "bar", 0.1, "0 bar (0 psi)"),
    ],
)
def test_a_doubtful_figure_shows_no_digit_that_the_doubt_drowns(
    value: float, unit: str, doubt: float, shown: str
) -> None:
    # the last digit stands in the place of the first digit of the uncertainty: common practice
    assert units.both_systems(value, unit, "metric", doubt) == shown


def test_a_figure_as_it_was_said_keeps_its_digits_and_only_its_translation_is_rounded() -> None:
    assert units.both_systems(18.4, "L", "metric", 0.5, said=True) == "18.4 L (4.9 US gal)"
    assert units.both_systems(0.8, "bar", "metric", 0.07, said=True) == "0.8 bar (12 psi)"
