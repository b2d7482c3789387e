"""Trace-saver: after an alteration, print only the parts of the pieces that differ from an earlier print.

A piece as it is now is laid over the earlier one where most of its lines agree (a draft may have moved its
origin). Where its lines differ, or an earlier line is gone, a patch is printed: the changed lines with some of
the unchanged ones beside them, to be laid over the earlier print until those agree, and taped. A piece of which
most has changed, or on which a patch would have nothing to be laid to, is printed whole; an unchanged one is
not printed.
Plane of each piece: cm, y up, as it is drawn now.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, MultiLineString, MultiPolygon, Polygon, prepare

from clothwise.curve import Point, Vector, polyline
from clothwise.errors import PaperError
from clothwise.garment import Garment, Piece
from clothwise.garment.allowance import cutting_line, notch_marks
from clothwise.paper.arrange import TRIES, arranged
from clothwise.paper.caption import Block, Caption, patch_blocks, short_cm, spoken
from clothwise.paper.cover import Paragraph
from clothwise.paper.drawing import Drawing, Item, Stroke
from clothwise.paper.labels import edge_labels, spot_labels
from clothwise.paper.pattern import Printed, chosen, first_pages, lacking, made_title, tile_pages
from clothwise.paper.pdf import Book, write_pdf
from clothwise.paper.pens import PRINT, Pens
from clothwise.paper.piece import (
    DrawnPiece,
    chosen_pieces,
    draw_piece,
    notch_numbers,
    piece_lines,
    rows_of_points,
    set_labels,
    title_words,
)
from clothwise.paper.room import ground, lines_of
from clothwise.paper.sheets import Sheet, sheet
from clothwise.tolerance import FLATTEN

SAME_LINE = 0.05  # cm: half a pencil line; nearer than this nothing has changed
STEP = 0.4  # cm between the points at which lines are compared
AROUND = (3.0, 6.0, 12.0)  # cm of the piece kept round a change; more where less holds too little to lay it to
MATCH = 8.0  # cm of unchanged lines that a patch must hold, or it cannot be laid true
MOST_SHARE = 0.6  # of the piece: with more changed than this, taping a patch is more work than a fresh trace
SHARP_DEG = 25.0  # degrees: a bend from here on is a corner by which pieces are laid over each other
STAYS = Vector(0.0, 0.0)
STAY_SHARE = 0.97  # of the best agreement: then the pieces lie as both are drawn, and a hem is let down below
MOST_CORNERS = 14  # tried of each piece: the sharpest

Points = NDArray[np.float64]
LINES = (
    "as on the whole pattern; long dashes and dots: the earlier cutting line; what this print does not "
    "show stays as it was."
)


@dataclass(frozen=True, slots=True)
class Change:
    """What differs on one piece. Empty patches: nothing; whole: all is to be printed.

    patches  closed outlines on the piece's plane
    moved    edges that differ and by how much at most [cm], as a sewer reads it
    way      how the earlier piece is moved to lie on this one
    """

    piece: Piece
    earlier: Piece | None
    patches: tuple[Polygon, ...] = ()
    whole: bool = False
    moved: tuple[tuple[str, float], ...] = ()
    way: Vector = STAYS


def print_changes(
    garment: Garment,
    earlier: Sequence[Piece],
    *,
    paper: Sheet | None = None,
    body_name: str = "",
    made_on: str = "",
    ticket_id: str = "",
    size: str = "",
    pieces: Sequence[str] = (),
    only: Sequence[str] = (),
    pens: Pens = PRINT,
    tries: int = TRIES,
) -> Printed:
    """What differs from the earlier pieces, tiled on sheets, with a first sheet that says where it goes.

    pieces  names of the pieces to compare; empty: all. Their numbers stay those of the whole garment
    Raises  PaperError: nothing differs; an unknown piece or sheet
    """
    caption = Caption(garment.title, body_name or garment.body_name, made_on, ticket_id, size)
    before = {piece.name: piece for piece in earlier}
    signs = notch_numbers(garment)
    wanted = chosen_pieces(garment, pieces)
    found = {
        number: change_of(piece, before.get(piece.name))
        for number, piece in enumerate(garment.pieces, start=1)
        if piece in wanted
    }
    drawn = [
        part
        for number, one in found.items()
        for part in _drawn(one, caption, number, len(garment.pieces), signs)
    ]
    if not drawn:
        named = f" on {', '.join(piece.title for piece in wanted)}" if pieces else ""
        raise PaperError(
            f"Nothing differs from the earlier print{named}.",
            where=f"garment '{garment.name}'",
            mend="Use the earlier print; or print the whole pattern again.",
        )
    arrangement = arranged([part.outline for part in drawn], paper or sheet(), tries=tries)
    more = list(_told(garment, list(found.values()), before))
    pages, tiles = chosen(arrangement, first_pages(arrangement, drawn, caption, LINES, more), only)
    pages += tile_pages(arrangement, drawn, caption, tiles, {d.drawing.name: (d.drawing.name,) for d in drawn})
    forms = {part.drawing.name: part.drawing for part in drawn}
    book = Book(f"{made_title(caption)}: changes", tuple(pages), forms, made_on, ticket_id, pens=pens)
    said = (*(p for part in drawn for p in part.problems), *lacking(caption))
    labels = tuple(tile.label for tile in tiles)
    grid = arrangement.grid
    return Printed(write_pdf(book), len(pages), labels, arrangement.plain, grid.rows, grid.columns, said)


def _told(garment: Garment, found: Sequence[Change], before: Mapping[str, Piece]) -> Iterator[Paragraph]:
    """What has changed, what stays, what is gone."""
    yield Paragraph(
        "Cut a patch out along its rim, lay it over the earlier piece until the unchanged lines agree on both "
        "sides of the change, tape it, and cut the piece along the new line.",
        "Only what has changed.",
    )
    for one in found:
        if one.moved and not one.whole:
            told = "; ".join(f"{name} by up to {short_cm(by)}" for name, by in one.moved)
            yield Paragraph(f"moved: {told}.", f"{one.piece.title},")
    same = [one.piece.title for one in found if not one.whole and not one.patches]
    if same:
        yield Paragraph(f"{', '.join(same)}. Use the earlier print.", "As before:")
    names = {piece.name for piece in garment.pieces}
    gone = [piece.title for name, piece in before.items() if name not in names]
    if gone:
        yield Paragraph(f"{', '.join(gone)}.", "No longer needed:")


# ---- what differs ----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Ink:
    """The lines of a piece for comparing: its cutting line, and all that is marked inside it."""

    cut: tuple[Point, ...]
    inside: tuple[tuple[Point, ...], ...]

    @staticmethod
    def of(piece: Piece) -> _Ink:
        cut = cutting_line(piece)
        inside = [tuple(edge.curve.flattened(tolerance=FLATTEN)) for edge in piece.edges]
        inside += [tuple(dart.drawn) for dart in piece.darts]
        inside += [tuple(mark.curve.flattened(tolerance=FLATTEN)) for mark in piece.marks]
        inside += [(notch.on_seam, notch.on_cut) for notch in notch_marks(piece, cut=cut)]
        return _Ink(cut, tuple(inside))

    @property
    def ring(self) -> LineString:
        return lines_of([[*self.cut, self.cut[0]]]).geoms[0]

    def moved(self, way: Vector) -> _Ink:
        return _Ink(
            tuple(p.go(way) for p in self.cut), tuple(tuple(p.go(way) for p in row) for row in self.inside)
        )


def change_of(piece: Piece, earlier: Piece | None) -> Change:
    """Where this piece differs from the earlier one, which may lie elsewhere on its plane."""
    if earlier is None:
        return Change(piece, None, whole=True)
    new = _Ink.of(piece)
    old = _Ink.of(earlier)
    way = _laid_over(new, old)
    old = old.moved(way)
    marks = lines_of(new.inside), lines_of(old.inside)
    off = np.concatenate(
        [
            _off(new.ring, old.ring),
            _off(old.ring, new.ring),
            _off(marks[0], marks[1]),
            _off(marks[1], marks[0]),
        ]
    )
    if not len(off):
        return Change(piece, earlier, way=way)
    moved = tuple(_moved_edges(piece, earlier, way))
    whole = Polygon(new.cut)
    spots = shapely.multipoints(off)
    for reach in AROUND:
        patches = _patches(whole, spots, reach)
        if sum(p.area for p in patches) > MOST_SHARE * whole.area:
            break
        if all(_unchanged(new, off, patch) >= MATCH for patch in patches):
            return Change(piece, earlier, tuple(patches), moved=moved, way=way)
    return Change(piece, earlier, whole=True, moved=moved, way=way)


def _off(lines: LineString | MultiLineString, other: LineString | MultiLineString) -> Points:
    """Points of the one that lie off the other."""
    points = _sampled(lines)
    prepare(other)
    return np.asarray(points[~shapely.dwithin(other, shapely.points(points), SAME_LINE)], dtype=np.float64)


def _sampled(lines: LineString | MultiLineString) -> Points:
    return np.asarray(shapely.get_coordinates(shapely.segmentize(lines, STEP)), dtype=np.float64)


def _laid_over(new: _Ink, old: _Ink) -> Vector:
    """The move that brings the earlier piece's cutting line over most of the new one: corner to corner."""
    ring = new.ring
    prepare(ring)
    points = _sampled(old.ring)
    moves = [STAYS]
    moves += [b.to(a) for a in _corners(new.cut) for b in _corners(old.cut)]
    agree = [
        int(shapely.dwithin(ring, shapely.points(points + np.array([way.x, way.y])), SAME_LINE).sum())
        for way in moves
    ]
    return STAYS if agree[0] >= STAY_SHARE * max(agree) else moves[agree.index(max(agree))]


