"""Lays as the sewer needs them: short, true to grain, nap and fold, left and right, the same every time."""

from __future__ import annotations

import pytest
from shapely.geometry import Polygon
from shapely.ops import unary_union

from clothwise.errors import LayError
from clothwise.lay.nofit import NoFits
from clothwise.lay.plan import LayPlan
from clothwise.lay.planning import best_plan, fits, opened, plan, width_table
from clothwise.lay.problem import FOLDED, SINGLE, TO_CENTRE, LayCloth, LayPiece, LayProblem, unfolded
from clothwise.lay.verify import faults

from .laid_by_hand import SKIRT, TOP, TROUSERS, problem, rectangle

HALF_A_MILLIMETRE = 0.05
GARMENTS = {"trousers": TROUSERS, "skirt": SKIRT, "top": TOP}


def strips(n: int, width: float, height: float) -> tuple[LayPiece, ...]:
    return (LayPiece("strip", "Strip", rectangle(width, height), n, either_side_up=True),)


@pytest.mark.parametrize(
    ("pieces", "width", "layering", "least"),
    [
        (strips(4, 35, 50), 140, SINGLE, 50),  # four side by side
        (strips(5, 35, 50), 140, SINGLE, 100),  # the fifth starts a new row
        (strips(4, 35, 50), 140, FOLDED, 50),  # two pairs across the folded half
        (strips(6, 35, 50), 140, FOLDED, 100),
        (strips(1, 140, 20), 140, SINGLE, 20),  # exactly as wide as the cloth
        ((LayPiece("square", "Square", rectangle(30, 30), 9),), 90, SINGLE, 90),
        (
            (  # a triangle and its mirror image close to a parallelogram
                LayPiece("wedge", "Wedge", ((0, 0), (60, 0), (0, 40)), 2, mirrored_pair=True),
            ),
            60,
            SINGLE,
            80,  # one-way: mirrored wedges cannot interlock, they stand behind each other
        ),
    ],
)
def test_rectangles_take_the_length_that_arithmetic_gives(pieces, width, layering, least):
    made = plan(problem(pieces, width, "one-way"), layering, effort="usual")
    assert made.length == pytest.approx(least, abs=HALF_A_MILLIMETRE)


def test_two_wedges_interlock_when_one_may_lie_upside_down():
    wedge = (LayPiece("wedge", "Wedge", ((0, 0), (60, 0), (0, 40)), 2),)
    assert plan(problem(wedge, 60, "two-way")).length == pytest.approx(40, abs=HALF_A_MILLIMETRE)
    assert plan(problem(wedge, 60, "one-way")).length > 79


@pytest.mark.parametrize("garment", GARMENTS)
@pytest.mark.parametrize("nap", ["one-way", "two-way"])
@pytest.mark.parametrize("layering", [FOLDED, SINGLE, TO_CENTRE])
@pytest.mark.parametrize("gap", [0.0, 0.6])
def test_every_lay_passes_the_independent_check(garment, nap, layering, gap):
    asked = problem(GARMENTS[garment], 150, nap, gap=gap)
    if layering == TO_CENTRE and garment == "trousers":
        with pytest.raises(LayError, match="No piece lies double"):
            plan(asked, layering, effort="quick")
        return
    made = plan(asked, layering, effort="quick")
    assert made.verified
    assert faults(made) == ()
    assert made.length * 150 > made.used_cm2
    assert 0 < made.waste < 1


def test_one_way_nap_keeps_every_arrow_the_same_way():
    for layering in (FOLDED, SINGLE):
        made = plan(problem(TROUSERS, nap="one-way"), layering, effort="quick")
        assert {placement.angle for placement in made.placements} == {0.0}


def test_left_and_right_are_really_mirrored():
    made = plan(problem(TROUSERS), SINGLE, effort="quick")
    for piece in TROUSERS:
        left, right = [p for p in made.placements if p.piece == piece.name]
        assert left.mirrored != right.mirrored


def test_a_pair_on_double_cloth_lies_face_to_face_across_the_fold():
    made = plan(problem(TROUSERS), FOLDED, effort="quick")
    for piece in TROUSERS:
        left, right = [p for p in made.placements if p.piece == piece.name]
        reflected = Polygon([(x, 140 - y) for x, y in left.outline_on_cloth(piece)])
        assert reflected.symmetric_difference(Polygon(right.outline_on_cloth(piece))).area < 1e-6
    assert made.cuts == 2


def test_a_fold_edge_lies_on_the_fold():
    made = plan(problem(SKIRT, 140), FOLDED, effort="quick")
    for piece in SKIRT[:2]:
        (half,) = [p for p in made.placements if p.piece == piece.name]
        assert half.how == "on the fold"
        assert [y for _, y in half.carry(piece.fold_edge)] == pytest.approx([70, 70], abs=1e-6)
        assert max(y for _, y in half.outline_on_cloth(piece)) <= 70 + 1e-6


def test_without_a_fold_the_half_is_unfolded_to_a_whole():
    made = plan(problem(SKIRT, 140), SINGLE, effort="quick")
    (front,) = [p for p in made.placements if p.piece == "front"]
    assert front.how == "unfolded"
    assert Polygon(front.outline_on_cloth(SKIRT[0])).area == pytest.approx(2 * Polygon(SKIRT[0].outline).area)


def test_two_on_fold_pieces_lie_side_by_side_when_the_selvedges_meet():
    made = plan(problem(SKIRT[:2], 140, "one-way"), TO_CENTRE)
    assert made.length == pytest.approx(70, abs=HALF_A_MILLIMETRE)
    assert {p.fold for p in made.placements} == {0, 1}


