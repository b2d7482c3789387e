"""A lay as paths for the page: the cloth lies as on the table, selvedges above and below, cut end at the left.

The page's y runs down, a lay's runs up: y is turned over here and nowhere else. Lengths in cm.
"""

from __future__ import annotations

import math
from typing import Any

from clothwise.lay.layering import folds_of
from clothwise.lay.piece import LayPiece
from clothwise.lay.plan import LayPlan, Placement
from clothwise.lay.stripes import bars_and_stripes

Path = str


def path_of(outline: Any, width: float) -> Path:
    """A closed outline on the cloth as SVG path data, to a tenth of a millimetre."""
    points = " ".join(f"{x:.2f} {width - y:.2f}" for x, y in outline)
    return f"M{points}Z"


def thumbnail(plan: LayPlan, have: float) -> dict[str, Any]:
    """A lay small enough for a card: one path, how much of the cloth there is, where it ends."""
    pieces = {piece.name: piece for piece in plan.problem.pieces}
    width = plan.problem.cloth.width
    outlines = (placement.outline_on_cloth(pieces[placement.piece]) for placement in plan.placements)
    return {
        "path": "".join(_coarse(outline, width) for outline in outlines),
        "width": width,
        "length": plan.length,
        "have": max(have, plan.length),
        "folds": fold_paths(plan),
    }


def fold_paths(plan: LayPlan) -> list[Path]:
    """The fold lines: along the cloth, or across it."""
    width = plan.problem.cloth.width
    return [
        f"M{fold.line:.2f} 0V{width:.2f}" if fold.across else f"M0 {width - fold.line:.2f}H{plan.length:.2f}"
        for fold in folds_of(plan.layering, width)
    ]


CLOSEST = 1.0  # cm: finer stripes are drawn thinned out, every second, third..., to be told apart


def stripe_paths(plan: LayPlan, end: float) -> list[Path]:
    """The middles of bars and of stripes, where the lay counts on them."""
    width = plan.problem.cloth.width
    found = []
    for along, (first, step) in bars_and_stripes(plan):
        far = end if along else width
        every = math.ceil(CLOSEST / step) * step
        places = [first + k * every for k in range(int(max(far - first, 0) / every) + 1)]
        lines = (f"M{x:.2f} 0V{width:.2f}" if along else f"M0 {width - x:.2f}H{end:.2f}" for x in places)
        found.append("".join(lines))
    return found


def _coarse(outline: Any, width: float) -> Path:
    """To whole millimetres and every few points: a thumbnail is a few centimetres wide."""
    step = max(1, len(outline) // 24)
    points = " ".join(f"{x:.1f} {width - y:.1f}" for x, y in outline[::step])
    return f"M{points}Z"


def laid_out(plan: LayPlan, have: float) -> dict[str, Any]:
    """A lay to work on: every copy with its outline, its number and where its middle lies."""
    pieces = {piece.name: piece for piece in plan.problem.pieces}
    width = plan.problem.cloth.width
    return {
        "width": width,
        "length": plan.length,
        "have": have,
        "layering": str(plan.layering),
        "waste": plan.waste,
        "folds": fold_paths(plan),
        "flaws": [path_of(flaw, width) for flaw in plan.problem.cloth.flaws],
        "outline": path_of(outline, width) if (outline := plan.problem.cloth.outline) else "",
        "stripes": stripe_paths(plan, max(have, plan.length)),
        "copies": [copy_of(placement, pieces[placement.piece], width) for placement in plan.placements],
    }


def copy_of(placement: Placement, piece: LayPiece, width: float) -> dict[str, Any]:
    """One copy on the cloth."""
    outline = placement.outline_on_cloth(piece)
    xs, ys = [x for x, _ in outline], [width - y for _, y in outline]
    return {
        "piece": piece.name,
        "copy": placement.copy,
        "title": piece.title,
        "number": piece.number,
        "how": placement.how,
        "angle": placement.angle,
        "mirrored": placement.mirrored,
        "path": path_of(outline, width),
        "x": (min(xs) + max(xs)) / 2,
        "y": (min(ys) + max(ys)) / 2,
        "wide": max(xs) - min(xs),
        "high": max(ys) - min(ys),
        "size": min(max(xs) - min(xs), max(ys) - min(ys)),
    }
