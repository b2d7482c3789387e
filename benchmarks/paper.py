"""Paper measured: scale read back by others, words that collide, sheets saved, time.

Bodies are drawn from the population model (fixed seed); every garment is printed and read back with pdfium.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from io import StringIO
from itertools import combinations
from xml.etree import ElementTree

import ezdxf
import numpy as np
import pypdfium2 as pdfium
import shapely
from shapely import LineString, MultiLineString, Polygon, prepare
from tests import paper_reading as read

from benchmarks.asked import quick_only
from benchmarks.table import Row, print_table
from clothwise.body import Body, Figure, sample
from clothwise.body.sizes import size_bodies
from clothwise.curve import Cubic
from clothwise.draft import PATTERNS, HouseDraft
from clothwise.errors import WorkroomError
from clothwise.garment import Garment, Piece
from clothwise.garment.allowance import cutting_line
from clothwise.paper.arrange import Arrangement, arranged
from clothwise.paper.caption import Caption
from clothwise.paper.changes import change_of, print_changes
from clothwise.paper.drawing import Carry, Drawing
from clothwise.paper.dxf import pattern_dxf
from clothwise.paper.geometry import pattern_json, pieces_of_json
from clothwise.paper.nest import print_nest
from clothwise.paper.pattern import pattern_svg, print_pattern
from clothwise.paper.pdf import Book, Page, Placed, write_pdf
from clothwise.paper.piece import DrawnPiece, draw_pieces
from clothwise.paper.sheets import Sheet, sheet

FIGURES: tuple[Figure, ...] = ("woman", "man", "girl", "boy")
SEED = 20261125
SECONDS = 0.5  # of one garment on sheets
NEST_SECONDS = 2.0
NEST_MEGABYTES = 300
SQUARE_MM = 0.05
OUTLINE_MM = 0.1
PAPERS = (sheet("A4"), sheet("Letter"), sheet("A4", overlap=0.0), sheet("A3"))


@dataclass(frozen=True, slots=True)
class Make:
    """One garment of one body."""

    garment: Garment
    body: str
    draft: HouseDraft
    figure: Body


def makes(per_figure: int) -> list[Make]:
    """Every house draft for so many bodies of each figure; what a draft refuses is left out."""
    found = []
    for figure in FIGURES:
        for body in sample(figure, per_figure, seed=SEED):
            for draft in PATTERNS:
                try:
                    found.append(Make(draft.make(body), body.name, draft, body))
                except WorkroomError:
                    continue
    return found


def time_rows(all_makes: Sequence[Make]) -> list[Row]:
    print_pattern(all_makes[0].garment)  # fonts and the lay's kernels are loaded once
    took = []
    for make in all_makes:
        start = time.process_time()
        printed = print_pattern(make.garment, body_name=make.body, made_on="2026-11-25", ticket_id="bench")
        took.append(time.process_time() - start)
    again = print_pattern(make.garment, body_name=make.body, made_on="2026-11-25", ticket_id="bench")
    median, ninth = statistics.median(took), sorted(took)[int(0.9 * len(took))]
    same = printed.data == again.data
    return [
        Row(
            f"one garment on A4, median of {len(took)} [s of one core]",
            f"<= {SECONDS}",
            median,
            median <= SECONDS,
        ),
        Row("one garment on A4, nine in ten below [s of one core]", "", ninth),
        Row("same garment, same bytes", "yes", "yes" if same else "no", same),
        Row("size of the last file [kB]", "", round(len(printed.data) / 1000)),
    ]


# ---- scale -----------------------------------------------------------------------------------------


def scale_rows(all_makes: Sequence[Make]) -> list[Row]:
    squares = sheets = 0
    off_square = off_outline = 0.0
    for make, paper in zip(all_makes, PAPERS * len(all_makes), strict=False):
        drawn = draw_pieces(make.garment, Caption(make.garment.title))
        arrangement = arranged([d.outline for d in drawn], paper)
        pdf = pdfium.PdfDocument(print_pattern(make.garment, paper=paper).data)
        for number in range(len(pdf)):
            found = read.squares(pdf[number])
            for side in (10.0 if number == 0 else 5.0, 5.08):
                off_square = max(off_square, min(max(abs(a - side), abs(b - side)) for a, b in found))
                squares += 1
        off_outline = max(off_outline, put_together(make.garment, paper, drawn, arrangement, pdf))
        sheets += len(pdf)
    mm = 10 * off_square
    return [
        Row(f"{squares} test squares, worst error [mm]", f"<= {SQUARE_MM}", mm, mm <= SQUARE_MM),
        Row(
            f"{sheets} sheets put together, outlines off by [mm]",
            f"<= {OUTLINE_MM}",
            10 * off_outline,
            10 * off_outline <= OUTLINE_MM,
        ),
    ]  # fmt: skip


def put_together(
    garment: Garment,
    paper: Sheet,
    drawn: Sequence[DrawnPiece],
    arrangement: Arrangement,
    pdf: pdfium.PdfDocument,
) -> float:
    """The farthest that any point of a seam or cutting line lies from what its sheets show. [cm]

    Infinite when a point is on no sheet.
    """
    grid = arrangement.grid
    points = np.vstack(list(_points(drawn, arrangement.carries)))
    seen = np.zeros(len(points), dtype=bool)
    worst = 0.0
    for number, tile in enumerate(grid.tiles, start=1):
        left, bottom, right, top = grid.window(tile)
        ink = MultiLineString([r for r in read.strokes(pdf[number], in_forms=True) if len(r) > 1])
        prepare(ink)
        x, y = points[:, 0], points[:, 1]
        inside = (x >= left) & (x <= right) & (y >= bottom) & (y <= top)
        shown = shapely.points(points[inside] + (paper.margin - left, paper.margin - bottom))
        if len(shown):
            worst = max(worst, float(shapely.distance(ink, shown).max()))
        seen |= inside
    return worst if seen.all() else float("inf")


def _points(drawn: Sequence[DrawnPiece], carries: Sequence[Carry]) -> Iterator[np.ndarray]:
    """200 points of every curve and the corners of every cutting line, on the taped paper."""
    for piece, carry in zip(drawn, carries, strict=True):
        for edge in piece.piece.edges:
            for stroke in edge.curve.strokes:
                steps = read.CHORDS if isinstance(stroke, Cubic) else 20
                yield np.array([carry(stroke.at(k / steps)) for k in range(steps + 1)])
        yield np.array([carry(p) for p in piece.outline])


# ---- words -----------------------------------------------------------------------------------------


def word_rows(all_makes: Sequence[Make]) -> list[Row]:
    caption = Caption("Pull-on trousers", "Marit", "2026-11-25", "bench")
    pieces = words = faults = left_out = 0
    for make in all_makes:
        for drawn in draw_pieces(make.garment, caption):
            found, wrong = _read_words(drawn)
            words, faults, left_out, pieces = (
                words + found,
                faults + wrong,
                left_out + len(drawn.problems),
                pieces + 1,
            )
    return [
        Row(
            f"of {words} lines of words on {pieces} pieces: outside, on a line, on another",
            0,
            faults,
            faults == 0,
        ),
        Row("words or labels left out for want of room", "", left_out),
    ]


def _read_words(drawn: DrawnPiece) -> tuple[int, int]:
    """Lines of words as pdfium measures them, and how many of them are out of place."""
    left, bottom, right, top = drawn.drawing.bounds()
    carry = Carry(0, 1 - left, 1 - bottom)
    page = Page(right - left + 2, top - bottom + 2, "1", Drawing("none", "", ()), (Placed("p", carry),))
    shown = pdfium.PdfDocument(write_pdf(Book("piece", (page,), {"p": drawn.drawing})))[0]
    outline = Polygon([carry(p) for p in drawn.outline])
    lines = MultiLineString([LineString(s) for s in read.strokes(shown) if len(s) > 1])
    boxes = [Polygon(quad) for _, quad in read.word_boxes(shown)]
    wrong = sum(not outline.contains(b) or lines.intersects(b) for b in boxes)
    wrong += sum(a.intersects(b) for a, b in combinations(boxes, 2))
    return len(boxes), wrong


# ---- sheets ----------------------------------------------------------------------------------------


def sheet_rows(all_makes: Sequence[Make], papers: Sequence[Sheet] = PAPERS) -> list[Row]:
    """Sheets against the pieces side by side, by paper and pattern."""
    rows = []
    for paper in papers:
        for name in dict.fromkeys(make.garment.title for make in all_makes):
            found = [
                arranged([d.outline for d in draw_pieces(m.garment, Caption("x"))], paper)
                for m in all_makes
                if m.garment.title == name
            ]
            used, plain = sum(len(a.grid.tiles) for a in found), sum(a.plain for a in found)
            joined = "butted" if paper.overlap == 0 else f"overlap {paper.overlap:g}"
            what = f"{name} on {paper.name}, {joined}: sheets each, {1 - used / plain:.1%} saved"
            rows.append(Row(what, f"<= {plain / len(found):.1f}", used / len(found), used <= plain))
    return rows


# ---- sizes, changes ----------------------------------------------------------------------------------


def nest_rows(times: int) -> list[Row]:
    """Ten sizes of twenty pieces on one set of sheets, in a fresh process that does nothing else."""
    command = [sys.executable, "-m", "benchmarks.paper_nest", str(times)]
    told = subprocess.run(command, capture_output=True, text=True, check=True).stdout.split()
    seconds, megabytes, sheets = float(told[0]), float(told[1]), told[2]
    what = f"nest of 10 sizes x 20 pieces on {sheets} sheets"
    return [
        Row(f"{what} [s of one core]", f"<= {NEST_SECONDS}", seconds, seconds <= NEST_SECONDS),
        Row(f"{what}, most memory [MB]", f"<= {NEST_MEGABYTES}", megabytes, megabytes <= NEST_MEGABYTES),
    ]


def size_rows() -> list[Row]:
    """Every draft nested in sizes of the house that it can be drawn to."""
    rows = []
    for draft in PATTERNS:
        garments: dict[str, Garment] = {}
        for body in size_bodies("woman", ("84", "88", "92", "96", "100")):
            try:
                garments[body.name] = draft.make(body)
            except WorkroomError:
                continue
        start = time.process_time()
        printed = print_nest(garments)
        took = time.process_time() - start
        what = f"nest of {draft.title}, {len(garments)} sizes: sheets in {took:.2g} s"
        rows.append(Row(what, f"<= {printed.plain + 1}", printed.sheets, printed.sheets <= printed.plain + 1))
    return rows


def exchange_rows(few: Sequence[Make]) -> list[Row]:
    """Files for other programs, read back by readers that are not ours."""
    faults = off = lost = 0
    for make in few:
        document = ezdxf.read(StringIO(pattern_dxf(make.garment, body_name=make.body)))
        audit = document.audit()
        faults += len(audit.errors) + len(audit.fixes)
        svg = ElementTree.fromstring(pattern_svg(make.garment, body_name=make.body))
        named = {group.get("id") for group in svg}
        for piece in make.garment.pieces:
            (rim,) = document.blocks.get(_block_of(piece, make.body)).query('POLYLINE[layer=="1"]')
            cut = Polygon([(v.x / 10, v.y / 10) for v in rim.points()])
            far = cut.exterior.hausdorff_distance(Polygon(cutting_line(piece)).exterior)
            off += (far > OUTLINE_MM / 10) + (piece.name not in named)
        back = pieces_of_json(pattern_json(make.garment))
        changes = [change_of(piece, read) for piece, read in zip(make.garment.pieces, back, strict=True)]
        lost += sum(change.whole or bool(change.patches) for change in changes)
    return [
        Row(f"DXF of {len(few)} garments: faults that an auditor finds", 0, faults, faults == 0),
        Row("pieces not true in the DXF, or not named in the SVG", 0, off, off == 0),
        Row("pieces that the JSON does not give back", 0, lost, lost == 0),
    ]


def _block_of(piece: Piece, body: str) -> str:
    return f"{piece.name}-{body}".replace(" ", "_").upper()


def change_rows(few: Sequence[Make]) -> list[Row]:
    """What differs after the hem is let down: sheets against the whole pattern."""
    patches = whole = 0
    for make in few:
        try:
            longer = make.draft.make(make.figure, {make.draft.shortened_by: 2.0})
        except WorkroomError:
            continue
        patches += print_changes(longer, make.garment.pieces).sheets
        whole += print_pattern(longer).sheets
    share = patches / whole if whole else 0.0
    return [
        Row("hem let down by 2 cm: sheets of the changes, share of the whole", "<= 0.5", share, share <= 0.5)
    ]


def main(arguments: Sequence[str] | None = None) -> int:
    """Prints the table; 1 when a target is missed."""
    quick = quick_only(__doc__, "fewer bodies", arguments)
    many = makes(1 if quick else 50)
    few = many[::10] if quick else makes(4)
    rows = [*time_rows(few), *nest_rows(2 if quick else 5), *scale_rows(few[: 3 if quick else 16])]
    rows += word_rows(many[::6] if quick else many)
    rows += sheet_rows(many[: len(PATTERNS)], PAPERS[:1]) if quick else sheet_rows(few)
    rows += [*change_rows(few[::2]), *exchange_rows(few[::2] if quick else few)]
    rows += [] if quick else size_rows()
    preface = "Read back with pdfium. Targets of sheets: the same pieces side by side."
    return 0 if print_table("Paper: scale, words, sheets, sizes, changes, time", rows, preface) else 1


if __name__ == "__main__":
    sys.exit(main())
