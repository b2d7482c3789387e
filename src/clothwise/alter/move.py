"""A seam line moved: one piece gives what the other gains, and what is sewn across follows.

Where the seam ends at another one that is parted there too (a facing's side, a sleeve's underarm), that parting
moves with it. Lengths in cm.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import numpy as np

from clothwise.alter.settle import settled
from clothwise.alter.warp import warped
from clothwise.curve import Point, Vector
from clothwise.errors import GarmentError
from clothwise.garment import Garment, Note, Piece, Run, Seam
from clothwise.tolerance import FLATTEN

LEAST_UPRIGHT = 0.7  # share of a seam's length that it climbs: what runs flatter is no side or centre seam
OF_WIDTH = 0.9  # of the way to the nearest other seam or dart, over which the piece is drawn in or out
MOST_OF_WIDTH = 0.3  # of that width the line may be moved: more would bend what is drawn on the piece
SAME_PLACE = 0.3  # cm: seams that are parted so near to each other are parted at one place


def seam_moved(garment: Garment, seam_name: str, onto: str, by: float) -> Garment:
    """The garment with a seam moved by `by` onto the piece `onto`, which gets so much narrower; its mate gets
    wider.

    Raises GarmentError: no seam that runs up and down between two pieces, or too little room
    """
    seam = garment.seam(seam_name)
    pair = _pair(garment, seam)
    if onto not in pair:
        raise GarmentError(
            f"'{onto}' is not in the seam '{seam.title.lower()}'.",
            where=f"garment '{garment.name}'",
            mend=f"It joins {' and '.join(pair)}.",
        )
    changed = {piece.name: piece for piece in garment.pieces}
    for moved, narrower in _together(garment, seam, onto):
        for side in (moved.a, moved.b):
            name = side[0].piece
            gives = side is (moved.a if narrower else moved.b)
            changed[name] = _shifted(changed[name], garment.piece(name), side, -by if gives else by)
    other = next(name for name in pair if name != onto)
    said = (
        f"{seam.title} moved {abs(by):g} cm: {garment.piece(onto).title.lower()} is so much narrower, "
        f"{garment.piece(other).title.lower()} wider."
    )
    pieces = [piece for piece in changed.values() if piece is not garment.piece(piece.name)]
    return settled(garment, pieces, Note(said, measure=seam_name, by=by))


def _pair(garment: Garment, seam: Seam) -> tuple[str, str]:
    """The two pieces it joins. GarmentError when it joins others, or does not run up and down."""
    sides = [{run.piece for run in side} for side in (seam.a, seam.b)]
    runs = [garment.curve(run) for run in seam.a if garment.edge_of(run)]
    climbs = bool(runs) and abs(runs[0].start.y - runs[-1].end.y) > LEAST_UPRIGHT * garment.length(seam.a)
    if seam.kind != "plain" or any(len(side) != 1 for side in sides) or sides[0] == sides[1] or not climbs:
        raise GarmentError(
            f"'{seam.title}' is no seam that runs up and down between two pieces.",
            where=f"garment '{garment.name}', seam '{seam.name}'",
            mend="Move a side or panel seam; a shoulder is moved by the figure 'forward_shoulder'.",
        )
    return seam.a[0].piece, seam.b[0].piece


def _together(garment: Garment, seam: Seam, onto: str) -> list[tuple[Seam, bool]]:
    """The seam, and every other that is parted where it ends: each with whether its side a gets narrower."""
    found = [(seam, seam.a[0].piece == onto)]
    for moved, narrower in found:
        for last in (False, True):
            for other, a_narrower in _met(garment, moved, narrower, last=last):
                if all(other.name != known.name for known, _ in found):
                    found.append((other, a_narrower))
    return found


def _met(garment: Garment, seam: Seam, narrower: bool, *, last: bool) -> Iterable[tuple[Seam, bool]]:
    """Seams on the other side of what is sewn across this one's end, and whether their side a gets narrower."""
    ends = {(run.piece, _next_to(garment, run, last=last)) for run in (seam.a[-last], seam.b[-last])}
    for across in garment.seams:
        for mine, other in ((across.a, across.b), (across.b, across.a)):
            done, size = 0.0, garment.length(mine)
            for n, run in enumerate(mine):
                done += garment.length((run,))
                following = mine[(n + 1) % len(mine)]
                if {(run.piece, run.line), (following.piece, following.line)} != ends or len(ends) < 2:
                    continue
                first_narrow = (run.piece == seam.a[0].piece) == narrower
                yield from _parted(garment, other, done / size, first_narrow)


