"""Left and right apart: pieces of a pair, and halves on the fold, drawn as single pieces of their own.

Bodies are not the same on both sides: one shoulder or hip lies lower. Then nothing pairs any more: each half
of a pair becomes a piece cut singly, a piece on the fold becomes a whole one, and every seam, hem and girth is
told again for them. Only what pairs within one side of the body, such as the two halves of its pocket bag,
stays a pair of that side. A seam told by halves that meet on a fold is one seam now.
Lengths in cm.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TypeVar

from clothwise.alter.settle import kept
from clothwise.curve import Curve, Point
from clothwise.draft.turned_over import turned_over
from clothwise.errors import GarmentError
from clothwise.garment import (
    Corner,
    FreeEdge,
    Garment,
    Joint,
    Level,
    Mark,
    Note,
    Notion,
    Passage,
    Piece,
    Run,
    Seam,
)
from clothwise.garment.mirror import mirrored_dart, mirrored_edge
from clothwise.tolerance import ON_OUTLINE

LEFT, RIGHT = "left", "right"
SINGLY = "Left and right are drawn each for its own side and cut singly, right side up."
TOLD_APART = "sides"  # measure of the note that tells it
Girth = tuple[str, str, int]
Runs = tuple[Run, ...]
Promised = TypeVar("Promised", Level, Passage)


def cut_singly(garment: Garment) -> Garment:
    """The garment told apart, so that left and right can be altered each by itself.

    GarmentError: it is already, or something of it cannot be told apart
    """
    if any(note.measure == TOLD_APART for note in garment.notes):
        raise GarmentError(
            "Its left and right are told apart already.",
            where=f"garment '{garment.name}'",
            mend="Alter the pieces of the one side, or of the other.",
        )
    return kept(garment, apart(garment), Note(SINGLY, TOLD_APART, 1.0))


def apart(garment: Garment) -> Garment:
    """The same garment with every piece cut singly, the wearer's left and right told apart."""
    garment = _handed(garment)
    pieces = tuple(single for piece in garment.pieces for single in _singles(garment, piece))
    seams = tuple(part for seam in garment.seams for part in _seams(garment, seam))
    free = tuple(part for edge in garment.free_edges for part in _free_edges(garment, edge))
    return replace(
        garment,
        pieces=pieces,
        seams=tuple(replace(seam, after=_names(garment, seam.after)) for seam in seams),
        free_edges=tuple(replace(edge, after=_names(garment, edge.after)) for edge in free),
        joints=tuple(part for joint in garment.joints for part in _joints(garment, joint)),
        levels=tuple(part for level in garment.levels for part in _girths(garment, level)),
        passages=tuple(part for passage in garment.passages for part in _girths(garment, passage)),
        notions=tuple(part for notion in garment.notions for part in _notions(garment, notion)),
    )


# ---- which half is drawn --------------------------------------------------------------------------------


def _handed(garment: Garment) -> Garment:
    """Pieces turned over where needed, so that every half drawn is the wearer's left, right side up.

    A half on the fold is there both ways, so its draft may draw either; the seams tell which. A strip cut
    singly that is sewn to such halves only may have been walked from either end.
    """
    pairs = {p.name: 1 for p in garment.pieces if p.cutting == "pair"}
    folds = {p.name for p in garment.pieces if p.cutting == "on fold"}
    singles = [p.name for p in garment.pieces if p.cutting == "single"]
    hands = dict(pairs or dict.fromkeys(singles, 1) or {garment.pieces[0].name: 1})
    _grow(garment, hands, folds)
    sewn = replace(garment, seams=tuple(s for s in garment.seams if s.kind != "applied"))
    if folds and pairs:
        _grow(sewn, hands, set(singles))
    hands |= {name: 1 for name in singles if name not in hands}
    _grow(garment, hands, folds)
    over = {name for name, hand in hands.items() if hand < 0 and name not in pairs}
    return turned(garment, over) if over else garment


def _grow(garment: Garment, hands: dict[str, int], among: set[str]) -> None:
    """Hands of further pieces, told by the seams that join them to those known."""
    grown = True
    while grown:
        grown = False
        for seam in garment.seams:
            if seam.kind == "patch":
                continue
            for one, copy in _drawn_from(seam):
                if one.piece in hands and copy.piece not in hands and copy.piece in among:
                    hands[copy.piece] = hands[one.piece]
                    grown = True
            for one, other in zip(seam.a, seam.b, strict=False):
                for known, asked in ((one, other), (other, one)):
                    if known.piece in hands and asked.piece not in hands and asked.piece in among:
                        face = (known.backwards != asked.backwards) != (known.side != asked.side)
                        same = face != (seam.kind == "applied")
                        hands[asked.piece] = hands[known.piece] if same else -hands[known.piece]
                        grown = True


