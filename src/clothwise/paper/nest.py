"""A pattern in several sizes, one inside the other on the same sheets, for those who make for others.

Each size has its own dashes and its name on its own cut line, so that sizes are told apart without colour; each
is a layer of the PDF that can be switched off. Some readers print all layers whatever was switched off, so a
file of only some sizes holds no others. The sewing lines of all sizes together would be a thicket: their layer
is off until the reader switches it on, best with one size alone. Words, grain, levels and the lines to lengthen
at are those of the base size, the middle one. The same garment in several lengths is nested likewise: 'cut here
for length knee'. Sizes lie on each other as the draft draws them, about the same origin.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon, union_all

from clothwise.curve import Curve, Point, Vector, line, polyline
from clothwise.errors import PaperError
from clothwise.garment import Garment, Piece
from clothwise.garment.allowance import cutting_line, notch_marks
from clothwise.garment.piece import MarkKind
from clothwise.paper import font
from clothwise.paper.arrange import TRIES, arranged
from clothwise.paper.caption import Caption, blocks
from clothwise.paper.drawing import Carry, Drawing, Fill, Item, Stroke, Words, polygon
from clothwise.paper.labels import grain_labels, set_beside, spot_labels
from clothwise.paper.pattern import Printed, chosen, first_pages, lacking, made_title, tile_pages
from clothwise.paper.pdf import Book, Page, Placed, write_pdf
from clothwise.paper.pens import PRINT, Layer, Pens
from clothwise.paper.piece import (
    DrawnPiece,
    check_alike,
    chosen_pieces,
    cut_runs,
    fold_bracket,
    grain_arrow,
    mark_lines,
    notch_ticks,
    rows_of_points,
    set_labels,
    title_words,
)
from clothwise.paper.room import ground, lines_of, shape_of
from clothwise.paper.sheets import Sheet, sheet
from clothwise.paper.squares import INCH_SQUARE
from clothwise.tolerance import FLATTEN

DASHES_MM: tuple[tuple[float, ...], ...] = (  # one a size; told apart in grey and by the colour-blind
    (), (7.0, 1.3), (3.2, 1.3), (1.4, 1.2), (8.0, 1.2, 1.2, 1.2), (8.0, 1.2, 1.2, 1.2, 1.2, 1.2), (0.1, 1.5),
    (4.5, 1.4, 0.1, 1.4), (14.0, 1.6), (4.5, 1.4, 0.1, 1.4, 0.1, 1.4), (2.2, 2.4), (12.0, 1.2, 3.0, 1.2),
)  # fmt: skip
NAME = 0.24  # cm: type of a size's name on its line
CLEAR = 0.03  # cm kept between that name and the lines of other sizes
AHEAD = 0.05  # cm: a line's direction is told over so much of it
SHARES = tuple(k / 40 for k in range(2, 39))  # of a cut line: where its name is tried
CUT_FOR = "cut here for length {}"
ANYBODY = -1  # owner of a mark: no name may lie on it, not even its own size's
NAMES_EACH = 6  # how often a size's name stands on one piece
OWN_MARKS: tuple[MarkKind, ...] = ("placement", "button", "buttonhole")  # each size has these at its own place
OFF: frozenset[Layer] = frozenset({"seam line"})  # until the reader switches them on
KEY_LINE = 1.4  # cm: sample of each size's dashes on the first sheet
LINES = (
    "one cut line for each size, told by its dashes and its name; allowances are included; mark your own size "
    "through before you cut; the grain arrow and the words are the middle size’s; sewing lines are a layer of "
    "the file that can be switched on."
)
KEY_STEP = 0.42  # cm from one to the next


Rows = NDArray[np.float64]  # points or directions, one a row


@dataclass(frozen=True, slots=True)
class _Nested:
    """One piece in all sizes: what they share, and what each has."""

    shared: DrawnPiece
    sizes: Mapping[str, Drawing]


def print_nest(
    garments: Mapping[str, Garment],
    *,
    paper: Sheet | None = None,
    made_on: str = "",
    ticket_id: str = "",
    only_sizes: Sequence[str] = (),
    pieces: Sequence[str] = (),
    only: Sequence[str] = (),
    lengths_for: str = "",
    box: Pens = PRINT,
    tries: int = TRIES,
) -> Printed:
    """The sizes nested on sheets, with a first sheet as always and a key to the lines.

    garments    by size, from small to large, all of one pattern; or one body's in several lengths
    lengths_for the body, when they are lengths
    box         of pens; each size draws its cutting line with its own dashes
    only_sizes  leave out all others; their dashes stay what they are in the whole nest
    pieces      names of the pieces to print; empty: all. Their numbers stay those of the whole garment
    Raises      PaperError: no size, an unknown one, more than the dashes can tell apart, unlike pieces,
                an unknown piece or sheet
    """
    sizes = _chosen(garments, only_sizes)
    base = garments[list(sizes)[len(sizes) // 2]]
    smallest, *larger = sizes
    span = f"{smallest} to {larger[-1]}" if larger else smallest
    caption = Caption(base.title, lengths_for, made_on, ticket_id, "" if lengths_for else span)
    said_on = {name: CUT_FOR.format(name) if lengths_for else name for name in sizes}
    wanted = chosen_pieces(base, pieces)
    nested = [
        _nested(piece, sizes, said_on, caption, i, len(base.pieces))
        for i, piece in enumerate(base.pieces, start=1)
        if piece in wanted
    ]
    drawn = [n.shared for n in nested]
    arrangement = arranged([d.outline for d in drawn], paper or sheet(), tries=tries)
    names = {n.shared.piece.name: (n.shared.piece.name, *(_form(n, s) for s in n.sizes)) for n in nested}
    forms = {n.shared.piece.name: _shared_form(n) for n in nested}
    forms |= {_form(n, s): drawing for n in nested for s, drawing in n.sizes.items()}
    pens = {size: _pens(garments, size, box) for size in sizes}
    own_pens = {_form(n, s): pens[s] for n in nested for s in n.sizes}
    belongs = {_form(n, s): s for n in nested for s in n.sizes}
    meant = LINES.replace("size", "length") if lengths_for else LINES
    first, *others = first_pages(arrangement, drawn, caption, meant)
    pages, tiles = chosen(arrangement, [_with_key(first, sizes), *others], only)
    if pages:
        forms |= {f"key_{s}": Drawing(f"key_{s}", s, (_sample(),)) for s in sizes}
        own_pens |= {f"key_{s}": pens[s] for s in sizes}
    pages += tile_pages(arrangement, drawn, caption, tiles, names)
    title = f"{made_title(caption)}, {'lengths' if lengths_for else 'sizes'} {span}"
    book = Book(
        title, tuple(pages), forms, made_on, ticket_id, pens=box, sizes=belongs, own_pens=own_pens, off=OFF
    )
    said = (*(p for d in drawn for p in d.problems), *lacking(caption))
    labels = tuple(tile.label for tile in tiles)
    grid = arrangement.grid
    return Printed(write_pdf(book), len(pages), labels, arrangement.plain, grid.rows, grid.columns, said)


def _chosen(garments: Mapping[str, Garment], only: Sequence[str]) -> dict[str, Garment]:
    """The sizes to print, checked."""
    if not garments or len(garments) > len(DASHES_MM):
        raise PaperError(
            f"{len(garments)} sizes cannot be nested.",
            where="nest",
            mend=f"Give 1 to {len(DASHES_MM)}: more lines cannot be told apart.",
        )
    for size in only:
        if size not in garments:
            raise PaperError(
                f"There is no size '{size}'.", where="nest", mend=f"The sizes are {', '.join(garments)}."
            )
    check_alike(garments)
    return {size: garment for size, garment in garments.items() if not only or size in only}


def _pens(garments: Mapping[str, Garment], size: str, box: Pens) -> Pens:
    dashes = DASHES_MM[list(garments).index(size)]
    own = {
        "cut": replace(PRINT["cut"], dash_mm=dashes, round_ends=0.1 in dashes, width_mm=0.3),
        "paper": replace(PRINT["paper"], layer="cut line"),
    }
    return {name: own.get(name, pen) for name, pen in box.items()}


def _form(nested: _Nested, size: str) -> str:
    return f"{nested.shared.piece.name}, {size}"


def _shared_form(nested: _Nested) -> Drawing:
    """What all sizes share; the sizes' own lines, which the shared drawing holds for measuring, left out."""
    own = {id(item) for drawing in nested.sizes.values() for item in drawing}
    shared = nested.shared.drawing
    return replace(shared, items=tuple(item for item in shared if id(item) not in own))


