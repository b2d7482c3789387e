"""Several choices at once, as a sewer sets them: bodies and choices that once broke a rule, and refusals whose
bound once could not be had. By lot they are swept in `benchmarks.drafts`.
"""

from __future__ import annotations

import re
from contextlib import suppress
from functools import lru_cache
from itertools import pairwise

import pytest
from benchmarks.draft_combinations import combinations

from clothwise.body import Body, Figure, sample
from clothwise.draft import PATTERNS, HouseDraft, pattern
from clothwise.errors import ChoiceError, MeasureError
from clothwise.garment import Garment
from clothwise.garment.check import check

Wish = dict[str, float | str]
SEAMED, SHAPED = "shaped, with a waist seam", "shaped by darts"


@lru_cache
def people(figure: Figure) -> tuple[Body, ...]:
    return tuple(body for body in sample(figure, 60, 2026) if not body.child or (body.age_years or 0) >= 4)


def made(name: str, figure: Figure, wish: Wish) -> list[Garment]:
    """On all of them that can have it."""
    found = []
    for body in people(figure):
        try:
            found.append(pattern(name).make(body, wish))
        except ChoiceError:
            continue
    assert len(found) > 9, "hardly anyone can have it"
    return found


@pytest.mark.parametrize(
    ("name", "figure", "wish"),
    [
        ("darted_shift", "woman", {"sleeve": "long", "neck_depth": 10.0, "waist": SEAMED, "fit": "loose"}),
        ("darted_shift", "woman", {"sleeve": "long", "neck_depth": 10.0, "cap_ease": 4.0, "bust_ease": 6.6}),
        ("darted_shift", "girl", {"neckline": "square", "neck_depth": 10.0, "sleeve": "long", "cap_ease": 0.0}),
        ("darted_shift", "girl", {"bust_ease": 24.0, "waist": SEAMED, "sleeve": "short"}),
        ("darted_shift", "woman", {"waist": SEAMED, "dart": "waist", "waist_ease": 25.0}),
        ("darted_shift", "girl", {"length": "dress", "side_slit": 25.0, "hip_ease": 28.3, "waist": SHAPED}),
        ("bias_camisole", "girl", {"neck_depth": -2.9, "edges": "faced", "strap_width": 0.6}),
        ("cut_on_sleeve_tee", "man", {"length": "top", "longer": -18.0, "bust_ease": 40.0}),
        ("cut_on_sleeve_tee", "boy", {"length": "crop", "hip_ease": 30.0, "neckline": "V"}),
        (
            "button_front_shirt",
            "man",
            {"hem_shape": "straight", "length": "tunic", "side_slit": 9.0, "hem": 8.0},
        ),
    ],
)
def test_every_rule_holds(name: str, figure: Figure, wish: Wish) -> None:
    for garment in made(name, figure, wish)[::3]:
        assert [str(fault) for fault in check(garment)] == [], garment.body_name


@pytest.mark.parametrize(
    ("name", "figure", "wish", "choice"),
    [
        ("darted_shift", "woman", {"neck_depth": -6.0, "neck_width": 0.6}, "neck_depth"),
        ("raglan_pullover", "man", {"low_shoulder": 0.8, "neck_girth": 90.0}, "neck_girth"),
        ("raglan_pullover", "woman", {"back": "buttons", "neck_girth": 90.0, "fit": "easy"}, "neck_girth"),
        ("raglan_pullover", "woman", {"arm_ease": 30.0, "fit": "easy"}, "arm_ease"),
        ("cut_on_sleeve_tee", "girl", {"hip_ease": -30.0, "stretch": 57.8}, "hip_ease"),
        ("cut_on_sleeve_tee", "boy", {"hip_ease": 40.0, "length": "crop"}, "hip_ease"),
        ("cut_on_sleeve_tee", "boy", {"neck_width": 6.0, "neckline": "scoop"}, "neck_width"),
        ("sweatshirt", "boy", {"bust_ease": -10.0, "stretch": 10.0}, "bust_ease"),
        ("bias_camisole", "woman", {"longer": -20.0, "flare": 5.9}, "longer"),
        ("darted_shift", "girl", {"length": "dress", "side_slit": 5.0, "hem": 8.0}, "side_slit"),
    ],
)
def test_a_bound_that_is_told_can_be_had(name: str, figure: Figure, wish: Wish, choice: str) -> None:
    told = 0
    for body in people(figure):
        refused = refusal(name, body, wish)
        bounds = re.findall(r"[+-]?\d+(?:\.\d+)?", refused.mend) if refused and choice in refused.where else []
        for bound in bounds:
            again = refusal(name, body, {**wish, choice: float(bound)})
            assert again is None or f"'{choice}'" not in again.where, again
        told += bool(bounds)
    assert told > 2, "hardly anyone is refused"


def refusal(name: str, body: Body, wish: Wish) -> ChoiceError | None:
    try:
        pattern(name).make(body, wish)
    except ChoiceError as no:
        return no
    return None


# ---- by lot -----------------------------------------------------------------------------------------------

FIGURES: tuple[Figure, ...] = ("woman", "girl", "man", "boy")
BY_LOT, LOT = 8, 20261126  # wishes a draft, and the seed they come from
CHOICES = re.compile(r"'([a-z_]+)'")


