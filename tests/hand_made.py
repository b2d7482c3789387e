"""Three small garments made by hand for the tests of the check: a bag, a darted skirt, a pair of legs.

Every figure can be redone with pencil and paper; none comes from a house draft.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from clothwise.curve import DOWN, LEFT, UP, Cubic, Curve, Point, Vector, corner, heading, line, sweep
from clothwise.garment import (
    Corner,
    Dart,
    Edge,
    FreeEdge,
    Garment,
    Joint,
    Level,
    Mark,
    Notch,
    Notion,
    Passage,
    Piece,
    Run,
    Seam,
)

O = Point(0.0, 0.0)  # noqa: E741 - the origin of every drawing

# ---- a bag: two rectangles, sewn round three sides, hemmed at the top -----------------------------------

BAG_WIDTH, BAG_DEPTH = 30.0, 40.0


def bag() -> Garment:
    front = _bag_side("front", "Front", left=(Notch("A", 12.0),))
    back = _bag_side("back", "Back", right=(Notch("A", BAG_DEPTH - 12.0, 2),))
    sides = ("left", "bottom", "right")
    return Garment(
        name="bag",
        title="Bag",
        pieces=(front, back),
        seams=(
            Seam(
                "round",
                "Sides and bottom",
                tuple(Run("front", s) for s in sides),
                tuple(Run("back", s, backwards=True) for s in reversed(sides)),
            ),
        ),
        free_edges=(FreeEdge("top", "Top hem", (Run("front", "top"), Run("back", "top")), "hem", 3.0, 1.0),),
        levels=(Level("round", "Round", (("front", "top", 1), ("back", "top", 1)), 58.0, 2.0),),
    )


def _bag_side(name: str, title: str, left: tuple[Notch, ...] = (), right: tuple[Notch, ...] = ()) -> Piece:
    """Right side up: with right sides together its left edge lies on the other piece's right edge."""
    a, b = O, Point(BAG_WIDTH, 0.0)
    c, d = b.up(BAG_DEPTH), a.up(BAG_DEPTH)
    return Piece(
        name,
        title,
        (
            Edge("left", line(d, a), "seam", 1.5, left),
            Edge("bottom", line(a, b), "seam", 1.5),
            Edge("right", line(b, c), "seam", 1.5, right),
            Edge("top", line(c, d), "hem", 3.0),
        ),
        grain=(Point(15.0, 5.0), Point(15.0, 35.0)),
        cutting="single",
        copies=1,
    )


# ---- a skirt: front on the fold with a dart and a patch pocket, back in two halves ------------------------

SKIRT_LENGTH, QUARTER, HIP_DEPTH = 60.0, 25.0, 20.0
DART_WIDTH, DART_LENGTH, DART_AT = 1.0, 12.0, 12.0


def skirt() -> Garment:
    front, back = _skirt_panel("front", True), _skirt_panel("back", False)
    waist = tuple(
        Run(piece, name, side=side)
        for piece in ("front", "back")
        for side in ("as drawn", "mirrored")
        for name in ("waist_1", "waist_2")
    )
    around = front.line("waist_1").length() + front.line("waist_2").length()
    return Garment(
        name="skirt",
        title="Skirt",
        pieces=(front, back, _pocket()),
        seams=(
            Seam("side", "Side seam", (Run("front", "side"),), (Run("back", "side"),), times=2),
            Seam(
                "centre_back",
                "Centre back",
                (Run("back", "centre"),),
                (Run("back", "centre", side="mirrored"),),
            ),
            Seam(
                "pocket",
                "Patch pocket",
                (Run("pocket", "round"),),
                (Run("front", "pocket_place"),),
                "patch",
                times=2,
            ),
        ),
        free_edges=(
            FreeEdge("hem", "Hem", (Run("front", "hem"), Run("back", "hem")), "hem", 3.0, 1.0, times=2),
            FreeEdge("waist", "Waist", waist, "casing", 2.5, 0.5, after=("side",), elastic=1.5),
            FreeEdge(
                "pocket_top",
                "Pocket top",
                (Run("pocket", "top"),),
                "pocket top",
                2.5,
                0.5,
                closed=False,
                times=2,
            ),
        ),
        joints=(
            Joint("hem_at_side", (Corner("front", "hem", "side"), Corner("back", "hem", "side"))),
            Joint("waist_at_side", (Corner("front", "side", "waist_1"), Corner("back", "side", "waist_1"))),
        ),
        levels=(
            Level("hip", "Hip", (("front", "hip_line", 2), ("back", "hip_line", 2)), 96.0, 4.0),
            Level(
                "waist",
                "Waist edge",
                (
                    ("front", "waist_1", 2),
                    ("front", "waist_2", 2),
                    ("back", "waist_1", 2),
                    ("back", "waist_2", 2),
                ),
                72.0,
                4 * around - 72.0,
            ),
        ),
        passages=(
            Passage(
                "hips",
                "Over the hips",
                (
                    ("front", "waist_1", 2),
                    ("front", "waist_2", 2),
                    ("back", "waist_1", 2),
                    ("back", "waist_2", 2),
                ),
                passes=90.0,
                needs=1.5,
            ),
        ),
        notions=(Notion("elastic", "Elastic 1.5 cm wide", "waist", 67.0, 1.5),),
    )


