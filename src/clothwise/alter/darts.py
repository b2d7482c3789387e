"""Darts of a drawn piece: moved to another edge, parted in two, or let out, so that what they took up is eased
or gathered into the seam. Lengths in cm.
"""

from __future__ import annotations

from dataclasses import replace

from clothwise.alter.pivot import pivoted
from clothwise.alter.settle import settled
from clothwise.errors import GarmentError
from clothwise.garment import Dart, FreeEdge, Garment, Note, Piece, Run, Seam

LET_OUT_UNSEEN = 3.8  # cm: a dart no wider may be left unsewn; a wider one is missed there (trade)
EASED_MOST = 0.06  # of the seam: more fullness than this shows as gathers (trade: a sleeve head takes 4-6 %)


def dart_moved(garment: Garment, piece_name: str, dart_name: str, to: str, share: float = 0.5) -> Garment:
    """The dart shut where it was and opened at that share of an edge of its piece, pointing where it pointed.

    GarmentError: no such dart, that edge takes no dart there, or the way to it is barred.
    """
    return pivoted(garment, piece_name, _dart(garment.piece(piece_name), dart_name), to, share, 1.0)


def dart_parted(garment: Garment, piece_name: str, dart_name: str, to: str, share: float = 0.5) -> Garment:
    """Half of the dart left where it was, half of it opened at that share of an edge of its piece.

    GarmentError: as dart_moved, or either half would be too narrow to sew.
    """
    return pivoted(garment, piece_name, _dart(garment.piece(piece_name), dart_name), to, share, 0.5)


def dart_let_out(garment: Garment, piece_name: str, dart_name: str) -> Garment:
    """The dart not sewn: what it took up is eased or gathered into the seam its mouth lies in.

    GarmentError: no such dart, or its mouth lies in no seam (at a hem it would be flare).
    """
    piece = garment.piece(piece_name)
    dart = _dart(piece, dart_name)
    before, after = _beside(piece, dart)
    if piece.edge(dart.edge).kind == "casing":
        return _into_casing(garment, piece, dart, (before, after))
    seams = [
        s for s in garment.seams if any(r.piece == piece_name and r.line in (before, after) for r in s.runs)
    ]
    if len(seams) != 1:
        raise GarmentError(
            f"The mouth of the {dart_name.replace('_', ' ')} lies in no single seam.",
            where=f"piece '{piece_name}'",
            mend="Move the dart to a seam first.",
        )
    seam = _with_mouth(seams[0], piece_name, dart.edge, before, after)
    whole, other = garment.length(seam.a), garment.length(seam.b)
    width = piece.edge(dart.edge).curve.length()
    kind = "eased" if width <= EASED_MOST * other else "gathered"
    if kind == "eased":
        new = replace(seam, kind="eased", ease=whole - seam.ratio * other)
    else:
        new = replace(seam, kind="gathered", ratio=whole / other, ease=0.0)
    changed = replace(piece, darts=tuple(d for d in piece.darts if d.name != dart_name))
    told = replace(garment, seams=tuple(new if s.name == new.name else s for s in garment.seams))
    said = f"{piece.title}: the {dart_name.replace('_', ' ')} is let out, {width:.1f} cm {kind} into the seam."
    done = settled(told, [changed], Note(said, measure=dart_name, by=width), fullness=new.name)
    if width <= LET_OUT_UNSEEN:
        return done
    wide = (
        f"A dart wider than {LET_OUT_UNSEEN:g} cm shows when it is let out, as fullness at that seam: "
        "where that is not wanted, move or part it instead."
    )
    return replace(done, notes=(*done.notes, Note(wide, measure=dart_name, by=width - LET_OUT_UNSEEN)))


def _into_casing(garment: Garment, piece: Piece, dart: Dart, beside: tuple[str, str]) -> Garment:
    """The dart not sewn where the edge is turned over elastic or cord, which takes the fullness up."""

    def told(free: FreeEdge) -> FreeEdge:
        return replace(free, runs=_with_run(free.runs, piece.name, dart.edge, beside))

    freed = replace(garment, free_edges=tuple(told(free) for free in garment.free_edges))
    changed = replace(piece, darts=tuple(d for d in piece.darts if d.name != dart.name))
    width = piece.edge(dart.edge).curve.length()
    said = (
        f"{piece.title}: the {dart.name.replace('_', ' ')} is let out, {width:.1f} cm more lie in the casing."
    )
    return settled(freed, [changed], Note(said, measure=dart.name, by=width))


def _dart(piece: Piece, name: str) -> Dart:
    found = next((d for d in piece.darts if d.name == name), None)
    if found is None or not found.edge:
        names = [d.name for d in piece.darts if d.edge]
        raise GarmentError(
            f"'{piece.title}' has no dart '{name}' that opens at an edge.",
            where=f"piece '{piece.name}'",
            mend=f"Its darts are {', '.join(names) or 'none'}.",
        )
    return found


def _beside(piece: Piece, dart: Dart) -> tuple[str, str]:
    names = [edge.name for edge in piece]
    here = names.index(dart.edge)
    return names[here - 1], names[(here + 1) % len(names)]


def _with_mouth(seam: Seam, piece: str, mouth: str, before: str, after: str) -> Seam:
    """The seam with the mouth among its runs, the fuller side as side a."""

    a, b = (_with_run(runs, piece, mouth, (before, after)) for runs in (seam.a, seam.b))
    return replace(seam, a=a, b=b) if len(a) > len(seam.a) else replace(seam, a=b, b=a)


def _with_run(runs: tuple[Run, ...], piece: str, mouth: str, beside: tuple[str, str]) -> tuple[Run, ...]:
    """The runs with the mouth put in wherever the edges on both its sides follow each other."""
    told: list[Run] = []
    for run in runs:
        last = told[-1] if told else None
        if last and last.piece == run.piece == piece and {last.line, run.line} == set(beside):
            told.append(replace(run, line=mouth))
        told.append(run)
    return tuple(told)