def _drawn_from(seam: Seam) -> Iterator[tuple[Run, Run]]:
    """Runs of a lining caught in a seam, each with the run of the piece that it was drawn from."""
    for ply in seam.more:
        for side in (seam.a, seam.b):
            for one, copy in zip(side, ply, strict=False):
                if (one.line, one.backwards, one.side) == (copy.line, copy.backwards, copy.side):
                    yield one, copy


def drawn_as_left(garment: Garment, piece_name: str) -> bool:
    """Whether the half of a piece on the fold that is drawn is the wearer's left, as of a pair it must be."""
    return _handed(garment).piece(piece_name) == garment.piece(piece_name)


def turned(garment: Garment, over: set[str]) -> Garment:
    """The garment with some pieces turned over, and every work told for them as they lie then."""

    def run(r: Run) -> Run:
        return replace(r, backwards=not r.backwards) if r.piece in over else r

    def runs(chain: tuple[Run, ...]) -> tuple[Run, ...]:
        return tuple(run(r) for r in chain)

    def corner(c: Corner) -> Corner:
        return Corner(c.piece, c.after, c.before) if c.piece in over else c

    return replace(
        garment,
        pieces=tuple(turned_over(p) if p.name in over else p for p in garment.pieces),
        seams=tuple(
            replace(s, a=runs(s.a), b=runs(s.b), more=tuple(runs(ply) for ply in s.more)) for s in garment.seams
        ),
        free_edges=tuple(replace(f, runs=runs(f.runs)) for f in garment.free_edges),
        joints=tuple(replace(j, corners=tuple(corner(c) for c in j.corners)) for j in garment.joints),
    )


# ---- pieces ------------------------------------------------------------------------------------------


