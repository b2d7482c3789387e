"""Checks on seams: lengths, ends, corners that come together, allowances, notches."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator
from itertools import pairwise

from clothwise.garment.check.drawn import Seen, has_line
from clothwise.garment.check.fault import Fault, on_piece
from clothwise.garment.garment import Garment, Run, Seam
from clothwise.garment.piece import Edge
from clothwise.tolerance import ANGLE_DEG, NOTCH_CORNER, NOTCH_MATCH, ON_OUTLINE, SAME_POINT, SEAM_MATCH

FINISHED = ("hem", "casing", "raw")  # edges that run on across a seam and are finished as one
Pieces = dict[str, Seen]
# The end of an edge: piece, edge, whether its end (else its start).
End = tuple[str, str, bool]


def seam_faults(garment: Garment, pieces: Pieces) -> Iterator[Fault]:
    whole = [s for s in garment.seams if s.a and s.b and all(has_line(pieces, r) for r in s.runs)]
    for seam in whole:
        yield from _lengths(pieces, seam)
        yield from _allowances(pieces, seam)
        yield from _same_end(pieces, seam)
        yield from _face_to_face(pieces, seam)
        yield from _chains(pieces, seam)
        yield from _notches(pieces, seam)
    yield from _lone_notches(garment, whole)
    yield from _runs_on(pieces, whole)
    yield from _goes_round(garment, pieces, whole)
    yield from _joints(garment, pieces)


def _edge(pieces: Pieces, run: Run) -> Edge | None:
    """The edge a run walks, or None when it is a line drawn inside the piece."""
    return next((e for e in pieces[run.piece].piece.edges if e.name == run.line), None)


def _length(pieces: Pieces, runs: tuple[Run, ...]) -> float:
    return sum(pieces[r.piece].lines[r.line].length for r in runs)


def _on_seam(seam: Seam) -> str:
    return f"seam '{seam.name}'"


# ---- lengths and allowances --------------------------------------------------------------------------


def _lengths(pieces: Pieces, seam: Seam) -> Iterator[Fault]:
    a, b = _length(pieces, seam.a), _length(pieces, seam.b)
    off = a - (seam.ratio * b + seam.ease)
    if not abs(off) <= SEAM_MATCH:
        wanted = (
            "" if seam.ratio == 1 and seam.ease == 0 else f", wanted {seam.ratio:g} times it + {seam.ease:g} cm"
        )
        what = f"Side a is {a:.2f} cm long and side b {b:.2f} cm{wanted}: off by {off * 10:.1f} mm."
        yield Fault("seam length", _on_seam(seam), what, off, SEAM_MATCH)
    for ply in seam.more:
        found = _length(pieces, ply)
        off = min(found - a, found - b, key=abs)
        if not abs(off) <= SEAM_MATCH:
            what = f"A ply caught in the seam is {found:.2f} cm long, its sides {a:.2f} and {b:.2f} cm."
            yield Fault("seam length", _on_seam(seam), what, off, SEAM_MATCH)


def _allowances(pieces: Pieces, seam: Seam) -> Iterator[Fault]:
    widths = {(r.piece, r.line): e.allowance for r in seam.runs if (e := _edge(pieces, r)) is not None}
    if widths and max(widths.values()) - min(widths.values()) > SAME_POINT:
        listed = ", ".join(f"{piece} {line} {cm:g} cm" for (piece, line), cm in widths.items())
        spread = max(widths.values()) - min(widths.values())
        yield Fault("allowances equal", _on_seam(seam), f"Its edges have unlike allowances: {listed}.", spread)
    for (piece, line), cm in widths.items():
        if not cm > 0:
            yield Fault(
                "allowance missing", on_piece(piece, line), f"A seam edge has {cm:g} cm of allowance.", cm
            )


# ---- what comes together at a seam's ends --------------------------------------------------------------


def _walk_end(run: Run, *, last: bool) -> End:
    """The edge's end at which a run is entered, or left."""
    return run.piece, run.line, last != run.backwards


def _across(pieces: Pieces, end: End) -> str:
    """The edge that meets this one at that end."""
    piece, line, at_end = end
    return pieces[piece].neighbour(line, at_end=at_end)


def _corner(pieces: Pieces, end: End) -> float:
    piece, line, at_end = end
    return pieces[piece].corner_deg(line, at_end=at_end)


def _kind(pieces: Pieces, piece: str, line: str) -> str:
    return next(e.kind for e in pieces[piece].piece.edges if e.name == line)


def _seam_ends(pieces: Pieces, seam: Seam) -> list[tuple[End, End]]:
    """At the walked start and end: the ends of a's and b's edges that come together. Without drawn-in lines."""
    ends = []
    for last, i in ((False, 0), (True, -1)):
        pair = (seam.a[i], seam.b[i])
        if all(_edge(pieces, run) is not None for run in pair):
            ends.append((_walk_end(pair[0], last=last), _walk_end(pair[1], last=last)))
    return ends