def _skirt_panel(name: str, on_fold: bool) -> Piece:
    """Centre at x = 0, side at x = QUARTER, waist at y = 0. The waist meets both dart legs square."""
    hem_centre, hem_side = O.down(SKIRT_LENGTH), Point(QUARTER, -SKIRT_LENGTH)
    waist_side, waist_centre = Point(QUARTER, 0.0), O
    lean = math.degrees(math.atan2(DART_WIDTH / 2, DART_LENGTH))
    side_leg, centre_leg = Point(DART_AT + DART_WIDTH / 2, -0.5), Point(DART_AT - DART_WIDTH / 2, -0.5)
    tip = Point(DART_AT, -0.5 - DART_LENGTH)
    edges = (
        Edge("centre", line(waist_centre, hem_centre), *(("fold", 0.0) if on_fold else ("seam", 1.5))),
        Edge("hem", line(hem_centre, hem_side), "hem", 3.0),
        Edge(
            "side",
            line(hem_side, waist_side),
            "seam",
            1.5,
            (Notch("H", SKIRT_LENGTH - HIP_DEPTH, 1 + (not on_fold)),),
        ),
        Edge("waist_1", sweep(waist_side, LEFT, side_leg, heading(180.0 - lean)), "casing", 2.5),
        Edge("mouth", line(side_leg, centre_leg), "seam", 1.0),
        Edge("waist_2", sweep(centre_leg, heading(180.0 + lean), waist_centre, LEFT), "casing", 2.5),
    )
    marks = [Mark("hip_line", "level", line(O.down(HIP_DEPTH), Point(QUARTER, -HIP_DEPTH)))]
    if on_fold:
        marks.append(Mark("pocket_place", "placement", _pocket_round().moved(Vector(5.0, -40.0))))
    return Piece(
        name,
        name.capitalize(),
        edges,
        grain=(Point(6.0, -50.0), Point(6.0, -25.0)),
        cutting="on fold" if on_fold else "pair",
        copies=1 if on_fold else 2,
        darts=(Dart("waist_dart", tip, side_leg, centre_leg, "mouth"),),
        marks=tuple(marks),
    )


def _pocket_round() -> Curve:
    """Down the left side, round the corners of the bottom, up the right side."""
    return line(Point(0, 14), Point(0, 4)).then(
        corner(Point(0, 4), DOWN, Point(4, 0), Vector(1, 0)),
        line(Point(4, 0), Point(8, 0)),
        corner(Point(8, 0), Vector(1, 0), Point(12, 4), UP),
        line(Point(12, 4), Point(12, 14)),
    )


def _pocket() -> Piece:
    edges = (
        Edge("round", _pocket_round(), "seam", 1.0),
        Edge("top", line(Point(12, 14), Point(0, 14)), "hem", 2.5),
    )
    return Piece("pocket", "Patch pocket", edges, (Point(6, 3), Point(6, 12)), "pair", 2)


# ---- a pair of legs: front and back of one shape, casing at the waist ----------------------------------------

LEG_QUARTER, RISE, FORK, LEG_LENGTH = 26.0, 28.0, 7.0, 75.0


def legs() -> Garment:
    front, back = _leg("front_leg", "Front leg", 1), turned_over(_leg("back_leg", "Back leg", 2))
    crotch = 2 * front.line("crotch").length()
    hem = tuple(Run(name, "hem") for name in ("front_leg", "back_leg"))
    waist = tuple((name, "waist", 2) for name in ("front_leg", "back_leg"))
    around = (
        Run("front_leg", "waist"),
        Run("front_leg", "waist", backwards=True, side="mirrored"),
        Run("back_leg", "waist", backwards=True, side="mirrored"),
        Run("back_leg", "waist"),
    )
    halves = (Run("front_leg", "crotch"), Run("back_leg", "crotch"))
    return Garment(
        name="legs",
        title="Legs",
        pieces=(front, back),
        seams=(
            Seam(
                "inseam", "Inseam", (Run("front_leg", "inseam"),), (Run("back_leg", "inseam", True),), times=2
            ),
            Seam("side", "Side seam", (Run("front_leg", "side"),), (Run("back_leg", "side", True),), times=2),
            Seam(
                "crotch",
                "Crotch seam",
                halves,
                tuple(replace(r, side="mirrored") for r in halves),
                after=("inseam",),
            ),
        ),
        free_edges=(
            FreeEdge("hem", "Hem", hem, "hem", 3.0, 1.0, times=2),
            FreeEdge("waist", "Waist casing", around, "casing", 4.0, 0.4, elastic=3.0),
        ),
        joints=(
            Joint(
                "crotch_at_inseam",
                (Corner("front_leg", "crotch", "inseam"), Corner("back_leg", "inseam", "crotch")),
            ),
            Joint("hem_at_side", (Corner("front_leg", "hem", "side"), Corner("back_leg", "side", "hem"))),
        ),
        levels=(
            Level("hip", "Hip", (("front_leg", "hip_line", 2), ("back_leg", "hip_line", 2)), 98.0, 6.0),
            Level(
                "crotch", "Crotch length", (("front_leg", "crotch", 1), ("back_leg", "crotch", 1)), crotch, 0.0
            ),
        ),
        passages=(Passage("hips", "Over the hips", waist, 98.0, 1.5),),
        notions=(Notion("elastic", "Elastic 3 cm wide", "waist", 75.0, 3.0),),
    )


