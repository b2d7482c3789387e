"""The way in: a lay problem becomes a verified plan.

plan(problem, layering)   least length of this layering
best_plan(problem)        the best layering is found, not asked
fits(problem)             yes with a plan, proved impossible with the reason, or not found
width_table(...)          metres for several widths of cloth
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from clothwise.errors import ClothError, LayError
from clothwise.lay.moves import Move, Setting, Variant, set_out
from clothwise.lay.nofit import NoFits
from clothwise.lay.plan import LayAnswer, LayPlan, Placement
from clothwise.lay.problem import FOLDED, SINGLE, TO_CENTRE, LayCloth, Layering, LayProblem
from clothwise.lay.search import EFFORTS, PROVED, Effort, Lay, least_length, shortest
from clothwise.lay.verify import faults
from clothwise.tolerance import LAY_FOLD

LAYERINGS: tuple[Layering, ...] = (FOLDED, TO_CENTRE, SINGLE)
SIMPLER_WORTH = 1.0  # cm of cloth: so much longer may a lay be that needs fewer cuts, and still be preferred


def plan(
    problem: LayProblem,
    layering: Layering = SINGLE,
    *,
    effort: str = "usual",
    known: NoFits | None = None,
    seeds: Sequence[LayPlan] = (),
) -> LayPlan:
    """The shortest lay found for this cloth width and layering, verified. The cloth's length is not asked.

    effort  'quick' (some 10 ms for a garment of few pieces), 'usual' (about a second), 'thorough'
    known   no-fit polygons found before; hand the same one in again to save their making
    seeds   plans of the same pieces in other layerings: a folded lay is a lay in a single layer too
    Raises  LayError when a piece fits nowhere
    """
    return _planned(problem, layering, _effort(effort), known or NoFits(), seeds, enough=0.0)


def best_plan(
    problem: LayProblem,
    *,
    effort: str = "usual",
    known: NoFits | None = None,
    layerings: Sequence[Layering] = LAYERINGS,
) -> LayPlan:
    """The shortest of all layerings; of nearly equal ones that with the fewest cuts.

    Raises  LayError when no layering holds every piece
    """
    found, refused = _tried(problem, _effort(effort), known or NoFits(), layerings)
    if not found:
        raise refused[-1]
    least = min(p.length for p in found)
    near = [p for p in found if p.length <= least + SIMPLER_WORTH]
    return min(near, key=lambda p: (p.cuts, p.length))


def fits(problem: LayProblem, *, effort: str = "usual", known: NoFits | None = None) -> LayAnswer:
    """Can everything be cut from this length of cloth?

    Raises  ClothError when the cloth's length is not given
    """
    cloth = problem.cloth
    if cloth.length is None:
        raise ClothError(
            "The cloth has no length.", where="cloth: length", mend="Give the length in centimetres."
        )
    if problem.area_cm2 > cloth.length * cloth.width:
        return LayAnswer(
            "impossible",
            f"The pieces cover {problem.area_cm2 / 1e4:.2f} m2, the cloth only "
            f"{cloth.length * cloth.width / 1e4:.2f} m2.",
        )
    too_long = _longer_than_cloth(problem)
    if too_long:
        return LayAnswer("impossible", too_long)
    found, refused = _tried(problem, _effort(effort), known or NoFits(), LAYERINGS, enough=cloth.length)
    fitting = [p for p in found if p.length <= cloth.length]
    if fitting:
        best = min(fitting, key=lambda p: (p.cuts, p.length))
        return LayAnswer("yes", f"It fits, {best.layering}, on {best.length:.1f} cm.", best, best)
    if not found:
        return LayAnswer("impossible", refused[-1].what)
    least = min(found, key=lambda p: p.length)
    return LayAnswer(
        "not found",
        f"The shortest lay found at effort '{effort}' needs {least.length:.1f} cm, "
        f"{least.length - cloth.length:.1f} cm more than there is.",
        None,
        least,
    )


def width_table(
    problem: LayProblem, widths: Sequence[float], *, effort: str = "usual", known: NoFits | None = None
) -> tuple[tuple[float, LayPlan | None], ...]:
    """The best plan for each width of cloth, None where a piece is too wide."""
    known = known or NoFits()
    rows: list[tuple[float, LayPlan | None]] = []
    for width in widths:
        cloth = LayCloth(width, None, problem.cloth.nap, problem.cloth.two_right_sides)
        try:
            rows.append((width, best_plan(replace(problem, cloth=cloth), effort=effort, known=known)))
        except LayError:
            rows.append((width, None))
    return tuple(rows)


def _effort(name: str) -> Effort:
    if name not in EFFORTS:
        raise LayError(
            f"An effort called '{name}' is not known.", where="lay: effort", mend=f"Say {', '.join(EFFORTS)}."
        )
    return EFFORTS[name]


def _tried(
    problem: LayProblem, effort: Effort, known: NoFits, layerings: Sequence[Layering], *, enough: float = 0.0
) -> tuple[list[LayPlan], list[LayError]]:
    """A plan for each layering that holds every piece; the single layer last, seeded by the others."""
    found: list[LayPlan] = []
    refused: list[LayError] = []
    for layering in sorted(layerings, key=lambda one: one == SINGLE):
        try:
            found.append(_planned(problem, layering, effort, known, found, enough=enough))
        except LayError as error:
            refused.append(error)
    return found, refused


def _planned(
    problem: LayProblem,
    layering: Layering,
    effort: Effort,
    known: NoFits,
    seeds: Sequence[LayPlan],
    *,
    enough: float,
) -> LayPlan:
    setting = set_out(problem, layering, known, slack=effort.slack)
    areas = np.array([move.piece.area_cm2 / move.piece.count * len(move.copies) for move in setting.moves])
    lay = shortest(setting.tables, areas, problem.cloth.width, effort, enough=enough)
    made = _plan_of(setting, lay)
    least = least_length(setting.tables, areas, problem.cloth.width)
    made = replace(made, optimal=made.length <= least + PROVED)
    for seed in seeds:
        if layering == SINGLE and seed.length < made.length:
            made = opened(seed)
    return checked(made)


def checked(made: LayPlan) -> LayPlan:
    """The plan marked as verified; a fault here is our own bug."""
    free = replace(made, problem=replace(made.problem, cloth=replace(made.problem.cloth, length=None)))
    wrong = faults(free)
    if wrong:
        raise AssertionError(f"The lay failed its check: {' '.join(wrong)}")
    return replace(made, verified=True)


def _plan_of(setting: Setting, lay: Lay) -> LayPlan:
    placements: list[Placement] = []
    for i, move in enumerate(setting.moves):
        variant = _variant_of(setting, i, int(lay.chosen[i]))
        placements += _placements_of(setting, move, variant, float(lay.places[i, 0]), float(lay.places[i, 1]))
    pieces = {piece.name: piece for piece in setting.problem.pieces}
    length = max(x for p in placements for x, _ in p.outline_on_cloth(pieces[p.piece]))
    return LayPlan(setting.problem, setting.layering, tuple(placements), length)


def _variant_of(setting: Setting, i: int, v: int) -> Variant:
    return setting.moves[i].variants[v - int(setting.tables.first_variant[i])]


def _placements_of(setting: Setting, move: Move, variant: Variant, x: float, y: float) -> list[Placement]:
    """The copies of one move, in the piece's own axes."""
    name = move.piece.name
    shape = variant.images[0].shape
    ox, oy = setting.templates.origin[shape.template]
    dx, dy = x + shape.sx * ox, y + shape.sy * oy
    if move.how == "on the fold":
        line = y
        over = _half_lies_above(move, variant.angle)
        # the half turned over lies on the other side of the fold: its own axis is reflected there
        dy = 2 * line - dy if over else dy
        return [Placement(name, move.copies[0], over, variant.angle, dx, dy, "on the fold", variant.fold)]
    if move.how == "double":
        line = variant.images[1].shift / 2
        a = (variant.mirrored, variant.angle, dy)
        b = (not variant.mirrored, -variant.angle % 360, 2 * line - dy)
        drawn, turned = (b, a) if variant.mirrored else (a, b)
        return [
            Placement(name, copy, over, angle, dx, at, "double", variant.fold)
            for copy, (over, angle, at) in zip(move.copies, (drawn, turned), strict=True)
        ]
    return [Placement(name, move.copies[0], variant.mirrored, variant.angle, dx, dy, move.how)]