# ---- one piece in all sizes ------------------------------------------------------------------------


def _nested(
    base: Piece,
    garments: Mapping[str, Garment],
    said_on: Mapping[str, str],
    caption: Caption,
    number: int,
    of: int,
) -> _Nested:
    pieces = {size: garment.piece(base.name) for size, garment in garments.items()}
    outlines = {size: tuple(cutting_line(piece)) for size, piece in pieces.items()}
    lines = {size: tuple(_size_lines(pieces[size], outlines[size])) for size in pieces}
    rows = {size: rows_of_points(items) for size, items in lines.items()}
    seams = {size: tuple(_seams(piece)) for size, piece in pieces.items()}
    all_rows = {size: [*rows[size], *rows_of_points(seams[size])] for size in pieces}
    names = _size_names(lines, all_rows, said_on)
    shared: list[Item] = list(grain_arrow(base, 1.0))
    if base.fold is not None:
        shared += fold_bracket(base.fold.curve, 1.0)
    common = replace(base, marks=tuple(mark for mark in base.marks if mark.kind not in OWN_MARKS))
    shared += [item for mark in common.marks for item in mark_lines(mark)]
    shapes = {size: shape_of(outline) for size, outline in outlines.items()}
    whole = union_all(list(shapes.values()))
    rim = tuple(Point(x, y) for x, y in whole.exterior.coords[:-1])
    smallest = min(shapes, key=lambda size: shapes[size].area)
    kept_off = rows_of_points([*shared, *seams[smallest]])
    free = ground(outlines[smallest], [*kept_off, *(row for own in rows.values() for row in own)])
    free = free.taking([w.corners() for placed in names.values() for w in placed])
    said, _, free = set_labels((*spot_labels(common, (), {}, 1.0), *grain_labels(base, 1.0)), free)
    words, problems = title_words(base, blocks(base, caption, number, of), free)
    drawn = {size: (*lines[size], *seams[size], *_knocked_out(names[size])) for size in pieces}
    sizes = {size: Drawing(base.name, f"{base.title}, size {size}", items) for size, items in drawn.items()}
    shown = (
        item for d in sizes.values() for item in d if item.pen != "seam"
    )  # test squares may cover the rest
    everything = (*shared, *shown, *said, *words)
    drawing = Drawing(base.name, base.title, everything)
    return _Nested(DrawnPiece(base, number, drawing, rim, tuple(problems)), sizes)