def tapered_legs() -> Garment:
    """The same, 4 cm narrower at the hem on either side; the hem is hollow so as to meet both sides square."""
    garment = legs()
    pieces = (
        _leg("front_leg", "Front leg", 1, 4.0),
        turned_over(_leg("back_leg", "Back leg", 2, 4.0)),
    )
    return replace(
        garment,
        pieces=tuple(replace(p, marks=()) for p in pieces),
        levels=tuple(level for level in garment.levels if level.name != "hip"),
    )


def _leg(name: str, title: str, count: int, taper: float = 0.0) -> Piece:
    """Centre line at x = 0, side at x = LEG_QUARTER, waist at y = 0, the crotch point at (-FORK, -RISE)."""
    crotch_point, waist_side, hem = Point(-FORK, -RISE), Point(LEG_QUARTER, 0.0), -RISE - LEG_LENGTH
    inner, outer = Point(-FORK + taper, hem), Point(LEG_QUARTER - taper, hem)
    lean = taper  # degrees: a centimetre of taper leans the lower leg by about one
    straight = O.down(RISE - 10.0)
    crotch = line(O, straight).then(corner(straight, DOWN, crotch_point, LEFT, 0.6, 0.6))
    return Piece(
        name,
        title,
        (
            Edge("crotch", crotch, "seam", 1.5),
            Edge(
                "inseam",
                sweep(crotch_point, DOWN, inner, heading(lean - 90.0)),
                "seam",
                1.5,
                (Notch("K", 35.0, count),),
            ),
            Edge("hem", sweep(inner, heading(lean), outer, heading(-lean)), "hem", 3.0),
            Edge(
                "side",
                sweep(outer, heading(90.0 - lean), waist_side, UP),
                "seam",
                1.5,
                (Notch("K", 40.0, count), Notch("H", 85.0, count)),
            ),
            Edge("waist", line(waist_side, O), "casing", 4.0),
        ),
        grain=(Point(10.0, -80.0), Point(10.0, -40.0)),
        marks=(Mark("hip_line", "level", line(O.down(18.0), Point(LEG_QUARTER, -18.0))),),
    )


def turned_over(piece: Piece) -> Piece:
    """Its mirror image: drawn as the front is, a back is the wearer's other half until it is turned over."""

    def over(curve: Curve) -> Curve:
        return curve.mirrored(O, UP)

    def edge(e: Edge) -> Edge:
        length = e.curve.length()
        marks = tuple(replace(n, at=length - n.at) for n in reversed(e.notches))
        return replace(e, curve=over(e.curve).reversed(), notches=marks)

    return replace(
        piece,
        edges=tuple(edge(e) for e in reversed(piece.edges)),
        marks=tuple(replace(m, curve=over(m.curve)) for m in piece.marks),
        grain=(piece.grain[0].mirrored(O, UP), piece.grain[1].mirrored(O, UP)),
    )


# ---- breaking them on purpose --------------------------------------------------------------------------


def with_piece(garment: Garment, name: str, change: Callable[[Piece], Piece]) -> Garment:
    return replace(garment, pieces=tuple(change(p) if p.name == name else p for p in garment.pieces))


def with_edge(garment: Garment, piece: str, edge: str, change: Callable[[Edge], Edge]) -> Garment:
    return with_piece(
        garment,
        piece,
        lambda p: replace(p, edges=tuple(change(e) if e.name == edge else e for e in p.edges)),
    )


def bent(curve: Curve, *moves: tuple[int, int, float, float]) -> Curve:
    """The curve with control points moved: (stroke, which of its four points, right, up). Ends follow on."""
    points = [[c.start, c.first, c.second, c.end] for c in (stroke.cubic() for stroke in curve.strokes)]
    for stroke, which, right, up in moves:
        points[stroke][which] = points[stroke][which].right(right).up(up)
        if which == 3 and stroke + 1 < len(points):
            points[stroke + 1][0] = points[stroke][3]
    return Curve(tuple(Cubic(*p) for p in points))
