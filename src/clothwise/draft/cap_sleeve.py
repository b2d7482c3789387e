"""A cap sleeve: a double piece folded at its hem, caught between the upper armhole and its facing.

Drawn with the fold on y = 0, front on the left, y up, cm. Both curved edges are as long as the part of the
armhole they are sewn to. Source: house rule, 2026-11.
"""

from __future__ import annotations

import math

from clothwise.curve import RIGHT, Curve, Point, corner, heading, line, solve
from clothwise.draft.bust_dart import ARMHOLE_AT
from clothwise.draft.darts import Part, Ring, place_of
from clothwise.draft.possible import possible, within
from clothwise.draft.top_body import names_of
from clothwise.errors import ChoiceError
from clothwise.garment import Edge, Garment, Mark, Piece, Run
from clothwise.garment.notches import notched
from clothwise.tolerance import SOLVE

PIECE = "cap_sleeve"
LOW = "armhole_low"
HEIGHT_OF_LENGTH = 0.19  # of the armhole it is sewn to: how far it stands out over the shoulder
LEAST_HEIGHT, MOST_HEIGHT = 0.10, 0.30  # of that length
LEAVES_DEG = 50.0  # degrees between fold and edge at its ends
HANDLES = (0.55, 0.62)
SEAM = 1.0  # cm allowance, as the armhole's
GRAIN_FREE = 0.15
CROWN_MARK = 1.0  # cm


def piece(front: float, back: float, longer: float) -> Piece:
    """For those lengths of armhole in front and back; `longer` makes it stand out more. [cm]"""
    usual, least, most = (share * (front + back) for share in (HEIGHT_OF_LENGTH, LEAST_HEIGHT, MOST_HEIGHT))
    height = usual + longer
    if not within(height, least, most):
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
        marks=(Mark("fold", "fold line", ends), _crown(height), _crown(-height)),
    )


PLIES = (
    (Run(PIECE, "front_cap", backwards=True), Run(PIECE, "back_cap", backwards=True)),
    (Run(PIECE, "front_under"), Run(PIECE, "back_under")),
)


def _crown(height: float) -> Mark:
    """Where it meets the shoulder seam, on either layer."""
    name = "shoulder_point" if height > 0 else "shoulder_point_inside"
    return Mark(name, "note", line(Point(0.0, height), Point(0.0, height - math.copysign(CROWN_MARK, height))))


def _half(length: float, height: float) -> Curve:
    """From the end (0, 0) up to the crown, level there; its width is solved for the length."""

    def drawn(width: float) -> Curve:
        return corner(Point(0.0, 0.0), heading(LEAVES_DEG), Point(width, height), RIGHT, *HANDLES)

    def found(width: float) -> float:
        return drawn(width).length(tolerance=SOLVE)

    return drawn(solve(found, length, 0.6 * length, length, tolerance=SOLVE))


def _over(curve: Curve) -> Curve:
    return curve.mirrored(Point(0.0, 0.0), RIGHT)


# ---- the armhole it is sewn to -------------------------------------------------------------------------


def parted(ring: Ring) -> Ring:
    """The armhole in two where the cap sleeve ends, unless a dart has parted it there already."""
    if len(names_of(ring, "armhole")) > 1:
        return ring
    i = place_of(ring, "armhole")
    low, high = ring[i].curve.split(ARMHOLE_AT * ring[i].curve.length())
    return (*ring[:i], Part(LOW, low), Part("armhole_high", high), *ring[i + 1 :])


def end_mark(ring: Ring) -> tuple[Mark, ...]:
    """A short line where the cap sleeve ends in that armhole; a dart there shows it itself."""
    low = place_of(ring, LOW)
    if ring[low + 1].mouth:
        return ()
    end = ring[low].curve.end
    return (Mark("cap_sleeve_end", "note", line(end, end.go(ring[low].curve.end_tangent.left(), CROWN_MARK))),)


def with_notches(garment: Garment) -> Garment:
    """Front single and back double on armhole, cap sleeve and facing, half way from its end to the shoulder."""
    front, back = (garment.length((run,)) for run in garment.seam("armhole").b)
    garment = notched(garment, "armhole", front / 2, "front", plies=True)
    return notched(garment, "armhole", front + back / 2, "back", 2, 2, plies=True)
