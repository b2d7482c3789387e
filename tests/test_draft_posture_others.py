"""Backs and shoulders as they are held, in makes whose shoulders lie elsewhere: raglan, cut-on sleeve, dropped
shoulder, robe. And what is said where a make has no shoulder at all."""

from __future__ import annotations

import math

import pytest
import shapely

from clothwise.alter import FIGURE_CHANGES, figured, of_two
from clothwise.body import sample
from clothwise.curve import Curve, Point
from clothwise.draft import HouseDraft, pattern
from clothwise.draft.level import crossing
from clothwise.errors import ChoiceError
from clothwise.garment import Garment
from clothwise.garment.check import check

RAGLAN, TEE = pattern("raglan_pullover"), pattern("cut_on_sleeve_tee")
SWEATSHIRT, ROBE = pattern("sweatshirt"), pattern("robe")
BODIES = (*sample("woman", 2, seed=5), *sample("man", 1, seed=6), *sample("girl", 1, seed=9))
SHOULDERED = ((TEE, {}), (TEE, {"sleeve": "cap"}), (TEE, {"sleeve": "long"}), (SWEATSHIRT, {}), (ROBE, {}))
ALL = ((RAGLAN, {}), (RAGLAN, {"shoulder": "dart", "back": "buttons"}), *SHOULDERED)


def named(case: object) -> str:
    return getattr(case, "name", None) or str(case)


def share(body, least: float) -> float:
    """So much of a change as an adult has, of a child in proportion."""
    return least * (0.6 if body.child else 1.0)


def top(garment: Garment, piece: str) -> float:
    return max(p.y for p in garment.piece(piece).polygon(tolerance=0.01))


def area(garment: Garment, *pieces: str) -> float:
    return sum(garment.piece(name).area_cm2() for name in pieces)


def neck(garment: Garment, piece: str) -> Curve:
    """The neckline; of a robe's front the edge that runs on from it to the hem."""
    return next(edge.curve for edge in garment.piece(piece) if edge.name in ("neck", "front_edge"))


def slope_at_end_deg(garment: Garment, piece: str) -> float:
    """Of the shoulder seam as a whole, from the neck to where it ends."""
    seam = garment.piece(piece).edge("shoulder").curve
    neck, end = sorted((seam.start, seam.end), key=lambda p: abs(p.x))
    return math.degrees(math.atan2(neck.y - end.y, abs(end.x - neck.x)))


@pytest.mark.parametrize("body", BODIES, ids=named)
@pytest.mark.parametrize(("draft", "wish"), ALL, ids=named)
def test_a_rounded_back_is_longer_at_its_centre_and_leaves_the_front(draft: HouseDraft, wish, body):
    by = share(body, 1.5)
    before, after = draft.make(body, wish), figured(draft, body, wish, {"round_back": by})
    assert top(after, "back") - top(before, "back") == pytest.approx(by, abs=0.05)
    old, new = (shapely.Polygon(g.piece("front").polygon(tolerance=0.01)) for g in (before, after))
    below = shapely.box(-200, -200, 200, neck(before, "front").end.y)
    moved = old.intersection(below).symmetric_difference(new.intersection(below))
    assert moved.area < 0.02 * old.area  # the armhole's depth may follow the sleeve; nothing else
    assert check(after) == ()


@pytest.mark.parametrize("body", BODIES, ids=named)
@pytest.mark.parametrize(("draft", "wish"), SHOULDERED, ids=named)
def test_shoulders_held_forward_turn_the_seam_about_the_neck(draft: HouseDraft, wish, body):
    by = share(body, 1.2)
    before, after = draft.make(body, wish), figured(draft, body, wish, {"forward_shoulder": by})
    front, back = (slope_at_end_deg(after, n) - slope_at_end_deg(before, n) for n in ("front", "back"))
    assert front > (0.3 if wish.get("sleeve") == "long" else 0.8)  # there the seam runs on to the wrist
    assert front == pytest.approx(-back, abs=0.35)
    for name in ("front", "back"):
        assert neck(after, name).length() == pytest.approx(neck(before, name).length(), abs=1e-6)
    assert area(after, "front") < area(before, "front")
    assert area(after, "back") > area(before, "back")
    assert check(after) == ()


@pytest.mark.parametrize("body", BODIES, ids=named)
@pytest.mark.parametrize("wish", [{}, {"shoulder": "dart", "back": "buttons"}], ids=named)
def test_a_raglan_brings_the_line_down_the_sleeve_forward(wish, body):
    """At the shoulder point the line over the arm, on which a dart lies, has less of the sleeve before it, as
    much more behind it."""
    by = share(body, 1.2)
    before, after = RAGLAN.make(body, wish), figured(RAGLAN, body, wish, {"forward_shoulder": by})

    def beside(garment: Garment, raglan: str) -> float:
        """From the line over the arm, x = 0, to the raglan at the height of the shoulder point."""
        return abs(crossing(garment.piece("sleeve").edge(raglan).curve, 0.0).x)

    front, back = (beside(after, n) - beside(before, n) for n in ("front_raglan", "back_raglan"))
    assert -by <= front < -0.6 * by
    assert 0.5 * by < back <= by
    assert check(after) == ()


@pytest.mark.parametrize("body", BODIES, ids=named)
@pytest.mark.parametrize(("draft", "wish"), ALL, ids=named)
def test_one_shoulder_lower_leaves_the_other_side_and_the_middle(draft: HouseDraft, wish, body):
    level, low = draft.make(body, wish), figured(draft, body, wish, {"low_shoulder": share(body, 0.8)})
    both = of_two(low, level)
    assert [str(fault) for fault in check(both)] == []
    if draft is not RAGLAN:
        assert slope_at_end_deg(low, "front") > slope_at_end_deg(level, "front") + 0.2
    assert neck(low, "front").end == neck(level, "front").end
    left, right = halves(both)
    assert shapely.Polygon(left).area != pytest.approx(shapely.Polygon(right).area, abs=0.5)


def halves(garment: Garment) -> tuple[list[Point], list[Point]]:
    """Left and right of the back, or of the sleeve where both backs are alike."""
    for stem in ("sleeve", "back"):
        names = {p.name for p in garment.pieces}
        if {f"left_{stem}", f"right_{stem}"} <= names:
            return tuple(garment.piece(f"{h}_{stem}").polygon(tolerance=0.01) for h in ("left", "right"))
    whole = garment.piece("back").polygon(tolerance=0.01)
    return [p for p in whole if p.x >= 0], [p for p in whole if p.x <= 0]


@pytest.mark.parametrize("draft", [pattern("bias_camisole"), pattern("apron")], ids=named)
@pytest.mark.parametrize("change", ["round_back", "forward_shoulder", "low_shoulder", "upper_arm"])
def test_a_make_on_straps_says_what_to_do_instead(draft: HouseDraft, change: str):
    with pytest.raises(ChoiceError, match="not drawn into this make") as refusal:
        figured(draft, BODIES[0], {}, {change: 1.0})
    assert refusal.value.mend.endswith(".")
    offered = {one.name for one in FIGURE_CHANGES if one.shows_in(draft)}
    assert change not in offered


def test_a_fuller_bust_widens_a_knit_and_is_told_at_its_level():
    after = figured(TEE, BODIES[0], {}, {"bust": 4.0})
    assert any("bust line +1.0" in note.text for note in after.notes)
