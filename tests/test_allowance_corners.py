"""Corners of cutting lines, folds, darts, notches and refusals."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as Spot

from clothwise.curve import DOWN, RIGHT, UP, Point, corner, heading, line, polyline, sweep
from clothwise.errors import GarmentError
from clothwise.garment import Dart, Edge, Notch, Piece
from clothwise.garment.allowance import cutting_line, notch_marks, unfolded_cutting_line
from clothwise.tolerance import ALLOWANCE, FLATTEN
from tests.cut_pieces import GRAIN, leg, many_sided, panel
from tests.folding import folded


def square(*allowances: float, kinds: str = "seam seam seam seam") -> Piece:
    corners = [Point(0, 0), Point(20, 0), Point(20, 30), Point(0, 30)]
    return many_sided(corners, kinds.split(), allowances)


def wedge(inside_deg: float, allowance: float = 1.0, length: float = 40.0) -> Piece:
    """A triangle with that angle at the origin, between edges 'a' (leaving) and 'c' (arriving)."""
    corners = [Point(0, 0), Point(length, 0), Point(0, 0).go(heading(inside_deg), length)]
    return many_sided(corners, ["seam"] * 3, [allowance] * 3)


# ---- seams meet ----------------------------------------------------------------------------------


def test_each_side_of_a_square_keeps_its_own_width_with_sharp_corners() -> None:
    cut = set(cutting_line(square(1.0, 1.5, 2.0, 0.0)))
    assert cut == {Point(0, -1), Point(21.5, -1), Point(21.5, 32), Point(0, 32)}


@pytest.mark.parametrize("inside_deg", [50.0, 60.0, 90.0, 120.0, 170.0])
def test_an_outward_corner_is_mitred(inside_deg: float) -> None:
    tip = Point(0, 0).go(heading(inside_deg / 2).back(), 1 / math.sin(math.radians(inside_deg / 2)))
    assert min(tip.distance(p) for p in cutting_line(wedge(inside_deg))) < 1e-4


@pytest.mark.parametrize("inside_deg", [5.0, 20.0, 40.0])
def test_a_needle_corner_is_cut_square_across_at_two_and_a_half_allowances(inside_deg: float) -> None:
    bisector = heading(inside_deg / 2)
    points = [p for p in cutting_line(wedge(inside_deg)) if p.distance(Point(0, 0)) < 4]
    reach = sorted(-Point(0, 0).to(p).dot(bisector) for p in points)
    assert reach[-1] == pytest.approx(2.5, abs=1e-4)
    assert reach[-2] == pytest.approx(2.5, abs=1e-4)  # two corners on one line square to the bisector


def test_a_hollow_corner_is_where_both_lines_cross() -> None:
    corners = [Point(0, 0), Point(20, 0), Point(20, 10), Point(10, 10), Point(10, 30), Point(0, 30)]
    cut = cutting_line(many_sided(corners, ["seam"] * 6, [1.0, 1.0, 1.5, 1.0, 1.0, 1.0]))
    assert Point(11, 11.5) in cut
    assert len(cut) == 6


def test_unlike_widths_on_a_straight_run_meet_in_a_step() -> None:
    corners = [Point(0, 0), Point(10, 0), Point(20, 0), Point(20, 30), Point(0, 30)]
    cut = cutting_line(many_sided(corners, ["seam"] * 5, [1.0, 2.0, 1.0, 1.0, 1.0]))
    assert Point(10, -1) in cut
    assert Point(10, -2) in cut


@pytest.mark.parametrize("radius", [0.3, 0.8, 1.5, 4.0])
def test_a_hollow_tighter_than_its_allowance_still_gives_one_line_at_the_full_width(radius: float) -> None:
    left, right = Point(10 - radius, 30), Point(10 + radius, 30)
    deep = 20.0
    bottom = Point(10, deep)
    notch = (
        line(right, Point(right.x, deep + radius))
        .then(corner(Point(right.x, deep + radius), DOWN, bottom, heading(180)))
        .then(corner(bottom, heading(180), Point(left.x, deep + radius), UP))
        .then(line(Point(left.x, deep + radius), left))
    )
    edges = (
        Edge("bottom", line(Point(0, 0), Point(20, 0)), "seam", 1.0),
        Edge("right", line(Point(20, 0), Point(20, 30)), "seam", 1.0),
        Edge("top_right", line(Point(20, 30), right), "seam", 1.0),
        Edge("slit", notch, "seam", 1.0),
        Edge("top_left", line(left, Point(0, 30)), "seam", 1.0),
        Edge("left", line(Point(0, 30), Point(0, 0)), "seam", 1.0),
    )
    cut = Polygon(cutting_line(Piece("yoke", "Yoke", edges, GRAIN)))
    drawn = Polygon(Piece("yoke", "Yoke", edges, GRAIN).polygon(tolerance=FLATTEN / 10))
    assert cut.is_valid
    assert cut.exterior.distance(drawn.exterior) >= 1.0 - FLATTEN
    # the same line as a buffer with mitred corners, by an independent library
    assert cut.hausdorff_distance(drawn.buffer(1.0, join_style="mitre")) < 2 * FLATTEN


@given(
    st.lists(st.floats(4, 25), min_size=3, max_size=7),
    st.lists(st.sampled_from([0.0, 0.5, 1.0, 1.5, 2.5]), min_size=7, max_size=7),
)
@settings(max_examples=60, deadline=None)
def test_any_shape_keeps_every_width_and_is_one_line(radii: list[float], widths: list[float]) -> None:
    n = len(radii)
    corners = [Point(0, 0).go(heading(360 * i / n), r) for i, r in enumerate(radii)]
    piece = many_sided(corners, ["seam"] * n, widths)
    cut = Polygon(cutting_line(piece))
    drawn = Polygon(corners)
    assert cut.is_valid
    assert cut.exterior.is_ccw
    assert drawn.difference(cut.buffer(1e-4)).area < 1e-6
    for edge in piece.edges:
        run = LineString([edge.curve.start, edge.curve.end])
        out = edge.curve.start_tangent.right()
        beside = Polygon(
            [*run.coords, edge.curve.end.go(out, edge.allowance), edge.curve.start.go(out, edge.allowance)]
        )
        assert beside.difference(cut.buffer(1e-4)).area < 1e-6
    assert cut.within(drawn.buffer(2.7 * max(widths) + 1e-3, quad_segs=64))


# ---- turns meet ----------------------------------------------------------------------------------


def test_two_hems_meeting_at_a_corner_fill_it() -> None:
    cut = cutting_line(square(3.0, 2.0, 0.0, 0.0, kinds="hem hem raw raw"))
    assert set(cut) == {Point(0, -3), Point(22, -3), Point(22, 30), Point(0, 30)}


def test_a_seam_pressed_open_at_a_sharp_corner_is_the_mirror_image_of_its_neighbour() -> None:
    """A raglan seam runs sharply into the neckline: laid open, its allowance must not stand out at the neck."""
    piece = wedge(50.0, allowance=1.5)
    plain, pressed = Polygon(cutting_line(piece)), Polygon(cutting_line(piece, pressed_open=["a"]))
    seam = piece.edge("a").curve
    half = seam.part(0.0, 20.0)
    assert folded(plain, half, 1.5).protrudes > 0.5
    assert folded(pressed, half, 1.5).protrudes < 0.01
    assert pressed.exterior.distance(Spot(20, 0)) == pytest.approx(1.5, abs=ALLOWANCE)
    assert pressed.exterior.distance(Spot(seam.end.between(piece.edge("b").curve.end, 0.5))) >= 1.5 - ALLOWANCE


def test_of_two_seams_pressed_open_the_one_sewn_first_is_mirrored() -> None:
    corners = [Point(0, 0), Point(40, 0), Point(42, 20), Point(0, 0).go(heading(50), 40)]
    piece = many_sided(corners, ["seam"] * 4, [1.5] * 4)
    assert cutting_line(piece, pressed_open=["a", "d"]) == cutting_line(piece, pressed_open=["a"])
    assert cutting_line(piece, pressed_open=["d", "a"]) == cutting_line(piece, pressed_open=["d"])
    assert cutting_line(piece, pressed_open=["a"]) != cutting_line(piece, pressed_open=["d"])


def test_three_sharp_corners_all_pressed_open_give_one_line() -> None:
    for order in ("abc", "cba", "bca"):
        cut = Polygon(cutting_line(wedge(50.0, allowance=1.5), pressed_open=list(order)))
        assert cut.exterior.distance(Polygon(wedge(50.0).polygon(tolerance=1)).exterior) >= 1.5 - ALLOWANCE


def test_pressing_open_changes_nothing_at_square_corners() -> None:
    assert cutting_line(square(1, 1, 1, 1), pressed_open=["a", "b"]) == cutting_line(square(1, 1, 1, 1))


def test_a_deep_turn_on_a_tight_curve_is_refused_with_a_way_out() -> None:
    top = corner(Point(0, 0), RIGHT, Point(3, 3), UP)
    edges = (
        Edge("hem", top, "hem", 4.0),
        Edge("right", line(Point(3, 3), Point(3, 30)), "seam", 1.0),
        Edge("back", polyline([Point(3, 30), Point(-20, 30), Point(-20, 0), Point(0, 0)]), "seam", 1.0),
    )
    with pytest.raises(GarmentError, match=r"'hem' of 'pocket' is too curved to be turned 4 cm.*facing"):
        cutting_line(Piece("pocket", "Pocket", edges, GRAIN))


# ---- on the fold ---------------------------------------------------------------------------------


def test_the_line_ends_exactly_on_the_fold_and_nothing_lies_beyond() -> None:
    piece = panel()
    cut = cutting_line(piece)
    on_fold = [p for p in cut if p.x == 0.0]
    assert len(on_fold) == 2
    assert min(p.x for p in cut) == 0.0
    assert sorted(p.y for p in on_fold) == pytest.approx([-63.0, 4.0], abs=FLATTEN)


def test_the_whole_shape_is_the_half_and_its_image() -> None:
    piece = panel(flare=20.0)
    whole, half = Polygon(unfolded_cutting_line(piece)), Polygon(cutting_line(piece))
    assert whole.is_valid
    assert whole.exterior.is_ccw
    assert whole.area == pytest.approx(2 * half.area, rel=1e-9)
    assert whole.symmetric_difference(Polygon([(-x, y) for x, y in whole.exterior.coords])).area < 1e-6


def test_a_fold_not_upright_works_as_well() -> None:
    piece = panel()
    edges = tuple(
        Edge(e.name, e.curve.rotated(Point(3, 4), 33.0), e.kind, e.allowance, e.notches) for e in piece.edges
    )
    turned = Piece(piece.name, piece.title, edges, GRAIN, cutting="on fold", copies=1)
    straight = Polygon([p.rotated(Point(3, 4), 33.0) for p in cutting_line(piece)])
    assert straight.symmetric_difference(Polygon(cutting_line(turned))).area < 0.05
    fold = turned.edge("fold").curve
    away = [abs(fold.start.to(p).cross(fold.start_tangent)) for p in cutting_line(turned)]
    assert sum(a < 1e-12 for a in away) == 2


def test_a_crooked_fold_is_refused() -> None:
    edges = list(panel().edges)
    edges[0] = Edge("fold", sweep(Point(0, 0), heading(-85), Point(0, -60), DOWN), "fold", 0.0)
    with pytest.raises(GarmentError, match="fold edge of 'panel' is not straight"):
        cutting_line(Piece("panel", "Panel", tuple(edges), GRAIN, cutting="on fold"))


# ---- darts ---------------------------------------------------------------------------------------


def dart_piece(slope_deg: float, *, half_mouth: float = 1.5) -> Piece:
    """A waist that meets the dart's legs so that it is straight when the dart is sewn shut."""
    tip = Point(10, 20)
    one, other = Point(10 + half_mouth, 32), Point(10 - half_mouth, 32)
    top = polyline([Point(20, 32 + 8.5 * math.tan(math.radians(slope_deg))), one, other,
                    Point(0, 32 + 8.5 * math.tan(math.radians(slope_deg)))])  # fmt: skip
    edges = (
        Edge("hem", line(Point(0, 0), Point(20, 0)), "raw", 0.0),
        Edge("side", line(Point(20, 0), top.start), "seam", 1.0),
        Edge("waist", top, "seam", 1.0),
        Edge("centre", line(top.end, Point(0, 0)), "seam", 1.0),
    )
    return Piece("front", "Front", edges, GRAIN, darts=(Dart("waist_dart", tip, one, other, "waist"),))


