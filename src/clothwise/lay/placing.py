"""From the places of the search to placements on the cloth, and back.

The way back lets a lay of another kind be the start of a search: a folded lay cut open, a lay for one way on
cloth that permits two, a lay for narrower cloth.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from clothwise.lay.layering import FOLDED, SINGLE
from clothwise.lay.moves import Setting
from clothwise.lay.overlap import BIG, TRAIL, allowed, measure
from clothwise.lay.placement import Placement
from clothwise.lay.plan import LayPlan
from clothwise.lay.search import Lay
from clothwise.lay.tables import Move, Variant
from clothwise.tolerance import LAY_ANGLE_DEG, LAY_FOLD


def plan_of(setting: Setting, lay: Lay) -> LayPlan:
    """The lay as placements, what is pinned among them."""
    placements = list(setting.problem.pinned)
    for i, move in enumerate(setting.moves):
        variant = move.variants[int(lay.chosen[i]) - int(setting.tables.first_variant[i])]
        placements += _placements(setting, move, variant, float(lay.places[i, 0]), float(lay.places[i, 1]))
    pieces = {piece.name: piece for piece in setting.problem.pieces}
    length = max(x for p in placements for x, _ in p.outline_on_cloth(pieces[p.piece]))
    return LayPlan(setting.problem, setting.layering, tuple(placements), length)


def lay_of(setting: Setting, plan: LayPlan, *, near: float = LAY_FOLD) -> Lay | None:
    """A plan of the same pieces as a lay of the search; None when it is none in this setting.

    On cloth folded down the middle what was laid on narrower cloth moves along with the fold. Pieces may
    overlap: the search must part them. A piece that lies less than `near` off a place it may have is put right.
    """
    seed = opened(plan) if setting.layering == SINGLE else plan
    if seed.layering != setting.layering:
        return None
    wider = setting.problem.cloth.width - plan.problem.cloth.width
    shift = wider / 2 if seed.layering == FOLDED else 0.0
    laid = {(p.piece, p.copy): p for p in seed.placements}
    t = setting.tables
    places = np.zeros((len(t.first_variant) - 1, 2))
    chosen = t.first_variant[:-1].copy()
    for i, move in enumerate(setting.moves):
        found = _matching(setting, move, laid, shift, near)
        if found is None:
            return None
        at, places[i, 0], places[i, 1] = found
        chosen[i] += at
        x, y = allowed(t, int(chosen[i]), BIG, places[i, 0], places[i, 1])
        if max(abs(x - places[i, 0]), abs(y - places[i, 1])) > near:
            return None
        places[i] = x, y
    ends = places[: t.movable, 0] + t.box[chosen[: t.movable], TRAIL]
    return Lay(places, chosen, float(ends.max(initial=0.0)))


def is_apart(setting: Setting, lay: Lay) -> bool:
    """Does nothing overlap?"""
    n = len(lay.chosen)
    return bool(measure(setting.tables, lay.places, lay.chosen, np.zeros((n, n))) == 0.0)


def _matching(
    setting: Setting, move: Move, laid: dict[tuple[str, int], Placement], shift: float, near: float
) -> tuple[int, float, float] | None:
    """The variant of a move, and its place, that says the same as these placements.

    Of a pair the copy that lies in the variant's own band is asked; the other one is its image.
    """
    for at, variant in enumerate(move.variants):
        shape = variant.images[0].shape
        ox, oy = setting.templates.origin[shape.template]
        for copy in move.copies:
            one = laid.get((move.piece.name, copy))
            if one is None or one.how != move.how or (one.fold if one.fold is not None else -1) != variant.fold:
                continue
            if abs((one.angle - variant.angle + 180) % 360 - 180) > LAY_ANGLE_DEG:
                continue
            if move.how == "on the fold":
                return at, one.dx - shape.sx * ox, variant.low_y
            y = one.dy + shift - shape.sy * oy
            if one.mirrored == variant.mirrored and variant.low_y - near <= y <= variant.high_y + near:
                return at, one.dx - shape.sx * ox, y
    return None


def _placements(setting: Setting, move: Move, variant: Variant, x: float, y: float) -> list[Placement]:
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
