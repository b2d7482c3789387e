"""The two pieces of trousers, cut to length from the drawn legs, and how they join.

A half is drawn with its centre line on the left; the back is turned over when it becomes a piece, so that
both pieces are the wearer's left half with the right side up. Lengths in cm.
Source: house rule, 2026-11.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwise.curve import UP, Curve, Point
from clothwise.draft import hem, level, waist
from clothwise.draft.leg import Leg
from clothwise.draft.seat import Frame, Seat, Sides
from clothwise.garment import Corner, Edge, FreeEdge, Joint, Mark, Piece, Run, Seam
from clothwise.tolerance import SOLVE

THIGH_BELOW_CROTCH = 1.5  # cm: where the thigh is measured
SEAM = 1.5  # cm allowance: room to fit
CROTCH_SEAM = 1.0  # cm: the hollow lies flat with no more, on small children too
KNEE_FREE = 3.0  # cm: a hem must end this much below the knee for the knee to be marked
GRAIN_FREE = 0.15  # of the inside leg: the arrow ends so far above the hem
ORIGIN = Point(0.0, 0.0)
FRONT, BACK = "front_leg", "back_leg"


@dataclass(frozen=True, slots=True)
class Turn:
    """Width of the elastic; whole depths turned at waist and hem. [cm]"""

    elastic: float
    casing: float
    hem: float


@dataclass(frozen=True, slots=True)
class Half:
    """One leg in its half: seams from the top down, waist from the centre out, hem from the inseam out."""

    crotch: Curve
    inseam: Curve
    side: Curve
    waist: Curve
    hem: Curve
    crease: float  # x of the grain


@dataclass(frozen=True, slots=True)
class Cut:
    """What is cut off the full leg, walked up from its hem: the same on front and back. [cm]"""

    inseam: float
    side: float


def cut_off(frame: Frame, hem_level: float, seat: Seat, sides: Sides) -> Cut:
    """The front decides: its hem lies level, the back's follows because its seams are equally long."""
    if hem_level - frame.hem < SOLVE:
        return Cut(0.0, 0.0)
    return Cut(
        seat.front_inseam.length() - level.distance_to(seat.front_inseam, hem_level),
        sides.front_side.length() - level.distance_to(sides.front_side, hem_level),
    )


def half(crotch: Curve, inseam: Curve, side: Curve, waist_line: Curve, cut: Cut, leg: Leg) -> Half:
    """One leg cut to its length, with a hem square to both seams."""
    if cut.side > 0:
        inseam = inseam.part(0.0, inseam.length() - cut.inseam)
        side = side.part(0.0, side.length() - cut.side)
    return Half(crotch, inseam, side, waist_line, hem.hem_line(inseam, side), leg.crease)


def front_piece(half: Half, frame: Frame, turn: Turn) -> Piece:
    """The front leg, run round from the centre front down, along the inseam, the hem and up the side."""
    return Piece(
        FRONT,
        "Front leg",
        edges=(
            Edge("crotch", half.crotch, "seam", CROTCH_SEAM),
            Edge("inseam", half.inseam, "seam", SEAM),
            Edge("hem", half.hem, "hem", turn.hem),
            Edge("side_seam", half.side.reversed(), "seam", SEAM),
            Edge("waist", half.waist.reversed(), "casing", turn.casing),
        ),
        grain=_grain(half),
        marks=_marks(half, frame),
    )


def back_piece(half: Half, frame: Frame, turn: Turn) -> Piece:
    """The back leg, turned over so that it too is the wearer's left: its side seam is on the left."""

    def over(curve: Curve) -> Curve:
        return curve.mirrored(ORIGIN, UP)

    bottom, top = _grain(half)
    return Piece(
        BACK,
        "Back leg",
        edges=(
            Edge("side_seam", over(half.side), "seam", SEAM),
            Edge("hem", over(half.hem.reversed()), "hem", turn.hem),
            Edge("inseam", over(half.inseam.reversed()), "seam", SEAM),
            Edge("crotch", over(half.crotch.reversed()), "seam", CROTCH_SEAM),
            Edge("waist", over(half.waist), "casing", turn.casing),
        ),
        grain=(bottom.mirrored(ORIGIN, UP), top.mirrored(ORIGIN, UP)),
        marks=tuple(replace(mark, curve=over(mark.curve)) for mark in _marks(half, frame)),
    )


