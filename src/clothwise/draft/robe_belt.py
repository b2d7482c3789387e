"""A belt of the cloth and its two loops at the side seams; a child's belt is sewn fast at the centre back.

Lengths in cm. Source: house rule, 2026-11 (once round over the robe, a knot, and two ends above the knee).
Children: EN 14682 limits the free ends of tied belts (360 mm, up to 14 years); local rules come first.
"""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.body import Body
from clothwise.curve import Point, line
from clothwise.draft import tie
from clothwise.draft.pattern import Wish
from clothwise.garment import Mark, Note, Piece, Run, Seam

NONE, TIED = "none", "tied"
WIDTH, CHILD_WIDTH = 4.0, 3.0  # cm finished
KNOT, CHILD_KNOT = 20.0, 14.0  # cm taken up by a half bow
ENDS, CHILD_ENDS = 45.0, 24.0  # cm hanging at each side
OVER_ROBE = 0.35  # of the robe's room is drawn together under the belt, the rest goes round
LOOP_WIDTH = 1.2  # cm finished
LOOP_ROOM = 1.0  # cm longer than the belt is wide
FROM_SIDE = 1.2  # cm between loop and side seam, on the back
PIECE, LOOP = "belt", "belt_loop"


@dataclass(frozen=True, slots=True)
class Belt:
    """Finished length and width; what hangs free at each side once tied; fast: sewn on at the back. [cm]"""

    length: float
    width: float
    ends: float
    fast: bool

    @property
    def loop(self) -> float:
        """Length of a loop between its places. [cm]"""
        return self.width + LOOP_ROOM


def belt_for(body: Body, wish: Wish, room: float) -> Belt | None:
    """The belt for a robe with so much room. [cm]"""
    if wish.get("belt", NONE if wish["length"] == "hip" else TIED) == NONE:
        return None
    around = body["waist_girth"] + OVER_ROBE * room
    if body.child:
        return Belt(around + CHILD_KNOT + 2 * CHILD_ENDS, CHILD_WIDTH, CHILD_ENDS, fast=True)
    return Belt(around + KNOT + 2 * ENDS, WIDTH, ENDS, fast=False)


def pieces(belt: Belt | None) -> tuple[Piece, ...]:
    """The belt and its loops."""
    if belt is None:
        return ()
    middle = Point(belt.length / 2, 0.0)
    marks = (Mark("middle", "placement", line(middle, middle.up(belt.width))),) if belt.fast else ()
    made = tie.strip(PIECE, "Belt", belt.length, belt.width, copies=1, loose=not belt.fast, marks=marks)
    return made, tie.strip(LOOP, "Belt loop", belt.loop, LOOP_WIDTH, copies=2)


def places(belt: Belt | None, quarter: float) -> tuple[Mark, ...]:
    """On the half of the back: where the loop's ends are sewn on, and the belt's middle."""
    if belt is None:
        return ()
    inner, outer, half = quarter - FROM_SIDE - LOOP_WIDTH, quarter - FROM_SIDE, belt.loop / 2
    marks = (
        Mark("loop_low", "placement", line(Point(inner, -half), Point(outer, -half))),
        Mark("loop_high", "placement", line(Point(inner, half), Point(outer, half))),
    )
    if not belt.fast:
        return marks
    return (
        *marks,
        Mark("belt_middle", "placement", line(Point(0.0, -belt.width / 2), Point(0.0, belt.width / 2))),
    )


def seams(belt: Belt | None, ground: str) -> tuple[Seam, ...]:
    if belt is None:
        return ()
    made = (
        tie.sewn_shut(PIECE, "Belt"),
        tie.sewn_along(LOOP, "Belt loops", 2),
        tie.set_on(LOOP, "start", "loops_low", "Lower ends of the belt loops", Run(ground, "loop_low"), 2),
        tie.set_on(LOOP, "end", "loops_high", "Upper ends of the belt loops", Run(ground, "loop_high"), 2),
    )
    if not belt.fast:
        return made
    fast = Seam(
        "belt_fast", "Belt sewn fast at the back", (Run(PIECE, "middle"),), (Run(ground, "belt_middle"),),
        after=(f"{PIECE}_seam",),
    )  # fmt: skip
    return (*made, fast)


def notes(belt: Belt | None) -> tuple[Note, ...]:
    if belt is None or not belt.fast:
        return ()
    return (
        Note(
            "The belt is sewn fast at the centre back, so that it cannot be drawn out or get round the neck; "
            f"{belt.ends:g} cm hang at each side when it is tied. Local rules and standards (in Europe "
            "EN 14682) come first."
        ),
    )
