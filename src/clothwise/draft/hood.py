"""A hood: two halves joined over the head, or two sides with a strip between them, sewn to a neckline.

One half is drawn as it is cut for the wearer's left: the face edge on x = 0, the back of the head at +x, y up,
cm; its lowest point in front is (0, 0). The neck edge is as long as half the neckline; it dips towards the
front, leaves the face edge square and ends square to the seam over the head, so that both halves run on.

    H  from the neck seam over the side of the head to the crown     W  from the face to the back of the head
    g  half of the width of the strip between the sides: they are so much lower and less deep

Source: house rule, 2026-11: H .62 and W .44 of the head girth and 1 (a hood for 56: 35 high, 26 deep; trade
33-36 by 23-26). Not sewn yet. Children: cords at hood and neck are left out (EN 14682, up to 14 years).
"""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.curve import LEFT, RIGHT, UP, Curve, NoSolution, Point, corner, heading, line, solve, sweep
from clothwise.errors import DraftError
from clothwise.garment import Corner, Edge, FreeEdge, Joint, Mark, Notion, Piece, Run, Seam
from clothwise.garment.piece import EdgeKind
from clothwise.tolerance import SOLVE

TWO_PIECE, THREE_PIECE = "two-piece", "three-piece"
HEIGHT_OF_HEAD, HEIGHT_MORE = 0.62, 1.0  # share and cm: covers the crown with room for hair
DEPTH_OF_HEAD, DEPTH_MORE = 0.44, 1.0  # share and cm: from the brow to the back of the head
STRIP_OF_HEAD = 0.155  # width of the strip: 8.5 to 9 cm on an adult
BACK_HIGHER = 0.05  # of the neck edge's length: it rises so much from the front to the back
NECK_BACK_DEG = 8.0  # degrees: there it still falls backwards, so that the seam leans over the back of the neck
WIDEST_UP = 0.60  # of the height: where the back of the head stands out furthest
LEAST_SWELL = 0.6  # cm: so far beyond the neck edge at least
CROWN_HANDLES = (0.60, 0.58)
SEAM = 1.0  # cm
FACE_HEM = 2.5  # cm turned once round the face
CORD = 0.8  # cm: width of a cord at the face edge
CORD_ROOM = 1.2  # cm more than the cord in its casing
CORD_ENDS = 40.0  # cm hanging out in all
EYELET_UP = 3.0  # cm above the neck seam
EYELET = 1.2  # cm
GRAIN_FREE = 0.15
LOWEST_BACK, FURTHEST_BACK = 0.3, 1.05  # of the neck edge's length: where its back end is looked for
SIDE, STRIP = "hood", "hood_strip"


@dataclass(frozen=True, slots=True)
class Hood:
    """Measures of the half that is cut [cm]; strip: its whole width, 0 = none; corded: a cord at the face."""

    height: float
    depth: float
    neck: float
    strip: float
    corded: bool

    @property
    def turn(self) -> float:
        """Turned to the inside round the face. [cm]"""
        return max(FACE_HEM, CORD + CORD_ROOM) if self.corded else FACE_HEM

    @property
    def edge_kind(self) -> EdgeKind:
        return "casing" if self.corded else "hem"


def hood_for(head: float, neckline: float, kind: str, *, corded: bool = False) -> Hood:
    """The hood for a head of that girth on a neckline of that girth. [cm]"""
    strip = STRIP_OF_HEAD * head if kind == THREE_PIECE else 0.0
    return Hood(
        height=HEIGHT_OF_HEAD * head + HEIGHT_MORE - strip / 2,
        depth=DEPTH_OF_HEAD * head + DEPTH_MORE - strip / 2,
        neck=(neckline - strip) / 2,
        strip=strip,
        corded=corded,
    )


def pieces(hood: Hood) -> tuple[Piece, ...]:
    """The side, cut as a pair, and the strip. DraftError when neckline and head are out of proportion."""
    neck = _neck(hood)
    crown, top = _crown(hood, neck)
    face = line(top, neck.start)
    middle = hood.depth / 2
    side = Piece(
        SIDE,
        "Hood" if not hood.strip else "Side of the hood",
        edges=(
            Edge("neck", neck, "seam", SEAM),
            Edge("crown", crown, "seam", SEAM),
            Edge("face", face, hood.edge_kind, hood.turn),
        ),
        grain=(Point(middle, GRAIN_FREE * hood.height), Point(middle, (1 - GRAIN_FREE) * hood.height)),
        marks=(_eyelet(hood),) if hood.corded else (),
    )
    if not hood.strip:
        return (side,)
    return side, _strip(hood, crown.length())


