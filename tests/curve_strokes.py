"""Cubics to try the curve kernel on: plain, S, loops, cusps, empty handles, nearly straight, there and back."""

from __future__ import annotations

from hypothesis import strategies as st

from clothwise.curve import Cubic, Curve, Point

ORIGIN = Point(0.0, 0.0)
_cm = st.floats(-60, 60).map(lambda v: round(v, 3))
_share = st.floats(-2, 3).map(lambda v: round(v, 3))
places = st.builds(Point, _cm, _cm)


def _plain(a: Point, b: Point, c: Point, d: Point) -> Cubic:
    return Cubic(a, b, c, d)


def _empty_start(a: Point, b: Point, c: Point) -> Cubic:
    return Cubic(a, a, b, c)


def _empty_end(a: Point, b: Point, c: Point) -> Cubic:
    return Cubic(a, b, c, c)


def _both_empty(a: Point, b: Point) -> Cubic:
    return Cubic(a, a, b, b)


def _there_and_back(a: Point, d: Point, s: float, t: float) -> Cubic:
    """All on one straight line, handles before and beyond the ends."""
    return Cubic(a, a.between(d, s), a.between(d, t), d)


def _nearly_straight(a: Point, d: Point, bow: float) -> Cubic:
    p, q = a.between(d, 0.3), a.between(d, 0.6)
    return Cubic(a, Point(p.x, p.y + bow), Point(q.x, q.y - bow), d)


def cusp(a: Point, d: Point, at: float, near: float, other: Point) -> Cubic:
    """A cubic whose derivative k (t - r) (t - q), all complex, vanishes at r = at (near: just beside it)."""
    k, r, q = complex(*d) + 1, complex(at, near), complex(*other) / 40
    two, one, zero = k, -k * (r + q), k * r * q
    p0 = complex(*a)
    p1 = p0 + zero / 3
    p2 = p1 + (one / 2 + zero) / 3
    p3 = p0 + two / 3 + one / 2 + zero
    return Cubic(*(Point(p.real, p.imag) for p in (p0, p1, p2, p3)))


cubics = st.one_of(
    st.builds(_plain, places, places, places, places),
    st.builds(_empty_start, places, places, places),
    st.builds(_empty_end, places, places, places),
    st.builds(_both_empty, places, places),
    st.builds(_there_and_back, places, places, _share, _share),
    st.builds(_nearly_straight, places, places, st.sampled_from([0.0, 1e-6, 1e-3, 0.1])),
    st.builds(cusp, places, places, st.floats(0.02, 0.98), st.sampled_from([0.0, 1e-6, 1e-3, 0.05]), places),
).filter(lambda c: max(c.start.distance(p) for p in (c.first, c.second, c.end)) > 0.5)

curves = cubics.map(lambda cubic: Curve((cubic,)))
