"""The engine behind the lay: depths are exact, proofs hold, more freedom never costs, and it can be watched."""

from __future__ import annotations

import contextlib
import itertools
import json
import math
import subprocess
import sys
from dataclasses import replace

import numpy as np
import pytest
from benchmarks.lay_pieces import RAGLAN
from benchmarks.lay_remnants import case, without_lay
from shapely.geometry import MultiPoint, Point, Polygon

from clothwise.errors import LayError
from clothwise.lay.layering import FOLDED, SINGLE, TO_CENTRE, Layering
from clothwise.lay.moves import set_out
from clothwise.lay.nofit import NoFits
from clothwise.lay.overlap import BIG, spread
from clothwise.lay.packing import Packed, kinds, proposed, strip_height
from clothwise.lay.piece import LayPiece
from clothwise.lay.placing import lay_of, opened
from clothwise.lay.plan import LayPlan
from clothwise.lay.planning import SIMPLER_WORTH, best_plan, checked, fits, layering_table, plan
from clothwise.lay.problem import LayCloth, LayProblem
from clothwise.lay.search import EFFORTS, Effort
from clothwise.lay.verify import faults
from clothwise.race.packer import packed
from clothwise.race.racing import RACED, race

from .laid_by_hand import FRONT_LEG, SKIRT, TOP, TROUSERS, problem, rectangle

A_HAIR = 0.001  # cm
PROOF = 0.06  # cm: the proof's outlines may be thinned by 0.02 cm each, and its steps are 0.01 cm
MANY = (  # 14 copies of plain shapes: enough for the strip packer to play
    LayPiece("wedge", "Wedge", ((0, 0), (30, 0), (0, 22)), 6, mirrored_pair=True),
    LayPiece("hook", "Hook", ((0, 0), (24, 0), (24, 8), (8, 8), (8, 26), (0, 26)), 6),
    LayPiece("yoke", "Yoke", ((0, 0), (20, 0), (16, 9), (0, 9)), 2, on_fold=True, fold_edge=((0, 0), (0, 9))),
)


# ---- depths ----------------------------------------------------------------------------------------


def test_a_depth_is_the_way_out_of_the_no_fit_polygon_to_the_last_digit():
    """Against shapely: how far the difference of two legs lies inside their no-fit polygon."""
    t = set_out(problem(TROUSERS, 140), SINGLE, NoFits(), slack=0.05).tables
    rng = np.random.default_rng(3)
    chosen = t.first_variant[:-1].copy()
    places = np.array([[60.0, 60.0], *([[1e6, 1e6]] * (len(chosen) - 1))])
    row, even = np.zeros(len(chosen)), np.ones(len(chosen))
    deep = 0
    for j in range(1, len(chosen)):
        k = t.nofit[t.shape[t.first_image[chosen[0]]], t.shape[t.first_image[chosen[j]]]]
        flip = t.flip[t.shape[t.first_image[chosen[0]]], t.shape[t.first_image[chosen[j]]]]
        ring = Polygon(t.edge[t.first_edge[k] : t.first_edge[k + 1], :2])
        assert ring.is_valid, "legs are without pockets: one ring"
        for _ in range(300):
            x, y = rng.uniform(-150, 150, 2) + places[0]
            spread(t, j, chosen[j], x, y, places, chosen, 0, even, BIG, row)
            inside = Point((x - places[0, 0]) * flip[0], (y - places[0, 1]) * flip[1])
            wanted = ring.exterior.distance(inside) if ring.contains(inside) else 0.0
            deep += wanted > 1
            assert row[0] == pytest.approx(wanted, abs=1e-4)
    assert deep > 100


# ---- proofs ----------------------------------------------------------------------------------------


def convex(rng: np.random.Generator) -> tuple[tuple[float, float], ...]:
    points = Polygon(rng.uniform(0, 40, (7, 2))).convex_hull.exterior.coords[:-1]
    return tuple((float(x), float(y)) for x, y in points)