def _neck(hood: Hood) -> Curve:
    """From the face to the back, as long as half the neckline."""

    def drawn(reach: float) -> Curve:
        end = Point(reach, BACK_HIGHER * hood.neck)
        return sweep(Point(0.0, 0.0), RIGHT, end, heading(NECK_BACK_DEG))

    try:
        reach = solve(
            lambda x: drawn(x).length(),
            hood.neck,
            LOWEST_BACK * hood.neck,
            FURTHEST_BACK * hood.neck,
            tolerance=SOLVE,
        )
    except NoSolution:
        raise DraftError(
            f"No hood fits a neckline of {2 * hood.neck:.1f} cm.",
            where="hood",
            mend="Measure the neck base and the head again.",
        ) from None
    return drawn(reach)


def _crown(hood: Hood, neck: Curve) -> tuple[Curve, Point]:
    """From the back of the neck up round the head to the top of the face edge; both ends square."""
    start, way = neck.end, neck.end_tangent.left()
    back = Point(max(hood.depth, start.x + LEAST_SWELL), WIDEST_UP * hood.height)
    top = Point(0.0, hood.height)
    lower = sweep(start, way, back, UP)
    return lower.then(corner(back, UP, top, LEFT, *CROWN_HANDLES)), top


def _strip(hood: Hood, length: float) -> Piece:
    """The strip over the head, from the neck below to the face above."""
    low, high = Point(0.0, 0.0), Point(hood.strip, length)
    right, left = Point(hood.strip, 0.0), Point(0.0, length)
    return Piece(
        STRIP,
        "Middle strip of the hood",
        edges=(
            Edge("neck", line(low, right), "seam", SEAM),
            Edge("right", line(right, high), "seam", SEAM),
            Edge("face", line(high, left), hood.edge_kind, hood.turn),
            Edge("left", line(left, low), "seam", SEAM),
        ),
        grain=(
            Point(hood.strip / 2, GRAIN_FREE * length),
            Point(hood.strip / 2, (1 - GRAIN_FREE) * length),
        ),
        cutting="single",
        copies=1,
    )


def _eyelet(hood: Hood) -> Mark:
    """In the middle of the casing, above the neck seam; the cord comes out to the right side."""
    at = Point(hood.turn / 2, EYELET_UP)
    return Mark("eyelet", "buttonhole", line(at, at.up(EYELET)))


# ---- seams ---------------------------------------------------------------------------------------


def neck_runs(hood: Hood) -> tuple[Run, ...]:
    """Once round from one face edge over the back to the other."""
    strip = (Run(STRIP, "neck"),) if hood.strip else ()
    return (Run(SIDE, "neck"), *strip, Run(SIDE, "neck", backwards=True, side="mirrored"))


def face_runs(hood: Hood) -> tuple[Run, ...]:
    """Round the face, from the neck up and down again."""
    strip = (Run(STRIP, "face", backwards=True),) if hood.strip else ()
    return (Run(SIDE, "face", backwards=True), *strip, Run(SIDE, "face", side="mirrored"))


def seams(hood: Hood, neckline: tuple[Run, ...]) -> tuple[Seam, ...]:
    """Over the head, then on to the neckline, which is walked once round from the centre front."""
    on_neck = Seam("hood_neck", "Hood to the neck", neck_runs(hood), neckline, pressed="to b")
    side, other = Run(SIDE, "crown"), Run(SIDE, "crown", side="mirrored")
    if not hood.strip:
        return Seam("crown", "Seam over the head", (side,), (other,)), on_neck
    return (
        Seam(
            "crown_left", "Left side of the hood to its strip", (Run(STRIP, "left", backwards=True),), (side,)
        ),
        Seam("crown_right", "Right side of the hood to its strip", (Run(STRIP, "right"),), (other,)),
        on_neck,
    )


def face_edge(hood: Hood) -> FreeEdge:
    """Turned once to the inside; with a cord it is its casing."""
    if hood.corded:
        return FreeEdge(
            "face", "Casing round the face", face_runs(hood), "casing", turn=hood.turn, closed=False
        )
    return FreeEdge("face", "Hem round the face", face_runs(hood), "hem", turn=hood.turn, closed=False)


def cord(face: float) -> Notion:
    """The cord for a face edge of that length. [cm]"""
    return Notion("drawstring", f"Cord {CORD:g} cm wide", "face", length=face + CORD_ENDS, width=CORD)


def joints(hood: Hood) -> tuple[Joint, ...]:
    if hood.strip:
        return ()
    return (
        Joint("neck edge under the seam over the head", (Corner(SIDE, "neck", "crown"),) * 2),
        Joint("face edge at the seam over the head", (Corner(SIDE, "crown", "face"),) * 2),
    )
