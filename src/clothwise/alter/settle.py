"""After a change: notches walked again, a millimetre of difference eased in, promised girths measured anew.

Every alteration ends here, so that a changed garment keeps what holds of any garment, and says in words what
was done. Lengths in cm.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

import shapely

from clothwise.errors import GarmentError
from clothwise.garment import Edge, Garment, Level, Note, Piece, Run, Seam
from clothwise.garment.check import check
from clothwise.garment.check.notes import SHOWN_BY
from clothwise.tolerance import FLATTEN, SEAM_MATCH, SOLVE

EASED_UNSEEN = 0.4  # cm: so much is eased into any seam without a pucker (trade: up to 0.6 beside a dart)
SAME_FIGURE = 0.001  # cm: a finished measure that agrees so closely with a line is that line
GIRTH_SAID = 0.05  # cm: a girth that changes by less is not worth a word


def settled(before: Garment, pieces: Iterable[Piece], said: Note, *, fullness: str = "") -> Garment:
    """The garment with the changed pieces put in, matched again, and a note of what was done.

    said      what was done, where and by how much
    fullness  a seam whose sides are meant to differ now: its ratio is told already, its notches spread along it
    GarmentError when a seam would no longer match by more than is eased in unseen, or a rule is broken.
    """
    changed = {piece.name: piece for piece in pieces}
    garment = replace(before, pieces=tuple(changed.get(p.name, p) for p in before.pieces))
    garment = replace(
        garment, seams=tuple(s if s.name == fullness else _eased(before, garment, s) for s in garment.seams)
    )
    for seam in before.seams:
        garment = _walked_again(before, garment, seam, spread=seam.name == fullness)
    levels = tuple(_measured(before, garment, level) for level in before.levels)
    garment = replace(garment, levels=levels, finished=_still_true(before, garment))
    return kept(before, garment, said, *_girths_said(before.levels, levels))


def kept(before: Garment, after: Garment, *said: Note) -> Garment:
    """The changed garment with its notes, once the check has passed it.

    GarmentError when any rule is broken: nothing that would not sew is handed out.
    """
    garment = replace(_without_lone_notches(after), notes=(*before.notes, *said))
    for fault in check(garment):
        raise GarmentError(
            f"The change would leave a pattern that no longer holds. {fault.what}",
            where=f"garment '{before.name}', {fault.where}",
            mend="Ask for less, or change it at another line.",
        )
    return garment


# ---- seams -----------------------------------------------------------------------------------------------


def off(garment: Garment, seam: Seam) -> float:
    """How much longer side a is than side b asks for. [cm]"""
    return garment.length(seam.a) - (seam.ratio * garment.length(seam.b) + seam.ease)


def _eased(before: Garment, after: Garment, seam: Seam) -> Seam:
    """The seam, holding a small new difference as ease; fullness keeps its ratio."""
    new = off(after, seam) - off(before, seam)
    if abs(new) <= SEAM_MATCH / 2:
        return seam
    if seam.kind in ("gathered", "stretched"):
        return replace(seam, ratio=(after.length(seam.a) - seam.ease) / after.length(seam.b))
    if abs(new) > EASED_UNSEEN:
        raise GarmentError(
            f"The two sides of '{seam.title.lower()}' would differ by {abs(new):.1f} cm.",
            where=f"garment '{before.name}', seam '{seam.name}'",
            mend="Change the piece on its other side by as much, or ask for less.",
        )
    return replace(seam, ease=seam.ease + new)


# ---- notches ---------------------------------------------------------------------------------------------


def walked(garment: Garment, runs: tuple[Run, ...]) -> dict[str, tuple[float, str, str]]:
    """Signs met along the runs: distance from the walked start [cm], piece and edge."""
    found: dict[str, tuple[float, str, str]] = {}
    done = 0.0
    for run in runs:
        edge = garment.edge_of(run)
        length = garment.piece(run.piece).line(run.line).length()
        for notch in edge.notches if edge else ():
            at = length - notch.at if run.backwards else notch.at
            found[notch.sign] = (done + at, run.piece, run.line)
        done += length
    return found


def _walked_again(before: Garment, after: Garment, seam: Seam, *, spread: bool) -> Garment:
    """Each pair of notches matched again: the one on side b goes where that on side a now stands."""
    old_a, old_b = walked(before, seam.a), walked(before, seam.b)
    new_a, new_b = walked(after, seam.a), walked(after, seam.b)
    for sign in sorted(old_a.keys() & old_b.keys() & new_a.keys() & new_b.keys()):
        (at_a, *_), (at_b, piece, edge) = new_a[sign], new_b[sign]
        if new_a[sign][1:] == (piece, edge):
            continue  # an edge sewn to its own mirror image: one notch is both
        length_a, length_b = after.length(seam.a), after.length(seam.b)
        rules = (at_a, length_b - (length_a - at_a), at_a * length_b / length_a)
        was = _rules(before, seam, old_a[sign][0])
        rule = 2 if spread else min(range(3), key=lambda n: abs(was[n] - old_b[sign][0]))
        if abs(rules[rule] - at_b) > SOLVE:
            after = _notch_moved(after, seam, sign, rules[rule] - at_b)
    return after


def _rules(garment: Garment, seam: Seam, at_a: float) -> tuple[float, float, float]:
    """Where the other half stands, walked from the start, from the end, or spread along the fullness. [cm]"""
    length_a, length_b = garment.length(seam.a), garment.length(seam.b)
    return at_a, length_b - (length_a - at_a), at_a * length_b / length_a


def _notch_moved(garment: Garment, seam: Seam, sign: str, by: float) -> Garment:
    _, piece_name, edge_name = walked(garment, seam.b)[sign]
    run = next(r for r in seam.b if (r.piece, r.line) == (piece_name, edge_name))
    move = -by if run.backwards else by
    piece = garment.piece(piece_name)

    def moved(edge: Edge) -> Edge:
        if edge.name != edge_name:
            return edge
        notches = tuple(replace(n, at=n.at + move) if n.sign == sign else n for n in edge.notches)
        return replace(edge, notches=tuple(sorted(notches, key=lambda n: (n.at, n.sign))))

    piece = replace(piece, edges=tuple(moved(edge) for edge in piece))
    return replace(garment, pieces=tuple(piece if p.name == piece_name else p for p in garment.pieces))


def _without_lone_notches(garment: Garment) -> Garment:
    """Without notches whose other half fell away with what was cut."""
    lone: dict[tuple[str, str], set[str]] = {}
    for seam in garment.seams:
        a, b = walked(garment, seam.a), walked(garment, seam.b)
        for found, missing in ((a, b), (b, a)):
            for sign in found.keys() - missing.keys():
                lone.setdefault(found[sign][1:], set()).add(sign)

    def cleared(piece: Piece) -> Piece:
        edges = tuple(
            replace(e, notches=tuple(n for n in e.notches if n.sign not in lone[piece.name, e.name]))
            if (piece.name, e.name) in lone
            else e
            for e in piece
        )
        return replace(piece, edges=edges)

    return replace(garment, pieces=tuple(cleared(p) for p in garment.pieces)) if lone else garment


# ---- what the garment promises ------------------------------------------------------------------------------


def _measured(before: Garment, after: Garment, level: Level) -> Level:
    return replace(level, ease=level.ease + _grown(before, after, level))


def _grown(before: Garment, after: Garment, level: Level) -> float:
    return _round(after, level) - _round(before, level)


def _round(garment: Garment, level: Level) -> float:
    """Girth along a level with the darts it crosses sewn. [cm]"""
    taken = 0.0
    for name, drawn, times in level.runs:
        piece = garment.piece(name)
        if piece.darts and any(mark.name == drawn for mark in piece.marks):
            across = shapely.LineString(piece.line(drawn).flattened(tolerance=FLATTEN))
            taken += times * sum(across.intersection(shapely.Polygon(d.drawn)).length for d in piece.darts)
    return garment.round(level.runs) - taken


def _girths_said(before: tuple[Level, ...], after: tuple[Level, ...]) -> Iterable[Note]:
    for old, new in zip(before, after, strict=True):
        by = new.ease - old.ease
        if abs(by) > GIRTH_SAID:
            more = "more" if by > 0 else "less"
            yield Note(f"{old.title}: {abs(by):.1f} cm {more} in the round.", measure=old.name, by=by)


def _still_true(before: Garment, after: Garment) -> Mapping[str, float]:
    """The draft's finished measures, taken again from the changed pieces.

    A figure that was the length of a level, a seam, a free edge or one line is that still. Elastic is as long
    as it was. Any other would now be a guess and is left out.
    """
    found: dict[str, float] = {}
    for name, cm in before.finished.items():
        told = {line: new for line, old, new in _lengths(before, after) if abs(old - cm) <= SAME_FIGURE}
        if told:
            found[name] = told.get(name, told.get(SHOWN_BY.get(name, ""), next(iter(told.values()))))
        elif "elastic" in name:
            found[name] = cm
    return found


def _lengths(before: Garment, after: Garment) -> Iterator[tuple[str, float, float]]:
    """Every length a figure may stand for: its name, before and after."""
    for level in before.levels:
        yield level.name, _round(before, level), _round(after, level)
    for free in before.free_edges:
        yield free.name, before.length(free.runs), after.length(free.runs)
    for seam in before.seams:
        yield seam.name, before.length(seam.b), after.length(seam.b)
    for piece in before.pieces:
        new = after.piece(piece.name)
        there = {edge.name for edge in new} | {mark.name for mark in new.marks}  # a dart's mouth may have gone
        for line in (*(edge.name for edge in piece), *(mark.name for mark in piece.marks)):
            if line in there:
                yield line, piece.line(line).length(), new.line(line).length()
