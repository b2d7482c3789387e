"""What is said on a piece: its name, how to cut it, what is allowed for, whose it is.

Type sizes are given in cm of one em; 0.35 cm is ten point.
"""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.curve import Point
from clothwise.garment import Edge, Piece
from clothwise.paper import font
from clothwise.paper.drawing import Words
from clothwise.paper.pens import PenName

# House rule, 2026-11: read at arm's length from a cutting table (title), in the hand (the rest).
NUMBER = 1.5  # cm
TITLE = 0.62  # cm
HOW_TO_CUT = 0.44  # cm
PLAIN = 0.32  # cm
SMALL = 0.25  # cm: seven point
SMALLEST = 0.19  # cm: 5.4 point; below it a home printer's letters fill in, so nothing is set smaller
LEADING = 1.32  # line to line, in em
LONGEST_LINE = 9.0  # cm at full size: longer lines are broken
SHRINKS = (1.0, 0.86, 0.74, 0.64)  # sizes tried in turn when room is short
GAP = 0.3  # cm between the number and the lines beside it, at full size

CUT_OUT_OF = {
    "shell": "",
    "lining": " from the lining",
    "interfacing": " from the interfacing",
    "rib": " from the ribbing",
    "pocket": " from the pocketing",
}


@dataclass(frozen=True, slots=True)
class Caption:
    """What every piece of one make says alike. Empty ones are left out.

    made_on  'YYYY-MM-DD'; ticket its id; size where a pattern is made in sizes
    larger   all type this many times larger: for a projector, whose dots are coarse
    """

    garment: str
    body: str = ""
    made_on: str = ""
    ticket: str = ""
    size: str = ""
    larger: float = 1.0

    @property
    def names(self) -> tuple[str, ...]:
        """What people have typed: it may hold letters that the face lacks."""
        return self.garment, self.body, self.size, self.ticket


def short_cm(length: float) -> str:
    """A length as on a tape, to the millimetre: '1.5 cm', '4 cm'."""
    return f"{length:.1f}".removesuffix(".0") + font.NO_BREAK + "cm"


def spoken(name: str) -> str:
    """A name of the code as words: 'side_seam' -> 'side seam'."""
    return name.replace("_", " ")


def how_to_cut(piece: Piece) -> str:
    """'Cut 1 pair', 'Cut 2', 'Cut 1 on the fold', and out of which layer."""
    if piece.cutting == "pair":
        pairs = piece.copies // 2
        count = f"{pairs} pair" + ("s" if pairs > 1 else "")
    else:
        count = str(piece.copies)
    fold = " on the fold" if piece.cutting == "on fold" else ""
    bias = ", on the bias" if piece.bias else ""
    backed = "; the same from interfacing" if piece.interfaced else ""
    return f"Cut {count}{fold}{CUT_OUT_OF[piece.layer]}{bias}{backed}"


def edge_says(edge: Edge) -> str:
    """What is written beside an edge: its name and what is allowed outside it."""
    if edge.kind == "fold":
        return ""
    name = spoken(edge.name)
    if edge.allowance <= 0:
        return f"{name}: no allowance"
    turn = {"hem": "turn up ", "casing": "turn down "}.get(edge.kind, "")
    return f"{name} · {turn}{short_cm(edge.allowance)}"


