"""Remnants and flaws: what is a cloth, what keeps pieces off it, what is proved impossible, what is left."""

from __future__ import annotations

import math
import random
from dataclasses import replace

import numpy as np
import pytest
from benchmarks.lay_remnants import case
from shapely import prepared
from shapely.affinity import translate
from shapely.geometry import Polygon, box
from shapely.ops import unary_union

from clothwise.errors import ClothError
from clothwise.lay.barriers import barriers
from clothwise.lay.cloth import LayCloth, Outline, remnant
from clothwise.lay.crowded import why_crowded
from clothwise.lay.impossible import why_impossible
from clothwise.lay.left_over import left_over
from clothwise.lay.nofit import SCALE, NoFits
from clothwise.lay.piece import LayPiece
from clothwise.lay.placement import Placement
from clothwise.lay.plan import LayPlan
from clothwise.lay.planning import fits, plan
from clothwise.lay.problem import FOLDED, SINGLE, LayProblem
from clothwise.lay.verify import faults
from clothwise.tolerance import LAY_OVERLAP_CM2

from .laid_by_hand import SKIRT, TOP, TROUSERS, rectangle

CORNER_GONE: Outline = ((0, 0), (150, 0), (150, 60), (100, 60), (100, 110), (0, 110))
HOLE: Outline = ((40, 40), (50, 40), (50, 52), (40, 52))


def square(side: float, **more: object) -> LayPiece:
    return LayPiece("square", "Square", rectangle(side, side), **more)  # type: ignore[arg-type]


def lying(cloth: LayCloth, piece: LayPiece, x: float, y: float, layering=SINGLE) -> LayPlan:
    """A piece at angle 0 with its lowest corner at (x, y)."""
    (x0, _), (_, y1) = (min(p[1] for p in piece.outline), 0), (0, max(p[0] for p in piece.outline))
    at = Placement(piece.name, 0, False, 0.0, x - x0, y + y1)
    length = max(px for px, _ in at.carry(piece.outline))
    return LayPlan(LayProblem((piece,), cloth), layering, (at,), length)


# ---- what is a cloth -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("corners", "said"),
    [
        (((0, 0), (100, 100), (100, 0), (0, 100.5)), "crosses itself"),
        (
            ((0, 0), (40, 0), (40, 40), (80, 40), (80, 80), (40, 80), (40, 40), (0, 40)),
            "touches itself",
        ),  # islands
        (((0, 0), (100, 0)), "2 points"),
        (((0, 0), (100, 0), (math.nan, 80)), "not a number"),
        (((0, 0), (100, 0), (200, 0)), "no area"),
        (((0, 0), (1e6, 0), (0, 100)), "longer than a roll"),
    ],
)
def test_a_remnant_that_is_no_cloth_is_refused_in_one_sentence(corners, said):
    with pytest.raises(ClothError, match=said) as caught:
        remnant(corners)
    assert caught.value.where == "cloth: outline"
    assert caught.value.mend


def test_a_flaw_beside_the_cloth_and_too_many_flaws_are_refused():
    with pytest.raises(ClothError, match="Flaw 1 lies beside"):
        remnant(CORNER_GONE, flaws=[((120, 80), (140, 80), (140, 100))])  # in the corner that is not there
    with pytest.raises(ClothError, match="61 flaws"):
        LayCloth(140, 200, flaws=(HOLE,) * 61)
    with pytest.raises(ClothError, match="nothing of the cloth"):
        LayCloth(140, 200, flaws=(((-1, -1), (201, -1), (201, 141), (-1, 141)),))


def test_a_remnant_is_measured_from_any_point():
    moved = remnant([(x + 7, y - 3) for x, y in CORNER_GONE], flaws=[[(x + 7, y - 3) for x, y in HOLE]])
    assert moved == remnant(CORNER_GONE, flaws=[HOLE])
    assert (moved.length, moved.width) == (150, 110)
    assert moved.area_cm2 == pytest.approx(150 * 110 - 50 * 50 - 120)