@pytest.mark.parametrize("slope_deg", [0.0, 3.0, 7.0])
def test_a_dart_folded_to_the_side_is_caught_along_the_whole_seam(slope_deg: float) -> None:
    """Fold the dart by hand: reflect its half in the leg it is pressed to; the seam lines must agree."""
    piece = dart_piece(slope_deg)
    cut = Polygon(cutting_line(piece))
    dart = piece.darts[0]
    leg_line = [dart.tip, dart.tip.go(dart.tip.to(dart.first_leg), 1.3)]
    middle = [dart.tip, Point(10, 45)]
    half = cut.intersection(Polygon([dart.tip, leg_line[1].go(RIGHT, 0.0), middle[1]]))
    laid = Polygon([Point(*c).mirrored(dart.tip, dart.tip.to(dart.first_leg)) for c in half.exterior.coords])
    under = cut.intersection(Polygon([dart.tip, leg_line[1], Point(30, 45), Point(30, 20)]))
    reach = laid.bounds[2] - 0.2
    column = Polygon([(dart.first_leg.x + 0.2, 25), (reach, 25), (reach, 45), (dart.first_leg.x + 0.2, 45)])
    top_of_fold = laid.intersection(column).bounds[3]
    assert laid.difference(under.buffer(0.02)).area < 0.02
    assert top_of_fold == pytest.approx(under.intersection(column).bounds[3], abs=0.05)


