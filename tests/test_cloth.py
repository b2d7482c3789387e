"""The cloth: what is typed is understood or refused in a sentence, home tests give the figures they should,
and the table of kinds is whole and sourced."""

from __future__ import annotations

import csv
import math
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Polygon

from clothwise.cloth import SEASONS, Cloth
from clothwise.cloth.entries import cloth_of, entries
from clothwise.cloth.home_tests import drape_by_disc, drape_by_edge, recovery, stretch
from clothwise.cloth.kinds import facts, find_kind, kind_named, kinds
from clothwise.cloth.shape import read_outline, written
from clothwise.cloth.typed import cloth_typed
from clothwise.cloth.words import HOW_TO
from clothwise.errors import ClothError, LengthError, WorkroomError
from clothwise.sew.manners import KINDS as MANNERS
from clothwise.store.demo import scenario
from clothwise.units import Unit

HOUSE_TABLE = Path(__file__).resolve().parents[2] / "shared" / "cloths.csv"
REMNANT = ((0.0, 0.0), (95.0, 0.0), (95.0, 80.0), (60.0, 136.0), (0.0, 136.0))


def test_thirty_kinds_or_more_each_with_all_its_figures_and_a_source():
    assert len(kinds()) >= 30
    assert len({kind.name for kind in kinds()}) == len(kinds())
    for kind in kinds():
        assert kind.lightest < kind.grams < kind.heaviest, kind.name
        assert 0.1 < kind.drape < 1
        assert 0 <= kind.stretch_along <= max(kind.stretch_across, 0.04)
        assert 0.5 <= kind.recovery <= 1
        assert 0 < kind.shrinkage <= 0.1
        assert kind.surface in ("plain", "pile", "brushed", "shine")
        assert kind.on_bias in ("steady", "drops", "grows")
        assert kind.see_through in ("opaque", "shows against light", "sheer")
        assert kind.seasons
        assert set(kind.seasons) <= set(SEASONS)
        assert kind.needle
        assert kind.finish
        assert kind.press
        assert "estimate" in kind.source or "measured" in kind.source or "rules" in kind.source
        assert kind.make in ("woven", "knit")


def test_knits_stretch_and_wovens_do_not():
    for kind in kinds():
        assert (kind.stretch_across >= 0.15) == (kind.make == "knit"), kind.name


def test_a_kind_is_sewn_with_the_needle_and_iron_that_its_order_of_work_says():
    for name, manner in MANNERS.items():
        kind = find_kind(name)
        assert kind is not None, name
        assert (kind.needle, kind.stitch_mm, kind.iron) == (manner.needle, manner.stitch_mm, manner.iron), name


@pytest.mark.skipif(not HOUSE_TABLE.exists(), reason="the house's table of cloths is not beside the tree")
def test_the_table_agrees_with_the_house_s_table_of_measured_cloths():
    with HOUSE_TABLE.open(encoding="utf-8") as lines:
        for row in csv.DictReader(lines):
            kind = kind_named(row["kind"])
            assert kind.grams == float(row["grams_per_m2"])
            assert kind.drape == pytest.approx(float(row["drape_coefficient_pct"]) / 100)
            bent = float(row["bending_length_cm"])
            assert drape_by_edge(2 * bent) == pytest.approx(kind.drape, abs=0.02), kind.name


# ---- home tests ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("marked", "pulled", "share"), [(10, 17.5, 0.75), (10, 12.5, 0.25), (5, 7.5, 0.5), (10, 10, 0)]
)
def test_the_ruler_tells_the_stretch(marked: float, pulled: float, share: float):
    assert stretch(marked, pulled) == pytest.approx(share)


def test_recovery_is_the_part_of_the_stretch_that_goes_back():
    assert recovery(10, 15, 10) == 1
    assert recovery(10, 15, 10.5) == pytest.approx(0.9)
    assert recovery(10, 15, 15) == 0


@pytest.mark.parametrize(("marked", "pulled"), [(2, 3), (10, 8), (10, 60), (math.nan, 12), (10, math.nan)])
def test_readings_that_cannot_be_are_refused(marked: float, pulled: float):
    with pytest.raises(ClothError):
        stretch(marked, pulled)


def test_a_round_that_hangs_straight_down_drapes_nought_and_a_card_wholly():
    assert drape_by_disc([9.0] * 8) == pytest.approx(0)
    assert drape_by_disc([15.0] * 8) == pytest.approx(1)
    # by areas: half the ring covered
    half = math.sqrt((15**2 + 9**2) / 2)
    assert drape_by_disc([half] * 8) == pytest.approx(0.5)
    with pytest.raises(ClothError, match="too few"):
        drape_by_disc([12, 13])
    with pytest.raises(ClothError, match="cannot reach"):
        drape_by_disc([12, 13, 14, 40])


