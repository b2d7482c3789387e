"""Narrow tubes: belts, ties, straps and belt loops, each a strip folded along its middle and sewn to itself.

Drawn lying, `width` when finished, the fold in the middle; each short end is two edges, one on either side of
the fold. A belt is sewn shut along its length and both ends and turned through a gap; a strap or loop is sewn
along its length only, its ends are caught where they are set.
Lengths in cm. Source: house rule, 2026-11. Belts and ties of children: EN 14682 (up to 14 years) limits what
hangs free and forbids what is tied at the back of small children; this house leaves it out.
"""

from __future__ import annotations

from clothwise.curve import Point, line
from clothwise.garment import Edge, Mark, Piece, Run, Seam

SEAM = 1.0  # cm allowance, turned inside
NARROW_SEAM = 0.7  # cm of a loop: a wider one would not fit inside
NARROW = 1.8  # cm: up to here the narrow allowance is taken
GRAIN_FREE = 0.2  # of the length left at both ends of the grain arrow,
LEAST_ARROW = 3.2  # cm, as far as this is left for it


def strip(
    name: str,
    title: str,
    length: float,
    width: float,
    *,
    copies: int,
    loose: bool = False,
    marks: tuple[Mark, ...] = (),
) -> Piece:
    """The strip to be folded; cut single however often, it is its own mirror image. [cm]"""
    seam = NARROW_SEAM if width <= NARROW else SEAM
    free = max(min(GRAIN_FREE * length, (length - LEAST_ARROW) / 2), 0.0)
    corners = (
        Point(0.0, 0.0),
        Point(length, 0.0),
        Point(length, width),
        Point(length, 2 * width),
        Point(0.0, 2 * width),
        Point(0.0, width),
    )
    names = ("outer", "end", "end_inside", "inner", "start_inside", "start")
    sides = zip(names, corners, (*corners[1:], corners[0]), strict=True)
    return Piece(
        name,
        title,
        edges=tuple(Edge(edge, line(p, q), "seam", seam) for edge, p, q in sides),
        grain=(Point(free, width / 2), Point(length - free, width / 2)),
        cutting="single",
        copies=copies,
        marks=(Mark("fold", "fold line", line(corners[5], corners[2])), *marks),
        loose=loose,
    )


def sewn_shut(piece: str, title: str) -> Seam:
    """A belt: along its length and across both ends, but for a gap to turn it through."""
    one = (Run(piece, "start"), Run(piece, "outer"), Run(piece, "end"))
    other = tuple(Run(piece, edge, backwards=True) for edge in ("start_inside", "inner", "end_inside"))
    return Seam(f"{piece}_seam", title, one, other)


def shut_at_end(piece: str, title: str, times: int) -> Seam:
    """A tie or strap of which the free end is sewn shut, the other is caught elsewhere."""
    one = (Run(piece, "outer"), Run(piece, "end"))
    other = (Run(piece, "inner", backwards=True), Run(piece, "end_inside", backwards=True))
    return Seam(f"{piece}_seam", title, one, other, times=times)


def sewn_along(piece: str, title: str, times: int) -> Seam:
    """A strap or loop: along its length."""
    return Seam(
        f"{piece}_seam", title, (Run(piece, "outer"),), (Run(piece, "inner", backwards=True),), times=times
    )


def set_on(piece: str, end: str, name: str, title: str, ground: Run, times: int) -> Seam:
    """An end, which lies double, turned under and sewn on its place. end: 'start' or 'end'."""
    inside = Run(piece, f"{end}_inside", backwards=True)
    return Seam(name, title, (Run(piece, end),), (ground,), kind="patch", times=times, more=((inside,),))