def shortest_on_a_grid(one: Polygon, other: Polygon, width: float, step: float) -> float:
    """The least length of two convex pieces, heights tried in steps; by Minkowski sums, without our engine."""
    best = math.inf
    corners = itertools.product(one.exterior.coords, other.exterior.coords)
    sum_hull = MultiPoint([(ax - bx, ay - by) for (ax, ay), (bx, by) in corners]).convex_hull
    x0, y0, x1, y1 = one.bounds
    u0, v0, u1, v1 = other.bounds
    heights = np.arange(-v0 + y0 - width, width - v0 - y0 + step, step)
    for dy in heights:  # other moved by dy against one
        low, high = min(y0, v0 + dy), max(y1, v1 + dy)
        if high - low > width:
            continue
        xs = _interval(sum_hull, dy)
        for dx in xs:
            best = min(best, max(x1, u1 + dx) - min(x0, u0 + dx))
    return best


def _interval(hull: Polygon, y: float) -> tuple[float, ...]:
    """Where a horizontal line leaves a convex figure; level with nothing, any shift will do."""
    found = []
    for (ax, ay), (bx, by) in itertools.pairwise(hull.exterior.coords):
        if (ay > y) != (by > y):
            found.append(ax + (y - ay) / (by - ay) * (bx - ax))
    return tuple(found) or (0.0,)


@pytest.mark.parametrize("seed", range(6))
def test_a_proved_lay_of_two_pieces_is_as_short_as_any_on_a_fine_grid(seed):
    rng = np.random.default_rng(seed)
    pieces = tuple(LayPiece(name, name, convex(rng)) for name in ("one", "other"))
    width = 46.0
    made = plan(problem(pieces, width, "one-way"), SINGLE, effort="usual")
    laid = [Polygon([(y, -x) for x, y in piece.outline]) for piece in pieces]
    grid = shortest_on_a_grid(*laid, width, 0.02)
    assert made.optimal
    assert made.length <= grid + PROOF
    assert made.length >= grid - 0.1  # a step across of 0.02 cm cannot hide more on these outlines


def test_what_is_called_shortest_is_not_beaten_by_a_long_search():
    for layering, pieces in ((FOLDED, TROUSERS), (SINGLE, (FRONT_LEG,)), (TO_CENTRE, SKIRT[:2])):
        asked = problem(pieces, 140, "two-way")
        made = plan(asked, layering, effort="usual")
        assert made.optimal, layering
        long = replace(EFFORTS["brisk"], tries=300_000, slack=0.0, name="long")
        assert plan(asked, layering, effort=long).length >= made.length - PROOF


def test_a_lay_of_many_pieces_is_not_called_shortest():
    assert not plan(problem(TOP, 112), SINGLE, effort="brisk").optimal


# ---- freedom ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("pieces", [TROUSERS, TOP])
def test_wider_single_or_two_way_never_needs_more(pieces):
    known = NoFits()
    widths = (112.0, 90.0, 140.0, 126.0)
    lengths = {}
    for nap in ("one-way", "two-way"):
        rows = layering_table(
            problem(pieces, 140, nap), widths, layerings=(FOLDED, SINGLE), effort="brisk", known=known
        )
        assert [row.width for row in rows] == list(widths)
        for row in rows:
            for made in row.plans:
                assert faults(made) == ()
                lengths[nap, made.layering, row.width] = made.length
    for nap, width in itertools.product(("one-way", "two-way"), widths):
        if (nap, FOLDED, width) in lengths:
            assert lengths[nap, SINGLE, width] <= lengths[nap, FOLDED, width] + A_HAIR
    for layering, width in itertools.product((SINGLE, FOLDED), widths):
        if ("one-way", layering, width) in lengths:
            assert lengths["two-way", layering, width] <= lengths["one-way", layering, width] + A_HAIR
    for (nap, layering), (narrow, wide) in itertools.product(
        itertools.product(("one-way", "two-way"), (SINGLE, FOLDED)), itertools.pairwise(sorted(widths))
    ):
        if (nap, layering, narrow) in lengths:
            assert lengths[nap, layering, wide] <= lengths[nap, layering, narrow] + A_HAIR


WEAK = Effort(
    "weak", builds=1, tries=1, samples=4, patience=1, rounds=0, slack=0.1
)  # gives whatever order it tries


Lengths = dict[tuple[Layering, float], float]  # by layering and width [cm]
WIDTHS = tuple(float(width) for width in range(96, 161, 8))


