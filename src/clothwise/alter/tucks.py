"""Growth tucks: length folded away above a hem, stitched, and let down one after another as a child grows.

Every piece of the hem is made longer by twice the depth of each tuck, its edges running on as they ran, and the
three lines of each tuck are drawn parallel to the hem: the two that are stitched to each other and the fold
between. On every piece they meet the edges equally far from the hem, so that they run on across the seams.
Lengths in cm.

Source: trade knowledge: a tuck takes up twice its depth, hangs down clear of the hem and of the next tuck, and
is laid where cloth is as wide above as below; a little more on one side is eased in, where nobody sees it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

import shapely

from clothwise.alter.settle import settled
from clothwise.alter.strip import hem_of, strip
from clothwise.alter.warp import warped_curve
from clothwise.curve import Curve, Point, Vector, line
from clothwise.errors import GarmentError
from clothwise.garment import Edge, FreeEdge, Garment, Notch, Note, Piece
from clothwise.garment.growth_tuck import LINES, growth_tucks, tuck_line
from clothwise.tolerance import FLATTEN, SEAM_MATCH

SHALLOWEST, DEEPEST = 0.5, 4.0  # cm: a shallower one lets nothing down, a deeper one hangs like a frill
MOST = 5  # tucks above one hem
CLEAR = 1.0  # cm from a tuck's fold, when it hangs, to what lies below it: the hem's stitching, the next tuck
EASED_MOST = 0.04  # by which one stitched line may be longer: a sleeve head takes 4-6 % without a fold
BENT_MOST_DEG = 15.0  # degrees that a hem may bend on one piece: a fold along more of a curve stands off
TAKEN = ("placement", "button", "buttonhole")  # marks that must not lie in a tuck


def tucked(garment: Garment, hem: str, number: int, depth: float) -> Garment:
    """The garment with so many growth tucks of that depth above a hem, as long as before when they are sewn.

    GarmentError: no such hem, it ends at a slit or stand, it is no level line, or there is no room above it
    """
    where = f"garment '{garment.name}', '{hem}'"
    if not (SHALLOWEST <= depth <= DEEPEST and 1 <= number <= MOST):
        raise GarmentError(
            f"{number} growth tuck{'' if number == 1 else 's'} {depth:g} cm deep cannot be laid.",
            where=where,
            mend=f"Possible are 1 to {MOST}, {SHALLOWEST:g} to {DEEPEST:g} cm deep.",
        )
    free = hem_of(garment, hem, closed=True)
    if any(growth_tucks(garment.piece(run.piece), run.line) for run in free.runs):
        raise GarmentError(
            f"'{free.title}' has growth tucks already.",
            where=where,
            mend="Take them away, and ask for more at once.",
        )
    more = 2 * depth * number
    own = dict.fromkeys((run.piece, run.line) for run in free.runs)
    changed: dict[str, Piece] = {}
    for name, edge in own:
        _refuse_open_end(garment, garment.piece(name), edge)
        longer = _let_down(garment.piece(name), edge, more)
        changed[name] = _with_lines(longer, edge, _heights(free, number, depth))
    let_down = f"{more:g} cm" + (f", {2 * depth:g} cm at a time" if number > 1 else "")
    said = (
        f"{number} growth tuck{'s' if number > 1 else ''} {depth:g} cm deep above the {free.title.lower()}; "
        f"with {'all of them' if number > 1 else 'it'} sewn it is as long as before, and can be let down by "
        f"{let_down}."
    )
    note = Note(said, measure=hem, by=more)
    return _with_both_lengths(garment, settled(garment, changed.values(), note), more)


def _refuse_open_end(garment: Garment, piece: Piece, name: str) -> None:
    """GarmentError where it ends beside its hem at a slit, a stand or a zip, not in a seam or on the fold."""
    edges = list(piece.edges)
    here = next(i for i, edge in enumerate(edges) if edge.name == name)
    free = {(run.piece, run.line) for f in garment.free_edges for run in f.runs}
    for beside in (edges[here - 1], edges[(here + 1) % len(edges)]):
        if beside.kind != "fold" and (beside.kind != "seam" or (piece.name, beside.name) in free):
            raise GarmentError(
                f"The tucks of '{piece.title.lower()}' would end open at its {beside.name.replace('_', ' ')}.",
                where=f"garment '{garment.name}', piece '{piece.name}'",
                mend="Choose the pattern without a slit, zip or button stand down to the hem.",
            )
    bend = _bend_deg(edges[here].curve)
    if bend > BENT_MOST_DEG:
        raise GarmentError(
            f"The hem of '{piece.title.lower()}' bends by {bend:.0f} degrees: no tuck lies flat along a curve.",
            where=f"garment '{garment.name}', piece '{piece.name}'",
            mend="Tucks want a straight, level hem: choose a straight or a gathered skirt, or a deeper hem.",
        )
    if piece.bias:
        raise GarmentError(
            f"'{piece.title}' is cut on the bias: its hem drops, and a tuck above it would hang in waves.",
            where=f"garment '{garment.name}', piece '{piece.name}'",
            mend="Leave a deep hem to let down instead.",
        )


def _bend_deg(curve: Curve) -> float:
    """How far it bends in all, to either side. [degrees]"""
    ways = [a.to(b).unit() for a, b in pairwise(curve.flattened(tolerance=FLATTEN))]
    return sum(math.degrees(abs(math.atan2(a.cross(b), a.dot(b)))) for a, b in pairwise(ways))


# ---- longer ------------------------------------------------------------------------------------------


def _let_down(piece: Piece, name: str, by: float) -> Piece:
    """The piece longer at its hem: the edges beside it run on straight by so much, the hem goes with them."""
    edges = list(piece.edges)
    here = next(i for i, edge in enumerate(edges) if edge.name == name)
    last, following = here - 1, (here + 1) % len(edges)
    before, hem, after = edges[last].curve, edges[here].curve, edges[following].curve
    out = before.end_tangent.times(by), after.start_tangent.times(-by)
    whole = hem.start.to(hem.end)

    def shift(p: Point) -> Vector:
        share = min(max(hem.start.to(p).dot(whole) / whole.dot(whole), 0.0), 1.0)
        return out[0].times(1 - share).plus(out[1].times(share))

    moved = warped_curve(hem, shift)
    longer = moved.length() / hem.length()
    edges[here] = replace(
        edges[here], curve=moved, notches=tuple(replace(n, at=n.at * longer) for n in edges[here].notches)
    )
    edges[last] = replace(edges[last], curve=before.then(line(before.end, moved.start)))
    edges[following] = _begun_before(edges[following], moved.end, by)
    return replace(piece, edges=tuple(edges))


def _begun_before(edge: Edge, start: Point, by: float) -> Edge:
    notches = tuple(Notch(n.sign, n.at + by, n.count) for n in edge.notches)
    return replace(edge, curve=line(start, edge.curve.start).then(edge.curve), notches=notches)


# ---- the lines -----------------------------------------------------------------------------------------


def _heights(free: FreeEdge, number: int, depth: float) -> Iterator[tuple[int, str, float]]:
    """Number of the tuck, which of its lines, and how far above the hem that lies while nothing is folded.

    Sewn, a tuck hangs down by its depth from its lower line, clear of the hem and of the tuck below.
    """
    at = free.turn + CLEAR + depth
    for n in range(1, number + 1):
        for step, what in enumerate(LINES):
            yield n, what, at + step * depth
        at += 3 * depth + CLEAR


def _with_lines(piece: Piece, edge: str, heights: Iterator[tuple[int, str, float]]) -> Piece:
    lines = {(n, what): strip(piece, edge, at).inner for n, what, at in heights}
    for n in {n for n, _ in lines}:
        lower, upper = lines[n, "lower"].length(), lines[n, "upper"].length()
        if abs(lower - upper) > EASED_MOST * upper:
            raise GarmentError(
                f"'{piece.title}' is not as wide below as above there: {abs(lower - upper):.1f} cm on "
                f"{upper:.1f} would have to be eased into the tuck, and its fold would not lie level.",
                where=f"piece '{piece.name}', edge '{edge}'",
                mend="Choose less flare or taper, or shallower tucks.",
            )
    _refuse_taken(piece, lines)
    marks = (tuck_line(edge, n, what, curve) for (n, what), curve in lines.items())
    return replace(piece, marks=(*piece.marks, *marks))


def _refuse_taken(piece: Piece, lines: dict[tuple[int, str], Curve]) -> None:
    """GarmentError where a pocket, a button or a dart would be folded into a tuck."""
    for n in {n for n, _ in lines}:
        lower, upper = (lines[n, what].flattened(tolerance=FLATTEN) for what in ("lower", "upper"))
        folded = shapely.Polygon([*lower, *reversed(upper)])
        held = [
            (mark.name, mark.curve.flattened(tolerance=FLATTEN)) for mark in piece.marks if mark.kind in TAKEN
        ]
        held += [(dart.name, list(dart.drawn)) for dart in piece.darts]
        for name, points in held:
            if folded.intersects(shapely.LineString(points)):
                raise GarmentError(
                    f"The tuck would fold in the {name.replace('_', ' ')} of '{piece.title.lower()}'.",
                    where=f"piece '{piece.name}'",
                    mend="Lay fewer or shallower tucks, or move what lies there.",
                )


# ---- what the garment says -------------------------------------------------------------------------------


def _with_both_lengths(before: Garment, after: Garment, more: float) -> Garment:
    """A finished length that would be told let down is told with the tucks sewn, too; sewn all is as before."""
    gone = {name: cm for name, cm in before.finished.items() if name not in after.finished}
    finished = {f"{name}, tucks sewn": cm for name, cm in gone.items()}
    for name, cm in after.finished.items():
        if abs(cm - before.finished.get(name, cm) - more) > SEAM_MATCH:
            finished[name] = cm
        else:
            finished |= {f"{name}, tucks sewn": cm - more, f"{name}, let down": cm}
    return replace(after, finished=finished)
