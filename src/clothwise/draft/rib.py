"""Bands: a straight strip of rib or knit folded in half, shorter than the edge it finishes, stretched on to it.

Drawn as a strip with its fold line in the middle and the stretch along its length. All edges are seams: both
long edges are sewn to the garment together, the ends to each other.

The finished inner edge of a band round a neck lies its width b inside the seam; it is 2 pi b shorter, and lies
flat if the band is shortened by most of that: length / edge = 1 - .62 2 pi b / edge. How far a band may be
shortened at all is set by its stretch and its recovery: a cloth that stays long after it was pulled needs a
shorter band. Lengths in cm, stretch as a share of one.
Source: drafting method 5.2; rules of the trade D (rib 67-75 % of the edge, cloth of 25 % 90-95 %, below 20 %
nearly the full length and no wider than 2; shorter where recovery is slack).
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

from clothwise.curve import Point, line
from clothwise.draft.pattern import Choice
from clothwise.garment import Edge, FreeEdge, Mark, Piece, Run, Seam
from clothwise.garment.piece import Layer

FLAT = 0.62  # of what the inner edge of a band is shorter than its seam: it then neither stands nor pulls
SHORTEST = 0.72  # of the edge: shorter, the edge puckers (rib: rule 67-75 %)
LONGEST = 0.95  # of the edge: longer, it never lies flat on a hollow edge
STIFF = 0.20  # stretch below which a band on a hollow edge is hardly shortened, and lies flat only when narrow
STIFF_LEAST = 0.95  # of the edge: the shortest band of so stiff a cloth (rule: 95-100 %)
OF_STRETCH = 0.45  # of the stretch may be used up for good by a shorter band
SLACK = 0.04  # of the edge shorter where the cloth does not return fully (trade knowledge)
SEAM = 1.0  # cm allowance: overlocked or zigzagged
FULL, SLACK_CLOTH = "full", "slack"

RECOVERY_CHOICE = Choice(
    "recovery",
    "Whether the band's cloth, let go, returns to its length: full, or slack when it stays a little long.",
    options=(FULL, SLACK_CLOTH),
    default=FULL,
    changes="length of the bands",
)


def rib_choice(usual: float = 70.0) -> Choice:
    """How far the rib of the bands gives, in per cent."""
    return Choice(
        "rib_stretch",
        "How far the rib of the bands gives, pulled out along a ruler.",
        unit="%",
        low=30.0,
        high=150.0,
        default=usual,
        changes="length of the bands",
    )


def least_share(stretch: float) -> float:
    """The shortest that a band of that stretch may be, over the edge it is sewn to."""
    return max(1 / (1 + OF_STRETCH * stretch), SHORTEST)


def hollow_share(edge: float, width: float, stretch: float, recovery: str = FULL) -> float:
    """Length of a band over the hollow edge it runs round inside: a neck, an armhole."""
    slack = SLACK if recovery == SLACK_CLOTH else 0.0
    flat = 1 - FLAT * 2 * math.pi * width / edge - slack
    if stretch < STIFF:
        return max(flat, STIFF_LEAST)
    return min(max(flat, least_share(stretch)), LONGEST)


def straight_share(edge: float, girth: float, stretch: float) -> float:
    """Length of a band over a straight edge it draws in to a girth: a cuff, a hem band.

    As long as the girth where the cloth can be drawn in so far, never longer than the edge.
    """
    return min(max(girth / edge, least_share(stretch)), 1.0)


# ---- pieces ----------------------------------------------------------------------------------------


def band(name: str, title: str, length: float, width: float, layer: Layer = "shell", copies: int = 1) -> Piece:
    """The strip, its outer edge below: `width` when folded along its middle. [cm]

    Cut single however often: the strip is its own mirror image. It stretches along its length, so the grain
    runs across it.
    """
    far, middle = 2 * width, length / 2
    return Piece(
        name,
        title,
        edges=(
            Edge("outer", line(Point(0.0, 0.0), Point(length, 0.0)), "seam", SEAM),
            Edge("end", line(Point(length, 0.0), Point(length, far)), "seam", SEAM),
            Edge("inner", line(Point(length, far), Point(0.0, far)), "seam", SEAM),
            Edge("start", line(Point(0.0, far), Point(0.0, 0.0)), "seam", SEAM),
        ),
        grain=(Point(middle, 0.0), Point(middle, far)),
        cutting="single",
        copies=copies,
        layer=layer,
        marks=(Mark("fold", "fold line", line(Point(0.0, width), Point(length, width))),),
    )


def mitred_band(
    name: str, title: str, length: float, width: float, point_deg: float, layer: Layer = "shell"
) -> Piece:
    """A strip whose ends are cut to the half angle of a V and sewn to each other in its point. [cm]

    Folded, each end runs from the outer edge to the fold at `point_deg`, the angle of the V to its centre line.
    """
    cut = width / math.tan(math.radians(point_deg))
    corners = (
        Point(0.0, 0.0),
        Point(length, 0.0),
        Point(length - cut, width),
        Point(length, 2 * width),
        Point(0.0, 2 * width),
        Point(cut, width),
    )
    names = ("outer", "end_outer", "end_inner", "inner", "start_inner", "start_outer")
    sides = zip(names, corners, (*corners[1:], corners[0]), strict=True)
    return Piece(
        name,
        title,
        edges=tuple(Edge(edge, line(a, b), "seam", SEAM) for edge, a, b in sides),
        grain=(Point(length / 2, 0.0), Point(length / 2, 2 * width)),
        cutting="single",
        copies=1,
        layer=layer,
        marks=(Mark("fold", "fold line", line(corners[5], corners[2])),),
    )


def binding(
    name: str, title: str, length: float, width: float, layer: Layer = "shell", copies: int = 1
) -> Piece:
    """A strip to be sewn to an edge, turned over it and sewn down: four widths with its allowances. [cm]"""
    strip = band(name, title, length, width, layer, copies)
    long = {"outer", "inner"}
    edges = tuple(replace(e, allowance=width) if e.name in long else e for e in strip.edges)
    return replace(strip, edges=edges)


def with_matches(strip: Piece, matches: Iterable[tuple[str, float]]) -> Piece:
    """Lines across the half of the strip that meets the garment, pinned to seams and centres there.

    matches  a name and the place along the strip [cm] of each
    """
    half = strip.mark("fold").curve.start.y
    lines = (Mark(name, "note", line(Point(at, 0.0), Point(at, half))) for name, at in matches)
    return replace(strip, marks=(*strip.marks, *lines))


# ---- seams -----------------------------------------------------------------------------------------


def closing(piece: str, title: str, times: int = 1) -> Seam:
    """The strip's ends sewn to each other, before it is folded."""
    start, end = Run(piece, "start", backwards=True), Run(piece, "end")
    return Seam(f"{piece}_ends", title, (start,), (end,), times=times)


