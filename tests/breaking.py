"""Ways to break a garment on purpose, one small change at a time."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from clothwise.curve import Cubic, Curve
from clothwise.garment import Garment, Notch, Piece
from tests.hand_made import bent, with_edge, with_piece

Change = Callable[[Garment], Garment]
MM = 0.1


# ---- how to break them ---------------------------------------------------------------------------


def edge(piece: str, name: str, /, **changes: object) -> Change:
    return lambda g: with_edge(g, piece, name, lambda e: replace(e, **changes))  # type: ignore[arg-type]


def curve(piece: str, name: str, /, change: Callable[[Curve], Curve]) -> Change:
    return lambda g: with_edge(g, piece, name, lambda e: replace(e, curve=change(e.curve)))


def piece(name: str, /, **changes: object) -> Change:
    return lambda g: with_piece(g, name, lambda p: replace(p, **changes))  # type: ignore[arg-type]


def moved_corner(name: str, before: str, after: str, right: float, up: float) -> Change:
    """The corner where two edges meet is pulled away; both edges follow."""

    def change(g: Garment) -> Garment:
        n = len(g.piece(name).edge(before).curve.strokes)
        g = curve(name, before, lambda c: bent(c, (n - 1, 2, right, up), (n - 1, 3, right, up)))(g)
        return curve(name, after, lambda c: bent(c, (0, 0, right, up), (0, 1, right, up)))(g)

    return change


def seam(name: str, /, **changes: object) -> Change:
    return lambda g: replace(
        g,
        seams=tuple(replace(s, **changes) if s.name == name else s for s in g.seams),  # type: ignore[arg-type]
    )


def free(name: str, /, **changes: object) -> Change:
    return lambda g: replace(
        g,
        free_edges=tuple(replace(f, **changes) if f.name == name else f for f in g.free_edges),  # type: ignore[arg-type]
    )


def without(kind: str, name: str) -> Change:
    return lambda g: replace(g, **{kind: tuple(x for x in getattr(g, kind) if x.name != name)})


def added(kind: str, *things: object) -> Change:
    return lambda g: replace(g, **{kind: (*getattr(g, kind), *things)})


def level(name: str, /, **changes: object) -> Change:
    return lambda g: replace(
        g,
        levels=tuple(replace(x, **changes) if x.name == name else x for x in g.levels),  # type: ignore[arg-type]
    )


def passage(**changes: object) -> Change:
    return lambda g: replace(g, passages=tuple(replace(x, **changes) for x in g.passages))  # type: ignore[arg-type]


def notches(piece_name: str, edge_name: str, *found: Notch) -> Change:
    return edge(piece_name, edge_name, notches=found)


def mark(piece_name: str, mark_name: str, /, change: Callable[[Curve], Curve]) -> Change:
    return lambda g: with_piece(
        g,
        piece_name,
        lambda p: replace(
            p,
            marks=tuple(replace(m, curve=change(m.curve)) if m.name == mark_name else m for m in p.marks),
        ),
    )


def dart(piece_name: str, /, **changes: object) -> Change:
    return lambda g: with_piece(
        g,
        piece_name,
        lambda p: replace(p, darts=tuple(replace(d, **changes) for d in p.darts)),  # type: ignore[arg-type]
    )


def both(*changes: Change) -> Change:
    def change(g: Garment) -> Garment:
        for one in changes:
            g = one(g)
        return g

    return change


def reversed_outline(p: Piece) -> Piece:
    return replace(p, edges=tuple(replace(e, curve=e.curve.reversed()) for e in reversed(p.edges)))


def hooked(c: Curve) -> Curve:
    """The same ends, with a loop in the middle."""
    a, b = c.start, c.end
    way = a.to(b)
    return Curve((Cubic(a, a.go(way, 2.4), b.go(way, -2.4), b),))


def wobbled(c: Curve, times: int = 4, out: float = 0.15) -> Curve:
    """The same ends, waving from side to side."""
    a, b = c.start, c.end
    side = a.to(b).unit().left()
    strokes = []
    for i in range(times):
        p, q = a.between(b, i / times), a.between(b, (i + 1) / times)
        up = out if i % 2 else -out
        strokes.append(Cubic(p, p.between(q, 1 / 3).go(side, up), p.between(q, 2 / 3).go(side, up), q))
    return Curve(tuple(strokes))


def longer(c: Curve, by: float) -> Curve:
    """The same ends, longer by bowing out, to a tenth of a millimetre."""
    a, b = c.start, c.end
    side = a.to(b).unit().left()

    def bowed(out: float) -> Curve:
        return Curve((Cubic(a, a.between(b, 1 / 3).go(side, out), a.between(b, 2 / 3).go(side, out), b),))

    low, high = 0.0, a.distance(b)
    for _ in range(60):
        out = (low + high) / 2
        low, high = (out, high) if bowed(out).length() < a.distance(b) + by else (low, out)
    return bowed(low)
