"""Where a garment's pieces must meet stripes and checks, read from its seams.

House rule (2026-11), as cutters do it: bars meet where a lengthwise seam begins at its lower end, side seams
before inner and centre seams; a sleeve meets the front at the lower end of its head; a patch pocket vanishes
in what it is sewn on. Stripes run alike on left and right, and down the middle of what is cut on the fold.
Each piece is tied to the others once: at a second seam it may not be able to match too.
"""

from __future__ import annotations

from collections.abc import Iterator

from clothwise.curve import Point
from clothwise.garment import Garment, Piece, Run, Seam
from clothwise.lay.piece import MatchPoint
from clothwise.lay.turned import to_grain

MATCHED = ("plain", "eased", "patch")  # stretched and gathered seams cannot match, facings need not
# seams that are matched, by the beginning of their names, in the order in which they are looked at
LOOKED_AT = ("side", "centre", "inseam", "front_raglan", "armhole", "sleeve", "pocket")


def match_points(garment: Garment, layer: str = "shell") -> dict[str, tuple[MatchPoint, ...]]:
    """The match points of every piece that has some, in the piece's axes as laid."""
    pieces = {p.name: p for p in garment.pieces if p.layer == layer and not p.bias and not _inside(p)}
    found: dict[str, list[MatchPoint]] = {name: [] for name in pieces}
    tied = {name: name for name in pieces}  # which pieces hang together already

    def root(name: str) -> str:
        return name if tied[name] == name else root(tied[name])

    for seam in sorted((s for s in garment.seams if _rank(s) < len(LOOKED_AT)), key=_rank):
        for a, b in _meeting(seam):
            if a.piece not in pieces or b.piece not in pieces or root(a.piece) == root(b.piece):
                continue
            tied[root(b.piece)] = root(a.piece)
            patch = seam.name.startswith("pocket")
            for run in (a, b):
                at = _lower_end(run, pieces[run.piece], first=patch)
                found[run.piece].append(MatchPoint(at, seam.name, across=patch))
            break
    for name, points in found.items():
        if points and not any(m.across for m in points):
            points.append(MatchPoint(_middle(pieces[name]), name, along=False))
    return {name: tuple(points) for name, points in found.items() if points}


def _inside(piece: Piece) -> bool:
    return is_hidden(piece.name) or piece.loose


def is_hidden(name: str) -> bool:
    """A facing or a pocket bag lies inside the garment."""
    return "facing" in name or "pocket_bag" in name


def _rank(seam: Seam) -> int:
    return next((k for k, word in enumerate(LOOKED_AT) if seam.name.startswith(word)), len(LOOKED_AT))


def _meeting(seam: Seam) -> Iterator[tuple[Run, Run]]:
    """The two runs, of different pieces, that lie on each other at the beginning of the seam."""
    if seam.kind in MATCHED and seam.a and seam.b:
        for a, b in ((seam.a[0], seam.b[0]), (seam.a[-1], seam.b[-1])):
            if a.piece != b.piece:
                yield a, b


def _lower_end(run: Run, piece: Piece, *, first: bool) -> tuple[float, float]:
    """The end of the run nearer to the hem, or where it begins."""
    curve = piece.line(run.line)
    ends = to_grain(piece, (curve.end, curve.start) if run.backwards else (curve.start, curve.end))
    return ends[0] if first else min(ends, key=lambda p: p[1])


def _middle(piece: Piece) -> tuple[float, float]:
    """On the fold, or anywhere on the piece: left and right have it at the same place."""
    fold = piece.fold
    point: Point = fold.curve.start if fold is not None else piece.edges[0].curve.start
    return to_grain(piece, (point,))[0]
