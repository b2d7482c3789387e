"""The first sheet: printed before all others to prove the scale; the page map, and how to tape the sheets.

Two columns on an upright sheet, three on a lying one. Coordinates are the page's: cm, y up.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from clothwise.curve import Curve, Point, polyline
from clothwise.garment import Piece
from clothwise.paper import font
from clothwise.paper.arrange import Arrangement
from clothwise.paper.caption import Caption, broken, how_to_cut, short_cm
from clothwise.paper.drawing import Box, Carry, Drawing, Fill, Item, Stroke, Words, rectangle
from clothwise.paper.grid import Grid, Tile
from clothwise.paper.piece import DrawnPiece
from clothwise.paper.room import shape_of
from clothwise.paper.sheets import Sheet
from clothwise.paper.squares import CM_SQUARE, INCH_SQUARE, square
from clothwise.paper.tiles import row_names
from clothwise.tolerance import FLATTEN

SHEET_OFF = 0.1  # cm: one sheet alone may be fed askew while the others are right
LARGE_SQUARE = 10.0  # cm: on a sheet that has room for it
ROOM_FOR_LARGE = (18.5, 18.5)  # cm of window: square and a column of words beside it
TITLE = 0.85  # cm, type
SUBTITLE = 0.36  # cm, type
SMALL_PRINT = 0.25  # cm, type
BELOW_TITLE = 0.6  # cm
LACKING = f"{font.LEFT_OUT} stands for letters that no printing face of the house has."
TEXT_SIZES = (0.31, 0.28, 0.25, 0.22, 0.19)  # cm, type: the largest that fits
LEADING = 1.36  # em
APART, CLOSE = 0.55, 0.1  # em between paragraphs, and in a list
GUTTER = 0.7  # cm between columns
UNIT = re.compile(r"(?<=\d) (?=%|cm\b|in\b)")  # a number and its unit stay on one line
NUMBER = 0.5  # cm: type of the piece numbers on the map
SMALLEST_MAP = 3.0  # cm: a smaller one says nothing


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Words that flow down a column; `lead` stands bold before them."""

    text: str
    lead: str = ""


def cover_drawings(
    arrangement: Arrangement,
    pieces: Sequence[DrawnPiece],
    caption: Caption,
    paper: Sheet,
    lines: str = "",
    more: Sequence[Paragraph] = (),
) -> tuple[Drawing, ...]:
    """The first sheet, on this paper; where it is too small for the words, they follow on sheets of their own.

    lines  what the lines mean, where it is not the usual
    more   said before the list of pieces
    """
    grid = arrangement.grid
    m = paper.margin
    across, up = paper.window
    large = across >= ROOM_FOR_LARGE[0] and up >= ROOM_FOR_LARGE[1]
    side = LARGE_SQUARE if large else CM_SQUARE
    items: list[Item] = [Stroke(rectangle(m, m, m + across, m + up), "trim", closed=True)]
    inner = (m + 0.4, m + 0.4, m + across - 0.4, m + up - 0.4)
    title = list(_title(caption, inner))
    top = min(words.place.y for words in title) - BELOW_TITLE
    items += title
    square_at = Point(inner[0], top - side)
    items += square(square_at, side, _cm_words(side))
    paragraphs = list(how_to(arrangement, pieces, side, lines, more))
    if up >= across:  # upright: squares and map at the left, words at the right
        right = inner[0] + side + GUTTER
        inch = Point(right, top - INCH_SQUARE)
        items += square(inch, INCH_SQUARE, _inch_words())
        words = (right, inner[1], inner[2], inch.y - GUTTER)
        chart = (inner[0], inner[1], right - GUTTER, square_at.y - GUTTER)
    else:  # lying: squares at the left, words in the middle, map at the right
        inch = Point(inner[0], square_at.y - GUTTER - INCH_SQUARE)
        beside = inch.y < inner[1]
        if beside:
            inch = Point(inner[0] + side + GUTTER, top - INCH_SQUARE)
        items += square(inch, INCH_SQUARE, _inch_words())
        left = inner[0] + (side + GUTTER if not beside else 0.0)
        high = top if not beside else min(square_at.y, inch.y) - GUTTER
        middle = left + 0.44 * (inner[2] - left)
        words = (left, inner[1], middle, high)
        chart = (middle + GUTTER, inner[1], inner[2], high)
    said, rest = _flow(paragraphs, words)
    if rest:
        said = [Words("How to tape: next sheet.", Point(words[0], words[3] - SUBTITLE), TEXT_SIZES[0])]
    items += said
    items += page_map(grid, pieces, arrangement.carries, chart)
    first = Drawing("first_sheet", "First sheet: scale and page map", tuple(items))
    return (first, *_sheets_of_words(paragraphs, inner)) if rest else (first,)