def _corners(ring: Sequence[Point]) -> list[Point]:
    """The sharpest corners of a cutting line."""
    points = np.asarray(ring, dtype=np.float64)
    before, after = points - np.roll(points, 1, axis=0), np.roll(points, -1, axis=0) - points
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    bend = np.abs(np.degrees(np.arctan2(cross, (before * after).sum(axis=1))))
    sharp = np.argsort(-bend, kind="stable")[:MOST_CORNERS]
    return [ring[i] for i in sorted(sharp.tolist()) if bend[i] >= SHARP_DEG]


def _patches(whole: Polygon, spots: MultiPolygon, reach: float) -> list[Polygon]:
    """What of the piece lies within reach of a change, in parts without holes, from left to right."""
    near = whole.intersection(spots.buffer(reach)).simplify(SAME_LINE)
    parts = [Polygon(part.exterior) for part in getattr(near, "geoms", [near]) if isinstance(part, Polygon)]
    return sorted((p for p in parts if p.area > 0), key=lambda p: p.bounds)


def _unchanged(new: _Ink, off: Points, patch: Polygon) -> float:
    """How much of the patch's lines is as before. [cm]"""
    lines = shapely.union_all([new.ring, lines_of(new.inside)]).intersection(patch.buffer(SAME_LINE))
    return float(lines.difference(shapely.multipoints(off).buffer(STEP)).length)