def _size_lines(piece: Piece, outline: Sequence[Point]) -> Iterator[Item]:
    """Cut line, notches, fold, darts, and the places of buttons and pockets: what each size has of its own."""
    yield from (Stroke(run, "cut", closed) for run, closed in cut_runs(piece, outline))
    for mark in notch_marks(piece, cut=outline):
        yield from notch_ticks(mark, piece.edge(mark.edge).allowance)
    if piece.fold is not None:
        yield Stroke(piece.fold.curve, "fold")
    for dart in piece.darts:
        yield Stroke(polyline(list(dart.drawn)), "dart")
    for drawn in piece.marks:
        yield from mark_lines(drawn) if drawn.kind in OWN_MARKS else ()


def _seams(piece: Piece) -> Iterator[Item]:
    """The sewing lines, hems included."""
    yield from (
        Stroke(edge.curve, "seam") for edge in piece.edges if edge.kind != "fold" and edge.allowance > 0
    )


def _size_names(
    lines: Mapping[str, Sequence[Item]],
    rows: Mapping[str, Sequence[Sequence[Point]]],
    said_on: Mapping[str, str],
) -> dict[str, list[Words]]:
    """Each size's name on its own cut line, off all marks, off the lines of other sizes and off other names.

    rows  of each size's lines in their order, then those of its sewing lines
    """
    places = {size: _name_places(items, k / len(lines)) for k, (size, items) in enumerate(lines.items())}
    boxes = {size: _name_boxes(said_on[size], *places[size]) for size in lines}
    clear = _clear_of_lines(boxes, lines, rows)
    taken: list[Polygon] = []
    names: dict[str, list[Words]] = {size: [] for size in lines}
    for size, (at, ways) in places.items():
        for i in np.flatnonzero(clear[size]):
            if len(names[size]) == NAMES_EACH:
                break
            box = boxes[size][i]
            if taken and shapely.dwithin(taken, box, KEY_STEP).any():
                continue
            at_it, way = Point(*at[i].tolist()), Vector(*ways[i].tolist())
            names[size].append(set_beside(said_on[size], NAME, at_it, way, 0.0))
            taken.append(box)
    return names