def allowances(piece: Piece) -> str:
    """'Allowances included: seams 1.5 cm, hem 4 cm.' Each kind with all its widths."""
    titles = {"seam": "seams", "hem": "hem", "casing": "casing", "raw": "raw edges"}
    said = []
    for kind, title in titles.items():
        widths = sorted({e.allowance for e in piece.edges if e.kind == kind})
        if kind == "raw" and widths == [0.0]:
            continue
        if widths:
            said.append(f"{title} {' and '.join(short_cm(w) for w in widths)}")
    return f"Allowances included: {', '.join(said)}." if said else "No allowances."


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a block of words."""

    text: str
    size: float
    bold: bool = False
    quiet: bool = False


@dataclass(frozen=True, slots=True)
class Block:
    """A piece number with lines beside it, all at one shrink.

    least  no type is smaller than this [cm]
    tall   of the number's type at full size [cm]
    whole  it says all that is to be said of the piece
    """

    number: str
    rows: tuple[Row, ...]
    shrink: float
    least: float = SMALLEST
    tall: float = NUMBER
    whole: bool = False

    @property
    def number_width(self) -> float:
        beside = GAP * self.shrink if self.rows else 0.0
        return font.width(self.number, self._number_size) + beside

    @property
    def _number_size(self) -> float:
        return max(self.tall * self.shrink * (1.0 if self.rows else 0.5), self.least)

    @property
    def width(self) -> float:
        beside = (font.width(font.tidy(r.text), self._size(r), bold=r.bold) for r in self.rows)
        return self.number_width + max(beside, default=0.0)

    @property
    def height(self) -> float:
        rows = sum(self._size(r) * LEADING for r in self.rows)
        return max(rows, (font.ASCENT + font.DESCENT) * self._number_size)

    def _size(self, row: Row) -> float:
        return max(row.size * self.shrink, self.least)

    def words(self, corner: Point, turn_deg: float = 0.0) -> tuple[Words, ...]:
        """Set with its lower left corner here, then turned about that corner."""
        top = corner.y + self.height
        size = self._number_size
        found = [Words(self.number, Point(corner.x, top - font.ASCENT * size), size)]
        x, y = corner.x + self.number_width, top
        for row in self.rows:
            y -= self._size(row) * LEADING
            pen: PenName = "quiet" if row.quiet else "words"
            place = Point(x, y + self._size(row) * (LEADING - font.ASCENT))
            found.append(Words(row.text, place, self._size(row), pen=pen, bold=row.bold))
        return tuple(
            Words(w.text, w.place.rotated(corner, turn_deg), w.size, turn_deg, w.anchor, w.pen, w.bold)
            for w in found
        )


def blocks(piece: Piece, caption: Caption, number: int, of: int) -> tuple[Block, ...]:
    """The blocks to try, best first: full at each shrink, in two lines or one for a band, then short ones."""
    full = (
        *_broken(Row(piece.title, TITLE, bold=True)),
        *_broken(Row(how_to_cut(piece), HOW_TO_CUT)),
        *_whose(caption),
        *_broken(Row(allowances(piece), SMALL, quiet=True)),
        *_broken(Row(_made(caption, number, of), SMALL, quiet=True)),
    )
    what = f"{piece.title} · {how_to_cut(piece)}"
    whose = " · ".join(part for part in (_named(caption), _made(caption, number, of)) if part)
    two_lines = (Row(what, PLAIN, bold=True), Row(whose, PLAIN))
    one_line = (Row(f"{what} · {whose}", PLAIN),)
    short = (Row(piece.title, HOW_TO_CUT, bold=True), Row(how_to_cut(piece), PLAIN), *_whose(caption))
    shortest = (Row(piece.title, SMALL, bold=True), Row(how_to_cut(piece), SMALL))
    tried = (
        *((full, shrink, NUMBER, True) for shrink in SHRINKS),
        *((two_lines, shrink, 2 * PLAIN, True) for shrink in SHRINKS),
        *((one_line, shrink, PLAIN, True) for shrink in SHRINKS),
        *((short, shrink, NUMBER, True) for shrink in SHRINKS[1:]),
        *((shortest, shrink, NUMBER, False) for shrink in SHRINKS[1:]),
        *(((Row(what, SMALL),), shrink, SMALL, False) for shrink in SHRINKS[1:]),
        *(((), shrink, NUMBER, False) for shrink in SHRINKS),
    )
    k = caption.larger
    return tuple(
        Block(str(number), rows, k * shrink, k * SMALLEST, tall, whole) for rows, shrink, tall, whole in tried
    )


def patch_blocks(piece: Piece, caption: Caption, number: int, which: str) -> tuple[Block, ...]:
    """As `blocks`, of a part to be laid over an earlier print."""
    lay = "lay over the earlier print"
    full = (
        Row(piece.title, HOW_TO_CUT, bold=True),
        Row(which, PLAIN),
        Row(lay, PLAIN),
        *_whose(caption),
        *_broken(Row(_made(caption, number, 0), SMALL, quiet=True)),
    )
    short = (Row(piece.title, SMALL, bold=True), Row(which, SMALL), Row(lay, SMALL))
    tried = (*((full, k) for k in SHRINKS), *((short, k) for k in SHRINKS), *(((), k) for k in SHRINKS))
    return tuple(
        Block(str(number), rows, caption.larger * k, caption.larger * SMALLEST, whole=bool(rows))
        for rows, k in tried
    )


def _whose(caption: Caption) -> tuple[Row, ...]:
    said = _named(caption)
    return _broken(Row(said, PLAIN)) if said else ()


def _named(caption: Caption) -> str:
    size = f"size {caption.size}" if caption.size else ""
    return " · ".join(part for part in (caption.garment, caption.body, size) if part)


def _made(caption: Caption, number: int, of: int) -> str:
    ticket = f"ticket {caption.ticket}" if caption.ticket else ""
    which = f"piece {number} of {of}" if of else ""
    return " · ".join(part for part in (which, caption.made_on, ticket) if part)


def _broken(row: Row) -> tuple[Row, ...]:
    """The row's text on as many lines as it needs, broken between words, or inside one too long."""
    return tuple(Row(line, row.size, row.bold, row.quiet) for line in broken(row.text, row.size, bold=row.bold))


def broken(text: str, size: float, *, longest: float = LONGEST_LINE, bold: bool = False) -> list[str]:
    """Lines no longer than `longest`. [cm]"""
    lines: list[str] = []
    line, space, wide = "", font.width(" ", size, bold=bold), 0.0
    for word in font.tidy(text).split(" "):
        longer = wide + (space if line else 0.0) + font.width(word, size, bold=bold)
        if longer <= longest:  # the face is set without kerning: widths add up
            line, wide = f"{line} {word}".strip(), longer
            continue
        lines += [line] if line else []
        line = word
        while font.width(line, size, bold=bold) > longest:
            fits = max(1, sum(font.width(line[:n], size, bold=bold) <= longest for n in range(1, len(line))))
            lines.append(line[:fits])
            line = line[fits:]
        wide = font.width(line, size, bold=bold)
    return [*lines, line] if line else lines
