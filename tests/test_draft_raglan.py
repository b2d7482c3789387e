"""The raglan pullover on bodies of the population: seams match, heads and hands pass, lengths hold."""

from __future__ import annotations

import math
import re

import numpy as np
import pytest
import shapely

from clothwise.body import Body, sample
from clothwise.cloth import Cloth
from clothwise.curve import Curve
from clothwise.draft.raglan import RAGLAN_PULLOVER
from clothwise.errors import ChoiceError, WorkroomError
from clothwise.garment import Garment, Piece
from clothwise.garment.check import check, greatest_move, same
from clothwise.sew import Sewer, order_of_work
from clothwise.sew.step_check import check_steps

Wish = dict[str, float | str]
WOMEN = sample("woman", 10, seed=31)
MEN = sample("man", 7, seed=32)
CHILDREN = tuple(
    b for b in (*sample("girl", 6, seed=33), *sample("boy", 6, seed=34)) if (b.age_years or 0.0) >= 2
)
LINEN = Cloth("Linen", 140, 300, kind="linen")
PEOPLE = (*WOMEN, *MEN, *CHILDREN)
WISHES: tuple[Wish, ...] = (
    {},
    {"neck": "elastic", "sleeve_end": "elastic", "length": "knee", "fit": "very loose"},
    {"back": "buttons", "frill": "both", "sleeve": "short", "length": "midi"},
    {"back": "buttons", "neck": "gathered and bound", "length": "peplum top", "frill": "front"},
    {"neck": "elastic", "shoulder": "dart", "fit": "close", "sleeve": "short", "sleeve_end": "elastic"},
    {"back": "buttons", "shoulder": "dart", "length": "maxi", "fit": "easy", "neck": "gathered and bound"},
)
BUST_TO_RADIUS = 0.035  # of the bust: no bend of a raglan seam is sharper, 3.3 cm on a bust of 94


def make(body: Body, wish: Wish | None = None) -> Garment:
    return RAGLAN_PULLOVER.make(body, wish or {})


def walked(curve: Curve) -> float:
    """Length by short chords, not by the kernel's integral."""
    points = np.array(curve.flattened(tolerance=1e-5))
    return float(np.hypot(*np.diff(points, axis=0).T).sum())


def walked_edges(piece: Piece, *names: str) -> float:
    return sum(walked(piece.edge(name).curve) for name in names)


def shape(piece: Piece) -> shapely.Polygon:
    return shapely.Polygon(piece.polygon(tolerance=1e-3))


def width_at(piece: Piece, y: float) -> float:
    """How wide the piece is at that height. [cm]"""
    left, _, right, _ = shape(piece).bounds
    return float(shape(piece).intersection(shapely.LineString([(left - 1, y), (right + 1, y)])).length)


@pytest.mark.parametrize("wish", WISHES, ids=[" ".join(map(str, w.values())) or "as it stands" for w in WISHES])
def test_every_rule_holds_on_women_men_and_children(wish: Wish) -> None:
    for body in PEOPLE:
        assert [str(fault) for fault in check(make(body, wish))] == [], body.name


@pytest.mark.parametrize("wish", WISHES[::2], ids=str)
def test_seams_are_equally_long_raglan_underarm_and_side(wish: Wish) -> None:
    for body in PEOPLE[::3]:
        garment = make(body, wish)
        sleeve = garment.piece("sleeve")
        for half in ("front", "back"):
            on_body = walked_edges(garment.piece(half), "raglan")
            assert walked_edges(sleeve, f"{half}_raglan") == pytest.approx(on_body, abs=1e-3)
        under = walked_edges(sleeve, "front_underarm")
        assert walked_edges(sleeve, "back_underarm") == pytest.approx(under, abs=1e-6)
        sides = [walked_edges(garment.piece(half), "side_seam") for half in ("front", "back")]
        assert sides[0] == pytest.approx(sides[1], abs=1e-6)


