"""Cloth: widths beside the table, other sizes and lengths, real lays; closed forms and shapely judge."""

from __future__ import annotations

from dataclasses import replace

import pytest
from shapely import LineString, Polygon, box

from clothwise.errors import ClothError, ShelfError
from clothwise.lay.problem import LayCloth
from clothwise.lay.verify import faults
from clothwise.shelf.pattern import BoughtPattern, ClothRow, NamedPiece
from clothwise.size.advising import advise
from clothwise.size.area_law import of_other_width
from clothwise.size.cloth_need import cloth_need, lay_pieces
from clothwise.size.lengthening import LINE, Longer, lengthened, lengthened_pieces, longer_as_advised
from clothwise.store.demo import bought_scenario
from clothwise.units import INCH
from tests.bought_by_hand import bought, row, someone

YARD = 36 * INCH


def in_yards(*rows: tuple[float, float], **others: object) -> BoughtPattern:
    """A pattern of one size whose cloth table is in inches wide and yards long."""
    cloth = tuple(ClothRow(width * INCH, row(yards * YARD)) for width, yards in rows)
    many = (NamedPiece("All of it", 12),)
    return replace(bought("dress", sizes=("12",), body={"bust": row(92)}), cloth=cloth, pieces=many, **others)  # type: ignore[arg-type]


def test_two_and_seven_eighths_of_45_in_60() -> None:
    """C1: by area 2.16 yd; the envelope's own row says 2 1/4, inside the span; 54 in takes more."""
    need = cloth_need(in_yards((45, 2.875)), "12", 60 * INCH)
    assert need.likely / YARD == pytest.approx(2.156, abs=0.03)  # bought: 2 1/4
    assert need.low <= 2.25 * YARD <= need.high + 0.1
    assert need.steps == ("other width",)
    assert cloth_need(in_yards((45, 2.875)), "12", 54 * INCH).likely > need.likely
    own = cloth_need(in_yards((45, 2.875), (60, 2.25)), "12", 60 * INCH)
    assert (own.low, own.likely, own.high) == pytest.approx((2.25 * YARD,) * 3)
    assert own.steps == ("table",)


def test_twice_as_wide_is_not_simply_half() -> None:
    """C2: 3 1/2 yd of 45; few pieces on 90: from half as much to all but the same."""
    few = replace(in_yards((45, 3.5)), pieces=(NamedPiece("Front", 1), NamedPiece("Back", 2)))
    need = cloth_need(few, "12", 90 * INCH)
    assert need.low < 1.75 * YARD < 1.2 * 1.75 * YARD < need.high <= 3.5 * YARD


def test_a_circle_skirt_does_not_lie_on_45() -> None:
    """C4: 55 in across."""
    wide = (NamedPiece("Half circle", 2, widest=55 * INCH), NamedPiece("Band", 1, widest=10.0))
    pattern = replace(in_yards((60, 2.5)), pieces=wide)
    assert cloth_need(pattern, "12", 45 * INCH).too_narrow == ("Half circle",)
    assert cloth_need(pattern, "12", 60 * INCH).too_narrow == ()


def test_a_cloth_that_lost_its_width_takes_the_narrower_column() -> None:
    """C8: 60 in washed to 54."""
    table = in_yards((45, 2.875), (60, 2.25))
    washed = cloth_need(table, "12", 54 * INCH)
    assert washed.steps == ("between widths",)
    assert 2.25 * YARD <= washed.low <= washed.likely <= washed.high <= 2.875 * YARD
    assert washed.likely > 2.25 * YARD


def test_wider_cloth_never_needs_more() -> None:
    table = in_yards((45, 2.875), (60, 2.25))
    likely = [cloth_need(table, "12", width * INCH).likely for width in (36, 40, 45, 48, 54, 60, 66, 72)]
    assert likely == sorted(likely, reverse=True)


def test_one_way_cloth_takes_up_to_a_panel_more() -> None:
    plain, nap = (cloth_need(in_yards((45, 2.5)), "12", 45 * INCH, nap=nap) for nap in ("two-way", "one-way"))  # type: ignore[arg-type]
    assert nap.low == plain.low
    assert nap.high - plain.high >= 25
    assert "one-way" in nap.steps
    own = replace(in_yards((45, 2.5)), cloth=(ClothRow(45 * INCH, row(3 * YARD), "one-way"),))
    assert cloth_need(own, "12", 45 * INCH, nap="one-way").steps == ("table",)


