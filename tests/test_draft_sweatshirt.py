"""The sweatshirt on bodies of the population: hood, sleeves and rib fit their edges and let the body in."""

from __future__ import annotations

import math
import re
from itertools import pairwise

import pytest
from shapely import LineString, Polygon

from clothwise.body import sample
from clothwise.draft.neckline import close_neck
from clothwise.draft.sweatshirt import SWEATSHIRT
from clothwise.errors import ChoiceError
from clothwise.garment import Garment
from clothwise.garment.check import check, greatest_move, same

WOMEN = sample("woman", 12, seed=60)
MEN = sample("man", 8, seed=61)
GIRLS = tuple(b for b in sample("girl", 10, seed=62) if (b.age_years or 0) >= 2)
BOYS = tuple(b for b in sample("boy", 8, seed=63) if (b.age_years or 0) >= 2)
PEOPLE = (*WOMEN, *MEN, *GIRLS, *BOYS)
SOME = PEOPLE[::4]
Wish = dict[str, float | str]
WISHES: tuple[Wish, ...] = (
    {},
    {"neck": "three-piece hood", "shoulder": "set-in"},
    {"neck": "neckband", "length": "tunic", "fit": "easy"},
    {"pocket": "none", "fit": "very loose", "neck": "three-piece hood"},
    {"shoulder": "set-in", "fit": "close", "stretch": 60.0, "neck": "neckband"},
    {"rib_stretch": 40.0, "stretch": 15.0, "sleeve_longer": 4.0},
)


def length(garment: Garment, piece: str, line: str) -> float:
    """By chords, not by the kernel's own length."""
    points = garment.piece(piece).line(line).flattened(tolerance=0.0005)
    return sum(math.dist(a, b) for a, b in pairwise(points))


def made(wish: Wish, people=SOME):  # type: ignore[no-untyped-def]
    for body in people:
        yield body, SWEATSHIRT.make(body, wish)


@pytest.mark.parametrize("turn", range(2))
def test_every_rule_holds_or_the_refusal_names_the_choice(turn: int) -> None:
    refused: list[ChoiceError] = []
    for number, body in enumerate(PEOPLE):
        wish = WISHES[(number + 3 * turn) % len(WISHES)]
        try:
            garment = SWEATSHIRT.make(body, wish)
        except ChoiceError as refusal:
            refused.append(refusal)
            continue
        assert [str(fault) for fault in check(garment)] == [], (body.name, wish)
    assert all(any(word in no.where for word in ("pocket", "stretch")) for no in refused)
    assert len(refused) <= 2


@pytest.mark.parametrize("shoulder", ["dropped", "set-in"])
def test_the_cap_is_as_long_as_the_armhole_without_ease(shoulder: str) -> None:
    for body, garment in made({"shoulder": shoulder}):
        armhole = length(garment, "front", "armhole") + length(garment, "back", "armhole")
        cap = length(garment, "sleeve", "front_cap") + length(garment, "sleeve", "back_cap")
        assert cap == pytest.approx(armhole, abs=0.02)
        assert length(garment, "sleeve", "upper_arm") >= body["upper_arm_girth"] + 3


