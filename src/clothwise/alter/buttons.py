"""A piece on the fold opened down its middle: a button stand drawn on to it, turned back along the front edge.

The facing at its upper edge is lengthened with it and its ends are folded in; so is one at its hem.
Lengths in cm.
Source: the stand of the house's shirt, `draft.button_stand`.
"""

from __future__ import annotations

from dataclasses import replace

from clothwise.alter.settle import kept
from clothwise.curve import Point, line
from clothwise.draft import button_stand
from clothwise.errors import GarmentError
from clothwise.garment import Edge, FreeEdge, Garment, Notch, Note, Piece, Run, Seam

STAND, FRONT_EDGE, FACING_END = "stand", "front_edge", "front_end"
ENDS = ("Ends of the facing", "Ends of the hem facing")
END_SEAM = 1.0  # cm folded in at the ends of the facing
Runs = tuple[Run, ...]


def buttoned(garment: Garment, piece_name: str) -> Garment:
    """The garment with a piece on the fold opened down its middle and buttoned.

    GarmentError: it is not cut on the fold, ends there in a point, or hangs from more than a facing
    """
    piece = garment.piece(piece_name)
    where = f"garment '{garment.name}', piece '{piece_name}'"
    if piece.fold is None or any(free.name == STAND for free in garment.free_edges):
        raise GarmentError(
            f"'{piece.title}' has no fold to be opened.", where=where, mend="Choose a front cut on the fold."
        )
    top, low = _ends(piece)
    hemmed = low.kind == "hem"
    if (not hemmed and not _faced(garment, piece_name, low.name)) or top.kind != "seam" or top.pointed:
        raise GarmentError(
            f"'{piece.title}' does not run from a level neck to a hem along its fold.",
            where=where,
            mend="Choose a round, square or boat neckline, or a pattern that buttons.",
        )
    facings = [_facing_of(garment, piece_name, edge.name) for edge in ((top,) if hemmed else (top, low))]
    fold = piece.fold.curve
    heights = sorted((fold.start.y, fold.end.y))
    bust = next((m.curve.start.y for m in piece.marks if m.name == "bust"), (heights[0] + heights[1]) / 2)
    stand = button_stand.stand_of(garment.for_child, heights[1], bust, heights[0])
    front = _opened(piece, stand.half, Edge(FRONT_EDGE, fold, "hem", stand.turn))
    front = replace(front, marks=(*front.marks, *button_stand.marks(stand, heights[1], heights[0])))
    end = Edge(FACING_END, fold, "seam", END_SEAM)
    changed = {piece_name: front} | {one.name: _opened(one, stand.half, end) for one in facings}
    after = replace(
        garment,
        pieces=tuple(changed.get(p.name, p) for p in garment.pieces),
        seams=tuple(_from_the_front(s, garment, *changed) for s in garment.seams),
        free_edges=(
            *(_hem_open(f, garment, piece_name) for f in garment.free_edges),
            FreeEdge(
                STAND,
                "Button stands",
                (Run(piece_name, FRONT_EDGE),),
                "stand",
                stand.turn,
                button_stand.FOLD_IN,
                closed=False,
                times=2,
            ),
            *(_facing_ends(one.name, title) for one, title in zip(facings, ENDS, strict=False)),
        ),
        notions=(*garment.notions, button_stand.notion(stand, 0, STAND)),
        finished={k: v for k, v in garment.finished.items() if k not in ("hem", "neck opening")},
    )
    said = (
        f"{piece.title} is opened down the middle: a stand {2 * stand.half:g} cm wide, {len(stand.heights)} "
        f"buttons, their holes {stand.buttonhole:.1f} cm long; try one on a scrap first."
    )
    notes = (Note(said, measure=piece_name, by=stand.half),)
    return kept(garment, after, *notes, *((button_stand.SMALL_PARTS,) if garment.for_child else ()))


def _ends(piece: Piece) -> tuple[Edge, Edge]:
    """The edges at the fold's upper and lower end."""
    edges = list(piece.edges)
    here = next(i for i, edge in enumerate(edges) if edge.kind == "fold")
    before, after = edges[here - 1], edges[(here + 1) % len(edges)]
    fold = edges[here].curve
    return (before, after) if fold.start.y > fold.end.y else (after, before)