@pytest.mark.parametrize(
    "corners",
    [
        CORNER_GONE,
        ((10, 0), (150, 20), (130, 90), (60, 110), (0, 70)),  # slanting all round
        ((0, 0), (60, 0), (75, 50), (90, 0), (150, 0), (150, 110), (80, 60), (0, 110)),  # bitten on both sides
        ((0, 30), (50, 30), (50, 0), (150, 0), (150, 110), (0, 110)),
    ],
)
def test_barriers_and_cloth_together_fill_the_rectangle(corners):
    cloth = remnant(corners, flaws=[((80, 80), (85, 80), (85, 85))] if corners is CORNER_GONE else [])
    walls = [Polygon(wall.outline) for wall in barriers(LayProblem((square(5),), cloth))]
    assert all(wall.is_valid and wall.exterior.is_ccw for wall in walls)
    kept_off = unary_union(walls)
    around = box(0, 0, cloth.length, cloth.width)
    assert kept_off.intersection(around).symmetric_difference(around.difference(cloth.shape(0))).area < 1e-6


def test_a_piece_on_the_rim_of_its_no_fit_polygon_touches_and_never_overlaps():
    asked = case(39, 12, 0.85, 0.80).problem  # where the union of one polygon once left a needle, deep inside
    known = NoFits()
    piece = next(p for p in asked.pieces if p.name == "p2")
    laid = known.outline(Placement("p2", 0, False, 0.0, 0.0, 0.0).carry(piece.outline), 0.0, 0.03)
    for barrier in barriers(asked):
        wall = known.outline(barrier.outline, 0.0, 0.0)
        for a, b in ((laid, wall), (wall, laid)):
            still, moved = Polygon(a / SCALE), Polygon(b / SCALE)
            for x, y in np.concatenate(known.rings(a, b)):
                assert still.intersection(translate(moved, x, y)).area < LAY_OVERLAP_CM2


def test_what_is_pinned_is_a_barrier_for_the_blade_too():
    pin = Placement("square", 0, False, 0.0, 20.0, 30.0)
    (wall,) = barriers(LayProblem((square(10, count=2),), LayCloth(100), pinned=(pin,)))
    assert wall.blade
    assert Polygon(wall.outline).bounds == (20, 20, 30, 30)


# ---- the check -------------------------------------------------------------------------------------


def test_a_piece_on_a_flaw_over_the_edge_or_in_the_missing_corner_is_caught():
    cloth = remnant(CORNER_GONE, flaws=[HOLE])
    piece = square(30)
    assert faults(lying(cloth, piece, 0, 0)) == ()
    assert faults(lying(cloth, piece, 50, 40)) == ()  # right beside the hole
    assert "flaw" in faults(lying(cloth, piece, 49.9, 40))[0]
    assert "edge" in faults(lying(cloth, piece, 100, 60))[0]
    assert "edge" in faults(lying(cloth, piece, -0.1, 0))[0]
    assert any("cm long" in fault for fault in faults(lying(cloth, piece, 121, 0)))


def test_a_pair_on_folded_cloth_keeps_off_a_flaw_in_the_under_layer():
    cloth = LayCloth(100, 200, flaws=(((10, 80), (15, 80), (15, 85), (10, 85)),))
    pair = LayPiece("leg", "Leg", rectangle(30, 40), 2, mirrored_pair=True)
    upper = Placement("leg", 0, False, 0.0, 0.0, 35.0, "double", 0)
    under = Placement("leg", 1, True, 0.0, 0.0, 65.0, "double", 0)
    asked = LayProblem((pair,), cloth)
    assert "flaw" in " ".join(faults(LayPlan(asked, FOLDED, (upper, under), 40.0)))
    free = replace(asked, cloth=LayCloth(100, 200))
    assert faults(LayPlan(free, FOLDED, (upper, under), 40.0)) == ()


# ---- proved impossible -----------------------------------------------------------------------------


def test_impossible_only_when_a_piece_fits_nowhere_or_the_area_is_exceeded():
    cloth = remnant(CORNER_GONE, flaws=[HOLE])
    assert why_impossible(LayProblem((square(58),), cloth)) == ""  # below the step, beside the hole
    assert "fits nowhere" in why_impossible(LayProblem((square(61),), cloth))
    assert "m²" in why_impossible(LayProblem((square(50, count=6),), cloth))
    assert "long" in why_impossible(LayProblem((LayPiece("b", "B", rectangle(10, 151)),), cloth))
    assert "wide" in why_impossible(LayProblem((LayPiece("b", "B", rectangle(111, 10)),), cloth))


