"""Words along lines and beside notches, each with the places where it may stand, best first.

What must stand at one spot comes first, then what can slide along a line; piece.py takes the first free place.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from clothwise.curve import Curve, Point, Vector, polyline
from clothwise.garment import Edge, Mark, Piece
from clothwise.garment.allowance import NotchMark
from clothwise.paper import font
from clothwise.paper.caption import SMALLEST, edge_says, short_cm, spoken
from clothwise.paper.drawing import Words

LABEL = 0.25  # cm: type along lines and beside notches; seven point
BESIDE = 0.12  # cm between a line and the words beside it
FARTHER = 0.5  # cm, where there is no room close by
HEAD = 0.45  # cm: length of an arrow head
BRACKET_IN = 1.0  # cm from the fold to its bracket
BRACKET_SHARE = 0.15  # of the fold's length is left free at each end of the bracket
SHORT_GRAIN = 2.5  # cm: a shorter arrow across a binding proves no scale; its words may be left out
LONG_GRAIN = 25.0  # cm: from here on the arrow has room to say how it is laid true
AT_45 = ": lay it at 45° to the cloth’s edge"
BOTH_ENDS = ": both ends equally far from the cloth’s edge"
ADJUST_APART = 0.5  # cm between the two lines of 'lengthen or shorten here'
UPSIDE_DOWN_DEG = 0.5  # degrees: a line this near to upright reads upwards, whichever way it runs
NOTCH_TRIES = ((0.4, 0.0), (0.4, 0.35), (0.4, -0.35), (0.7, 0.0), (-0.5, 0.8), (-0.5, -0.8), (1.0, 0.5))
# cm inwards from the seam line, and along it: where a notch's number may stand
ALONG = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88)  # shares of a line at which its label is tried


@dataclass(frozen=True, slots=True)
class Label:
    """Words with the places where they may stand, best first.

    needed  a sewer would miss it: when there is no room, say so
    """

    text: str
    tries: tuple[Words, ...]
    needed: bool = True


def labels(
    piece: Piece, notches: Sequence[NotchMark], signs: Mapping[str, int], larger: float
) -> Iterator[Label]:
    """Those that must stand at one spot first, then those that can slide along a line."""
    yield from spot_labels(piece, notches, signs, larger)
    yield from grain_labels(piece, larger)
    yield from edge_labels(piece, larger)


def spot_labels(
    piece: Piece, notches: Sequence[NotchMark], signs: Mapping[str, int], larger: float
) -> Iterator[Label]:
    """Of notches and marks."""
    for notch in notches:
        if notch.sign in signs:
            text = str(signs[notch.sign])
            yield Label(text, tuple(_at_notch(notch, text, larger)))
    for mark in piece.marks:
        yield _mark_label(mark, larger)


def grain_labels(piece: Piece, larger: float) -> Iterator[Label]:
    """Of the grain arrow and of the bracket on the fold."""
    low, high = piece.grain
    length = low.distance(high)
    # the arrow of a piece on the bias lies at 45 degrees to the cloth's grain, all others along it
    name, lay = ("grain, on the bias", AT_45) if piece.bias else ("grain", BOTH_ENDS)
    if length > 2 * HEAD:
        arrow = polyline([low, high])
        short = _beside(f"{name} {short_cm(length)}", arrow, larger)
        full = _beside(short.text + lay, arrow, larger) if length >= LONG_GRAIN or piece.bias else short
        across = _across(short.text, low, high, larger)
        tries = (*full.tries, *short.tries, *across)
        yield replace(short, tries=tries, needed=length >= SHORT_GRAIN)
    if piece.fold is not None:
        inner = _bracket_line(piece.fold.curve)
        said, short = (
            _beside(words, inner, larger) for words in ("place on the fold of the cloth", "on the fold")
        )
        yield replace(said, tries=(*said.tries, *short.tries))  # beside a short fold the bracket says the rest


def _across(text: str, low: Point, high: Point, larger: float) -> Iterator[Words]:
    """Square to a short arrow, at either side: the grain across a band, off the fold in its middle."""
    square = low.to(high).unit().left()
    for size in (larger * LABEL, larger * SMALLEST):
        away = BESIDE + Words(text, low, size).width / 2
        for share in (0.25, 0.75, 0.5):
            for side in (square, square.back()):
                yield set_beside(text, size, low.between(high, share).go(side, away), square, 0.0)


def edge_labels(piece: Piece, larger: float) -> Iterator[Label]:
    """Of every edge: its name and what is allowed outside it."""
    for edge in piece.edges:
        text = edge_says(edge)
        if text:
            inside = edge.allowance <= 0
            yield Label(text, tuple(_in_band(edge, text, larger, inside=inside)), needed=False)


def _bracket_line(fold: Curve) -> Curve:
    side = fold.start_tangent.left().times(BRACKET_IN)
    whole = fold.length()
    return fold.part(BRACKET_SHARE * whole, (1 - BRACKET_SHARE) * whole).moved(side)


def _mark_label(mark: Mark, larger: float) -> Label:
    says = "lengthen or shorten here" if mark.kind == "adjust" else spoken(mark.name)
    gap = ADJUST_APART / 2 if mark.kind == "adjust" else 0.0
    return _beside(says, mark.curve, larger, gap=gap, needed=mark.kind in ("adjust", "placement"))


def _beside(text: str, curve: Curve, larger: float, *, gap: float = 0.0, needed: bool = True) -> Label:
    """Along a line, on either side of it, sliding; smaller where it must."""
    whole = curve.length()
    places = [(curve.at_length(share * whole), curve.tangent_at_length(share * whole)) for share in ALONG]
    tries = [
        set_beside(text, size, at, way, side * (gap + away + size / 2))
        for size in (larger * LABEL, larger * SMALLEST)
        for away in (BESIDE, FARTHER)
        for at, way in places
        for side in (1.0, -1.0)
    ]
    return Label(text, tuple(tries), needed)


def set_beside(text: str, size: float, at: Point, way: Vector, off: float) -> Words:
    """Words centred beside a line, their middle `off` to its left; never upside down."""
    middle = at.go(way.left(), off)
    turn = way.angle_deg
    if not -90.0 + UPSIDE_DOWN_DEG < turn <= 90.0 + UPSIDE_DOWN_DEG:
        turn += 180.0 if turn < 0 else -180.0
    drop = Vector(0.0, -(font.ASCENT - font.DESCENT) / 2 * size).turned(turn)
    return Words(text, middle.go(drop), size, turn, "middle")


def _at_notch(mark: NotchMark, text: str, larger: float) -> Iterator[Words]:
    """Just inside the seam line, then beside the tick."""
    along = mark.outward.left()
    for size in (larger * LABEL, larger * SMALLEST):
        for inwards, aside in NOTCH_TRIES:
            middle = mark.on_seam.go(mark.outward, -inwards).go(along, aside)
            yield Words(text, middle.down(font.CAPITAL / 2 * size), size, 0.0, "middle")


def _in_band(edge: Edge, text: str, larger: float, *, inside: bool) -> Iterator[Words]:
    """In the middle of the allowance, along the seam line; inside the piece where there is no allowance."""
    whole = edge.curve.length()
    for size in (larger * LABEL, larger * SMALLEST):
        off = BESIDE + size / 2 if inside else -edge.allowance / 2
        for share in ALONG:
            yield set_beside(
                text,
                size,
                edge.curve.at_length(share * whole),
                edge.curve.tangent_at_length(share * whole),
                off,
            )
