"""Longer or shorter, above or below a level; and more at one edge than at the other: seat, tummy, hollow back.

Pure: a garment and what is asked in, the changed garment out, with a note that says what was done. What is sewn
along a changed edge (a facing, a pocket bag) is found through the seams and changed with it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence

from clothwise.alter.room import MOST_OUT, SHORTEST_STRETCH, Side, Slash, Stretch, slash, spread
from clothwise.alter.settle import settled
from clothwise.curve import Curve, Point, crossings_with_line, line, nearest
from clothwise.errors import GarmentError
from clothwise.garment import Garment, Note, Piece, Run, Seam
from clothwise.tolerance import ARC_LENGTH, ON_OUTLINE, SEAM_MATCH

FROM_CORNER = 0.3  # cm: a line found through a seam keeps so far from the corner of the next piece


def lengthened(garment: Garment, level: str, by: float, *, side: Side = "below") -> Garment:
    """The garment longer by `by` [cm], shorter where negative, below or above a level.

    level    a level or a lengthen-or-shorten line of the pieces: 'hip', 'knee', 'adjust_length'
    Raises   GarmentError: no such line, no room to take so much out, or seams that would not match
    """
    found = _slashes(garment, _pieces_with(garment, level), level)
    stretch = _stretch(garment, found.values(), by, side, level)
    if _adjusts(found.values(), level):
        side = _nearer_end(found.values())
    changed: dict[str, Piece] = {}
    for name, at in found.items():
        changed[name] = spread(at, by, by, side=side, stretch=stretch)
        left, right = (_wanted(garment, changed, name, edge.name) for edge in (at.left, at.right))
        if left is not None or right is not None:
            asked = (by if left is None else left, by if right is None else right)
            changed[name] = spread(at, *asked, side=side, stretch=stretch)
    names = ", ".join(at.piece.title.lower() for at in found.values())
    what = "longer" if by > 0 else "shorter"
    where = "at" if _adjusts(found.values(), level) else side
    said = f"{abs(by):.1f} cm {what} {where} the {_spoken(level)}: {names}."
    return settled(garment, changed.values(), Note(said, measure=level, by=by))


def wedged(
    garment: Garment, pieces: str | Sequence[str], level: str, by: float, *, at: str, side: Side | None = None
) -> Garment:
    """A wedge let in across a piece, or taken out: `by` [cm] at edge `at`, nothing at the edge opposite.

    A full or flat seat, a full tummy, a hollow back, a rise longer at the back than at the front; across front
    and back together, at the side seam, for a hip that is higher on one side.
    side    which part moves: 'above' lifts the waist, 'below' drops the hem; left open, the waist of what
            starts there, the hem of what hangs from the shoulders
    Raises  GarmentError as for `lengthened`, or when the level does not meet that edge
    """
    names = [pieces] if isinstance(pieces, str) else list(pieces)
    cuts = [_wedge_cut(garment, name, level, at) for name in names]
    side = side or ("above" if all(_from_waist(cut.piece) for cut in cuts) else "below")
    stretch = _stretch(garment, cuts, by, side, level)
    changed = []
    for cut in cuts:
        left, right = (by, 0.0) if at == cut.left.name else (0.0, by)
        changed.append(spread(cut, left, right, side=side, stretch=stretch))
    more = "let in" if by > 0 else "taken out"
    titles = " and ".join(cut.piece.title.lower() for cut in cuts)
    said = f"A wedge of {abs(by):.1f} cm {more} at the {_spoken(level)} of {titles}."
    return settled(garment, changed, Note(said, measure=level, by=by))


def _from_waist(piece: Piece) -> bool:
    return any(edge.kind == "casing" or edge.name.startswith("waist") for edge in piece)


def _wedge_cut(garment: Garment, piece: str, level: str, at: str) -> Slash:
    if all(mark.name != level for mark in garment.piece(piece).marks):
        _pieces_with(garment, level)  # says which lines there are, if there is none of that name
    cut = slash(garment.piece(piece), _level(garment.piece(piece), level))
    if cut.left.name == cut.right.name:
        raise GarmentError(
            f"The {_spoken(level)} line of '{cut.piece.title.lower()}' begins and ends on its edge "
            f"'{cut.left.name}': no wedge could be wider at one end than at the other.",
            where=f"garment '{garment.name}', piece '{piece}'",
            mend="Choose another level, or lengthen it there.",
        )
    if at not in (cut.left.name, cut.right.name):
        raise GarmentError(
            f"The {_spoken(level)} line of '{cut.piece.title.lower()}' does not meet its edge '{at}'.",
            where=f"garment '{garment.name}', piece '{piece}'",
            mend=f"It runs from '{cut.left.name}' to '{cut.right.name}'.",
        )
    return cut


def _wanted(garment: Garment, changed: dict[str, Piece], piece: str, edge: str) -> float | None:
    """How much an edge must grow to match the changed edge it is sewn to; None where it does already. [cm]"""

    def grown(name: str, line: str) -> float:
        return changed[name].line(line).length() - garment.piece(name).line(line).length()

    for seam in garment.seams:
        for mine, other in ((seam.a, seam.b), (seam.b, seam.a)):
            if [(run.piece, run.line) for run in mine] == [(piece, edge)] and len(other) == 1:
                mate = other[0]
                if mate.piece in changed and mate.piece != piece:
                    wanted = grown(mate.piece, mate.line)
                    return wanted if abs(wanted - grown(piece, edge)) > SEAM_MATCH / 2 else None
    return None


# ---- where to slash ----------------------------------------------------------------------------------


def _pieces_with(garment: Garment, level: str) -> list[Piece]:
    found = [p for p in garment.pieces if any(m.name == level for m in p.marks)]
    if not found:
        names = sorted({m.name for p in garment.pieces for m in p.marks if m.kind in ("level", "adjust")})
        raise GarmentError(
            f"No piece of it has a line '{level}'.",
            where=f"garment '{garment.name}'",
            mend=f"Its lines are {', '.join(names) or 'none'}.",
        )
    return found


def _level(piece: Piece, level: str) -> Curve:
    return piece.mark(level).curve


def _slashes(garment: Garment, pieces: Iterable[Piece], level: str) -> dict[str, Slash]:
    """The pieces that have the line, and those sewn along the edges it crosses, piece by piece."""
    found = {piece.name: slash(piece, _level(piece, level)) for piece in pieces}
    waiting = list(found)
    while waiting:
        name = waiting.pop()
        for seam in garment.seams:
            for mine, other in ((seam.a, seam.b), (seam.b, seam.a)):
                for piece, place in _across(garment, seam, mine, other, found[name]):
                    if piece.name not in found:
                        found[piece.name] = slash(piece, _level_through(piece, place))
                        waiting.append(piece.name)
    return found


def _across(
    garment: Garment, seam: Seam, mine: tuple[Run, ...], other: tuple[Run, ...], cut: Slash
) -> Iterable[tuple[Piece, Point]]:
    """Where the line goes on into the piece on the other side of a seam."""
    done = 0.0
    for run in mine:
        curve = garment.piece(run.piece).line(run.line)
        for edge, end in ((cut.left, cut.line.start), (cut.right, cut.line.end)):
            if (run.piece, run.line) != (cut.piece.name, edge.name):
                continue
            there = nearest(curve, end).along
            at = done + (curve.length() - there if run.backwards else there)
            reached = _place(garment, other, at * garment.length(other) / garment.length(mine))
            if reached:
                yield reached
        done += curve.length()


def _place(garment: Garment, runs: tuple[Run, ...], at: float) -> tuple[Piece, Point] | None:
    """Piece and place so far along the runs; None where they are lines drawn inside a piece."""
    for run in runs:
        piece = garment.piece(run.piece)
        length = piece.line(run.line).length()
        if at <= length:
            if garment.edge_of(run) is None:
                return None
            curve = garment.curve(run)
            return piece, curve.at_length(min(max(at, FROM_CORNER), length - FROM_CORNER))
        at -= length
    return None


def _level_through(piece: Piece, place: Point) -> Curve:
    """A line square to the grain through a place on the outline, to the outline opposite."""
    up = piece.grain[0].to(piece.grain[1]).unit()
    across = up.right()
    met = [
        c.point for edge in piece for c in crossings_with_line(edge.curve, place, across, tolerance=ARC_LENGTH)
    ]
    others = [p for p in met if p.distance(place) > ON_OUTLINE]
    if not others:
        raise GarmentError(
            "It cannot be slashed across: the line meets its outline at one place only.",
            where=f"piece '{piece.name}'",
            mend="Change this piece by hand.",
        )
    return line(place, min(others, key=place.distance))


def _stretch(garment: Garment, cuts: Collection[Slash], by: float, side: Side, level: str) -> Stretch:
    """The longest stretch in which no changed piece has a corner: beside a level, which itself stays where it
    is; on both sides of a line that is there to lengthen or shorten at."""
    below, above = min(cut.below for cut in cuts), min(cut.above for cut in cuts)
    both = _adjusts(cuts, level)
    stretch = (-below if both or side == "below" else 0.0, above if both or side == "above" else 0.0)
    free = stretch[1] - stretch[0]
    least = max(SHORTEST_STRETCH, -by / MOST_OUT)
    if free < least:
        raise GarmentError(
            f"{side.capitalize()} the {_spoken(level)} only {max(free, 0.0):.1f} cm are free of corners: "
            f"too little to {'let' if by > 0 else 'take'} {abs(by):.1f} cm {'in' if by > 0 else 'out'}.",
            where=f"garment '{garment.name}'",
            mend="Choose another level, or ask for less."
            if free >= SHORTEST_STRETCH
            else "Choose another level.",
        )
    return stretch


def _adjusts(cuts: Collection[Slash], level: str) -> bool:
    """Whether the line is there to lengthen or shorten at, and no level of the body."""
    return all(mark.kind == "adjust" for cut in cuts for mark in cut.piece.marks if mark.name == level)


def _nearer_end(cuts: Collection[Slash]) -> Side:
    """The end of the piece nearer to the line: moving that bends nothing far away."""
    heights = [cut.height(p) for cut in cuts for edge in cut.piece for p in (edge.curve.start,)]
    return "above" if max(heights) < -min(heights) else "below"


def _spoken(level: str) -> str:
    return level.replace("adjust_", "adjusting line of the ").replace("_", " ")
