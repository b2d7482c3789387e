"""Checks on what goes round the body: girths promised, openings to be passed, elastic that holds."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
import shapely

from clothwise.garment.check.drawn import Seen, has_line
from clothwise.garment.check.fault import Fault, on_piece
from clothwise.garment.check.graph import girths_of, instances
from clothwise.garment.garment import FreeEdge, Garment, Level, Passage, Run
from clothwise.tolerance import GIRTH, ON_OUTLINE, SAME_POINT

CASING_ROOM = 0.3  # cm: the least a casing must be wider than its elastic (rules of the trade, 2 pages)
# The girths that each make of the house must promise: without them nobody has proved that it fits.
PROMISED = {
    "pull_on_trousers": ("hip", "thigh", "crotch_length_total"),
    "jogger": ("hip", "thigh", "crotch_length_total"),
    "pyjama_bottoms": ("hip", "thigh", "crotch_length_total"),
    "leggings": ("hip", "thigh", "crotch_length_total"),
    "four_panel_skirt": ("hip",),
    "darted_shift": ("bust", "waist", "hip"),
    "button_front_shirt": ("bust", "waist", "hip", "upper_arm"),
    "a_line_skirt": ("waist", "hip"),
    "circle_skirt": ("hip",),
    "bias_skirt": ("hip",),
    "gathered_skirt": ("hip",),
    "tiered_skirt": ("hip",),
    "cut_on_sleeve_tee": ("bust",),
    "raglan_pullover": ("bust", "arm"),
    "bias_camisole": ("bust", "hip"),
    "sweatshirt": ("bust", "upper_arm"),
    "robe": ("bust",),
    "apron": ("waist",),
}
OVERLAP = 3.0  # cm: elastic cut longer than the ring it makes, its ends laid over one another (trade: 2-2.5)

Pieces = dict[str, Seen]


def girth_faults(garment: Garment, pieces: Pieces) -> Iterator[Fault]:
    promised = {level.name for level in garment.levels}
    for name in PROMISED.get(garment.name, ()):
        if name not in promised:
            what = f"It promises no girth at the {name}."
            yield Fault("level missing", f"garment '{garment.name}'", what)
    for girth in girths_of(garment):
        if all(has_line(pieces, Run(piece, line)) for piece, line, _ in girth.runs):
            yield from _times(pieces, girth)
            yield from _across(pieces, girth)
            yield from _level(garment, pieces, girth) if isinstance(girth, Level) else _passage(pieces, girth)
    for free in garment.free_edges:
        if free.elastic > 0:
            yield from _elastic(garment, pieces, free)
        yield from _turn(pieces, free)


def _times(pieces: Pieces, girth: Level | Passage) -> Iterator[Fault]:
    for piece, line, times in girth.runs:
        there = instances(pieces[piece].piece)
        if not 1 <= times <= there:
            what = f"'{line}' of '{piece}' goes round {times} times and is there {there} times."
            yield Fault("goes round", f"'{girth.name}'", what, times, there)


def _across(pieces: Pieces, girth: Level | Passage) -> Iterator[Fault]:
    """A girth measured along a drawn line counts only if the line runs from outline to outline, or to the
    centre line of a front that overlaps: closed, centre lies on centre."""
    for name, line, _ in girth.runs:
        seen = pieces[name]
        if seen.shape is None or any(line == e.name for e in seen.piece.edges):
            continue
        drawn = seen.lines[line]
        ends = shapely.points(drawn.points[[0, -1]])
        centres = [m.name for m in seen.piece.marks if m.kind == "centre"]
        reach = [seen.shape.exterior, *(shapely.LineString(seen.lines[n].points) for n in centres)]
        short = float(np.min([shapely.distance(one, ends) for one in reach], axis=0).max())
        if short > ON_OUTLINE:
            what = f"The line of '{girth.name}' ends {short:.2f} cm from the outline: it does not go round."
            yield Fault("level across", on_piece(name, line), what, short, ON_OUTLINE)


def girth(pieces: Pieces, runs: tuple[tuple[str, str, int], ...]) -> float:
    """Round the finished garment along these lines, darts sewn. [cm]"""
    total = 0.0
    for name, line, times in runs:
        seen = pieces[name]
        length = seen.lines[line].length
        if seen.piece.darts and not any(line == e.name for e in seen.piece.edges):
            across = shapely.LineString(seen.lines[line].points)
            for dart in seen.piece.darts:
                length -= across.intersection(shapely.Polygon(dart.drawn)).length
        total += length * times
    return total


def _level(garment: Garment, pieces: Pieces, level: Level) -> Iterator[Fault]:
    found = girth(pieces, level.runs)
    off = found - (level.body + level.ease)
    if math.isnan(off) or off < -GIRTH or (off > GIRTH and not level.at_least):
        if any(note.measure == level.name and abs(note.by - off) <= GIRTH for note in garment.notes):
            return
        least = "at least " if level.at_least else ""
        what = f"It measures {found:.2f} cm, promised {least}{level.body:.2f} + {level.ease:.2f} cm."
        yield Fault("girth", f"level '{level.name}'", what, off, GIRTH)


def _passage(pieces: Pieces, passage: Passage) -> Iterator[Fault]:
    opens = girth(pieces, passage.runs) * (1 + passage.stretch)
    if not opens >= passage.passes + passage.needs - GIRTH:
        what = f"It opens to {opens:.1f} cm and must pass {passage.passes:.1f} + {passage.needs:.1f} cm."
        yield Fault("passage", f"passage '{passage.name}'", what, opens, passage.passes + passage.needs)


def _elastic(garment: Garment, pieces: Pieces, free: FreeEdge) -> Iterator[Fault]:
    where = f"'{free.name}'"
    bought = [n for n in garment.notions if n.name == "elastic" and n.place == free.name]
    runs = [r for r in free.runs if has_line(pieces, r)]
    around = free.times * sum(pieces[r.piece].lines[r.line].length for r in runs)
    if not bought:
        yield Fault("elastic", where, f"It carries elastic {free.elastic:g} cm wide, and none is bought.")
    for notion in bought:
        if abs(notion.width - free.elastic) > SAME_POINT:
            what = f"The elastic is {notion.width:g} cm wide, its casing is made for {free.elastic:g} cm."
            yield Fault("elastic", where, what, notion.width, free.elastic)
        if not 0 < notion.length <= around + OVERLAP:
            what = f"{notion.length:.1f} cm of elastic do not draw in an edge of {around:.1f} cm."
            yield Fault("elastic", where, what, notion.length, around)
    room = free.turn - free.fold_in - free.elastic
    if not room >= CASING_ROOM - SAME_POINT:
        what = f"The casing is {room:.2f} cm wider than its elastic; less than {CASING_ROOM:g} cm binds."
        yield Fault("casing room", where, what, room, CASING_ROOM)
    edges = {(r.piece, r.line) for r in runs}
    if free.closed and not any((piece, line) in edges for p in garment.passages for piece, line, _ in p.runs):
        yield Fault("passage missing", where, "An edge drawn in by elastic is nowhere shown to pass the body.")


def _turn(pieces: Pieces, free: FreeEdge) -> Iterator[Fault]:
    """The edges leave outside them exactly what is turned."""
    where = f"'{free.name}'"
    if not 0 <= free.fold_in < free.turn and not (free.kind == "band" and free.fold_in == free.turn):
        what = f"{free.fold_in:g} cm are folded in of a turn of {free.turn:g} cm."
        yield Fault("turn", where, what, free.fold_in, free.turn)
    for run in free.runs:
        for edge in pieces[run.piece].piece.edges if run.piece in pieces else ():
            if edge.name == run.line and abs(edge.allowance - free.turn) > SAME_POINT:
                what = f"{free.turn:g} cm are turned and {edge.allowance:g} cm are cut for it."
                yield Fault("turn", on_piece(run.piece, run.line), what, edge.allowance, free.turn)
