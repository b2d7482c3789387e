"""The apron and pinafore on the population's bodies: it goes round, straps reach, nothing ties on a child."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

import pytest

from clothwise.body import Body, sample
from clothwise.draft.apron import PINAFORE_APRON
from clothwise.errors import ChoiceError
from clothwise.garment import Garment
from clothwise.garment.check import check, greatest_move, same

WOMEN = sample("woman", 14, seed=80)
MEN = sample("man", 8, seed=81)
GIRLS = tuple(b for b in sample("girl", 10, seed=82) if (b.age_years or 0) >= 2)
BOYS = tuple(b for b in sample("boy", 8, seed=83) if (b.age_years or 0) >= 2)
ADULTS, CHILDREN = (*WOMEN, *MEN), (*GIRLS, *BOYS)
PEOPLE = (*ADULTS, *CHILDREN)
Wish = dict[str, float | str]
WISHES: tuple[Wish, ...] = (
    {},
    {"style": "pinafore", "length": "calf", "pockets": "none"},
    {"length": "short", "fullness": 1.8, "pockets": "none"},
    {"bib_height": 10.0, "longer": 3.0},
)


def length(garment: Garment, piece: str, line: str) -> float:
    """By chords, not by the kernel's own length."""
    points = garment.piece(piece).line(line).flattened(tolerance=0.0005)
    return sum(math.dist(a, b) for a, b in pairwise(points))


def made(wish: Wish, people: tuple[Body, ...] = PEOPLE[::3]) -> Iterator[tuple[Body, Garment]]:
    for body in people:
        yield body, PINAFORE_APRON.make(body, wish)


@pytest.mark.parametrize("turn", range(2))
def test_every_rule_holds(turn: int) -> None:
    for number, body in enumerate(PEOPLE):
        wish = WISHES[(number + 2 * turn) % len(WISHES)]
        assert [str(fault) for fault in check(PINAFORE_APRON.make(body, wish))] == [], (body.name, wish)


def test_ties_at_the_neck_are_for_adults_and_hold_to_the_rules() -> None:
    for _, garment in made({"straps": "tied at the neck"}, ADULTS[::4]):
        assert check(garment) == ()
        assert length(garment, "strap", "outer") > 50
    for body in CHILDREN:
        with pytest.raises(ChoiceError, match="strangle") as refused:
            PINAFORE_APRON.make(body, {"straps": "tied at the neck"})
        assert "Local rules" in refused.value.mend


def test_nothing_of_a_childs_is_tied() -> None:
    for body, garment in made({}, CHILDREN):
        names = {piece.name for piece in garment.pieces}
        assert "waist_tie" not in names
        assert any(notion.name == "button" for notion in garment.notions)
        assert any("local rules" in note.text for note in garment.notes)
        with pytest.raises(ChoiceError, match="pinafore") as refused:
            PINAFORE_APRON.make(body, {"style": "apron"})
        assert "style" in refused.value.where


def test_a_pinafore_goes_round_and_laps_an_apron_leaves_the_back_open() -> None:
    for body in PEOPLE[::3]:
        pinafore = PINAFORE_APRON.make(body, {"style": "pinafore"})
        assert length(pinafore, "waistband", "lower") == pytest.approx(body["waist_girth"] + 10, abs=0.01)
        assert 2 * length(pinafore, "skirt", "hip") >= body["hip_girth"] + 14
        if not body.child:
            apron = PINAFORE_APRON.make(body)
            assert 0.65 < length(apron, "waistband", "lower") / body["waist_girth"] < 0.85
            assert 2 * length(apron, "waist_tie", "outer") + length(apron, "waistband", "lower") > (
                body["waist_girth"] + 60
            )


def test_button_and_hole_meet_when_the_band_laps() -> None:
    for _, garment in made({"style": "pinafore"}):
        band = garment.piece("waistband")
        half = length(garment, "waistband", "lower") / 2
        button = band.mark("button").curve
        hole = band.mark("buttonhole").curve
        at, over = (button.start.x + button.end.x) / 2, (hole.start.x + hole.end.x) / 2
        # closed, the lap lies over itself: both are as far from their ends, and inside the 5 cm of the lap
        assert half - at == pytest.approx(half + over)
        assert 1 < half - at < 4
        assert hole.length() >= 2.0


