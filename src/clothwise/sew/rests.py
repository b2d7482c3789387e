"""Rests in the work: trying on and hanging before the first hem, pressing at the end, places to stop."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from clothwise.garment import Edge, Garment, Piece
from clothwise.sew.cut_copies import neighbour
from clothwise.sew.graph import runs_across
from clothwise.sew.manners import Manners
from clothwise.sew.step import Step

LEAN_HANG_DEG = 12.0  # degrees off grain from which a seam's end drops by itself: hang before hemming (T)
LEAN_HANG_LOOSE_DEG = 6.0  # the same for cloth that grows
HEM_DEG = (
    35.0  # degrees off grain from which an edge is a hem below: a quarter circle's has 45, a sleeve's end 25
)
HANG_LONG = 30.0  # cm: a shorter seam has no weight to drop (T)
HANG_HOURS = 24.0  # least of the observed 24-72 (three sources)
HANG_HOURS_LONG = 48.0  # their middle, for what drops on: loose cloth and heavy cloth
DROPS_ON = frozenset({"grows", "soft", "thick", "weighty"})  # hints of such cloth
STOP_EVERY = 20.0  # minutes of likely work after which the next finished step is named as a place to stop
UNFINISHED = ("mark", "fuse", "fold in", "gather", "crease")  # something hangs pinned, pressed or half drawn up


def with_rests(garment: Garment, cloth_manners: Manners, steps: list[Step]) -> list[Step]:
    """Trying on and hanging before the first hem sewn in the end, pressing when all is done."""
    first_hem = _first_hem_worn(steps)
    if first_hem is None:
        first_hem = next((i for i, s in enumerate(steps) if s.kind == "buttons"), len(steps))
    rests = [Step(0, "try on", "try on", "Try it on", facing="right side up", why="try on")]
    if hangs(garment, cloth_manners):
        wait = HANG_HOURS_LONG if DROPS_ON & set(cloth_manners.tips) else HANG_HOURS
        hang = Step(0, "hang", "hang", "Let it hang", facing="right side up", wait_hours=wait, why="hang")
        rests.insert(0, hang)
    last = Step(0, "press", "press", "Press the whole", facing="right side up", why="press")
    return [*steps[:first_hem], *rests, *steps[first_hem:], last]


def _first_hem_worn(steps: list[Step]) -> int | None:
    """The first hem of what already hangs together: a bib hemmed before it is set in cannot be tried on."""
    joined: set[str] = set()
    for number, step in enumerate(steps):
        if step.kind == "turn" and step.why == "hem" and {run.piece for run in step.edges} <= joined:
            return number
        for join in step.joins if step.kind == "seam" else ():  # a pocket set on does not join its ground
            if len({(run.piece, run.side) for run in join.runs}) > 1:
                joined |= {run.piece for run in join.runs}
    return None


def hangs(garment: Garment, cloth_manners: Manners) -> bool:
    """Whether the work hangs before the hem is levelled: hemmed on the bias, or a side far off the grain."""
    most = LEAN_HANG_LOOSE_DEG if "grows" in cloth_manners.tips else LEAN_HANG_DEG
    hemmed = {run.piece for free in garment.free_edges if free.kind == "hem" for run in free.runs}
    return any(garment.piece(name).bias for name in hemmed) or greatest_lean_deg(garment) > most


def greatest_lean_deg(garment: Garment) -> float:
    """The most that a seam running down to a hem spreads away from the grain, end to end. [degrees]"""
    leans = [0.0]
    for free in garment.free_edges:
        if free.kind != "hem" or not free.closed or not runs_across(garment, free.runs, from_deg=HEM_DEG):
            continue  # the end of a sleeve cut in one with the body: its seam lies on the arm and drops nowhere
        for run in free.runs:
            piece = garment.piece(run.piece)
            for at_end in (False, True):
                edge = neighbour(piece, run.line, at_end=at_end)
                if edge and edge.kind == "seam" and edge.curve.length() >= HANG_LONG:
                    leans.append(_flare_deg(piece, edge, foot_first=at_end))
    return max(leans)


def _flare_deg(piece: Piece, edge: Edge, *, foot_first: bool) -> float:
    """How far an edge spreads from the grain on its way down; negative where the piece narrows. [degrees]"""
    foot, head = (edge.curve.start, edge.curve.end) if foot_first else (edge.curve.end, edge.curve.start)
    grain = piece.grain[0].to(piece.grain[1]).unit()
    out = abs(piece.grain[0].to(foot).cross(grain)) - abs(piece.grain[0].to(head).cross(grain))
    return math.degrees(math.asin(max(-1.0, min(1.0, out / max(foot.distance(head), 1.0)))))


def with_stops(steps: Sequence[Step]) -> list[Step]:
    """Good places to leave off: something is finished, nothing is pinned or half threaded."""
    marked: list[Step] = []
    since = 0.0
    for number, step in enumerate(steps):
        since += step.minutes.likely
        following = steps[number + 1] if number + 1 < len(steps) else None
        open_work = step.kind in UNFINISHED or (step.opening > 0 and step.kind in ("turn", "band"))
        stop = following is not None and not open_work and since >= STOP_EVERY
        stop = stop or step.kind == "hang"
        marked.append(replace(step, stop=stop))
        since = 0.0 if stop else since
    return marked
