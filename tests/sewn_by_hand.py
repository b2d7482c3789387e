"""Two small garments drawn by hand for the tests of the order of work: trousers and a skirt of straight lines.

Drawn from the waist down, y up, cm; the numbers are those of nobody in particular.
"""

from __future__ import annotations

from dataclasses import replace

from clothwise.body import Body, Measure, estimate
from clothwise.curve import LEFT, UP, Point, Vector, corner, line
from clothwise.garment import Edge, FreeEdge, Garment, Mark, Notch, Notion, Piece, Run, Seam


def _leg(name: str, title: str, width: float, fork: float, count: int) -> Piece:
    """Waist at y = 0, side at x = 0, centre at x = width; the inseam runs down from the fork."""
    rise, length = 28.0, 100.0
    tip = Point(width + fork, -rise)
    crotch = corner(tip, LEFT, Point(width, -10.0), UP).then(line(Point(width, -10.0), Point(width, 0.0)))
    hem = line(Point(2, -length), Point(width - 2, -length))
    inseam = line(hem.end, tip)
    notch = (Notch("K", 40.0, count),)
    return Piece(
        name,
        title,
        (
            Edge("hem", hem, "hem", 4.0),
            Edge("inseam", inseam, "seam", 1.5, notch),
            Edge("crotch", crotch, "seam", 1.5, (Notch("C" if count == 1 else "D", 12.0, count),)),
            Edge("waist", line(Point(width, 0), Point(0, 0)), "casing", 4.6),
            Edge("side", line(Point(0, 0), hem.start), "seam", 1.5, (Notch("S", 30.0, count),)),
        ),
        (Point(width / 2, -80), Point(width / 2, -20)),
    )


def turned_over(piece: Piece) -> Piece:
    """The piece mirrored, its edges travelled anticlockwise again: starts become ends, order is reversed."""

    def over(p: Point) -> Point:
        return Point(-p.x, p.y)

    edges = tuple(
        replace(
            e,
            curve=e.curve.mapped(over).reversed(),
            notches=tuple(replace(n, at=e.curve.length() - n.at) for n in e.notches),
        )
        for e in reversed(piece.edges)
    )
    return replace(piece, edges=edges, grain=(over(piece.grain[0]), over(piece.grain[1])))


def trousers(elastic: float = 3.0) -> Garment:
    """Two front legs, two back legs, a casing, hems."""
    front = _leg("front_leg", "Front leg", 26.0, 5.0, 1)
    back = _leg("back_leg", "Back leg", 27.0, 11.0, 2)
    back = turned_over(_same_inseam(front, back))
    crotch_a = (Run("front_leg", "crotch", True), Run("back_leg", "crotch", True))
    crotch_b = tuple(replace(run, side="mirrored") for run in crotch_a)
    waist = (
        Run("front_leg", "waist"), Run("back_leg", "waist"),
        Run("back_leg", "waist", True, "mirrored"), Run("front_leg", "waist", True, "mirrored"),
    )  # fmt: skip
    return Garment(
        "pull_on_trousers",
        "Pull-on trousers",
        (front, back),
        (
            Seam("crotch_seam", "Crotch seam", crotch_a, crotch_b, pressed="to b"),
            Seam(
                "inseam", "Inseams", (Run("front_leg", "inseam"),), (Run("back_leg", "inseam", True),), times=2
            ),
            Seam(
                "side_seam",
                "Side seams",
                (Run("front_leg", "side"),),
                (Run("back_leg", "side", True),),
                times=2,
            ),
        ),
        (
            FreeEdge(
                "hem", "Hems", (Run("front_leg", "hem"), Run("back_leg", "hem")), "hem", 4.0, 1.0, times=2
            ),
            FreeEdge("waist", "Waist casing", waist, "casing", 4.6, 1.0, elastic=elastic),
        ),
        notions=(Notion("elastic", "Elastic 3 cm wide", "waist", length=70.0, width=elastic),),
    )


def _same_inseam(front: Piece, back: Piece) -> Piece:
    """The back's fork lowered a little so that both inseams are one length; straight, so solved by a step."""
    want = front.edge("inseam").curve.length()
    edge = back.edge("inseam")
    way = edge.curve.start.to(edge.curve.end).unit()
    tip = edge.curve.start.go(way, want)
    old = back.edge("crotch").curve
    crotch = corner(tip, LEFT, Point(27.0, -10.0), UP).then(line(Point(27.0, -10.0), old.end))
    edges = tuple(
        replace(e, curve=line(edge.curve.start, tip))
        if e.name == "inseam"
        else (replace(e, curve=crotch) if e.name == "crotch" else e)
        for e in back
    )
    return replace(back, edges=edges)