def alone(asked: LayProblem) -> Lengths:
    """What the weak search finds when each question is asked by itself."""
    found = {}
    for way, width in itertools.product((FOLDED, SINGLE), WIDTHS):
        with contextlib.suppress(LayError):
            one = replace(asked, cloth=replace(asked.cloth, width=width))
            found[way, width] = plan(one, way, effort=WEAK).length
    return found


def together(asked: LayProblem) -> Lengths:
    rows = layering_table(asked, WIDTHS, layerings=(FOLDED, SINGLE), effort=WEAK)
    return {(made.layering, row.width): made.length for row in rows for made in row.plans}


def disorder(one_way: Lengths, two_way: Lengths) -> dict[str, float]:
    """How much more cloth is needed with more freedom, at most. [cm]"""
    found = {"two-way": max(two_way[key] - one_way[key] for key in one_way)}
    found["single"] = max(two_way[SINGLE, width] - x for (way, width), x in two_way.items() if way == FOLDED)
    for name, way in (("wider folded", FOLDED), ("wider single", SINGLE)):
        lengths = [two_way[way, width] for width in WIDTHS if (way, width) in two_way]
        found[name] = max(wide - narrow for narrow, wide in itertools.pairwise(lengths))
    return found


def test_freedom_costs_nothing_even_where_the_search_is_too_weak_to_use_it():
    """The weak search alone is first shown to break every one of these orders, on one garment or the other."""
    by_itself = {}
    for pieces in (TOP, RAGLAN):
        naps = [problem(pieces, 140, nap) for nap in ("one-way", "two-way")]
        for order, more in disorder(*map(alone, naps)).items():
            by_itself[order] = max(more, by_itself.get(order, 0.0))
        for order, more in disorder(*map(together, naps)).items():
            assert more <= A_HAIR, order
    assert min(by_itself.values()) > 1, by_itself


def test_the_best_plan_of_freer_cloth_is_no_longer_however_weak_the_search():
    """Again the searches alone are shown to get it wrong."""
    worse = 0
    for width in range(128, 161, 16):
        one, two = problem(RAGLAN, width, "one-way"), problem(RAGLAN, width, "two-way")
        worse += plan(two, SINGLE, effort=WEAK).length > plan(one, SINGLE, effort=WEAK).length + A_HAIR
        assert best_plan(two, effort=WEAK).length <= best_plan(one, effort=WEAK).length + SIMPLER_WORTH
        ways = (SINGLE,)
        assert (
            best_plan(two, effort=WEAK, layerings=ways).length
            <= best_plan(one, effort=WEAK, layerings=ways).length + A_HAIR
        )
    assert worse


def test_a_plan_can_be_taken_up_again_by_the_search():
    for layering in (FOLDED, SINGLE):
        made = plan(problem(TOP, 140, "two-way"), layering, effort="quick")
        setting = set_out(made.problem, layering, NoFits(), slack=EFFORTS["quick"].slack)
        lay = lay_of(setting, made)
        assert lay is not None
        assert lay.length == pytest.approx(made.length, abs=A_HAIR)
    folded = plan(problem(TOP, 140), FOLDED, effort="quick")
    single = plan(problem(TOP, 140), SINGLE, effort="quick", seeds=[folded])
    assert single.length <= folded.length
    assert faults(opened(folded)) == ()


def test_a_seed_for_freer_cloth_is_not_taken_where_it_is_forbidden():
    two_way = plan(problem(TROUSERS, 140, "two-way"), SINGLE, effort="brisk")
    one_way = plan(problem(TROUSERS, 140, "one-way"), SINGLE, effort="brisk", seeds=[two_way])
    assert {p.angle for p in one_way.placements} == {0.0}
    assert one_way.length > two_way.length


# ---- remnants and what is pinned -------------------------------------------------------------------


@pytest.mark.parametrize(
    ("count", "densest", "loosest", "seed"), [(8, 0.75, 0.6, 1), (8, 0.75, 0.6, 7), (12, 0.85, 0.8, 3)]
)
def test_a_remnant_that_holds_the_pieces_is_found_to(count, densest, loosest, seed):
    answer = fits(without_lay(case(seed, count, densest, loosest)), effort="usual")
    assert answer.verdict == "yes"
    assert answer.plan is not None
    assert faults(answer.plan) == ()


