"""The pieces of a raglan pullover, from its frame: front, back, sleeve, peplum.

Front and back are drawn with the centre on x = 0, side at +x; the back is turned over at the end, so that all
pieces are the wearer's left half with the right side up. The sleeve has its neck above, the front on the left.
Lengths in cm. Source: house rule, 2026-11; buttons from ordinary trade knowledge (two fingers below the edge,
then evenly, a hand apart).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from clothwise.curve import DOWN, Curve, Point, Vector, line, sweep
from clothwise.draft import hem
from clothwise.draft.raglan_frame import Frame
from clothwise.draft.raglan_seam import BodyHalf
from clothwise.draft.turned_over import turned_over
from clothwise.garment import Dart, Edge, Mark, Piece
from clothwise.garment.piece import EdgeKind, MarkKind

FRONT, BACK, SLEEVE = "front", "back", "sleeve"
FRONT_PEPLUM, BACK_PEPLUM = "front_peplum", "back_peplum"
SEAM = 1.5  # cm allowance of side and underarm: room to fit
RAGLAN_SEAM = 1.0  # cm: the curve lies flat with no more
WAIST_SEAM = 1.5  # cm where a peplum is sewn on
LIFT = 0.45  # of width and lean: the side end of a hem is lifted, so that it hangs level
LAP = 1.5  # cm from the centre back to the edge of the button stand
STAND_FOLD_IN = 1.0  # cm of the stand's turn are folded in
STAND = 2 * LAP + STAND_FOLD_IN  # cm turned back
BUTTON_BELOW = 2.0  # cm from the neck seam to the first button
BUTTONS_APART = 8.0  # cm at most
BUTTONHOLE = 1.6  # cm
STITCH = 0.4  # cm: how long a button's place is drawn
BUTTON_ABOVE_HEM = 6.0  # cm at least: the last one clears the hem
FRILL_FROM_NECK, FRILL_FROM_ARM = 1.2, 4.0  # cm: it begins below the neck and ends above the underarm
SHORTEST_FRILL = 8.0  # cm of seam: a shorter one is a tuft
DART, MOUTH = "shoulder_dart", "dart_mouth"
LAST_LEAN = 1.06  # times the mean lean: so the underarm seam of a sleeve arrives, nearly straight below the arm
UNDERARM_HANDLES = (0.16, 0.36)
GRAIN_FREE = 0.2  # of the length left above and below the grain arrow


@dataclass(frozen=True, slots=True)
class Cut:
    """What the choices ask of the pieces. [cm]

    bottom   of front and back below the waist at the centre; bottom_turn its hem, 0 where a peplum is sewn on
    sleeve   length from the shoulder point; wrist: girth of its end; sleeve_turn, sleeve_elastic: its finish
    neck     allowance there
    frills   on the front, on the back; buttoned: the back opens
    hip      depth of the hip line, if it lies on the pieces
    peplum   depth of its hem, 0 = none; fullness of it; peplum_turn its hem
    """

    bottom: float
    bottom_turn: float
    sleeve: float
    wrist: float
    sleeve_turn: float
    sleeve_elastic: float
    neck: float
    frills: tuple[bool, bool]
    buttoned: bool
    hip: float
    peplum: float = 0.0
    fullness: float = 1.0
    peplum_turn: float = 0.0


# ---- front and back --------------------------------------------------------------------------------


def front(frame: Frame, cut: Cut) -> Piece:
    return _body(frame, cut, frame.front, FRONT, "Front", frilled=cut.frills[0], lap=0.0)


def back(frame: Frame, cut: Cut) -> Piece:
    lap = LAP if cut.buttoned else 0.0
    return turned_over(_body(frame, cut, frame.back, BACK, "Back", frilled=cut.frills[1], lap=lap))


def lower_edge(frame: Frame, half: BodyHalf, depth: float) -> Curve:
    """The edge at that depth of the centre, square to the centre and to the side, lifted there. [cm]"""
    side = frame.side_at(half, lift(frame, depth) - depth)
    return hem.hem_line(line(Point(0.0, 1.0 - depth), Point(0.0, -depth)), line(half.raglan.end, side))


def lift(frame: Frame, depth: float) -> float:
    """How far the side end of a hem at that depth lies above its centre: it hangs level. [cm]"""
    middle = (frame.side_at(frame.front, -depth).x + frame.side_at(frame.back, -depth).x) / 2
    return LIFT * middle * frame.lean


def _body(frame: Frame, cut: Cut, half: BodyHalf, name: str, title: str, *, frilled: bool, lap: float) -> Piece:
    low = lower_edge(frame, half, cut.bottom)
    side = line(half.raglan.end, low.end)
    neck, turned = half.neck, cut.bottom_turn > 0
    top = neck.end
    if lap:
        neck = neck.then(line(top, top.left(lap)))
        low = line(low.start.left(lap), low.start).then(low)
    centre = Edge("stand", line(neck.end, low.start), "hem", STAND) if lap else _fold(line(top, low.start))
    lower = Edge("hem", low, "hem", cut.bottom_turn) if turned else Edge("waist", low, "seam", WAIST_SEAM)
    middle = half.raglan.end.x / 2
    return Piece(
        name,
        title,
        edges=(
            centre,
            lower,
            Edge("side_seam", side.reversed(), "seam", SEAM),
            Edge("raglan", half.raglan.reversed(), "seam", RAGLAN_SEAM, pressed_open=True),
            Edge("neck", neck, "seam", cut.neck),
        ),
        grain=_upright(middle, low.start.y, frame.underarm),
        cutting="pair" if lap else "on fold",
        copies=2 if lap else 1,
        marks=(
            *_levels(frame, cut, half, lap),
            *((_frill_place(half),) if frilled else ()),
            *(_closing(top, cut.bottom, 0.0 if turned else BUTTON_ABOVE_HEM / 2) if lap else ()),
        ),
    )


def _fold(curve: Curve) -> Edge:
    return Edge("fold", curve, "fold", 0.0)


def _levels(frame: Frame, cut: Cut, half: BodyHalf, lap: float) -> tuple[Mark, ...]:
    found = [_across(frame, half, "bust", "level", frame.bust, 0.0)]
    if cut.hip and not cut.peplum:
        found.append(_across(frame, half, "hip", "level", -cut.hip, 0.0))
    low = -cut.bottom
    found.append(_across(frame, half, "adjust_length", "adjust", low + 0.45 * (frame.bust - low), lap))
    return tuple(found)


def _across(frame: Frame, half: BodyHalf, name: str, kind: MarkKind, y: float, lap: float) -> Mark:
    return Mark(name, kind, line(Point(-lap, y), frame.side_at(half, y)))


def frill_stretch(half: BodyHalf) -> tuple[float, float]:
    """From where to where along the raglan, from the neck, a frill is sewn in. [cm]"""
    length = half.raglan.length()
    return FRILL_FROM_NECK, max(length - FRILL_FROM_ARM, FRILL_FROM_NECK + SHORTEST_FRILL)


def _frill_place(half: BodyHalf) -> Mark:
    return Mark("frill_place", "placement", half.raglan.part(*frill_stretch(half)))


def _closing(top: Point, bottom: float, lower: float) -> tuple[Mark, ...]:
    """The centre line; buttons on it, and the buttonholes over them on the other half.

    lower  the last button stands so much nearer to the lower edge than to a hem [cm]
    """
    marks = [Mark("centre_back", "centre", line(top, Point(0.0, -bottom)))]
    for number, y in enumerate(button_heights(top.y, -bottom - lower), 1):
        at = Point(0.0, y)
        marks.append(Mark(f"button_{number}", "button", line(at.left(STITCH / 2), at.right(STITCH / 2))))
        hole = line(at.up(BUTTONHOLE / 2), at.down(BUTTONHOLE / 2))
        marks.append(Mark(f"buttonhole_{number}", "buttonhole", hole))
    return tuple(marks)


def button_heights(top: float, bottom: float) -> tuple[float, ...]:
    """Evenly from below the neck to above the hem. [cm]"""
    first, last = top - BUTTON_BELOW, bottom + BUTTON_ABOVE_HEM
    gaps = max(math.ceil((first - last) / BUTTONS_APART), 1)
    return tuple(first - i * (first - last) / gaps for i in range(gaps + 1))


# ---- sleeve ----------------------------------------------------------------------------------------


def sleeve(frame: Frame, cut: Cut) -> Piece:
    """The sleeve: neck above, front on the left, the arm line down the middle."""
    one, other = frame.sleeve_front, frame.sleeve_back
    left, right = underarm_seams(frame, cut)
    end = hem.hem_line(left, right)
    kind: EdgeKind = "casing" if cut.sleeve_elastic else "hem"
    neck, darts = _sleeve_neck(frame, cut)
    back_raglan = other.raglan.mapped(_on_back).reversed()
    return Piece(
        SLEEVE,
        "Sleeve",
        edges=(
            Edge("front_raglan", one.raglan.mapped(_on_front), "seam", RAGLAN_SEAM, pressed_open=True),
            Edge("front_underarm", left, "seam", SEAM),
            Edge("hem", end, kind, cut.sleeve_turn),
            Edge("back_underarm", right.reversed(), "seam", SEAM),
            Edge("back_raglan", back_raglan, "seam", RAGLAN_SEAM, pressed_open=True),
            *neck,
        ),
        grain=_upright(0.0, -cut.sleeve, -one.raglan.start.x if not darts else 0.0),
        darts=darts,
        marks=(Mark("arm", "level", line(left.start, right.start)),),
    )


def underarm_seams(frame: Frame, cut: Cut) -> tuple[Curve, Curve]:
    """Front and back underarm seam of the sleeve, running down: mirror images of one another."""
    one, other = frame.sleeve_front.underarm, frame.sleeve_back.underarm
    length, narrow = cut.sleeve - one.x, max((one.y + other.y - cut.wrist) / 2, 0.0)
    way = Vector(LAST_LEAN * narrow / length, -1.0).unit()
    seam = sweep(Point(0.0, 0.0), DOWN, Point(narrow, -length), way, *UNDERARM_HANDLES)
    return (
        seam.mapped(lambda p: Point(p.x - one.y, p.y - one.x)),
        seam.mapped(lambda p: Point(other.y - p.x, p.y - other.x)),
    )


def _sleeve_neck(frame: Frame, cut: Cut) -> tuple[tuple[Edge, ...], tuple[Dart, ...]]:
    """The neck edge from back to front; where the arm falls steeper than the shoulder, with a dart in it."""
    back_part = frame.sleeve_back.neck.mapped(_on_back).reversed()
    front_part = frame.sleeve_front.neck.mapped(_on_front)
    if not frame.darted:
        return (Edge("neck", back_part.then(front_part), "seam", cut.neck),), ()
    mouth = line(back_part.end, front_part.start)
    edges = (
        Edge("neck_back", back_part, "seam", cut.neck),
        Edge(MOUTH, mouth, "seam", cut.neck),
        Edge("neck_front", front_part, "seam", cut.neck),
    )
    return edges, (Dart(DART, Point(0.0, 0.0), mouth.start, mouth.end, MOUTH),)


def neck_names(frame: Frame) -> tuple[str, ...]:
    """The sleeve's neck edges from back to front."""
    return ("neck_back", "neck_front") if frame.darted else ("neck",)