@pytest.mark.parametrize("nap", ["one-way", "two-way", "none"])
@pytest.mark.parametrize("garment", [TROUSERS, SKIRT, TOP])
def test_what_is_called_crowded_has_no_lay_and_what_has_a_lay_is_not_crowded(garment, nap):
    known = NoFits()
    for width in (90, 112, 140, 150):
        made = plan(LayProblem(garment, LayCloth(width, None, nap), 0.3), effort="quick", known=known)
        for share in (1.0, 1.001, 1.1, 1.5, 1.9):
            roomy = replace(made.problem, cloth=replace(made.problem.cloth, length=made.length * share))
            assert why_crowded(roomy) == ""


def test_four_legs_have_no_room_side_by_side():
    asked = LayProblem(TROUSERS, LayCloth(112, 118, "two-way"))
    assert asked.area_cm2 < 112 * 118
    said = fits(asked, effort="quick")
    assert said.verdict == "impossible"
    assert "4 pieces ('Front leg', 'Back leg') must lie side by side" in said.reason
    stays = replace(asked, cloth=LayCloth(150, 118, "two-way"))
    assert fits(stays, effort="quick").verdict == "yes"


def test_panels_side_by_side_are_reckoned_to_two_millimetres_with_the_blade():
    panels = (LayPiece("panel", "Panel", rectangle(35, 70), 4),)
    for width, gap, said in ((140.0, 0.0, False), (139.9, 0.0, True), (140.9, 0.3, False), (140.7, 0.3, True)):
        assert bool(why_crowded(LayProblem(panels, LayCloth(width, 100), gap))) == said
    assert not why_crowded(LayProblem(panels, LayCloth(100, 140)))  # two and two
    assert why_crowded(LayProblem(panels, LayCloth(100, 139.9)))
    flaw = ((45, 60), (55, 60), (55, 70), (45, 70))
    assert why_crowded(LayProblem(panels, LayCloth(145, 100, flaws=(flaw,))))


def test_a_piece_that_just_fits_is_never_called_impossible():
    exact = remnant(((0, 0), (150, 0), (150, 60), (100, 60), (100, 110), (0, 110)))
    assert why_impossible(LayProblem((LayPiece("w", "W", rectangle(60, 150)),), exact)) == ""
    assert why_impossible(LayProblem((LayPiece("w", "W", rectangle(110, 100)),), exact)) == ""
    assert why_impossible(LayProblem((LayPiece("w", "W", rectangle(60.03, 150)),), exact)) != ""


def test_one_way_cloth_may_be_impossible_where_two_way_is_not():
    wedge = LayPiece("wedge", "Wedge", ((0, 0), (60, 0), (30, 90)), 1)
    corners = ((0, 0), (0, 61), (92, 31), (92, 30))  # pointed at its far end: the wedge must point there
    assert why_impossible(LayProblem((wedge,), remnant(corners, nap="one-way"))) == ""
    turned = [(92 - x, 61 - y) for x, y in corners]
    assert why_impossible(LayProblem((wedge,), remnant(turned, nap="two-way"))) == ""
    assert "nowhere" in why_impossible(LayProblem((wedge,), remnant(turned, nap="one-way")))


def test_a_pair_is_impossible_when_only_its_left_finds_a_place():
    corners = ((0, 0), (60, 0), (0, 45))
    drawn = tuple((-y, x) for x, y in ((1, 1), (35, 1), (1, 27)))  # carried to the cloth it lies in the corner
    wedge = LayPiece("wedge", "Wedge", drawn)
    cloth = remnant(corners, nap="one-way")
    assert why_impossible(LayProblem((wedge,), cloth)) == ""
    pair = replace(wedge, outline=tuple((1.2 * x, 1.2 * y) for x, y in drawn), count=2, mirrored_pair=True)
    assert pair.area_cm2 < cloth.area_cm2
    assert "nowhere" in why_impossible(LayProblem((pair,), cloth))
    assert why_impossible(LayProblem((pair,), replace(cloth, two_right_sides=True))) == ""


def test_a_leaning_piece_is_not_refused_for_its_upright_size():
    strip = LayPiece("strip", "Strip", rectangle(4, 100.4), lean=9.0)
    assert why_impossible(LayProblem((strip,), LayCloth(60, 100))) == ""
    assert why_impossible(LayProblem((replace(strip, lean=0.0),), LayCloth(60, 100))) != ""


