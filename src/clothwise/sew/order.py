"""The order of work, found from the seam graph by rules and not written for any garment.

The rules, in the order in which they decide:
1. Nothing before what it needs: a seam that runs across another waits for it, so that it can be pressed first;
   an edge turned in the round waits for every seam that meets it; a pocket waits for its own top.
2. Mark, stay-stitch and neaten first, while everything is flat and single.
3. Small before large: darts and pockets are done while their piece lies flat and alone.
4. Flat before round: seams that leave the work lying flat come before those that close a tube.
5. Inner before outer: of those, the seams in the middle of the body that join a piece to its own mirror image.
6. Long before short.
7. Casing, then its elastic, last but one; hems last, after trying on and, where cut off grain, a day's hanging.
Source: house rule, 2025-11, after two orders of work for pull-on trousers that the trade uses, both right.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from clothwise.cloth import Cloth
from clothwise.errors import GarmentError
from clothwise.garment import Edge, Garment, Piece, Run, Seam
from clothwise.sew.graph import copy, neighbour, own_mirror
from clothwise.sew.manners import Manners, manners
from clothwise.sew.minutes import step_minutes
from clothwise.sew.operations import Operation, operations
from clothwise.sew.sewer import Sewer
from clothwise.sew.step import Step, Tube

LEAN_HANG_DEG = 12.0  # degrees off grain from which a seam's end drops by itself: hang before hemming (T)
LEAN_HANG_LOOSE_DEG = 6.0  # the same for cloth that grows
HANG_HOURS = 24.0  # least of the observed 24-72 (three sources)
STOP_EVERY = 20.0  # minutes of likely work after which the next finished step is named as a place to stop


def order_of_work(garment: Garment, cloth: Cloth, sewer: Sewer) -> tuple[Step, ...]:
    """All steps at the machine in an order that can be sewn, numbered, with minutes and stop points.

    Raises GarmentError when the graph wants one thing before another and the other before the one.
    """
    found = operations(garment, cloth, sewer)
    ordered = _sorted(garment, found)
    ordered = _with_rests(garment, manners(cloth), ordered)
    timed = [
        replace(step, number=number, minutes=step_minutes(step, garment, cloth, sewer))
        for number, step in enumerate(ordered, 1)
    ]
    return tuple(_with_stops(timed))


# ---- sorting -----------------------------------------------------------------------------------


class _Lying:
    """Which cut pieces hang together so far: a seam within one of them closes a tube."""

    def __init__(self, garment: Garment) -> None:
        self.garment = garment
        self.lot: dict[tuple[str, str], tuple[str, str]] = {}
        self.tubes: set[tuple[str, str]] = set()

    def _body(self, run: Run) -> tuple[str, str]:
        piece = self.garment.piece(run.piece)
        return run.piece, "whole" if piece.copies == 1 else run.side

    def _root(self, body: tuple[str, str]) -> tuple[str, str]:
        while (up := self.lot.get(body, body)) != body:
            body = up
        return body

    def join(self, seam: Seam) -> Tube:
        """Sew all copies of the seam, and what that did to the shape."""
        found: Tube = ""
        for number in range(seam.times):
            one, other = copy(seam.a, number), copy(seam.b, number)
            roots = [self._root(self._body(run)) for run in (*one, *other)]
            across = self._root(self._body(one[0])), self._root(self._body(other[0]))
            if across[0] == across[1]:
                found = "closes" if number and not found else "closes each"
                self.tubes.add(across[0])
            elif across[0] in self.tubes and across[1] in self.tubes:
                found = "nested"
            for root in roots[1:]:
                if root in self.tubes:
                    self.tubes.add(self._root(roots[0]))
                self.lot[self._root(root)] = self._root(roots[0])
        return found

    def joined(self, runs: tuple[Run, ...]) -> bool:
        """Whether the first run's copy hangs together with another copy already."""
        mine = self._root(self._body(runs[0]))
        return any(self._root(one) == mine and one != mine for one in self.lot) or mine in self.tubes

    def would(self, seam: Seam) -> Tube:
        """What sewing it would do to the shape."""
        trial = _Lying(self.garment)
        trial.lot, trial.tubes = dict(self.lot), set(self.tubes)
        return trial.join(seam)


def _rank(step: Step) -> int:
    ranks = {"mark": 0, "stay": 1, "neaten": 2, "fold in": 4, "patch": 5, "elastic": 8}
    if step.kind == "turn":
        return {"pocket top": 4, "casing": 7}.get(step.why, 9)
    if step.kind == "seam":
        return 6 if step.joins else 3  # a dart joins nothing but itself
    return ranks[step.kind]


