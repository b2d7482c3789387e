"""Width added to a piece: flare by swinging it open below, gathers by drawing it wider than what it is sewn to.

Lengths in cm, angles in radians.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from clothwise.alter.settle import settled
from clothwise.alter.warp import Shift, warped, warped_curve
from clothwise.curve import Curve, Point, Vector
from clothwise.errors import GarmentError
from clothwise.garment import Edge, Garment, Note, Piece, Seam
from clothwise.tolerance import FLATTEN, ON_OUTLINE

LEAST_RATIO, MOST_RATIO = 1.1, 3.0  # gathers: below it is ease, above only sheer cloth takes it (trade: 1.5-3)
WIDEST_SWING = 1.5  # radians for one piece: more is a circle skirt, which has a draft of its own
LEAST_FOOT = 0.5  # of a hem's length must be left: narrower, and a piece hangs like a bag
FOOT_MET = 0.005  # cm: four panels then agree with what is told to a tenth of a millimetre or two
ROUNDS = 6  # the hem grows all but evenly with the swing; two or three do
LEAST_ACROSS = 0.6  # of an edge's length that it runs across, for width to be let in along it
ACROSS = Vector(1.0, 0.0)


# ---- flare -------------------------------------------------------------------------------------------


def flared(garment: Garment, pieces: Sequence[str], by: float) -> Garment:
    """The garment with a hem wider by `by` in the round, narrower where negative, shared by the pieces; the top
    keeps its length.

    Each piece is swung open from its upper edge, as if slashed from hem to top and spread, or lapped: its lines
    become spokes, its hem an arc. A piece on the fold swings about the fold, any other about its middle.
    GarmentError: the swing would be a circle's, the hem a point's; or a rule of the check is broken (a grown-on
    casing on an edge that has become too curved).
    """
    copies = sum(garment.piece(name).shapes for name in pieces)
    changed = [_swung(garment.piece(name), by / copies) for name in pieces]
    names = ", ".join(garment.piece(name).title.lower() for name in pieces)
    does = "of flare" if by > 0 else "taken out"
    said = f"{abs(by):.1f} cm {does} at the hem, in the round: {names}."
    return settled(garment, changed, Note(said, measure="flare", by=by))


def _swung(piece: Piece, by: float) -> Piece:
    _, low, _, high = piece.outline().bounds()
    foot = [edge.curve for edge in piece if _is_across(edge) and _middle(edge).y < (low + high) / 2]
    was = sum(curve.length() for curve in foot)
    if not foot or was + by < LEAST_FOOT * was:
        raise GarmentError(
            f"{abs(by):.1f} cm cannot be {'let in at' if by > 0 else 'taken out of'} the foot of "
            f"'{piece.title.lower()}'{'' if foot else ', which has no edge that runs across it'}.",
            where=f"piece '{piece.name}'",
            mend="Ask for less." if foot else "Choose what hangs from a seam.",
        )
    swing = by / (high - low)
    for _ in range(ROUNDS):
        shift = _about_a_tip(piece, swing)
        grown = sum(warped_curve(curve, shift).length() for curve in foot) - was
        if abs(grown - by) <= FOOT_MET or abs(swing) > WIDEST_SWING or grown * by <= 0:
            break
        swing *= by / grown
    if abs(swing) > WIDEST_SWING or grown * by <= 0:
        raise GarmentError(
            f"{abs(by):.1f} cm of flare on '{piece.title.lower()}' is too much.",
            where=f"piece '{piece.name}'",
            mend="Ask for less, or split it first.",
        )
    return _with_old_grain(warped(piece, shift), piece, shift)


def _about_a_tip(piece: Piece, swing: float) -> Shift:
    """Every line of a piece a spoke of a cone, the outer two so far apart [radians]; its top stays."""
    left, _, right, high = piece.outline().bounds()
    middle = piece.fold.curve.start.x if piece.fold else (left + right) / 2
    radius = (right - left) / swing  # from the tip of the cone to the upper edge; negative: the tip lies below

    def shift(p: Point) -> Vector:
        turn = (p.x - middle) / radius
        reach = radius + high - p.y
        return p.to(Point(middle + reach * math.sin(turn), high + radius - reach * math.cos(turn)))

    return shift


def _is_across(edge: Edge) -> bool:
    return abs(edge.curve.start.x - edge.curve.end.x) >= LEAST_ACROSS * edge.curve.length()


def _middle(edge: Edge) -> Point:
    return edge.curve.at_length(edge.curve.length() / 2)


def _with_old_grain(swung: Piece, piece: Piece, shift: Shift) -> Piece:
    """The arrow turned with the line it lay on; on the fold it stays along the fold."""
    if piece.fold is not None:
        return swung
    ends = tuple(end.go(shift(end)) for end in piece.grain)
    return replace(swung, grain=(ends[0], ends[1]))


# ---- gathers -----------------------------------------------------------------------------------------


def gathered(garment: Garment, seam_name: str, piece_name: str, ratio: float, *, foot: float = 1.0) -> Garment:
    """The garment with one piece gathered into a seam: its edge there `ratio` times as long as what it joins.

    foot    share of the added width that is still there at the edge opposite: 1 straight, 0 none
    Raises  GarmentError: no such seam or piece in it, a ratio out of range, or a rule of the check is broken
    """
    seam = garment.seam(seam_name)
    if not LEAST_RATIO <= ratio <= MOST_RATIO:
        raise GarmentError(
            f"Gathers of {ratio:g} to 1 cannot be sewn.",
            where=f"garment '{garment.name}', seam '{seam_name}'",
            mend=f"{LEAST_RATIO:g} to {MOST_RATIO:g} is possible: 1.5 for firm cloth, 3 for sheer.",
        )
    seam, edge_name, halves = into_seam(garment, seam_name, piece_name)
    mine = sum(garment.length((run,)) for run in seam.a if run.piece == piece_name)
    more = (ratio * garment.length(seam.b) - garment.length(seam.a)) / halves
    piece = garment.piece(piece_name)
    full = widened(piece, piece.edge(edge_name), more, foot)
    whole = garment.length(seam.a) + more * halves
    new = replace(seam, kind="gathered", ratio=whole / garment.length(seam.b), ease=0.0)
    seams = tuple(new if s.name == seam_name else s for s in garment.seams)
    added = more * halves
    said = f"{piece.title}: {added:.1f} cm more on {mine:.1f}, gathered into '{seam.title.lower()}'."
    note = Note(said, measure=seam_name, by=added)
    return settled(replace(garment, seams=seams), [full], note, fullness=seam_name)


def into_seam(garment: Garment, seam_name: str, piece_name: str) -> tuple[Seam, str, int]:
    """The seam with the piece on its side a, the piece's edge in it, and how often that edge is sewn there."""
    seam = garment.seam(seam_name)
    if any(run.piece == piece_name for run in seam.b):
        seam = replace(seam, a=seam.b, b=seam.a)
    own = [run.line for run in seam.a if run.piece == piece_name]
    if not own:
        raise GarmentError(
            f"'{piece_name}' is not in the seam '{seam.title.lower()}'.",
            where=f"garment '{garment.name}'",
            mend=f"It joins {', '.join(sorted({run.piece for run in seam.runs}))}.",
        )
    if _lies_flat(garment, garment.piece(piece_name)):
        title = garment.piece(piece_name).title
        raise GarmentError(
            f"'{title}' is a band or facing, which lies flat: nothing is laid in folds or gathered there.",
            where=f"garment '{garment.name}', seam '{seam_name}'",
            mend="Choose the piece on the other side of that seam.",
        )
    return seam, own[0], len(own)


