"""A patch pocket: one piece with a turned top, and the place on the panel where its three sides are sewn.

Lengths in cm, y up. Source: house rule, 2026-11 (width .16 of the hip, corners rounded by .22 of the width,
top turned 2.5 with the raw edge folded in); rules of the trade where nothing else is said.
"""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.curve import DOWN, RIGHT, UP, Curve, Point, corner, line
from clothwise.garment import Edge, FreeEdge, Mark, Piece, Run, Seam

WIDTH_OF_HIP = 0.16  # of the hip girth: a hand goes in with room to turn
NARROWEST, WIDEST = 10.0, 19.0  # cm: a small child's hand; wider gapes
HEIGHT_OF_WIDTH = 1.15
ROUNDED = 0.22  # of the width
TOP_TURN = 3.5  # cm turned at the top, of which
TOP_FOLD_IN = 1.0  # cm are folded in first
SEAM = 1.0  # cm folded under at the other sides
GRAIN_FREE = 0.2  # of the height left above and below the grain arrow

PIECE, PLACE = "patch_pocket", "pocket_place"


@dataclass(frozen=True, slots=True)
class Pocket:
    """Finished width and height. [cm]"""

    width: float
    height: float


def pocket_for(hip: float, room: float) -> Pocket:
    """A pocket for a body of that hip girth, on a panel that leaves so much room across. [cm]"""
    width = min(max(WIDTH_OF_HIP * hip, NARROWEST), WIDEST, room)
    return Pocket(width, HEIGHT_OF_WIDTH * width)


def piece(pocket: Pocket) -> Piece:
    """The pocket, its top left corner at (0, 0)."""
    left, base, right = _sides(pocket, Point(0.0, 0.0))
    middle, top = pocket.width / 2, Point(0.0, 0.0)
    return Piece(
        PIECE,
        "Patch pocket",
        edges=(
            Edge("left_side", left, "seam", SEAM),
            Edge("base", base, "seam", SEAM),
            Edge("right_side", right, "seam", SEAM),
            Edge("top", line(right.end, top), "hem", TOP_TURN),
        ),
        grain=(
            Point(middle, -(1 - GRAIN_FREE) * pocket.height),
            Point(middle, -GRAIN_FREE * pocket.height),
        ),
    )


def place(pocket: Pocket, corner_at: Point) -> Mark:
    """Where it is sewn on: down, round and up again, beginning at the pocket's top left corner."""
    left, base, right = _sides(pocket, corner_at)
    return Mark(PLACE, "placement", left.then(base, right))


def seam(ground: str) -> Seam:
    """The three sides, sewn on the place of the ground piece."""
    sides = tuple(Run(PIECE, edge) for edge in ("left_side", "base", "right_side"))
    return Seam("pockets", "Patch pockets", sides, (Run(ground, PLACE),), kind="patch", times=2)


def top() -> FreeEdge:
    """The opening."""
    return FreeEdge(
        "pocket_tops",
        "Pocket tops",
        (Run(PIECE, "top"),),
        "pocket top",
        turn=TOP_TURN,
        fold_in=TOP_FOLD_IN,
        closed=False,
        times=2,
    )


def _sides(pocket: Pocket, at: Point) -> tuple[Curve, Curve, Curve]:
    """Left side down, base with both rounded corners, right side up."""
    round_by = ROUNDED * pocket.width
    low, far = at.down(pocket.height), at.right(pocket.width)
    left = line(at, low.up(round_by))
    base = corner(left.end, DOWN, low.right(round_by), RIGHT).then(
        line(low.right(round_by), low.right(pocket.width - round_by)),
        corner(low.right(pocket.width - round_by), RIGHT, far.down(pocket.height - round_by), UP),
    )
    right = line(base.end, far)
    return left, base, right