@pytest.mark.parametrize("seed", range(8))
def test_what_is_called_impossible_has_no_place_on_a_fine_raster(seed):
    chance = random.Random(seed)
    corners = [
        (x + chance.uniform(-14, 14), y + chance.uniform(-14, 14))
        for x, y in ((0, 0), (60, 10), (120, 0), (110, 50), (125, 100), (60, 85), (0, 100), (15, 50))
    ]
    spots = [(chance.uniform(20, 90), chance.uniform(20, 70)) for _ in range(3)]
    cloth = remnant(corners, flaws=[((x, y), (x + 5, y), (x + 5, y + 5), (x, y + 5)) for x, y in spots])
    there = prepared.prep(cloth.shape(0).buffer(0.01))
    for side in range(22, 90, 4):
        piece = LayPiece("p", "P", ((0, 0), (side, 0), (side * 0.8, side * 0.6), (0, side * 0.7)))
        proved = why_impossible(LayProblem((piece,), replace(cloth, nap="one-way")))
        laid = Polygon(Placement("p", 0, False, 0.0, 0.0, 0.0).carry(piece.outline))
        x0, y0, x1, y1 = laid.bounds
        lies = any(
            there.contains(translate(laid, i * 1.5 - x0, j * 1.5 - y0))
            for i in range(int((cloth.length - x1 + x0) / 1.5) + 1)
            for j in range(int((cloth.width - y1 + y0) / 1.5) + 1)
        )
        assert not (lies and proved), proved
        if lies is False and not proved:  # between the raster's places there may be one; not for much larger
            larger = LayPiece("p", "P", tuple((x * 1.15, y * 1.15) for x, y in piece.outline))
            assert why_impossible(LayProblem((larger,), replace(cloth, nap="one-way"))) != ""


# ---- what is left ----------------------------------------------------------------------------------


def test_what_is_left_lies_on_free_cloth_and_is_wide_enough():
    cloth = remnant(CORNER_GONE, flaws=[HOLE])
    plan = lying(cloth, square(30), 60, 0)
    parts = [Polygon(part) for part in left_over(plan)]
    taken = unary_union([box(60, 0, 90, 30), Polygon(HOLE)])
    assert sum(part.area for part in parts) > 0.85 * (cloth.area_cm2 - 900)
    for part in parts:
        assert part.is_valid
        assert part.exterior.is_ccw
        assert part.within(cloth.shape(0))
        assert part.intersection(taken).area == 0
        assert (
            part.difference(part.buffer(-4.6).buffer(4.75)).area < 30
        )  # no strip, only corners that no disc reaches
    assert [part.area for part in parts] == sorted((part.area for part in parts), reverse=True)
    for part in left_over(plan):
        remnant(part)  # the cupboard takes every one


def test_slivers_are_waste_and_the_end_of_the_cloth_is_not():
    plan = lying(LayCloth(40, 200), square(36), 0, 2)
    (end,) = left_over(plan)
    x0, _, x1, _ = Polygon(end).bounds
    assert (x0, x1) == (pytest.approx(36.2, abs=0.3), pytest.approx(199.8, abs=0.3))
    unknown = lying(LayCloth(40), square(36), 0, 2)
    assert left_over(unknown) == ()


def test_a_strip_narrower_than_wished_is_not_kept():
    plan = lying(LayCloth(45, 36), square(36), 0, 1)
    assert left_over(plan) == ()
    (strip,) = left_over(plan, least=7.0)
    assert Polygon(strip).bounds[1] == pytest.approx(37.2, abs=0.1)


def test_what_goes_round_a_piece_is_cut_into_outlines_without_holes():
    plan = lying(LayCloth(100, 100), square(20), 40, 40)
    parts = [Polygon(part) for part in left_over(plan)]
    assert len(parts) == 2
    assert sum(part.area for part in parts) == pytest.approx(100 * 100 - 400, rel=0.03)


def test_trousers_leave_the_end_of_the_cloth():
    pair = [Placement("front_leg", 0, False, 0.0, 0.0, 40.0), Placement("front_leg", 1, True, 0.0, 0.0, 44.0)]
    asked = LayProblem((TROUSERS[0],), LayCloth(140, 300))
    largest = Polygon(left_over(LayPlan(asked, SINGLE, tuple(pair), 105.0))[0])
    assert largest.area > 190 * 139