def _panel(name: str, title: str, flare: float, pocketed: bool) -> Piece:
    top, length = 27.0, 70.0
    side = line(Point(top, 0), Point(top, 0).go(Vector(flare, -length).unit(), length))
    hem_out = side.end
    mark: tuple[Mark, ...] = ()
    if pocketed:
        box = [Point(8, -10), Point(8, -28), Point(24, -28), Point(24, -10)]
        sides = line(box[0], box[1]).then(line(box[1], box[2]), line(box[2], box[3]))
        mark = (Mark("pocket_place", "placement", sides),)
    return Piece(
        name,
        title,
        (
            Edge("waist", line(Point(top, 0), Point(0, 0)), "casing", 4.6),
            Edge("centre", line(Point(0, 0), Point(0, -length)), "seam", 1.5, (Notch("M", 30.0),)),
            Edge("hem", line(Point(0, -length), hem_out), "hem", 4.0),
            Edge("side", side.reversed(), "seam", 1.5, (Notch("S", 30.0),)),
        ),
        (Point(10, -60), Point(10, -10)),
        marks=mark,
    )


def _pocket() -> Piece:
    a, b, c, d = Point(0, 0), Point(0, -18), Point(16, -18), Point(16, 0)
    return Piece(
        "patch_pocket",
        "Patch pocket",
        (
            Edge("side_one", line(a, b), "seam", 1.0),
            Edge("base", line(b, c), "seam", 1.0),
            Edge("side_two", line(c, d), "seam", 1.0),
            Edge("top", line(d, a), "hem", 3.0),
        ),
        (Point(8, -15), Point(8, -3)),
        cutting="single",
    )


def skirt(flare: float = 0.0, pockets: bool = True) -> Garment:
    """Four panels, two patch pockets, a casing, one hem all round."""
    front = _panel("front_panel", "Front panel", flare, pockets)
    back = turned_over(_panel("back_panel", "Back panel", flare, False))
    pieces: tuple[Piece, ...] = (front, back)
    seams = [
        Seam(
            "side_seam",
            "Side seams",
            (Run("front_panel", "side"),),
            (Run("back_panel", "side", True),),
            times=2,
        ),
        *(
            Seam(
                f"centre_{where}",
                f"Centre {where} seam",
                (Run(p, "centre"),),
                (Run(p, "centre", False, "mirrored"),),
            )
            for where, p in (("front", "front_panel"), ("back", "back_panel"))
        ),
    ]
    free = [
        FreeEdge("hem", "Hem", _round("hem"), "hem", 4.0, 1.0),
        FreeEdge("waist", "Waist casing", _round("waist"), "casing", 4.6, 1.0, elastic=3.0),
    ]
    if pockets:
        pieces += (_pocket(),)
        patch = tuple(Run("patch_pocket", e) for e in ("side_one", "base", "side_two"))
        place = (Run("front_panel", "pocket_place"),)
        seams.append(Seam("pocket", "Patch pockets", patch, place, "patch", times=2))
        free.append(
            FreeEdge(
                "pocket_top", "Pocket tops", (Run("patch_pocket", "top"),), "pocket top", 3.0, 1.0, False, 2
            )
        )
    return Garment(
        "panel_skirt", "Panel skirt", pieces, tuple(seams), tuple(free),
        notions=(Notion("elastic", "Elastic 3 cm wide", "waist", length=70.0, width=3.0),),
    )  # fmt: skip


def _round(edge: str) -> tuple[Run, ...]:
    """Front, back, the other back, the other front: once round."""
    out = edge == "waist"
    return (
        Run("front_panel", edge, out), Run("back_panel", edge, out),
        Run("back_panel", edge, not out, "mirrored"), Run("front_panel", edge, not out, "mirrored"),
    )  # fmt: skip


def marit() -> Body:
    """An adult of middling size, of the evenings at the Tide Mill."""
    cm = {
        "height": 168.0, "bust_girth": 94.0, "waist_girth": 78.0, "hip_girth": 104.0, "waist_to_hip": 21.0,
        "body_rise": 28.0, "crotch_length_total": 72.0, "thigh_girth": 61.0, "knee_girth": 38.0,
        "calf_girth": 37.0, "foot_heel_girth": 33.0, "waist_to_knee": 60.0, "waist_to_ankle": 98.0,
        "inside_leg": 76.0, "waist_to_floor": 105.0,
    }  # fmt: skip
    return estimate(Body("Marit", "woman", {name: Measure(value) for name, value in cm.items()}))
