"""How a cutter draws: a straight line, a corner rounded to two directions, a freehand sweep.

Letters: P, Q ends; d0, d1 unit directions of travel at P and Q; X where the two tangent lines meet.
"""

from __future__ import annotations

from clothwise.curve.curve import Curve
from clothwise.curve.point import Point, Vector, meeting
from clothwise.curve.segment import Cubic, Line

ROUND = 0.5523  # handle share of PX that makes a quarter of an ellipse (4/3 (sqrt 2 - 1))
SWEEP = 0.36  # handle share of the chord for a freehand sweep: gentle, no wobble up to about 90 degrees


def line(p: Point, q: Point) -> Curve:
    """The straight line from p to q."""
    return Curve((Line(p, q),))


def corner(p: Point, d0: Vector, q: Point, d1: Vector, first: float = ROUND, second: float = ROUND) -> Curve:
    """One cubic inside the triangle of the two tangents: leaves p along d0, arrives at q along d1.

    `first` and `second` are the shares of the way to X taken by the handles; 0.55 is an ellipse quarter,
    0.60-0.66 fuller. Where X does not lie ahead of p and behind q there is no such triangle and the curve
    is a freehand sweep instead: it still leaves and arrives in the given directions.
    """
    x = meeting(p, d0, q, d1)
    if x is None or p.to(x).dot(d0) <= 0 or x.to(q).dot(d1) <= 0:
        return sweep(p, d0, q, d1)
    return Curve((Cubic(p, p.between(x, first), q.between(x, second), q),))


def sweep(p: Point, d0: Vector, q: Point, d1: Vector, first: float = SWEEP, second: float = SWEEP) -> Curve:
    """One cubic whose handles are shares of the chord: leaves p along d0, arrives at q along d1."""
    chord = p.distance(q)
    return Curve((Cubic(p, p.go(d0.unit(), first * chord), q.go(d1.unit(), -second * chord), q),))