def test_what_shrinks_is_bought_longer() -> None:
    need = cloth_need(in_yards((45, 2.0)), "12", 45 * INCH, shrinkage=0.1)
    assert need.likely == pytest.approx(2 * YARD / 0.9)
    assert need.buy >= need.high
    assert need.buy % 5 == 0


def test_a_longer_garment_takes_more_and_a_shorter_less() -> None:
    pattern = replace(in_yards((45, 2.0)), finished={"": {"length": row(100.0)}})
    longer, shorter = (cloth_need(pattern, "12", 45 * INCH, longer=Longer(below=by)) for by in (10, -10))
    assert longer.likely == pytest.approx(2 * YARD * 1.1)
    assert shorter.likely < shorter.high <= 2 * YARD <= longer.low < longer.likely
    unknown = cloth_need(in_yards((45, 2.0)), "12", 45 * INCH, longer=Longer(above=4, below=6))
    assert (unknown.low, unknown.high) == pytest.approx((2 * YARD + 10, 2 * YARD + 30))


def test_a_size_beyond_the_table_is_told_by_area() -> None:
    sizes = ("10", "12", "14")
    pattern = replace(
        bought("dress", sizes=sizes, body={"hip": row(90, 100, 110)}),
        cloth=(ClothRow(140, row(200, None, None)),),
    )
    need = cloth_need(pattern, "12", 140)
    assert need.likely == pytest.approx(200 * 105 / 95, rel=0.02) or need.likely == pytest.approx(
        200 * 100 / 90
    )
    assert need.low < need.likely < need.high
    assert need.steps == ("other size",)


def test_where_the_table_says_nothing_it_is_refused() -> None:
    with pytest.raises(ShelfError, match="cloth table"):
        cloth_need(bought(), "12", 140)
    with pytest.raises(ClothError):
        cloth_need(in_yards((45, 2)), "12", -3)


def test_with_pieces_the_lay_is_real_and_verified() -> None:
    skirt = next(pattern for pattern in bought_scenario()[0] if "straight skirt" in pattern.name)
    for width, size in ((140.0, "14"), (90.0, "20"), (112.0, "8")):
        need = cloth_need(skirt, size, width)
        assert need.plan is not None
        assert need.plan.verified
        assert faults(replace(need.plan, problem=replace(need.plan.problem, cloth=LayCloth(width, None)))) == ()
        pieces = lay_pieces(skirt, size)
        area = sum(piece.area_cm2 for piece in pieces)
        assert need.likely >= area / width
        assert {piece.title for piece in pieces} == {piece.name for piece in skirt.pieces}
        assert need.low == need.likely == need.high


# ---- made longer or shorter -------------------------------------------------------------------------

SHAPES = {
    "panel": ((0.0, 0.0), (30.0, 0.0), (25.0, 60.0), (20.0, 90.0), (0.0, 88.0)),
    "leg": (
        (0.0, 0.0),
        (24.0, 0.0),
        (29.0, 60.0),
        (36.0, 75.0),
        (28.0, 80.0),
        (27.0, 106.0),
        (1.0, 104.0),
        (-3.0, 75.0),
    ),
    "notched": ((0.0, 0.0), (20.0, 0.0), (20.0, 29.0), (18.0, 30.0), (20.0, 31.0), (20.0, 90.0), (0.0, 90.0)),
}


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("by", [0.5, 3.0, 12.0, -3.0, -12.0, -40.0])
@pytest.mark.parametrize("backwards", [False, True])
def test_a_piece_cut_across_grows_by_just_that_strip(shape: str, by: float, backwards: bool) -> None:
    """Against shapely: what is spread in is a strip as wide as the piece there; what is folded up is gone."""
    points = SHAPES[shape][::-1] if backwards else SHAPES[shape]
    before, after = Polygon(points), Polygon(lengthened(points, by))
    assert after.is_valid
    assert after.bounds[3] - after.bounds[1] == pytest.approx(before.bounds[3] - before.bounds[1] + by)
    line = LINE * min(before.bounds[3], before.bounds[3] + by)
    if by > 0:
        width = before.intersection(LineString([(-99, line), (99, line)])).length
        assert after.area == pytest.approx(before.area + width * by, abs=0.1)
    else:
        folded = before.intersection(box(-99, line, 99, line - by)).area
        assert after.area == pytest.approx(before.area - folded, abs=0.1)
    assert lengthened(points, 0.0) == points