def _faced(garment: Garment, piece: str, edge: str) -> Piece | None:
    """The facing, cut on the fold, that finishes an edge."""
    found = [s for s in garment.seams if any((r.piece, r.line) == (piece, edge) for r in s.runs)]
    beside = [a for seam in found for a, b in zip(seam.a, seam.b, strict=False) if b.piece == piece]
    crossing = [run for run in beside if _crosses_fold(garment, run)]
    if len(found) != 1 or found[0].kind != "applied" or not crossing:
        return None
    return garment.piece(crossing[0].piece)


def _facing_of(garment: Garment, piece: str, edge: str) -> Piece:
    facing = _faced(garment, piece, edge)
    if facing is None:
        raise GarmentError(
            f"The upper edge of '{piece}' is not finished by a facing cut on the fold.",
            where=f"garment '{garment.name}'",
            mend="Choose a garment with a faced neck, or a pattern that buttons.",
        )
    return facing


def _facing_ends(facing: str, title: str) -> FreeEdge:
    """Both its ends, folded in where the stands are turned back."""
    ends = (Run(facing, FACING_END),)
    return FreeEdge(f"{facing}_ends", title, ends, "band", END_SEAM, END_SEAM, closed=False, times=2)


def _crosses_fold(garment: Garment, run: Run) -> bool:
    piece = garment.piece(run.piece)
    return piece.fold is not None and run.line in {e.name for e in _ends(piece)} and run.side == "mirrored"


def _opened(piece: Piece, by: float, new: Edge) -> Piece:
    """The half with its fold moved out by so much, the edges beside it run on level; a pair now."""
    fold = piece.fold
    assert fold is not None
    out = fold.curve.start.to(fold.curve.end).unit().right()
    start, end = fold.curve.start.go(out, by), fold.curve.end.go(out, by)
    edges = list(piece.edges)
    here = edges.index(fold)
    before, after = here - 1, (here + 1) % len(edges)
    edges[before] = _run_on(edges[before], fold.curve.start, start)
    notches = tuple(Notch(n.sign, n.at + by, n.count) for n in edges[after].notches)
    lead = line(end, fold.curve.end)
    edges[after] = replace(edges[after], curve=lead.then(edges[after].curve), notches=notches)
    edges[here] = replace(new, curve=line(start, end))
    return replace(piece, edges=tuple(edges), cutting="pair", copies=2 * piece.copies)


def _run_on(edge: Edge, start: Point, end: Point) -> Edge:
    return replace(edge, curve=edge.curve.then(line(start, end)))


def _from_the_front(seam: Seam, garment: Garment, *pieces: str) -> Seam:
    """Walked from front edge to front edge where it went round before; either half by itself where the back is
    open too."""
    plies = [_parted(ply, garment, pieces) for ply in (seam.a, seam.b, *seam.more)]
    if plies[0] is seam.a:
        return seam
    times = seam.times
    if _open_at_back(garment, seam.a[0]):
        plies = [ply[len(ply) // 2 :] for ply in plies]
        times *= 2
    return replace(seam, a=plies[0], b=plies[1], more=tuple(plies[2:]), times=times)


def _open_at_back(garment: Garment, first: Run) -> bool:
    """Whether the walk begins at a slit and not at a fold."""
    names = [edge.name for edge in garment.piece(first.piece)]
    beside = names[(names.index(first.line) + (1 if first.backwards else -1)) % len(names)]
    return garment.piece(first.piece).edge(beside).kind != "fold"


def _hem_open(free: FreeEdge, garment: Garment, piece: str) -> FreeEdge:
    runs = _parted(free.runs, garment, (piece,))
    return free if runs is free.runs else replace(free, runs=runs, closed=False)


def _parted(runs: Runs, garment: Garment, pieces: tuple[str, ...]) -> Runs:
    """The runs begun anew where they cross a fold that is opened now. GarmentError when they end elsewhere."""
    n = len(runs)
    for i in range(n):
        one, other = runs[i], runs[(i + 1) % n]
        if (
            one.piece in pieces
            and (one.piece, one.line) == (other.piece, other.line)
            and one.side != other.side
        ):
            first, last = runs[0], runs[-1]
            goes_round = (first.piece, first.line) == (last.piece, last.line) and first.side != last.side
            if i < n - 1 and not (goes_round and garment.piece(first.piece).fold is not None):
                raise GarmentError(
                    "What runs over the opened fold is open at the back already.",
                    where=f"garment '{garment.name}', piece '{one.piece}'",
                    mend="Choose it without a zip at the back.",
                )
            return (*runs[i + 1 :], *runs[: i + 1])
    return runs
