"""A garment's pattern on paper: tiled sheets as one PDF, or all pieces side by side as one SVG.

Pure: what is printed follows from the arguments alone; the same garment gives the same bytes.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from clothwise.garment import Garment
from clothwise.paper import font
from clothwise.paper.arrange import TRIES, Arrangement, arranged
from clothwise.paper.caption import Caption
from clothwise.paper.cover import Paragraph, cover_drawings
from clothwise.paper.drawing import Carry, box_of
from clothwise.paper.grid import RIM, Tile, row_letters
from clothwise.paper.pdf import Book, Page, Placed, write_pdf
from clothwise.paper.pens import PRINT, Pens
from clothwise.paper.piece import DrawnPiece, draw_pieces
from clothwise.paper.sheets import Sheet, sheet
from clothwise.paper.squares import ink_map
from clothwise.paper.svg import Hung, write_svg
from clothwise.paper.tiles import Join, chosen_pages, joins, moved, row_names, tile_drawing, to_page

LARGEST_FIRST = 30.0  # cm, short side: on larger paper (a copy shop's) the first sheet is an A4 all the same
BETWEEN = 2.0  # cm between pieces side by side in an SVG


@dataclass(frozen=True, slots=True)
class Printed:
    """A printed pattern and what is worth saying about it.

    sheets    of paper, the first sheet with the page map included
    plain     tiles that the pieces would need side by side, for comparison with len(tiles)
    problems  what could not be printed as wished, in sentences
    """

    data: bytes
    sheets: int
    tiles: tuple[str, ...]
    plain: int
    rows: int
    columns: int
    problems: tuple[str, ...]


def pattern_pdf(
    garment: Garment,
    *,
    paper: Sheet | None = None,
    body_name: str = "",
    made_on: str = "",
    ticket_id: str = "",
    size: str = "",
    pieces: Sequence[str] = (),
    only: Sequence[str] = (),
    pens: Pens = PRINT,
) -> bytes:
    """The pattern tiled on sheets. As `print_pattern`, bytes alone."""
    return print_pattern(
        garment,
        paper=paper,
        body_name=body_name,
        made_on=made_on,
        ticket_id=ticket_id,
        size=size,
        pieces=pieces,
        only=only,
        pens=pens,
    ).data


def print_pattern(
    garment: Garment,
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
    """The pattern tiled on sheets, with a first sheet that proves the scale and shows the page map.

    paper    from `sheet(...)`; default A4
    pieces   names of the pieces to print; empty: all
    only     names or page numbers of the sheets to print again ('B3' tore, '7' tore); empty: all
    made_on  'YYYY-MM-DD'
    Raises   PaperError: an unknown piece or sheet, nothing to print
    """
    paper = paper or sheet()
    caption = Caption(garment.title, body_name or garment.body_name, made_on, ticket_id, size)
    drawn = draw_pieces(garment, caption, pieces)
    arrangement = arranged([piece.outline for piece in drawn], paper, tries=tries)
    pages, tiles = chosen(arrangement, first_pages(arrangement, drawn, caption), only)
    pages += tile_pages(arrangement, drawn, caption, tiles, {d.drawing.name: (d.drawing.name,) for d in drawn})
    book = Book(
        title=made_title(caption),
        pages=tuple(pages),
        forms={piece.piece.name: piece.drawing for piece in drawn},
        made_on=made_on,
        ident=ticket_id,
        pens=pens,
    )
    return Printed(
        data=write_pdf(book),
        sheets=len(pages),
        tiles=tuple(tile.label for tile in tiles),
        plain=arrangement.plain,
        rows=arrangement.grid.rows,
        columns=arrangement.grid.columns,
        problems=(*(said for piece in drawn for said in piece.problems), *lacking(caption)),
    )


def pattern_svg(
    garment: Garment,
    *,
    body_name: str = "",
    made_on: str = "",
    ticket_id: str = "",
    size: str = "",
    pieces: Sequence[str] = (),
    pens: Pens = PRINT,
) -> str:
    """All pieces side by side in true size. Raises PaperError: an unknown piece, nothing to print."""
    caption = Caption(garment.title, body_name or garment.body_name, made_on, ticket_id, size)
    hung: list[Hung] = []
    x = 0.0
    for piece in draw_pieces(garment, caption, pieces):
        left, bottom, right, _ = piece.drawing.bounds()
        hung.append(Hung(piece.drawing, Carry(0, x - left, -bottom)))
        x += right - left + BETWEEN
    what = f"Millimetres, true to scale. {made_on} {ticket_id}"
    return write_svg(hung, title=made_title(caption), what=what, pens=pens)


def made_title(caption: Caption) -> str:
    """What a file is called in its own title."""
    return f"{caption.garment} for {caption.body}" if caption.body else caption.garment


def lacking(caption: Caption) -> tuple[str, ...]:
    """Letters of the names that no printing face has; also told when no piece has room for them."""
    letters = font.missing(" ".join(caption.names))
    return (f"First sheet: no printing face has the letter {' '.join(letters)}.",) if letters else ()


def chosen(
    arrangement: Arrangement, firsts: Sequence[Page], only: Sequence[str]
) -> tuple[list[Page], tuple[Tile, ...]]:
    """The first sheets and the tiles that are to be printed. Raises as `chosen_pages`."""
    wanted = frozenset(chosen_pages(arrangement.grid, [page.label for page in firsts], only))
    tiles = tuple(tile for tile in arrangement.grid.tiles if tile.label in wanted)
    return [page for page in firsts if page.label in wanted], tiles


def first_pages(
    arrangement: Arrangement,
    drawn: Sequence[DrawnPiece],
    caption: Caption,
    lines: str = "",
    more: Sequence[Paragraph] = (),
) -> list[Page]:
    """Scale, page map, how to tape: one sheet, or more where the paper is small."""
    paper = arrangement.grid.sheet
    if min(paper.width, paper.height) > LARGEST_FIRST:
        paper = sheet("A4", orientation="portrait").orientations()[0]
    drawings = cover_drawings(arrangement, drawn, caption, paper, lines, more)
    return [
        Page(paper.width, paper.height, label, drawing, bookmark=drawing.title)
        for label, drawing in zip(("Map", "Words", "Words 2", "Words 3"), drawings, strict=False)
    ]


def tile_pages(
    arrangement: Arrangement,
    drawn: Sequence[DrawnPiece],
    caption: Caption,
    tiles: Sequence[Tile],
    forms: Mapping[str, Sequence[str]],
) -> list[Page]:
    """One page for each tile. forms: what is placed for a piece, by its drawing's name"""
    grid = arrangement.grid
    laid = [(piece.drawing, carry) for piece, carry in zip(drawn, arrangement.carries, strict=True)]
    boxes = [box_of(map(carry, piece.outline)) for piece, (_, carry) in zip(drawn, laid, strict=True)]
    ink = ink_map(grid.size, laid)
    at_tile: dict[Tile, list[Join]] = {tile: [] for tile in grid.tiles}
    for join in joins(grid, ink):
        at_tile[join.earlier].append(join)
        at_tile[join.later].append(join)
    whose = " · ".join(part for part in (caption.garment, caption.body) if part)
    firsts = {row[0]: row for row in row_names(grid).values()}
    m = grid.sheet.margin
    across, up = grid.sheet.window
    pages = []
    for tile in tiles:
        left, bottom, right, top = grid.window(tile)
        way = to_page(grid, tile)
        shown = [
            (piece, moved(carry, way))
            for piece, (_, carry), box in zip(drawn, laid, boxes, strict=True)
            if box[0] - RIM < right and box[2] + RIM > left and box[1] - RIM < top and box[3] + RIM > bottom
        ]
        window = (m, m, m + across, m + up)
        placed = tuple(
            Placed(form, carry, window) for piece, carry in shown for form in forms[piece.drawing.name]
        )
        row = firsts.get(tile)
        mark = "" if row is None else _row_mark(row)
        drawing = tile_drawing(grid, tile, at_tile[tile], ink, whose)
        pages.append(Page(grid.sheet.width, grid.sheet.height, tile.label, drawing, placed, mark))
    return pages


def _row_mark(row: Sequence[Tile]) -> str:
    """How a row is listed in the outline: 'Row B: B1 to B4'."""
    only = row[0].label
    return f"Row {row_letters(row[0].row)}: {only}" + (f" to {row[-1].label}" if len(row) > 1 else "")