def _sheets_of_words(paragraphs: Sequence[Paragraph], room: Box) -> Iterator[Drawing]:
    """The words over whole sheets, as many as they take."""
    rest = list(paragraphs)
    number = 1
    while rest:
        said, later = _flow(rest, room)
        yield Drawing(f"words_{number}", "How to print and tape", tuple(said))
        rest = later if len(later) < len(rest) else []
        number += 1


def _cm_words(side: float) -> tuple[tuple[str, float, bool], ...]:
    return ((f"{side:g} cm", 0.8, False), ("measure both ways", 0.3, False))


def _inch_words() -> tuple[tuple[str, float, bool], ...]:
    return (("2 in", 0.6, False), ("measure both ways", 0.25, False))


def _title(caption: Caption, inner: Box) -> Iterator[Words]:
    y = inner[3]
    for line in broken(caption.garment or "Pattern", TITLE, longest=inner[2] - inner[0], bold=True):
        y -= TITLE * 1.1
        yield Words(line, Point(inner[0], y), TITLE, bold=True)
    for line in broken(_whose(caption), SUBTITLE, longest=inner[2] - inner[0]):
        y -= SUBTITLE * 1.5
        yield Words(line, Point(inner[0], y), SUBTITLE, pen="quiet")
    if font.missing(" ".join(caption.names)):
        y -= SMALL_PRINT * 1.5
        yield Words(LACKING, Point(inner[0], y), SMALL_PRINT, pen="quiet")


def _whose(caption: Caption) -> str:
    size = f"size {caption.size}" if caption.size else ""
    ticket = f"ticket {caption.ticket}" if caption.ticket else ""
    whose = f"for {caption.body}" if caption.body else ""
    return " · ".join(part for part in (whose, size, caption.made_on, ticket) if part) or "drawn to measure"


def how_to(
    arrangement: Arrangement,
    pieces: Sequence[DrawnPiece],
    side: float,
    lines: str = "",
    more: Sequence[Paragraph] = (),
) -> Iterator[Paragraph]:
    """What the sewer does with these sheets, in order."""
    grid = arrangement.grid
    small = side * 0.96
    yield Paragraph(
        "Print this sheet alone at 100 % (‘actual size’), never ‘fit to page’. The squares must measure "
        f"{side:g} cm and 2 in, both across and up.",
        "First prove the scale.",
    )
    yield Paragraph(
        f"If {side:g} cm measures {small:g} cm, the printer shrinks to 96 %, and hips of "
        "100 cm would come out 4 cm small. Set scaling to 100 % or ‘none’ and print again. If the "
        f"printer will not, scale by 100 × {side:g} ÷ what you measured (here {100 * side / small:.1f} %).",
        "When a square is off.",
    )
    count = len(grid.tiles)
    again = f"one that is {SHEET_OFF * 10:g} mm off is printed again"
    each = f" Measure the squares of each before you trim it: {again}."
    yield Paragraph(f"{_sheets(count)}: {_ranges(grid)}.{_saved(arrangement)}{each}", "Then print the rest.")
    if count > 1:
        over = f" The neighbours share {short_cm(grid.sheet.overlap)}." if grid.sheet.overlap > 0 else ""
        yield Paragraph(
            "Trim a sheet along its grey frame at the left and upper edge wherever it meets another sheet, and "
            "lay it over that sheet’s margin so that the halves of each numbered mark meet: 1 to 1, 2 to 2."
            + over,
            "Trim and tape.",
        )
        yield Paragraph(_order(grid), "In this order:")
    longest = max((d.piece for d in pieces if not d.part), key=_grain_length, default=None)
    if longest is not None:
        length = _grain_length(longest)
        yield Paragraph(
            f"The grain arrow of {longest.title} must measure {short_cm(length)}, "
            f"{_allowed(length)} more or less. If it does not, look for a join that slipped.",
            "Prove it once more when taped.",
        )
    yield from more
    yield Paragraph("", "Pieces")
    for drawn in pieces:
        yield Paragraph(
            f"{drawn.piece.title}: {drawn.part or _lower(how_to_cut(drawn.piece))}", f"{drawn.number}"
        )
    yield Paragraph(lines or _key(p.piece for p in pieces), "Lines.")