def test_bust_and_arm_are_the_body_and_the_ease_asked() -> None:
    for body in PEOPLE:
        garment = make(body, {"bust_ease": 14.0, "arm_ease": 16.0, "back": "closed"})
        around = 0.0
        for half in ("front", "back"):
            piece = garment.piece(half)
            around += 2 * width_at(piece, piece.mark("bust").curve.start.y)
        assert around == pytest.approx(body["bust_girth"] + 14, abs=0.02)
        sleeve = garment.piece("sleeve")
        under = sleeve.edge("front_underarm").curve.start
        wide = sleeve.edge("back_underarm").curve.end.x - under.x
        widened = sum(note.by for note in garment.notes if note.measure == "arm_ease")
        assert wide == pytest.approx(body["upper_arm_girth"] + 16 + widened, abs=0.02)
        assert widened <= 1.5


def test_more_room_is_wider_everywhere() -> None:
    for body in PEOPLE[::4]:
        busts, arms = [], []
        for fit in ("close", "easy", "loose", "very loose"):
            garment = make(body, {"fit": fit})
            bust, arm = (next(lv for lv in garment.levels if lv.name == name) for name in ("bust", "arm"))
            busts.append(garment.round(bust.runs))
            arms.append(garment.round(arm.runs))
        assert busts == sorted(busts)
        assert busts[3] - busts[0] > 9
        assert arms[3] > arms[0] + 2


def test_the_head_passes_the_neck_and_the_hand_the_sleeve() -> None:
    for body in PEOPLE:
        garment = make(body)
        neck = 2 * (
            walked_edges(garment.piece("front"), "neck")
            + walked_edges(garment.piece("back"), "neck")
            + walked_edges(garment.piece("sleeve"), "neck")
        )
        if body.child:  # drawn in by elastic: the cloth passes, the elastic gives
            assert "neck_binding" not in {piece.name for piece in garment.pieces}
            assert neck >= body["head_girth"] + 2 - 1e-3
            elastic = next(n for n in garment.notions if n.place == "neck_casing")
            assert body["neck_base_girth"] < elastic.length < neck
        else:  # the binding's fold lies a centimetre inside the seam
            assert neck - 2 * math.pi * 1.0 >= body["head_girth"] + 2 - 1e-3
        assert walked_edges(garment.piece("sleeve"), "hem") >= 1.35 * body["wrist_girth"] + 1


def test_with_buttons_the_neck_lies_close_and_the_binding_is_as_long_as_it() -> None:
    for body in PEOPLE[::2]:
        garment = make(body, {"back": "buttons"})
        edge = sum(garment.length((run,)) for seam in garment.seams if seam.name == "neck" for run in seam.b)
        binding = walked_edges(garment.piece("neck_binding"), "outer")
        assert binding == pytest.approx(edge, abs=0.01)
        closed = binding - 2 * 1.5  # one stand lies over the other
        assert body["neck_base_girth"] + 4 < closed < body["neck_base_girth"] + 14
        gathered = make(body, {"back": "buttons", "neck": "gathered and bound"})
        assert walked_edges(gathered.piece("neck_binding"), "outer") == pytest.approx(binding, abs=0.01)
        on_cloth = sum(gathered.length((run,)) for s in gathered.seams if s.name == "neck" for run in s.a)
        assert on_cloth > 1.3 * binding


def test_the_neckline_is_smooth_and_square_to_the_centres() -> None:
    for body in PEOPLE[::2]:
        garment = make(body)
        front, back, sleeve = (garment.piece(name) for name in ("front", "back", "sleeve"))
        assert abs(front.edge("neck").curve.end_tangent.y) < 1e-6
        assert abs(back.edge("neck").curve.start_tangent.y) < 1e-6
        neck = sleeve.edge("neck").curve
        for one, other in zip(neck.strokes, neck.strokes[1:], strict=False):
            assert one.tangent(1.0).dot(other.tangent(0.0)) > 0.999
        assert front.edge("neck").curve.end.y < back.edge("neck").curve.start.y - 3


@pytest.mark.parametrize("wish", WISHES[:5], ids=str)
def test_no_raglan_seam_bends_sharply(wish: Wish) -> None:
    for body in PEOPLE:
        garment = make(body, wish)
        for piece, edge in (
            ("front", "raglan"),
            ("back", "raglan"),
            ("sleeve", "front_raglan"),
            ("sleeve", "back_raglan"),
        ):
            for stroke in garment.piece(piece).edge(edge).curve.strokes:
                bend = max(abs(stroke.curvature(i / 40)) for i in range(41))
                assert bend * BUST_TO_RADIUS * body["bust_girth"] < 1, (body.name, piece, edge)