def _moved_edges(piece: Piece, earlier: Piece, way: Vector) -> Iterator[tuple[str, float]]:
    """Edges that differ, with the farthest that the one strays from the other. [cm]"""
    before = {edge.name: edge.curve for edge in earlier.edges}
    for edge in piece.edges:
        name = spoken(edge.name)
        if edge.name not in before:
            yield name, edge.curve.length()
            continue
        one = lines_of([edge.curve.flattened(tolerance=FLATTEN)])
        other = lines_of([before[edge.name].moved(way).flattened(tolerance=FLATTEN)])
        by = float(shapely.hausdorff_distance(one, other, densify=0.02))
        if by > SAME_LINE:
            yield name, by


# ---- drawing it ------------------------------------------------------------------------------------


def _drawn(
    change: Change, caption: Caption, number: int, of: int, signs: Mapping[str, int]
) -> Iterator[DrawnPiece]:
    if change.whole:
        yield draw_piece(change.piece, caption, number=number, of=of, signs=signs)
        return
    for k, patch in enumerate(change.patches, start=1):
        which = f"patch {k} of {len(change.patches)}" if len(change.patches) > 1 else "patch"
        blocks = patch_blocks(change.piece, caption, number, which)
        yield _patch(change, patch, blocks, k, which, caption, number, signs)


