"""Small pictures besides the steps' own: folds and seams cut through, the key, all pieces in a row.

A fold is drawn as it would be seen on its cut edge: a line for each layer of cloth, the stitching across.
Depths are to scale with one another, gaps between layers are not.
"""

from __future__ import annotations

import shapely
from shapely.geometry import Polygon

from clothwise.garment import Piece
from clothwise.garment.allowance import notch_marks
from clothwise.sew.ink import XY, Area, Item, Label, Path, Picture, beside
from clothwise.sew.phrases import Telling
from clothwise.sew.placing import shape
from clothwise.sew.step import Step

GAP = 0.35  # cm between layers drawn apart
TAIL = 2.2  # cm of cloth shown beyond the fold


def detail_picture(step: Step, t: Telling) -> Picture | None:
    """The step cut through, where that tells more than words."""
    if step.kind == "turn":
        return _turned(step, t)
    if step.kind == "band" and step.make == "band":
        return _banded(step, t)
    if step.kind == "seam" and step.joins and step.seam_type and step.seam_type.name == "French seam":
        return _french(t)
    if step.kind == "seam" and step.joins and step.allowance:
        return _plain(step, t)
    return None


def _turned(step: Step, t: Telling) -> Picture:
    """Lying on its side: the fold at the left, the garment running off to the right."""
    depth, inner = step.turn - step.fold_in, step.fold_in
    outside = ((depth + TAIL, 0.0), (0.15, 0.0), (0.0, GAP / 2), (0.15, GAP))
    path: tuple[XY, ...] = (*outside, (depth - 0.1, GAP))
    if inner:
        path = (*path, (depth, 1.5 * GAP), (depth - 0.1, 2 * GAP), (depth - inner, 2 * GAP))
    at = depth - step.allowance if inner else depth - 0.5
    top = (2 if inner else 1) * GAP + 0.35
    items: list[Item] = [
        Path(path, "outline"),
        Path(((at, -0.25), (at, top - 0.1)), "seam"),
        *_measure(0.0, depth, -0.8, t.length(depth)),
    ]
    if inner:
        items += _measure(depth - inner, depth, top + 0.35, t.length(inner), above=True)
    return Picture(tuple(items), t("detail.turned", depth=t.length(depth)))


def _banded(step: Step, t: Telling) -> Picture:
    """A band folded over the raw edges of its seam, its inner edge turned in and caught."""
    a, out, gap = step.turn, 1.4, GAP
    ground: tuple[XY, ...] = ((0.1, 0.0), (a + TAIL, 0.0))
    band: tuple[XY, ...] = (
        (0.1, gap), (a, gap), (a - 0.1, 1.6 * gap), (-out + 0.2, 1.6 * gap), (-out, 0.3 * gap),
        (-out + 0.2, -gap), (a + 0.25, -gap), (a + 0.35, -0.7 * gap), (a + 0.2, -0.45 * gap),
        (0.3, -0.45 * gap),
    )  # fmt: skip
    items: list[Item] = [
        Path(ground, "outline"),
        Path(band, "outline"),
        Path(((a, gap + 0.1), (a, -0.1)), "done"),
        Path(((a + 0.1, 1.9 * gap), (a + 0.1, -1.5 * gap)), "seam"),
    ]
    return Picture(tuple(items), t("detail.banded"))


def _measure(x0: float, x1: float, y: float, text: str, *, above: bool = False) -> list[Item]:
    """A little dimension line with its figure."""
    ends = [Path(((x, y - 0.15), (x, y + 0.15)), "hair") for x in (x0, x1)]
    place = ((x0 + x1) / 2, y + 0.22 if above else y - 0.55)
    return [Path(((x0, y), (x1, y)), "hair"), *ends, Label(text, place, 2.4)]


