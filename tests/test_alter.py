"""Altering a drawn garment: what was asked happens, all else stays, and nothing unsound is handed out."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
import shapely

from clothwise.alter import (
    apart,
    change_of,
    cut_in_two,
    dart_let_out,
    figured,
    flared,
    gathered,
    lengthened,
    of_two,
    wedged,
)
from clothwise.alter.settle import walked
from clothwise.body import sample
from clothwise.cloth import Cloth
from clothwise.curve import Point, line
from clothwise.draft import PATTERNS, pattern
from clothwise.draft.shift import DARTED_SHIFT
from clothwise.errors import ChoiceError, GarmentError, WorkroomError
from clothwise.garment import Dart, Garment, Piece
from clothwise.garment.check import check
from clothwise.sew import Sewer, order_of_work
from clothwise.sew.step_check import check_steps

SKIRT, TROUSERS = pattern("four_panel_skirt"), pattern("pull_on_trousers")
WOMEN = sample("woman", 6, seed=31)
PEOPLE = (*WOMEN, *sample("man", 2, seed=32), *sample("girl", 3, seed=33))
LINEN = Cloth("Linen", 140, 250, kind="linen")


def polygon(piece: Piece) -> shapely.Polygon:
    return shapely.Polygon(piece.polygon(tolerance=0.01))


def height(piece: Piece) -> float:
    _, low, _, high = polygon(piece).bounds
    return float(high - low)


def drawn(draft_name: str, body_number: int = 0, **wish: float | str) -> Garment:
    return pattern(draft_name).make(WOMEN[body_number], wish)


# ---- length ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("body", PEOPLE, ids=lambda body: body.name)
@pytest.mark.parametrize("by", [4.0, -2.0])
def test_trousers_get_longer_below_the_knee_and_stay_as_they_are_above(body, by: float):
    before = TROUSERS.make(body, {"leg": "straight"})
    after = lengthened(before, "knee", by)
    assert check(after) == ()
    for name in ("front_leg", "back_leg"):
        old, new = before.piece(name), after.piece(name)
        assert height(new) - height(old) == pytest.approx(by, abs=0.01)
        assert new.edge("inseam").curve.length() - old.edge("inseam").curve.length() == pytest.approx(
            by, abs=0.1
        )
        assert new.edge("crotch").curve.length() == pytest.approx(old.edge("crotch").curve.length(), abs=1e-6)
        above = shapely.box(-200, old.mark("knee").curve.start.y + 0.5, 200, 200)
        moved = polygon(old).intersection(above).symmetric_difference(polygon(new).intersection(above))
        assert moved.area < 1.0, "something above the knee moved"


@pytest.mark.parametrize("body", PEOPLE[::2], ids=lambda body: body.name)
def test_a_flared_skirt_lengthened_keeps_waist_hip_and_seams(body):
    before = SKIRT.make(body, {"flare": 6.0})
    after = lengthened(before, "hip", 5.0)
    assert after.round(after.levels[0].runs) == pytest.approx(before.round(before.levels[0].runs), abs=0.05)
    assert after.piece("front_panel").edge("waist").curve == before.piece("front_panel").edge("waist").curve
    for seam in after.seams:
        assert after.length(seam.a) == pytest.approx(after.length(seam.b), abs=0.05)
    assert any("5.0 cm longer below the hip" in note.text for note in after.notes)


def test_taking_out_more_than_there_is_room_for_is_refused_with_what_is_possible():
    with pytest.raises(GarmentError, match="free of corners") as refusal:
        lengthened(drawn("four_panel_skirt"), "hip", -30.0, side="above")
    assert "ask for less" in refusal.value.mend
    with pytest.raises(GarmentError, match="No piece of it has a line") as refusal:
        lengthened(drawn("four_panel_skirt"), "elbow", 2.0)
    assert "hip" in refusal.value.mend


@pytest.mark.parametrize("by", [1.0, -1.0])
@pytest.mark.parametrize("body", WOMEN[:3], ids=lambda body: body.name)
def test_a_wedge_lengthens_the_centre_and_leaves_the_side(body, by: float):
    before = TROUSERS.make(body)
    after = wedged(before, "front_leg", "adjust_rise", by, at="crotch")
    old, new = before.piece("front_leg"), after.piece("front_leg")
    assert new.edge("crotch").curve.length() - old.edge("crotch").curve.length() == pytest.approx(by, abs=1e-4)
    assert new.edge("side_seam").curve.length() == pytest.approx(old.edge("side_seam").curve.length(), abs=0.01)
    assert after.piece("back_leg").outline() == before.piece("back_leg").outline()


def test_notches_meet_after_lengthening():
    before = drawn("four_panel_skirt", 1)
    after = lengthened(before, "adjust_length", 6.0)
    at = {n.sign: n.at for n in after.piece("front_panel").edge("side_seam").notches}
    length = after.piece("front_panel").edge("side_seam").curve.length()
    other = {n.sign: n.at for n in after.piece("back_panel").edge("side_seam").notches}
    assert at.keys() == other.keys() != set()
    for sign in at:
        assert length - at[sign] == pytest.approx(other[sign], abs=0.05)


# ---- width -------------------------------------------------------------------------------------------


def test_flare_widens_the_hem_by_what_is_asked_and_keeps_the_waist():
    before = drawn("four_panel_skirt", 2)
    after = flared(before, ["front_panel", "back_panel"], 24.0)
    hem = (("front_panel", "hem", 2), ("back_panel", "hem", 2))
    waist = (("front_panel", "waist", 2), ("back_panel", "waist", 2))
    assert after.round(hem) - before.round(hem) == pytest.approx(24.0, abs=0.1)
    assert after.round(waist) == pytest.approx(before.round(waist), abs=0.01)
    with pytest.raises(GarmentError, match="cannot lie flat"):
        flared(before, ["front_panel", "back_panel"], 250.0)


def test_gathers_make_the_edge_so_many_times_as_long_and_the_seam_says_so():
    plain = drawn("four_panel_skirt", 3)
    yoked = cut_in_two(
        plain,
        "front_panel",
        across(plain.piece("front_panel"), -12.0),
        (("front_yoke", "Front yoke"), ("front_skirt", "Front skirt")),
        seam="yoke",
        title="Yoke seam",
    )
    full = gathered(yoked, "yoke", "front_skirt", 1.8)
    seam = next(s for s in full.seams if s.name == "yoke")
    ratio = full.length(seam.a) / full.length(seam.b)
    assert seam.kind == "gathered"
    assert ratio == pytest.approx(1.8, abs=0.01)
    assert ratio == pytest.approx(seam.ratio, abs=1e-6)
    with pytest.raises(GarmentError, match="cannot be sewn"):
        gathered(yoked, "yoke", "front_skirt", 6.0)


# ---- cutting in two ----------------------------------------------------------------------------------


def across(piece: Piece, y: float):
    """A level cut through the piece at a height."""
    row = polygon(piece).intersection(shapely.LineString([(-300, y), (300, y)]))
    (left, _), (right, _) = row.coords[0], row.coords[-1]
    return line(Point(left, y), Point(right, y))


@pytest.mark.parametrize("draft", PATTERNS, ids=lambda draft: draft.name)
def test_a_cut_loses_no_cloth_and_can_be_sewn_together_again(draft):
    """On the largest piece of every draft, halfway down what has no dart."""
    garment = draft.make(WOMEN[0])
    piece = max(garment.pieces, key=lambda p: p.area_cm2())
    _, low, _, high = polygon(piece).bounds
    parts = (("upper_part", "Upper part"), ("lower_part", "Lower part"))
    found = None
    for share in (0.3, 0.4, 0.25, 0.5):
        try:
            cut = across(piece, low + (high - low) * share)
            found = cut_in_two(garment, piece.name, cut, parts, seam="yoke", title="Yoke seam")
            break
        except WorkroomError:
            continue
    assert found is not None, f"nowhere could '{piece.name}' be cut"
    areas = sum(found.piece(name).area_cm2() for name, _ in parts)
    assert areas == pytest.approx(piece.area_cm2(), abs=0.05)
    assert check(found) == ()
    steps = order_of_work(found, LINEN, Sewer())
    assert any("yoke" in step.title.lower() for step in steps)


def test_a_cut_across_a_pocket_or_to_nowhere_is_refused():
    garment = drawn("four_panel_skirt", 0, pockets="patch")
    parts = (("a", "A"), ("b", "B"))
    piece = garment.piece("front_panel")
    top = piece.mark("pocket_place").curve.bounds()
    with pytest.raises(GarmentError, match="crosses 'pocket place'"):
        cut_in_two(garment, "front_panel", across(piece, (top[1] + top[3]) / 2), parts, seam="s", title="S")
    with pytest.raises(GarmentError, match="from the edge"):
        cut_in_two(garment, "front_panel", line(Point(0, -5), Point(2, -9)), parts, seam="s", title="S")


# ---- left and right ----------------------------------------------------------------------------------


@pytest.mark.parametrize("draft", PATTERNS, ids=lambda draft: draft.name)
def test_told_apart_left_and_right_hold_every_rule_and_need_as_much_cloth(draft):
    garment = draft.make(WOMEN[1])
    single = apart(garment)
    assert [str(fault) for fault in check(single)] == [str(fault) for fault in check(garment)]
    pairs = {piece.name for piece in single.pieces if piece.cutting != "single"}
    assert pairs <= {"left_pocket_bag", "right_pocket_bag"}, "only the halves of one pocket still pair"

    def cloth(g: Garment) -> float:
        return sum(p.area_cm2() * p.copies * (2 if p.cutting == "on fold" else 1) for p in g.pieces)

    assert cloth(single) == pytest.approx(cloth(garment), rel=1e-6)


def test_one_hip_lower_gives_two_different_sides_that_still_meet_in_the_middle():
    single = apart(SKIRT.make(WOMEN[2]))
    tilted = wedged(single, ["left_front_panel", "left_back_panel"], "hip", 1.5, at="side_seam")

    def side(g: Garment, name: str) -> float:
        return g.piece(name).edge("side_seam").curve.length()

    for name in ("left_front_panel", "left_back_panel"):
        assert side(tilted, name) - side(single, name) == pytest.approx(1.5, abs=1e-3)
    assert tilted.piece("right_front_panel").outline() == single.piece("right_front_panel").outline()
    centre = [tilted.piece(f"{hand}_front_panel").edge("centre").curve.length() for hand in ("left", "right")]
    assert centre[0] == pytest.approx(centre[1], abs=1e-3)


def test_sides_that_would_not_meet_in_the_middle_are_refused():
    body = WOMEN[2]
    longer = body.with_measures(crotch_length_total=body["crotch_length_total"] + 3)
    with pytest.raises(GarmentError, match="would differ"):
        of_two(TROUSERS.make(body), TROUSERS.make(longer))


TOLD_APART: tuple[tuple[str, dict[str, float | str]], ...] = (
    ("pull_on_trousers", {}),
    ("pull_on_trousers", {"pockets": "in-seam"}),
    ("jogger", {}),
    ("four_panel_skirt", {"pockets": "side seam"}),
    ("circle_skirt", {"pockets": "side seam"}),
    ("sweatshirt", {}),
    ("sweatshirt", {"neck": "neckband", "pocket": "none"}),
    ("tiered_skirt", {"tiers": "four"}),
    ("raglan_pullover", {"sleeve_end": "elastic", "neck": "elastic"}),
    ("darted_shift", {}),
    ("button_front_shirt", {}),
)


@pytest.mark.parametrize(("name", "wish"), TOLD_APART, ids=lambda v: v if isinstance(v, str) else "")
def test_the_apart_garment_can_be_sewn_in_an_order_that_is_proved(name: str, wish: dict[str, float | str]):
    garment = apart(drawn(name, **wish))
    assert [str(fault) for fault in check(garment)] == []
    steps = order_of_work(garment, LINEN, Sewer())
    assert [str(fault) for fault in check_steps(garment, steps, LINEN)] == []


def test_told_apart_each_pocket_keeps_its_own_bag_whose_halves_pair():
    garment = apart(drawn("four_panel_skirt", pockets="side seam"))
    for hand, other in (("left", "right"), ("right", "left")):
        bag = garment.piece(f"{hand}_pocket_bag")
        assert (bag.cutting, bag.copies) == ("pair", 2)
        for seam in garment.seams:
            pieces = {run.piece for run in seam.runs}
            assert not (bag.name in pieces and any(name.startswith(other) for name in pieces)), seam.title


def test_told_apart_a_pocket_across_the_front_is_one_seam_from_side_to_side():
    garment = apart(drawn("sweatshirt"))
    seam = garment.seam("pocket_low")
    assert seam.times == 1
    assert [run.line for run in seam.a] == ["right_side", "right_low", "left_low", "left_side"]
    pocket = garment.piece("front_pocket")
    ends = [curve.reversed() if run.backwards else curve for run in seam.a for curve in [pocket.line(run.line)]]
    for one, following in pairwise(ends):
        assert one.end.distance(following.start) < 1e-6, "the needle runs on"


def test_told_apart_either_leg_and_sleeve_keeps_its_promised_girth():
    for name, girth in (("pull_on_trousers", "thigh"), ("button_front_shirt", "upper_arm")):
        whole = drawn(name)
        single = apart(whole)
        told = {level.name: single.round(level.runs) for level in single.levels}
        old = next(whole.round(level.runs) for level in whole.levels if level.name == girth)
        assert told[girth] == pytest.approx(old) == told[f"right_{girth}"]


# ---- figures -----------------------------------------------------------------------------------------


def test_a_full_seat_lengthens_the_crotch_by_what_is_asked():
    body = replace(WOMEN[3])
    before = TROUSERS.make(body)
    after = figured(TROUSERS, body, {}, {"seat": 2.0})

    def crotch(g: Garment) -> float:
        return sum(g.piece(name).edge("crotch").curve.length() for name in ("front_leg", "back_leg"))

    assert crotch(after) - crotch(before) == pytest.approx(2.0, abs=0.15)
    assert check(after) == ()
    assert any("full seat, 2 cm" in note.text for note in after.notes)
    assert any("crotch" in note.text and "+" in note.text for note in after.notes)


def test_a_figure_change_the_draft_cannot_show_is_refused():
    with pytest.raises(ChoiceError, match="changes nothing"):
        figured(SKIRT, WOMEN[0], {}, {"shoulder_slope": 4.0})
    with pytest.raises(ChoiceError, match="out of range"):
        figured(TROUSERS, WOMEN[0], {}, {"seat": 40.0})


# ---- darts -------------------------------------------------------------------------------------------


@pytest.mark.parametrize("body", WOMEN, ids=lambda body: body.name)
def test_a_dart_let_out_leaves_its_width_in_the_seam(body):
    before = DARTED_SHIFT.make(body)
    darts = before.piece("front").darts
    if not darts:  # no cup, no dart
        with pytest.raises(GarmentError, match="has no dart"):
            dart_let_out(before, "front", "bust_dart")
        return
    width = darts[0].first_leg.distance(darts[0].second_leg)
    after = dart_let_out(before, "front", darts[0].name)
    assert after.piece("front").darts == darts[1:]
    seam = next(s for s in after.seams if any(run.line == darts[0].edge for run in s.runs))
    assert seam.kind in ("eased", "gathered")
    assert after.length(seam.a) - after.length(seam.b) == pytest.approx(width, abs=0.06)


SHAPED = {"length": "dress", "waist": "shaped by darts"}


def waist_darts(piece: Piece) -> list[Dart]:
    return [dart for dart in piece.darts if dart.other_tip is not None]


@pytest.mark.parametrize("body", WOMEN[:3], ids=lambda body: body.name)
def test_a_waist_dart_pointed_at_both_ends_is_mirrored_moved_and_never_cut_through(body):
    garment = DARTED_SHIFT.make(body, SHAPED)
    darts = waist_darts(garment.piece("front"))
    assert darts
    single = apart(garment)
    assert check(single) == ()
    whole = single.piece("front")
    assert len(waist_darts(whole)) == 2 * len(darts)
    for dart in waist_darts(whole):
        assert dart.other_tip is not None
        assert abs(dart.other_tip.x) == pytest.approx(abs(dart.tip.x), abs=1e-6)
        assert dart.other_tip.x * dart.tip.x > 0, "one end lies on the other half"
    longer = lengthened(garment, "hip", 3.0)
    before, after = darts[0], waist_darts(longer.piece("front"))[0]
    assert before.other_tip is not None
    assert after.other_tip is not None
    assert after.leg_length == pytest.approx(before.leg_length, abs=1e-6)
    middle = (before.tip.y + before.first_leg.y) / 2
    parts = (("upper_front", "Upper front"), ("lower_front", "Lower front"))
    with pytest.raises(GarmentError, match="crosses the dart"):
        cut_in_two(garment, "front", across(garment.piece("front"), middle), parts, seam="s", title="S")


@pytest.mark.parametrize(
    ("entries", "says"),
    [
        ({"at": "knee", "by": 0.0}, "no amount"),
        ({"at": "knee", "by": float("nan")}, "no amount"),
        ({"at": "knee", "by": float("inf")}, "no amount"),
        ({"at": "knee", "by": 300.0}, "no amount"),
        ({"at": "knee", "by": 3.0, "side": "left"}, "no side"),
    ],
)
def test_a_change_nobody_can_mean_is_refused_with_what_is_possible(entries, says: str):
    with pytest.raises(ChoiceError, match=says) as refusal:
        change_of("lengthen", entries)
    assert refusal.value.mend


@pytest.mark.parametrize("body", WOMEN[:3], ids=lambda body: body.name)
def test_a_wedge_in_what_hangs_from_the_shoulders_leaves_the_shoulders(body):
    before = DARTED_SHIFT.make(body, {"length": "dress"})
    after = wedged(before, "back", "waist", -1.0, at="centre")  # a hollow back
    old, new = before.piece("back"), after.piece("back")
    for edge in ("neck", "shoulder", "armhole"):
        assert new.edge(edge).curve.length() == pytest.approx(old.edge(edge).curve.length(), abs=0.01)
    assert new.edge("centre").curve.length() - old.edge("centre").curve.length() == pytest.approx(
        -1.0, abs=0.01
    )
    assert new.edge("side").curve.length() == pytest.approx(old.edge("side").curve.length(), abs=0.01)


def test_notches_stand_exactly_together_where_front_and_back_lean_unlike():
    """The knee notch lies in the stretch that is drawn out, and the back inseam leans more than the front's."""
    before = drawn("pull_on_trousers", 2, leg="wide")
    after = lengthened(before, "knee", 6.0, side="above")
    for name in ("inseam", "side_seam"):
        seam = after.seam(name)
        a, b = (walked(after, runs) for runs in (seam.a, seam.b))
        assert a.keys() == b.keys() != set()
        for sign, (at, *_) in a.items():
            assert b[sign][0] == pytest.approx(at, abs=1e-6), (name, sign)
