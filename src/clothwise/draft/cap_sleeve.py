"""A cap sleeve: a double piece folded at its hem, caught between the upper armhole and its facing.

Drawn with the fold on y = 0, front on the left, y up, cm. Both curved edges are as long as the part of the
armhole they are sewn to. Source: house rule, 2026-11.
"""

from __future__ import annotations

from clothwise.curve import RIGHT, Curve, Point, corner, heading, line, solve
from clothwise.draft.possible import possible
from clothwise.errors import ChoiceError
from clothwise.garment import Edge, Mark, Piece, Run
from clothwise.tolerance import SOLVE

PIECE = "cap_sleeve"
HEIGHT_OF_LENGTH = 0.19  # of the armhole it is sewn to: how far it stands out over the shoulder
LEAST_HEIGHT, MOST_HEIGHT = 0.10, 0.30  # of that length
LEAVES_DEG = 50.0  # degrees between fold and edge at its ends
HANDLES = (0.55, 0.62)
SEAM = 1.0  # cm allowance, as the armhole's
GRAIN_FREE = 0.15


def piece(front: float, back: float, longer: float) -> Piece:
    """For those lengths of armhole in front and back; `longer` makes it stand out more. [cm]"""
    usual, least, most = (share * (front + back) for share in (HEIGHT_OF_LENGTH, LEAST_HEIGHT, MOST_HEIGHT))
    height = usual + longer
    if not least <= height <= most:
        raise ChoiceError(
            f"A cap sleeve {longer:+g} cm longer or shorter than usual no longer lies over the shoulder.",
            where="choice 'sleeve_longer'",
            mend=possible(longer, least - usual, most - usual),
        )
    front_half, back_half = _half(front, height), _half(back, height)
    left = front_half.moved(front_half.end.to(Point(0.0, height)))
    right = back_half.mapped(lambda p: Point(back_half.end.x - p.x, p.y))
    front_cap, back_cap = left.reversed(), right
    ends = line(front_cap.end, back_cap.start)
    low = (_over(front_cap).reversed(), _over(back_cap).reversed())
    edges = (
        Edge("back_cap", back_cap, "seam", SEAM),
        Edge("front_cap", front_cap, "seam", SEAM),
        Edge("front_under", low[0], "seam", SEAM),
        Edge("back_under", low[1], "seam", SEAM),
    )
    reach = (1 - GRAIN_FREE) * height
    return Piece(
        PIECE,
        "Cap sleeve",
        edges,
        (Point(0.0, -reach), Point(0.0, reach)),
        marks=(Mark("fold", "fold line", ends),),
    )


PLIES = (
    (Run(PIECE, "front_cap", backwards=True), Run(PIECE, "back_cap", backwards=True)),
    (Run(PIECE, "front_under"), Run(PIECE, "back_under")),
)


def _half(length: float, height: float) -> Curve:
    """From the end (0, 0) up to the crown, level there; its width is solved for the length."""

    def drawn(width: float) -> Curve:
        return corner(Point(0.0, 0.0), heading(LEAVES_DEG), Point(width, height), RIGHT, *HANDLES)

    def found(width: float) -> float:
        return drawn(width).length(tolerance=SOLVE)

    return drawn(solve(found, length, 0.6 * length, length, tolerance=SOLVE))


def _over(curve: Curve) -> Curve:
    return curve.mirrored(Point(0.0, 0.0), RIGHT)