def test_the_shoulder_dart_is_the_angle_between_arm_and_shoulder() -> None:
    for body in WOMEN:
        sleeve = make(body, {"shoulder": "dart"}).piece("sleeve")
        (dart,) = sleeve.darts
        one, other = dart.tip.to(dart.first_leg), dart.tip.to(dart.second_leg)
        assert one.length == pytest.approx(other.length, abs=1e-6)
        spread = abs(one.angle_deg - other.angle_deg)
        fall = min(14.0, 40.0 - body["shoulder_slope_deg"])
        assert spread == pytest.approx(2 * fall, abs=1e-6)
        for edge, leg in (
            ("neck_back", one),
            ("neck_front", other),
        ):  # sewn, the neck runs on: square to both legs
            curve = sleeve.edge(edge).curve
            way = curve.end_tangent if edge == "neck_back" else curve.start_tangent
            assert abs(way.dot(leg.unit())) < 1e-6
        assert make(body).piece("sleeve").darts == ()


def test_lengths_are_as_asked() -> None:
    for body in PEOPLE[::3]:
        longs = [
            make(body, {"length": word}).finished["back length"] for word in ("top", "knee", "midi", "maxi")
        ]
        assert longs == sorted(longs)
        assert make(body, {"longer": 4.0}).finished["back length"] == pytest.approx(longs[0] + 4)
        peplum = make(body, {"length": "peplum top"})
        assert peplum.finished["back length"] == pytest.approx(longs[0])
        top, back = make(body).piece("back"), make(body).piece("back").edge("fold").curve
        assert back.length() == pytest.approx(longs[0])
        assert top.edge("hem").curve.bounds()[3] - top.edge("hem").curve.bounds()[1] < 4.5
        shorter, longer = (
            make(body, {"sleeve": word}).finished["sleeve from the neck"] for word in ("short", "long")
        )
        assert shorter < 0.72 * longer
        shoulder = body["shoulder_length"]
        opened = longer - body["arm_length"]
        assert 0 < opened <= shoulder  # what is left of the shoulder, and the arm


def test_a_dress_lets_her_step() -> None:
    for body in PEOPLE[::2]:
        garment = make(body, {"length": "midi", "fit": "close"})
        hem = 2 * sum(walked_edges(garment.piece(half), "hem") for half in ("front", "back"))
        assert hem >= 0.75 * body["height"] - 0.5


def test_the_hem_is_square_to_the_side_and_hangs_level() -> None:
    """Its side end is lifted: as far below the bust line as the centre, along the leaning seam."""
    for body in PEOPLE[::2]:
        front = make(body, {"length": "knee"}).piece("front")
        hem, side = front.edge("hem").curve, front.edge("side_seam").curve
        assert abs(hem.end_tangent.dot(side.start_tangent)) < 1e-6
        assert abs(hem.start_tangent.y) < 1e-6
        assert hem.end.y > hem.start.y


def test_a_peplum_is_gathered_half_again_as_wide_as_the_waist() -> None:
    for body in PEOPLE[::3]:
        for back in ("closed", "buttons"):
            garment = make(
                body,
                {"length": "peplum top", "back": back, "neck": "bound" if back == "buttons" else "elastic"},
            )
            waist = sum(walked_edges(garment.piece(half), "waist") for half in ("front", "back"))
            peplum = sum(walked_edges(garment.piece(f"{half}_peplum"), "waist") for half in ("front", "back"))
            assert peplum == pytest.approx(1.5 * waist, abs=0.01)


def test_a_frill_runs_out_into_the_raglan_clear_of_neck_and_underarm() -> None:
    for body in PEOPLE[::2]:
        garment = make(body, {"frill": "both", "back": "buttons"})
        for half in ("front", "back"):
            piece, strip = garment.piece(half), garment.piece(f"{half}_frill_piece")
            place, raglan = piece.mark("frill_place").curve, piece.edge("raglan").curve
            assert walked_edges(strip, "gathered") == pytest.approx(1.8 * walked(place), abs=0.02)
            ends = sorted(
                shapely.line_locate_point(
                    shapely.LineString(raglan.flattened(tolerance=1e-4)), shapely.Point(p)
                )
                for p in (place.start, place.end)
            )
            clear = sorted((ends[0], walked(raglan) - ends[1]))
            assert clear == pytest.approx([1.2, 4.0], abs=0.01)
            outline = shape(strip)
            left, low, right, high = outline.bounds
            assert (high - low == pytest.approx(6.0)) if not body.child else 2.5 <= high - low <= 4.0
            for x in (left + 0.5, right - 0.5):
                assert outline.intersection(shapely.LineString([(x, low - 1), (x, high + 1)])).length < 1.2


