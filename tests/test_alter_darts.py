"""Darts of drawn pieces moved and parted: pivoted as on paper, so that nothing but the dart changes."""

from __future__ import annotations

import math

import pytest
import shapely

from clothwise.alter import change_of, changed, dart_let_out, dart_moved, dart_parted
from clothwise.body import sample
from clothwise.cloth import Cloth
from clothwise.draft import pattern
from clothwise.errors import ChoiceError, GarmentError
from clothwise.garment import Dart, Garment, Piece
from clothwise.garment.check import check
from clothwise.sew import Sewer, order_of_work
from clothwise.sew.step_check import check_steps

LINEN = Cloth("Linen", 140, 250, kind="linen")
WOMEN = sorted(sample("woman", 30, seed=3), key=lambda body: body["bust_girth"] - body["high_bust_girth"])[
    12::6
]
FLAT = {"waist": "flat front, elastic at the back", "front_darts": "one each side"}
SEAMED = {"waist": "shaped, with a waist seam"}
# draft, choices, piece, edge, share of it
WAYS = (
    ("darted_shift", {}, "front", "shoulder", 0.5),
    ("darted_shift", {}, "front", "neck", 0.5),
    ("darted_shift", {"dart": "French"}, "front", "armhole", 0.4),
    ("darted_shift", SEAMED, "front", "shoulder", 0.5),
    ("button_front_shirt", {}, "front", "shoulder", 0.4),
    ("button_front_shirt", {"dart": "shoulder"}, "front", "side", 0.8),
    ("a_line_skirt", {}, "back_panel", "side_seam", 0.1),
    ("a_line_skirt", {}, "back_panel", "waist_2", 0.5),
    ("pull_on_trousers", FLAT, "front_leg", "side_seam", 0.9),
)


def named(case: object) -> str:
    return getattr(case, "name", None) or str(case)


def darts_of(garment: Garment, piece: str) -> list[Dart]:
    return [dart for dart in garment.piece(piece).darts if dart.edge]


def with_dart(draft: str, wish, body, piece: str) -> tuple[Garment, Dart]:
    garment = pattern(draft).make(body, wish)
    return garment, darts_of(garment, piece)[0]


def for_whom(ways):
    """Each way with each body that needs a dart there: a flat figure gets none."""
    return [
        (*way, body) for way in ways for body in WOMEN if darts_of(pattern(way[0]).make(body, way[1]), way[2])
    ]


MOVED = for_whom(WAYS)
LET_OUT = for_whom(sorted({w[0]: w[:3] for w in WAYS}.values(), key=str))


def spread_deg(piece: Piece, dart: Dart) -> float:
    """The angle the dart takes out, seen from the bust point if it has one."""
    marks = [mark.curve for mark in piece.marks if mark.name == "bust_point"]
    about = marks[0].at_length(marks[0].length() / 2) if marks else dart.tip
    one, other = about.to(dart.first_leg), about.to(dart.second_leg)
    return math.degrees(math.atan2(one.cross(other), one.dot(other)))


def sewn_shut(piece: Piece) -> float:
    """Area of the piece less what its darts take out: what a pivot cannot change. [cm2]"""
    return piece.area_cm2() - sum(shapely.Polygon(dart.drawn).area for dart in piece.darts)


def sewn_lengths(garment: Garment) -> dict[str, tuple[float, float]]:
    return {seam.name: (garment.length(seam.a), garment.length(seam.b)) for seam in garment.seams}


def test_hardly_a_body_goes_without():
    """What is asked below is asked of nearly every way and body."""
    assert len(MOVED) >= 0.85 * len(WAYS) * len(WOMEN)
    assert {case[0] for case in LET_OUT} == {way[0] for way in WAYS}


@pytest.mark.parametrize(("draft", "wish", "piece", "to", "share", "body"), MOVED, ids=named)
def test_a_moved_dart_takes_out_as_much_and_every_seam_is_as_long(draft, wish, piece, to, share, body):
    before, dart = with_dart(draft, wish, body, piece)
    after = dart_moved(before, piece, dart.name, to, share)
    assert check(after) == ()
    new = next(d for d in after.piece(piece).darts if d.name == dart.name)
    assert spread_deg(after.piece(piece), new) == pytest.approx(spread_deg(before.piece(piece), dart), abs=0.3)
    assert new.tip.distance(new.first_leg) == pytest.approx(new.tip.distance(new.second_leg), abs=1e-6)
    was, now = sewn_lengths(before), sewn_lengths(after)
    for name, lengths in was.items():
        assert now[name] == pytest.approx(lengths, abs=0.05), name
    assert sewn_shut(after.piece(piece)) == pytest.approx(sewn_shut(before.piece(piece)), rel=0.012)
    assert any(
        "is moved to the" in note.text and f"{to.replace('_', ' ')}," in note.text for note in after.notes
    )


