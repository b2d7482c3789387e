"""What is drawn on to a garment or moved on it: facings, linings, pockets, stands, pleats, yokes, seams."""

from __future__ import annotations

from collections.abc import Callable

import pytest
import shapely

from clothwise.alter import (
    buttoned,
    change_of,
    changed,
    faced,
    lined,
    panelled,
    pleated,
    pocketed,
    seam_moved,
    yoked,
)
from clothwise.body import sample
from clothwise.cli.drafting import change_typed
from clothwise.cloth import Cloth
from clothwise.draft import pattern
from clothwise.errors import ChoiceError, GarmentError
from clothwise.garment import Garment, Piece
from clothwise.garment.check import check
from clothwise.sew import Sewer, order_of_work
from clothwise.sew.step_check import check_steps

WOMEN = sample("woman", 3, seed=5)
LINEN = Cloth("Linen", 140, 250, kind="linen")


def drawn(name: str, body=WOMEN[0], **wish: float | str) -> Garment:
    return pattern(name).make(body, wish)


def shape(piece: Piece) -> shapely.Polygon:
    return shapely.Polygon(piece.polygon(tolerance=0.01))


def length(garment: Garment, piece: str, edge: str) -> float:
    return garment.piece(piece).edge(edge).curve.length()


CHANGES: dict[str, tuple[str, dict[str, float | str], Callable[[Garment], Garment]]] = {
    "faced skirt with a slit": ("four_panel_skirt", {}, lambda g: faced(g, "hem", 5.0)),
    "faced circle": ("circle_skirt", {}, lambda g: faced(g, "hem", 4.0)),
    "faced dress": ("darted_shift", {"length": "dress"}, lambda g: faced(g, "hem", 5.0)),
    "lined skirt": ("a_line_skirt", {}, lambda g: lined(g, "waist", 2.0)),
    "lined circle": ("circle_skirt", {"waist": "band with zip"}, lambda g: lined(g, "waist", 3.0)),
    "pocket": ("darted_shift", {"length": "dress"}, lambda g: pocketed(g, "front", "hip", 13.0, 0.0)),
    "stand": ("darted_shift", {"sleeve": "short"}, lambda g: buttoned(g, "front")),
    "stand on a faced hem": (
        "darted_shift",
        {"length": "dress", "sleeve": "short"},
        lambda g: buttoned(faced(g, "hem", 5.0), "front"),
    ),
    "faced hem with a stand": ("darted_shift", {}, lambda g: faced(buttoned(g, "front"), "hem", 4.0)),
    "pleats": (
        "gathered_skirt",
        {"waist": "band with zip"},
        lambda g: pleated(g, "waist", "front_panel", 2, 3.0),
    ),
    "yoke": ("darted_shift", {}, lambda g: yoked(g, "back", "bust", -6.0)),
    "panel": ("darted_shift", {"length": "dress"}, lambda g: panelled(g, "back", 0.5)),
    "moved side seam": ("darted_shift", {}, lambda g: seam_moved(g, "side_seam", "front", 1.0)),
    "moved with its sleeve": ("button_front_shirt", {}, lambda g: seam_moved(g, "side_seam", "front", 0.8)),
}


@pytest.mark.parametrize("change", CHANGES)
def test_what_is_added_holds_every_rule_and_can_be_sewn_in_a_proved_order(change: str):
    name, wish, do = CHANGES[change]
    before = drawn(name, WOMEN[1], **wish)
    after = do(before)
    assert [str(fault) for fault in check(after)] == []
    steps = order_of_work(after, LINEN, Sewer())
    assert [str(fault) for fault in check_steps(after, steps, LINEN)] == []
    assert len(after.notes) > len(before.notes)


# ---- facing and lining -------------------------------------------------------------------------------


@pytest.mark.parametrize("body", WOMEN, ids=lambda body: body.name)
def test_a_hem_facing_is_the_strip_of_the_piece_along_its_hem(body):
    before = drawn("circle_skirt", body)
    after = faced(before, "hem", 4.0)
    for name in ("front_panel", "back_panel"):
        piece, facing = shape(before.piece(name)), shape(after.piece(f"{name}_hem_facing"))
        assert facing.difference(piece.buffer(0.02)).area < 0.01
        hem = shapely.LineString(before.piece(name).edge("hem").curve.flattened(tolerance=0.01))
        near = piece.intersection(hem.buffer(4.0, cap_style="flat"))
        assert facing.symmetric_difference(near).area < 0.02 * facing.area
    assert all(free.name != "hem" for free in after.free_edges)


