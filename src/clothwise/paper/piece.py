"""A piece as it is printed: cut line, seam line, notches, grain, fold, darts, marks, and its words.

Words lie inside the piece and touch nothing; where room is short they shrink, then shorten, and what could
not be said is reported. The plane is the piece's own: cm, y up.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from clothwise.curve import Curve, Line, Point, Vector, polyline
from clothwise.errors import PaperError
from clothwise.garment import Edge, Garment, Mark, Piece
from clothwise.garment.allowance import NotchMark, cutting_line, notch_marks
from clothwise.paper import font
from clothwise.paper.caption import Block, Caption, blocks
from clothwise.paper.drawing import Drawing, Fill, Item, Stroke, Words, arrow_head, box_of
from clothwise.paper.labels import ADJUST_APART, BRACKET_IN, BRACKET_SHARE, HEAD, Label, labels
from clothwise.paper.pens import PenName
from clothwise.paper.room import CELL, Ground, ground
from clothwise.tolerance import FLATTEN

NOTCH_DEEP = 0.5  # cm from the cutting line inwards; kept to half of a narrow allowance
NOTCH_APART = 0.5  # cm between the two ticks of a double notch
NARROW = 8.0  # cm: on a piece no wider, room for words is sought on a raster as
FINE = 0.05  # cm fine as this: a band's words need every millimetre
TIP_CROSS = 0.25  # cm: half the cross at a dart's tip


@dataclass(frozen=True, slots=True)
class DrawnPiece:
    """A piece ready for paper.

    outline   the cutting line, closed, last point not repeated: what the sheets must hold
    problems  what could not be printed as wished, in sentences
    part      where only a part of the piece is drawn: what to do with it
    """

    piece: Piece
    number: int
    drawing: Drawing
    outline: tuple[Point, ...]
    problems: tuple[str, ...] = ()
    part: str = ""


def chosen_pieces(garment: Garment, chosen: Sequence[str] = ()) -> tuple[Piece, ...]:
    """All pieces, or those named, in the garment's order.

    Raises PaperError: a name that is not a piece; no piece at all.
    """
    names = [piece.name for piece in garment.pieces]
    for name in chosen:
        if name not in names:
            raise PaperError(
                f"There is no piece '{name}' to print.",
                where=f"garment '{garment.name}'",
                mend=f"Choose among {', '.join(names)}.",
            )
    if not names:
        raise PaperError("The garment has no pieces to print.", where=f"garment '{garment.name}'")
    return tuple(piece for piece in garment.pieces if not chosen or piece.name in chosen)


def check_alike(garments: Mapping[str, Garment]) -> None:
    """Raises PaperError: no size to nest, or sizes that do not have the same pieces."""
    if not garments:
        raise PaperError("0 sizes cannot be nested.", where="nest", mend="Give at least one.")
    names = [tuple(p.name for p in garment.pieces) for garment in garments.values()]
    if any(n != names[0] for n in names) or not names[0]:
        raise PaperError(
            "The sizes do not have the same pieces.",
            where="nest",
            mend="Draft all sizes with the same choices.",
        )


def draw_pieces(garment: Garment, caption: Caption, chosen: Sequence[str] = ()) -> tuple[DrawnPiece, ...]:
    """All pieces, or those named; numbers stay those of the whole garment. Raises as `chosen_pieces`."""
    wanted = chosen_pieces(garment, chosen)
    signs = notch_numbers(garment)
    return tuple(
        draw_piece(piece, caption, number=i, of=len(garment.pieces), signs=signs)
        for i, piece in enumerate(garment.pieces, start=1)
        if piece in wanted
    )


def notch_numbers(garment: Garment) -> dict[str, int]:
    """A small number for each notch sign: the same number stands at both halves of a pair."""
    signs = (n.sign for piece in garment.pieces for edge in piece.edges for n in edge.notches)
    return {sign: i for i, sign in enumerate(dict.fromkeys(signs), start=1)}


def draw_piece(
    piece: Piece, caption: Caption, *, number: int = 1, of: int = 1, signs: Mapping[str, int] | None = None
) -> DrawnPiece:
    """The piece with all that is printed on it."""
    outline = tuple(cutting_line(piece))
    notches = notch_marks(piece, cut=outline)
    lines = tuple(piece_lines(piece, outline, notches, caption.larger))
    free = ground(outline, rows_of_points(lines))
    words, unplaced, free = set_labels(labels(piece, notches, signs or {}, caption.larger), free)
    problems = [f"{piece.title}: no room for the words '{text}'." for text in unplaced]
    title, said = title_words(piece, blocks(piece, caption, number, of), free)
    words += title
    problems += said
    lacking = font.missing(" ".join([*caption.names, piece.title, *(mark.name for mark in piece.marks)]))
    if lacking:
        problems.append(f"{piece.title}: no printing face has the letter {' '.join(lacking)}.")
    drawing = Drawing(piece.name, piece.title, (*lines, *words))
    return DrawnPiece(piece, number, drawing, outline, tuple(problems))


def set_labels(wanted: Iterable[Label], free: Ground) -> tuple[list[Words], list[str], Ground]:
    """Each label at its first free place; the texts a sewer would miss; and what is free then."""
    words: list[Words] = []
    unplaced: list[str] = []
    for label in wanted:
        placed = next((w for w in label.tries if free.clear(w.corners())), None)
        if placed is None:
            unplaced += [label.text] if label.needed else []
            continue
        words.append(placed)
        free = free.taking([placed.corners()])
    return words, unplaced, free


def title_words(piece: Piece, tried: Sequence[Block], free: Ground) -> tuple[list[Words], list[str]]:
    """The block of words with the most air round it, as large as it fits; upright, else reading upwards.

    tried  blocks, best first
    """
    left, bottom, right, top = box_of(free.ring)
    room = free.room(CELL if min(right - left, top - bottom) > NARROW else FINE)
    first, rest = tried[:2], tried[2:]  # a little smaller is better than on its side
    order = [(b, side) for pair in (first, *((b,) for b in rest)) for side in (False, True) for b in pair]
    for block, on_side in order:
        width, height = (block.height, block.width) if on_side else (block.width, block.height)
        found = room.best(width, height)
        if found is None:
            continue
        corner, turn = (found.right(width), 90.0) if on_side else (found, 0.0)
        problems = [] if block.whole else [f"{piece.title}: too small for all its words."]
        return list(block.words(corner, turn)), problems
    return [], [f"{piece.title}: too small even for its number."]


# ---- lines -----------------------------------------------------------------------------------------


def piece_lines(
    piece: Piece, outline: Sequence[Point], marks: Sequence[NotchMark], larger: float
) -> Iterator[Item]:
    yield from (Stroke(run, "cut", closed) for run, closed in cut_runs(piece, outline))
    for edge in piece.edges:
        yield from _edge_line(edge)
    for mark in marks:
        yield from notch_ticks(mark, piece.edge(mark.edge).allowance)
    if piece.fold is not None:
        yield from fold_bracket(piece.fold.curve, larger)
    yield from grain_arrow(piece, larger)
    for dart in piece.darts:
        yield Stroke(polyline(list(dart.drawn)), "dart")
        for tip in (dart.tip, dart.other_tip):
            yield from _cross(tip) if tip else ()
    for drawn in piece.marks:
        yield from mark_lines(drawn)


def cut_runs(piece: Piece, outline: Sequence[Point]) -> Iterator[tuple[Curve, bool]]:
    """The cutting line without the part that lies on the fold: nothing is cut there."""
    fold = piece.fold
    if fold is None:
        yield _chain([*outline, outline[0]]), True
        return
    sides = list(zip(outline, [*outline[1:], outline[0]], strict=True))
    folded = [_on(fold.curve, a) and _on(fold.curve, b) for a, b in sides]
    first = next((i for i in range(len(sides)) if folded[i - 1] and not folded[i]), 0)
    run: list[Point] = []
    for i in range(len(sides)):
        k = (first + i) % len(sides)
        if folded[k]:
            if len(run) > 1:
                yield _chain(run), False
            run = []
            continue
        run = run or [sides[k][0]]
        run.append(sides[k][1])
    if len(run) > 1:
        yield _chain(run), False


def _chain(points: Sequence[Point]) -> Curve:
    """Straight from point to point of a cutting line, which never repeats one."""
    return Curve(tuple(Line(a, b) for a, b in pairwise(points)))


def _on(straight: Curve, p: Point) -> bool:
    """Does the point lie on the line through the fold?"""
    way = straight.start.to(straight.end).unit()
    return abs(way.cross(straight.start.to(p))) <= 2 * FLATTEN


def _edge_line(edge: Edge) -> Iterator[Item]:
    """The sewing line; a fold or a turn has its own pen; an edge without allowance is the cut line itself."""
    if edge.kind == "fold" or (edge.kind in ("hem", "casing") and edge.allowance > 0):
        yield Stroke(edge.curve, "fold")
    elif edge.allowance > 0:
        yield Stroke(edge.curve, "seam")


def notch_ticks(mark: NotchMark, allowance: float) -> Iterator[Item]:
    """One tick, or two side by side, from the cutting line inwards."""
    deep = NOTCH_DEEP if allowance <= 0 else min(NOTCH_DEEP, mark.on_seam.distance(mark.on_cut) / 2)
    for k in range(mark.count):
        rim = mark.on_cut.go(mark.outward.left(), (k - (mark.count - 1) / 2) * NOTCH_APART)
        yield Stroke(polyline([rim, rim.go(mark.outward, -deep)]), "notch")


def fold_bracket(fold: Curve, larger: float) -> Iterator[Item]:
    """A line beside the fold whose ends point to it."""
    whole = fold.length()
    inwards = fold.start_tangent.left()
    low, high = fold.at_length(BRACKET_SHARE * whole), fold.at_length((1 - BRACKET_SHARE) * whole)
    yield Stroke(polyline([low, low.go(inwards, BRACKET_IN), high.go(inwards, BRACKET_IN), high]), "grain")
    yield arrow_head(low, inwards.back(), larger * HEAD)
    yield arrow_head(high, inwards.back(), larger * HEAD)


def grain_arrow(piece: Piece, larger: float) -> Iterator[Item]:
    low, high = piece.grain
    if low.distance(high) <= 2 * HEAD:
        return
    way = low.to(high).unit()
    yield Stroke(polyline([low, high]), "grain")
    yield arrow_head(high, way, larger * HEAD)
    yield arrow_head(low, way.back(), larger * HEAD)


def _cross(at: Point) -> Iterator[Item]:
    for way in (Vector(TIP_CROSS, 0.0), Vector(0.0, TIP_CROSS)):
        yield Stroke(polyline([at.go(way.back()), at.go(way)]), "dart")


def mark_lines(mark: Mark) -> Iterator[Item]:
    if mark.kind == "adjust":
        side = mark.curve.start_tangent.left().times(ADJUST_APART / 2)
        yield Stroke(mark.curve.moved(side), "adjust")
        yield Stroke(mark.curve.moved(side.back()), "adjust")
    elif mark.kind == "button":
        yield Stroke(mark.curve, "button")
        for end, way in (
            (mark.curve.start, mark.curve.start_tangent),
            (mark.curve.end, mark.curve.end_tangent),
        ):
            side = way.left().times(TIP_CROSS)
            yield Stroke(polyline([end.go(side.back()), end.go(side)]), "button")
    else:
        pens: dict[str, PenName] = {"level": "level", "buttonhole": "button"}
        yield Stroke(mark.curve, pens.get(mark.kind, "placement"))


def rows_of_points(lines: Iterable[Item]) -> list[list[Point]]:
    """The lines as rows of points, for keeping words off them."""
    return [item.path.flattened(tolerance=FLATTEN) for item in lines if isinstance(item, Stroke | Fill)]
