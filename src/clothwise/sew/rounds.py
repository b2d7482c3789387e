"""Pictures of the garment when it has become round: hem, casing, elastic, and the finished whole."""

from __future__ import annotations

import shapely

from clothwise.garment import Garment
from clothwise.sew import worn
from clothwise.sew.ink import Area, Item, Label, Path, Picture, beside, cropped
from clothwise.sew.step import Step

SHOWN_TURN = 26.0  # cm of garment shown at a hem or casing
GAP_FROM_SEAM, GAP_FROM_SIDE = 1.0, 2.5  # cm: the gap of a casing from the back seam, from a side seam
LAP = 2.5  # cm: elastic ends laid over one another


def is_round_view(garment: Garment, step: Step) -> bool:
    """Whether the edge goes round the waist or the foot of panels that hang from the waist."""
    edges = {run.piece for run in step.edges}
    return (
        worn.stands(garment) and worn.panel_names(garment) <= edges and (step.round or step.kind == "elastic")
    )


def round_picture(garment: Garment, step: Step) -> Picture:
    """Hem or casing on the garment, inside out, near where the work is."""
    v = worn.view(garment, front=False, drawn_in=step.kind == "elastic" or step.why == "hem")
    depth = step.turn - step.fold_in if step.kind == "turn" else _casing_depth(garment, step)
    top = step.why in ("casing", "elastic")
    items = worn.silhouette(v, "joined wrong")
    edge_y = v.top if top else v.bottom
    other_y = edge_y - depth if top else edge_y + depth
    for line in worn.level_line(v, other_y):
        low, high = sorted((edge_y, other_y))
        (x0, _), (x1, _) = line[0], line[-1]
        items.append(Area(shapely.box(x0, low, x1, high), "joined right"))
        stitch = other_y + (step.allowance if top else -step.allowance)
        if step.kind == "turn":
            items += _stitched(step, x0, x1, stitch)
        else:
            items += _elastic(step, x0, x1, (low + high) / 2)
            items += worn.gathers(v, depth)
    low, high = (v.top - SHOWN_TURN, v.top + 3) if top else (v.bottom - 3, v.bottom + SHOWN_TURN)
    picture = cropped(Picture(tuple(items)), low, high)
    words: list[Item] = [Label("back_uppermost", (0.0, low - 2.5 if top else high + 1.0), 2.5, kind="phrase")]
    return Picture((*picture.items, *words), "round")


def _casing_depth(garment: Garment, step: Step) -> float:
    free = next(f for f in garment.free_edges if f.elastic and f"{f.name} elastic" == step.name)
    return free.turn - free.fold_in


def _stitched(step: Step, x0: float, x1: float, y: float) -> list[Item]:
    """The row of stitching; in a casing with its gap, beside the back seam or behind a side seam."""
    if not step.opening:
        return [Path(((x0, y), (x1, y)), "seam")]
    gap = step.opening
    start = x1 - GAP_FROM_SIDE - gap if step.held_at else GAP_FROM_SEAM
    middle = start + gap / 2
    return [
        Path(((x0, y), (start, y)), "seam"),
        Path(((start + gap, y), (x1, y)), "seam"),
        Label("gap", (middle, y - 3.2), 2.4, "end" if step.held_at else "middle", accent=True, kind="phrase"),
    ]


def _elastic(step: Step, x0: float, x1: float, y: float) -> list[Item]:
    """The elastic in its casing: lapped with a crossed square, or its ends stitched down."""
    half = step.elastic_width / 2
    band = Area(shapely.box(x0 + 0.4, y - half, x1 - 0.4, y + half), "elastic", "hidden")
    if step.held_at:
        ends = [x0 + GAP_FROM_SEAM, x1 - GAP_FROM_SEAM]
        return [band, *(Path(((x, y - half - 0.3), (x, y + half + 0.3)), "seam") for x in ends)]
    left, right = 2.0, 2.0 + LAP
    lap = Area(shapely.box(left, y - half, right, y + half), "elastic", "outline")
    low, high = y - half + 0.3, y + half - 0.3
    a, b = left + 0.2, right - 0.2
    return [band, lap, Path(((a, low), (b, high)), "seam"), Path(((a, high), (b, low)), "seam")]


def whole_picture(garment: Garment) -> Picture:
    """The finished garment, front and back."""
    both = [worn.worn_picture(garment, front=front) for front in (True, False)]
    return beside(both, 12.0, "whole")
