"""The A-line skirt as a cutter would measure it: darts, waist, side seams, flare, facing."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest

from clothwise.body import Body
from clothwise.cloth import Cloth
from clothwise.curve import Curve, Point, Vector
from clothwise.draft.a_line import A_LINE_SKIRT
from clothwise.draft.darted_waist import Wedge, closed_waist, shaped
from clothwise.errors import ChoiceError
from clothwise.garment import Garment, Piece
from clothwise.garment.check import check, greatest_move, same
from clothwise.sew import Sewer, order_of_work
from clothwise.sew.step_check import check_steps
from tests.skirts import GIRLS, PEOPLE, WOMEN, angle_deg, around, points, seam_sides, tape

LINEN = Cloth("Linen", 140, 250, kind="linen")
LENGTHS = ("mini", "knee", "midi", "maxi")


def waist_parts(piece: Piece) -> list[Curve]:
    """The waist between the darts, in the order of the outline."""
    return [edge.curve for edge in piece.edges if edge.name.startswith("waist")]


def sewn_waist(garment: Garment) -> float:
    return sum(
        2 * tape(part) for name in ("front_panel", "back_panel") for part in waist_parts(garment.piece(name))
    )


def mouths(garment: Garment, name: str) -> list[float]:
    return [dart.first_leg.distance(dart.second_leg) for dart in garment.piece(name).darts]


@pytest.mark.parametrize("length", LENGTHS)
@pytest.mark.parametrize("pockets", ["none", "patch", "side seam"])
def test_every_rule_holds(length: str, pockets: str):
    refused = drawn = 0
    for n, body in enumerate(PEOPLE[::3]):
        waist = ("band with zip", "facing with zip")[n % 2]
        try:
            garment = A_LINE_SKIRT.make(body, {"length": length, "pockets": pockets, "waist": waist})
        except ChoiceError:
            refused += length == "mini" and pockets != "none"
            continue
        assert [str(fault) for fault in check(garment)] == [], body.name
        drawn += 1
    assert drawn + refused == len(PEOPLE[::3])
    assert refused <= 4


@pytest.mark.parametrize("body", PEOPLE[::3], ids=lambda body: body.name)
def test_it_fits_waist_and_hip(body: Body):
    for wish in (
        {},
        {"hip_ease": 9.0, "waist_ease": 4.0, "flare": 2.0},
        {"front_waist": 2.0, "back_waist": -2.0},
    ):
        garment = A_LINE_SKIRT.make(body, wish)
        assert sewn_waist(garment) == pytest.approx(body["waist_girth"] + wish.get("waist_ease", 2.0), abs=0.01)
        hip = body["hip_girth"] + wish.get("hip_ease", 5.0)
        wider = sum(note.by for note in garment.notes if note.measure == "hip_girth")
        assert around(garment, "hip") == pytest.approx(hip + wider, abs=0.05)


def test_side_seams_of_front_and_back_are_one_line_turned_over():
    for body in PEOPLE:
        garment = A_LINE_SKIRT.make(body)
        front = points(garment.piece("front_panel").line("side_seam").reversed())
        back = points(garment.piece("back_panel").line("side_seam"))
        assert abs(front[:, 0] + back[:, 0]).max() < 1e-6
        assert abs(front[:, 1] - back[:, 1]).max() < 1e-6


def test_darts_have_equal_legs_keep_their_rules_and_the_back_ones_are_longer():
    counts = set()
    for body in WOMEN:
        garment = A_LINE_SKIRT.make(body)
        front, back = garment.piece("front_panel").darts, garment.piece("back_panel").darts
        counts.add((len(front), len(back)))
        for dart in (*front, *back):
            assert dart.tip.distance(dart.first_leg) == pytest.approx(
                dart.tip.distance(dart.second_leg), abs=1e-9
            )
            assert dart.tip.y > -body["waist_to_hip"] + 2  # ends well above the fullest hip
        assert all(0.6 <= mouth <= 2.6 for mouth in mouths(garment, "front_panel"))
        assert all(0.6 <= mouth <= 3.2 for mouth in mouths(garment, "back_panel"))
        assert sum(mouths(garment, "back_panel")) >= sum(mouths(garment, "front_panel"))
        if front and back:
            assert max(d.tip.distance(d.first_leg) for d in front) < max(
                d.tip.distance(d.first_leg) for d in back
            )
    assert len(counts) >= 3  # the bodies ask for different darts


def test_what_the_waist_loses_is_in_darts_and_side_seams():
    """The identity every straight skirt must close: hip less waist = darts + side edges."""
    for body in WOMEN:
        garment = A_LINE_SKIRT.make(body, {"flare": 0.0, "walking_room": "slit", "length": "mini"})
        side = garment.piece("front_panel").line("side_seam")
        taken = max(p[0] for p in points(side)) - side.end.x
        darts = sum(mouths(garment, "front_panel")) + sum(mouths(garment, "back_panel"))
        half = (body["hip_girth"] + 5 - body["waist_girth"] - 2) / 2
        assert darts + 2 * taken == pytest.approx(half, abs=0.6)  # the waist is bowed
        assert taken <= 3.01


def test_with_its_darts_sewn_the_waist_is_one_even_bow_and_the_facing_is_its_copy():
    for body in WOMEN:
        garment = A_LINE_SKIRT.make(body, {"waist": "facing with zip"})
        for half in ("front", "back"):
            panel, facing = garment.piece(f"{half}_panel"), garment.piece(f"{half}_facing")
            closed = _closed(panel)
            for one, other in pairwise(closed):
                assert one.end.distance(other.start) < 1e-6
                assert one.end_tangent.dot(other.start_tangent) == pytest.approx(1.0, abs=1e-9)
            copy = facing.line("waist")
            assert sum(tape(part) for part in closed) == pytest.approx(tape(copy), abs=1e-3)
            assert closed[0].start.distance(closed[-1].end) == pytest.approx(copy.chord, abs=1e-3)
            bends = [abs(stroke.curvature(t)) for stroke in copy.strokes for t in (0.0, 0.5, 1.0)]
            if half == "front":  # the back dips in the hollow
                assert max(bends) - min(bends) < 0.002
        one, other = seam_sides(garment, "waist")
        assert one == pytest.approx(other, abs=0.01)


def _closed(panel: Piece) -> list[Curve]:
    """Fold every dart by hand: what lies before it is turned about its tip onto the other leg."""
    parts = waist_parts(panel)
    mouths = [edge.name for edge in panel.edges if edge.name.endswith("mouth")]
    for n, name in enumerate(mouths):
        dart = next(dart for dart in panel.darts if dart.edge == name)
        angle = angle_deg(dart.first_leg, dart.tip, dart.second_leg)
        parts = [part.rotated(dart.tip, angle) if i <= n else part for i, part in enumerate(parts)]
    return parts


def test_a_dart_is_opened_about_its_tip():
    flat = shaped(20.0, 0.2, (Wedge(0.4, 2.0, 10.0), Wedge(0.7, 1.5, 9.0)))
    assert [d.first_leg.distance(d.second_leg) for d in flat.darts] == pytest.approx([2.0, 1.5])
    assert [d.tip.distance(d.first_leg) for d in flat.darts] == pytest.approx([10.0, 9.0])
    assert sum(tape(part) for part in flat.parts) == pytest.approx(20.0, abs=1e-4)
    assert tape(flat.parts[0]) == pytest.approx(8.0, abs=1e-4)
    assert math.radians(flat.parts[-1].end_tangent.angle_deg) == pytest.approx(0.2)
    for turn in (0.0, 0.3, 0.9):
        arc = closed_waist(20.0, turn)
        radius = 20.0 / turn if turn else math.inf
        assert arc.end.x == pytest.approx(radius * math.sin(turn) if turn else 20.0, abs=1e-3)
        assert arc.end.y == pytest.approx(radius * (1 - math.cos(turn)) if turn else 0.0, abs=1e-3)


def test_more_flare_leaves_less_to_darts_and_a_waist_as_wide_as_the_hip_none():
    body = WOMEN[1]
    sums = []
    for flare in (0.0, 3.0, 6.0, 9.0):
        garment = A_LINE_SKIRT.make(body, {"flare": flare, "walking_room": "slit"})
        sums.append(sum(mouths(garment, "front_panel")) + sum(mouths(garment, "back_panel")))
        hem = around(garment, "hem")
        to_knee = 1.05 * body["waist_to_knee"] - body["waist_to_hip"]
        grown = 4 * flare * (garment.finished["length"] - body["waist_to_hip"]) / to_knee
        assert hem == pytest.approx(body["hip_girth"] + 5 + grown, abs=0.1)
    assert sums == sorted(sums, reverse=True)
    assert sums[0] > sums[-1] + 3
    stout = body.with_measures(waist_girth=body["hip_girth"] + 2)
    garment = A_LINE_SKIRT.make(stout)
    assert not garment.piece("front_panel").darts
    assert not garment.piece("back_panel").darts
    assert around(garment, "hip") >= stout["hip_girth"] + 5
    assert any("wider at the hip" in note.text for note in garment.notes)
    assert check(garment) == ()


def test_length_is_as_asked_and_the_waist_is_raised_and_lowered_at_the_centre():
    for body in (*WOMEN[:4], *GIRLS[:2]):
        plain = A_LINE_SKIRT.make(body)
        assert tape(plain.piece("front_panel").line("fold")) == pytest.approx(
            1.05 * body["waist_to_knee"], abs=0.01
        )
        raised = A_LINE_SKIRT.make(body, {"front_waist": 2.0})
        lowered = A_LINE_SKIRT.make(body, {"back_waist": -2.0})
        grown = tape(raised.piece("front_panel").line("fold")) - tape(plain.piece("front_panel").line("fold"))
        assert grown == pytest.approx(2.0, abs=0.01)
        backs = [
            tape(g.piece("back_panel").line("zip")) + tape(g.piece("back_panel").line("centre"))
            for g in (lowered, plain)
        ]
        assert backs[0] - backs[1] == pytest.approx(-2.0, abs=0.05)
        assert abs(seam_sides(raised, "side_seam")[0] - seam_sides(raised, "side_seam")[1]) < 1e-6


def test_the_hem_leaves_room_to_step_by_flare_or_by_a_slit():
    for body in PEOPLE:
        wide = A_LINE_SKIRT.make(body, {"length": "midi", "flare": 1.0})
        assert around(wide, "hem") >= 0.75 * body["height"] - 0.1
        assert "slit" not in wide.finished
        slit = A_LINE_SKIRT.make(body, {"length": "midi", "flare": 1.0, "walking_room": "slit"})
        assert ("slit" in slit.finished) == (around(slit, "hem") < 0.75 * body["height"])
        if "slit" in slit.finished:
            assert slit.finished["length"] - slit.finished["slit"] > body["waist_to_hip"] + 3


def test_a_patch_pocket_lies_under_the_dart_and_clear_of_the_side():
    for body in WOMEN:
        garment = A_LINE_SKIRT.make(body, {"pockets": "patch", "length": "midi"})
        panel = garment.piece("front_panel")
        left, _, right, top = panel.mark("pocket_place").curve.bounds()
        assert all(dart.tip.y > top + 0.5 for dart in panel.darts)
        assert left > 1.5
        sides = [p[0] for p in points(panel.line("side_seam")) if p[1] < top]
        assert min(sides) - right > 1.9


def test_the_hips_pass_the_opened_zip():
    for body in PEOPLE:
        garment = A_LINE_SKIRT.make(body)
        opening = sewn_waist(garment) + 2 * tape(garment.piece("back_panel").line("zip"))
        assert opening >= body["hip_girth"] + 2 - 0.01


@pytest.mark.parametrize("waist", ["band with zip", "facing with zip"])
def test_it_can_be_sewn_as_the_order_of_work_says(waist: str):
    garment = A_LINE_SKIRT.make(WOMEN[0], {"waist": waist, "pockets": "side seam"})
    steps = order_of_work(garment, LINEN, Sewer("Marit", "practised", True))
    assert check_steps(garment, steps, LINEN) == ()


def test_a_seam_runs_on_over_a_dart_but_not_over_a_gap():
    body = next(b for b in WOMEN if A_LINE_SKIRT.make(b).piece("front_panel").darts)
    garment = A_LINE_SKIRT.make(body)
    assert check(garment) == ()
    panel = garment.piece("front_panel")
    dart = panel.darts[0]
    mouth = panel.edge(dart.edge)
    gap = replace(panel, darts=panel.darts[1:], edges=tuple(e for e in panel.edges if e is not mouth))
    rules = {fault.rule for fault in check(_with(garment, replace(panel, darts=panel.darts[1:])))}
    assert {"runs on", "used once"} <= rules
    assert "closed" in {fault.rule for fault in check(_with(garment, gap))}
    open_leg = replace(dart, tip=dart.tip.go(Vector(1.0, 0.0)))
    rules = {fault.rule for fault in check(_with(garment, replace(panel, darts=(open_leg, *panel.darts[1:]))))}
    assert "dart legs" in rules


def _with(garment: Garment, piece: Piece) -> Garment:
    return replace(garment, pieces=tuple(piece if p.name == piece.name else p for p in garment.pieces))


@pytest.mark.parametrize(
    ("body", "wish", "says"),
    [
        (min(GIRLS, key=lambda body: body["height"]), {"flare": 14.0}, "no A-line"),
        (WOMEN[0], {"longer": 20.0, "length": "maxi"}, "drag"),
        (WOMEN[0], {"hem": 8.0, "flare": 14.0}, "does not lie flat"),
        (WOMEN[0], {"waist": "elastic"}, "not one of the options"),
    ],
)
def test_what_cannot_be_is_refused_with_what_can(body: Body, wish: dict[str, float | str], says: str):
    with pytest.raises(ChoiceError) as refused:
        A_LINE_SKIRT.make(body, wish)
    assert says in str(refused.value)
    assert refused.value.mend


def test_small_changes_move_little_but_where_a_dart_comes_or_goes():
    far = 0
    for body in WOMEN[:5]:
        for name in A_LINE_SKIRT.needs:
            moved = body.with_measures(**{name: body[name] + 0.1})
            one, other = A_LINE_SKIRT.make(body), A_LINE_SKIRT.make(moved)
            if [_parts(one), _zip(one)] != [_parts(other), _zip(other)]:
                far += 1
            else:
                assert greatest_move(one, other) < 1.0
    assert far <= 4
    assert same(A_LINE_SKIRT.make(WOMEN[0]), A_LINE_SKIRT.make(WOMEN[0]))


def _parts(garment: Garment) -> list[tuple[str, ...]]:
    return [tuple(edge.name for edge in piece) for piece in garment.pieces]


def _zip(garment: Garment) -> list[float]:
    return [notion.length for notion in garment.notions if notion.name == "zip"]


def test_pieces_stand_with_the_centre_upright_at_the_origin():
    panel = A_LINE_SKIRT.make(WOMEN[0]).piece("front_panel")
    fold = panel.line("fold")
    assert fold.start.x == fold.end.x == 0.0
    assert fold.start.distance(Point(0.0, 0.0)) < 1e-5