@pytest.mark.parametrize("body", WOMEN, ids=lambda body: body.name)
def test_a_lining_is_as_wide_and_so_much_shorter_and_caught_at_the_waist(body):
    before = drawn("a_line_skirt", body)
    after = lined(before, "waist", 2.5)
    for name in ("front_panel", "back_panel"):
        lining = after.piece(f"lining_{name}")
        assert lining.layer == "lining"
        assert length(before, name, "side_seam") - lining.edge("side_seam").curve.length() == pytest.approx(
            2.5, abs=0.01
        )
    waist = after.seam("waist")
    assert len(waist.more) == len(before.seam("waist").more) + 1
    assert {run.piece for run in waist.more[-1]} == {"lining_front_panel", "lining_back_panel"}


def test_a_lining_beside_a_pocket_in_the_seam_is_refused():
    with pytest.raises(GarmentError, match="joined to nothing"):
        lined(drawn("a_line_skirt", pockets="side seam"), "waist", 2.0)
    with pytest.raises(GarmentError, match="Nothing with a hem"):
        lined(drawn("a_line_skirt"), "band_end", 2.0)


# ---- pocket and stand --------------------------------------------------------------------------------


def test_a_pocket_over_an_edge_is_refused():
    with pytest.raises(GarmentError, match="no room"):
        pocketed(drawn("darted_shift"), "front", "hip", 18.0, 30.0)


def test_a_buttoned_front_laps_by_its_stand_and_keeps_the_girth():
    before = drawn("darted_shift", sleeve="short")
    after = buttoned(before, "front")
    front = after.piece("front")
    assert front.cutting == "pair"
    left = min(p.x for p in front.polygon(tolerance=0.01))
    assert left == pytest.approx(-1.5)
    assert after.round(next(lv for lv in after.levels if lv.name == "bust").runs) == pytest.approx(
        before.round(next(lv for lv in before.levels if lv.name == "bust").runs)
    )
    n = sum(mark.kind == "button" for mark in front.marks)
    assert n == sum(mark.kind == "buttonhole" for mark in front.marks) > 3
    assert next(notion.count for notion in after.notions if notion.place == "stand") == n


@pytest.mark.parametrize("length", ["top", "dress"])
@pytest.mark.parametrize("body", WOMEN, ids=lambda body: body.name)
def test_a_faced_hem_reaches_the_front_edge_whichever_is_drawn_first(body, length: str):
    before = drawn("darted_shift", body, length=length)
    one, other = buttoned(faced(before, "hem", 5.0), "front"), faced(buttoned(before, "front"), "hem", 5.0)
    front, facing = one.piece("front"), one.piece("front_hem_facing")
    assert shape(facing).symmetric_difference(shape(other.piece("front_hem_facing"))).area < 0.5
    edge = front.edge("front_edge").curve
    assert min(p.x for p in facing.polygon(tolerance=0.01)) == pytest.approx(edge.end.x, abs=1e-6)
    assert facing.edge("front_end").curve.length() == pytest.approx(5.0, abs=0.1)
    assert one.length(one.seam("hem").a) == pytest.approx(one.length(one.seam("hem").b), abs=1e-6)
    stand = [step for step in order_of_work(one, LINEN, Sewer()) if step.name in ("stand", "hem")]
    assert [step.name for step in stand] == ["stand", "hem"], "turned back first, then faced across its end"


def test_a_hem_facing_too_narrow_to_stay_inside_is_refused():
    with pytest.raises(GarmentError, match="rolls out"):
        faced(drawn("a_line_skirt"), "hem", 3.0)


def test_what_cannot_be_buttoned_is_refused():
    with pytest.raises(GarmentError, match="level neck"):
        buttoned(drawn("darted_shift", neckline="V"), "front")
    with pytest.raises(GarmentError, match="open at the back"):
        buttoned(drawn("darted_shift", back_opening="zip"), "front")


# ---- pleats and seams --------------------------------------------------------------------------------


@pytest.mark.parametrize(("number", "depth"), [(1, 2.0), (3, 3.0)])
def test_pleats_take_up_twice_their_depth_and_are_marked_so_far_apart(number: int, depth: float):
    before = drawn("gathered_skirt", waist="band with zip")
    after = pleated(before, "waist", "front_panel", number, depth)
    more = length(after, "front_panel", "waist") - length(before, "front_panel", "waist")
    assert more == pytest.approx(2 * depth * number, abs=1e-3)
    marks = {m.name: m.curve for m in after.piece("front_panel").marks}
    for n in range(1, number + 1):
        apart = marks[f"pleat_{n}_fold"].start.distance(marks[f"pleat_{n}_meets"].start)
        assert apart == pytest.approx(2 * depth, abs=0.05)
    assert after.seam("waist").kind == "pleated"


def test_pleats_that_would_lie_over_each_other_are_refused():
    with pytest.raises(GarmentError, match="over each other"):
        pleated(drawn("gathered_skirt", waist="band with zip"), "waist", "front_panel", 12, 8.0)


