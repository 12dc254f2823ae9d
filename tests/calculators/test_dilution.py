"""Diluting a concentrate: C1 V1 = C2 V2, and which ounce and gallon."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators import BadInput, run

Found = Callable[..., dict[str, float]]


# NIST SP 811, Appendix B: gallons and fluid ounces, US and imperial; 1 in 640 and 1 in 800.
@pytest.mark.parametrize(
    ("ounce", "gallons", "dose"),
    [
        ("1 fl oz", "5 gal", 1.5625),
        ("1 imp fl oz", "5 imp gal", 1.25),
        ("1 fl oz", "5 imp gal", 29.5735295625 / 22.73045),
        ("1 imp fl oz", "5 gal", 28.4130625 / 18.92705892),
        ("1 oz", "5 gal", 1.5625),  # an ounce of a liquid is a fluid ounce
    ],
)
def test_an_ounce_in_five_gallons_depends_on_whose(ounce: str, gallons: str, dose: float, found: Found) -> None:
    assert found("dilution", dose_volume=ounce, water_volume=gallons)["dose"] == pytest.approx(dose, rel=1e-9)


def test_stock_for_a_wanted_strength(found: Found) -> None:
    # C1 V1 = C2 V2: 6 % mass per volume is 60,000 mg/L; 200 mg/L in 20 L
    done = found("dilution", stock_strength="60 g/L", target_strength="200 mg/L", water_volume="20 L")
    assert done["dose_volume"] == pytest.approx(200 * 20 / 60000 * 1000, rel=1e-12)
    assert done["strength"] == pytest.approx(200)


def test_the_labels_dose_in_another_volume(found: Found) -> None:
    done = found("dilution", label_dose_volume="1 fl oz", label_water_volume="5 gal", water_volume="10 L")
    assert done["dose_volume"] == pytest.approx(15.625, rel=1e-9)
    assert done["share_of_label"] == pytest.approx(100)


def test_a_mix_too_strong_is_thinned_and_one_too_weak_made_up(found: Found) -> None:
    label = {"label_dose": "1.5625 mL/L", "water_volume": "10 L"}
    strong = found("dilution", **label, dose_volume="31.25 mL")
    weak = found("dilution", **label, dose_volume="10 mL")
    assert (strong["share_of_label"], strong["water_to_add"], strong["dose_to_add"]) == pytest.approx((200, 10, 0))
    assert (weak["share_of_label"], weak["water_to_add"], weak["dose_to_add"]) == pytest.approx((64, 0, 5.625))


def test_says_what_too_strong_and_too_weak_mean() -> None:
    label = {"label_dose": "1.5625 mL/L", "water_volume": "10 L"}
    strong = " ".join(run("dilution", {**label, "dose_volume": "40 mL"}).warnings)
    weak = " ".join(run("dilution", {**label, "dose_volume": "8 mL"}).warnings)
    assert "Stronger than the label" in strong
    assert "Weaker than the label: do not count on it" in weak


def test_only_the_label_counts_and_products_are_never_mixed() -> None:
    said = " ".join(run("dilution", {"water_volume": "5 gal", "dose_volume": "1 oz"}).warnings)
    assert "Only what the label says counts" in said
    assert "chlorine (bleach) with acid or ammonia gives off poisonous gas" in said
    assert "3.785 L and an imperial one 4.546 L" in said


def test_a_dose_needs_the_label_or_two_strengths() -> None:
    with pytest.raises(BadInput, match="label_dose: give what the label says"):
        run("dilution", {"water_volume": "5 gal"})
    with pytest.raises(BadInput, match="label_water_volume: is missing: give label_dose_volume and label_water_volume"):
        run("dilution", {"water_volume": "5 gal", "label_dose_volume": "1 oz"})
    with pytest.raises(BadInput, match="target_strength: is above the concentrate's own strength"):
        run("dilution", {"water_volume": "5 gal", "stock_strength": "1 g/L", "target_strength": "2000 mg/L"})


@given(litres=st.floats(0.1, 1000), stock=st.floats(1, 500), target=st.floats(1, 900))
def test_dose_and_strength_are_inverse(litres: float, stock: float, target: float) -> None:
    mix = {"water_volume": litres, "stock_strength": stock}
    dose = run("dilution", {**mix, "target_strength": target}).results["dose_volume"].value
    assert run("dilution", {**mix, "dose_volume": dose}).results["strength"].value == pytest.approx(target)


@given(litres=st.floats(0.1, 1000), label=st.floats(0.1, 100), share=st.floats(0.1, 10))
def test_what_puts_a_mix_right_does(litres: float, label: float, share: float) -> None:
    mix = {"water_volume": litres, "dose_volume": litres * label * share, "label_dose": label}
    done = run("dilution", mix).results
    mended = {
        "water_volume": litres + done["water_to_add"].value,
        "dose_volume": litres * label * share + done["dose_to_add"].value,
        "label_dose": label,
    }
    assert run("dilution", mended).results["share_of_label"].value == pytest.approx(100)
