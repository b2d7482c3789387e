"""The darted shift on bodies of the population: it goes on, fits, and its darts, facings and sleeves sew."""

from __future__ import annotations

import math
import re

import pytest

from clothwise.body import Body, sample
from clothwise.curve import Point
from clothwise.draft.shift import DARTED_SHIFT as SHIFT
from clothwise.errors import ChoiceError, DraftError, MeasureError
from clothwise.garment import Garment, Piece, Run
from clothwise.garment.check import check, greatest_move, same
from clothwise.garment.check.drawn import measured
from clothwise.paper.drawing import Stroke
from clothwise.paper.piece import Caption, draw_piece

WOMEN = sample("woman", 18, seed=61)
PEOPLE = (*WOMEN, *sample("man", 7, seed=62), *sample("girl", 6, seed=63), *sample("boy", 5, seed=64))
BODIES = tuple(body for body in PEOPLE if not body.child or (body.age_years or 0) >= 2)
SLEEVES = SHIFT.choice("sleeve").options
DARTS = tuple(d for d in SHIFT.choice("dart").options if d != "waist")  # that: test_draft_waist_seam
NECKLINES = SHIFT.choice("neckline").options


def tape(garment: Garment, runs: tuple[Run, ...]) -> float:
    """Length of runs by the check's own walk."""
    return sum(line.length for line in measured([garment.curve(run) for run in runs]))


def edges(garment: Garment, piece: str, stem: str) -> tuple[Run, ...]:
    return tuple(
        Run(piece, e.name) for e in garment.piece(piece) if e.name.split("_")[0] == stem and not mouth(e.name)
    )


def mouth(name: str) -> bool:
    return name.endswith("_mouth")


