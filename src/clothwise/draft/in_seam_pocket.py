"""A pocket in the side seam: an opening left in the seam, and a bag of two halves that hangs behind the front.

The side seam of either panel is split, from the top down, into a part above, the opening, and a part below, at
the same walked lengths on both, so that they match however the two seams curve. The bag is drawn lying on the
front panel, whose side seam is on its right: its opening edge is that seam, the rest one round line. Four are
cut, two for either side: one half is sewn to the front's opening and one to the back's, then the two together.

    side_upper, pocket_opening, side_lower   the edges of the panel's side seam, from the top down
    opening, round                           the edges of the bag

Lengths in cm, y up. Source: house rule, 2026-11; the hand's width is trade knowledge.
"""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.curve import Curve, Point, Vector, corner, line
from clothwise.garment import Edge, Mark, Notch, Piece, Run, Seam

OPENING_OF_HIP = 0.15  # of the hip girth: the hand and its wrist go in without catching
SHORTEST, LONGEST = 10.0, 16.5  # cm: a small child's hand; longer gapes when she sits
DEEP_OF_OPENING = 0.80  # the bag hangs so much of the opening's length below it: things do not fall out
WIDE_OF_OPENING = 1.0  # and reaches as far towards the centre: the fingers lie flat in it
SHALLOWEST, NARROWEST = 5.0, 8.0  # cm below the opening, and across: a smaller bag holds nothing
RISES_DEG = 8.0  # degrees above square at which the round line leaves the seam: the thumb goes in upwards
INNER_FROM = 0.45  # of the opening, below its top, where the round line runs straight down
LOWEST_AT = 0.55  # of the width, from the seam: where the bag is deepest
BACK_FROM = 0.22  # of the width, from the seam, at the bottom: from there it runs up to the seam
ROUND = 0.6  # handle share at the bag's corners: full, so that no dust corner is left
NOTCH_AT = 0.4  # of the opening, below its top
MARK = 1.5  # cm: the short lines at the ends of the opening
GRAIN_FREE = 0.2  # of the bag's height left above and below the grain arrow

BAG = "pocket_bag"
UPPER, OPENING, LOWER = "side_upper", "pocket_opening", "side_lower"
NOTCH = "pocket"


@dataclass(frozen=True, slots=True)
class InSeamPocket:
    """start: from the top of the side seam down to the opening; opening: its length, both along the seam;
    depth: of the bag below the opening; width: from the seam inwards. [cm]"""

    start: float
    opening: float
    depth: float
    width: float

    @property
    def lowest(self) -> float:
        """How far the bag reaches down from the top of the side seam. [cm]"""
        return self.start + self.opening + self.depth


@dataclass(frozen=True, slots=True)
class Room:
    """What the front panel leaves: across from the side seam, down from its top to the hem's turn. [cm]"""

    across: float
    down: float


def pocket_for(hip: float, start: float, room: Room) -> InSeamPocket | None:
    """A pocket for a body of that hip girth, beginning `start` below the top of the side seam; made
    shallower or narrower where the panel leaves less, None where it leaves too little. [cm]"""
    opening = min(max(OPENING_OF_HIP * hip, SHORTEST), LONGEST)
    depth = min(DEEP_OF_OPENING * opening, room.down - start - opening)
    width = min(WIDE_OF_OPENING * opening, room.across)
    if depth < SHALLOWEST or width < NARROWEST:
        return None
    return InSeamPocket(start, opening, depth, width)


def split(pocket: InSeamPocket, side: Curve) -> tuple[Curve, Curve, Curve]:
    """A side seam running down, in three: above the opening, the opening, below it."""
    upper, rest = side.split(pocket.start)
    opening, lower = rest.split(pocket.opening)
    return upper, opening, lower


def side_edges(pocket: InSeamPocket, side: Curve, allowance: float, *, upwards: bool) -> tuple[Edge, ...]:
    """The three edges of a panel in place of its side seam, which is given running down.

    upwards  the outline runs up there (the front, its side seam on the right), else down (the back)
    """
    edges = tuple(
        Edge(
            name,
            part.reversed() if upwards else part,
            "seam",
            allowance,
            (_notch(pocket, upwards=upwards),) if name == OPENING else (),
        )
        for name, part in zip((UPPER, OPENING, LOWER), split(pocket, side), strict=True)
    )
    return edges[::-1] if upwards else edges


