"""A picture for every step, made from the garment's own pieces as they lie when its turn comes.

Right side hatched, wrong side plain, what is joined already grey; this step's stitching heavy. Face to face
seams show the upper piece with a corner laid back, where there is one free; what cannot lie face to face is
drawn side by side.
"""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely import affinity
from shapely.geometry import LineString, Polygon

from clothwise.curve import Point
from clothwise.garment import Garment
from clothwise.sew.drawn import (
    Done,
    copy_items,
    edge_words,
    face,
    laid_shape,
    name_label,
    notches,
    once,
    unit_of,
)
from clothwise.sew.ink import Area, Face, Item, Path, Picture
from clothwise.sew.pictures_pair import opened_picture, pair_picture
from clothwise.sew.pictures_piece import (
    buttons_picture,
    dart_picture,
    patch_picture,
    pleat_picture,
    ring_picture,
    row_picture,
    tuck_picture,
    turned_picture,
    zip_picture,
)
from clothwise.sew.pictures_tube import nested_picture
from clothwise.sew.placing import Laid, meetings, on_table, opened_out, partner, upright
from clothwise.sew.rounds import is_round_view, round_picture, whole_picture
from clothwise.sew.step import Join, Step

PEEL = 0.42  # of the piece's width: how far a corner is laid back
OVERLAY = ("", "facing", "layers", "caught")  # makes whose parts can be drawn lying on each other


def step_picture(garment: Garment, steps: Sequence[Step], number: int) -> Picture:
    """The picture of the step of that number (from 1)."""
    step = steps[number - 1]
    done = Done().after(steps[: number - 1])
    if step.kind == "seam":
        return _seam_picture(garment, done, step)
    if step.kind == "patch" and step.joins[0].more:
        return pair_picture(garment, done, step)
    if step.kind == "patch":
        return patch_picture(garment, done, step)
    if step.kind == "dart":
        return dart_picture(garment, done, step)
    if step.kind == "pleat":
        return pleat_picture(garment, done, step)
    if step.kind == "tuck":
        return tuck_picture(garment, done, step)
    if step.kind in ("neaten", "stay", "mark", "fuse", "gather", "eyelet"):
        return row_picture(garment, done, step)
    if step.kind == "buttons":
        return buttons_picture(garment, done, step)
    if step.kind == "zip":
        return zip_picture(garment, done, step)
    if step.kind == "elastic" and not step.edges:
        return ring_picture(step)
    if step.kind in ("turn", "elastic") and is_round_view(garment, step):
        return round_picture(garment, step)
    if step.edges:
        return turned_picture(garment, done, step)
    return whole_picture(garment)


def _seam_picture(garment: Garment, done: Done, step: Step) -> Picture:
    halves = {run.piece for run in step.joins[0].a}
    if step.tube == "nested" and not step.round and len(halves) > 1:
        return nested_picture(garment, done, step)
    if step.tube == "folded" or (len(step.seams) > 1 and step.make == ""):
        return opened_picture(garment, done, step)
    found = meetings(garment, step.joins[0])
    full = step.ratio != 1.0 or step.why == "pleated"
    lies = bool(found) and found[0].flat and not full and step.make in OVERLAY
    own = {run.copy for run in step.joins[0].a} & {run.copy for run in step.joins[0].b}
    if own and not lies:
        return opened_picture(garment, done, step)
    if not lies or own or (step.round and step.make == ""):
        return opened_picture(garment, done, step) if own else pair_picture(garment, done, step)
    return _face_to_face(garment, done, step)


# ---- face to face ------------------------------------------------------------------------------


def _face_to_face(garment: Garment, done: Done, step: Step) -> Picture:
    """The lower layer, the upper on it, the seam."""
    join = step.joins[0]
    french = step.facing == "wrong sides together"
    meeting = meetings(garment, join)[0].turned()
    b = meeting.one
    root = on_table(garment, b.copy, right_side_up=not french)
    over_root = partner(garment, root, meeting, over=True)
    if step.tube == "closes each":
        under, over = [root], [over_root]
    else:
        root = upright(garment, root, done.joins)
        over_root = partner(garment, root, meeting, over=True)
        under = opened_out(garment, root, done.joins)
        over = opened_out(garment, over_root, done.joins)
    lower = shapely.union_all([laid_shape(laid, done) for laid in under])
    unit = unit_of(lower.bounds[3] - lower.bounds[1])
    items: list[Item] = []
    if step.make == "layers" or (step.joined and step.tube != "closes each"):
        items += [_shadow(laid, done, unit) for laid in once(under)]
    for laid in once(under):
        items += copy_items(garment, laid, done)
    peeled = len(once(over)) == 1 and not step.tube and step.make != "layers"
    for laid in once(over):
        items += _peeled(garment, laid, done, join) if peeled else copy_items(garment, laid, done)
    for laid in over:
        for one in step.joins:
            for run in one.a:
                if laid.copy == run.copy:
                    items += [Path(laid.line(run.line), "seam"), *notches(laid, [run.line], step.notches, unit)]
    items += [name_label(laid) for laid in once(over)]
    items += edge_words(over[0], unit)
    return Picture(tuple(items), "face_to_face_wrong" if french else "face_to_face")


def _shadow(laid: Laid, done: Done, unit: float) -> Item:
    """The lower layer peeps out a little, so that two layers are seen."""
    return Area(affinity.translate(laid_shape(laid, done), 1.1 * unit, -1.1 * unit), face(laid, done))


def _peeled(garment: Garment, laid: Laid, done: Done, join: Join) -> list[Item]:
    """The upper piece with the corner furthest from the seam laid back, so that its other face shows."""
    whole = laid_shape(laid, done)
    here = [run for run in join.a if run.copy == laid.copy]
    seam = shapely.union_all([LineString(laid.line(run.line)) for run in here or join.a[:1]])
    hems = [edge.curve for edge in laid.piece if edge.kind == "hem"] or [e.curve for e in laid.piece]
    corners = [laid.lie.point(p) for curve in hems for p in (curve.start, curve.end)]
    corner = max(corners, key=lambda c: float(seam.distance(shapely.Point(c))))
    middle = whole.centroid
    inward = corner.to(Point(middle.x, corner.y + (10.0 if middle.y > corner.y else -10.0))).unit()
    depth = PEEL * min(float(seam.distance(shapely.Point(corner))), 24.0)
    on = corner.go(inward, depth)
    far = 400.0
    left, right = on.go(inward.left(), far), on.go(inward.right(), far)
    keep = Polygon([left, right, right.go(inward, far), left.go(inward, far)])
    kept, cut = whole.intersection(keep), whole.difference(keep)
    # Reflected in the fold line: along `inward` the distance to the line changes sign.
    nx, ny = inward
    d = nx * on.x + ny * on.y
    flap = affinity.affine_transform(
        cut, [1 - 2 * nx * nx, -2 * nx * ny, -2 * nx * ny, 1 - 2 * ny * ny, 2 * d * nx, 2 * d * ny]
    )
    mine = face(laid, done)
    swap: dict[Face, Face] = {
        "right": "wrong", "wrong": "right", "joined right": "joined wrong", "joined wrong": "joined right",
    }  # fmt: skip
    items = [i for i in copy_items(garment, laid, done)[1:] if isinstance(i, Path)]
    return [Area(kept, mine), *items, Area(flap.intersection(keep), swap[mine])]
