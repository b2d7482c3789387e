"""One hip higher than the other: the waist climbs over it at that side, the middle and the other side stay."""

from __future__ import annotations

import re
from itertools import product

import pytest

from clothwise.alter import figured, of_two
from clothwise.body import Body, Figure, sample
from clothwise.draft import HouseDraft, pattern
from clothwise.errors import ChoiceError, GarmentError
from clothwise.garment import Garment
from clothwise.garment.check import check

FIGURES: tuple[Figure, ...] = ("woman", "man", "girl")
BODIES = tuple(body for n, figure in enumerate(FIGURES) for body in sample(figure, 4, seed=90 + n))
NARROW = 1.0  # cm of elastic: its casing folds down from a waist that climbs
TOLD = 0.01  # cm
RAISED = 1.9  # cm: more than usual elastic folds down from
WIDER = 0.5  # cm: a flared skirt that is raised where it is narrower is made so much wider to go over the hips

FOUR_PANEL, A_LINE, GATHERED = (pattern(f"{name}_skirt") for name in ("four_panel", "a_line", "gathered"))
TROUSERS, JOGGER, PYJAMAS = (pattern(name) for name in ("pull_on_trousers", "jogger", "pyjama_bottoms"))
MAKES: tuple[tuple[HouseDraft, dict[str, float | str]], ...] = (
    (FOUR_PANEL, {"elastic_width": NARROW}),
    (FOUR_PANEL, {"elastic_width": NARROW, "flare": 3.0, "pockets": "side seam"}),
    (A_LINE, {}),
    (A_LINE, {"waist": "facing with zip", "flare": 6.0}),
    (A_LINE, {"front_waist": 1.0, "back_waist": -1.0, "pockets": "side seam"}),
    (GATHERED, {"waist": "band with zip"}),
    (GATHERED, {"waist": "band, buttons down the front"}),
    (TROUSERS, {"elastic_width": NARROW, "pockets": "in-seam"}),
    (TROUSERS, {"elastic_width": NARROW, "front_darts": "one each side"}),
    (JOGGER, {"elastic_width": NARROW}),
    (PYJAMAS, {"elastic_width": NARROW}),
)


def shown(value: object) -> str:
    return value.name if isinstance(value, HouseDraft | Body) else ""


each_make = pytest.mark.parametrize(("draft", "wish"), MAKES, ids=shown)
each_body = pytest.mark.parametrize("body", BODIES, ids=shown)


def by(body: Body, wish: dict[str, float | str]) -> float:
    """A hip as much higher as goes with the size of the body, less where a casing folds down from it. [cm]"""
    return round((0.5 if "elastic_width" in wish else 1.5) * body["waist_to_hip"] / 25, 2)


def drawn(draft: HouseDraft, wish: dict[str, float | str], body: Body) -> tuple[Garment, Garment]:
    """As for hips that are even, and for a higher one; on a small waist no casing may fold down from either."""
    try:
        return draft.make(body, wish), figured(draft, body, wish, {"hip_height": by(body, wish)})
    except ChoiceError as no:
        folds = "fold flat" in no.what or "bends too much" in no.what or "for a grown-on casing" in no.what
        if folds and (body.child or "front_darts" in wish):
            pytest.skip("no casing folds down on so small a waist")
        raise


def side_length(garment: Garment, half: str = "") -> float:
    names = (f"{half}side_seam", f"{half}side_upper", f"{half}pocket_opening", f"{half}side_lower")
    front = next(piece for piece in garment.pieces if any(edge.name in names for edge in piece))
    return sum(edge.curve.length() for edge in front if edge.name in names)


def centre_length(garment: Garment) -> float:
    """Down the middle of the front, or to the inseam."""
    front = next(piece for piece in garment.pieces if piece.name in ("front_panel", "front_leg"))
    middle = next(e for e in front if e.name in ("fold", "centre", "stand", "crotch"))
    return middle.curve.length()


@each_body
@each_make
def test_the_side_climbs_and_the_middle_stays(
    draft: HouseDraft, wish: dict[str, float | str], body: Body
) -> None:
    level, high = drawn(draft, wish, body)
    assert [str(fault) for fault in check(high)] == []
    assert side_length(high) - side_length(level) == pytest.approx(by(body, wish), abs=0.1)
    assert centre_length(high) == pytest.approx(centre_length(level), abs=TOLD)
    for girth in ("waist", "hip"):
        if girth in level.finished:
            assert -TOLD <= high.finished[girth] - level.finished[girth] < WIDER