def _grain_length(piece: Piece) -> float:
    return piece.grain[0].distance(piece.grain[1])


def _sheets(count: int) -> str:
    return f"{count} more sheet" + ("s" if count != 1 else "")


def _saved(arrangement: Arrangement) -> str:
    saved = arrangement.plain - len(arrangement.grid.tiles)
    return f" Laid side by side the pieces would need {arrangement.plain}." if saved > 0 else ""


def _allowed(length: float) -> str:
    """Half a percent over all, at least 2 mm: what careful taping reaches. Source: sewers' reports."""
    return short_cm(max(0.2, 0.005 * length))


def _lower(text: str) -> str:
    return text[:1].lower() + text[1:]


def _ranges(grid: Grid) -> str:
    return ", ".join(
        row[0].label if len(row) == 1 else f"{row[0].label} to {row[-1].label}"
        for row in row_names(grid).values()
    )


def _order(grid: Grid) -> str:
    """Rows first, from left to right; then each row under the last."""
    rows = list(row_names(grid).values())
    steps = [f"{' + '.join(t.label for t in row)}" for row in rows if len(row) > 1]
    text = "row by row " + "; ".join(steps) if steps else "the sheets one under another"
    if len(rows) > 1 and steps:
        text += "; then the rows under each other from the top"
    return text + ". The marks are numbered in this order."


def _key(pieces: Iterable[Piece]) -> str:
    """What the kinds of line mean: only those that occur."""
    found = list(pieces)
    kinds = {edge.kind for piece in found for edge in piece.edges}
    says = ["heavy: cut here", "dashes: sew here"]
    if kinds & {"fold", "hem", "casing"}:
        says.append("dash and dot: fold here")
    if any(edge.notches for piece in found for edge in piece.edges):
        says.append("ticks with equal numbers meet; one tick front, two back")
    return "; ".join(says) + "."


# ---- flowing words ---------------------------------------------------------------------------------


def _flow(paragraphs: Sequence[Paragraph], column: Box) -> tuple[list[Words], list[Paragraph]]:
    """The paragraphs down the column at the largest size that fits; at the smallest, those left over."""
    for size in TEXT_SIZES:
        words, low = _set(paragraphs, column, size)
        if low >= column[1]:
            return words, []
    fits = len(paragraphs)
    while fits and _set(paragraphs[:fits], column, TEXT_SIZES[-1])[1] < column[1]:
        fits -= 1
    return _set(paragraphs[:fits], column, TEXT_SIZES[-1])[0], list(paragraphs[fits:])


def _set(paragraphs: Sequence[Paragraph], column: Box, size: float) -> tuple[list[Words], float]:
    left, _, right, y = column
    words: list[Words] = []
    for paragraph, after in zip(paragraphs, [*paragraphs[1:], None], strict=True):
        lead = f"{paragraph.lead} " if paragraph.lead else ""
        indent = Words(lead + " .", Point(0, 0), size, bold=True).width - Words(".", Point(0, 0), size).width
        first = True
        for text in _lines(paragraph, size, right - left, indent if lead else 0.0):
            y -= size * LEADING
            if first and lead:
                words.append(Words(paragraph.lead, Point(left, y), size, bold=True))
            if text:
                words.append(Words(text, Point(left + (indent if first and lead else 0.0), y), size))
            first = False
        y -= size * (CLOSE if after is not None and after.lead.isdigit() else APART)
    return words, y


