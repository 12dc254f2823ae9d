"""Yeast: cells a wort wants, life left in a pack, packs and starters."""

from __future__ import annotations

from collections.abc import Callable
from math import ceil

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators import BadInput, run
from calculators.physics import yeast

Found = Callable[..., dict[str, float]]
WORT = {"batch_volume": "20 L", "original_gravity": "1.048"}


# G. Fix and L. Fix, An Analysis of Brewing Techniques (Brewers Publications 1997): 0.75 million (ale) and 1.5 million
# (lager) viable cells per mL and °P; °P by the ASBC cubic.
@pytest.mark.parametrize(
    ("kind", "litres", "gravity", "billions", "within"),
    [("clean-ale", 20, 1.048, 179, 4), ("lager", 20, 1.048, 357, 7), ("estery-ale", 23, 1.065, 274, 5)],
)
def test_gives_the_books_numbers_of_cells(
    kind: str, litres: float, gravity: float, billions: float, within: float, found: Found
) -> None:
    done = found("pitching-rate", batch_volume=litres, original_gravity=gravity, yeast_type=kind)
    assert done["cells_needed"] == pytest.approx(billions, abs=within)


def test_where_the_yeast_is_not_known_the_old_rule_is_taken_with_its_doubt() -> None:
    # common practice: about one million cells per mL and °P, less for ale, more for lager
    needed = run("pitching-rate", WORT).results["cells_needed"]
    assert needed.value == pytest.approx(20 * 11.9, rel=0.01)
    assert needed.low <= 0.75 * needed.value
    assert needed.high >= 1.25 * needed.value


# C. White and J. Zainasheff, Yeast (Brewers Publications 2010), starter sizes and Figure 5.5: 100 billion cells in 9 °P
# wort, not stirred.
@pytest.mark.parametrize(("litres", "billions"), [(0.5, 112), (1.0, 152), (4.0, 276)])
def test_grows_what_the_books_starter_table_says(litres: float, billions: float, found: Found) -> None:
    done = found("pitching-rate", **WORT, pack_count=1, viability=100, starter_volume=litres)
    assert done["cells_in_hand"] == 100
    assert done["cells_with_starter"] == pytest.approx(billions, rel=0.01)


def test_a_one_litre_starter_yields_what_the_book_prints(found: Found) -> None:
    # White and Zainasheff 2010, after Nielsen 2005: 100 to 152 million/mL over a fall of 7 °P, printed as 7.4
    done = found("pitching-rate", **WORT, pack_count=1, viability=100, starter_volume=1)
    assert (done["cells_with_starter"] - done["cells_in_hand"]) / 7 == pytest.approx(7.4, abs=0.1)


def test_a_liquid_pack_loses_a_fifth_to_a_quarter_a_month_within_fifteen_points() -> None:
    # common practice; a planning guess only
    alive = run("pitching-rate", {**WORT, "yeast_form": "liquid", "yeast_age": "30 d"}).results["viability"]
    assert alive.value == pytest.approx(78, abs=3)
    assert alive.low <= alive.value - 15
    assert alive.high >= alive.value + 15


def test_packs_are_rounded_up(found: Found) -> None:
    # 180 billion of packs with 75 billion alive are 2.4 packs
    done = found(
        "pitching-rate", batch_volume=20, original_gravity=1.0484, pitching_rate=0.75, viability=75, cells_per_pack=100
    )
    assert done["packs_needed"] == pytest.approx(2.4, abs=0.01)
    assert done["packs"] == 3.0


def test_dry_yeast_keeps_and_slurry_does_not(found: Found) -> None:
    alive = {
        form: found("pitching-rate", **WORT, yeast_form=form, yeast_age="60 d")["viability"] for form in yeast.KEEPING
    }
    assert alive["slurry"] < alive["liquid"] < alive["dry"]


def test_the_starter_makes_up_the_need(found: Found) -> None:
    done = found("pitching-rate", **WORT, yeast_type="clean-ale", pack_count=1, yeast_age="30 d")
    assert done["share_of_need"] == pytest.approx(100 * 78 / 178.7, abs=0.5)
    assert done["cells_with_starter"] == pytest.approx(done["cells_needed"], rel=1e-6)
    # 9 °P, 1.036: about 100 g of dry malt extract a litre (common practice)
    assert done["starter_extract"] / done["starter_volume"] == pytest.approx(100, abs=5)


def test_one_old_pack_for_a_lager_is_more_than_one_starter_can_mend() -> None:
    done = run("pitching-rate", {**WORT, "yeast_type": "lager", "yeast_age": "120 d", "pack_count": 1})
    assert any("grow it in two steps, or take more packs" in warning for warning in done.warnings)


def test_enough_yeast_needs_no_starter(found: Found) -> None:
    done = found("pitching-rate", **WORT, yeast_type="clean-ale", pack_count=3)
    assert done["starter_volume"] == 0.0
    assert done["cells_with_starter"] == done["cells_in_hand"]


def test_the_yeast_grown_is_ballings_share_of_the_alcohol(found: Found) -> None:
    # Balling: 0.11 g of dry yeast with each g of ethanol; 1.050 to 1.010 makes about 41 g/L of ethanol
    done = found("pitching-rate", batch_volume=20, original_gravity=1.050, final_gravity=1.010)
    assert done["yeast_growth"] == pytest.approx(4.5, abs=0.2)


def test_a_starter_without_packs_is_refused() -> None:
    with pytest.raises(BadInput, match=r"pack_count: is missing\. Say how many packs go into the starter"):
        run("pitching-rate", {**WORT, "starter_volume": "1 L"})


@given(cells=st.floats(5, 500), growth=st.floats(0.05, 2.9))
def test_starter_size_and_growth_are_inverse(cells: float, growth: float) -> None:
    wanted = cells * (1 + growth)
    assert yeast.grown(cells, yeast.starter_for(cells, wanted)) == pytest.approx(wanted, rel=1e-9)


@given(cells=st.floats(1, 500), litres=st.floats(0.05, 20), more=st.floats(0.01, 5))
def test_a_larger_starter_never_grows_less(cells: float, litres: float, more: float) -> None:
    assert cells <= yeast.grown(cells, litres) <= yeast.grown(cells, litres + more)


@given(form=st.sampled_from([*yeast.KEEPING]), age=st.floats(0, 700), more=st.floats(1, 100))
def test_older_yeast_is_never_livelier_and_never_wants_fewer_packs(form: str, age: float, more: float) -> None:
    young, old = (run("pitching-rate", {**WORT, "yeast_form": form, "yeast_age": a}).results for a in (age, age + more))
    assert old["viability"].value < young["viability"].value
    assert old["packs"].value >= young["packs"].value >= young["packs_needed"].value - 1e-6
    assert young["packs"].value == ceil(young["packs_needed"].value - 1e-6)