@pytest.mark.parametrize(
    ("draft", "wish", "piece", "to", "share", "body"), for_whom(WAYS[:3] + WAYS[4:5]), ids=named
)
def test_a_parted_dart_takes_out_half_at_either_place(draft, wish, piece, to, share, body):
    before, dart = with_dart(draft, wish, body, piece)
    after = dart_parted(before, piece, dart.name, to, share)
    assert check(after) == ()
    whole = spread_deg(before.piece(piece), dart)
    halves = [spread_deg(after.piece(piece), d) for d in after.piece(piece).darts]
    assert len(halves) == len(before.piece(piece).darts) + 1
    for half in halves:
        assert half == pytest.approx(whole / 2, abs=0.4)
    assert any("parted in two" in note.text for note in after.notes)


@pytest.mark.parametrize("body", WOMEN, ids=named)
def test_moved_there_and_back_the_piece_is_what_it_was(body):
    before, dart = with_dart("darted_shift", {}, body, "front")
    there = dart_moved(before, "front", dart.name, "shoulder")
    lower, upper = there.piece("front").edge("side_lower").curve, there.piece("front").edge("side_upper").curve
    assert lower.end == upper.start
    assert lower.end_tangent.dot(upper.start_tangent) > math.cos(math.radians(0.1))  # shut, the side runs on
    with_old = pattern("darted_shift").make(body, {"dart": "shoulder"})  # the draft's own way to the same place
    one, other = (shapely.Polygon(g.piece("front").polygon(tolerance=0.01)) for g in (there, with_old))
    assert one.symmetric_difference(other).area < 0.01 * one.area


@pytest.mark.parametrize(("draft", "wish", "piece", "body"), LET_OUT, ids=named)
def test_a_dart_is_turned_to_ease_or_gathers_and_what_is_left_can_be_sewn(draft, wish, piece, body):
    before, dart = with_dart(draft, wish, body, piece)
    after = dart_let_out(before, piece, dart.name)
    assert check(after) == ()
    assert len(after.piece(piece).darts) == len(before.piece(piece).darts) - 1
    assert any("eased" in n.text or "gathered" in n.text or "in the casing" in n.text for n in after.notes)
    steps = order_of_work(after, LINEN, Sewer())
    assert [str(fault) for fault in check_steps(after, steps, LINEN)] == []


@pytest.mark.parametrize("more", [0.0, 4.0])
def test_a_wide_dart_let_out_is_told_to_show(more):
    body = WOMEN[0].with_measures(bust_girth=WOMEN[0]["bust_girth"] + more)
    before, dart = with_dart("darted_shift", {}, body, "front")
    wide = before.piece("front").edge(dart.edge).curve.length()
    after = dart_let_out(before, "front", dart.name)
    assert any("shows when it is let out" in note.text for note in after.notes) == (wide > 3.8)
    assert (wide > 3.8) == (more > 0), "both are tried"


def test_a_moved_dart_can_be_sewn_in_an_order_that_is_proved():
    before, dart = with_dart("button_front_shirt", {}, WOMEN[-1], "front")
    after = dart_moved(before, "front", dart.name, "neck")
    steps = order_of_work(after, LINEN, Sewer())
    assert [str(fault) for fault in check_steps(after, steps, LINEN)] == []


@pytest.mark.parametrize(
    ("draft", "wish", "piece", "to", "share", "says"),
    [
        ("darted_shift", {}, "front", "hem", 0.5, "nothing is sewn"),
        ("darted_shift", {}, "front", "centre", 0.5, "nothing is sewn"),
        ("darted_shift", {}, "front", "shoulder", 0.01, "from a corner"),
        ("a_line_skirt", {}, "back_panel", "zip", 0.5, "nothing is sewn"),
        ("pull_on_trousers", FLAT, "front_leg", "inseam", 0.5, "a seam rather than a dart"),
    ],
)
def test_where_no_dart_can_begin_is_said(draft, wish, piece, to, share, says):
    before, dart = with_dart(draft, wish, WOMEN[-1] if draft != "a_line_skirt" else WOMEN[0], piece)
    with pytest.raises(GarmentError, match=says) as refusal:
        dart_moved(before, piece, dart.name, to, share)
    assert refusal.value.mend


def test_the_changes_are_asked_for_as_on_a_ticket():
    before, dart = with_dart("darted_shift", {}, WOMEN[-1], "front")
    asked = change_of("move dart", {"piece": "front", "dart": dart.name, "to": "shoulder", "share": 0.4})
    assert changed(before, [asked]).piece("front").edge("shoulder_1")
    with pytest.raises(ChoiceError, match="'to' is missing"):
        change_of("part dart", {"piece": "front", "dart": dart.name})
    with pytest.raises(GarmentError, match="has no dart 'tuck'"):
        changed(before, [change_of("move dart", {"piece": "front", "dart": "tuck", "to": "shoulder"})])
    with pytest.raises(GarmentError, match="no edge 'sholder'"):
        changed(before, [change_of("move dart", {"piece": "front", "dart": dart.name, "to": "sholder"})])