def test_a_stiffer_strip_hangs_out_further_and_drapes_less():
    read = [drape_by_edge(2 * bent) for bent in (1.2, 1.6, 2.2, 3.1, 3.7)]
    assert read == sorted(read)


# ---- shapes ---------------------------------------------------------------------------------------


def test_a_remnant_by_its_corners_and_by_a_cut_out_are_the_same():
    by_corners = cloth_typed("A", {"kind": "linen", "outline": "0x0 60x0 60x96 95x96 95x136 0x136"})
    by_cut_out = cloth_typed(
        "A", {"kind": "linen", "width": "136", "length": "95", "cut_outs": ["35x96 at 60x0"]}
    )
    assert by_corners.length == by_cut_out.length == 95
    assert by_corners.width == by_cut_out.width == 136
    assert Polygon(by_corners.outline).equals(Polygon(by_cut_out.outline))
    assert by_corners.usable_area_cm2 == pytest.approx(95 * 136 - 35 * 96)


def test_flaws_and_wash_take_their_part_of_the_area():
    cloth = Cloth(
        "A", 136, 95, outline=REMNANT, flaws=(read_outline("6x4 at 50x30", ""),), shrinkage=0.1, washed=False
    )
    exact = (Polygon(REMNANT).area - 24) * 0.9 * 0.95
    assert cloth.usable_area_cm2 == pytest.approx(exact)
    washed = cloth.after_wash()
    assert washed.usable_area_cm2 == pytest.approx(exact)
    assert washed.usable_length == pytest.approx(95 * 0.9)
    assert washed.usable_width == pytest.approx(136 * 0.95)


def test_an_outline_can_be_typed_again_as_it_is_shown():
    assert read_outline(written(REMNANT), "") == REMNANT


def test_inches_are_understood_in_an_outline():
    cloth = cloth_typed("A", {"outline": "0x0 40x0 40x54 0x54"}, unit="in")
    assert cloth.length == pytest.approx(101.6)
    assert cloth.width == pytest.approx(137.16)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({}, "How wide"),
        ({"width": "140"}, "How long"),
        ({"width": "140", "length": "-3"}, "cloth 'A': length"),
        ({"width": "140", "length": "0"}, "is not a cloth"),
        ({"width": "140", "length": "200", "kind": "linnen"}, "Did you mean linen"),
        ({"width": "140", "length": "200", "nap": "sideways"}, "'sideways' is no nap"),
        ({"width": "140", "length": "200", "weight": "heavy"}, "'heavy' is not a number"),
        ({"width": "140", "length": "200", "weight": "5 pounds"}, "no weight"),
        ({"width": "140", "length": "200", "stretch_across": "0.25"}, "could mean 0.25 % or 25 %"),
        ({"width": "140", "length": "200", "stretch_across": "10 to 80"}, "cannot be"),
        ({"width": "140", "length": "200", "seasons": ["monsoon"]}, "'monsoon' is no season"),
        ({"width": "140", "length": "200", "washed": "maybe"}, "neither yes nor no"),
        ({"width": "140", "length": "200", "flaws": ["6x4 at 500x30"]}, "beside the cloth"),
        ({"width": "140", "length": "200", "flaws": ["6x4"]}, "enclose nothing"),
        ({"width": "140", "length": "200", "cut_outs": ["300x300 at 0x0"]}, "Nothing is left"),
        ({"width": "140", "length": "200", "cut_outs": ["20x140 at 90x0"]}, "falls into parts"),
        ({"outline": "0x0 95x0 0x136 95x136"}, "crosses itself"),
        ({"outline": "0x0 95x0 what"}, "not a point"),
        ({"width": "140", "length": "200", "colour_of_thread": "red"}, "has no 'colour_of_thread'"),
        ({"width": "140", "length": "200", "drape": "edge 90"}, "no cloth for clothes"),
        ({"width": "140", "length": "200", "price": "cheap"}, "not a number"),
        ({"width": "140", "length": "200", "shrinkage": "90 %"}, "not possible"),
    ],
)
def test_what_cannot_be_a_cloth_is_refused_in_one_sentence(typed: dict[str, str], says: str):
    with pytest.raises((ClothError, LengthError)) as refused:
        cloth_typed("A", typed)
    assert says in str(refused.value)
    assert refused.value.mend


def test_a_kind_fills_in_what_is_not_said_and_never_what_is():
    cloth = cloth_typed(
        "A", {"kind": "single jersey", "width": "150", "length": "2 m", "stretch_across": "10 to 16"}
    )
    assert cloth.make == "knit"
    assert cloth.stretch_across == pytest.approx(0.6)
    assert cloth.shrinkage == 0.03
    assert cloth.length == 200
    assert facts(cloth).drape == 0.28
    assert cloth_typed("A", {"kind": "corduroy", "width": "150", "length": "200"}).nap == "one-way"


