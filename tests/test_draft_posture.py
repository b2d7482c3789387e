"""Backs and shoulders as they are held: what each choice moves, and that nothing else moves."""

from __future__ import annotations

import math

import pytest

from clothwise.alter import figured, of_two
from clothwise.body import sample
from clothwise.curve import Point
from clothwise.draft import HouseDraft, pattern
from clothwise.errors import ChoiceError
from clothwise.garment import Garment
from clothwise.garment.check import check

SHIFT, SHIRT = pattern("darted_shift"), pattern("button_front_shirt")
BODIES = (*sample("woman", 4, seed=5), *sample("man", 2, seed=6))


def name_of(body) -> str:
    return body.name


def length(garment: Garment, piece: str, stem: str) -> float:
    edges = [e for e in garment.piece(piece) if e.name.split("_")[0] == stem and "mouth" not in e.name]
    return sum(edge.curve.length() for edge in edges)


def shoulder(garment: Garment, piece: str) -> tuple[Point, Point]:
    """From where the neck begins to the shoulder point."""
    edges = [e for e in garment.piece(piece) if e.name.split("_")[0] == "shoulder"]
    ends = [p for edge in edges for p in (edge.curve.start, edge.curve.end)]
    return min(ends, key=lambda p: abs(p.x)), max(ends, key=lambda p: abs(p.x))


def slope_deg(garment: Garment, piece: str) -> float:
    near, far = shoulder(garment, piece)
    return math.degrees(math.atan2(near.y - far.y, abs(far.x - near.x)))


@pytest.mark.parametrize("body", BODIES, ids=name_of)
@pytest.mark.parametrize("draft", [SHIFT, SHIRT], ids=lambda draft: draft.name)
def test_a_rounded_back_lengthens_the_back_and_leaves_the_front(draft: HouseDraft, body):
    before, after = draft.make(body), figured(draft, body, {}, {"round_back": 2.0})
    back = [length(g, "back", "centre") + length(g, "back", "opening") for g in (before, after)]
    tops = [max(p.y for p in g.piece("back").polygon(tolerance=0.01)) for g in (before, after)]
    assert tops[1] - tops[0] == pytest.approx(2.0, abs=0.01)
    assert back[1] > back[0]
    assert after.piece("front").outline() == before.piece("front").outline()
    assert length(after, "back", "side") == pytest.approx(length(before, "back", "side"))
    assert check(after) == ()


@pytest.mark.parametrize("body", BODIES, ids=name_of)
@pytest.mark.parametrize("draft", [SHIFT, SHIRT], ids=lambda draft: draft.name)
def test_shoulders_held_forward_bring_the_seam_forward_at_the_arm(draft: HouseDraft, body):
    before, after = draft.make(body), figured(draft, body, {}, {"forward_shoulder": 1.5})
    turned = math.degrees(math.asin(1.5 / body["shoulder_length"]))
    front, back = (slope_deg(after, name) - slope_deg(before, name) for name in ("front", "back"))
    assert front == pytest.approx(turned, abs=0.1)
    assert back == pytest.approx(-turned, abs=0.1)
    assert check(after) == ()


@pytest.mark.parametrize("body", BODIES, ids=name_of)
@pytest.mark.parametrize(
    ("draft", "wish"), [(SHIFT, {"sleeve": "long"}), (SHIFT, {}), (SHIRT, {})], ids=["sleeve", "none", "shirt"]
)
def test_one_shoulder_lower_leaves_neck_and_other_side_as_they_were(draft: HouseDraft, wish, body):
    level = draft.make(body, wish)
    low = figured(draft, body, wish, {"low_shoulder": 1.0})
    ends = [shoulder(garment, "front")[1].y for garment in (level, low)]
    assert 0.8 < ends[0] - ends[1] < 1.05  # as far out as the shoulder of this garment reaches
    assert length(low, "front", "neck") == pytest.approx(length(level, "front", "neck"), abs=1e-6)
    assert length(low, "back", "neck") == pytest.approx(length(level, "back", "neck"), abs=1e-6)
    assert length(level, "front", "side") > length(low, "front", "side")  # the armhole went down with it
    both = of_two(low, level)
    assert [str(fault) for fault in check(both)] == []
    if wish or draft is SHIRT:  # each sleeve keeps the ease of its own cap
        for hand, own in (("left", low), ("right", level)):
            assert both.seam(f"{hand}_sleeve").ease == own.seam("sleeve").ease
    shirt_front = draft is SHIRT
    left = both.piece("left_front" if shirt_front else "front")
    right = both.piece("right_front" if shirt_front else "front")

    def armhole(piece, hand: str) -> float:
        stem = "armhole" if shirt_front else f"{hand}_armhole"
        return sum(e.curve.length() for e in piece if e.name.startswith(stem) and "mouth" not in e.name)

    assert armhole(left, "left") == pytest.approx(length(low, "front", "armhole"))
    assert armhole(right, "right") == pytest.approx(length(level, "front", "armhole"))


@pytest.mark.parametrize("body", BODIES, ids=name_of)
def test_a_broader_measured_back_is_drawn_broader_unless_the_shoulder_ends_it(body):
    def back_width(garment: Garment) -> float:
        """Twice the narrowest the armhole comes to the centre."""
        armhole = [e for e in garment.piece("back") if e.name.startswith("armhole")]
        return 2 * min(abs(p.x) for e in armhole for p in e.curve.flattened(tolerance=0.01))

    narrow = body.with_measures(across_back=body["across_back"] - 3.0)
    usual, less = (back_width(SHIFT.make(one, {"sleeve": "long"})) for one in (body, narrow))
    assert usual - less > 0.4


def test_more_than_a_shoulder_can_take_is_refused_with_what_is_possible():
    child = min(sample("girl", 8, seed=3), key=lambda girl: girl["shoulder_length"])
    with pytest.raises(ChoiceError, match="is possible"):
        SHIFT.make(child, {"forward_shoulder": 2.0})