def _sorted(garment: Garment, found: Sequence[Operation]) -> list[Step]:
    seams = {seam.name: seam for seam in garment.seams}
    lying = _Lying(garment)
    names = {op.step.name for op in found}
    waiting = list(found)
    done: set[str] = set()
    ordered: list[Step] = []

    def key(op: Operation) -> tuple[float, ...]:
        seam = seams.get(op.step.name)
        if seam is None or op.step.kind != "seam":
            return (_rank(op.step),)
        once = op.step.length / op.step.rows / op.step.times
        return (_rank(op.step), lying.would(seam) != "", not own_mirror(seam), -once)

    while waiting:
        ready = [op for op in waiting if not (op.needs & names) - done]
        if not ready:
            raise _circular(garment, waiting)
        chosen = min(ready, key=key)
        waiting.remove(chosen)
        step = chosen.step
        if step.joins and step.kind == "seam":
            seam = seams[step.name]
            joined = lying.joined(seam.a) and lying.joined(seam.b)
            step = replace(step, joined=joined, tube=lying.join(seam))
        ordered.append(step)
        done.add(step.name)
    return ordered


def _circular(garment: Garment, waiting: Sequence[Operation]) -> GarmentError:
    titles = ", ".join(op.step.title.lower() for op in waiting)
    return GarmentError(
        f"These cannot be sewn in any order, each waits for another: {titles}.",
        where=f"garment '{garment.name}'",
        mend="Look at which seams run across which, and at what they are asked to come after.",
    )


# ---- rests and stops ---------------------------------------------------------------------------


def _with_rests(garment: Garment, cloth_manners: Manners, steps: list[Step]) -> list[Step]:
    """Trying on and hanging before the first hem, pressing at the end."""
    first_hem = next((i for i, s in enumerate(steps) if s.kind == "turn" and s.why == "hem"), len(steps))
    rests = [Step(0, "try on", "try on", "Try it on", facing="right side up", why="try on")]
    if hangs(garment, cloth_manners):
        hang = Step(0, "hang", "hang", "Let it hang", facing="right side up", wait_hours=HANG_HOURS, why="hang")
        rests.insert(0, hang)
    last = Step(0, "press", "press", "Press the whole", facing="right side up", why="press")
    return [*steps[:first_hem], *rests, *steps[first_hem:], last]


def hangs(garment: Garment, cloth_manners: Manners) -> bool:
    """Whether the work must hang before the hem is levelled: cut on the bias, or a side far off the grain."""
    most = LEAN_HANG_LOOSE_DEG if "grows" in cloth_manners.tips else LEAN_HANG_DEG
    return any(piece.bias for piece in garment.pieces) or greatest_lean_deg(garment) > most


def greatest_lean_deg(garment: Garment) -> float:
    """The most that a seam running down to a hem spreads away from the grain, end to end. [degrees]"""
    leans = [0.0]
    for free in garment.free_edges:
        for run in free.runs if free.kind == "hem" else ():
            piece = garment.piece(run.piece)
            for at_end in (False, True):
                edge = neighbour(piece, run.line, at_end=at_end)
                if edge and edge.kind == "seam":
                    leans.append(_flare_deg(piece, edge, foot_first=at_end))
    return max(leans)


def _flare_deg(piece: Piece, edge: Edge, *, foot_first: bool) -> float:
    """How far an edge spreads from the grain on its way down; negative where the piece narrows. [degrees]"""
    foot, head = (edge.curve.start, edge.curve.end) if foot_first else (edge.curve.end, edge.curve.start)
    grain = piece.grain[0].to(piece.grain[1]).unit()
    out = abs(piece.grain[0].to(foot).cross(grain)) - abs(piece.grain[0].to(head).cross(grain))
    return math.degrees(math.asin(max(-1.0, min(1.0, out / max(foot.distance(head), 1.0)))))


def _with_stops(steps: Sequence[Step]) -> list[Step]:
    """Good places to leave off: something is finished, nothing is pinned or half threaded."""
    marked: list[Step] = []
    since = 0.0
    for number, step in enumerate(steps):
        since += step.minutes.likely
        following = steps[number + 1] if number + 1 < len(steps) else None
        open_work = step.kind in ("mark", "fold in") or (step.opening > 0 and step.kind == "turn")
        stop = following is not None and not open_work and since >= STOP_EVERY
        stop = stop or step.kind == "hang"
        marked.append(replace(step, stop=stop))
        since = 0.0 if stop else since
    return marked