def test_changing_one_thing_keeps_all_others():
    before = cloth_typed(
        "A", {"kind": "linen", "outline": written(REMNANT), "colour": "sand", "price": "12,50"}
    )
    after = cloth_typed("A", {"colour": "grey"}, before=before)
    assert after == before.changed(colour="grey")
    whole = cloth_typed("A", {"length": "50"}, before=before)
    assert whole.outline == ()
    assert (whole.length, whole.width) == (50, 136)
    assert cloth_typed("A", {"price": "none"}, before=before).price_per_m is None


@st.composite
def cloths(draw: st.DrawFn) -> Cloth:
    share = st.floats(0, 0.5)
    maybe = st.none() | st.floats(0, 1)
    return Cloth(
        name=draw(st.text("abc de", min_size=1)),
        width=draw(st.floats(10, 200)),
        length=draw(st.floats(10, 900)),
        make=draw(st.sampled_from(["woven", "knit"])),
        stretch_across=draw(share),
        shrinkage=draw(share),
        washed=draw(st.booleans()),
        recovery=draw(maybe),
        drape=draw(maybe),
        print_one_way=draw(st.booleans()),
        repeat_along=draw(st.floats(0, 60)),
        repeat_even=draw(st.booleans()),
        seasons=tuple(draw(st.sets(st.sampled_from(SEASONS)))),
    )


@given(cloths())
def test_entries_give_the_cloth_back(cloth: Cloth):
    assert cloth_of(entries(cloth)) == cloth


def test_entries_that_are_no_cloth_are_refused():
    good = entries(Cloth("A", 140, 200))
    for entry, value in (
        ("width", "wide"),
        ("washed", 1),
        ("outline", [[1, 2, 3]]),
        ("seasons", [1]),
        ("kind", 3),
    ):
        with pytest.raises(WorkroomError):
            cloth_of({**good, entry: value})
    with pytest.raises(ClothError, match="missing"):
        cloth_of({"name": "A", "width": 140})


def test_a_print_that_stands_or_an_uneven_check_is_laid_one_way():
    assert Cloth("A", 140, 200, nap="none").laid_nap == "none"
    assert Cloth("A", 140, 200, nap="none", print_one_way=True).laid_nap == "one-way"
    assert Cloth("A", 140, 200, repeat_along=8, repeat_even=False).laid_nap == "one-way"
    assert Cloth("A", 140, 200, repeat_along=8).laid_nap == "two-way"


def test_the_mill_s_cupboard_has_remnants_with_shape_and_a_flaw():
    _, cupboard, _ = scenario()
    assert len(cupboard) >= 12
    assert sum(bool(cloth.outline) for cloth in cupboard) >= 2
    assert any(cloth.flaws for cloth in cupboard)
    for cloth in cupboard:
        kind = kind_named(cloth.kind)
        assert kind.lightest * 0.8 <= cloth.grams_per_m2 <= kind.heaviest * 1.2, cloth.name
        assert kind.make == cloth.make


@pytest.mark.parametrize(
    ("typed", "unit", "share"),
    [
        ("10 to 17.5", "cm", 0.75),
        ("4 to 5 in", "cm", 0.25),
        ('4" to 5"', "cm", 0.25),
        ("4 to 5", "in", 0.25),
        ("10 cm to 15 cm", "in", 0.5),
    ],
)
def test_a_gauge_of_four_inches_reads_as_well_as_one_of_ten_centimetres(typed: str, unit: Unit, share: float):
    fields = {"kind": "single jersey", "width": "150 cm", "length": "2 m", "stretch_across": typed}
    assert cloth_typed("A", fields, unit=unit).stretch_across == pytest.approx(share)


def test_four_centimetres_are_too_short_to_test_and_she_hears_what_to_write():
    with pytest.raises(ClothError, match="too short") as refusal:
        cloth_typed("A", {"kind": "poplin", "width": "150", "length": "200", "stretch_across": "4 to 5"})
    assert "4 to 5 in" in refusal.value.mend


def test_every_test_at_home_says_what_to_type_and_it_is_taken():
    """Each heading names the fields; what stands there is read as a cloth, and means what the steps say."""
    typed = {field: value for heading in HOW_TO for field, value in re.findall(r"(\w+)='([^']*)'", heading)}
    cloth = cloth_typed(
        "A", {"kind": "interlock", "width": "150", "length": "2 m", "repeat_along": "6", **typed}
    )
    assert cloth.stretch_across == pytest.approx(0.5)
    assert cloth.shrinkage == pytest.approx(0.05)
    assert (cloth.nap, cloth.print_one_way, cloth.repeat_even) == ("one-way", True, False)
    assert all(len(steps) >= 2 for steps in HOW_TO.values())
