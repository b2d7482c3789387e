"""Pieces drawn from the piece they belong to: a hem facing, a lining, a patch pocket. Lengths in cm.

Source: the trade's ways; house rule, 2026-11, for the numbers at their line.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import shapely

from clothwise.alter.cut import grain_within
from clothwise.alter.settle import kept
from clothwise.alter.strip import alone, hem_of, strip, without
from clothwise.curve import Curve, Point
from clothwise.draft import pocket
from clothwise.errors import GarmentError
from clothwise.garment import Edge, FreeEdge, Garment, Note, Piece, Run, Seam
from clothwise.tolerance import FLATTEN, ON_OUTLINE

NARROWEST = 3.5  # cm: a narrower hem facing rolls out, and has no room for its grain arrow (trade: 4 to 7)
FACING_SEAM = 1.0  # cm: lies flat in the fold of a faced hem
LINING = "lining"
CLEAR = 1.5  # cm a pocket keeps from every edge: room for the foot
FLAT = ("applied", "patch")  # seams that join no piece to the next, but lay one on another
TAKEN = ("placement", "button", "buttonhole")  # marks whose place a pocket must leave free
Shown = dict[str, str]  # name of a piece -> name of the piece drawn from it


# ---- facing ------------------------------------------------------------------------------------------


def faced(garment: Garment, free_name: str, wide: float) -> Garment:
    """The garment with a hem faced by strips cut from its own pieces, instead of turned.

    GarmentError: no such hem, it carries elastic, or a piece has no room for a strip so wide
    """
    free = hem_of(garment, free_name)
    if wide < NARROWEST:
        raise GarmentError(
            f"A facing {wide:g} cm wide rolls out at the hem.",
            where=f"garment '{garment.name}', '{free_name}'",
            mend=f"Make it {NARROWEST:g} cm wide or more; 4 to 7 is usual.",
        )
    own = list(dict.fromkeys((run.piece, run.line) for run in free.runs))
    names = {piece: f"{piece}_{free_name}_facing" for piece, _ in own}
    if len(names) < len(own):
        raise GarmentError(
            f"'{free.title}' runs along two edges of one piece.",
            where=f"garment '{garment.name}', '{free_name}'",
            mend="Turn it as it is drawn.",
        )
    faces: dict[str, Piece] = {}
    changed: dict[str, Piece] = {}
    for name, line in own:
        piece = garment.piece(name)
        edges = alone(strip(piece, line, wide))
        faces[name] = _facing(piece, names[name], free, (_plain(edges[0]), *edges[1:]))
        plain = tuple(_plain(edge) if edge.name == line else edge for edge in piece)
        changed[name] = replace(piece, edges=plain)
    runs = tuple(replace(run, piece=names[run.piece]) for run in free.runs)
    joins = tuple(_joins(garment, faces, names, free_name))
    around = Seam(
        free_name,
        f"Facing at the {free.title.lower()}",
        runs,
        free.runs,
        "applied",
        times=free.times,
        after=tuple(seam.name for seam in joins),
    )
    ends = tuple(_ends(garment, faces, names, joins))
    folded = {(run.piece, run.line) for end in ends for run in end.runs}
    cut = tuple(
        replace(face, edges=tuple(_plain(e) if (face.name, e.name) in folded else e for e in face))
        for face in faces.values()
    )
    after = replace(
        garment,
        pieces=(*(changed.get(p.name, p) for p in garment.pieces), *cut),
        seams=(*garment.seams, *joins, around),
        free_edges=(*(f for f in garment.free_edges if f.name != free_name), *ends),
    )
    said = f"{free.title}: faced instead of turned, {wide:g} cm wide, cut from the pieces' own edges."
    return kept(garment, after, Note(said, measure=free_name, by=wide))


def _plain(edge: Edge) -> Edge:
    return replace(edge, kind="seam", allowance=FACING_SEAM)


def _facing(piece: Piece, name: str, free: FreeEdge, edges: tuple[Edge, ...]) -> Piece:
    title = f"{free.title} facing of the {piece.title.lower()}"
    return replace(piece, name=name, title=title, edges=edges, grain=_grain(piece, edges), darts=(), marks=())


def _grain(piece: Piece, edges: tuple[Edge, ...]) -> tuple[Point, Point]:
    outline = edges[0].curve.then(*(edge.curve for edge in edges[1:]))
    return grain_within(piece, shapely.Polygon(outline.flattened(tolerance=FLATTEN)).buffer(ON_OUTLINE))


def _joins(garment: Garment, faces: dict[str, Piece], names: Shown, free_name: str) -> Iterator[Seam]:
    """The facings joined at their ends as the pieces are there."""
    ends = {(name, edge.name) for name, face in faces.items() for edge in face.edges[1::2]}
    for seam in garment.seams:
        for i in (0, -1):
            one, other = seam.a[i], seam.b[i]
            if (one.piece, one.line) in ends and (other.piece, other.line) in ends and seam.kind not in FLAT:
                a, b = (replace(run, piece=names[run.piece]) for run in (one, other))
                yield replace(
                    seam,
                    name=f"{seam.name}_{free_name}_facing",
                    title=f"{seam.title} of the facing",
                    a=(a,),
                    b=(b,),
                    kind="plain",
                    ratio=1.0,
                    ease=0.0,
                    more=(),
                    after=(),
                )
                break


def _ends(
    garment: Garment, faces: dict[str, Piece], names: Shown, joins: tuple[Seam, ...]
) -> Iterator[FreeEdge]:
    """Ends of the facing that meet no other, at a slit or an opening: folded in and sewn down."""
    sewn = {(run.piece, run.line) for seam in joins for run in seam.runs}
    for name, face in faces.items():
        for edge in face.edges[1::2]:
            if edge.kind != "fold" and (face.name, edge.name) not in sewn:
                yield FreeEdge(
                    f"{face.name}_{edge.name}",
                    "End of the facing",
                    (Run(names[name], edge.name),),
                    "band",
                    FACING_SEAM,
                    FACING_SEAM,
                    closed=False,
                    times=face.copies,
                )


# ---- lining ------------------------------------------------------------------------------------------


def lined(garment: Garment, into: str, shorter: float) -> Garment:
    """The garment with a lining drawn from the pieces that hang from a seam, caught in that seam.

    shorter  by which the lining ends above the hem
    Raises   GarmentError: nothing hangs from that seam, or what hangs there has an opening in its side
    """
    seam = garment.seam(into)
    side, hung = _hanging(garment, seam)
    names = {name: f"{LINING}_{name}" for name in hung}
    hems = {(run.piece, run.line) for f in garment.free_edges if f.kind == "hem" for run in f.runs}
    pieces = tuple(_lining(garment.piece(name), names[name], hems, shorter) for name in hung)

    def told(runs: tuple[Run, ...]) -> tuple[Run, ...]:
        return tuple(replace(run, piece=names[run.piece]) for run in runs)

    def inside(runs: tuple[Run, ...]) -> bool:
        return all(run.piece in names for run in runs)

    seams = tuple(
        replace(
            s,
            name=f"{LINING}_{s.name}",
            title=f"{s.title} of the lining",
            a=told(s.a),
            b=told(s.b),
            more=tuple(told(ply) for ply in s.more),
            after=(),
        )
        for s in garment.seams
        if inside(s.runs)
    )
    free = tuple(
        _lining_edge(f, told(f.runs)) for f in garment.free_edges if inside(f.runs) and f.kind in ("hem", "zip")
    )
    _refuse_open(garment, hung, into, seams, free, names)
    caught = replace(seam, more=(*seam.more, told(side)), after=(*seam.after, *(s.name for s in seams)))
    after = replace(
        garment,
        pieces=(*garment.pieces, *pieces),
        seams=(*(caught if s.name == into else s for s in garment.seams), *seams),
        free_edges=(*garment.free_edges, *free),
    )
    said = (
        f"A lining is drawn from {', '.join(garment.piece(n).title.lower() for n in hung)}, {shorter:g} cm "
        f"shorter; it is caught in '{seam.title.lower()}'."
    )
    return kept(garment, after, Note(said, measure=into, by=shorter))


def _hanging(garment: Garment, seam: Seam) -> tuple[tuple[Run, ...], list[str]]:
    """The side of the seam from which pieces with a hem hang, and all pieces sewn to them but bands."""
    hemmed = {run.piece for free in garment.free_edges if free.kind == "hem" for run in free.runs}
    for side in (seam.b, seam.a):
        hung = list(dict.fromkeys(run.piece for run in side))
        if hung and all(name in hemmed and garment.piece(name).layer == "shell" for name in hung):
            return side, hung
    raise GarmentError(
        f"Nothing with a hem of its own hangs from '{seam.title.lower()}'.",
        where=f"garment '{garment.name}', seam '{seam.name}'",
        mend="Name the seam by which skirt or bodice hang from band, yoke or facing.",
    )


def _lining(piece: Piece, name: str, hems: set[tuple[str, str]], shorter: float) -> Piece:
    cut = piece
    for edge in piece:
        if (piece.name, edge.name) in hems and edge.kind == "hem":
            cut = without(strip(cut, edge.name, shorter))
    return replace(
        cut,
        name=name,
        title=f"Lining of the {piece.title[:1].lower()}{piece.title[1:]}",
        layer="lining",
        marks=(),
        interfaced=False,
    )


def _lining_edge(free: FreeEdge, runs: tuple[Run, ...]) -> FreeEdge:
    found = replace(
        free, name=f"{LINING}_{free.name}", title=f"{free.title} of the lining", runs=runs, after=()
    )
    if free.kind == "zip":
        return replace(found, title="Lining turned in beside the zip", kind="band", fold_in=free.turn)
    return found


def _refuse_open(
    garment: Garment,
    hung: list[str],
    into: str,
    seams: tuple[Seam, ...],
    free: tuple[FreeEdge, ...],
    names: Shown,
) -> None:
    """GarmentError where an edge of the lining would be left raw: beside a pocket in the seam, at a facing."""
    done = {(run.piece, run.line) for s in seams for run in s.runs}
    done |= {(run.piece, run.line) for f in free for run in f.runs}
    done |= {(names[run.piece], run.line) for run in garment.seam(into).runs if run.piece in names}
    for name in hung:
        mouths = {dart.edge for dart in garment.piece(name).darts}
        for edge in garment.piece(name):
            if edge.kind != "fold" and edge.name not in mouths and (names[name], edge.name) not in done:
                raise GarmentError(
                    f"The lining's '{edge.name.replace('_', ' ')}' would be joined to nothing.",
                    where=f"garment '{garment.name}', piece '{name}'",
                    mend="Choose it without what opens or faces that edge, such as pockets in the seam.",
                )


# ---- pocket ------------------------------------------------------------------------------------------


def pocketed(garment: Garment, piece_name: str, at: str, wide: float, below: float) -> Garment:
    """The garment with a patch pocket on each half of a piece, its middle in the middle of the room there.

    at      a level of the piece; below: the pocket's opening lies so far below it
    wide    its finished width
    Raises  GarmentError: it has patch pockets already, no such level, or no room
    """
    piece = garment.piece(piece_name)
    if any(p.name.endswith(pocket.PIECE) for p in garment.pieces):  # left and right told apart too
        raise GarmentError(
            "It has patch pockets already.",
            where=f"garment '{garment.name}'",
            mend="Move them by the pattern's own choices.",
        )
    level = piece.mark(at).curve
    size = pocket.Pocket(wide, pocket.HEIGHT_OF_WIDTH * wide)
    top = level.at_length(level.length() / 2).down(below)
    place = pocket.place(size, top.left(wide / 2))
    _refuse_no_room(piece, place.curve)
    ground = replace(piece, marks=(*piece.marks, place))
    grounds = piece.shapes
    own = replace(pocket.piece(size), copies=grounds, cutting="pair" if grounds > 1 else "single")
    after = replace(
        garment,
        pieces=(*(ground if p.name == piece_name else p for p in garment.pieces), own),
        seams=(*garment.seams, replace(pocket.seam(piece_name), times=grounds)),
        free_edges=(*garment.free_edges, replace(pocket.top(), times=grounds)),
    )
    on = f"on each half of {piece.title.lower()}" if grounds > 1 else f"on {piece.title.lower()}"
    said = f"A patch pocket {wide:g} x {size.height:.1f} cm {on}."
    return kept(garment, after, Note(said, measure=at, by=wide))


def _refuse_no_room(piece: Piece, place: Curve) -> None:
    room = shapely.Polygon(piece.polygon(tolerance=FLATTEN)).buffer(-CLEAR)
    corners = shapely.LineString(place.flattened(tolerance=FLATTEN))
    others = [mark.curve.flattened(tolerance=FLATTEN) for mark in piece.marks if mark.kind in TAKEN]
    darts = [dart.drawn for dart in piece.darts]
    held = shapely.Polygon(corners)
    if not room.contains(corners) or any(held.intersects(shapely.LineString(o)) for o in (*others, *darts)):
        raise GarmentError(
            "There is no room for the pocket there: it would lie over an edge, a dart or another place.",
            where=f"piece '{piece.name}'",
            mend="Make it narrower, or set it lower or at another level.",
        )
