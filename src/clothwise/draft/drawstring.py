"""A drawstring in the casing at the waist: it lies over the elastic and comes out at two eyelets in front.

The cord is as long as the waist at its widest, so that it is not drawn in when the garment is pulled over the
hips, and hangs out at both ends. Lengths in cm.
Source: rules of the trade D (casing for a drawstring 0.6 wider); trade knowledge for eyelets and ends.
Children: EN 14682 limits cords on clothing up to 14 years; this house offers them none.
"""

from __future__ import annotations

from clothwise.body import Body
from clothwise.curve import Curve, line
from clothwise.draft.pattern import Choice, Wish
from clothwise.errors import ChoiceError
from clothwise.garment import Mark, Note, Notion

WIDTH = 1.0  # cm: flat cord or tape
CASING_ROOM = 0.6  # cm: so much more than for the elastic alone (rule: 2 pages)
ENDS = 40.0  # cm hanging out in all when the waist is at its widest: two ends to tie
EYELET_FROM_CENTRE = 2.0  # cm: clear of the seam and its allowance
EYELET_LONGER = 0.3  # cm: longer than the cord is wide

NONE, IN_FRONT = "none", "tied in front"
EYELET = "eyelet"

CHOICE = Choice(
    "drawstring",
    "A cord over the elastic, tied in front; not for children.",
    options=(NONE, IN_FRONT),
    default=NONE,
    changes="casing, two eyelets in the front",
)


def wished(body: Body, wish: Wish, pattern: str, *, flat_front: bool = False) -> bool:
    """Whether there is a drawstring. ChoiceError where it does not belong."""
    if wish[CHOICE.name] == NONE:
        return False
    where = f"pattern '{pattern}', choice '{CHOICE.name}'"
    if body.child:
        raise ChoiceError(
            "A cord at a child's waist catches in doors, slides and wheels, so it is not drafted for children.",
            where=where,
            mend="Choose none: the elastic holds by itself. Local rules on cords come first.",
        )
    if flat_front:
        raise ChoiceError(
            "A cord would gather the front that was to stay flat.",
            where=where,
            mend="Choose no drawstring, or elastic all round.",
        )
    return True


def eyelet(waist: Curve, centre: Curve, casing: float, fold_in: float) -> Mark:
    """The slot in one front, in the middle of the casing, upright; the waist runs from the centre out."""
    at, way = waist.start, centre.start_tangent.unit()
    middle = at.go(way.left(), EYELET_FROM_CENTRE).go(way, (casing - fold_in) / 2)
    half = (WIDTH + EYELET_LONGER) / 2
    return Mark(EYELET, "buttonhole", line(middle.go(way, -half), middle.go(way, half)))


def cord(edge: float) -> Notion:
    """The cord for a waist edge of that girth, ungathered. [cm]"""
    return Notion("drawstring", f"Cord or tape {WIDTH:g} cm wide", "casing", length=edge + ENDS, width=WIDTH)


def notes() -> tuple[Note, ...]:
    text = (
        "Back the two eyelets with a scrap of interfacing and work them in the front before the casing is "
        "folded down; knot the ends of the cord, so that it cannot slip in."
    )
    return (Note(text),)