@pytest.mark.parametrize("draft", PATTERNS[:12], ids=lambda draft: draft.name)
def test_no_rule_is_broken_by_choices_drawn_by_lot(draft: HouseDraft) -> None:
    for number, wish in enumerate(combinations(draft, BY_LOT, LOT)):
        body = people(FIGURES[number % len(FIGURES)])[number]
        garment = admitted(draft, body, wish)
        assert [str(fault) for fault in check(garment)] == [], (body.name, garment.choices)
        if "finished_length" in garment.choices:
            asked = float(garment.choices["finished_length"]) + float(garment.choices["longer"])
            assert garment.finished[draft.length_shown] == pytest.approx(asked, abs=0.02)


def admitted(draft: HouseDraft, body: Body, wish: Wish) -> Garment:
    """What of it can be had: each choice that is refused is given up. A refusal names it, and what would do."""
    while no := refusal(draft.name, body, wish):
        assert no.where, no
        assert no.mend, no
        named = [name for name in CHOICES.findall(no.where) if name in wish] or list(wish)
        assert named, f"refused as it stands: {no}"
        wish = {name: value for name, value in wish.items() if name != named[0]}
    return draft.make(body, wish)


# ---- what a cutter would measure ------------------------------------------------------------------------


def test_there_is_cloth_between_two_waist_darts() -> None:
    pairs = 0
    for garment in made("darted_shift", "girl", {"bust_ease": 24.0, "waist": SHAPED}):
        for name in ("front", "back"):
            darts = [d for d in garment.piece(name).darts if d.name.startswith(f"{name}_waist")]
            legs = sorted(leg.x for dart in darts for leg in (dart.first_leg, dart.second_leg))
            for left, right in zip(legs[1:-1:2], legs[2:-1:2], strict=True):
                assert right - left >= 1.0
                pairs += 1
    assert pairs > 10


def test_the_hem_of_a_short_tee_is_one_bow() -> None:
    """Square to the fold and to sides that lean, it neither rises before it falls nor falls before it rises."""
    for wish in ({"length": "crop"}, {"length": "crop", "bust_ease": 30.0}):
        for garment in made("cut_on_sleeve_tee", "man", wish)[::4]:
            heights = [p.y for p in garment.piece("front").edge("hem").curve.flattened(tolerance=0.01)]
            steps = [b - a for a, b in pairwise(heights)]
            assert min(steps) > -0.02 or max(steps) < 0.02, garment.body_name


def test_a_loose_waist_too_tight_for_the_bust_is_sent_to_a_looser_fit() -> None:
    wish: Wish = {"fit": "close", "back_opening": "slit", "neck_width": 0.0}
    told = [
        no for body in people("man") if (no := refusal("darted_shift", body, wish)) and "pass over" in no.what
    ]
    assert told
    assert all("looser fit" in no.mend for no in told)


# ---- below the waist ---------------------------------------------------------------------------------------


def test_leggings_as_short_as_can_be_had_have_their_thigh_line_on_the_cloth() -> None:
    """Of cloth that hardly stretches the leg tapers so fast that the hem, square to both seams, bows up."""
    draft, told = pattern("leggings"), 0
    for body in (*people("woman")[:20], *people("man")[:20]):
        wish: Wish = {"length": "above-knee", "stretch": 25.0, "longer": -20.0}
        try:
            least = refusal("leggings", body, wish)
        except MeasureError:
            continue  # a crotch length that no wish mends
        if least is None:
            continue
        told += 1
        garment = draft.make(body, {**wish, "longer": float(least.mend.split("body ")[1].split()[0])})
        leg = garment.piece("leg")
        assert (
            max(point.y for point in leg.edge("hem").curve.flattened(tolerance=0.05))
            < leg.mark("thigh").curve.start.y
        )
        assert check(garment) == ()
    assert told > 10


def test_a_casing_takes_all_the_room_the_waist_has() -> None:
    """It is not measured in halves of a centimetre, as hems are: 3 cm of elastic were once refused for 2.9."""
    had = [refusal("pyjama_bottoms", body, {"elastic_width": 3.0}) is None for body in people("woman")]
    assert sum(had) > 0.7 * len(had)


@pytest.mark.parametrize(
    ("name", "figure", "wish"),
    [
        ("pull_on_trousers", "girl", {"elastic_width": 6.0, "leg": "wide"}),
    ],
)
def test_the_widest_elastic_that_is_told_can_be_had(name: str, figure: Figure, wish: Wish) -> None:
    """A narrower casing lets the waist bend more: the bound is of the trousers that are then drawn."""
    told = 0
    for body in people(figure)[::3]:
        no = refusal(name, body, wish)
        bound = re.search(r"up to ([\d.]+) cm", no.mend) if no else None
        if bound:
            told += 1
            assert check(pattern(name).make(body, {**wish, "elastic_width": float(bound[1])})) == ()
    assert told > 2


@pytest.mark.parametrize(
    ("name", "figures", "wish"),
    [
        ("robe", ("boy", "girl"), {"low_shoulder": 0.5, "pockets": "none", "overlap": -8.0}),
        ("bias_camisole", ("girl", "boy"), {"longer": -9.0, "flare": 15.0}),
        (
            "darted_shift",
            ("woman",),
            {"hip_ease": 4.0, "waist": "shaped, with a waist seam", "sleeve": "short", "longer": -11.0},
        ),
    ],
)
def test_fronts_that_do_not_meet_and_short_flared_tops_can_be_cut_and_sewn(
    name: str, figures: tuple[Figure, ...], wish: Wish
) -> None:
    """A grain arrow once lay outside the front, sides bent sharper than their allowance, and a bodice was 5 mm
    shorter at the waist than its skirt."""
    drawn = 0
    for body in (body for figure in figures for body in people(figure)):
        with suppress(ChoiceError, MeasureError):
            garment = pattern(name).make(body, wish)
            assert check(garment) == ()
            drawn += 1
    assert drawn > 3