def _on_front(p: Point) -> Point:
    """From the arm's directions to the piece."""
    return Point(-p.y, -p.x)


def _on_back(p: Point) -> Point:
    return Point(p.y, -p.x)


# ---- peplum ----------------------------------------------------------------------------------------


def peplums(frame: Frame, cut: Cut) -> tuple[Piece, Piece]:
    """Front and back peplum: rectangles, gathered to the waist."""
    lap = LAP if cut.buttoned else 0.0
    return (
        _peplum(frame, cut, frame.front, FRONT_PEPLUM, "Front peplum", 0.0),
        turned_over(_peplum(frame, cut, frame.back, BACK_PEPLUM, "Back peplum", lap)),
    )


def _peplum(frame: Frame, cut: Cut, half: BodyHalf, name: str, title: str, lap: float) -> Piece:
    waist = lower_edge(frame, half, cut.bottom).length() + lap
    left, right = Point(-lap, 0.0), Point(cut.fullness * waist - lap, 0.0)
    low, high = left.down(cut.peplum), right.down(cut.peplum)
    centre = Edge("stand", line(left, low), "hem", STAND) if lap else _fold(line(left, low))
    marks = list(_closing(Point(0.0, 0.0), cut.peplum, 0.0)) if lap else []
    if cut.hip:
        y = cut.bottom - cut.hip
        marks.append(Mark("hip", "level", line(Point(0.0, y), Point(right.x, y))))
    return Piece(
        name,
        title,
        edges=(
            centre,
            Edge("hem", line(low, high), "hem", cut.peplum_turn),
            Edge("side_seam", line(high, right), "seam", SEAM),
            Edge("waist", line(right, left), "seam", WAIST_SEAM),
        ),
        grain=_upright(right.x / 2, -cut.peplum, 0.0),
        cutting="pair" if lap else "on fold",
        copies=2 if lap else 1,
        marks=tuple(marks),
    )


def _upright(x: float, low: float, high: float) -> tuple[Point, Point]:
    free = GRAIN_FREE * (high - low)
    return Point(x, low + free), Point(x, high - free)