def _half_lies_above(move: Move, angle: float) -> bool:
    """Would the half as drawn lie on the upper side of the fold? Then it is turned over to lie on the lower."""
    laid = Placement(move.piece.name, 0, False, angle, 0.0, 0.0).carry(move.piece.outline)
    assert move.piece.fold_edge is not None
    edge = Placement(move.piece.name, 0, False, angle, 0.0, 0.0).carry(move.piece.fold_edge)[0][1]
    return sum(y for _, y in laid) / len(laid) > edge


def opened(folded: LayPlan) -> LayPlan:
    """A folded lay cut open in a single layer: the same places, nothing doubled."""
    pieces = {piece.name: piece for piece in folded.problem.pieces}
    placements = []
    for p in folded.placements:
        if p.how == "on the fold":
            piece = pieces[p.piece]
            if p.mirrored:  # the whole is symmetric: laid unmirrored about the same fold line
                assert piece.fold_edge is not None
                line = p.carry(piece.fold_edge)[0][1]
                p = replace(p, mirrored=False, dy=2 * line - p.dy)
            placements.append(replace(p, how="unfolded", fold=None))
        else:
            placements.append(replace(p, how="single", fold=None) if p.how == "double" else p)
    return replace(folded, layering=SINGLE, placements=tuple(placements), optimal=False)


def _longer_than_cloth(problem: LayProblem) -> str:
    """A sentence when some piece is longer than the cloth at every angle allowed; else nothing."""
    cloth = problem.cloth
    assert cloth.length is not None
    for piece in problem.pieces:
        turns = {0.0, *(a for a in piece.angles if cloth.nap == "none" or len(piece.angles) == 1)}
        if piece.angles != (0.0,):
            turns.discard(0.0) if 0.0 not in piece.angles else None
        spans = []
        for angle in turns:
            xs = [x for x, _ in Placement(piece.name, 0, False, angle, 0.0, 0.0).carry(piece.outline)]
            spans.append(max(xs) - min(xs))
        if spans and min(spans) > cloth.length + LAY_FOLD:
            return f"Piece '{piece.title}' is {min(spans):.1f} cm long and the cloth {cloth.length:.1f} cm."
    return ""