def test_what_is_folded_away_wholly_is_refused() -> None:
    with pytest.raises(ShelfError, match="nothing is left"):
        lengthened(SHAPES["panel"], -89.0)


def test_each_piece_takes_the_length_that_falls_to_it() -> None:
    """3 cm above the waist, 5 below, 2 in the sleeves: bodice, skirt and sleeve each their own, bands none."""
    tall = ((0.0, 0.0), (20.0, 0.0), (20.0, 90.0), (0.0, 90.0))
    names = ("Front", "Bodice back", "Skirt front", "Sleeve", "Waistband", "Patch pocket")
    pieces = [NamedPiece(name, outlines={"M": tall}) for name in names]
    pieces.append(NamedPiece("Small facing", outlines={"M": SHAPES["panel"][:3]}))
    grown = lengthened_pieces(tuple(pieces), "M", Longer(above=3, below=5, sleeves=2))
    height = {piece.name: max(y for _, y in outline) for piece, outline in grown}
    assert [height[name] for name in names] == [98, 93, 95, 92, 90, 90]
    assert height["Small facing"] == 68  # 60 cm of 90: it carries the length; a shorter one would not


def test_lengths_advised_are_reckoned_once() -> None:
    """Rise and leg make the trousers longer; the side length says the same again, and is left out."""
    pattern = bought(
        "trousers", ease={"waist": 2.5, "hip": 5},
        body={"rise": row(*[26.0] * 7), "inside_leg": row(*[79.0] * 7), "side_length": row(*[105.0] * 7)},
    )  # fmt: skip
    tall = someone(waist=74, hip=100, body_rise=28, inside_leg=85, waist_to_ankle=113)
    assert longer_as_advised(advise(tall, pattern).lengths) == Longer(below=8)
    assert longer_as_advised(advise(tall, pattern).lengths, hem=-3) == Longer(below=5)
    dress = bought(body={"back_length": row(*[41.0] * 7), "sleeve_length": row(*[58.0] * 7)})
    long = someone(bust=88, waist=70, hip=96, back_waist_length=44, arm_length=55)
    assert longer_as_advised(advise(long, dress).lengths) == Longer(above=3, sleeves=-3)


def test_a_longer_skirt_is_really_laid() -> None:
    """12 cm longer on a cloth that takes front and back one above the other: twice that, no area law."""
    skirt = next(pattern for pattern in bought_scenario()[0] if "straight skirt" in pattern.name)
    short, long = (cloth_need(skirt, "20", 90.0, longer=Longer(below=by)) for by in (0.0, 12.0))
    assert long.plan is not None
    assert long.plan.verified
    assert long.steps == ("lay", "other length")
    assert 12 - 0.5 <= long.likely - short.likely <= 24.5
    assert long.low == long.likely == long.high


def test_longer_sleeves_take_between_nothing_and_all_of_it() -> None:
    need = cloth_need(in_yards((45, 2.0)), "12", 45 * INCH, longer=Longer(sleeves=4))
    assert (need.low, need.likely, need.high) == pytest.approx((2 * YARD, 2 * YARD + 2, 2 * YARD + 4))
    short = cloth_need(in_yards((45, 2.0)), "12", 45 * INCH, longer=Longer(sleeves=-4))
    assert (short.low, short.likely, short.high) == pytest.approx((2 * YARD - 4, 2 * YARD - 2, 2 * YARD))


# ---- another width ----------------------------------------------------------------------------------


@pytest.mark.parametrize("copies", [0, 4, 12])
def test_widths_nearly_equal_need_nearly_the_same(copies: int) -> None:
    """2 cm of width may cost an eighth, 5 cm a quarter; the span widens with it; back is the inverse."""
    spans = {width: of_other_width(150, width, copies=copies) for width in (150, 148, 145, 140, 130, 115, 90)}
    assert spans[150] == (1, 1, 1)
    assert spans[148][2] <= 1.13
    assert spans[145][2] <= 1.25
    highs = [high for _, _, high in spans.values()]
    assert highs == sorted(highs)
    for width, (low, likely, high) in spans.items():
        assert low <= likely <= high
        back = of_other_width(width, 150, copies=copies)
        assert back == pytest.approx((1 / high, 1 / likely, 1 / low))


def test_far_beyond_the_widths_measured_it_goes_by_area() -> None:
    near, far = (of_other_width(width, 35, copies=4) for width in (70, 140))
    assert far[1] / near[1] == pytest.approx(2.0)
    assert far[2] / near[2] == pytest.approx(2.0)
