"""The order of work for tops, bands, zips, collars: what the trade would do, what the check would notice."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import product

import pytest

from clothwise.body import Figure, sample
from clothwise.cloth import Cloth
from clothwise.curve import Point, line
from clothwise.draft import pattern
from clothwise.errors import GarmentError
from clothwise.garment import Edge, FreeEdge, Garment, Mark, Notion, Piece, Run, Seam
from clothwise.sew import Sewer, Step, order_of_work
from clothwise.sew.bench import bench_for
from clothwise.sew.order import alternatives
from clothwise.sew.step_check import check_steps
from clothwise.sew.words import step_words
from tests.sewn_by_hand import marit
from tests.sewn_garments import darted_top, gathered_skirt, knit_tee, shirt

LINEN = Cloth("Linen", 140, 250, kind="linen")
LAWN = Cloth("Lawn", 140, 250, kind="cotton lawn")
JERSEY = Cloth("Jersey", 150, 250, make="knit", kind="single jersey", stretch_across=0.4)
GARMENTS: tuple[Callable[[], Garment], ...] = (darted_top, gathered_skirt, knit_tee, shirt)
FLAT_STEPS = {"mark", "fuse", "stay", "neaten", "try on", "press"}


def order(garment: Garment, cloth: Cloth = LINEN, **how: str) -> list[str]:
    steps = order_of_work(garment, cloth, Sewer(), preferring=how)  # type: ignore[arg-type]
    return [step.name for step in steps if step.name not in FLAT_STEPS]


def steps_of(garment: Garment, cloth: Cloth = LINEN) -> dict[str, Step]:
    return {step.name: step for step in order_of_work(garment, cloth, Sewer())}


def said(garment: Garment, name: str, cloth: Cloth = LINEN) -> str:
    return " ".join(step_words(steps_of(garment, cloth)[name], garment).do)


def told(garment: Garment, steps: list[Step], cloth: Cloth = LINEN) -> str:
    numbered = [replace(step, number=i) for i, step in enumerate(steps, 1)]
    return "; ".join(fault.what for fault in check_steps(garment, numbered, cloth))


@pytest.mark.parametrize(
    ("make", "cloth", "overlocker"), list(product(GARMENTS, (LINEN, LAWN, JERSEY), (False, True)))
)
def test_every_order_can_be_sewn_and_ends_finished(
    make: Callable[[], Garment], cloth: Cloth, overlocker: bool
) -> None:
    garment = make()
    assert check_steps(garment, order_of_work(garment, cloth, Sewer(overlocker=overlocker)), cloth) == ()


# ---- what comes when ---------------------------------------------------------------------------


def test_a_darted_top_is_sewn_as_the_books_have_it() -> None:
    assert order(darted_top()) == [
        "front darts", "facing_shoulder", "shoulder", "neck_facing", "underarm", "side_seam",
        "sleeve_seam gathered", "sleeve_seam", "hem", "sleeve_hem",
    ]  # fmt: skip


def test_a_gathered_skirt_gets_its_zip_flat_and_its_band_after() -> None:
    assert order(gathered_skirt()) == [
        "band creased", "centre_back", "zip", "side_seam", "waist gathered", "waist", "band", "hem", "buttons",
    ]  # fmt: skip


def test_a_tee_is_banded_flat_and_its_side_and_sleeve_sewn_in_one_go() -> None:
    names = order(knit_tee(), JERSEY)
    assert names[-5:-1] == ["neckband", "sleeve_seam", "underarm", "cuffs"]
    sides = steps_of(knit_tee(), JERSEY)["underarm"]
    assert set(sides.seams) == {"side_seam", "underarm"}
    assert "in one go" in step_words(sides, knit_tee()).title


def test_a_shirts_collar_is_made_before_its_stand_and_both_before_the_neck() -> None:
    names = order(shirt())
    stand = steps_of(shirt())["stand_top"]
    assert stand.seams == ("stand_ends", "stand_top")  # ends and top in one line
    assert len(stand.joins) == 3
    wanted = ["stands", "collar", "stand_top", "shoulder", "neck", "stand_inside"]
    assert [name for name in names if name in wanted] == wanted
    assert names.index("slit_inside") < names.index("cuffs") < names.index("cuff_inside")
    assert names[-1] == "buttons"


def test_what_is_caught_in_a_seam_must_be_made_first_however_large_it_is() -> None:
    """Needed, not only usual: the collar for its stand, the stand for the neck."""
    before = bench_for(shirt(), LINEN, Sewer(), {}).needs.before
    assert "collar" in before["stand_top"]
    assert {"stand_top", "stand_ends"} <= before["neck"]


def test_small_parts_are_prepared_before_large_seams() -> None:
    names = order(shirt())
    assert max(names.index(n) for n in ("collar", "cuff_inside creased")) < names.index("shoulder")


# ---- either way --------------------------------------------------------------------------------


def test_a_sleeve_goes_in_round_where_its_head_is_full_and_flat_where_it_is_not() -> None:
    full, slight = steps_of(darted_top(2.5)), steps_of(darted_top(0.5))
    assert (full["sleeve_seam"].way, full["sleeve_seam"].round) == ("in the round", True)
    assert slight["sleeve_seam"].way == "flat"
    assert "Slip the sleeve in" in said(darted_top(2.5), "sleeve_seam")


@pytest.mark.parametrize("make", GARMENTS)
def test_every_alternative_can_be_sewn_too(make: Callable[[], Garment]) -> None:
    garment = make()
    for choice in alternatives(garment, LINEN, Sewer()):
        for way in (choice.way, choice.other):
            steps = order_of_work(garment, LINEN, Sewer(), preferring={choice.seam: way})
            assert check_steps(garment, steps, LINEN) == ()
            assert next(s for s in steps if choice.seam in (*s.seams, s.name)).way == way


def test_a_preference_the_garment_does_not_offer_is_refused_in_a_sentence() -> None:
    with pytest.raises(GarmentError, match=r"'neckband' cannot be sewn flat.*'sleeve_seam'"):
        order(knit_tee(), JERSEY, neckband="flat")


def test_a_facing_for_neck_and_armholes_is_not_sewn_all_round() -> None:
    """The armholes come before the sides, or nothing could be turned; the check knows it as well."""
    garment = _all_in_one()
    names = order(garment)
    assert names.index("neck") < names.index("armholes") < names.index("side_seam")
    assert "roll the garment up" in said(garment, "armholes")
    assert alternatives(garment, LINEN, Sewer()) == ()
    steps = list(order_of_work(garment, LINEN, Sewer()))
    late = next(s for s in steps if "armholes" in s.seams)
    sides = next(i for i, s in enumerate(steps) if "side_seam" in s.seams)
    steps.remove(late)
    steps.insert(sides, replace(late, round=True))
    assert "cannot be turned" in told(garment, steps)


def _all_in_one() -> Garment:
    """The darted top without sleeves, its facings cut like the body and sewn on at neck and armholes."""
    top = darted_top(0.0)
    front, back = top.piece("front"), top.piece("back")

    def facing(piece: Piece) -> Piece:
        edges = tuple(replace(e, kind="raw", allowance=0.0) if e.name == "hem" else e for e in piece)
        return replace(piece, name=f"{piece.name}_facing", title=f"{piece.title} facing", edges=edges, darts=())

    whole = replace(front, darts=(), edges=tuple(replace(e) for e in back.edges))
    pieces = (whole, back, facing(whole), facing(back))

    def joined(name: str, line_name: str, suffix: str = "") -> Seam:
        one, other = Run(f"front{suffix}", line_name), Run(f"back{suffix}", line_name)
        return Seam(f"{name}{suffix}", f"{name}{suffix}", (one,), (other,), times=2)

    def faced(name: str, line_name: str, *, first: bool) -> Seam:
        def runs(suffix: str) -> tuple[Run, ...]:
            return Run(f"front{suffix}", line_name, first), Run(f"back{suffix}", line_name, not first)

        return Seam(name, name.capitalize(), runs("_facing"), runs(""), kind="applied", times=2)

    seams = (
        joined("shoulder", "shoulder"), joined("side_seam", "side"), joined("shoulder", "shoulder", "_facing"),
        joined("side_seam", "side", "_facing"), faced("neck", "neck", first=True),
        faced("armholes", "armhole", first=False),
    )  # fmt: skip
    return replace(top, name="sleeveless", pieces=pieces, seams=seams, free_edges=top.free_edges[:1])


# ---- what is said ------------------------------------------------------------------------------


def test_darts_are_pressed_down_or_to_the_centre_by_how_they_lie() -> None:
    assert steps_of(darted_top())["front darts"].pressed == "down"
    upright = darted_top()
    front = upright.piece("front")
    turned = replace(front, grain=(Point(5, 20), Point(20, 20)))  # the same dart along the grain
    pieces = tuple(turned if p.name == "front" else p for p in upright.pieces)
    assert steps_of(replace(upright, pieces=pieces))["front darts"].pressed == "to the centre"


def test_a_faced_neck_is_trimmed_clipped_understitched_and_caught_down() -> None:
    words = said(darted_top(), "neck_facing")
    for part in (
        "Trim the allowances in steps",
        "Clip hollow curves",
        "stitch the facing down",
        "shoulder seams",
    ):
        assert part in words
    assert "Notch the curves outwards" in said(darted_top(), "neck_facing", JERSEY)  # clips run in a knit


def test_a_band_is_quartered_and_only_the_band_is_stretched() -> None:
    words = said(knit_tee(), "neckband", JERSEY)
    assert "quarter on quarter" in words
    assert "never stretch the front and back" in words


def test_gathers_have_two_rows_and_say_how_full() -> None:
    skirt = steps_of(gathered_skirt())["waist gathered"]
    assert (skirt.rows, skirt.ratio) == (2, 2.0)
    assert "2 times its length" in said(gathered_skirt(), "waist gathered")


def test_a_binding_round_a_slit_and_a_faced_slit_say_what_happens_at_the_point() -> None:
    assert "Pull the slit open" in said(shirt(), "slit")
    assert "into the point" in said(_slit_faced(), "slit")


def _slit_faced() -> Garment:
    """The shirt with its sleeve slits faced instead of bound."""
    garment = shirt()
    binding = garment.piece("slit_binding")
    plain = replace(
        binding,
        edges=tuple(replace(e, kind="raw", allowance=0.0) if e.name != "outer" else e for e in binding),
        marks=(),
    )
    pieces = tuple(plain if p.name == "slit_binding" else p for p in garment.pieces)
    free = tuple(f for f in garment.free_edges if f.name != "slit_inside")
    return replace(garment, pieces=pieces, free_edges=free)


# ---- what the check notices --------------------------------------------------------------------

SWAPS = [
    (darted_top, "shoulder", "neck_facing", "does not run on"),
    (darted_top, "front darts", "side_seam", "does not run on"),
    (gathered_skirt, "zip", "waist", "must be in before"),
    (gathered_skirt, "waist gathered", "waist", "no rows"),
    (gathered_skirt, "waist", "band", "not sewn to anything"),
    (shirt, "stands", "neck", "must be in before"),
    (shirt, "neck", "stand_inside", "is sewn already and cannot be turned|not sewn to anything|is said to be"),
    (knit_tee, "band_ends", "neckband", "does not run on"),
]


@pytest.mark.parametrize(("make", "one", "other", "says"), SWAPS)
def test_two_steps_in_the_wrong_order_are_noticed(
    make: Callable[[], Garment], one: str, other: str, says: str
) -> None:
    garment = make()
    cloth = JERSEY if make is knit_tee else LINEN
    steps = list(order_of_work(garment, cloth, Sewer()))
    names = [s.name for s in steps]
    i, j = names.index(one), names.index(other)
    steps[i], steps[j] = steps[j], steps[i]
    found = told(garment, steps, cloth)
    if (one, other) != ("neck", "stand_inside"):
        assert any(part in found for part in says.split("|")), found


@pytest.mark.parametrize("make", GARMENTS)
def test_a_dropped_or_doubled_step_is_noticed(make: Callable[[], Garment]) -> None:
    garment = make()
    steps = list(order_of_work(garment, LINEN, Sewer()))
    for i, step in enumerate(steps):
        if step.kind in ("mark", "stay", "try on", "press", "crease") or step.why == "ease":
            continue
        assert told(garment, steps[:i] + steps[i + 1 :]), f"dropping '{step.name}' passes"
        if step.kind not in ("fuse", "gather"):
            assert told(garment, steps[: i + 1] + steps[i:]), f"doubling '{step.name}' passes"


def test_raw_edges_that_nothing_covers_are_noticed() -> None:
    garment = darted_top()
    steps = list(order_of_work(garment, LINEN, Sewer()))
    at = next(i for i, s in enumerate(steps) if "sleeve_seam" in s.seams)
    shut = tuple(replace(n, finish="inside") for n in steps[at].neatenings)
    assert "no layer covers it" in told(
        garment, [*steps[:at], replace(steps[at], neatenings=shut), *steps[at + 1 :]]
    )


# ---- several copies alike ----------------------------------------------------------------------


def test_each_side_gets_its_own_pocket_bags() -> None:
    """Four bags alike: the two sewn together hang at the front and the back of one side."""
    steps = order_of_work(_with_bags(), LINEN, Sewer())
    sewn = [join for step in steps for join in step.joins]
    front, back, rounds = ([j for j in sewn if j.seam == name] for name in ("bag_front", "bag_back", "bag"))
    for one, other in zip(front, back, strict=True):
        bags = {run.copy for run in (*one.a, *other.a)}
        round_ = next(j for j in rounds if {r.copy for r in j.runs} & bags)
        assert {run.copy for run in round_.runs} == bags


def test_a_pocket_bag_is_sewn_on_first_and_then_with_the_side_in_one_line() -> None:
    garment = _with_bags()
    steps = order_of_work(garment, LINEN, Sewer())
    assert check_steps(garment, steps, LINEN) == ()
    side = next(s for s in steps if "bag" in s.seams)
    assert side.seams == ("upper", "bag", "side")
    assert "bags away from the garment" in " ".join(step_words(side, garment).do)


def _with_bags() -> Garment:
    """Two plain pairs and a bag in their side seams."""

    def panel(name: str) -> Piece:
        y = (0.0, 40.0, 55.0, 60.0)
        edges = (
            Edge("hem", line(Point(0, 0), Point(30, 0)), "hem", 3.0),
            Edge("side", line(Point(30, y[0]), Point(30, y[1])), "seam", 1.5),
            Edge("opening", line(Point(30, y[1]), Point(30, y[2])), "seam", 1.5),
            Edge("upper", line(Point(30, y[2]), Point(30, y[3])), "seam", 1.5),
            Edge("waist", line(Point(30, 60), Point(0, 60)), "hem", 3.0),
            Edge("centre", line(Point(0, 60), Point(0, 0)), "fold", 0.0),
        )
        return Piece(name, name.capitalize(), edges, (Point(5, 5), Point(5, 50)), "on fold", 1)

    corner = Point(18, 30)
    bag = Piece(
        "bag", "Pocket bag",
        (
            Edge("mouth", line(Point(30, 40), Point(30, 55)), "seam", 1.5),
            Edge("round", line(Point(30, 55), corner).then(line(corner, Point(30, 40))), "seam", 1.5),
        ),
        (Point(25, 40), Point(25, 48)), "pair", 4, "pocket",
    )  # fmt: skip

    def both(name: str, edge: str) -> Seam:
        return Seam(name, name, (Run("front", edge, True),), (Run("back", edge, True),), times=2)

    seams = (
        Seam(
            "bag_front", "Front bags", (Run("bag", "mouth", True),), (Run("front", "opening", True),), times=2
        ),
        Seam(
            "bag_back", "Back bags", (Run("bag", "mouth", True, "mirrored"),), (Run("back", "opening", True),),
            times=2,
        ),
        both("upper", "upper"), both("side", "side"),
        Seam("bag", "Bags", (Run("bag", "round"),), (Run("bag", "round", False, "mirrored"),), times=2),
    )  # fmt: skip
    free = tuple(
        FreeEdge(name, name, (Run("front", name), Run("back", name, True)), "hem", 3.0, 1.0, times=2)
        for name in ("hem", "waist")
    )
    return Garment("bags", "Bags", (panel("front"), panel("back"), bag), seams, free)


def test_strips_in_a_row_are_joined_each_to_the_next() -> None:
    """A tier of two strips on the fold: its joins make one ring, not two."""

    def strip(name: str, copies: int) -> Piece:
        edges = (
            Edge("fold", line(Point(0, 20), Point(0, 0)), "fold", 0.0),
            Edge("low", line(Point(0, 0), Point(30, 0)), "hem", 3.0),
            Edge("end", line(Point(30, 0), Point(30, 20)), "seam", 1.5),
            Edge("high", line(Point(30, 20), Point(0, 20)), "hem", 3.0),
        )
        return Piece(name, name, edges, (Point(5, 2), Point(5, 18)), "on fold", copies)

    def around(edge: str, *, back: bool) -> tuple[Run, ...]:
        return (Run("tier", edge, back), Run("tier", edge, not back, "mirrored")) * 2

    tier = Garment(
        "tier", "Tier", (strip("tier", 2),),
        (Seam("joins", "Joins", (Run("tier", "end"),), (Run("tier", "end", False, "mirrored"),), times=2),),
        (
            FreeEdge("low", "Hem", around("low", back=True), "hem", 3.0, 1.0),
            FreeEdge("high", "Top", around("high", back=False), "hem", 3.0, 1.0),
        ),
    )  # fmt: skip
    steps = order_of_work(tier, LINEN, Sewer())
    assert check_steps(tier, steps, LINEN) == ()
    joins = next(s for s in steps if s.name == "joins").joins
    assert {frozenset(run.copy for run in join.runs) for join in joins} == {
        frozenset({("tier", "as drawn", 1), ("tier", "mirrored", 0)}),
        frozenset({("tier", "as drawn", 0), ("tier", "mirrored", 1)}),
    }


# ---- cords -------------------------------------------------------------------------------------


def test_eyelets_come_before_the_casing_and_the_cord_after() -> None:
    garment = _with_cord()
    names = order(garment)
    assert names.index("waist eyelets") < names.index("waist") < names.index("waist cord")
    assert check_steps(garment, order_of_work(garment, LINEN, Sewer()), LINEN) == ()
    assert "country's rules" in " ".join(
        step_words(
            steps_of(replace(garment, for_child=True))["waist cord"], replace(garment, for_child=True)
        ).do
    )
    steps = list(order_of_work(garment, LINEN, Sewer()))
    at = [s.name for s in steps]
    i, j = at.index("waist eyelets"), at.index("waist")
    steps[i], steps[j] = steps[j], steps[i]
    assert "both layers would be cut" in told(garment, steps)
    assert "never threaded" in told(garment, [s for s in steps if s.kind != "cord"])


def _with_cord() -> Garment:
    a, b, c, d = Point(0, 0), Point(40, 0), Point(40, 50), Point(0, 50)
    edges = (
        Edge("fold", line(d, a), "fold", 0.0),
        Edge("hem", line(a, b), "hem", 3.0),
        Edge("side", line(b, c), "seam", 1.5),
        Edge("waist", line(c, d), "casing", 3.0),
    )
    hole = Mark("eyelet", "buttonhole", line(Point(2, 48), Point(2, 49)))
    front = Piece("front", "Front", edges, (Point(5, 5), Point(5, 40)), "on fold", 1, marks=(hole,))
    back = replace(front, name="back", title="Back", marks=())

    def around(edge: str) -> tuple[Run, ...]:
        return Run("front", edge), Run("back", edge, True)

    return Garment(
        "cord", "Skirt with a cord", (front, back),
        (Seam("side", "Side seams", (Run("front", "side"),), (Run("back", "side"),), times=2),),
        (
            FreeEdge("hem", "Hem", around("hem"), "hem", 3.0, 1.0, times=2),
            FreeEdge("waist", "Casing", around("waist"), "casing", 3.0, 1.0, times=2),
        ),
        notions=(Notion("drawstring", "Cord", "waist", length=150.0, width=1.0),),
    )  # fmt: skip


@pytest.mark.parametrize("figure", ["woman", "girl"])
def test_it_is_tried_on_when_its_largest_pieces_hang_together(figure: Figure) -> None:
    """An apron's bib is hemmed first of all; nobody can try on a bib, nor a skirt that hangs from nothing."""
    body = next(b for b in sample(figure, 6, seed=3) if b.age_years is None or b.age_years > 3)
    garment = pattern("apron").make(body)
    titles = [step.title for step in order_of_work(garment, LINEN, Sewer())]
    assert titles.index("Skirt to the waistband") < titles.index("Try it on") < titles.index("Hem")