def _same_end(pieces: Pieces, seam: Seam) -> Iterator[Fault]:
    """Both sides begin at the same end: the kinds of the edges met there agree, unless both ends look alike."""
    ends = _seam_ends(pieces, seam)
    if len(ends) < 2:
        return
    (a0, b0), (a1, b1) = ([_kind(pieces, e[0], _across(pieces, e)) for e in pair] for pair in ends)
    if a0 != b0 and a1 != b1 and a0 == b1 and a1 == b0:
        what = f"Side a is walked from the {a0} and side b from the {b0}: one of them runs the wrong way."
        yield Fault("same end", _on_seam(seam), what)


def _face_to_face(pieces: Pieces, seam: Seam) -> Iterator[Fault]:
    """Outlines run anticlockwise, so laid right sides together two edges run against each other; an edge
    and one of a mirrored piece run along with each other.

    Not asked of pieces on the fold, which are there both ways, nor of what lies flat on another piece.
    """
    if seam.kind in ("patch", "applied"):
        return
    for a, b in zip(seam.a, seam.b, strict=False):
        if "on fold" in (pieces[a.piece].piece.cutting, pieces[b.piece].piece.cutting):
            continue
        if (a.backwards != b.backwards) == (a.side != b.side):
            what = f"'{a.line}' of '{a.piece}' and '{b.line}' of '{b.piece}' fit only with one wrong side out."
            yield Fault("face to face", _on_seam(seam), what)
            return


def _chains(pieces: Pieces, seam: Seam) -> Iterator[Fault]:
    """Where one piece follows another along a side, the sewing line runs on without a corner."""
    for runs in (seam.a, seam.b):
        for one, other in pairwise(runs):
            if _edge(pieces, one) is None or _edge(pieces, other) is None:
                continue
            left, entered = _walk_end(one, last=True), _walk_end(other, last=False)
            if one.piece == other.piece and _turns_on(pieces, left, other.line):
                continue  # told by other rules: a corner of the piece, a dart between, a point at the fold
            if one.piece == other.piece and _across_dart(pieces, left) == other.line:
                continue  # over a dart, whose sewn mouth has its own rule
            total = _corner(pieces, left) + _corner(pieces, entered)
            if not abs(total - 180.0) <= ANGLE_DEG:
                what = f"From '{one.piece}' to '{other.piece}' the line makes a corner of {total:.1f} degrees."
                yield Fault("runs on", _on_seam(seam), what, total, 180.0)


def _across_dart(pieces: Pieces, end: End) -> str | None:
    """The edge beyond the dart whose mouth meets this edge at that end, if there is one."""
    piece, _, at_end = end
    mouth = _across(pieces, end)
    if mouth not in {dart.edge for dart in pieces[piece].piece.darts}:
        return None
    return pieces[piece].neighbour(mouth, at_end=at_end)


def _turns_on(pieces: Pieces, left: End, line: str) -> bool:
    """Whether a side goes on in the same piece: round a corner of it, as on a pocket; over a dart, which is
    sewn first; or to its mirror image, from a point that is meant at the fold."""
    piece = pieces[left[0]].piece
    across = _across(pieces, left)
    if across == line:
        return True
    if any(dart.edge == across for dart in piece.darts):
        return _across(pieces, (left[0], across, left[2])) == line
    return line == left[1] and piece.edge(line).pointed


def _runs_on(pieces: Pieces, seams: list[Seam]) -> Iterator[Fault]:
    """A hem or casing crosses every seam without a corner, whether or not the draft names the joint.

    Where the seam stops at a slit its two edges run straight on from it instead, 180 degrees on either piece.
    """
    told: set[frozenset[End]] = set()
    for seam in seams:
        if seam.kind == "patch":
            continue
        for one, other in _seam_ends(pieces, seam):
            kinds = [_kind(pieces, end[0], _across(pieces, end)) for end in (one, other)]
            if kinds[0] != kinds[1] or kinds[0] not in FINISHED or frozenset((one, other)) in told:
                continue
            told.add(frozenset((one, other)))
            total = _corner(pieces, one) + _corner(pieces, other)
            if not min(abs(total - 180.0), abs(total - 360.0)) <= ANGLE_DEG:
                what = f"The {kinds[0]} makes a corner of {total:.1f} degrees across the seam."
                yield Fault("runs on", _on_seam(seam), what, total, 180.0)