def _parted(
    garment: Garment, runs: tuple[Run, ...], share: float, first_narrow: bool
) -> Iterable[tuple[Seam, bool]]:
    """The seam between the two runs that meet at that share of the way, if any do."""
    done, size = 0.0, garment.length(runs)
    for n, run in enumerate(runs):
        done += garment.length((run,))
        if abs(done - share * size) > SAME_PLACE:
            continue
        following = runs[(n + 1) % len(runs)]
        one = (run.piece, _next_to(garment, run, last=True))
        two = (following.piece, _next_to(garment, following, last=False))
        for seam in garment.seams:
            if seam.kind != "plain":
                continue
            a = {(r.piece, r.line) for r in seam.a}
            b = {(r.piece, r.line) for r in seam.b}
            if one in a and two in b:
                yield seam, first_narrow
            elif two in a and one in b:
                yield seam, not first_narrow


def _next_to(garment: Garment, run: Run, *, last: bool) -> str:
    """The edge that meets this one where the walk leaves it, or enters it."""
    names = [edge.name for edge in garment.piece(run.piece)]
    if run.line not in names:
        return ""
    return names[(names.index(run.line) + (1 if last != run.backwards else -1)) % len(names)]


# ---- one piece ---------------------------------------------------------------------------------------


def _shifted(piece: Piece, drawn: Piece, side: tuple[Run, ...], by: float) -> Piece:
    """The piece with those edges moved outwards by so much, drawn in or out over most of its width."""
    lines = {run.line for run in side}
    lines |= {dart.edge for dart in piece.darts if lines & _beside(piece, dart.edge)}
    curves = [edge.curve for edge in piece if edge.name in lines]
    points = np.array([p for curve in curves for p in curve.flattened(tolerance=FLATTEN)])
    rising = points[np.argsort(points[:, 1], kind="stable")]
    out = 1.0 if piece.outline().bounds()[0] + piece.outline().bounds()[2] < 2 * points[:, 0].mean() else -1.0
    away = [(float(np.interp(p.y, rising[:, 1], rising[:, 0])) - p.x) * out for p in _held(piece, lines)]
    width = OF_WIDTH * min(away, default=0.0)
    if abs(by) > MOST_OF_WIDTH * width:
        raise GarmentError(
            f"'{drawn.title}' is too narrow there to move the seam by {abs(by):g} cm.",
            where=f"piece '{drawn.name}'",
            mend="Ask for less, or move another seam.",
        )

    def shift(p: Point) -> Vector:
        edge = float(np.interp(p.y, rising[:, 1], rising[:, 0]))
        t = min(max(1 - (edge - p.x) * out / width, 0.0), 1.0)
        return Vector(out * by * t * t * (3 - 2 * t), 0.0)

    moved = warped(piece, shift)
    way = Vector(out * by, 0.0)  # the seam itself keeps its line to the hair, so that both sides still match
    edges = tuple(
        replace(edge, curve=was.curve.moved(way), notches=was.notches) if edge.name in lines else edge
        for edge, was in zip(moved.edges, piece.edges, strict=True)
    )
    return replace(moved, edges=edges)


def _beside(piece: Piece, name: str) -> set[str]:
    names = [edge.name for edge in piece]
    here = names.index(name) if name in names else -1
    return {names[here - 1], names[(here + 1) % len(names)]} if here >= 0 else set()


def _held(piece: Piece, lines: set[str]) -> Iterable[Point]:
    """Points that must stay where they are: of darts, and of sewn or folded edges not beside the seam."""
    edges = list(piece.edges)
    for before, edge, after in zip((edges[-1], *edges[:-1]), edges, (*edges[1:], edges[0]), strict=True):
        if edge.kind in ("seam", "fold") and not lines & {before.name, edge.name, after.name}:
            yield from edge.curve.flattened(tolerance=FLATTEN)
    for dart in piece.darts:
        if dart.edge not in lines:
            yield from dart.drawn