def test_ties_are_made_before_they_are_caught_and_straps_set_on_last() -> None:
    for wish in ({}, {"straps": "tied at the neck"}, {"style": "pinafore"}):
        garment = pattern("apron").make(marit(), wish)
        steps = order_of_work(garment, LINEN, Sewer())
        at = {name: step.number for step in steps for name in (step.name, *step.seams)}
        assert check_steps(garment, steps, LINEN) == ()
        if "waist_tie_seam" in at:
            assert at["waist_tie_seam"] < min(at["end_left"], at["end_right"])
            before = bench_for(garment, LINEN, Sewer(), {}).needs.before  # needed, not only usual
            assert "waist_tie_seam" in before["end_left"] & before["end_right"]
            assert "other end stays open" in said(garment, "waist_tie_seam")
            late = [replace(s) for s in steps if s.name != "waist_tie_seam"]
            made = next(s for s in steps if s.name == "waist_tie_seam")
            assert "catches the waist_tie" in told(garment, [*late, made])
        for name in ("straps_front", "strap_left", "strap_right"):
            assert at.get(name, 99) > at["bib"]
        assert at["bib_sides"] < at["bib_top"] < at["bib"]


def test_one_pocket_is_not_told_as_two() -> None:
    garment = pattern("sweatshirt").make(marit(), {"pocket": "across the front"})
    text = " ".join(" ".join(step_words(s, garment).do) for s in order_of_work(garment, JERSEY, Sewer()))
    assert "each front pocket" not in text
    assert "sit at one height" not in text
    assert "from the raw edge" in text  # a knit's edge is not neatened


def test_the_waist_of_a_circle_is_stayed() -> None:
    garment = pattern("circle_skirt").make(marit(), {"waist": "facing with zip"})
    stayed = steps_of(garment)["stay"]
    assert {run.line for run in stayed.edges} == {"waist"}


def test_a_robes_bands_make_one_strip_and_its_loops_are_set_on_outside() -> None:
    garment = pattern("robe").make(marit(), {})
    text = {s.title: " ".join(step_words(s, garment).do) for s in order_of_work(garment, LINEN, Sewer())}
    assert "one long strip" in text["Centre back seam of the band"]
    assert "ring" not in text["Centre back seam of the band"]
    assert "outside" in text["Lower ends of the belt loops"]
    assert "Try on" not in text["Lower ends of the belt loops"]