def _clear_of_lines(
    boxes: Mapping[str, NDArray[np.object_]],
    lines: Mapping[str, Sequence[Item]],
    rows: Mapping[str, Sequence[Sequence[Point]]],
) -> dict[str, NDArray[np.bool_]]:
    """Which boxes of a size touch no mark and no line of another size; all chords are asked at once."""
    chords: list[Rows] = []
    owners: list[int] = []
    for number, (size, items) in enumerate(lines.items()):
        for k, row in enumerate(rows[size]):
            points = np.asarray(row, dtype=np.float64)
            chords.append(np.stack([points[:-1], points[1:]], axis=1))
            is_mark = k < len(items) and items[k].pen not in ("cut", "fold")
            owners += [ANYBODY if is_mark else number] * (len(points) - 1)
    tree = shapely.STRtree(shapely.linestrings(np.concatenate(chords)))
    owner = np.array(owners)
    found: dict[str, NDArray[np.bool_]] = {}
    for number, size in enumerate(lines):
        box, chord = tree.query(boxes[size], predicate="dwithin", distance=CLEAR)
        found[size] = np.ones(len(boxes[size]), dtype=bool)
        found[size][box[owner[chord] != number]] = False
    return found


def _name_places(items: Sequence[Item], first: float) -> tuple[Rows, Rows]:
    """Places along the cut line and its direction there; each size begins at another share of it, so that names
    stand in a slant row."""
    cut = next(item.path for item in items if isinstance(item, Stroke) and item.pen == "cut")
    run = lines_of([cut.flattened(tolerance=FLATTEN)]).geoms[0]
    start = round(first * len(SHARES) / NAMES_EACH)
    shares = np.array([SHARES[(start + k * 13) % len(SHARES)] for k in range(len(SHARES))])
    at, ahead = (
        shapely.get_coordinates(shapely.line_interpolate_point(run, shares * run.length + d))
        for d in (0.0, AHEAD)
    )
    ways = ahead - at
    length = np.hypot(ways[:, 0], ways[:, 1])
    kept = length > 0
    return at[kept], ways[kept] / length[kept, None]


def _name_boxes(name: str, at: Rows, ways: Rows) -> NDArray[np.object_]:
    """The boxes of a name set on its line at all these places."""
    along = ways * (Words(name, Point(0.0, 0.0), NAME).width / 2)
    up = ways @ np.array([[0.0, 1.0], [-1.0, 0.0]]) * ((font.ASCENT + font.DESCENT) / 2 * NAME)
    corners = np.stack([at - along - up, at + along - up, at + along + up, at - along + up], axis=1)
    return np.asarray(shapely.polygons(corners))


def _knocked_out(names: Sequence[Words]) -> Iterator[Item]:
    """The names on white, so that the line makes room for them."""
    for words in names:
        yield Fill(polygon(*words.corners(0.03)), "paper")
        yield words


# ---- the key on the first sheet --------------------------------------------------------------------


def _sample() -> Stroke:
    curve: Curve = line(Point(0.0, 0.0), Point(KEY_LINE, 0.0))
    return Stroke(curve, "cut")


def _with_key(page: Page, sizes: Mapping[str, Garment]) -> Page:
    """Beside the inch square: each size with its dashes."""
    corner = _beside_inch_square(page)
    placed: list[Placed] = []
    words: list[Item] = []
    for k, size in enumerate(sizes):
        y = corner.y - KEY_STEP * (k + 1)
        placed.append(Placed(f"key_{size}", Carry(0, corner.x, y)))
        words.append(Words(size, Point(corner.x + KEY_LINE + 0.2, y - 0.1), 0.28, pen="square"))
    return replace(page, drawing=page.drawing.with_items(words), placed=(*page.placed, *placed))


def _beside_inch_square(page: Page) -> Point:
    """Upper left corner of the room at the right of the inch square."""
    for item in page.drawing:
        if isinstance(item, Stroke) and item.closed:
            left, bottom, right, top = item.path.bounds()
            if abs(right - left - INCH_SQUARE) < FLATTEN and abs(top - bottom - INCH_SQUARE) < FLATTEN:
                return Point(right + 0.3, top)
    raise AssertionError("the first sheet always has an inch square")