def test_the_skirt_is_gathered_on_to_the_whole_band() -> None:
    for wish in ({}, {"fullness": 2.0}):
        for _, garment in made(wish):
            seam = next(seam for seam in garment.seams if seam.name == "skirt")
            ratio = 2 * length(garment, "skirt", "top") / length(garment, "waistband", "lower")
            assert seam.kind == "gathered"
            assert seam.ratio == pytest.approx(ratio, abs=1e-3)
            assert ratio == pytest.approx(2.0) if wish else ratio >= 1.199


def test_the_straps_reach_over_the_shoulder_and_across_the_back() -> None:
    for body, garment in made({}):
        bib = garment.piece("bib").edge("top").curve.start.y
        up_and_down = (
            2 * body["back_waist_length"] - bib
        )  # plumb from the bib over the neck's height to the waist
        strap = length(garment, "strap", "outer")
        assert up_and_down - 8 < strap < 1.35 * up_and_down + 8
        inside = garment.piece("band_facing")
        left, right = (inside.mark(f"{side}_strap_place").curve.bounds() for side in ("left", "right"))
        assert left[2] < 0 < right[0]
        assert right[2] < length(garment, "waistband", "lower") / 2
        assert length(garment, "strap", "end") == pytest.approx(right[2] - right[0])


def test_the_bib_covers_the_front_and_stays_off_the_throat() -> None:
    for body, garment in made({}):
        bib = garment.piece("bib")
        assert 0.5 * body["across_front"] < 2 * bib.edge("top").curve.length() < body["across_front"]
        assert 0.5 * body["back_waist_length"] < bib.edge("top").curve.start.y < 0.8 * body["back_waist_length"]
        assert bib.edge("bottom").curve.length() <= 0.76 * length(garment, "waistband", "lower") / 2
        place = bib.mark("strap_place").curve.bounds()
        assert place[2] < bib.edge("side").curve.start.x
        assert place[0] > 0.5


def test_a_hand_goes_into_the_pocket_and_it_clears_edges() -> None:
    for _, garment in made({}):
        skirt = garment.piece("skirt")
        left, low, right, _ = skirt.mark("pocket_place").curve.bounds()
        assert right - left >= 9.5
        assert left > 2
        assert right < skirt.edge("back_edge").curve.start.x - 2
        assert low > skirt.edge("hem").curve.start.y + skirt.edge("hem").allowance + 2


def test_lengths_follow_the_body() -> None:
    for body in PEOPLE[::3]:
        short, knee, calf = (
            PINAFORE_APRON.make(body, {"length": word, "pockets": "none"}).finished["waist to hem"]
            for word in ("short", "knee", "calf")
        )
        assert body["body_rise"] < short < body["waist_to_knee"] < knee < calf < body["waist_to_ankle"]


@pytest.mark.parametrize(
    ("wish", "says"),
    [
        ({"bib_height": 35.0}, "throat"),
        ({"longer": -20.0, "length": "short"}, "leave no skirt"),
        ({"longer": -12.0, "length": "short"}, "pocket"),
        ({"fullness": 4.0}, "out of range"),
        ({"style": "smock"}, "not one of the options"),
    ],
)
def test_what_cannot_be_is_refused_with_what_can(wish: Wish, says: str) -> None:
    with pytest.raises(ChoiceError, match=says) as refused:
        PINAFORE_APRON.make(WOMEN[0], wish)
    assert refused.value.mend


def test_a_millimetre_more_of_a_measure_moves_nothing_by_a_centimetre() -> None:
    for body in (WOMEN[3], GIRLS[1]):
        for name in PINAFORE_APRON.needs:
            moved = body.with_measures(**{name: body[name] + 0.1})
            assert greatest_move(PINAFORE_APRON.make(body), PINAFORE_APRON.make(moved)) < 1.0, name


def test_the_same_body_gives_the_same_apron() -> None:
    assert same(PINAFORE_APRON.make(WOMEN[0]), PINAFORE_APRON.make(WOMEN[0]))
