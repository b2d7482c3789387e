"""The two pieces of trousers, cut to length from the drawn legs, and how they join.

A half is drawn with its centre line on the left; the back is turned over when it becomes a piece, so that
both pieces are the wearer's left half with the right side up. Lengths in cm.
Source: house rule, 2026-11.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from clothwise.curve import UP, Curve, Point
from clothwise.draft import hem, in_seam_pocket, level, waist
from clothwise.draft.front_dart import AT_CENTRE, AT_SIDE, DartedWaist
from clothwise.draft.in_seam_pocket import InSeamPocket
from clothwise.draft.leg import Leg
from clothwise.draft.seat import Frame, Seat, Sides
from clothwise.errors import ChoiceError
from clothwise.garment import Corner, Edge, FreeEdge, Joint, Mark, Piece, Run, Seam
from clothwise.tolerance import SOLVE

THIGH_BELOW_CROTCH = 1.5  # cm: where the thigh is measured
ABOVE_HEM = 0.05  # cm, a pencil line: no level line nearer to the hem
SEAM = 1.5  # cm allowance: room to fit
CROTCH_SEAM = 1.0  # cm: the hollow lies flat with no more, on small children too
KNEE_FREE = 3.0  # cm: a hem must end this much below the knee for the knee to be marked
GRAIN_FREE = 0.15  # of the inside leg: the arrow ends so far above the hem
SHORTEST_GRAIN = 5.0  # cm: on shorts it runs up into the seat
ORIGIN = Point(0.0, 0.0)
FRONT, BACK = "front_leg", "back_leg"
SIDE, WAIST = "side_seam", "waist"


@dataclass(frozen=True, slots=True)
class Turn:
    """Width of the elastic; whole depths turned at waist and hem [cm]; the pocket in the side seam, if any.

    cuff_seam  allowance where the leg ends in a seam to a cuff and nothing is turned, 0 = there is no cuff [cm]
    """

    elastic: float
    casing: float
    hem: float
    pocket: InSeamPocket | None = None
    cuff_seam: float = 0.0

    @property
    def side_top(self) -> str:
        """The edge of the side seam that meets the waist."""
        return in_seam_pocket.UPPER if self.pocket else SIDE

    @property
    def side_foot(self) -> str:
        """The edge of the side seam that meets the hem."""
        return in_seam_pocket.LOWER if self.pocket else SIDE


@dataclass(frozen=True, slots=True)
class Half:
    """One leg in its half: seams from the top down, waist from the centre out, hem from the inseam out.

    waist   with a dart in it as it is when the dart is sewn; darted: how it is cut then
    """

    crotch: Curve
    inseam: Curve
    side: Curve
    waist: Curve
    hem: Curve
    crease: float  # x of the grain
    darted: DartedWaist | None = None


@dataclass(frozen=True, slots=True)
class CutOff:
    """What is cut off the full leg, walked up from its hem: the same on front and back. [cm]"""

    inseam: float
    side: float


def cut_off(frame: Frame, hem_level: float, seat: Seat, sides: Sides) -> CutOff:
    """The front decides: its hem lies level, the back's follows because its seams are equally long."""
    if hem_level - frame.hem < SOLVE:
        return CutOff(0.0, 0.0)
    return CutOff(
        seat.front_inseam.length() - level.distance_to(seat.front_inseam, hem_level),
        sides.front_side.length() - level.distance_to(sides.front_side, hem_level),
    )


def half(crotch: Curve, inseam: Curve, side: Curve, waist_line: Curve, cut: CutOff, leg: Leg) -> Half:
    """One leg cut to its length, with a hem square to both seams."""
    if cut.side > 0:
        inseam = inseam.part(0.0, inseam.length() - cut.inseam)
        side = side.part(0.0, side.length() - cut.side)
    return Half(crotch, inseam, side, waist_line, hem.hem_line(inseam, side), leg.crease)


def front_piece(half: Half, frame: Frame, turn: Turn) -> Piece:
    """The front leg, run round from the centre front down, along the inseam, the hem and up the side."""
    marks = _marks(half, frame)
    if turn.pocket:
        marks = (*marks, *in_seam_pocket.opening_marks(turn.pocket, half.side))
    return Piece(
        FRONT,
        "Front leg",
        edges=(
            Edge("crotch", half.crotch, "seam", CROTCH_SEAM),
            Edge("inseam", half.inseam, "seam", SEAM),
            _hem(half.hem, turn),
            *_side(half.side, turn, upwards=True),
            *_front_waist(half, turn),
        ),
        grain=_grain(half),
        darts=(half.darted.dart,) if half.darted else (),
        marks=marks,
    )


def back_piece(half: Half, frame: Frame, turn: Turn) -> Piece:
    """The back leg, turned over so that it too is the wearer's left: its side seam is on the left."""
    bottom, top = _grain(half)
    return Piece(
        BACK,
        "Back leg",
        edges=(
            *_side(over(half.side), turn, upwards=False),
            _hem(over(half.hem.reversed()), turn),
            Edge("inseam", over(half.inseam.reversed()), "seam", SEAM),
            Edge("crotch", over(half.crotch.reversed()), "seam", CROTCH_SEAM),
            Edge(WAIST, over(half.waist), "casing", turn.casing),
        ),
        grain=(bottom.mirrored(ORIGIN, UP), top.mirrored(ORIGIN, UP)),
        marks=tuple(replace(mark, curve=over(mark.curve)) for mark in _marks(half, frame)),
    )


