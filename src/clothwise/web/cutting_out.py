"""How the lay is cut, stage by stage, and what is left: as pictures and words for the page.

Coordinates as in `lay_drawing`: y runs down, lengths in cm.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from shapely import get_parts
from shapely.affinity import affine_transform
from shapely.geometry import Polygon, box
from shapely.geometry.base import BaseGeometry

from clothwise.cloth import Cloth
from clothwise.lay.cutting import Stage, cutting_sequence, stages
from clothwise.lay.placement import Placement
from clothwise.lay.plan import LayPlan
from clothwise.lay.stripes import stripe_words
from clothwise.store.cutting import parts_left, rests
from clothwise.suggest.cautions import caution_words
from clothwise.web.lay_drawing import Path, path_of
from clothwise.web.sheet import Reader

SPARE = 1.25  # a longer cloth is drawn up to so many times the lay (as on the paper of the lay)


def cutting_told(plan: LayPlan, cloth: Cloth, who: Reader) -> dict[str, Any]:
    """The stages with their pictures, where stripes must fall, what goes back into the cupboard."""
    return {
        "stages": list(stages_told(plan)),
        "stripes": stripe_words(plan),
        "cautions": caution_words(("blade",)),
        "left": [left_words(one, who) for one in rests(cloth, plan)],
    }


def left_paths(plan: LayPlan) -> list[Path]:
    """What is worth keeping, where it lies."""
    return [path_of(part, plan.problem.cloth.width) for part in parts_left(plan)]


def left_words(cloth: Cloth, who: Reader) -> str:
    """'0.85 m long, 42.0 cm wide at most, 0.31 m², not straight all round'"""
    ragged = ""
    if cloth.outline:
        ragged = f" at most, {Polygon(cloth.outline).area / 1e4:.2f} m², not straight all round"
    return f"{who.metres(cloth.length)} long, {who.length(cloth.width)} wide{ragged}"


def stages_told(plan: LayPlan) -> Iterator[dict[str, Any]]:
    """Each stage of the cutting with its picture."""
    pieces = {piece.name: piece for piece in plan.problem.pieces}
    numbers = {piece.name: piece.number or at for at, piece in enumerate(plan.problem.pieces, 1)}
    width = plan.problem.cloth.width
    gone: list[Placement] = []

    def path(placement: Placement) -> Path:
        return path_of(placement.outline_on_cloth(pieces[placement.piece]), width)

    for stage, words in zip(stages(plan), cutting_sequence(plan), strict=True):
        table = stage.table
        end = _end(plan)
        whole = plan.problem.cloth.shape(end, whole=True)
        seen = whole.intersection(box(table.start, table.low, end, table.high))
        letter = max((end - table.start) / 28, (table.high - table.low) / 18)
        yield {
            "words": words,
            "view": f"{table.start - 1:.1f} {width - table.high - 1:.1f} "
            f"{end - table.start + 2:.1f} {table.high - table.low + 2:.1f}",
            "cloth": _paths(seen, width),
            "double": "".join(_paths(flap.intersection(seen), width) for flap in _flaps(stage, whole)),
            "folds": "".join(_folds(stage, width, end)),
            "gone": "".join(path(one) for one in gone),
            "letter": round(letter, 2),
            "cuts": [
                {"path": path(one), "number": numbers[one.piece], "mirrored": one.mirrored}
                | _middle(Polygon(one.outline_on_cloth(pieces[one.piece])), width)
                for one in stage.cuts
            ],
        }
        gone += [one for one in plan.placements if _cut_in(one, stage)]


def _end(plan: LayPlan) -> float:
    """How far the cloth is drawn. [cm]"""
    cloth = plan.problem.cloth
    if cloth.outline is not None and cloth.length:
        return cloth.length
    return min(cloth.length or plan.length, plan.length * SPARE)


def _cut_in(placement: Placement, stage: Stage) -> bool:
    """Whether this copy is off the cloth after the stage: it was cut by itself, or with its twin above it."""
    return any(
        one.piece == placement.piece
        and (one.copy == placement.copy or (one.how == "double" and one.copy ^ 1 == placement.copy))
        for one in stage.cuts
    )


def _flaps(stage: Stage, whole: BaseGeometry) -> Iterator[BaseGeometry]:
    """The cloth folded over, where it comes to lie."""
    table = stage.table
    left, low, right, high = whole.bounds
    if table.low_fold:
        yield affine_transform(
            whole.intersection(box(left, low, right, table.low)), [1, 0, 0, -1, 0, 2 * table.low]
        )
    if table.high_fold:
        over = whole.intersection(box(left, table.high, right, high))
        yield affine_transform(over, [1, 0, 0, -1, 0, 2 * table.high])
    if table.start:
        over = whole.intersection(box(left, low, table.start, high))
        yield affine_transform(over, [-1, 0, 0, 1, 2 * table.start, 0])


def _folds(stage: Stage, width: float, end: float) -> Iterator[Path]:
    table = stage.table
    for line, is_fold in ((table.low, table.low_fold), (table.high, table.high_fold)):
        if is_fold:
            yield f"M{table.start:.2f} {width - line:.2f}H{end:.2f}"
    if table.start:
        yield f"M{table.start:.2f} {width - table.high:.2f}V{width - table.low:.2f}"


def _paths(shape: BaseGeometry, width: float) -> Path:
    parts = (part for part in get_parts(shape) if isinstance(part, Polygon) and not part.is_empty)
    return "".join(path_of(part.exterior.coords[:-1], width) for part in parts)


def _middle(shape: Polygon, width: float) -> dict[str, float]:
    """A place well inside, for the number."""
    inside = shape.representative_point() if not shape.contains(shape.centroid) else shape.centroid
    return {"x": round(inside.x, 1), "y": round(width - inside.y, 1)}