# ---- every rule -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("number", range(len(BODIES)))
def test_every_rule_holds_with_every_sleeve_neckline_and_dart(number: int):
    """Sleeves, necklines, darts, lengths and openings go round among the bodies, so that each meets many."""
    body = BODIES[number]
    lengths, openings = SHIFT.choice("length").options, (None, "keyhole", "zip", "slit")
    for i, sleeve in enumerate(SLEEVES):
        wish: dict[str, float | str] = {
            "sleeve": sleeve,
            "neckline": NECKLINES[(i + number) % len(NECKLINES)],
            "dart": DARTS[(i + number // 2) % len(DARTS)],
            "length": lengths[(i + number // 3) % len(lengths)],
            "dart_split": (3.0, 7.0)[i % 2],
        }
        if opening := openings[(i + number) % len(openings)]:
            wish["back_opening"] = opening
        assert [str(fault) for fault in check(SHIFT.make(body, wish))] == [], (body.name, wish)


@pytest.mark.parametrize("body", BODIES[::5], ids=lambda body: body.name)
def test_every_rule_holds_with_a_shaped_waist_which_gets_a_zip_where_it_is_tight(body: Body):
    for dart in DARTS:
        garment = SHIFT.make(body, {"waist": "shaped by darts", "dart": dart, "length": "dress"})
        assert [str(fault) for fault in check(garment)] == []
        tight = garment.finished["waist"] < body["bust_girth"] - 2
        assert tight == any(notion.name == "zip" for notion in garment.notions)


# ---- fit --------------------------------------------------------------------------------------------------


def test_girths_are_the_body_and_the_ease_asked():
    for body in WOMEN:
        wish = {"bust_ease": 10.0, "waist_ease": 6.0, "hip_ease": 9.0, "waist": "shaped by darts"}
        finished = SHIFT.make(body, wish).finished
        assert finished["bust"] == pytest.approx(body["bust_girth"] + 10, abs=0.1)
        assert finished["hip"] >= body["hip_girth"] + 9 - 0.1
        if finished["waist"] > body["waist_girth"] + 6.1:  # no dart is worth sewing for so little
            assert body["bust_girth"] + 10 - body["waist_girth"] - 6 < 2
        else:
            assert finished["waist"] == pytest.approx(body["waist_girth"] + 6, abs=0.1)


def test_it_hangs_to_its_length():
    for body in BODIES[::3]:
        lengths = [
            SHIFT.make(body, {"length": word}).finished["back length"]
            for word in ("top", "tunic", "dress", "midi")
        ]
        assert lengths == sorted(lengths)
        assert body["back_waist_length"] + body["waist_to_knee"] * 0.95 < lengths[2] < lengths[3]
        longer = SHIFT.make(body, {"longer": 4.0}).finished["back length"]
        assert longer == pytest.approx(lengths[0] + 4)


def test_a_dress_lets_her_step():
    for body in WOMEN:
        assert SHIFT.make(body, {"length": "dress"}).finished["hem"] >= 0.75 * body["height"] - 1.5


@pytest.mark.parametrize("neckline", NECKLINES)
def test_the_head_passes_every_neckline(neckline: str):
    for body in BODIES:
        garment = SHIFT.make(body, {"neckline": neckline})
        around = 2 * tape(garment, (*edges(garment, "front", "neck"), Run("back", "neck")))
        names = {edge.name for edge in garment.piece("back")}
        opening = 2 * tape(garment, (Run("back", "opening"),)) if "opening" in names else 0.0
        assert around + opening >= body["head_girth"] + 1.5
        assert opening == 0 or around < body["head_girth"] + 2


# ---- darts -------------------------------------------------------------------------------------------------


def corners(piece: Piece) -> list[Point]:
    return piece.polygon(tolerance=0.002)


@pytest.mark.parametrize("dart", DARTS)
def test_a_moved_dart_keeps_its_angle_and_all_edges_their_length(dart: str):
    for body in WOMEN:
        at_side = SHIFT.make(body, {"dart": "side", "dart_split": 12.0})
        moved = SHIFT.make(body, {"dart": dart, "dart_split": 12.0})
        if not at_side.piece("front").darts:
            assert not moved.piece("front").darts
            continue
        for stem in ("neck", "shoulder", "armhole", "side", "hem"):
            one, other = (tape(g, edges(g, "front", stem)) for g in (at_side, moved))
            assert one == pytest.approx(other, abs=0.04), (
                stem
            )  # trued beside the mouth by less than half a millimetre
        (one,), (other,) = at_side.piece("front").darts, moved.piece("front").darts
        assert turn_deg(at_side, one) == pytest.approx(turn_deg(moved, other), abs=1e-6)
        assert area(at_side) == pytest.approx(area(moved), rel=0.01)


def turn_deg(garment: Garment, dart) -> float:
    """Angle of the mouth seen from the bust point."""
    mark = garment.piece("front").mark("bust_point").curve
    point = mark.start.between(mark.end)
    one, other = point.to(dart.first_leg), point.to(dart.second_leg)
    return abs(math.degrees(math.atan2(one.cross(other), one.dot(other))))


def area(garment: Garment) -> float:
    """Of the front with its darts cut out."""
    front = garment.piece("front")
    out = sum(abs(d.tip.to(d.first_leg).cross(d.tip.to(d.second_leg))) / 2 for d in front.darts)
    return front.area_cm2() - out


def test_a_wide_dart_is_made_as_two_of_half_the_angle():
    fuller = [b for b in WOMEN if b["bust_girth"] - b["high_bust_girth"] > 6]
    assert fuller
    for body in fuller:
        for dart in DARTS:
            whole = SHIFT.make(body, {"dart": dart, "dart_split": 12.0})
            (one,) = whole.piece("front").darts
            halves = SHIFT.make(body, {"dart": dart, "dart_split": 3.0}).piece("front").darts
            assert len(halves) == 2
            split = SHIFT.make(body, {"dart": dart, "dart_split": 3.0})
            assert sum(turn_deg(split, d) for d in halves) == pytest.approx(turn_deg(whole, one))


def test_dart_tips_stay_short_of_the_bust_point():
    for body in WOMEN:
        for dart in DARTS:
            front = SHIFT.make(body, {"dart": dart}).piece("front")
            for one in front.darts:
                mark = front.mark("bust_point").curve
                assert 1.9 < mark.start.between(mark.end).distance(one.tip) < 3.6


# ---- facings -----------------------------------------------------------------------------------------------


def test_facings_are_as_long_as_what_they_face_and_wide_enough_to_lie():
    for body in BODIES[::4]:
        for wish in ({}, {"sleeve": "long"}, {"neckline": "V", "dart": "armhole"}):
            garment = SHIFT.make(body, wish)
            for seam in garment.seams:
                if seam.kind == "applied":
                    assert tape(garment, seam.a) == pytest.approx(tape(garment, seam.b), abs=0.01)
            neck = garment.piece("back_facing").edge("neck").curve.flattened(tolerance=0.01)
            outer = garment.piece("back_facing").edge("outer").curve.flattened(tolerance=0.01)
            assert min(math.dist(p, q) for p in neck for q in outer) > 3.0


# ---- refusals, jumps, sameness -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("wish", "says"),
    [
        ({"waist": "shaped by darts", "back_opening": "slit", "waist_ease": 2.0}, "zip"),
        ({"longer": -20.0}, "end too high"),
        ({"neck_width": -3.0}, "between neck and shoulder"),
        ({"sleeve": "short", "sleeve_longer": -10.0}, "where it is sewn in"),
        ({"sleeve": "cap", "sleeve_longer": 10.0}, "over the shoulder"),
        ({"hem": 8.0, "flare": 14.0, "length": "dress"}, "lie flat"),
        ({"dart": "neck"}, "not one of the options"),
    ],
)
def test_what_cannot_be_is_refused_with_what_can(wish: dict[str, float | str], says: str):
    slim = WOMEN[0].with_measures(waist_girth=66, bust_girth=92, high_bust_girth=87, hip_girth=97)
    with pytest.raises(ChoiceError) as refused:
        SHIFT.make(slim, wish)
    assert says in str(refused.value)
    assert refused.value.mend


def test_hardly_anybody_is_refused():
    refused = []
    for body in sample("woman", 30, seed=65):
        for sleeve in SLEEVES:
            try:
                SHIFT.make(body, {"sleeve": sleeve})
            except (MeasureError, DraftError, ChoiceError) as no:
                refused.append((body.name, sleeve, str(no)))
    assert len(refused) <= 2, refused


def test_a_millimetre_more_of_a_measure_moves_nothing_by_a_centimetre():
    for body in BODIES[::12]:
        for wish in ({"sleeve": "long"}, {"waist": "shaped by darts", "dart": "French", "length": "dress"}):
            before = SHIFT.make(body, wish)
            for name in SHIFT.needs:
                after = SHIFT.make(body.with_measures(**{name: body[name] + 0.1}), wish)
                move = greatest_move(before, after)
                assert move < 1.0 or len(before.piece("front").darts) != len(after.piece("front").darts), name


def test_the_same_body_gives_the_same_shift():
    assert same(SHIFT.make(WOMEN[0], {"sleeve": "long"}), SHIFT.make(WOMEN[0], {"sleeve": "long"}))


def test_a_button_on_a_childs_back_is_cautioned():
    girl = next(body for body in BODIES if body.child)
    garment = SHIFT.make(girl)
    if any(notion.name == "button" for notion in garment.notions):
        assert any("small part" in note.text and "rules" in note.text for note in garment.notes)


def test_a_waist_asked_far_wider_than_the_bust_is_refused_with_the_widest_that_lies_flat():
    """On a small child the side would bend tighter than its seam allowance (a girl of two did)."""
    small = sorted(
        (b for b in sample("girl", 60, seed=5) if (b.age_years or 0) >= 2), key=lambda b: b["height"]
    )
    for body in (*small[:5], WOMEN[0]):
        wish: dict[str, float | str] = {"waist": "shaped by darts", "waist_ease": 30.0}
        try:
            garment = SHIFT.make(body, wish)
        except ChoiceError as refusal:
            most = re.search(r"up to \+([\d.]+) cm", refusal.mend)
            assert most
            garment = SHIFT.make(body, {**wish, "waist_ease": float(most[1])})
        assert [str(fault) for fault in check(garment)] == []
    with pytest.raises(ChoiceError, match="would stand out from a bust"):
        SHIFT.make(small[0], {"waist": "shaped by darts", "waist_ease": 30.0})


def test_a_cap_sleeve_cannot_be_sewn_in_back_to_front_or_askew():
    """All plies bear the same notches as far from its ends, and the armhole shows where it ends."""
    for body in BODIES[::4]:
        garment = SHIFT.make(body, {"sleeve": "cap", "dart": "side"})
        seam = garment.seam("armhole")
        whole = tape(garment, seam.b)
        for ply in (seam.a, seam.b, *seam.more):
            found, done = {}, 0.0
            for run in ply:
                length, edge = tape(garment, (run,)), garment.piece(run.piece).edge(run.line)
                for n in edge.notches:
                    found[n.sign, n.count] = done + (length - n.at if run.backwards else n.at)
                done += length
            assert set(found) == {("front", 1), ("back", 2)}
            assert 0 < found["front", 1] < whole / 2 < found["back", 2] < whole
            if ply == seam.a:
                first = found
            assert found == pytest.approx(first, abs=0.02)
        for half in ("front", "back"):
            piece = garment.piece(half)
            (end,) = (mark.curve.start for mark in piece.marks if mark.name == "cap_sleeve_end")
            under = piece.edge("armhole_low").curve
            assert min(end.distance(under.start), end.distance(under.end)) < 1e-6
        crown = garment.piece("cap_sleeve").mark("shoulder_point").curve.start
        assert crown.distance(garment.piece("cap_sleeve").edge("front_cap").curve.start) < 1e-6


def test_every_mark_of_a_sleeve_is_printed():
    """The crown on a set-in sleeve, the fold line of a cap sleeve, the bust point on the front."""
    for wish, name in (({"sleeve": "long"}, "sleeve"), ({"sleeve": "cap"}, "cap_sleeve"), ({}, "front")):
        piece = SHIFT.make(WOMEN[0], wish).piece(name)
        strokes = [
            item.path for item in draw_piece(piece, Caption("Shift")).drawing.items if isinstance(item, Stroke)
        ]
        assert piece.marks
        assert all(mark.kind == "adjust" or mark.curve in strokes for mark in piece.marks)
