"""What is bought besides the cloth, computed from the seam graph: thread from what is sewn, interfacing from
the pieces cut in it, zips and buttons from openings and marks, and what the draft itself asks for (elastic,
cord).

Stitches by ISO 4915: 301 lockstitch, 304 zigzag, 504 three-thread overlock. Lengths in cm.
Sources: the thread ratios are ordinary trade knowledge (T), not looked up; the two lockstitch ratios are
also held by the geometry of the stitch in tests. Rounding up to reels and metres is left to who prints.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from clothwise.garment.garment import FreeEdge, Garment, Notion, Seam
from clothwise.garment.piece import Dart, Edge, Piece

StitchClass = Literal["301", "304", "504"]

# Thread per length sewn, all threads of the stitch together: least, usual, most (T).
THREAD_RATIO: Mapping[StitchClass, tuple[float, float, float]] = {
    "301": (2.5, 2.8, 3.0),  # two threads, stitch 2.5 mm, cloth thin to jeans
    "304": (4.5, 5.5, 7.0),  # two threads zigzag, 4 to 5 mm wide
    "504": (12.0, 13.5, 14.5),  # three threads round the edge, 5 to 6 mm wide
}
TAILS = {"301": 40.0, "304": 40.0, "504": 45.0}  # cm cut off each row: 10 (15) at both ends of each thread (T)
WASTE = 1.15  # a trial seam, unpicking, re-threading, the rest of the bobbin (trade 10-20 %, T)
GATHER_ROWS, EASE_ROWS = 2, 1  # rows of long stitches drawn up (T)
EASED_BY_ROWS = 1.4  # cm of fullness from which a row of long stitches draws it in (T)
BUTTON_THREAD = 150.0  # cm for a buttonhole stitched by machine and a button sewn on by hand (T)
FOLDS_OF_BINDING = 4.0  # a binding is cut four times as wide as it finishes (rule of the trade)
INTERFACING_WIDTH = 90.0  # cm: the usual width of fusible interfacing (T)
INTERFACING_SPARE = 5.0  # cm: it is cut off crooked and fused slightly larger (T)


@dataclass(frozen=True, slots=True)
class SewnLine:
    """One line of the garment that is sewn or finished, as thread and minutes need it.

    name, title  of the seam, free edge or dart
    kind         of the seam or free edge; 'dart'
    once         length of the sewn line of one copy [cm]; a gathered side counts as drawn up
    times        copies; rows: lines of stitching it takes besides gathering, each copy
    raw          length of cut edge to neaten, all copies together [cm]; 0 where it is turned in or enclosed
    gathered     length of the rows by which cloth is drawn up or eased in first, all copies together [cm]
    """

    name: str
    title: str
    kind: str
    once: float
    times: int
    rows: int = 1
    raw: float = 0.0
    gathered: float = 0.0

    @property
    def length(self) -> float:
        """Length of all copies, one row. [cm]"""
        return self.once * self.times


@dataclass(frozen=True, slots=True)
class FinishedMeasure:
    """A measure of the garment when done. [cm]"""

    name: str
    title: str
    cm: float


def haberdashery(garment: Garment, *, neaten: StitchClass = "304") -> tuple[Notion, ...]:
    """All that is bought besides cloth, what the draft asks for first.

    neaten  how raw edges are neatened: '304' zigzag on an ordinary machine, '504' overlock
    """
    asked = (*(n for n in garment.notions if n.name != "thread"), *_not_named(garment))
    rows = _rows(seam_lengths(garment), neaten)
    buttons = sum(n.count for n in asked if n.name == "button")
    thread = Notion("thread", "Sewing thread", length=thread_length(rows) + buttons * BUTTON_THREAD)
    lengths = _interfacing(garment.pieces)
    fusible = (
        (Notion("interfacing", "Interfacing", length=lengths, width=INTERFACING_WIDTH),) if lengths else ()
    )
    return (*asked, thread, *fusible)


def _not_named(garment: Garment) -> Iterable[Notion]:
    """Zips and buttons that the pieces have a place for and the draft did not list."""
    named = {n.name for n in garment.notions}
    if "zip" not in named:
        for free in garment.free_edges:
            if free.kind == "zip":
                length = garment.length(free.runs) * free.times / 2
                yield Notion("zip", f"Zip {length:.0f} cm", free.name, length=length)
    marks = sum(p.copies for p in garment.pieces for mark in p.marks if mark.kind == "button")
    if "button" not in named and marks:
        yield Notion("button", "Buttons" if marks > 1 else "Button", count=marks)


def bindings(garment: Garment) -> tuple[Notion, ...]:
    """Strips of the pattern that can be bought as bias binding instead: finished width, and length with what
    the pattern adds for joining. Only strips folded over an edge; a band that is stretched cannot be. [cm]"""
    found = []
    inner = {(r.piece, r.line) for f in garment.free_edges if f.kind == "band" for r in f.runs}
    for seam in garment.seams:
        strips = {run.piece for run in seam.a}
        folded = {piece for piece, _ in inner} & strips
        if seam.kind == "applied" and seam.ratio == 1.0 and len(strips) == 1 and strips == folded:
            piece = garment.piece(seam.a[0].piece)
            edge = piece.edge(seam.a[0].line)
            ends = [e.allowance for e in piece if e.name != edge.name and (piece.name, e.name) not in inner]
            length = (edge.curve.length() + sum(ends[:2])) * piece.copies
            width = _width_of(piece) / FOLDS_OF_BINDING
            title = f"Bias binding for the {seam.title.lower()}"
            found.append(Notion("binding", title, seam.name, length, width))
    return tuple(found)


def _width_of(strip: Piece) -> float:
    """How wide a strip is cut, allowances included. [cm]"""
    width, height = _box(strip)
    return min(width, height)


# ---- what is sewn --------------------------------------------------------------------------------


def seam_lengths(garment: Garment) -> tuple[SewnLine, ...]:
    """Every dart, seam and free edge with its length, in the order of the garment. [cm]

    Sewing and thread both count from here.
    """
    darts = [_dart(piece, dart) for piece in garment.pieces for dart in piece.darts]
    seams = [_seam(garment, seam) for seam in garment.seams]
    free = [_free_edge(garment, edge) for edge in garment.free_edges]
    return (*darts, *seams, *free, *_raw_edges(garment))


def _seam(garment: Garment, seam: Seam) -> SewnLine:
    along = garment.length(seam.b)
    cut = sum(garment.length((run,)) for run in seam.runs if garment.edge_of(run))
    full = garment.length(seam.a) * seam.times
    gathered = full * GATHER_ROWS if seam.kind == "gathered" else 0.0
    if seam.kind == "eased" and garment.length(seam.a) - along > EASED_BY_ROWS:
        gathered = full * EASE_ROWS
    # A patch is turned in at its edge; a facing or a band that is sewn down shuts its seam in: nothing is raw.
    bands = {r.piece for f in garment.free_edges if f.kind == "band" for r in f.runs}
    shut = seam.kind in ("patch", "applied") or any(run.piece in bands for run in seam.runs)
    faced = seam.kind == "applied" and not any(run.piece in bands for run in seam.a)
    rows = 2 if faced else 1  # a facing is stitched to its own allowances once more
    return SewnLine(
        seam.name, seam.title, seam.kind, along, seam.times, rows, 0.0 if shut else cut * seam.times, gathered
    )


def _free_edge(garment: Garment, free: FreeEdge) -> SewnLine:
    length = garment.length(free.runs)
    raw = 0.0 if free.fold_in > 0 else length * free.times
    return SewnLine(free.name, free.title, free.kind, length, free.times, raw=raw)


def _dart(piece: Piece, dart: Dart) -> SewnLine:
    times = piece.shapes
    return SewnLine(f"{piece.name}.{dart.name}", "Dart", "dart", dart.leg_length, times)


def _raw_edges(garment: Garment) -> Iterable[SewnLine]:
    """Edges neatened by themselves, in no seam and no hem. Interfacing is fused, not neatened."""
    taken = {(r.piece, r.line) for s in garment.seams for r in s.runs}
    taken |= {(r.piece, r.line) for f in garment.free_edges for r in f.runs}
    for piece in garment.pieces:
        for edge in piece.edges:
            if edge.kind == "raw" and (piece.name, edge.name) not in taken and piece.layer != "interfacing":
                times = piece.shapes
                length = edge.curve.length()
                title = f"Raw edge of {piece.title.lower()}"
                yield SewnLine(f"{piece.name}.{edge.name}", title, "raw", length, times, 0, length * times)


# ---- thread --------------------------------------------------------------------------------------


def _rows(lines: Iterable[SewnLine], neaten: StitchClass) -> list[tuple[StitchClass, float, int]]:
    """Stitch, length of all rows [cm] and number of rows."""
    rows: list[tuple[StitchClass, float, int]] = []
    for line in lines:
        rows.append(("301", line.length * line.rows, line.times * line.rows))
        if line.gathered:
            rows.append(("301", line.gathered, line.times * GATHER_ROWS))
        if line.raw:
            rows.append((neaten, line.raw, 2 * line.times))
    return rows


def thread_length(rows: Iterable[tuple[StitchClass, float, int]]) -> float:
    """Thread used up by rows of stitching, waste included. [cm]

    rows    stitch class, length of all its rows together [cm], number of rows begun
    Source  THREAD_RATIO, TAILS, WASTE (T)
    """
    used = sum(THREAD_RATIO[stitch][1] * length + TAILS[stitch] * n for stitch, length, n in rows)
    return used * WASTE


# ---- interfacing -----------------------------------------------------------------------------------


def _interfacing(pieces: Iterable[Piece]) -> float:
    """Length of interfacing to buy: the pieces' boxes laid in rows, deepest first. [cm]

    A plain rule for small pieces; not a lay.
    """
    boxes = [box for p in pieces if p.layer == "interfacing" or p.interfaced for box in [_box(p)] * p.copies]
    rows: list[list[float]] = []  # of each row: width used, depth
    for width, depth in sorted(boxes, key=lambda box: (-box[1], -box[0])):
        row = next((r for r in rows if r[0] + width <= INTERFACING_WIDTH), None)
        if row is None:
            rows.append([width, depth])
        else:
            row[0] += width
    return sum(depth for _, depth in rows) + INTERFACING_SPARE if rows else 0.0


def _box(piece: Piece) -> tuple[float, float]:
    """Across and along the grain, allowances included; a half on the fold opened. [cm]"""
    along = piece.grain[0].to(piece.grain[1]).unit()
    points = [point for edge in piece.edges for point in _widened(edge)]
    across = [p[0] * along.y - p[1] * along.x for p in points]
    down = [p[0] * along.x + p[1] * along.y for p in points]
    opened = 2 if piece.cutting == "on fold" else 1
    return (max(across) - min(across)) * opened, max(down) - min(down)


def _widened(edge: Edge) -> list[tuple[float, float]]:
    """The corners of the box of an edge and its allowance."""
    left, bottom, right, top = edge.curve.bounds()
    d = edge.allowance
    return [(x, y) for x in (left - d, right + d) for y in (bottom - d, top + d)]


# ---- finished measures -----------------------------------------------------------------------------


def finished_measures(garment: Garment) -> tuple[FinishedMeasure, ...]:
    """The garment's own measures, as drawn: its levels, hems and seams, then what the draft adds. [cm]"""
    found = [FinishedMeasure(level.name, level.title, garment.round(level.runs)) for level in garment.levels]
    for free in garment.free_edges:
        if free.closed:
            found.append(FinishedMeasure(free.name, free.title, garment.length(free.runs)))
    for seam in garment.seams:
        if seam.kind != "patch":
            found.append(FinishedMeasure(seam.name, seam.title, garment.length(seam.b)))
    known = {measure.name for measure in found}
    added = [
        FinishedMeasure(name, name.replace("_", " ").capitalize(), cm)
        for name, cm in garment.finished.items()
        if name not in known
    ]
    return (*found, *added)