def _grain(half: Half) -> tuple[Point, Point]:
    """Along the crease, over the middle of the leg."""
    top = half.inseam.start.y
    bottom = max(half.hem.start.y, half.hem.strokes[0].at(0.5).y)
    way = GRAIN_FREE * (top - bottom)
    return Point(half.crease, bottom + way), Point(half.crease, top + way)


def _marks(half: Half, frame: Frame) -> tuple[Mark, ...]:
    """Level lines, and where the piece is made longer or shorter."""
    thigh = thigh_level(half)
    bottom = max(half.hem.start.y, half.hem.end.y)
    between = (half.inseam.start.y + max(frame.knee, bottom)) / 2
    marks = [
        level.across("hip", "level", half.crotch, half.side, frame.hip_level),
        level.across("thigh", "level", half.inseam, half.side, thigh),
        level.across(
            "adjust_rise", "adjust", half.crotch, half.side, (half.waist.start.y + frame.hip_level) / 2
        ),
        level.across("adjust_leg", "adjust", half.inseam, half.side, between),
    ]
    if has_knee(frame, bottom):
        marks.append(level.across("knee", "level", half.inseam, half.side, frame.knee))
    return tuple(marks)


def thigh_level(half: Half) -> float:
    return half.inseam.at_length(THIGH_BELOW_CROTCH).y


def has_knee(frame: Frame, bottom: float) -> bool:
    return bottom < frame.knee - KNEE_FREE


def free_edges(turn: Turn, found: waist.Elastic) -> tuple[FreeEdge, ...]:
    around = (
        Run(FRONT, "waist"),
        Run(FRONT, "waist", backwards=True, side="mirrored"),
        Run(BACK, "waist", backwards=True, side="mirrored"),
        Run(BACK, "waist"),
    )
    legs = (Run(FRONT, "hem"), Run(BACK, "hem"))
    return (
        waist.casing(around, turn.casing, found.width),
        hem.hem_edge("Leg hems", legs, turn.hem, times=2),
    )


SEAMS = (
    Seam(
        "side_seam",
        "Side seams",
        (Run(FRONT, "side_seam", backwards=True),),
        (Run(BACK, "side_seam"),),
        times=2,
    ),
    Seam("inseam", "Inseams", (Run(FRONT, "inseam"),), (Run(BACK, "inseam", backwards=True),), times=2),
    Seam(
        "crotch",
        "Crotch seam",
        (Run(BACK, "crotch", backwards=True), Run(FRONT, "crotch", backwards=True)),
        (
            Run(BACK, "crotch", backwards=True, side="mirrored"),
            Run(FRONT, "crotch", backwards=True, side="mirrored"),
        ),
    ),
)

JOINTS = (
    Joint("waist at the side", (Corner(FRONT, "side_seam", "waist"), Corner(BACK, "waist", "side_seam"))),
    Joint("hem at the side", (Corner(FRONT, "hem", "side_seam"), Corner(BACK, "side_seam", "hem"))),
    Joint("hem at the inseam", (Corner(FRONT, "inseam", "hem"), Corner(BACK, "hem", "inseam"))),
    Joint("crotch at the inseam", (Corner(FRONT, "crotch", "inseam"), Corner(BACK, "inseam", "crotch"))),
    Joint("waist at centre front", (Corner(FRONT, "waist", "crotch"),) * 2),
    Joint("waist at centre back", (Corner(BACK, "crotch", "waist"),) * 2),
)