def test_buttons_stand_a_hand_apart_on_the_centre_from_neck_to_hem() -> None:
    for body in PEOPLE[::2]:
        for length in ("top", "peplum top", "maxi"):
            garment = make(body, {"back": "buttons", "length": length})
            heights: dict[str, list[float]] = {}
            for piece in garment.pieces:
                for mark in piece.marks:
                    if mark.kind == "button":
                        heights.setdefault(piece.name, []).append(mark.curve.start.y)
                        assert abs(mark.curve.start.x + mark.curve.end.x) < 1e-9
                        stand = piece.edge("stand").curve.start.x
                        assert stand == pytest.approx(1.5)
            assert sum(map(len, heights.values())) == next(
                n.count for n in garment.notions if n.name == "button"
            )
            for found in heights.values():
                gaps = -np.diff(sorted(found, reverse=True))
                assert (gaps <= 8.0 + 1e-9).all()
                assert np.ptp(gaps) < 1e-6
            neck = garment.piece("back").edge("neck").curve.start.y
            assert neck - max(heights["back"]) == pytest.approx(2.0)


def test_pockets_take_a_hand_and_clear_hem_side_and_centre() -> None:
    for body in PEOPLE[::2]:
        for length in ("top", "midi"):
            garment = make(body, {"pockets": "patch", "length": length, "longer": 4.0})
            front, patch = garment.piece("front"), garment.piece("patch_pocket")
            place = front.mark("pocket_place").curve
            left, low, right, _ = place.bounds()
            assert walked(place) == pytest.approx(
                walked_edges(patch, "left_side", "base", "right_side"), abs=0.01
            )
            assert right - left >= 0.115 * body["hip_girth"] - 1e-6
            hem = front.edge("hem")
            assert low - hem.curve.bounds()[3] >= hem.allowance + 3.9
            assert left >= 1.5
            assert width_at(front, low) - right >= 1.2


def test_a_close_top_that_ends_just_above_the_hip_goes_over_it() -> None:
    held = 0
    for body in sample("girl", 300, seed=2026):
        if (body.age_years or 0.0) < 2:
            continue
        garment = make(body, {"fit": "close"})
        halves = [garment.piece(name) for name in ("front", "back")]
        low = max(half.edge("hem").curve.end.y for half in halves) + 1.0
        if body["waist_to_hip"] - 3.0 < -low < body["waist_to_hip"]:
            held += 1
            assert 2 * sum(width_at(half, low) for half in halves) >= body["hip_girth"] + 3.9, body.name
    assert held > 10


def test_a_neck_too_small_for_its_binding_has_a_narrower_one_and_says_so() -> None:
    small = sorted(sample("boy", 350, seed=2026), key=lambda body: body["neck_base_girth"])
    narrower = 0
    for body in [body for body in small if (body.age_years or 0.0) >= 2][:25]:
        garment = make(body, {"back": "buttons"})
        assert [str(fault) for fault in check(garment)] == [], body.name
        (wide,) = {edge.allowance for edge in garment.piece("front") if edge.name == "neck"}
        said = [note for note in garment.notes if note.measure == "binding"]
        assert bool(said) == (wide < 0.9)
        _, low, _, high = shape(garment.piece("neck_binding")).bounds
        assert high - low == pytest.approx(2 * wide)  # and as much again for its own allowances
        narrower += bool(said)
    assert narrower, "none so small was drawn"


def test_a_child_gets_no_cord_and_a_word_about_buttons() -> None:
    for body in CHILDREN:
        wishes: tuple[Wish, ...] = ({}, {"back": "buttons"})
        for wish in wishes:
            garment = make(body, wish)
            assert not any(n.name in ("drawstring", "cord") for n in garment.notions)
            assert any("swallowed" in note.text for note in garment.notes) == (wish != {})


