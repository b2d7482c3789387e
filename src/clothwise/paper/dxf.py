"""Pieces as DXF for apparel, after ASTM D6673 (withdrawn 2019 without successor, still commonly exchanged).

One block per piece and size, ASCII, revision R12, millimetres; curves as polylines whose chords stay within
FLATTEN. A graded nest is one file: every size of a piece is a block of its own that tells its size, and all
are inserted at one place, nested as they are drafted; no file of grade rules is needed, the points are there.
The layer numbers are from general knowledge of the standard: where a copy of it says otherwise, it is right.

    1 boundary (cut line) and piece text   2 turn points      3 curve points   4 notches
    6 fold (mirror line)                   7 grain            8 lines inside   13 drill holes (dart tips)
    14 sewing line                         15 annotation
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from io import StringIO

from ezdxf.document import Drawing
from ezdxf.layouts.blocklayout import BlockLayout

from clothwise.curve import Curve, Point
from clothwise.garment import Garment, Piece
from clothwise.garment.allowance import cutting_line, notch_marks
from clothwise.paper.caption import how_to_cut
from clothwise.paper.drawing import Box, around, box_of
from clothwise.paper.piece import check_alike, chosen_pieces
from clothwise.tolerance import FLATTEN
from clothwise.units import MM

BOUNDARY, TURN, CURVE, NOTCH, FOLD, GRAIN, INSIDE, DRILL, SEW, SAYS = (
    "1", "2", "3", "4", "6", "7", "8", "13", "14", "15",
)  # fmt: skip
TURN_DEG = 15.0  # degrees: a bend from here on is a turn point, a gentler one a curve point
TEXT = 5.0  # mm high
BETWEEN = 20.0  # mm between pieces side by side
FIXED_DAY = "2451544.5"  # the writer's own time stamps are replaced by 2000-01-01: same garment, same file

CYRILLIC = (
    "а a б b в v г g ґ g д d е e є ye ж zh з z и i і i к k л l м m н n о o п p р r с s т t у u ф f х kh ц ts "
    "ч ch ш sh щ shch ы y э e ю yu я ya"
)
GREEK = "α a β v γ g δ d ε e ζ z η i θ th ι i κ k λ l μ m ν n ξ x ο o π p ρ r σ s ς s τ t υ y φ f χ ch ψ ps ω o"
LATIN = "ß ss ø o æ ae œ oe ł l đ d ð d þ th ı i ’ ' · - – - × x"
_SPELLED = f"{LATIN} {CYRILLIC} {GREEK}".split()
LETTERS = {  # those that do not come apart into a base letter and an accent; Cyrillic and Greek by common use
    **dict(zip(_SPELLED[::2], _SPELLED[1::2], strict=True)),
    "ъ": "",
    "ь": "",
}


def pattern_dxf(
    garment: Garment, *, size: str = "", body_name: str = "", made_on: str = "", pieces: Sequence[str] = ()
) -> str:
    """All pieces, or those named, as one ASCII file.

    size     of the pattern; where there is none, the body's name stands for it
    Raises   PaperError: an unknown piece, nothing to draw
    """
    fits = size or body_name or garment.body_name or "1"
    return _written({fits: garment}, fits, made_on, pieces)


def nest_dxf(garments: Mapping[str, Garment], *, made_on: str = "", pieces: Sequence[str] = ()) -> str:
    """All sizes in one ASCII file; the sample size is the middle one, as on paper.

    garments  by size, from small to large, all of one pattern
    Raises    PaperError: no size, sizes of unlike pieces, an unknown piece
    """
    check_alike(garments)
    return _written(garments, list(garments)[len(garments) // 2], made_on, pieces)


def _written(garments: Mapping[str, Garment], sample: str, made_on: str, pieces: Sequence[str]) -> str:
    document = Drawing.new("R12")
    for layer in (BOUNDARY, TURN, CURVE, NOTCH, FOLD, GRAIN, INSIDE, DRILL, SEW, SAYS):
        document.layers.add(layer)
    space = document.modelspace()
    x = 0.0
    for base in chosen_pieces(garments[sample], pieces):
        blocks: list[str] = []
        boxes: list[Box] = []
        for size, garment in garments.items():
            piece = garment.piece(base.name)
            outline = cutting_line(piece)
            name = _block_name(base.name, size)
            _block(document.blocks.new(name), piece, outline, ascii_only(size))
            blocks.append(name)
            boxes.append(box_of(outline))
        left, bottom, right, _ = (v / MM for v in around(boxes))
        for name in blocks:
            space.add_blockref(name, (x - left, -bottom), dxfattribs={"layer": BOUNDARY})
        x += right - left + BETWEEN
    for k, text in enumerate(_style(garments[sample], made_on, ascii_only(sample))):
        place = (0.0, -TEXT * 1.8 * (k + 2))
        space.add_text(text, height=TEXT, dxfattribs={"layer": BOUNDARY, "insert": place})
    out = StringIO()
    document.write(out)
    return _undated(out.getvalue())


def _block_name(piece: str, size: str) -> str:
    """'FRONT_LEG-84'."""
    return f"{ascii_only(piece).upper()}-{ascii_only(size).replace(' ', '_').upper()}"


def ascii_only(text: str) -> str:
    """Names in the letters A to Z: accents dropped, Greek and Cyrillic spelled out, the rest an underscore."""
    said = []
    for letter in unicodedata.normalize("NFC", text):
        spelled = _spelled(letter)
        said.append(spelled if spelled is not None else "_")
    return "".join(said).strip() or "_"


def _spelled(letter: str) -> str | None:
    if letter.isascii():
        return letter if letter.isprintable() else " "
    low = letter.lower()
    if low in LETTERS:
        return LETTERS[low].capitalize() if letter != low else LETTERS[low]
    base = unicodedata.normalize("NFD", letter)[0]
    return None if base == letter else _spelled(base)


def _style(garment: Garment, made_on: str, size: str) -> Iterator[str]:
    yield f"Style Name: {ascii_only(garment.title)}"
    yield "Units: METRIC"
    yield "Author: Clothwise"
    if made_on:
        yield f"Creation Date: {ascii_only(made_on)}"
    yield f"Sample Size: {size}"


# ---- one piece -------------------------------------------------------------------------------------


def _block(block: BlockLayout, piece: Piece, outline: Sequence[Point], size: str) -> None:
    _polyline(block, BOUNDARY, outline, closed=True)
    for before, p, after in zip([outline[-1], *outline[:-1]], outline, [*outline[1:], outline[0]], strict=True):
        _point(block, TURN if _bend(before, p, after) >= TURN_DEG else CURVE, p)
    for edge in piece.edges:
        if edge.kind == "fold":
            _line(block, FOLD, edge.curve.start, edge.curve.end)
        elif edge.allowance > 0:
            _curve(block, SEW, edge.curve)
    for notch in notch_marks(piece, cut=outline):
        _point(block, NOTCH, notch.on_cut)
    _line(block, GRAIN, *piece.grain)
    for dart in piece.darts:
        _polyline(block, INSIDE, dart.drawn)
        for tip in (dart.tip, dart.other_tip):
            if tip:
                _point(block, DRILL, tip)
    for mark in piece.marks:
        _curve(block, INSIDE, mark.curve)
    middle = piece.grain[0].between(piece.grain[1])
    for k, (layer, text) in enumerate(_says(piece, size)):
        place = (middle.x / MM + TEXT, middle.y / MM - 1.8 * TEXT * k)
        block.add_text(text, height=TEXT, dxfattribs={"layer": layer, "insert": place})


def _says(piece: Piece, size: str) -> Iterator[tuple[str, str]]:
    yield BOUNDARY, f"Piece Name: {ascii_only(piece.title)}"
    yield BOUNDARY, f"Size: {size}"
    yield BOUNDARY, f"Quantity: {piece.copies}"
    yield SAYS, f"Annotation: {ascii_only(how_to_cut(piece))}"


def _bend(before: Point, p: Point, after: Point) -> float:
    """How much a line turns at a corner. [degrees]"""
    one, other = before.to(p), p.to(after)
    return abs(math.degrees(math.atan2(one.cross(other), one.dot(other))))


def _mm(p: Point) -> tuple[float, float]:
    return round(p.x / MM, 4), round(p.y / MM, 4)


def _polyline(block: BlockLayout, layer: str, points: Sequence[Point], *, closed: bool = False) -> None:
    block.add_polyline2d([_mm(p) for p in points], close=closed, dxfattribs={"layer": layer})


def _curve(block: BlockLayout, layer: str, curve: Curve) -> None:
    _polyline(block, layer, curve.flattened(tolerance=FLATTEN))


def _line(block: BlockLayout, layer: str, one: Point, other: Point) -> None:
    block.add_line(_mm(one), _mm(other), dxfattribs={"layer": layer})


def _point(block: BlockLayout, layer: str, p: Point) -> None:
    block.add_point(_mm(p), dxfattribs={"layer": layer})


def _undated(text: str) -> str:
    """Without the moment of writing, which the writer puts in by itself."""
    text = re.sub(r"(\$TD(?:CREATE|UPDATE)\n *40\n)[^\n]*", rf"\g<1>{FIXED_DAY}", text)
    return re.sub(r"(\d+(?:\.\d+)+) @ \d{4}-[^\n]*", r"\g<1>", text)