def _plain(step: Step, t: Telling) -> Picture:
    """Two layers face to face, stitched; then opened out and pressed."""
    a = step.trim_to or step.allowance
    flat: list[Item] = [
        Path(((0.0, 0.0), (step.allowance + TAIL, 0.0)), "outline"),
        Path(((0.0, GAP), (step.allowance + TAIL, GAP)), "outline"),
        Path(((step.allowance, -0.35), (step.allowance, GAP + 0.35)), "seam"),
        *_measure(0.0, step.allowance, -0.8, t.length(step.allowance)),
    ]
    if step.rows == 2:
        second = step.allowance - 0.3
        flat.append(Path(((second, -0.3), (second, GAP + 0.3)), "seam"))
    opened: list[Item] = [
        Path(((-TAIL - a, 0.0), (-0.12, 0.0), (-0.02, GAP)), "outline"),
        Path(((TAIL + a, 0.0), (0.12, 0.0), (0.02, GAP)), "outline"),
    ]
    if step.pressed == "open":
        opened = [
            Path(((-TAIL - a, 0.0), (-0.05, 0.0), (-0.1, GAP), (-a, GAP)), "outline"),
            Path(((TAIL + a, 0.0), (0.05, 0.0), (0.1, GAP), (a, GAP)), "outline"),
            Path(((0.0, -0.3), (0.0, GAP + 0.1)), "seam"),
        ]
    else:
        opened = [
            Path(((-TAIL - a, 0.0), (-0.05, 0.0), (0.05, 2 * GAP), (a, 2 * GAP)), "outline"),
            Path(((TAIL + a, 0.0), (0.1, 0.0), (0.15, GAP), (a, GAP)), "outline"),
            Path(((0.06, -0.3), (0.06, GAP * 2)), "seam"),
        ]
    way = "open" if step.pressed == "open" else "aside"
    return beside([Picture(tuple(flat)), Picture(tuple(opened))], 1.2, t(f"detail.{way}"))


def _french(t: Telling) -> Picture:
    """The first row, and the second that shuts the edges in."""
    first: list[Item] = [
        Path(((0.0, 0.0), (3.2, 0.0)), "outline"),
        Path(((0.0, GAP), (3.2, GAP)), "outline"),
        Path(((0.8, -0.35), (0.8, GAP + 0.35)), "seam"),
    ]
    second: list[Item] = [
        Path(((3.4, 0.0), (0.12, 0.0), (0.0, GAP * 0.8), (0.3, GAP * 1.0), (0.55, GAP)), "outline"),
        Path(((3.4, 3 * GAP), (0.12, 3 * GAP), (0.0, GAP * 2.2), (0.3, GAP * 2.0), (0.55, GAP * 2)), "outline"),
        Path(((0.75, -0.3), (0.75, 3 * GAP + 0.3)), "seam"),
    ]
    return beside(
        [Picture(tuple(first)), Picture(tuple(second))],
        1.2,
        t("detail.french"),
    )


def key_pictures(t: Telling) -> dict[str, Picture]:
    """What each kind of face and line means."""
    box = shapely.box(0, 0, 2.2, 1.2)
    return {
        "right": Picture((Area(box, "right"),), t("key.right")),
        "wrong": Picture((Area(box, "wrong"),), t("key.wrong")),
        "joined": Picture(
            (Area(box, "joined wrong"), Area(shapely.box(1.1, 0, 2.2, 1.2), "joined right")), t("key.joined")
        ),
        "seam": Picture((Path(((0, 0.6), (2.2, 0.6)), "seam"),), t("key.seam")),
        "notch": Picture(
            (
                Path(((0, 0.5), (2.2, 0.5)), "outline"),
                Path(((1.1, 0.5), (1.1, 0.2)), "arrow"),
                Label(t.sign("knee"), (1.1, 0.7), 2.3),
            ),
            t("key.notch"),
        ),
    }


def pieces_picture(t: Telling) -> Picture:
    """All pieces in a row, as cut, right side up, with grain and notches."""
    row = [_one(piece, staggered=bool(i % 2)) for i, piece in enumerate(t.garment.pieces)]
    return beside(row, 9.0, t("detail.pieces"))


def _one(piece: Piece, *, staggered: bool) -> Picture:
    cut = shape(piece)
    items: list[Item] = [Area(cut, "wrong")]
    inside = Polygon(piece.polygon(tolerance=0.05))
    items.append(Path((*inside.exterior.coords,), "hidden"))
    low, high = piece.grain
    items.append(Path(((low.x, low.y), (high.x, high.y)), "hair"))
    way = low.to(high).unit()
    for side in (way.turned(150), way.turned(-150)):
        end = high.go(side, 3.0)
        items.append(Path(((high.x, high.y), (end.x, end.y)), "hair"))
    for mark in notch_marks(piece):
        tip = mark.on_cut.go(mark.outward, -2.0)
        items.append(Path(((mark.on_cut.x, mark.on_cut.y), (tip.x, tip.y)), "arrow"))
    for drawn in piece.marks:
        if drawn.kind == "placement":
            items.append(Path(tuple((p.x, p.y) for p in drawn.curve.flattened(tolerance=0.05)), "hidden"))
    x, _, right, _ = cut.bounds
    below = 12.0 if staggered else 6.0  # names of narrow pieces beside each other do not touch
    items.append(Label(piece.title, ((x + right) / 2, cut.bounds[1] - below), 2.6))
    return Picture(tuple(items))