def mitre(piece: str, title: str) -> Seam:
    """The ends of a mitred band sewn to each other, before it is folded."""
    start = (Run(piece, "start_outer", backwards=True), Run(piece, "start_inner", backwards=True))
    return Seam(f"{piece}_ends", title, start, (Run(piece, "end_outer"), Run(piece, "end_inner")))


def sewn_on(piece: str, name: str, title: str, edge: tuple[Run, ...], share: float, times: int = 1) -> Seam:
    """The folded band sewn to an edge, both its long edges together; share: its length over the edge's."""
    return Seam(
        name,
        title,
        (Run(piece, "outer"),),
        edge,
        kind="stretched" if share < 1 else "plain",
        ratio=share,
        times=times,
        pressed="to b",
        more=((Run(piece, "inner", backwards=True),),),
    )


def bound(piece: str, name: str, title: str, edge: tuple[Run, ...], share: float, times: int = 1) -> Seam:
    """A binding sewn to an edge, to be turned over it."""
    return Seam(name, title, (Run(piece, "outer"),), edge, kind="applied", ratio=share, times=times)


def sewn_down(piece: str, title: str, width: float, times: int = 1) -> FreeEdge:
    """The inner edge of a binding, folded in and sewn down where its seam runs. [cm]"""
    return FreeEdge(
        f"{piece}_inside", title, (Run(piece, "inner"),), "band", turn=width, fold_in=width, times=times
    )