def test_what_is_pinned_stays_and_the_rest_is_laid_around_it():
    first = plan(problem(TOP, 140), SINGLE, effort="quick")
    pinned = tuple(replace(p, dx=p.dx + 20) for p in first.placements if p.piece == "front")
    made = best_plan(replace(problem(TOP, 140), pinned=pinned), effort="brisk")
    assert set(pinned) <= set(made.placements)
    assert faults(made) == ()


# ---- progress --------------------------------------------------------------------------------------


def test_who_watches_hears_of_ever_shorter_verified_plans_and_may_end_the_search():
    heard: list[LayPlan] = []

    def listen(made: LayPlan | None) -> bool:
        if made is not None:
            heard.append(made)
        return True

    made = plan(problem(TOP, 112), SINGLE, effort="usual", watch=listen)
    assert len(heard) > 1
    assert all(p.verified and faults(p) == () for p in heard)
    assert all(b.length < a.length for a, b in itertools.pairwise(heard))
    assert made.length <= heard[-1].length
    ended = plan(problem(TOP, 112), SINGLE, effort="thorough", watch=lambda made: False)
    assert ended.verified


# ---- the race --------------------------------------------------------------------------------------


def test_a_packers_proposal_is_put_right_and_verified():
    asked = LayProblem(MANY, LayCloth(90, None, "two-way"), gap=0.4)
    known = NoFits()
    own = plan(asked, SINGLE, effort="quick", known=known)
    names = {(k.piece, k.mirrored): k.name for k in kinds(asked, known)}
    half = asked.gap / 2
    told = [
        Packed(names[p.piece, p.mirrored], p.angle, p.dx + half + 0.0004, p.dy + half) for p in own.placements
    ]
    made = proposed(asked, kinds(asked, known), told, known, replace(RACED, tries=100_000))
    assert made is not None
    assert checked(made).verified
    assert made.length <= own.length + 0.05
    assert proposed(asked, kinds(asked, known), told[1:], known, RACED) is None  # one is missing


def test_the_race_hands_out_a_verified_lay_no_longer_than_either_runner():
    asked = LayProblem(MANY, LayCloth(90, None, "two-way"), gap=0.4)
    made = race(asked, seconds=3)
    assert made.verified
    assert faults(made) == ()
    assert made.length <= plan(asked, SINGLE, effort="quick").length
    with pytest.raises(LayError, match=r"A race of 0\.1 seconds"):
        race(asked, seconds=0.1)


def test_a_panic_of_the_packer_is_an_answer_not_a_crash():
    question = {"height": 90, "seconds": 1, "seed": 1, "workers": 1}
    flat = {"name": "flat", "outline": [(0, 0), (9, 0), (0, 0)], "count": 1, "turns": [0.0]}
    assert "error" in packed(question | {"kinds": [flat]})
    said = subprocess.run(
        [sys.executable, "-m", "clothwise.race.packer"],
        input=json.dumps(question | {"kinds": [flat]}),
        capture_output=True,
        text=True,
        check=False,
    )
    assert "error" in json.loads(said.stdout)


def test_the_packer_packs_left_and_right_and_turns_as_the_grain_allows():
    asked = LayProblem(MANY, LayCloth(90, None, "one-way"))
    found = kinds(asked, NoFits())
    assert {(k.piece, k.mirrored): k.count for k in found} == {
        ("wedge", False): 3,
        ("wedge", True): 3,
        ("hook", False): 6,
        ("yoke", False): 2,
    }
    assert {k.turns for k in found} == {(0.0,)}
    assert strip_height(asked) >= 90
    whole = next(k for k in found if k.piece == "yoke")
    assert Polygon(whole.outline).area == pytest.approx(2 * Polygon(MANY[2].outline).area, rel=0.01)


def test_rectangles_fill_a_remnant_to_its_very_edge():
    cloth = LayCloth(60, 80, "one-way", outline=((0, 0), (80, 0), (80, 30), (40, 30), (40, 60), (0, 60)))
    four = (LayPiece("patch", "Patch", rectangle(30, 40), 3),)
    answer = fits(LayProblem(four, cloth), effort="brisk")
    assert answer.verdict == "yes", "three patches of 40 x 30 cover the whole of an L"
