"""The bodice frame, necklines and armholes on bodies of the population: what a cutter would measure."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from clothwise.body import Body, sample
from clothwise.curve import LEFT, RIGHT, Curve, Point, line
from clothwise.draft import facing, neckline
from clothwise.draft.bodice import Frame, Room, back_armhole, cup_of, frame, front_armhole
from clothwise.errors import ChoiceError, MeasureError
from clothwise.garment import Dart, Edge, Mark, Piece
from clothwise.garment.check.drawn import drawn, measured
from clothwise.garment.check.girths import girth
from clothwise.garment.check.pieces import piece_faults

WOMEN = sample("woman", 60, seed=41)
PEOPLE = (*WOMEN, *sample("man", 30, seed=42), *sample("girl", 20, seed=43), *sample("boy", 20, seed=44))
ROOM = Room(bust=8.0, drop=2.5)
FRAMES = [(body, frame(body, ROOM)) for body in PEOPLE]


def close(f: Frame) -> tuple[Curve, Curve]:
    plain = neckline.Neckline()
    front = neckline.cut_front(f.neck, plain, f.front.neck_point, f.front.slope_deg)[0]
    return front, neckline.cut_back(f.neck, plain, f.back.neck_point, f.back.slope_deg)


def test_the_close_neck_measures_the_neck_and_a_centimetre():
    for body, f in FRAMES:
        front, back = measured(close(f))
        assert 2 * (front.length + back.length) == pytest.approx(body["neck_base_girth"] + 1, abs=1e-4)
        assert back.points[-1][1] == pytest.approx(body["back_waist_length"])


def test_neck_and_armhole_run_on_smoothly_over_the_shoulder():
    for _, f in FRAMES:
        for half, neck in zip((f.front, f.back), close(f), strict=True):
            down = math.radians(-half.slope_deg)
            shoulder = (math.cos(down), math.sin(down))
            arm = front_armhole(half) if half is f.front else back_armhole(half)
            for way in (neck.start_tangent, arm.start_tangent):
                assert way.x * shoulder[0] + way.y * shoulder[1] == pytest.approx(0, abs=1e-9)
            assert neck.end_tangent.y == pytest.approx(0, abs=1e-9)


def test_the_shoulders_differ_by_the_ease_over_the_blade():
    for body, f in FRAMES:
        front = f.front.neck_point.distance(f.front.shoulder)
        assert front == pytest.approx(body["shoulder_length"])
        assert f.back.neck_point.distance(f.back.shoulder) == pytest.approx(front + 0.5)


def test_both_halves_together_are_half_of_the_bust_with_its_ease():
    for body, f in FRAMES:
        assert 2 * (f.side_back + f.side_front) == pytest.approx(body["bust_girth"] + 8)


def test_the_opened_dart_has_equal_legs_and_keeps_the_side_seam():
    darted = [(body, f) for body, f in FRAMES if f.bust]
    assert len(darted) > 30
    for body, f in darted:
        bust = f.bust
        assert bust is not None
        lower, upper = bust.lower_leg, bust.upper_leg
        assert bust.point.distance(lower) == pytest.approx(bust.point.distance(upper))
        back_side = f.underarm - lower.y
        assert f.front.underarm.distance(upper) == pytest.approx(back_side)
        on_body = f.front.neck_point.distance(bust.point)
        assert on_body == pytest.approx(body["shoulder_neck_point_to_bust_point"])
        assert bust.point.x == pytest.approx(body["bust_point_distance"] / 2)
        mouth = lower.distance(upper)
        cup_gain = 2 * bust.point.distance(lower) * math.sin(cup_of(body) / 2 / (0.32 * body["bust_girth"]))
        assert mouth == pytest.approx(cup_gain)


def test_the_front_is_as_deep_from_neck_to_underarm_as_the_back_less_half_a_centimetre():
    for _, f in FRAMES:
        back = f.back.neck_point.y - f.back.underarm.y
        assert f.front.neck_point.y - f.front.underarm.y == pytest.approx(back - 0.5)


def test_armholes_hold_the_arm_and_bend_one_way_with_at_most_one_reversal():
    for body, f in FRAMES:
        back, front = drawn(back_armhole(f.back)), drawn(front_armhole(f.front))
        around = back.length + front.length
        assert 1.1 * body["upper_arm_girth"] < around < (2.8 if body.child else 2.3) * body["upper_arm_girth"]
        for arm in (back, front):
            assert arm.waves(0.5) <= 1
            assert max(arm.kinks) < 0.01
        assert back_armhole(f.back).end_tangent == pytest.approx(RIGHT)
        assert f.back.width < f.back.shoulder.x
        assert f.front.width < f.back.width


def test_a_width_that_had_to_be_changed_is_told_with_its_centimetres():
    body = WOMEN[0].with_measures(across_back=WOMEN[0]["across_back"] + 8)
    notes = frame(body, ROOM).notes
    assert any(n.measure == "across_back" and n.by < -4 and "narrower" in n.text for n in notes)


def test_men_and_small_children_have_no_cup_and_no_dart():
    for body, f in FRAMES:
        if body.figure in ("man", "boy") or (body.age_years or 99) < 11:
            assert f.bust is None


def test_an_impossible_cup_is_refused_with_what_to_measure():
    body = WOMEN[0].with_measures(bust_girth=120, high_bust_girth=98)
    with pytest.raises(MeasureError, match="high bust"):
        frame(body, ROOM)


def test_a_millimetre_more_moves_nothing_by_a_centimetre():
    for body in PEOPLE[::9]:
        before = frame(body, ROOM)
        for name in ("bust_girth", "armscye_depth", "across_back", "shoulder_length", "upper_arm_girth"):
            after = frame(body.with_measures(**{name: body[name] + 0.1}), ROOM)
            for one, other in ((before.front, after.front), (before.back, after.back)):
                assert one.underarm.distance(other.underarm) < 1 or (before.bust is None) != (
                    after.bust is None
                )
                assert one.shoulder.distance(other.shoulder) < 1 or (before.bust is None) != (
                    after.bust is None
                )


# ---- necklines and facings ---------------------------------------------------------------------------


def slopes(f: Frame) -> tuple[float, float]:
    return f.back.slope_deg, f.front.slope_deg


def opening(f: Frame, style: str, body: Body) -> float:
    cut = neckline.styled(style, f.neck, body["shoulder_length"], slopes(f))
    front = neckline.cut_front(f.neck, cut, f.front.neck_point, f.front.slope_deg)
    back = neckline.cut_back(f.neck, cut, f.back.neck_point, f.back.slope_deg)
    return 2 * (sum(c.length() for c in front) + back.length())


def test_a_slit_lets_the_head_through_and_only_where_it_must():
    for body, f in FRAMES:
        for style in neckline.STYLES:
            girth = opening(f, style, body)
            slit = neckline.slit_for_head(body, girth)
            assert girth + 2 * slit >= body["head_girth"] + 2
            assert (slit == 0) == (girth >= body["head_girth"] + 2)
            assert slit == 0 or slit >= 9


@pytest.mark.parametrize("style", list(neckline.STYLES))
def test_every_neckline_is_wider_than_the_neck_and_smooth_over_the_shoulder(style: str):
    for body, f in FRAMES:
        assert opening(f, style, body) >= body["neck_base_girth"] + 1.5
        cut = neckline.styled(style, f.neck, body["shoulder_length"], slopes(f))
        assert body["shoulder_length"] - cut.wide >= min(3, body["shoulder_length"] / 2)
        for curve in neckline.cut_front(f.neck, cut, f.front.neck_point, f.front.slope_deg):
            assert drawn(curve).waves(0.5) <= 1
        assert drawn(neckline.cut_back(f.neck, cut, f.back.neck_point, f.back.slope_deg)).waves(0.5) == 0


def test_a_point_at_the_fold_must_be_meant():
    neck = neckline.front_curves(Point(8.0, 20.0), 22.0, 6.0, "V")[0]
    side, low = line(Point(20.0, 0.0), neck.start), line(Point(0.0, 0.0), Point(20.0, 0.0))
    fold = line(neck.end, Point(0.0, 0.0))

    def rules(pointed: bool) -> set[str]:
        edges = (
            Edge("hem", low, "hem", 2.0),
            Edge("side", side, "seam", 1.0),
            Edge("neck", neck, "seam", 1.0, pointed=pointed),
            Edge("fold", fold, "fold", 0.0),
        )
        piece = Piece("front", "Front", edges, (Point(4.0, 1.0), Point(4.0, 8.0)), "on fold", 1)
        return {fault.rule for fault in piece_faults(_seen(piece))}

    assert "fold square" in rules(pointed=False)
    assert "fold square" not in rules(pointed=True)


def _seen(piece: Piece):
    from clothwise.garment import Garment
    from clothwise.garment.check.drawn import seen

    return seen(Garment("v", "V", (piece,), (), ()))[piece.name]


def test_a_facing_runs_out_square_and_keeps_its_width():
    for _, f in FRAMES[::5]:
        front = close(f)[0]
        outer = facing.neck_outer(front.start, f.front.slope_deg, front.end, 5.0, 5.5)
        assert outer.end_tangent == pytest.approx(LEFT)
        away = min(
            math.dist(p, q) for p in outer.flattened(tolerance=0.01) for q in front.flattened(tolerance=0.01)
        )
        assert away > 4.0


def test_a_neckline_beyond_the_shoulder_or_over_the_throat_is_refused_with_what_can_be():
    body, f = FRAMES[0]
    for wish, says in (
        ({"wider": 12.0}, "neck_width"),
        ({"wider": -3.0}, "neck_width"),
        ({"deeper": -8.0}, "throat"),
    ):
        with pytest.raises(ChoiceError, match=says):
            neckline.styled("round", f.neck, body["shoulder_length"], slopes(f), **wish)


# ---- darts pointed at both ends ----------------------------------------------------------------------


def _waisted(**changes: Point) -> Piece:
    """A quarter of a tube, 20 wide and 40 high, its waist at 20 taken in by a dart of 3."""
    corners = (Point(0.0, 0.0), Point(20.0, 0.0), Point(20.0, 40.0), Point(0.0, 40.0))
    hem, side, top, fold = (line(p, q) for p, q in zip(corners, (*corners[1:], corners[0]), strict=True))
    dart = Dart("waist_dart", Point(10, 30), Point(8.5, 20), Point(11.5, 20), "", Point(10, 8))
    edges = (
        Edge("hem", hem, "hem", 2.0),
        Edge("side", side, "seam", 1.0),
        Edge("top", top, "seam", 1.0),
        Edge("fold", fold, "fold", 0.0),
    )
    waist = Mark("waist", "level", line(Point(0, 20), Point(20, 20)))
    grain = (Point(5.0, 5.0), Point(5.0, 30.0))
    return Piece("tube", "Tube", edges, grain, "on fold", 1, darts=(replace(dart, **changes),), marks=(waist,))


def test_a_dart_inside_the_piece_takes_in_its_waist_and_is_drawn_all_round():
    piece = _waisted()
    assert list(piece_faults(_seen(piece))) == []
    assert girth({"tube": _seen(piece)}, (("tube", "waist", 2),)) == pytest.approx(2 * 17)
    assert piece.darts[0].drawn[0] == piece.darts[0].drawn[-1]
    assert piece.darts[0].leg_length == pytest.approx(math.hypot(1.5, 10) + math.hypot(1.5, 12))


@pytest.mark.parametrize(
    ("changes", "rule"),
    [
        ({"tip": Point(10.5, 30)}, "dart legs"),
        ({"other_tip": Point(9.5, 8)}, "dart legs"),
        ({"other_tip": Point(10.0, 0.5)}, "dart tip"),
        ({"first_leg": Point(0.5, 20), "second_leg": Point(19.5, 20)}, "dart tip"),
    ],
)
def test_a_lopsided_dart_inside_the_piece_or_one_that_leaves_it_is_told(changes: dict[str, Point], rule: str):
    assert rule in {fault.rule for fault in piece_faults(_seen(_waisted(**changes)))}
