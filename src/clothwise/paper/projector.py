"""A pattern for a projector over the cutting table: a page to calibrate with, then one wide page in true size.

A projector of 1920 dots over 1.2 m makes dots of 0.63 mm (measured, paper grounds): so lines of 1.2 mm and
more, dashes of 5 dots and more, type three times as large. Light on dark is easiest on the eyes in a dim room;
dark on light suits a dark cloth.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from clothwise.curve import Point, line
from clothwise.errors import PaperError
from clothwise.garment import Garment
from clothwise.paper.caption import Caption
from clothwise.paper.drawing import Carry, Drawing, Item, Stroke, Turn, Words, box_of, rectangle
from clothwise.paper.pattern import Printed, lacking, made_title
from clothwise.paper.pdf import LONGEST_PAGE, Book, Page, Placed, write_pdf
from clothwise.paper.pens import PRINT, Pens, heavier, light_on_dark
from clothwise.paper.piece import DrawnPiece, draw_pieces
from clothwise.paper.strip import Strip, on_strip

TABLE = (120.0, 67.5)  # cm: what a projector of 16 to 9 shows from about 1.5 m
HEAVIER = 4.0  # times the pens of print
LEAST_LINE = 1.2  # mm: two dots
LARGER = 3.0  # times the type of print
CALIBRATION = (100.0, 50.0)  # cm: the rectangle to adjust to
GRID = 10.0  # cm
AROUND = 3.0  # cm of empty page round everything
DARK_GROUND = 0.0  # grey of a dark page
EASE = (1.0, 1.15, 1.3, 1.5, 2.0)  # times the table's depth tried when a piece is too wide for it


def print_projector(
    garment: Garment,
    *,
    table: tuple[float, float] = TABLE,
    dark: bool = True,
    body_name: str = "",
    made_on: str = "",
    ticket_id: str = "",
    size: str = "",
    pieces: Sequence[str] = (),
    pens: Pens = PRINT,
) -> Printed:
    """Two pages: calibration, and all pieces along one wide page as deep as the table shows.

    table    what the projector shows, across and up [cm]
    dark     light lines on a dark page, else dark on light
    Raises   PaperError: a table smaller than a hand, a page no reader can open
    """
    across, up = table
    if not (20.0 <= up <= LONGEST_PAGE and 20.0 <= across <= LONGEST_PAGE):
        raise PaperError(
            f"A projected area of {across:g} x {up:g} cm cannot be used.",
            where="projector",
            mend="Measure what the projector shows on the table, in cm.",
        )
    caption = Caption(garment.title, body_name or garment.body_name, made_on, ticket_id, size, LARGER)
    drawn = draw_pieces(garment, caption, pieces)
    heavy = heavier(pens, HEAVIER, LEAST_LINE)
    ground = DARK_GROUND if dark else None
    pages = (_calibration(table, caption, ground), _wide(drawn, up, ground))
    book = Book(
        title=made_title(caption),
        pages=pages,
        forms={piece.piece.name: piece.drawing for piece in drawn},
        made_on=made_on,
        ident=ticket_id,
        pens=light_on_dark(heavy) if dark else heavy,
    )
    said = (*(p for piece in drawn for p in piece.problems), *lacking(caption))
    return Printed(write_pdf(book), len(pages), tuple(p.label for p in pages), len(pages), 1, 1, said)


def _wide(drawn: Sequence[DrawnPiece], up: float, ground: float | None) -> Page:
    """All pieces along the page, the way the cloth runs."""
    strip = _along([piece.outline for piece in drawn], up)
    quarter: tuple[Turn, ...] = (0, 90, 180, 270)
    placed: list[Placed] = []
    boxes: list[Point] = []
    for piece, c in zip(drawn, strip.carries, strict=True):
        # the strip runs upwards; the page runs to the right: a quarter turn clockwise
        turn = quarter[(quarter.index(c.turn) + 3) % 4]
        carry = Carry(turn, c.dy, -c.dx)
        placed.append(Placed(piece.piece.name, carry))
        boxes += [carry(p) for p in piece.outline]
    left, bottom, right, top = box_of(boxes)
    shift = (AROUND - left, AROUND - bottom)
    moved = tuple(
        Placed(p.form, Carry(p.carry.turn, p.carry.dx + shift[0], p.carry.dy + shift[1])) for p in placed
    )
    size = (right - left + 2 * AROUND, top - bottom + 2 * AROUND)
    return Page(*size, "Pattern", Drawing("none", "", ()), moved, "Pattern in true size", ground)


def _along(outlines: Sequence[Sequence[Point]], up: float) -> Strip:
    """As short as it goes on the table's depth; deeper, to be moved over the table, where a piece is wider."""
    for ease in EASE:
        strip = on_strip(outlines, up * ease - 2 * AROUND, effort="usual")
        if strip is not None:
            return strip
    raise PaperError(
        f"A piece is more than twice as wide as the {up:g} cm that the projector shows.",
        where="projector",
        mend="Print it on sheets, or hang the projector higher.",
    )


def _calibration(table: tuple[float, float], caption: Caption, ground: float | None) -> Page:
    """A rectangle of known size with its diagonals on a grid; smaller where the table is."""
    across, up = table
    fit = min(1.0, (across - 2 * AROUND) / CALIBRATION[0], (up - 2 * AROUND) / CALIBRATION[1])
    wide = GRID * int(CALIBRATION[0] * fit / GRID)
    high = GRID * int(CALIBRATION[1] * fit / GRID)
    left, bottom = (across - wide) / 2, (up - high) / 2
    items = [*_grid(left, bottom, wide, high), *_to_measure(left, bottom, wide, high)]
    drawing = Drawing("calibration", "Calibration", tuple(items))
    return Page(across, up, "Calibrate", drawing, (), "Calibrate the projector first", ground)


def _grid(left: float, bottom: float, wide: float, high: float) -> Iterator[Item]:
    for k in range(1, round(wide / GRID)):
        yield Stroke(line(Point(left + k * GRID, bottom), Point(left + k * GRID, bottom + high)), "trim")
    for k in range(1, round(high / GRID)):
        yield Stroke(line(Point(left, bottom + k * GRID), Point(left + wide, bottom + k * GRID)), "trim")


def _to_measure(left: float, bottom: float, wide: float, high: float) -> Iterator[Item]:
    right, top = left + wide, bottom + high
    yield Stroke(rectangle(left, bottom, right, top), "square", closed=True)
    yield Stroke(line(Point(left, bottom), Point(right, top)), "square")
    yield Stroke(line(Point(left, top), Point(right, bottom)), "square")
    diagonal = (wide**2 + high**2) ** 0.5
    rows = (
        f"{wide:g} cm across, {high:g} cm up, both diagonals {diagonal:.1f} cm.",
        "Move, turn and zoom the projector until all four are true on the table.",
        "Unequal diagonals: the projector hangs aslant. Then show the next page at the same zoom.",
    )
    for k, text in enumerate(rows):
        size = min(1.5, 0.25 * bottom, 0.9 * wide / Words(text, Point(0.0, 0.0), 1.0).width)
        place = Point((left + right) / 2, bottom - 1.2 * size * (k + 1))
        yield Words(text, place, size, 0.0, "middle", "square")
