"""A faced slit in the back of a sleeve, above a cuff that buttons: the simple home way.

A patch of the same cloth is stitched round the line of the slit, right sides together, cut open between the
stitching and turned in. The slit lies where the little finger is, so that the lap of the cuff points backwards.
Drawn on the sleeve, its back on the right, y up, cm.
Source: house rule, 2026-11 (a slit as long as two thirds of the hand, in the middle of the sleeve's back half);
rules of the trade G (0.3 inside a slit).
"""

from __future__ import annotations

from dataclasses import replace

from clothwise.body import Body
from clothwise.curve import DOWN, RIGHT, UP, Curve, Point, corner, line
from clothwise.draft.back_opening import ALLOWANCE, SLIT_HALF
from clothwise.draft.top_body import level_x
from clothwise.garment import Edge, Note, Piece, Run, Seam

PIECE, SLIT = "slit_facing", "slit"
WRIST_FRONT, WRIST_BACK = "wrist_front", "wrist_back"
OF_ARM, SHORTEST, LONGEST = 0.14, 4.5, 9.0  # of the arm's length; cm: a shorter slit lets no hand through
AT = 0.25  # of the wrist edge, from the back seam
BESIDE, ABOVE = 3.0, 2.5  # cm of facing beside and above the slit
GRAIN_FREE = 0.1  # of the facing's height left above and below the grain arrow
NOTE = Note(
    "Do not cut the slits of the sleeves open before their facings are stitched on. The lower edges of the "
    "facings are gathered and caught in the cuffs together with the sleeve."
)


def depth(body: Body) -> float:
    """How far the slit goes up from the cuff. [cm]"""
    return min(max(OF_ARM * body["arm_length"], SHORTEST), LONGEST)


def slit_in(sleeve: Piece, deep: float) -> tuple[Piece, Piece]:
    """The sleeve with its wrist edge parted by the slit, and the facing. [cm]"""
    wrist = sleeve.edge("wrist")
    middle = wrist.curve.at_length((1 - AT) * wrist.curve.length())
    front, rest = wrist.curve.split(level_x(wrist.curve, middle.x - SLIT_HALF))
    _, back = rest.split(level_x(rest, middle.x + SLIT_HALF))
    slit = _slit(front.end, middle.up(deep), back.start)
    allowance = wrist.allowance
    parted = (
        Edge(WRIST_FRONT, front, "seam", allowance),
        Edge(SLIT, slit, "seam", ALLOWANCE),
        Edge(WRIST_BACK, back, "seam", allowance),
    )
    edges = tuple(part for edge in sleeve for part in (parted if edge.name == "wrist" else (edge,)))
    return replace(sleeve, edges=edges), _facing(front, slit, back, middle.y + deep, allowance)


def _slit(start: Point, top: Point, end: Point) -> Curve:
    """Up one side, round its end and down the other."""
    left, right = Point(start.x, top.y - SLIT_HALF), Point(end.x, top.y - SLIT_HALF)
    return line(start, left).then(
        corner(left, UP, top, RIGHT), corner(top, RIGHT, right, DOWN), line(right, end)
    )


def _facing(front: Curve, slit: Curve, back: Curve, top: float, allowance: float) -> Piece:
    """The patch, its lower edges in one line with the wrist; they go into the cuff's seam."""
    low_front = front.part(level_x(front, front.end.x - BESIDE), front.length())
    low_back = back.part(0.0, level_x(back, back.start.x + BESIDE))
    high = top + ABOVE
    corners = (low_back.end, Point(low_back.end.x, high), Point(low_front.start.x, high), low_front.start)
    x, height = (front.end.x + low_front.start.x) / 2, high - low_front.start.y
    low = low_front.start.y + GRAIN_FREE * height
    return Piece(
        PIECE,
        "Slit facing",
        edges=(
            Edge("low_front", low_front, "raw", allowance),
            Edge(SLIT, slit, "seam", ALLOWANCE),
            Edge("low_back", low_back, "raw", allowance),
            *(
                Edge(name, line(a, b), "raw", 0.0)
                for name, a, b in zip(("back_side", "top", "front_side"), corners, corners[1:], strict=False)
            ),
        ),
        grain=(Point(x, low), Point(x, low + (1 - 2 * GRAIN_FREE) * height)),
    )


def seam(sleeve: str) -> Seam:
    """Facing and sleeve stitched round the slit, then cut open between."""
    return Seam(SLIT, "Slits in the sleeves", (Run(PIECE, SLIT),), (Run(sleeve, SLIT),), "applied", times=2)
