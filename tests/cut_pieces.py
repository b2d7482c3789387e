"""Pieces as a cutter draws them, for tests of cutting lines: legs, flared panels, and odd corners."""

from __future__ import annotations

import math
from collections.abc import Sequence

from clothwise.curve import DOWN, LEFT, RIGHT, Curve, Point, corner, heading, line, sweep
from clothwise.garment import Edge, Notch, Piece

GRAIN = (Point(5.0, -10.0), Point(5.0, -40.0))


def leg(
    *,
    hem_width: float = 20.0,
    lean_deg: float = 4.0,  # the leg widens upwards by this on either side
    sag_deg: float = 0.0,  # the hem dips this much towards the middle
    waist_slope_deg: float = 4.5,
    hem: float = 4.0,
    casing: float = 4.6,
    seam: float = 1.5,
    crotch: float = 1.0,
    length: float = 100.0,
) -> Piece:
    """Front leg, waist at the top, side seam on the right."""
    side_hem, inner_hem = Point(14 + hem_width / 2, -length), Point(14 - hem_width / 2, -length)
    waist_front, fork = Point(4.0, -1.5), Point(-3.0, -26.0)
    waist_side = Point(26.0, -1.5 + 22 * math.tan(math.radians(waist_slope_deg)))
    bottom = (
        corner(inner_hem, heading(-sag_deg), side_hem, heading(sag_deg))
        if sag_deg
        else line(inner_hem, side_hem)
    )
    side = sweep(side_hem, heading(90 - lean_deg), waist_side, heading(95), 0.4, 0.3)
    waist = sweep(waist_side, heading(180 + waist_slope_deg), waist_front, LEFT, 0.3, 0.3)
    centre = line(waist_front, Point(4.0, -18.0)).then(
        corner(Point(4.0, -18.0), DOWN, fork, heading(192), 0.55, 0.6)
    )
    inside = sweep(fork, heading(-80), inner_hem, heading(270 + lean_deg), 0.3, 0.4)
    return Piece(
        "front_leg",
        "Front leg",
        (
            Edge("hem", bottom, "hem", hem),
            Edge("side", side, "seam", seam, (Notch("hip", 0.7 * length), Notch("knee", 0.4 * length, 2))),
            Edge("waist", waist, "casing", casing),
            Edge("crotch", centre, "seam", crotch, (Notch("crotch", 18.0),)),
            Edge("inseam", inside, "seam", seam),
        ),
        GRAIN,
    )


def panel(
    *,
    half: float = 20.0,
    flare: float = 8.0,
    length: float = 60.0,
    hem: float = 3.0,
    casing: float = 4.0,
    seam: float = 1.5,
    lifted: bool = True,
) -> Piece:
    """Half a flared skirt panel on the fold; the side end of the hem lifted as a cutter would."""
    lean = math.atan2(flare, length)
    lift = 0.45 * math.tan(lean)
    top, bottom = Point(0.0, 0.0), Point(0.0, -length)
    side_top = Point(half, half * lift)
    side_bottom = Point(half + flare, -length + ((half + flare) * lift if lifted else 0.0))
    side = line(side_bottom, side_top)
    square = side.start_tangent.right()
    hem_line = corner(bottom, RIGHT, side_bottom, square, 0.6, 0.6) if lifted else line(bottom, side_bottom)
    return Piece(
        "panel",
        "Panel",
        (
            Edge("fold", line(top, bottom), "fold", 0.0),
            Edge("hem", hem_line, "hem", hem),
            Edge("side", side, "seam", seam, (Notch("hip", 0.7 * length),)),
            Edge("waist", corner(side_top, square.back(), top, LEFT, 0.6, 0.6), "casing", casing),
        ),
        GRAIN,
        cutting="on fold",
        copies=1,
    )


def many_sided(
    corners: Sequence[Point], kinds: Sequence[str], allowances: Sequence[float], *, names: str = "abcdefgh"
) -> Piece:
    """Straight edges from corner to corner."""
    ends = [*corners[1:], corners[0]]
    edges = [
        Edge(name, line(p, q), kind, allowance)  # type: ignore[arg-type]
        for name, p, q, kind, allowance in zip(names, corners, ends, kinds, allowances, strict=False)
    ]
    return Piece("shape", "Shape", tuple(edges), GRAIN)


def all_curves(piece: Piece) -> dict[str, Curve]:
    return {edge.name: edge.curve for edge in piece.edges}