def test_a_dart_off_its_edge_is_refused() -> None:
    piece = dart_piece(3.0)
    lost = Dart("waist_dart", Point(10, 20), Point(11, 28), Point(9, 28), "waist")
    with pytest.raises(GarmentError, match="legs of dart 'waist_dart' do not end on the edge 'waist'"):
        cutting_line(Piece("front", "Front", piece.edges, GRAIN, darts=(lost,)))


# ---- notches -------------------------------------------------------------------------------------


def test_notches_are_measured_on_the_seam_line_and_drawn_on_the_cutting_line() -> None:
    piece = leg()
    cut = cutting_line(piece)
    ring = LineString([*cut, cut[0]])
    marks = notch_marks(piece)
    assert [(m.sign, m.count, m.edge) for m in marks] == [
        ("hip", 1, "side"), ("knee", 2, "side"), ("crotch", 1, "crotch"),
    ]  # fmt: skip
    for mark, at in zip(marks, (70.0, 40.0, 18.0), strict=True):
        edge = piece.edge(mark.edge)
        assert mark.on_seam.distance(edge.curve.at_length(at)) < 1e-6
        assert ring.distance(Spot(mark.on_cut)) < 1e-6
        assert mark.on_seam.distance(mark.on_cut) == pytest.approx(edge.allowance, abs=2 * FLATTEN)
        assert mark.outward.dot(edge.curve.tangent_at_length(at)) == pytest.approx(0, abs=1e-9)
        assert mark.on_seam.go(mark.outward, edge.allowance).distance(mark.on_cut) < 2 * FLATTEN


def test_a_notch_on_an_edge_without_allowance_stands_on_the_edge() -> None:
    edges = list(square(0.0, 1.0, 1.0, 1.0).edges)
    edges[0] = Edge("a", edges[0].curve, "raw", 0.0, (Notch("x", 7.0),))
    (mark,) = notch_marks(Piece("shape", "Shape", tuple(edges), GRAIN))
    assert mark.on_cut == Point(7, 0)