def test_unfolding_a_half_with_a_notched_fold_edge_keeps_its_points():
    half = LayPiece(
        "yoke", "Yoke", ((5, 0), (20, 0), (20, 9), (5, 9), (5, 4)), on_fold=True, fold_edge=((5, 0), (5, 9))
    )
    whole = Polygon(unfolded(half))
    assert whole.is_valid
    assert whole.exterior.is_ccw
    assert whole.area == pytest.approx(270)
    assert whole.bounds == (-10, 0, 20, 9)


@pytest.mark.parametrize("garment", GARMENTS)
@pytest.mark.parametrize("width", [115, 140, 150])
def test_more_freedom_never_costs_cloth(garment, width):
    known = NoFits()
    pieces = GARMENTS[garment]
    one_way = best_plan(problem(pieces, width, "one-way"), effort="usual", known=known)
    two_way = best_plan(problem(pieces, width, "two-way"), effort="usual", known=known)
    folded = plan(problem(pieces, width, "two-way"), FOLDED, effort="usual", known=known)
    single = plan(problem(pieces, width, "two-way"), SINGLE, effort="usual", known=known, seeds=(folded,))
    assert single.length <= folded.length
    assert two_way.length <= one_way.length + 1.0 + HALF_A_MILLIMETRE
    for made in (one_way, two_way, folded, single):
        assert made.length * width >= made.used_cm2


@pytest.mark.parametrize("garment", GARMENTS)
def test_a_folded_lay_cut_open_is_a_lay_in_a_single_layer(garment):
    folded = plan(problem(GARMENTS[garment], 140, "one-way"), FOLDED, effort="quick")
    single = opened(folded)
    assert single.layering == SINGLE
    assert single.length == folded.length
    assert faults(single) == ()


def test_the_same_question_gets_the_same_lay():
    asked = problem(TOP, 112)
    assert plan(asked, SINGLE, effort="usual") == plan(asked, SINGLE, effort="usual", known=NoFits())


def test_the_blade_gets_its_gap():
    made = plan(problem(TOP, 140, gap=1.0), FOLDED, effort="quick")
    pieces = {piece.name: piece for piece in TOP}
    shapes = []
    for placement in made.placements:
        shape = Polygon(placement.outline_on_cloth(pieces[placement.piece]))
        if placement.how == "on the fold":
            shape = unary_union([shape, Polygon([(x, 140 - y) for x, y in shape.exterior.coords])])
        shapes.append(shape)
    nearest = min(a.distance(b) for i, a in enumerate(shapes) for b in shapes[:i])
    assert nearest >= 0.99


def test_a_bias_piece_lies_at_45_degrees_and_its_mirror_image_the_other_way():
    collar = LayPiece("collar", "Collar", rectangle(12, 40), 2, mirrored_pair=True, angles=(45.0, 135.0))
    made = plan(problem((collar,), 90, "one-way"), SINGLE, effort="quick")
    angles = {placement.mirrored: placement.angle for placement in made.placements}
    assert angles[False] in (45, 315)  # one way: never upside down
    assert angles[True] in (45, 315)
    assert {p.angle for p in plan(problem((collar,), 90, "two-way")).placements} <= {45, 135, 225, 315}


def test_crosswise_only_where_the_cloth_has_no_nap():
    belt = LayPiece("belt", "Belt", rectangle(10, 120), 1, angles=(0.0, 90.0))
    assert plan(problem((belt,), 140, "none")).length == pytest.approx(10, abs=HALF_A_MILLIMETRE)
    assert plan(problem((belt,), 140, "two-way")).length == pytest.approx(120, abs=HALF_A_MILLIMETRE)


def test_yes_comes_with_a_lay_that_is_short_enough():
    answer = fits(problem(TROUSERS, 140, length=160))
    assert answer.verdict == "yes"
    assert answer.plan is not None
    assert answer.plan.length <= 160
    assert answer.plan.verified


def test_impossible_is_said_only_when_proved():
    too_small = fits(problem(TROUSERS, 140, length=100))
    assert too_small.verdict == "impossible"
    assert "105.0 cm long" in too_small.reason
    no_area = fits(problem((LayPiece("sq", "Square", rectangle(60, 60), 4),), 120, length=110))
    assert no_area.verdict == "impossible"
    assert "m²" in no_area.reason
    no_room = fits(problem(TROUSERS, 140, "one-way", length=112))
    assert no_room.verdict == "impossible"
    assert "side by side" in no_room.reason
    length = plan(problem(TROUSERS, 140, "one-way"), SINGLE, effort="usual").length - 1
    tight = fits(problem(TROUSERS, 140, "one-way", length=length), effort="quick")
    assert tight.verdict == "not found"
    assert tight.shortest is not None
    assert f"{tight.shortest.length - length:.1f} cm more" in tight.reason


def test_wider_cloth_needs_less_length_in_the_table():
    rows = width_table(problem(TROUSERS), (20, 90, 112, 140, 150), effort="quick")
    assert rows[0][1] is None
    lengths = [made.length for _, made in rows if isinstance(made, LayPlan)]
    assert len(lengths) == 4
    assert lengths == sorted(lengths, reverse=True)


def test_a_lay_that_cannot_be_shorter_is_called_optimal():
    assert plan(problem(strips(4, 35, 50), 140), SINGLE, effort="quick").optimal
    assert not plan(problem(TROUSERS, 140, "one-way"), FOLDED, effort="quick").optimal


def test_a_hundred_copies_are_laid_without_a_hang():
    many = LayPiece("patch", "Patch", rectangle(9, 14), 100)
    made = plan(LayProblem((many,), LayCloth(90)), SINGLE, effort="quick")
    assert made.length < 1.1 * 140