@each_body
@each_make
def test_one_hip_higher_leaves_the_other_side(
    draft: HouseDraft, wish: dict[str, float | str], body: Body
) -> None:
    level, high = drawn(draft, wish, body)
    both = of_two(high, level)
    assert [str(fault) for fault in check(both)] == []
    assert all(piece.cutting == "single" or "pocket" in piece.name for piece in both.pieces)
    seams = {seam.name: both.length(seam.a) for seam in both.seams}
    left, right = (
        sum(cm for name, cm in seams.items() if name.startswith(f"{side}_side_")) for side in ("left", "right")
    )
    assert left == pytest.approx(side_length(high) - pocket_mouth(high), abs=TOLD)
    assert right == pytest.approx(side_length(level) - pocket_mouth(level), abs=TOLD)


def pocket_mouth(garment: Garment) -> float:
    front = next(piece for piece in garment.pieces if piece.name in ("front_panel", "front_leg"))
    return sum(edge.curve.length() for edge in front if edge.name == "pocket_opening")


@pytest.mark.parametrize("name", ["circle_skirt", "bias_skirt", "tiered_skirt", "leggings"])
def test_what_has_no_line_for_it_says_what_to_do(name: str) -> None:
    with pytest.raises(ChoiceError, match="not drawn into this make") as refusal:
        figured(pattern(name), BODIES[0], {}, {"hip_height": 1.0})
    assert refusal.value.mend.endswith(".")


def test_a_casing_too_wide_for_the_climb_is_refused_with_the_width_that_folds() -> None:
    told = 0
    for draft, body in product((TROUSERS, JOGGER, PYJAMAS), BODIES):
        try:
            draft.make(body, {"side_waist": RAISED})
        except ChoiceError as refusal:
            bounds = re.search(
                r"up to ([\d.]+) cm is possible(?:, and with elastic of ([\d.]+))?", refusal.mend
            )
            if bounds is None or "side_waist" not in refusal.where:
                continue
            told += 1
            draft.make(body, {"side_waist": float(bounds[1])})
            if bounds[2]:
                draft.make(body, {"side_waist": RAISED, "elastic_width": float(bounds[2])})
    assert told > 10


def test_most_adults_can_have_a_side_a_centimetre_higher_over_the_usual_elastic() -> None:
    """One S bent too sharply at its ends; two even bows climb half as far again."""
    for draft in (TROUSERS, JOGGER):
        for body in (body for body in BODIES if not body.child):
            assert check(draft.make(body, {"side_waist": 1.0})) == ()


def test_two_sides_whose_casings_differ_are_not_joined() -> None:
    level, narrow = (TROUSERS.make(BODIES[0], {"elastic_width": width}) for width in (3.0, 2.0))
    with pytest.raises(GarmentError, match=r"4\.6 cm on the left and 3\.6 cm on the right"):
        of_two(level, narrow)


def test_a_side_too_far_above_a_lowered_centre_is_refused() -> None:
    with pytest.raises(ChoiceError, match=r"climb 4\.0 cm") as refusal:
        A_LINE.make(BODIES[0], {"side_waist": 2.0, "back_waist": -2.0})
    assert "Up to 1 cm" in refusal.value.mend


@pytest.mark.parametrize("body", [body for body in BODIES if not body.child], ids=shown)
def test_a_raised_waist_of_a_flared_skirt_still_goes_over_the_hips(body: Body) -> None:
    """Higher up the cone is narrower: the panels are so much wider."""
    wish = {"flare": 6.0, "front_waist": 1.0, "back_waist": 1.0, "elastic_width": NARROW}
    assert [str(fault) for fault in check(FOUR_PANEL.make(body, wish))] == []


def test_an_a_line_waist_that_cannot_be_had_is_refused_not_left_to_crash() -> None:
    """Lowered at both centres, the waist of a body with hardly a dart is longer than the body's."""
    girls = (body for body in sample("girl", 60, seed=5) if (body.age_years or 0) >= A_LINE.least_age)
    refused = 0
    for body in girls:
        try:
            A_LINE.make(body, {"front_waist": -2.0, "back_waist": -2.0})
        except ChoiceError as no:
            refused += "longer than the body's" in no.what
    assert refused