def _lies_flat(garment: Garment, piece: Piece) -> bool:
    """Whether it is folded in half, of rib, or sewn on over an edge: a band, a cuff, a facing, a binding."""
    folded = any(mark.kind == "fold line" for mark in piece.marks)
    sewn_on = any(s.kind == "applied" and any(run.piece == piece.name for run in s.a) for s in garment.seams)
    return folded or sewn_on or piece.layer == "rib"


def widened(piece: Piece, edge: Edge, more: float, foot: float) -> Piece:
    """The piece wider by `more` along an edge that runs across it, by `foot` times that at the other end."""
    nowhere = GarmentError(
        f"'{edge.name.replace('_', ' ')}' does not run across the piece, so no width can be let in there.",
        where=f"piece '{piece.name}', edge '{edge.name}'",
        mend="Choose a seam from which the piece hangs.",
    )
    if not _is_across(edge):
        raise nowhere
    _, low, _, high = piece.outline().bounds()
    at = _middle(edge).y
    other = low if at - low > high - at else high
    left, right = _flanks(piece, edge)

    def shift(p: Point) -> Vector:
        a, b = left(p.y), right(p.y)
        if b - a < ON_OUTLINE:
            raise nowhere
        share = min(max((p.x - a) / (b - a), 0.0), 1.0)
        depth = min(max((at - p.y) / (at - other), 0.0), 1.0)
        return ACROSS.times(more * (1 - (1 - foot) * depth) * share)

    return warped(piece, shift)


def _flanks(piece: Piece, edge: Edge) -> tuple[Callable[[float], float], Callable[[float], float]]:
    """How far left and right the piece reaches at a height: its lines from either end of the edge downwards."""
    edges = list(piece.edges)
    here = edges.index(edge)
    after, before = edges[(here + 1) % len(edges)], edges[here - 1]
    flanks = [_reach(after.curve), _reach(before.curve)]
    middle = _middle(edge).y
    flanks.sort(key=lambda flank: flank(middle))
    return flanks[0], flanks[1]


def _reach(curve: Curve) -> Callable[[float], float]:
    points = np.array(curve.flattened(tolerance=FLATTEN))
    rising = points[np.argsort(points[:, 1], kind="stable")]
    return lambda y: float(np.interp(y, rising[:, 1], rising[:, 0]))