@pytest.mark.parametrize(
    ("who", "wish", "says"),
    [
        (WOMEN[0], {"neck_girth": 45.0}, "does not pass the head"),
        (WOMEN[0], {"neck_girth": 90.0}, "does not lie between"),
        (WOMEN[0], {"neck": "elastic", "back": "buttons"}, "wants no buttons"),
        (WOMEN[0], {"neck": "gathered and bound"}, "slips off the shoulders"),
        (CHILDREN[0], {"neck": "bound"}, "slips off"),
        (WOMEN[0], {"longer": 20.0, "length": "maxi"}, "drag on the floor"),
        (WOMEN[0], {"length": "peplum top", "longer": -20.0}, "end too high"),
        (WOMEN[0], {"sleeve": "short", "sleeve_longer": -12.0}, "above the underarm"),
        (CHILDREN[0], {"frill": "front", "frill_width": 12.0}, "cannot run out"),
        (WOMEN[0].with_measures(shoulder_slope_deg=39.0), {"shoulder": "dart"}, "take in only"),
        (WOMEN[0], {"bust_ease": 60.0}, "out of range"),
    ],
)
def test_what_cannot_be_is_refused_with_what_can(who: Body, wish: Wish, says: str) -> None:
    with pytest.raises(ChoiceError, match=says) as refused:
        make(who, wish)
    assert refused.value.mend


def test_a_millimetre_more_of_a_measure_moves_nothing_by_a_centimetre() -> None:
    for body in (WOMEN[2], MEN[1], CHILDREN[3]):
        for name in RAGLAN_PULLOVER.needs:
            moved = body.with_measures(**{name: body[name] + 0.1})
            assert greatest_move(make(body), make(moved)) < 1.0, (body.name, name)


def test_the_same_body_gives_the_same_pullover() -> None:
    assert same(make(WOMEN[0], {"frill": "both"}), make(WOMEN[0], {"frill": "both"}))


def test_few_are_refused() -> None:
    refused = 0
    people = (*sample("woman", 60, seed=41), *sample("man", 60, seed=42), *sample("girl", 60, seed=43))
    for body in people:
        try:
            make(body)
        except WorkroomError:
            refused += 1
    assert refused <= len(people) // 100


@pytest.mark.parametrize("wish", WISHES, ids=str)
def test_it_can_be_sewn_as_the_order_of_work_says(wish: Wish) -> None:
    body = WOMEN[1]
    garment = make(body, wish)
    steps = order_of_work(garment, LINEN, Sewer("Marit", "practised", False))
    assert check_steps(garment, steps, LINEN) == ()
    names = [step.name for step in steps]
    if "front_frill" in names:
        assert names.index("front_frill") < names.index("front_raglan")


def with_arm_ease(body: Body, fit: str, ease: float) -> Garment:
    """With so much room for the arm, or with what the refusal says can be had."""
    try:
        return RAGLAN_PULLOVER.make(body, {"fit": fit, "arm_ease": ease})
    except ChoiceError as no:
        (told,) = re.findall(r"([\d.]+) cm of arm ease or less", no.mend)
    return RAGLAN_PULLOVER.make(body, {"fit": fit, "arm_ease": float(told)})


@pytest.mark.parametrize("body", sample("girl", 15, 5)[9:], ids=lambda body: body.name)
def test_no_sleeve_sags_below_its_underarm_and_the_ease_that_is_told_can_be_had(body):
    """A raglan seam that falls lower and rises again hangs in a fold there: one was drawn 0.1 cm lower."""
    for fit in RAGLAN_PULLOVER.choice("fit").options:
        for ease in (14.0, 20.0, RAGLAN_PULLOVER.choice("arm_ease").high):
            sleeve = with_arm_ease(body, fit, ease).piece("sleeve")
            for name, low in (("front_raglan", "front_underarm"), ("back_raglan", "back_underarm")):
                ends = sleeve.edge(low).curve
                lowest = min(p.y for p in sleeve.edge(name).curve.flattened(tolerance=0.002))
                assert lowest > max(ends.start.y, ends.end.y) - 0.055, "more than a pencil line"