def _goes_round(garment: Garment, pieces: Pieces, seams: list[Seam]) -> Iterator[Fault]:
    """A hem or casing sewn in the round is closed: each of its ends meets another of its ends in a seam."""
    partners: dict[End, list[End]] = defaultdict(list)
    for seam in seams:
        for one, other in _seam_ends(pieces, seam):
            partners[one].append(other)
            partners[other].append(one)
    for piece in garment.pieces:
        for dart in (d for d in piece.darts if d.other_tip is None):  # sewn, its two mouth ends are one
            partners[piece.name, dart.edge, False].append((piece.name, dart.edge, True))
            partners[piece.name, dart.edge, True].append((piece.name, dart.edge, False))
    for free in garment.free_edges:
        runs = [r for r in free.runs if has_line(pieces, r) and _edge(pieces, r) is not None]
        if not free.closed or len(runs) < len(free.runs):
            continue
        own = {(r.piece, r.line) for r in runs}
        for name, line in sorted(own):
            for at_end in (False, True):
                across = pieces[name].neighbour(line, at_end=at_end)
                # the crossing edge begins where this one ends
                met = {(p, _across(pieces, (p, e, end))) for p, e, end in partners[name, across, not at_end]}
                if (name, across) in own or _kind(pieces, name, across) == "fold" or met & own:
                    continue
                what = f"It is sewn in the round, but at '{across}' of '{name}' it meets none of its edges."
                yield Fault("goes round", f"'{free.name}'", what)


def _joints(garment: Garment, pieces: Pieces) -> Iterator[Fault]:
    for joint in garment.joints:
        angles = []
        for c in joint.corners:
            edges = [e.name for e in pieces[c.piece].piece.edges] if c.piece in pieces else []
            if c.before in edges and edges[(edges.index(c.before) + 1) % len(edges)] == c.after:
                angles.append(pieces[c.piece].angle_deg(c.before, c.after))
        if not angles or len(angles) < len(joint.corners):
            continue  # told by the rule 'joint corners'
        total = math.fsum(angles)
        if not abs(total - joint.total_deg) <= ANGLE_DEG:
            listed = " + ".join(f"{a:.1f}" for a in angles)
            what = f"Its corners make {listed} = {total:.1f} degrees together, wanted {joint.total_deg:g}."
            yield Fault("joint angle", f"joint '{joint.name}'", what, total, joint.total_deg)


# ---- notches -----------------------------------------------------------------------------------------------


def _notches(pieces: Pieces, seam: Seam) -> Iterator[Fault]:
    if any(_edge(pieces, run) is None for run in (*seam.a, *seam.b)):
        return  # sewn to a line drawn inside a piece: nothing to snip there
    a, b = _walked(pieces, seam.a), _walked(pieces, seam.b)
    for sign in sorted(a.keys() ^ b.keys()):
        side = "a" if sign in a else "b"
        yield Fault("notch pair", _on_seam(seam), f"Notch '{sign}' stands on side {side} only.")
    for sign in sorted(a.keys() & b.keys()):
        off = _notch_gap(pieces, seam, a[sign], b[sign])
        if not off <= NOTCH_MATCH:
            what = f"Notch '{sign}' lies {a[sign]:.2f} cm along side a and {b[sign]:.2f} cm along side b."
            yield Fault("notch match", _on_seam(seam), what, off, NOTCH_MATCH)


def _walked(pieces: Pieces, runs: tuple[Run, ...]) -> dict[str, float]:
    """Signs on one side with their distance from the walked start. [cm]"""
    found: dict[str, float] = {}
    done = 0.0
    for run in runs:
        length = pieces[run.piece].lines[run.line].length
        edge = _edge(pieces, run)
        for notch in edge.notches if edge else ():
            found[notch.sign] = done + (length - notch.at if run.backwards else notch.at)
        done += length
    return found


def _notch_gap(pieces: Pieces, seam: Seam, a: float, b: float) -> float:
    """How far a pair misses. With fullness in the seam it may lie before, after or spread along the notch."""
    if seam.ratio == 1 and seam.ease == 0:
        return abs(a - b)
    length_a, length_b = _length(pieces, seam.a), _length(pieces, seam.b)
    return min(abs(a - b), abs((length_a - a) - (length_b - b)), abs(a - b * length_a / length_b))


def _lone_notches(garment: Garment, seams: list[Seam]) -> Iterator[Fault]:
    sewn = {(r.piece, r.line) for s in seams for r in s.runs}
    for piece in garment.pieces:
        for edge in piece.edges:
            if edge.notches and (piece.name, edge.name) not in sewn:
                what = f"It has {len(edge.notches)} notches and is in no seam."
                yield Fault("notch pair", on_piece(piece.name, edge.name), what, len(edge.notches))


def edge_notch_faults(pieces: Pieces) -> Iterator[Fault]:
    """Notches on each edge by itself: on it, away from its corners, each sign once."""
    for seen in pieces.values():
        for edge in seen.piece.edges:
            length = seen.lines[edge.name].length
            signs = [n.sign for n in edge.notches]
            where = on_piece(seen.piece.name, edge.name)
            for notch in edge.notches:
                near = min(notch.at, length - notch.at)
                if not near >= NOTCH_CORNER - ON_OUTLINE:
                    what = f"Notch '{notch.sign}' lies {near:.2f} cm from a corner."
                    yield Fault("notch near corner", where, what, near, NOTCH_CORNER)
                if signs.count(notch.sign) > 1 or not notch.sign or notch.count not in (1, 2, 3):
                    what = f"Notch '{notch.sign}' (x{notch.count}) cannot be told from others."
                    yield Fault("notch sign", where, what, notch.count)
