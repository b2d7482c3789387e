"""Alterations as random ones found them wanting: told bounds, orders of work, sides apart, flare to the mm."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from clothwise.alter import change_of, changed, wedged
from clothwise.alter.change import possible
from clothwise.body import sample
from clothwise.cloth import Cloth
from clothwise.curve import Cubic, Curve
from clothwise.draft import pattern
from clothwise.errors import GarmentError
from clothwise.garment import Garment, Mark, Piece
from clothwise.garment.check import check
from clothwise.sew import Sewer, order_of_work
from clothwise.sew.step_check import check_steps

LINEN = Cloth("Linen", 140, 250, kind="linen")
WOMAN = sample("woman", 4, seed=32)[3]
GIRL = next(body for body in sample("girl", 8, seed=33) if 6 <= (body.age_years or 0) <= 12)
Asked = tuple[str, dict[str, float | str]]


def altered(name: str, wish: dict[str, float | str], *asked: Asked, body=WOMAN) -> Garment:
    return changed(pattern(name).make(body, wish), [change_of(what, entries) for what, entries in asked])


# ---- bounds that are told ----------------------------------------------------------------------------

TOO_MUCH: tuple[tuple[str, dict[str, float | str], str, dict[str, float | str]], ...] = (
    ("four_panel_skirt", {}, "lengthen", {"at": "hip", "by": -30.0, "side": "above"}),
    ("gathered_skirt", {}, "lengthen", {"at": "hip", "by": -15.0, "side": "above"}),
    ("darted_shift", {}, "move seam", {"seam": "side_seam", "piece": "front", "by": 9.0}),
    ("four_panel_skirt", {}, "flare", {"pieces": "front_panel,back_panel", "by": 90.0}),
    ("a_line_skirt", {}, "face hem", {"hem": "hem", "by": 80.0}),
    ("darted_shift", {"length": "dress"}, "pocket", {"piece": "back", "at": "hip", "by": 40.0}),
    ("a_line_skirt", {}, "line", {"seam": "waist", "by": 90.0}),
    ("pull_on_trousers", {}, "wedge", {"pieces": "back_leg", "at": "hip", "edge": "crotch", "by": 30.0}),
)


@pytest.mark.parametrize(
    ("name", "wish", "what", "entries"), TOO_MUCH, ids=lambda v: v if isinstance(v, str) else ""
)
def test_the_bound_that_a_refusal_tells_can_be_had(name: str, wish, what: str, entries):
    body = GIRL if what in ("lengthen", "move seam") else WOMAN
    garment = pattern(name).make(body, wish)
    with pytest.raises(GarmentError) as refusal:
        changed(garment, [change_of(what, entries)])
    told = re.search(r"Up to (-?[\d.]+) (?:cm|times as long) can be had", refusal.value.mend)
    assert told, refusal.value
    most = float(told[1])
    assert check(changed(garment, [change_of(what, {**entries, "by": most})])) == ()
    beyond = {**entries, "by": most * 1.1 + (0.3 if most > 0 else -0.3)}
    assert not possible(garment, change_of(what, beyond)), "the bound is told much too low"


def test_where_not_even_the_least_can_be_had_no_bound_is_told():
    with pytest.raises(GarmentError) as refusal:
        altered("darted_shift", {}, ("move seam", {"seam": "shoulder", "piece": "front", "by": 2.0}))
    assert "can be had" not in refusal.value.mend


def test_a_wedge_along_a_line_that_ends_where_it_began_is_refused():
    """It would be no wider at its wide end: once it was told as done."""
    garment = altered("darted_shift", {"length": "dress"})
    back = garment.piece("back")
    side = back.edge("side").curve
    ends = side.at_length(0.4 * side.length()), side.at_length(0.6 * side.length())
    bowed = Mark("bowed", "level", Curve((Cubic(ends[0], ends[0].left(5.0), ends[1].left(5.0), ends[1]),)))
    marked = replace(garment, pieces=tuple(with_mark(p, bowed) if p is back else p for p in garment.pieces))
    with pytest.raises(GarmentError, match="begins and ends on its edge"):
        wedged(marked, "back", "bowed", 1.0, at="side")


def with_mark(piece: Piece, mark: Mark) -> Piece:
    return replace(piece, marks=(*piece.marks, mark))


# ---- flare ---------------------------------------------------------------------------------------------


def hem_round(garment: Garment, names: list[str]) -> float:
    pieces = [garment.piece(name) for name in names]
    return sum(
        edge.curve.length() * piece.copies * (2 if piece.cutting == "on fold" else 1)
        for piece in pieces
        for edge in piece
        if edge.name == "hem"
    )


@pytest.mark.parametrize("by", [6.0, -5.0])
@pytest.mark.parametrize(
    ("name", "pieces"),
    [
        ("cut_on_sleeve_tee", ["front", "back"]),
        ("pyjama_bottoms", ["front_leg", "back_leg"]),
        ("four_panel_skirt", ["front_panel", "back_panel"]),
        ("robe", ["front", "back"]),
    ],
)
def test_flare_is_at_the_hem_what_was_asked_even_where_the_piece_is_widest_elsewhere(name, pieces, by: float):
    before = altered(name, {})
    after = changed(before, [change_of("flare", {"pieces": ",".join(pieces), "by": by})])
    assert hem_round(after, pieces) - hem_round(before, pieces) == pytest.approx(by, abs=0.05)
    said = next(note for note in after.notes if note.measure == "flare")
    assert ("of flare" if by > 0 else "taken out") in said.text


def test_a_hem_taken_in_to_a_point_is_refused_and_told_how_far_it_goes():
    with pytest.raises(GarmentError, match="taken out of the foot"):
        altered("gathered_skirt", {}, ("flare", {"pieces": "front_panel", "by": -60.0}))


# ---- fullness ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "wish", "seam", "piece"),
    [
        ("a_line_skirt", {}, "waist", "waistband"),
        ("jogger", {}, "cuffs", "ankle_cuff"),
        ("robe", {}, "band", "band"),
        ("darted_shift", {}, "neck", "front_facing"),
    ],
)
def test_nothing_is_pleated_or_gathered_on_a_band_cuff_or_facing(name, wish, seam: str, piece: str):
    for what, more in (("pleat", {"number": 2.0, "by": 1.0}), ("gather", {"by": 1.5})):
        with pytest.raises(GarmentError, match="lies flat"):
            altered(name, wish, (what, {"seam": seam, "piece": piece, **more}))


# ---- left and right apart ------------------------------------------------------------------------------


def test_told_apart_is_told_and_not_done_twice():
    once = altered("jogger", {}, ("cut singly", {}))
    assert any("cut singly" in note.text for note in once.notes)
    with pytest.raises(GarmentError, match="apart already"):
        changed(once, [change_of("cut singly", {})])


ONE_POCKET: Asked = ("pocket", {"piece": "left_front_panel", "at": "hip", "by": 11.0})
APART: tuple[tuple[str, dict[str, float | str], tuple[Asked, ...]], ...] = (
    ("darted_shift", {"length": "dress", "side_slit": 30.0, "back_opening": "slit"}, ()),  # both slits at once
    ("cut_on_sleeve_tee", {}, (("line", {"seam": "neckband_seam", "by": 1.0}),)),
    ("sweatshirt", {}, (("split", {"piece": "front_pocket", "share": 0.25}),)),
)


@pytest.mark.parametrize(("name", "wish", "asked"), APART, ids=lambda v: v if isinstance(v, str) else "")
def test_what_was_altered_before_can_be_told_apart_and_sewn(name: str, wish, asked: tuple[Asked, ...]):
    garment = altered(name, wish, *asked, ("cut singly", {}))
    steps = order_of_work(garment, LINEN, Sewer())
    assert [str(fault) for fault in check_steps(garment, steps, LINEN)] == []
    assert not any(piece.cutting == "on fold" for piece in garment.pieces)


def test_a_pocket_on_one_side_only_is_one_pocket():
    after = altered("four_panel_skirt", {}, ("cut singly", {}), ONE_POCKET)
    own = after.piece("patch_pocket")
    assert (own.copies, after.seam("pockets").times) == (1, 1)
    steps = order_of_work(after, LINEN, Sewer())
    assert [str(fault) for fault in check_steps(after, steps, LINEN)] == []
    with pytest.raises(GarmentError, match="patch pockets already"):
        changed(after, [change_of(*ONE_POCKET)])


# ---- orders of work ------------------------------------------------------------------------------------

IN_ORDER: tuple[tuple[str, dict[str, float | str], tuple[Asked, ...]], ...] = (
    (
        "four_panel_skirt",
        {"pockets": "side seam"},
        (("yoke", {"piece": "back_panel", "at": "hip", "below": -6.0}),),
    ),
    (
        "four_panel_skirt",
        {"pockets": "side seam"},
        (("yoke", {"piece": "front_panel", "at": "hip", "below": -6.0}),),
    ),
    (
        "gathered_skirt",
        {"pockets": "side seam"},
        (("yoke", {"piece": "back_panel", "at": "hip", "below": -6.0}),),
    ),
    ("tiered_skirt", {}, (("split", {"piece": "tier_1", "share": 0.33}),)),
    ("tiered_skirt", {}, (("yoke", {"piece": "tier_1", "at": "adjust_length"}),)),
    ("tiered_skirt", {}, (("yoke", {"piece": "tier_2", "at": "adjust_length"}),)),
    (
        "tiered_skirt",
        {},
        (
            ("split", {"piece": "tier_3", "share": 0.5}),
            ("yoke", {"piece": "side_tier_3", "at": "adjust_length"}),
        ),
    ),
)


@pytest.mark.parametrize(("name", "wish", "asked"), IN_ORDER, ids=lambda v: v if isinstance(v, str) else "")
def test_the_altered_garment_can_be_sewn_in_a_proved_order(name: str, wish, asked: tuple[Asked, ...]):
    garment = altered(name, wish, *asked)
    assert [str(fault) for fault in check(garment)] == []
    steps = order_of_work(garment, LINEN, Sewer())
    assert [str(fault) for fault in check_steps(garment, steps, LINEN)] == []
