"""Hand-made pieces for the paper tests: a trouser leg, half a skirt panel on the fold, a patch pocket.

Drawn by hand with plain numbers, so that the paper is tested without any house draft.
"""

from __future__ import annotations

from clothwise.curve import Curve, Point, Vector, corner, line, sweep
from clothwise.garment import Dart, Edge, Garment, Mark, Notch, Piece


def leg(name: str = "front_leg", *, wide: float = 30.0, long: float = 104.0, count: int = 1) -> Piece:
    """A leg with a crotch curve, casing above, hem below. Its hem's inner corner is the origin."""
    hem_in, hem_out = Point(6.0, 0.0), Point(6.0 + wide * 0.75, 0.0)
    fork, waist_in = Point(0.0, long - 28.0), Point(7.0, long)
    waist_out = Point(wide + 2.0, long)
    knee = Point(wide * 0.75 + 6.5, long * 0.45)
    outer = Curve(
        (
            *sweep(hem_out, Vector(0.0, 1.0), knee, Vector(0.05, 1.0)).strokes,
            *sweep(knee, Vector(0.05, 1.0), waist_out, Vector(0.0, 1.0)).strokes,
        )
    )
    crotch = corner(waist_in, Vector(0.0, -1.0), fork, Vector(-1.0, 0.0))
    inner = sweep(fork, Vector(0.15, -1.0), hem_in, Vector(0.0, -1.0))
    return Piece(
        name,
        name.replace("_", " ").capitalize(),
        (
            Edge("hem", line(hem_in, hem_out), "hem", 4.0),
            Edge(
                "side_seam",
                outer,
                "seam",
                1.5,
                (Notch("knee_side", 46.0, count), Notch("hip_side", 82.0, count)),
            ),
            Edge("waist", line(waist_out, waist_in), "casing", 4.5),
            Edge("crotch", crotch, "seam", 1.5, (Notch("crotch", 12.0, count),)),
            Edge("inseam", inner, "seam", 1.5, (Notch("knee_inside", 34.0, count),)),
        ),
        (Point(18.0, 8.0), Point(18.0, long - 8.0)),
        marks=(
            Mark("hip", "level", line(Point(5.2, long - 20.0), Point(wide + 1.0, long - 20.0))),
            Mark("knee", "adjust", line(Point(4.5, long * 0.45), Point(wide * 0.75 + 6.0, long * 0.45))),
        ),
    )


def panel(*, wide: float = 26.0, long: float = 60.0) -> Piece:
    """Half a skirt panel on the fold, with a dart in the waist."""
    a, b = Point(0.0, 0.0), Point(wide, 0.0)
    c, d = Point(wide - 2.0, long), Point(0.0, long - 1.0)
    waist = sweep(c, Vector(-1.0, -0.05), d, Vector(-1.0, 0.0))
    mouth = (waist.at_length(10.0), waist.at_length(12.4))
    return Piece(
        "skirt_front",
        "Skirt front",
        (
            Edge("hem", line(a, b), "hem", 3.0),
            Edge(
                "side_seam",
                sweep(b, Vector(0.0, 1.0), c, Vector(-0.1, 1.0)),
                "seam",
                1.5,
                (Notch("hip", 40.0),),
            ),
            Edge("waist", waist, "seam", 1.0),
            Edge("centre_front", line(d, a), "fold", 0.0),
        ),
        (Point(5.0, 6.0), Point(5.0, long - 8.0)),
        cutting="on fold",
        copies=1,
        darts=(Dart("waist_dart", Point(12.8, long - 12.0), *mouth, "waist"),),
        marks=(Mark("pocket", "placement", line(Point(8.0, 38.0), Point(20.0, 38.0))),),
    )


def pocket(*, wide: float = 14.0, high: float = 16.0) -> Piece:
    """A patch pocket, cut twice."""
    a, b, c, d = Point(0.0, 0.0), Point(wide, 0.0), Point(wide, high), Point(0.0, high)
    return Piece(
        "patch_pocket",
        "Patch pocket",
        (
            Edge("bottom", line(a, b), "seam", 1.0),
            Edge("right_side", line(b, c), "seam", 1.0),
            Edge("top", line(c, d), "hem", 2.5),
            Edge("left_side", line(d, a), "seam", 1.0),
        ),
        (Point(wide / 2, 3.0), Point(wide / 2, high - 3.0)),
        cutting="pair",
        copies=2,
    )


def trousers(*, wide: float = 30.0, long: float = 104.0) -> Garment:
    front = leg("front_leg", wide=wide, long=long)
    back = leg("back_leg", wide=wide * 1.18, long=long, count=2)
    return Garment("trousers", "Pull-on trousers", (front, back), (), ())


def skirt() -> Garment:
    return Garment("skirt", "Skirt", (panel(), pocket()), (), ())
