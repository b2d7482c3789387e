"""Shirt collars sewn to a round neck: a band that stands up, and a camp collar that lies down.

Drawn whole, as seen from behind the wearer: the neck edge below, the wearer's left on the left, the centre
back on x = 0, y up, cm. Both are cut twice: outside and inside. The neck edge is solved to the neck's
length. Source: house rule, 2026-11; trade knowledge: band 3 high, rising to the front so that it leans in
to the neck.
"""

from __future__ import annotations

from clothwise.body import Body
from clothwise.curve import LEFT, RIGHT, UP, Curve, Point, corner, heading, line, solve, sweep
from clothwise.draft.button_stand import STITCH, Stand
from clothwise.garment import Edge, Mark, Piece, Run, Seam
from clothwise.tolerance import SOLVE

PIECE = "collar"
SEAM = 1.0  # cm allowance, as the neck's
BAND, CAMP = "band collar", "camp collar"
BAND_HIGH, CHILD_BAND_HIGH = 3.0, 2.4  # cm
BAND_RISES_DEG = 14.0  # degrees: how steeply the band ends at the front
BAND_ROUND = 0.45  # of its height: the corner at the front is rounded by so much
CAMP_HIGH, CHILD_CAMP_HIGH = 7.0, 5.5  # cm at the centre back
CAMP_RISES_DEG = 8.0
CAMP_POINT = 1.5  # cm: the points reach out beyond the end of the neck edge
CAMP_DROP = 0.6  # cm: and lie lower than the outer edge at the centre back
CROWN_MARK = 0.8  # cm: the stroke at the shoulder
GRAIN_SHARE = 0.30  # of the half length: the arrow reaches so far to either side


def piece(kind: str, body: Body, back: float, half: float) -> Piece:
    """The collar for a neck of that half length, of which `back` lies behind the shoulder. [cm]"""
    if kind == BAND:
        return _band(CHILD_BAND_HIGH if body.child else BAND_HIGH, back, half)
    return _camp(CHILD_CAMP_HIGH if body.child else CAMP_HIGH, back, half)


def _neck(half: float, rises_deg: float) -> Curve:
    """From the centre back to the right front end: level, then rising; its reach is solved for the length."""

    def drawn(reach: float) -> Curve:
        return corner(Point(0.0, 0.0), RIGHT, _end(reach, rises_deg), heading(rises_deg))

    return drawn(solve(lambda x: drawn(x).length(tolerance=SOLVE), half, 0.8 * half, half, tolerance=SOLVE))


def _end(reach: float, rises_deg: float) -> Point:
    """Where the neck edge ends: an even arc from level to that slope."""
    return Point(reach, reach * heading(rises_deg / 2).y / heading(rises_deg / 2).x)


def _band(high: float, back: float, half: float) -> Piece:
    neck = _neck(half, BAND_RISES_DEG)
    way, out = neck.end_tangent, neck.end_tangent.left()
    round_by = BAND_ROUND * high
    tip = neck.end.go(out, high)
    turn = neck.end.go(out, high - round_by)
    after = tip.go(way, -round_by)
    front_end = line(neck.end, turn).then(corner(turn, out, after, way.back()))
    top = corner(after, way.back(), Point(0.0, high), LEFT)
    outer = front_end.then(top)
    edges = (
        Edge("neck", _over(neck).reversed().then(neck), "seam", SEAM),
        Edge("outer", outer.then(_over(outer).reversed()), "seam", SEAM),
    )
    return _piece("Band collar", edges, neck, back, half, high)


def _camp(high: float, back: float, half: float) -> Piece:
    neck = _neck(half, CAMP_RISES_DEG)
    point = Point(neck.end.x + CAMP_POINT, high - CAMP_DROP)
    top = sweep(point, point.to(Point(0.0, high)).unit(), Point(0.0, high), LEFT)
    end = line(neck.end, point)
    edges = (
        Edge("neck", _over(neck).reversed().then(neck), "seam", SEAM),
        Edge("right_end", end, "seam", SEAM),
        Edge("outer", top.then(_over(top).reversed()), "seam", SEAM),
        Edge("left_end", _over(end).reversed(), "seam", SEAM),
    )
    return _piece("Camp collar", edges, neck, back, half, high)


def _piece(title: str, edges: tuple[Edge, ...], neck: Curve, back: float, half: float, high: float) -> Piece:
    """Cut twice, with interfacing; marked at the shoulders and the centre back."""
    at, way = neck.at_length(back), neck.tangent_at_length(back).left()
    stroke = line(at, at.go(way, CROWN_MARK))
    marks = (
        Mark("right_shoulder", "note", stroke),
        Mark("left_shoulder", "note", _over(stroke)),
        Mark("centre_back", "note", line(Point(0.0, 0.0), Point(0.0, CROWN_MARK))),
    )
    reach, middle = GRAIN_SHARE * half, high / 2
    grain = (Point(-reach, middle), Point(reach, middle))
    return Piece(PIECE, title, edges, grain, "single", 2, marks=marks, interfaced=True)


def _over(curve: Curve) -> Curve:
    return curve.mirrored(Point(0.0, 0.0), UP)


def outer_seam(kind: str) -> Seam:
    """Outside and inside of the collar, right sides together, round the outer edge and both ends."""
    names = ("outer",) if kind == BAND else ("right_end", "outer", "left_end")
    one = tuple(Run(PIECE, name) for name in names)
    other = tuple(Run(PIECE, name, backwards=True) for name in reversed(names))
    return Seam("collar_outer", "Outer edge of the collar", one, other)


def band_button(body: Body, made: Piece, stand: Stand) -> tuple[Mark, ...]:
    """On a band the uppermost button, and its buttonhole along the band, both over the centre front."""
    neck = made.edge("neck").curve
    half = neck.length() / 2
    at, way = neck.at_length(2 * half - stand.half), neck.tangent_at_length(2 * half - stand.half)
    right = at.go(way.left(), (CHILD_BAND_HIGH if body.child else BAND_HIGH) / 2)
    hole = line(right.go(way, -stand.buttonhole / 2), right.go(way, stand.buttonhole / 2))
    button = line(right.go(way, -STITCH / 2), right.go(way, STITCH / 2))
    if body.figure in ("man", "boy"):  # buttonholes on the wearer's left
        hole, button = _over(hole), _over(button)
    return Mark("collar_buttonhole", "buttonhole", hole), Mark("collar_button", "button", _over(button))
