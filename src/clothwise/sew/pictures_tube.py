"""One tube slipped into the other: the picture of a crotch seam."""

from __future__ import annotations

from dataclasses import replace

from clothwise.garment import Garment, Run
from clothwise.sew.cut_copies import Chain
from clothwise.sew.drawn import WIDE, Done, face, notches
from clothwise.sew.ink import Area, Item, Label, Path, Picture, beside, cropped
from clothwise.sew.placing import Lie, crease, near_end, on_table, partner, run_ends, shape
from clothwise.sew.step import Step

BELOW_FORK = 34.0  # cm of leg shown under the crotch


def nested_picture(garment: Garment, done: Done, step: Step) -> Picture:
    """Two tubes side by side, the one right side out on its way into the other; there the seam as a U."""
    join = step.joins[0]
    inner = _tube(garment, done, step, join.b, right_side_out=True, seam=False)
    outer = _tube(garment, done, step, join.a, right_side_out=False, seam=True)
    left, bottom, right, top = outer.bounds()
    gap = (right - left) * 0.24
    row = beside([inner, outer], gap)
    width = inner.bounds()[2] - inner.bounds()[0]
    y = (top - bottom) * 0.62
    arrow = [(width + gap * 0.12, y), (width + gap * 0.88, y)]
    head = [(arrow[1][0] - gap * 0.2, y + gap * 0.12), arrow[1], (arrow[1][0] - gap * 0.2, y - gap * 0.12)]
    items = (*row.items, Path(tuple(arrow), "arrow"), Path(tuple(head), "arrow"))
    return Picture(items, "nested")


def _tube(
    garment: Garment, done: Done, step: Step, runs: Chain, *, right_side_out: bool, seam: bool
) -> Picture:
    """The tube lying with the crossed seam uppermost, cut off where it folds (the crease of each piece)."""
    first, second = runs[0], runs[1]
    crossing = next(
        (a, b) if a.copy == first.copy else (b, a)
        for j in done.joins
        for a, b in zip(j.a, j.b, strict=False)
        if {a.copy, b.copy} == {first.copy, second.copy}
        and _touches(garment, a if a.piece == first.piece else b, first)
    )
    mine, other = crossing
    corner = run_ends(garment, first)[1]
    near = "start" if run_ends(garment, mine)[0].distance(corner) < 0.5 else "end"
    lying = on_table(garment, first.copy, right_side_up=right_side_out)
    lie = lying.lie
    ends = run_ends(garment, mine, near)
    way = lie.point(ends[0]).to(lie.point(ends[1]))
    turn = (-90.0 if near == "start" else 90.0) - way.angle_deg
    root = replace(lying, lie=Lie(lie.flipped, turn))
    next_to = partner(garment, root, near_end(garment, mine, other, near), over=False)
    items: list[Item] = []
    for laid, run in ((root, first), (next_to, second)):
        keep = crease(laid.piece, run_ends(garment, run)[1 if run is first else 0])
        lines = done.lines.get(laid.copy, set())
        part = laid.lie.shape(shape(laid.piece, lines).intersection(keep))
        items.append(Area(part, face(laid, done)))
    fork = root.lie.point(corner)
    for laid, run in ((root, first), (next_to, second)):
        if seam:
            items.append(Path(laid.line(run.line), "seam"))
    picture = cropped(Picture(tuple(items)), fork.y - BELOW_FORK, 1e3)
    left, _, right, _ = picture.bounds()
    unit = 2.3 * (right - left) / WIDE
    words: list[Item] = []
    for laid, run in ((root, first), (next_to, second)):
        if seam:
            words += notches(laid, [run.line], step.notches, unit, inside=True)
    areas = [item.shape.bounds for item in picture.items if isinstance(item, Area)]
    for laid, box in zip((root, next_to), areas, strict=True):
        words.append(Label(laid.piece.title, ((box[0] + box[2]) / 2, fork.y - 0.3 * BELOW_FORK), 2.1))
    foot = picture.bounds()[1] - 4 * unit
    words.append(
        Label(
            "right_side_out" if right_side_out else "inside_out", (fork.x, foot), 2.4, bold=True, kind="phrase"
        )
    )
    return Picture((*picture.items, *words))


def _touches(garment: Garment, edge: Run, run: Run) -> bool:
    """Whether an edge meets the end of a run on the same piece."""
    end = run_ends(garment, run)[1]
    return min(p.distance(end) for p in run_ends(garment, edge)) < 0.5