def opening_marks(pocket: InSeamPocket, side: Curve) -> tuple[Mark, ...]:
    """Short lines across the ends of the opening, of a side seam running down with the panel to its right."""
    return tuple(
        Mark(name, "note", line(top := side.at_length(at), top.go(side.tangent_at_length(at).right(), MARK)))
        for name, at in (("pocket_from", pocket.start), ("pocket_to", pocket.start + pocket.opening))
    )


def bag(pocket: InSeamPocket, side: Curve, allowance: float) -> Piece:
    """The bag, lying on the front panel whose side seam is given running down."""
    opening = split(pocket, side)[1]
    down = opening.start.to(opening.end).unit()
    round_line, low = _round_line(pocket, opening, down)
    middle = low.go(down.right(), pocket.width * (0.5 - LOWEST_AT))
    height = pocket.opening + pocket.depth
    return Piece(
        BAG,
        "Pocket bag",
        edges=(
            Edge("opening", opening.reversed(), "seam", allowance, (_notch(pocket, upwards=True),)),
            Edge("round", round_line, "seam", allowance),
        ),
        grain=(middle.go(down, -GRAIN_FREE * height), middle.go(down, -(1 - GRAIN_FREE) * height)),
        copies=4,
        layer="pocket",
    )


def _notch(pocket: InSeamPocket, *, upwards: bool) -> Notch:
    return Notch(NOTCH, pocket.opening * (1 - NOTCH_AT if upwards else NOTCH_AT))


def _round_line(pocket: InSeamPocket, opening: Curve, down: Vector) -> tuple[Curve, Point]:
    """From the top of the opening inwards, down and round to its lower end; and the bag's lowest point."""
    top, end, inwards = opening.start, opening.end, down.right()
    inner = top.go(inwards, pocket.width).go(down, INNER_FROM * pocket.opening)
    bottom = end.go(down, pocket.depth)
    low = bottom.go(inwards, LOWEST_AT * pocket.width)
    back = bottom.go(inwards, BACK_FROM * pocket.width)
    straight_to = end.go(inwards, pocket.width)
    round_line = corner(top, inwards.turned(-RISES_DEG), inner, down, ROUND, ROUND).then(
        line(inner, straight_to),
        corner(straight_to, down, low, inwards.back(), ROUND, ROUND),
        corner(low, inwards.back(), end, back.to(end).unit(), ROUND, ROUND),
    )
    return round_line, low


def seams(front: str, back: str) -> tuple[Seam, ...]:
    """All seams of two panels with a pocket at the side: they take the place of the side seam.

    The front is drawn with its side seam on the right, the back turned over, with it on the left.
    """
    opened = ("pocket_front", "pocket_back")
    return (
        Seam(
            "pocket_front",
            "Pocket bags to the front",
            (Run(BAG, "opening", backwards=True, side="mirrored"),),
            (Run(front, OPENING, backwards=True),),
            times=2,
            pressed="to a",
        ),
        Seam(
            "pocket_back",
            "Pocket bags to the back",
            (Run(BAG, "opening", backwards=True),),
            (Run(back, OPENING),),
            times=2,
            pressed="to a",
        ),
        Seam(
            "side_upper",
            "Side seams above the pocket",
            (Run(front, UPPER, backwards=True),),
            (Run(back, UPPER),),
            times=2,
            after=opened,
        ),
        Seam(
            "pocket_bags",
            "Pocket bags",
            (Run(BAG, "round"),),
            (Run(BAG, "round", side="mirrored"),),
            times=2,
            after=opened,
        ),
        Seam(
            "side_lower",
            "Side seams below the pocket",
            (Run(front, LOWER, backwards=True),),
            (Run(back, LOWER),),
            times=2,
            after=opened,
        ),
    )