def _singles(garment: Garment, piece: Piece) -> Iterator[Piece]:
    if piece.cutting == "pair":
        own = _pairs_on_one_side(garment, piece)
        half = replace(piece, cutting="pair" if own else "single", copies=piece.copies // 2)
        yield replace(half, name=f"{LEFT}_{piece.name}", title=f"Left {_small(piece.title)}")
        right = half if own else turned_over(half)
        yield replace(right, name=f"{RIGHT}_{piece.name}", title=f"Right {_small(piece.title)}")
    elif piece.cutting == "on fold":
        yield _opened(piece)
    else:
        yield piece


def _pairs_on_one_side(garment: Garment, piece: Piece) -> bool:
    """Whether a copy and its mirror image are sewn to each other on either side of the body: a pocket bag."""
    return piece.cutting == "pair" and any(
        seam.times > 1 and len({run.side for run in seam.runs if run.piece == piece.name}) > 1
        for seam in garment.seams
    )


def _small(title: str) -> str:
    return title[:1].lower() + title[1:]


def _opened(piece: Piece) -> Piece:
    """The half on the fold and its mirror image as one whole piece."""
    fold = piece.fold
    assert fold is not None
    at, way = fold.curve.start, fold.curve.start.to(fold.curve.end)
    here = piece.edges.index(fold)
    half = (*piece.edges[here + 1 :], *piece.edges[:here])
    drawn = [replace(edge, name=f"{LEFT}_{edge.name}") for edge in half]
    image = [replace(mirrored_edge(edge, at, way), name=f"{RIGHT}_{edge.name}") for edge in reversed(half)]
    darts = []
    for dart in piece.darts:
        darts.append(replace(dart, name=f"{LEFT}_{dart.name}", edge=dart.edge and f"{LEFT}_{dart.edge}"))
        over = mirrored_dart(dart, at, way)
        darts.append(replace(over, name=f"{RIGHT}_{dart.name}", edge=dart.edge and f"{RIGHT}_{dart.edge}"))
    return replace(
        piece,
        edges=(*drawn, *image),
        cutting="single",
        darts=tuple(darts),
        marks=tuple(whole for mark in piece.marks for whole in _mark_opened(mark, fold.curve)),
    )


def _mark_opened(mark: Mark, fold: Curve) -> Iterator[Mark]:
    """A line that ends on the fold runs on into its image, one along it stays; any other is there twice."""
    at, way = fold.start, fold.start.to(fold.end)
    image = mark.curve.mirrored(at, way).reversed()
    if _along(fold, mark.curve):
        yield mark
    elif mark.kind == "placement":  # another piece's two halves are sewn to its two halves
        yield replace(mark, name=f"{LEFT}_{mark.name}")
        yield replace(mark, name=f"{RIGHT}_{mark.name}", curve=image)
    elif _on(fold, mark.curve.end):
        yield replace(mark, curve=mark.curve.then(image))
    elif _on(fold, mark.curve.start):
        yield replace(mark, curve=image.then(mark.curve))
    else:
        yield replace(mark, name=f"{LEFT}_{mark.name}")
        yield replace(mark, name=f"{RIGHT}_{mark.name}", curve=image)


def _along(fold: Curve, curve: Curve) -> bool:
    return _on(fold, curve.start) and _on(fold, curve.end)


def _on(fold: Curve, place: Point) -> bool:
    return abs(fold.start.to(place).cross(fold.start.to(fold.end).unit())) <= ON_OUTLINE


# ---- runs --------------------------------------------------------------------------------------------


def _run(garment: Garment, run: Run, side: str) -> Run:
    """The run on the single pieces; a mirrored outline is travelled the other way."""
    piece = garment.piece(run.piece)
    mirrored = run.side == "mirrored"
    if _pairs_on_one_side(garment, piece):
        return replace(run, piece=f"{side or LEFT}_{run.piece}")
    if piece.cutting == "pair":
        return Run(f"{RIGHT if mirrored else LEFT}_{run.piece}", run.line, run.backwards != mirrored)
    if piece.cutting == "on fold":
        return Run(run.piece, _half_line(piece, run.line, mirrored=mirrored), run.backwards != mirrored)
    # a piece cut singly for either side, such as a cuff: on the right it is walked from its other end
    return Run(run.piece, run.line, run.backwards != mirrored)


def _half_line(piece: Piece, line: str, *, mirrored: bool) -> str:
    fold = piece.fold
    assert fold is not None
    curve = piece.line(line)
    runs_across = any(mark.name == line and mark.kind != "placement" for mark in piece.marks)
    if _along(fold.curve, curve) and not any(edge.name == line for edge in piece):
        return line
    if runs_across and (_on(fold.curve, curve.start) or _on(fold.curve, curve.end)):
        return line
    return f"{RIGHT if mirrored else LEFT}_{line}"


def _flipped(runs: tuple[Run, ...]) -> tuple[Run, ...]:
    return tuple(replace(run, side="as drawn" if run.side == "mirrored" else "mirrored") for run in runs)


def _one_sided(garment: Garment, runs: tuple[Run, ...]) -> bool:
    """Whether mirroring the runs names other edges; not so for pieces that were cut singly already."""
    return any(garment.piece(run.piece).cutting != "single" for run in runs)


def _sides(garment: Garment, plies: tuple[Runs, ...], times: int) -> tuple[str, ...]:
    """Left and right where a work is there for either; one, unnamed, where it goes across both, or joins strip
    to strip in a row."""
    runs = tuple(run for ply in plies for run in ply)
    if times == 1 or not _one_sided(garment, runs) or _meeting_end(garment, plies, times) is not None:
        return ("",)
    return ("",) if _in_a_row(garment, plies) else (LEFT, RIGHT)


def _in_a_row(garment: Garment, plies: tuple[Runs, ...]) -> bool:
    """Whether it joins one of several copies on the fold to the next."""
    drawn = [garment.piece(name) for name in dict.fromkeys(run.piece for ply in plies for run in ply)]
    alike = len({tuple(run.piece for run in ply) for ply in plies}) == 1
    return alike and all(piece.cutting == "on fold" and piece.copies > 1 for piece in drawn)


def _meeting_end(garment: Garment, plies: tuple[Runs, ...], times: int) -> int | None:
    """At which end, 0 or -1, every ply of a work that is there twice meets its own mirror image on a fold."""
    return next(
        (e for e in (0, -1) if times == 2 and all(_ends_on_fold(garment, ply, e) for ply in plies)), None
    )


def _ends_on_fold(garment: Garment, ply: Runs, end: int) -> bool:
    fold, curve = garment.piece(ply[end].piece).fold, garment.curve(ply[end])
    return fold is not None and _on(fold.curve, curve.start if end == 0 else curve.end)


def _told(garment: Garment, plies: tuple[Runs, ...], times: int) -> Iterator[tuple[str, tuple[Runs, ...], int]]:
    """Side, plies on the single pieces and how often, of each part that a work falls into."""

    def on_single(ply: Runs, side: str) -> Runs:
        return tuple(_run(garment, run, side) for run in (_flipped(ply) if side == RIGHT else ply))

    end = _meeting_end(garment, plies, times)
    if end is not None:
        whole = []
        for ply in plies:
            left = on_single(ply, LEFT)
            right = tuple(replace(r, backwards=not r.backwards) for r in reversed(on_single(ply, RIGHT)))
            whole.append(tuple(dict.fromkeys((*right, *left) if end == 0 else (*left, *right))))
        yield "", tuple(whole), 1
        return
    sides = _sides(garment, plies, times)
    for side in sides:
        yield side, tuple(on_single(ply, side) for ply in plies), times // len(sides)


def _seams(garment: Garment, seam: Seam) -> Iterator[Seam]:
    for side, (a, b, *more), times in _told(garment, (seam.a, seam.b, *seam.more), seam.times):
        yield replace(
            seam,
            name=_sided(seam.name, side),
            title=_titled(seam.title, side),
            a=a,
            b=b,
            more=tuple(more),
            times=times,
            ease=seam.ease * (2 if not side and times < seam.times else 1),  # both halves' in one line
        )


def _free_edges(garment: Garment, free: FreeEdge) -> Iterator[FreeEdge]:
    for side, (runs,), times in _told(garment, (free.runs,), free.times):
        yield replace(
            free, name=_sided(free.name, side), title=_titled(free.title, side), runs=runs, times=times
        )


def _sided(name: str, side: str) -> str:
    return f"{side}_{name}" if side else name


def _titled(title: str, side: str) -> str:
    return f"{side.capitalize()} {_small(title)}" if side else title


def _names(garment: Garment, after: tuple[str, ...]) -> tuple[str, ...]:
    """The works waited for, by their new names."""
    return tuple(_sided(name, side) for name in after for side in _sides_of(garment, name))


def _sides_of(garment: Garment, name: str) -> tuple[str, ...]:
    """The sides that the work of that name is told apart by."""
    for seam in garment.seams:
        if seam.name == name:
            return _sides(garment, (seam.a, seam.b, *seam.more), seam.times)
    for free in garment.free_edges:
        if free.name == name:
            return _sides(garment, (free.runs,), free.times)
    return ("",)


# ---- what the garment promises ---------------------------------------------------------------------------


def _joints(garment: Garment, joint: Joint) -> Iterator[Joint]:
    """A corner that comes twice meets its own mirror image; any other joint is there on either side."""
    if len(joint.corners) == 2 and joint.corners[0] == joint.corners[1]:
        corners = tuple(_corner(garment, joint.corners[0], side) for side in (LEFT, RIGHT))
        yield replace(joint, corners=corners)
        return
    for side in (LEFT, RIGHT):
        yield replace(
            joint,
            name=f"{joint.name}, {side}",
            corners=tuple(_corner(garment, corner, side) for corner in joint.corners),
        )


def _corner(garment: Garment, corner: Corner, side: str) -> Corner:
    cutting = garment.piece(corner.piece).cutting
    if cutting == "single":
        return corner
    before, after = (corner.before, corner.after) if side == LEFT else (corner.after, corner.before)
    if _pairs_on_one_side(garment, garment.piece(corner.piece)):
        return replace(corner, piece=f"{side}_{corner.piece}")
    if cutting == "pair":
        return Corner(f"{side}_{corner.piece}", before, after)
    return Corner(corner.piece, f"{side}_{before}", f"{side}_{after}")


def _girths(garment: Garment, girth: Promised) -> Iterator[Promised]:
    """A girth of the whole body once; that of an arm or leg for either side, the left under the old name."""
    drawn = [garment.piece(name) for name, _, _ in girth.runs]
    middle = {(r.piece, r.line) for s in garment.seams if s.times == 1 for r in s.runs}  # alike on both sides
    once = any(times != 1 or (name, line) in middle for name, line, times in girth.runs)
    if once or not any(piece.cutting == "pair" for piece in drawn):
        yield replace(girth, runs=_girth(garment, girth.runs))
        return
    for side, name in ((LEFT, girth.name), (RIGHT, f"{RIGHT}_{girth.name}")):
        runs = tuple((_run(garment, run, side), 1) for run in _flat(girth.runs, mirrored=side == RIGHT))
        told = tuple((run.piece, run.line, times) for run, times in runs)
        yield replace(girth, name=name, title=_titled(girth.title, side), runs=told)


def _flat(runs: tuple[Girth, ...], *, mirrored: bool) -> tuple[Run, ...]:
    return tuple(Run(name, line, side="mirrored" if mirrored else "as drawn") for name, line, _ in runs)


def _girth(garment: Garment, runs: tuple[Girth, ...]) -> tuple[Girth, ...]:
    told: list[Girth] = []
    for name, line, times in runs:
        piece = garment.piece(name)
        left, right = (times + 1) // 2, times // 2
        if piece.cutting == "pair":
            told += [(f"{LEFT}_{name}", line, left), (f"{RIGHT}_{name}", line, right)]
        elif piece.cutting == "on fold":
            halves = [_half_line(piece, line, mirrored=mirrored) for mirrored in (False, True)]
            if halves[0] == line:  # a level from edge to edge, right across
                told.append((name, line, left))
            else:
                told += [(name, halves[0], left), (name, halves[1], right)]
        else:
            told.append((name, line, times))
    return tuple(run for run in told if run[2])


def _notions(garment: Garment, notion: Notion) -> Iterator[Notion]:
    sides = _sides_of(garment, notion.place)
    for side in sides:
        share = 1 / len(sides)
        yield replace(
            notion,
            place=_sided(notion.place, side),
            length=notion.length * share,
            count=round(notion.count * share),
        )
