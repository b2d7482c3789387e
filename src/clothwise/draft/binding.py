"""Bias strips for the edges of woven cloth: a binding turned over the raw edge, a casing that stands on it.

A binding is cut four times its finished width: its own allowances and the garment's are all one width, so the
finished edge is the garment's cut edge, one width outside the seam. A casing strip is folded over the seam with
elastic in it. Both are cut singly on the bias, so that they follow a curve. Drawn lying along, the edge that
meets the garment below, cm.
Source: rules of the trade D (single-fold binding four times its width; casing wider than its elastic by 0.6).
"""

from __future__ import annotations

import math
from dataclasses import replace

from clothwise.curve import Point, line
from clothwise.draft import rib, waist
from clothwise.garment import Edge, FreeEdge, Piece, Run, Seam

WIDTH, CHILD_WIDTH = 1.0, 0.9  # cm finished
SEAM = 1.0  # cm allowance of a casing strip and of the ends
GRAIN_FROM, GRAIN_TO = 0.74, 0.98  # of the length: the grain arrow lies at one end, the words at the other


def binding(name: str, title: str, length: float, width: float) -> Piece:
    """The strip for an edge of that length; `width` when finished. [cm]"""
    return _on_bias(rib.binding(name, title, length, width))


def drawn_in(width: float) -> float:
    """How much less the finished edge of a bound opening measures than its seam. [cm]"""
    return 2 * math.pi * width


def bound(name: str, piece: str, title: str, edge: tuple[Run, ...], gathered: float = 1.0) -> Seam:
    """The binding sewn to an edge, right sides together; `gathered`: length of the edge over the binding's."""
    if gathered == 1.0:
        return Seam(name, title, (Run(piece, "outer"),), edge, "applied")
    strip = (Run(piece, "outer", backwards=True),)
    return Seam(name, title, edge, strip, "gathered", ratio=gathered, pressed="to b")


def sewn_down(piece: str, title: str, width: float, *, closed: bool = True) -> tuple[FreeEdge, ...]:
    """The inner edge folded in and sewn down; of an open binding its ends as well, folded in before. [cm]"""
    inner = rib.sewn_down(piece, title, width)
    if closed:
        return (inner,)
    ends = tuple(
        FreeEdge(f"{piece}_{end}", "End of the binding", (Run(piece, end),), "band", SEAM, SEAM, closed=False)
        for end in ("start", "end")
    )
    return (*ends, replace(inner, closed=False))


def casing(name: str, title: str, length: float, elastic: float) -> Piece:
    """A casing strip for an edge of that length and an elastic of that width. [cm]"""
    high = elastic + waist.CASING_ROOM
    right, top = Point(length, 0.0), Point(0.0, high)
    return Piece(
        name,
        title,
        edges=(
            Edge("outer", line(Point(0.0, 0.0), right), "seam", SEAM),
            Edge("end", line(right, right.up(high)), "seam", SEAM),
            Edge("top", line(right.up(high), top), "casing", waist.casing_turn(elastic)),
            Edge("start", line(top, Point(0.0, 0.0)), "seam", SEAM),
        ),
        grain=_along(length, high / 2),
        cutting="single",
        copies=1,
        bias=True,
    )


def _on_bias(strip: Piece) -> Piece:
    """On the bias, and without the line down its middle: no fold of a binding lies there before it is sewn."""
    length = strip.edge("outer").curve.length()
    return replace(strip, bias=True, marks=(), grain=_along(length, strip.mark("fold").curve.start.y))


def _along(length: float, y: float) -> tuple[Point, Point]:
    return Point(GRAIN_FROM * length, y), Point(GRAIN_TO * length, y)
