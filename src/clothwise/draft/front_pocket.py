"""A pocket across the front, for both hands: one piece on the fold, open at both slanting sides.

Drawn as a half, the centre on x = 0, its lower edge on y = 0, y up, cm. Source: house rule, 2026-11 (a hand is
.10 of the hip broad and goes in half its length); hems by the rules of the trade. Not sewn yet.
"""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.curve import Curve, Point, Vector, line
from clothwise.garment import Edge, FreeEdge, Mark, Piece, Run, Seam

LOW_OF_HIP, TOP_OF_HIP = 0.15, 0.10  # half widths below and above: both hands meet inside
HEIGHT_OF_HIP, LEAST_OF_HIP = 0.19, 0.13  # height: usual, and the least in which hands are warm
UPRIGHT = 0.22  # of the height: below the opening the side is sewn on
HEM = 2.0  # cm turned at the openings
SEAM = 1.0  # cm folded under elsewhere
ROOM = 2.0  # cm at least between the pocket and the side seam
PIECE = "front_pocket"
LOW, HIGH = "pocket_low", "pocket_high"


@dataclass(frozen=True, slots=True)
class FrontPocket:
    """Half widths below and above, height. [cm]"""

    low: float
    top: float
    height: float

    @property
    def upright(self) -> float:
        return UPRIGHT * self.height


def pocket_for(hip: float, half_front: float, room: float) -> FrontPocket | None:
    """The pocket for a body of that hip on a front so wide from its centre, so high as there is room.

    None where the room is too little. [cm]
    """
    if room < LEAST_OF_HIP * hip:
        return None
    low = min(LOW_OF_HIP * hip, half_front - ROOM)
    return FrontPocket(low, low * TOP_OF_HIP / LOW_OF_HIP, min(HEIGHT_OF_HIP * hip, room))


def piece(pocket: FrontPocket) -> Piece:
    low, side, opening, top = _lines(pocket)
    fold = line(top.end, low.start)
    x = pocket.top / 2
    return Piece(
        PIECE,
        "Front pocket",
        edges=(
            Edge("low", low, "seam", SEAM),
            Edge("side", side, "seam", SEAM),
            Edge("opening", opening, "hem", HEM),
            Edge("top", top, "seam", SEAM),
            Edge("fold", fold, "fold", 0.0),
        ),
        grain=(Point(x, 0.15 * pocket.height), Point(x, 0.85 * pocket.height)),
        cutting="on fold",
        copies=1,
    )


def places(pocket: FrontPocket, centre: Point) -> tuple[Mark, Mark]:
    """Where it is sewn on, on the half of the front: below and up the side, and along the top."""
    low, side, _, top = (curve.moved(Vector(centre.x, centre.y)) for curve in _lines(pocket))
    return Mark(LOW, "placement", low.then(side)), Mark(HIGH, "placement", top)


def seams(ground: str) -> tuple[Seam, Seam]:
    """First the top, laid upside down above its line; then it is turned down over that seam and sewn on."""
    top = Seam(
        "pocket_top",
        "Upper edge of the front pocket",
        (Run(PIECE, "top"), Run(PIECE, "top", backwards=True, side="mirrored")),
        (Run(ground, HIGH), Run(ground, HIGH, backwards=True, side="mirrored")),
        pressed="down",
    )
    low = Seam(
        "pocket_low",
        "Lower edge and sides of the front pocket",
        (Run(PIECE, "low"), Run(PIECE, "side")),
        (Run(ground, LOW),),
        kind="patch",
        times=2,
        after=(top.name, "pocket_openings"),
    )
    return top, low


def openings() -> FreeEdge:
    return FreeEdge(
        "pocket_openings",
        "Openings of the front pocket",
        (Run(PIECE, "opening"),),
        "pocket top",
        turn=HEM,
        closed=False,
        times=2,
    )


def _lines(pocket: FrontPocket) -> tuple[Curve, Curve, Curve, Curve]:
    """Lower edge from the centre, side up, slanting opening, upper edge back to the centre."""
    corner, end = Point(pocket.low, 0.0), Point(pocket.low, pocket.upright)
    high = Point(pocket.top, pocket.height)
    return (
        line(Point(0.0, 0.0), corner),
        line(corner, end),
        line(end, high),
        line(high, Point(0.0, pocket.height)),
    )