def test_a_dropped_shoulder_lies_down_the_arm_under_a_flatter_cap() -> None:
    drops = []
    for body, dropped in made({}, (*WOMEN, *MEN)):
        set_in = SWEATSHIRT.make(body, {"shoulder": "set-in"})
        drops.append(length(dropped, "front", "shoulder") - length(set_in, "front", "shoulder"))

        def flat(garment: Garment) -> float:
            cap = garment.piece("sleeve").edge("front_cap").curve
            return (cap.start.y - cap.end.y) / abs(cap.start.x - cap.end.x)

        assert flat(dropped) < 0.8 * flat(set_in)
    assert min(drops) >= 0.0  # inside the side of a narrow body there is little room for more
    assert sorted(drops)[len(drops) // 2] > 2


def test_the_sleeve_reaches_the_wrist_with_its_cuff_and_bags_a_little() -> None:
    for body, garment in made({}):
        slope = body["shoulder_slope_deg"]
        wide = garment.piece("front").edge("neck").curve.start.x
        wide -= close_neck(body["neck_base_girth"], slope, slope).width
        to_wrist = body["shoulder_length"] - wide / math.cos(math.radians(slope)) + body["arm_length"]
        assert garment.finished["neck point to cuff"] - to_wrist == pytest.approx(1.5, abs=0.01)


def test_the_grain_of_a_short_wide_sleeve_lies_on_its_cloth() -> None:
    children = [
        body for body in sample("girl", 250, seed=2026) if (body.age_years or 0) >= SWEATSHIRT.least_age
    ]
    for body in sorted(children, key=lambda body: body["arm_length"])[:12]:
        try:
            sleeve = SWEATSHIRT.make(body, {"sleeve_longer": -10.0}).piece("sleeve")
        except ChoiceError as refusal:
            sleeve = SWEATSHIRT.make(body, {"sleeve_longer": shortest(refusal)}).piece("sleeve")
        cloth = Polygon(sleeve.outline().flattened(tolerance=0.0005)).buffer(0.01)
        assert cloth.contains(LineString(sleeve.grain)), body.name


def shortest(refusal: ChoiceError) -> float:
    """What the refusal says can be had. [cm]"""
    said = re.search(r"(-[0-9.]+) cm or more is possible", str(refusal))
    assert said, refusal
    return float(said[1])


@pytest.mark.parametrize("neck", ["two-piece hood", "three-piece hood"])
def test_the_hood_is_as_long_as_the_neckline_and_covers_the_head(neck: str) -> None:
    for body, garment in made({"neck": neck}):
        neckline = 2 * (length(garment, "front", "neck") + length(garment, "back", "neck"))
        strip = length(garment, "hood_strip", "neck") if neck == "three-piece hood" else 0.0
        assert 2 * length(garment, "hood", "neck") + strip == pytest.approx(neckline, abs=0.02)
        over = 2 * length(garment, "hood", "face") + strip
        assert over == pytest.approx(1.24 * body["head_girth"] + 2, abs=0.1)  # from neck to neck over the crown
        _, _, back, _ = garment.piece("hood").edge("crown").curve.bounds()
        assert 2 * back + strip >= 0.85 * body["head_girth"]  # from brow round the back of the head to the brow
        if strip:
            assert length(garment, "hood_strip", "left") == pytest.approx(
                length(garment, "hood", "crown"), abs=0.02
            )


def test_the_head_passes_the_neck() -> None:
    for stretch in (15.0, 25.0):
        for body, garment in made({"stretch": stretch}, PEOPLE):
            neckline = 2 * (length(garment, "front", "neck") + length(garment, "back", "neck"))
            assert neckline * (1 + stretch / 100) >= body["head_girth"]


def test_rib_is_shorter_than_its_edge_and_still_lets_hands_and_hips_through() -> None:
    for body, garment in made({"rib_stretch": 50.0}):
        cuff, edge = length(garment, "cuff", "outer"), length(garment, "sleeve", "hem")
        assert 0.7 * edge < cuff < 0.95 * edge
        assert cuff * 1.5 >= 1.33 * body["wrist_girth"]
        assert cuff >= 1.1 * body["wrist_girth"]
        band = length(garment, "hem_band", "outer")
        hem = 2 * (length(garment, "front", "hem") + length(garment, "back", "hem"))
        assert 0.7 * hem < band <= hem
        assert band * 1.5 >= max(body["hip_girth"], body["bust_girth"])


def test_a_cord_is_drafted_for_no_child_and_every_child_is_told_why() -> None:
    for body in (*GIRLS, *BOYS):
        with pytest.raises(ChoiceError, match="strangle") as refused:
            SWEATSHIRT.make(body, {"drawstring": "at the face"})
        assert "Local rules" in refused.value.mend
        garment = SWEATSHIRT.make(body, {"pocket": "none"})
        assert not any(notion.name == "drawstring" for notion in garment.notions)
        assert any("cord" in note.text and "Local rules" in note.text for note in garment.notes)


@pytest.mark.parametrize("neck", ["two-piece hood", "three-piece hood"])
def test_an_adult_may_have_a_cord_out_at_eyelets_in_the_casing(neck: str) -> None:
    for _, garment in made({"drawstring": "at the face", "neck": neck}, WOMEN[::4]):
        assert check(garment) == ()
        (cord,) = (notion for notion in garment.notions if notion.name == "drawstring")
        face = next(edge for edge in garment.free_edges if edge.name == "face")
        assert cord.place == face.name
        assert face.kind == "casing"
        assert cord.length > garment.length(face.runs) + 30
        eyelet = garment.piece("hood").mark("eyelet").curve
        assert all(0.5 < point.x < face.turn - 0.5 for point in (eyelet.start, eyelet.end))
        assert eyelet.start.y > 1.5
    plain = SWEATSHIRT.make(WOMEN[0], {"drawstring": "at the face", "neck": "neckband"})
    assert not plain.notions


def test_both_hands_go_into_the_pocket_and_it_clears_sides_and_hem() -> None:
    for body, garment in made({}):
        front = garment.piece("front")
        low, high = front.mark("pocket_low").curve, front.mark("pocket_high").curve
        hem, side = front.edge("hem").curve, front.edge("side_seam").curve
        assert low.start.y > hem.bounds()[3] + 1
        assert low.bounds()[2] < min(side.start.x, side.end.x) - 1.9
        assert high.start.y < front.mark("bust").curve.start.y - 1.9
        assert 2 * low.bounds()[2] >= 0.24 * body["hip_girth"]
        opening = garment.piece("front_pocket").edge("opening").curve.length()
        assert opening >= 0.09 * body["hip_girth"]


def test_a_neckband_takes_the_place_of_the_hood() -> None:
    for _, garment in made({"neck": "neckband"}):
        names = {piece.name for piece in garment.pieces}
        assert "neckband" in names
        assert "hood" not in names
        assert garment.piece("neckband").layer == garment.piece("cuff").layer == "rib"


def test_what_cannot_be_is_refused_with_what_can() -> None:
    for wish, says in (
        ({"sleeve_longer": 30.0}, "out of range"),
        ({"longer": -20.0}, "pocket"),
        ({"bust_ease": -10.0, "stretch": 10.0, "fit": "close"}, "of stretch give"),
        ({"neck": "collar"}, "not one of the options"),
    ):
        with pytest.raises(ChoiceError, match=says) as refused:
            SWEATSHIRT.make(WOMEN[0], wish)
        assert refused.value.mend


def test_a_millimetre_more_of_a_measure_moves_nothing_by_a_centimetre() -> None:
    body = WOMEN[3]
    for name in SWEATSHIRT.needs:
        moved = body.with_measures(**{name: body[name] + 0.1})
        for wish in ({}, {"shoulder": "set-in", "neck": "three-piece hood"}):
            assert greatest_move(SWEATSHIRT.make(body, wish), SWEATSHIRT.make(moved, wish)) < 1.0, name


def test_the_same_body_gives_the_same_sweatshirt() -> None:
    assert same(SWEATSHIRT.make(WOMEN[0]), SWEATSHIRT.make(WOMEN[0]))
