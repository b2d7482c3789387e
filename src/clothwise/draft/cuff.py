"""A cuff for a woven sleeve: a strip folded in half lengthwise, its ends joined to a ring that passes the hand,
or fitted to the wrist and buttoned over a slit.

Drawn with its length along x, the fold in the middle, cm. The sleeve is gathered onto its outer edge; the
inner edge is folded in and sewn down where that seam runs. Source: house rule, 2026-11; trade knowledge:
cuff 5-6 deep, fitted 3 wider than the wrist, lapped 2.5.
"""

from __future__ import annotations

from dataclasses import replace

from clothwise.curve import Point, line
from clothwise.garment import Edge, FreeEdge, Mark, Piece, Run, Seam

PIECE = "cuff"
DEEP, CHILD_DEEP = 5.0, 3.5  # cm finished
SEAM = 1.0  # cm allowance
EASE, CHILD_EASE = 3.0, 2.5  # cm round the wrist of a cuff that buttons
LAP = 2.5  # cm that it laps over: a button and its thickness on either side
BUTTON, THICK = 1.1, 0.3  # cm across; a buttonhole is longer by the thickness
FULL = 1.25  # the sleeve's end over the cuff: soft gathers


def piece(around: float, deep: float) -> Piece:
    """The cuff, so long round the hand and so deep when folded. [cm]"""
    a, b = Point(0.0, 0.0), Point(around, 0.0)
    c, d = b.up(2 * deep), a.up(2 * deep)
    edges = (
        Edge("outer", line(a, b), "seam", SEAM),
        Edge("one_end", line(b, c), "seam", SEAM),
        Edge("inner", line(c, d), "seam", SEAM),
        Edge("other_end", line(d, a), "seam", SEAM),
    )
    fold = Mark("fold", "fold line", line(a.up(deep), b.up(deep)))
    grain = (Point(0.25 * around, 0.5 * deep), Point(0.75 * around, 0.5 * deep))
    return Piece(PIECE, "Cuff", edges, grain, "pair", 2, marks=(fold,), interfaced=True)


def buttoned(long: float, deep: float) -> Piece:
    """The cuff that buttons: so long from end to end, its ends lapping by LAP, the front of the slit over its
    back. [cm]"""
    ring = piece(long, deep)
    at, across = 0.5 * deep, BUTTON + THICK  # on the half beside the sleeve: it is the one that is seen
    hole = line(Point(LAP / 2 - across / 2, at), Point(LAP / 2 + across / 2, at))
    place = Point(long - LAP / 2, at)
    stitch = line(place.left(BUTTON / 4), place.right(BUTTON / 4))
    marks = (Mark("buttonhole", "buttonhole", hole), Mark("button", "button", stitch))
    return replace(ring, marks=(*ring.marks, *marks))


def sewn_to_slit(sleeve: str, back: str, front: str, full: float, slit: str) -> Seam:
    """The sleeve, from one side of its slit round to the other, gathered onto the outer edge."""
    return Seam(
        "cuff",
        "Cuffs",
        (Run(sleeve, back), Run(sleeve, front)),
        (Run(PIECE, "outer", backwards=True),),
        "gathered",
        ratio=full,
        times=2,
        after=(slit,),
    )


def seams(sleeve: str, edge: str, full: float) -> tuple[Seam, ...]:
    """The ends joined, the sleeve gathered onto the outer edge."""
    return (
        Seam(
            "cuff_ends",
            "Cuff ends",
            (Run(PIECE, "one_end"),),
            (Run(PIECE, "other_end", backwards=True),),
            times=2,
        ),
        Seam(
            "cuff",
            "Cuffs",
            (Run(sleeve, edge),),
            (Run(PIECE, "outer", backwards=True),),
            "gathered",
            ratio=full,
            times=2,
            after=("cuff_ends",),
        ),
    )


def sewn_down() -> FreeEdge:
    """The inner edges."""
    return FreeEdge("cuff_inside", "Inside of the cuffs", (Run(PIECE, "inner"),), "band", SEAM, SEAM, times=2)


def sewn_down_with_ends() -> FreeEdge:
    """The inner edges and both ends of a cuff that opens."""
    runs = tuple(Run(PIECE, name) for name in ("one_end", "inner", "other_end"))
    return replace(sewn_down(), runs=runs, closed=False)
