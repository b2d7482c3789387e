"""Pockets of trousers: in the side seams, or patches on the front or on the seat.

Lengths in cm, y up. Source: house rule, 2026-11; places are trade knowledge. Not sewn yet.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwise.curve import Point
from clothwise.draft import in_seam_pocket, level, pocket
from clothwise.draft.in_seam_pocket import InSeamPocket
from clothwise.draft.leg_pieces import BACK, FRONT, Half
from clothwise.draft.pattern import Choice
from clothwise.errors import ChoiceError
from clothwise.garment import Mark

NONE, IN_SEAM, PATCH_FRONT, PATCH_SEAT = "none", "in-seam", "patch in front", "patch on the seat"

BELOW_CASING = 1.5  # cm: an opening in the side seam begins so far below the casing's seam
BAG_FROM_CENTRE = 2.0  # cm between the bag and the centre front: it does not bunch in the crotch seam
BAG_ABOVE_HEM = 1.0  # cm between the bag and the hem's turn
PATCH_BELOW, SEAT_PATCH_BELOW = (
    0.05,
    0.03,
)  # of the hip girth, below the casing's seam: the top of a patch pocket
PATCH_FROM_SIDE = 3.0  # cm between a front pocket and the side seam, where there is room
PATCH_FREE = 2.0  # cm at least between a patch pocket and the seams beside it
PATCH_ABOVE_HEM = 3.0  # cm between a patch pocket and the hem's turn
SEAT_WIDTH = 0.85  # of the usual width: two lie side by side on the seat
SEAT_TO_SIDE = 0.55  # of the room beside a pocket on the seat lies between it and the centre back


def choice(default: str) -> Choice:
    return Choice(
        "pockets",
        "Pockets in the side seams, or patches.",
        options=(NONE, IN_SEAM, PATCH_FRONT, PATCH_SEAT),
        default=default,
        changes="side seams and a pocket bag, or a pocket piece and its place",
    )


@dataclass(frozen=True, slots=True)
class Patch:
    """A patch pocket, the piece it is sewn on, its upper left corner there, and by how much it is turned about
    the middle of its top, so that this runs along with the waist above it [degrees]."""

    pocket: pocket.Pocket
    ground: str
    at: Point
    tilt_deg: float = 0.0

    @property
    def place(self) -> Mark:
        level = pocket.place(self.pocket, self.at)
        return replace(level, curve=level.curve.rotated(self.at.right(self.pocket.width / 2), self.tilt_deg))


def in_seam(hip: float, front: Half, casing: float, hem: float, pattern: str) -> InSeamPocket:
    """The pocket in the side seam. ChoiceError when the leg is too short for it. [cm]"""
    top = casing + BELOW_CASING
    across = _narrowest(front, front.side.at_length(top).y) - BAG_FROM_CENTRE
    room = in_seam_pocket.Room(across, front.side.length() - hem - BAG_ABOVE_HEM)
    found = in_seam_pocket.pocket_for(hip, top, room)
    if found is None:
        raise ChoiceError(
            "A pocket in the side seam does not fit into so short or narrow a leg.",
            where=f"pattern '{pattern}', choice 'pockets'",
            mend="Choose no pockets, longer legs or a higher waist.",
        )
    return found


def _narrowest(front: Half, y: float) -> float:
    """Across the front from the centre line to the side, at that height."""
    return level.crossing(front.side, y).x - max(front.crotch.start.x, level.crossing(front.crotch, y).x)


def patch(where: str, hip: float, half: Half, casing: float, hem: float, pattern: str) -> Patch:
    """A patch pocket on the front or on the seat. ChoiceError when it does not fit. [cm]"""
    seat = where == PATCH_SEAT
    top = min(half.waist.start.y, half.waist.end.y) - casing - (SEAT_PATCH_BELOW if seat else PATCH_BELOW) * hip
    left, right = level.crossing(half.crotch, top).x, level.crossing(half.side, top).x
    made = pocket.pocket_for(hip, right - left - 2 * PATCH_FREE)
    if seat:
        made = pocket.pocket_for(hip, SEAT_WIDTH * made.width)
    lowest = max(half.hem.start.y, half.hem.end.y) + hem + PATCH_ABOVE_HEM
    if top - made.height < lowest:
        raise ChoiceError(
            f"A pocket {made.height:.0f} cm deep does not fit above the hem of so short a leg.",
            where=f"pattern '{pattern}', choice 'pockets'",
            mend=f"Choose no pockets, or make the legs {lowest - top + made.height:.0f} cm longer.",
        )
    room = right - left - made.width
    if seat:
        # The back is turned over: what lies at its side seam lies on the left of the piece.
        climb = half.waist.end.to(half.waist.start).angle_deg
        corner = Point(-(left + SEAT_TO_SIDE * room + made.width), top)
        return Patch(made, BACK, corner, 180 - climb)
    from_side = min(PATCH_FROM_SIDE, room / 2)
    return Patch(made, FRONT, Point(right - from_side - made.width, top))