def _lines(paragraph: Paragraph, size: float, width: float, indent: float) -> list[str]:
    """Broken lines; the first is shorter by the indent."""
    every = font.tidy(UNIT.sub(font.NO_BREAK, paragraph.text)).split(" ")
    fits, right = 0, 0.0
    for word in every:  # the face is set without kerning: widths add up
        right += font.width(word, size)
        if right > width - indent:
            break
        right += font.width(" ", size)
        fits += 1
    rest = broken(" ".join(every[fits:]), size, longest=width)
    return [" ".join(every[:fits]), *rest]


# ---- page map --------------------------------------------------------------------------------------


def page_map(grid: Grid, pieces: Sequence[DrawnPiece], carries: Sequence[Carry], room: Box) -> list[Item]:
    """The taped paper in small: sheets with their names, pieces with their numbers; blank sheets left out."""
    width, height = grid.size
    scale = min((room[2] - room[0]) / width, (room[3] - room[1]) / height)
    if scale * max(width, height) < SMALLEST_MAP:
        return []
    corner = Point(room[0], room[3] - scale * height)

    def small(p: Point) -> Point:
        return Point(corner.x + scale * p.x, corner.y + scale * p.y)

    items: list[Item] = []
    for drawn, carry in zip(pieces, carries, strict=True):
        ring = _thinned([small(carry(p)) for p in drawn.outline])
        items += [Fill(ring, "map fill"), Stroke(ring, "map", closed=True)]
    seen = _seen(grid)
    for tile, (left, bottom, right, top) in zip(grid.tiles, seen, strict=True):
        a, b = small(Point(left, bottom)), small(Point(right, top))
        items.append(Stroke(rectangle(a.x, a.y, b.x, b.y), "square", closed=True))
        size = min(0.34, 0.3 * (b.x - a.x), 0.3 * (b.y - a.y))
        items.append(Words(tile.label, Point(a.x + 0.25 * size, b.y - size), size, pen="square"))
    for drawn, carry in zip(pieces, carries, strict=True):
        at = small(_number_place(seen, drawn, carry)).down(0.35 * NUMBER)
        items.append(Words(str(drawn.number), at, NUMBER, 0.0, "middle", "square", bold=True))
    return items


def _number_place(seen: Sequence[Box], drawn: DrawnPiece, carry: Carry) -> Point:
    """Middle of the sheet nearest to the piece's own number, clear of the sheets' names; of a piece so narrow
    that no sheet's middle lies in it, the middle of what the sheet with most of it shows."""
    own = carry(_title_place(drawn))
    shape = carry.shape(shape_of(drawn.outline))
    middles = [Point((left + right) / 2, (bottom + top) / 2) for left, bottom, right, top in seen]
    held = shapely.contains_xy(shape, np.asarray(middles))
    inside = [p for p, is_held in zip(middles, held, strict=True) if is_held]
    if inside:
        return min(inside, key=own.distance)
    shares = shapely.intersection(shape, shapely.box(*np.asarray(seen).T))
    most = shares[int(np.argmax(shapely.area(shares)))]
    middle = most.centroid if shape.contains(most.centroid) else most.representative_point()
    return Point(middle.x, middle.y)


def _seen(grid: Grid) -> list[Box]:
    """What stays in sight of each sheet when its neighbours lie over it."""
    kept = frozenset(grid.tiles)
    found = []
    for tile in grid.tiles:
        left, bottom, right, top = grid.window(tile)
        if Tile(tile.row, tile.column + 1) in kept:
            right -= grid.sheet.overlap
        if Tile(tile.row + 1, tile.column) in kept:
            bottom += grid.sheet.overlap
        found.append((left, bottom, right, top))
    return found


def _title_place(drawn: DrawnPiece) -> Point:
    """Where the piece's own number stands, else its middle."""
    for words in drawn.drawing.words():
        if words.text == str(drawn.number) and words.size > 0.3:
            return words.place
    xs, ys = [p.x for p in drawn.outline], [p.y for p in drawn.outline]
    return Point((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)


def _thinned(ring: Sequence[Point]) -> Curve:
    """The ring without points that a reader of the small map could not tell apart."""
    kept = [ring[0]]
    for p in ring[1:]:
        if p.distance(kept[-1]) > 4 * FLATTEN:
            kept.append(p)
    if len(kept) < 3:
        kept = list(ring)
    return polyline([*kept, kept[0]])