def _patch(
    change: Change,
    patch: Polygon,
    blocks: Sequence[Block],
    k: int,
    which: str,
    caption: Caption,
    number: int,
    signs: Mapping[str, int],
) -> DrawnPiece:
    piece = change.piece
    cut = tuple(cutting_line(piece))
    notches = notch_marks(piece, cut=cut)
    ring = tuple(Point(x, y) for x, y in patch.exterior.coords[:-1])
    lines: list[Item] = [Stroke(polyline([*ring, ring[0]]), "trim", closed=True)]
    lines += _clipped(_earlier_line(change, cut), patch)
    lines += _clipped(piece_lines(piece, cut, notches, caption.larger), patch)
    free = ground(ring, rows_of_points(lines))
    shown = [notch for notch in notches if patch.buffer(SAME_LINE).contains(shapely.Point(notch.on_cut))]
    marked = replace(piece, marks=tuple(m for m in piece.marks if _in(m.curve.at_length(0.0), patch)))
    wanted = (*spot_labels(marked, shown, signs, caption.larger), *edge_labels(piece, caption.larger))
    words, unplaced, free = set_labels(wanted, free)
    title, said = title_words(piece, blocks, free)
    problems = [f"{piece.title}, {which}: no room for the words '{text}'." for text in unplaced]
    drawing = Drawing(f"{piece.name}_patch_{k}", f"{piece.title}, {which}", (*lines, *words, *title))
    part = f"{which}, to lay over the earlier print"
    return DrawnPiece(piece, number, drawing, ring, (*problems, *said), part)


def _in(p: Point, patch: Polygon) -> bool:
    return bool(shapely.dwithin(patch, shapely.Point(p), SAME_LINE))


def _earlier_line(change: Change, cut: Sequence[Point]) -> Iterator[Item]:
    """The earlier cutting line where it differs, in the fold's dashes."""
    if change.earlier is None:
        return
    old = _Ink.of(change.earlier).moved(change.way)
    apart = old.ring.difference(lines_of([[*cut, cut[0]]]).buffer(SAME_LINE))
    for run in getattr(apart, "geoms", [apart]):
        if isinstance(run, LineString) and not run.is_empty:
            yield Stroke(polyline([Point(x, y) for x, y in run.coords]), "earlier")


def _clipped(items: Iterator[Item], patch: Polygon) -> Iterator[Item]:
    """What of the lines lies on the patch, its rim included; heads of arrows only whole."""
    shape = patch.buffer(SAME_LINE)
    prepare(shape)
    for item in items:
        if not isinstance(item, Stroke):
            continue
        points = item.path.flattened(tolerance=FLATTEN)
        run = lines_of([[*points, points[0]] if item.closed and points[0] != points[-1] else points]).geoms[0]
        if shape.contains(run):
            yield item
            continue
        inside = run.intersection(shape)
        if isinstance(inside, MultiLineString):
            inside = shapely.line_merge(inside)
        for part in getattr(inside, "geoms", [inside]):
            if isinstance(part, LineString) and part.length > SAME_LINE:
                yield Stroke(polyline([Point(x, y) for x, y in part.coords]), item.pen)