@pytest.mark.parametrize(
    ("name", "wish", "seam", "piece"),
    [
        ("circle_skirt", {}, "side_seam", "back_panel"),
        ("jogger", {}, "pocket_bags", "pocket_bag"),
        ("four_panel_skirt", {}, "side_seam", "back_panel"),
    ],
)
def test_pleats_along_a_side_or_round_a_bag_are_refused(name, wish, seam: str, piece: str):
    with pytest.raises(GarmentError, match="does not run across"):
        pleated(drawn(name, **wish), seam, piece, 2, 1.5)


@pytest.mark.parametrize("body", WOMEN, ids=lambda body: body.name)
@pytest.mark.parametrize(
    ("name", "front", "back", "by"),
    [
        ("four_panel_skirt", "front_panel", "back_panel", 1.0),
        ("pull_on_trousers", "front_leg", "back_leg", -0.7),
        ("darted_shift", "front", "back", 0.8),
    ],
)
def test_a_seam_moved_takes_from_one_what_the_other_gains(body, name: str, front: str, back: str, by: float):
    before = drawn(name, body)
    after = seam_moved(before, "side_seam", front, by)
    for piece, change in ((front, -by), (back, by)):
        hem = length(after, piece, "hem") - length(before, piece, "hem")
        assert hem == pytest.approx(change, abs=0.03)
    for old, new in zip(before.levels, after.levels, strict=True):
        assert after.round(new.runs) == pytest.approx(before.round(old.runs), abs=0.05)
    side = [garment.length(garment.seam("side_seam").a) for garment in (before, after)]
    assert side[0] == pytest.approx(side[1], abs=1e-6)


def test_a_shoulder_is_no_seam_to_be_moved_aside():
    with pytest.raises(GarmentError, match="up and down"):
        seam_moved(drawn("darted_shift"), "shoulder", "front", 1.0)
    with pytest.raises(GarmentError, match="too narrow"):
        seam_moved(drawn("darted_shift"), "side_seam", "front", 9.0)


# ---- cut in two --------------------------------------------------------------------------------------


def test_a_yoke_and_a_panel_lose_no_cloth():
    before = drawn("darted_shift", length="dress")
    for after in (yoked(before, "back", "bust", -6.0), panelled(before, "back", 0.5)):
        new = [p for p in after.pieces if all(p.name != old.name for old in before.pieces)]
        folded = {True: 2, False: 1}
        cloth = sum(p.area_cm2() * p.copies * folded[p.cutting == "on fold"] for p in new)
        assert cloth == pytest.approx(2 * before.piece("back").area_cm2(), rel=1e-6)


# ---- as a ticket says it -----------------------------------------------------------------------------


def test_changes_are_done_one_after_another_as_a_ticket_writes_them():
    wishes = [
        ("yoke", {"piece": "back", "at": "bust", "below": -6.0}),
        ("pocket", {"piece": "front", "at": "hip", "by": 12.0}),
        ("button", {"piece": "front"}),
        ("face hem", {"hem": "hem", "by": 5.0}),
    ]
    garment = changed(drawn("darted_shift", length="dress"), [change_of(what, e) for what, e in wishes])
    names = {piece.name for piece in garment.pieces}
    assert {"upper_back", "lower_back", "patch_pocket", "front_hem_facing"} <= names
    assert check(garment) == ()


@pytest.mark.parametrize(
    ("what", "entries", "says"),
    [
        ("split", {"piece": "back", "share": 1.5}, "is no share"),
        ("pleat", {"seam": "waist", "piece": "front", "by": 2.0}, "'number' is missing"),
        ("pleat", {"seam": "waist", "piece": "front", "number": 2.5, "by": 2.0}, "Give a whole number"),
        ("growth tuck", {"hem": "hem", "number": float("nan"), "by": 2.0}, "Give a whole number"),
        ("move dart", {"piece": "front"}, "'dart' is missing"),
        ("turn dart", {"piece": "front"}, "is no change"),
    ],
)
def test_what_cannot_be_meant_is_said(what: str, entries: dict[str, float | str], says: str):
    with pytest.raises(ChoiceError, match=says):
        change_of(what, entries)


def test_a_change_is_typed_in_one_line():
    typed = change_typed("wedge pieces=front_panel, back_panel at=hip edge=side_seam by=-1.5")
    assert typed.what == "wedge"
    assert dict(typed.entries) == {
        "pieces": "front_panel, back_panel",
        "at": "hip",
        "edge": "side_seam",
        "by": -1.5,
    }
    assert change_typed("cut singly").what == "cut singly"
    with pytest.raises(ChoiceError, match="is no change"):
        change_typed("by=2")
