"""What is sewn to what, side by side or opened out: where two edges cannot be drawn lying on each other.

A sleeve head and its armhole, a gathered edge and its band, a ring and its edge: both parts are drawn flat, the
edges that meet heavy, with the notches that fall on each other.
"""

from __future__ import annotations

from dataclasses import replace

import shapely

from clothwise.garment import Garment
from clothwise.sew.cut_copies import Chain
from clothwise.sew.drawn import (
    WIDE,
    Done,
    copy_items,
    edge_words,
    laid_shape,
    name_label,
    notches,
    once,
    unit_of,
)
from clothwise.sew.ink import Item, Path, Picture, beside, moved
from clothwise.sew.placing import Laid, net, on_table, opened_out, upright
from clothwise.sew.step import Step

GAP = 0.12  # of the wider part, between the two
STRIP = 4.5  # times as long as wide: laid along in pictures
STACK = 5.0  # cm between parts that do not hang together


def pair_picture(garment: Garment, done: Done, step: Step) -> Picture:
    """Side a and side b beside each other, the edges that meet heavy."""
    join = step.joins[0]
    over = join.more[:1] if step.make in ("caught", "sandwich", "layers") else ()
    parts = [_part(garment, done, step, ply) for ply in (join.a, join.b, *over)]
    wide = max(part.bounds()[2] - part.bounds()[0] for part in parts)
    tall = max(part.bounds()[3] - part.bounds()[1] for part in parts)
    if all(part.bounds()[2] - part.bounds()[0] > 2 * tall for part in parts):
        return _stacked(parts)
    return beside(parts, GAP * wide, "side_by_side")


def _stacked(parts: list[Picture]) -> Picture:
    """Long strips one above the other."""
    items: list[Item] = []
    y = 0.0
    for part in parts:
        left, bottom, right, top = part.bounds()
        items += [moved(item, -(left + right) / 2, y - top) for item in part.items]
        y -= top - bottom + STACK
    return Picture(tuple(items), "side_by_side")


def _part(garment: Garment, done: Done, step: Step, ply: Chain) -> Picture:
    """All copies of a ply, opened out where they hang together, else beside each other."""
    left = list(dict.fromkeys(run.copy for run in ply))
    groups: list[Picture] = []
    while left:
        root = on_table(garment, left[0], right_side_up=True)
        root = lengthwise(root) or upright(garment, root, done.joins)
        shown = opened_out(garment, root, done.joins, among={run.copy for run in ply})
        left = [copy for copy in left if copy not in {laid.copy for laid in shown}]
        groups.append(_group(garment, done, step, ply, shown))
    return beside(groups, STACK) if len(groups) > 1 else groups[0]


def lengthwise(root: Laid) -> Laid | None:
    """A strip lying along, whatever its grain; None for what is no strip."""
    left, bottom, right, top = net(root.piece).bounds
    wide, tall = right - left, top - bottom
    if max(wide, tall) < STRIP * min(wide, tall):
        return None
    return replace(root, lie=replace(root.lie, angle=90.0 if tall > wide else 0.0))


def _group(garment: Garment, done: Done, step: Step, ply: Chain, shown: list[Laid]) -> Picture:
    single = once(shown)
    bounds = shapely.union_all([laid_shape(laid, done) for laid in single]).bounds
    unit = max(unit_of(bounds[3] - bounds[1]), (bounds[2] - bounds[0]) / (WIDE / 2))
    items: list[Item] = []
    for laid in single:
        items += copy_items(garment, laid, done)
    for laid in shown:
        for run in ply:
            if run.copy == laid.copy:
                items.append(Path(laid.line(run.line), "seam"))
                items += notches(laid, [run.line], step.notches, unit) if step.notches else []
    items += [name_label(laid, 2.5) for laid in single]
    items += [word for laid in single for word in edge_words(laid, unit)]
    return Picture(tuple(items))


def opened_picture(garment: Garment, done: Done, step: Step) -> Picture:
    """The work opened out flat, wrong side up: the two edges that are folded on to each other both heavy."""
    legs = step.joins[: max(len(step.seams), 1)]
    runs = tuple(run for join in legs for run in join.runs)
    copies = {run.copy for run in runs}
    first = max(runs, key=lambda run: garment.piece(run.piece).area_cm2())
    root = on_table(garment, first.copy, right_side_up=False)
    root = lengthwise(root) or upright(garment, root, done.joins)
    shown = opened_out(garment, root, done.joins, among=copies)
    if copies - {laid.copy for laid in shown}:
        return pair_picture(garment, done, step)
    picture = _group(garment, done, step, runs, shown)
    return Picture(picture.items, "opened")
