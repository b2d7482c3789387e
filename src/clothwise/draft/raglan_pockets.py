"""Patch pockets on the front of a raglan pullover: where a hand drops to, clear of side, centre and hem.

The waist is y = 0, y up, cm. Source: house rule, 2026-11 (pockets of the four-panel skirt).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from clothwise.body import Body
from clothwise.curve import Point
from clothwise.draft import pocket, raglan_pieces
from clothwise.draft.pattern import Choice, Wish
from clothwise.draft.raglan_frame import Frame
from clothwise.draft.raglan_neck import NAME
from clothwise.errors import ChoiceError
from clothwise.garment import Mark

NONE, PATCH = "none", "patch"
BELOW_WAIST = 6.0  # cm from the waist to the pocket's top, of an adult's hip of 100,
ABOVE_HEM = 4.0  # cm between the pocket and the top of the hem's turn: in a top it is moved up for that,
HIGHEST = 6.0  # cm over the waist at most
LEAST_OF_HIP = 0.115  # of the hip: a narrower pocket holds no hand
ROOM = 3.0  # cm between pocket and centre or side, at least
FROM_SIDE = 0.55  # of what the front leaves beside it lies towards the centre

CHOICE = Choice(
    "pockets",
    "Patch pockets on the front.",
    options=(NONE, PATCH),
    default=NONE,
    changes="a pocket piece, its place on the front",
)


@dataclass(frozen=True, slots=True)
class Pockets:
    """The pocket, and its upper left corner on the front."""

    pocket: pocket.Pocket
    corner: Point

    @property
    def place(self) -> Mark:
        return pocket.place(self.pocket, self.corner)


def pockets(body: Body, wish: Wish, frame: Frame, cut: raglan_pieces.Cut) -> Pockets | None:
    """None where none are wished. ChoiceError where they find no room above the hem."""
    if wish["pockets"] == NONE:
        return None
    if cut.peplum:
        raise ChoiceError(
            "A gathered peplum carries no patch pockets.",
            where=f"pattern '{NAME}', choice 'pockets'",
            mend="Choose no pockets, or a top or dress.",
        )
    scale = body["hip_girth"] / 100
    across = frame.side_at(frame.front, 0.0).x
    lowest = cut.bottom_turn + ABOVE_HEM + raglan_pieces.lift(frame, cut.bottom) - cut.bottom
    high = (HIGHEST * min(scale, 1.0) - lowest) / pocket.HEIGHT_OF_WIDTH
    least = LEAST_OF_HIP * body["hip_girth"]
    lack = (least - high) * pocket.HEIGHT_OF_WIDTH
    if lack > 0:
        raise ChoiceError(
            "A pocket for a whole hand does not fit above the hem of so short a top.",
            where=f"pattern '{NAME}', choice 'pockets'",
            mend=f"Choose no pockets, or make it {math.ceil(lack)} cm longer.",
        )
    found = pocket.pocket_for(body["hip_girth"], min(across - 2 * ROOM, high))
    top = max(-BELOW_WAIST * scale, lowest + found.height)
    return Pockets(found, Point(FROM_SIDE * (across - found.width), top))