def over(curve: Curve) -> Curve:
    """A line of the back, turned over."""
    return curve.mirrored(ORIGIN, UP)


def _hem(curve: Curve, turn: Turn) -> Edge:
    if turn.cuff_seam:
        return Edge("hem", curve, "seam", turn.cuff_seam)
    return Edge("hem", curve, "hem", turn.hem)


def _side(side: Curve, turn: Turn, *, upwards: bool) -> tuple[Edge, ...]:
    """The side seam, given running down; the outline runs up it on the front and down it on the back."""
    if turn.pocket:
        return in_seam_pocket.side_edges(turn.pocket, side, SEAM, upwards=upwards)
    return (Edge(SIDE, side.reversed() if upwards else side, "seam", SEAM),)


def _front_waist(half: Half, turn: Turn) -> tuple[Edge, ...]:
    if half.darted:
        return half.darted.edges(turn.casing)
    return (Edge(WAIST, half.waist.reversed(), "casing", turn.casing),)


def _grain(half: Half) -> tuple[Point, Point]:
    """Along the crease, over the middle of the leg."""
    top = half.inseam.start.y
    bottom = max(half.hem.start.y, half.hem.strokes[0].at(0.5).y)
    way = GRAIN_FREE * (top - bottom)
    return Point(half.crease, bottom + way), Point(half.crease, max(top + way, bottom + way + SHORTEST_GRAIN))


def _marks(half: Half, frame: Frame) -> tuple[Mark, ...]:
    """Level lines, and where the piece is made longer or shorter."""
    thigh = thigh_level(half)
    bottom = max(half.hem.start.y, half.hem.end.y)
    # a short leg's hem, square to a sloping inseam, bows up above both its ends
    between = (half.inseam.start.y + max(frame.knee, half.hem.bounds()[3])) / 2
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
    """Height of the thigh line; of a very short leg just above its hem, which bows up. ChoiceError where the
    hem would bow up to the crotch."""
    thigh = max(half.inseam.at_length(THIGH_BELOW_CROTCH).y, half.hem.bounds()[3] + ABOVE_HEM)
    if (over := thigh + ABOVE_HEM - half.inseam.start.y) > 0:
        raise ChoiceError(
            "Legs so short have a hem that bows up to the crotch.",
            where="choice 'longer'",
            mend=f"Ask for some {math.ceil(over) + 1} cm more, or for narrower legs.",
        )
    return thigh


def has_knee(frame: Frame, bottom: float) -> bool:
    return bottom < frame.knee - KNEE_FREE


# ---- how they join -------------------------------------------------------------------------------


def front_waist_edges(front: Half) -> tuple[str, ...]:
    """The edges of the front waist, from the side to the centre."""
    return (AT_SIDE, AT_CENTRE) if front.darted else (WAIST,)


def waist_round(front: Half) -> tuple[tuple[str, str, int], ...]:
    """What goes round the body at the waist."""
    return (*((FRONT, name, 2) for name in front_waist_edges(front)), (BACK, WAIST, 2))


def casing(front: Half, turn: Turn, found: waist.Elastic) -> FreeEdge:
    names = front_waist_edges(front)
    around = (
        *(Run(FRONT, name) for name in names),
        *(Run(FRONT, name, backwards=True, side="mirrored") for name in reversed(names)),
        Run(BACK, WAIST, backwards=True, side="mirrored"),
        Run(BACK, WAIST),
    )
    return waist.casing(around, turn.casing, found.width)


def leg_hems(turn: Turn) -> FreeEdge:
    return hem.hem_edge("Leg hems", ROUND_HEM, turn.hem, times=2)


def seams(turn: Turn) -> tuple[Seam, ...]:
    return (*(in_seam_pocket.seams(FRONT, BACK) if turn.pocket else (SIDE_SEAM,)), INSEAM, CROTCH)


def joints(front: Half, turn: Turn) -> tuple[Joint, ...]:
    at_side, at_centre = front_waist_edges(front)[0], front_waist_edges(front)[-1]
    top, foot = turn.side_top, turn.side_foot
    return (
        Joint("waist at the side", (Corner(FRONT, top, at_side), Corner(BACK, WAIST, top))),
        Joint("hem at the side", (Corner(FRONT, "hem", foot), Corner(BACK, foot, "hem"))),
        Joint("hem at the inseam", (Corner(FRONT, "inseam", "hem"), Corner(BACK, "hem", "inseam"))),
        Joint("crotch at the inseam", (Corner(FRONT, "crotch", "inseam"), Corner(BACK, "inseam", "crotch"))),
        Joint("waist at centre front", (Corner(FRONT, at_centre, "crotch"),) * 2),
        Joint("waist at centre back", (Corner(BACK, "crotch", WAIST),) * 2),
    )


ROUND_HEM = (Run(FRONT, "hem"), Run(BACK, "hem"))
SIDE_SEAM = Seam(
    SIDE,
    "Side seams",
    (Run(FRONT, SIDE, backwards=True),),
    (Run(BACK, SIDE),),
    times=2,
)
INSEAM = Seam("inseam", "Inseams", (Run(FRONT, "inseam"),), (Run(BACK, "inseam", backwards=True),), times=2)
CROTCH = Seam(
    "crotch",
    "Crotch seam",
    (Run(BACK, "crotch", backwards=True), Run(FRONT, "crotch", backwards=True)),
    (
        Run(BACK, "crotch", backwards=True, side="mirrored"),
        Run(FRONT, "crotch", backwards=True, side="mirrored"),
    ),
)
