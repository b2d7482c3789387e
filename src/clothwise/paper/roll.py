"""A pattern on a roll of paper, for a plotter or a copy shop: one page, as short as the lay search makes it.

Test squares stand where they cover least; a line of one metre runs along the left edge, since a plotter's feed
errs along the roll. What is longer than one page can be is split between pieces, never through one.
Page: cm, x across the roll, y along it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from clothwise.curve import Point, line
from clothwise.errors import PaperError
from clothwise.garment import Garment
from clothwise.paper.caption import Caption
from clothwise.paper.drawing import Carry, Drawing, Item, Stroke, Words, rectangle
from clothwise.paper.pattern import Printed, lacking, made_title
from clothwise.paper.pdf import LONGEST_PAGE, Book, Page, Placed, write_pdf
from clothwise.paper.pens import PRINT, Pens
from clothwise.paper.piece import DrawnPiece, draw_pieces
from clothwise.paper.squares import both_squares, ink_map
from clothwise.paper.strip import Strip, on_strip

WIDTH = 91.4  # cm: the common plotter roll of 36 inches; 60 and 90 are sold too
LONGEST = 500.0  # cm of one page
BAND = 1.0  # cm at the left edge kept for the metre line
METRE = 100.0  # cm
TICK = 10.0  # cm between its ticks
LEAST_LENGTH = 13.0  # cm of window: both test squares fit one above the other
NARROWEST = 25.0  # cm


def print_roll(
    garment: Garment,
    *,
    width: float = WIDTH,
    longest: float = LONGEST,
    margin: float = 1.0,
    body_name: str = "",
    made_on: str = "",
    ticket_id: str = "",
    size: str = "",
    pieces: Sequence[str] = (),
    pens: Pens = PRINT,
) -> Printed:
    """The pattern on pages as wide as the roll.

    width    of the roll [cm]; longest: of one page [cm], up to 508
    Raises   PaperError: a roll too narrow for a piece, a page too short for one, a page no reader can open
    """
    if not (NARROWEST <= width <= LONGEST_PAGE and 0 <= margin < width / 4):
        raise PaperError(
            f"A roll {width:g} cm wide with margins of {margin:g} cm cannot be used.",
            where="roll",
            mend=f"Give a width of {NARROWEST:g} cm or more and margins of about 1 cm.",
        )
    caption = Caption(garment.title, body_name or garment.body_name, made_on, ticket_id, size)
    drawn = draw_pieces(garment, caption, pieces)
    inner = width - 2 * margin - BAND
    parts = _parts(drawn, inner, min(longest, LONGEST_PAGE) - 2 * margin)
    pages = [_page(part, strip, width, margin, caption, k, len(parts)) for k, (part, strip) in enumerate(parts)]
    book = Book(
        title=made_title(caption),
        pages=tuple(pages),
        forms={piece.piece.name: piece.drawing for piece in drawn},
        made_on=made_on,
        ident=ticket_id,
        pens=pens,
    )
    said = (*(p for piece in drawn for p in piece.problems), *lacking(caption))
    labels = tuple(page.label for page in pages)
    return Printed(write_pdf(book), len(pages), labels, len(pages), len(pages), 1, said)


def _parts(
    drawn: Sequence[DrawnPiece], width: float, longest: float
) -> list[tuple[tuple[DrawnPiece, ...], Strip]]:
    """All pieces on one strip, or shared out, the largest first, on as few as hold them."""
    for piece in drawn:
        if on_strip([piece.outline], width) is None:
            raise PaperError(
                f"{piece.piece.title} is wider than {width:.1f} cm, the usable width of the roll.",
                where=f"roll, piece '{piece.piece.name}'",
                mend="Take a wider roll, or print on sheets, which may be taped.",
            )
    for count in range(1, len(drawn) + 1):
        shared = _shared(drawn, count)
        strips = [on_strip([p.outline for p in part], width, effort="usual") for part in shared]
        found = [(part, strip) for part, strip in zip(shared, strips, strict=True) if strip is not None]
        if len(found) == count and all(strip.length <= longest for _, strip in found):
            return found
    raise PaperError(
        f"A page of {longest:.0f} cm is too short for the longest piece.",
        where="roll",
        mend="Allow a longer page, up to 5 m.",
    )


def _shared(drawn: Sequence[DrawnPiece], count: int) -> list[tuple[DrawnPiece, ...]]:
    """Shared out so that the parts are alike in area; each part keeps the order of the pieces."""
    parts: list[list[int]] = [[] for _ in range(count)]
    areas = [0.0] * count
    for index in sorted(range(len(drawn)), key=lambda i: -abs(drawn[i].piece.area_cm2())):
        least = areas.index(min(areas))
        parts[least].append(index)
        areas[least] += abs(drawn[index].piece.area_cm2())
    return [tuple(drawn[i] for i in sorted(part)) for part in parts]


def _page(
    part: Sequence[DrawnPiece],
    strip: Strip,
    width: float,
    margin: float,
    caption: Caption,
    number: int,
    of: int,
) -> Page:
    long = max(strip.length, LEAST_LENGTH)
    inner = (width - 2 * margin - BAND, long)
    laid = [(piece.drawing, carry) for piece, carry in zip(part, strip.carries, strict=True)]
    ink = ink_map(inner, laid).of((0.0, 0.0, *inner), 0.0, frozenset())
    origin = Point(margin + BAND, margin)
    whose = " · ".join(p for p in (caption.garment, caption.body) if p)
    label = f"Roll {number + 1}" if of > 1 else "Roll"
    items: list[Item] = [Stroke(rectangle(margin, margin, width - margin, margin + long), "trim", closed=True)]
    items += _metre_line(margin, long)
    items += both_squares(ink, origin, label, whose)
    placed = tuple(
        Placed(piece.piece.name, Carry(c.turn, c.dx + origin.x, c.dy + origin.y))
        for piece, c in zip(part, strip.carries, strict=True)
    )
    drawing = Drawing(f"roll_{number + 1}", label, tuple(items))
    return Page(width, long + 2 * margin, label, drawing, placed, label)


def _metre_line(margin: float, long: float) -> Iterator[Item]:
    """Along the roll, a tick each 10 cm: one metre, or as many tens as there is room for."""
    tens = int(min(METRE, long - 1.0) // TICK)
    if tens < 1:
        return
    x, low = margin + 0.35, margin + 0.5
    high = low + tens * TICK
    yield Stroke(line(Point(x, low), Point(x, high)), "square")
    for k in range(tens + 1):
        wide = 0.3 if k in (0, tens) else 0.18
        yield Stroke(line(Point(x - wide, low + k * TICK), Point(x + wide, low + k * TICK)), "square")
    text = f"{tens * TICK:.0f} cm: measure it, for the feed of a plotter may err"
    yield Words(text, Point(x + 0.3, (low + high) / 2), 0.25, 90.0, "middle", "square")
