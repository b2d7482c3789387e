"""The order of work, found from the seam graph by rules and not written for any garment.

The rules, in the order in which they decide:
1. Nothing before what it needs: a seam that runs across another waits for it, so that it can be pressed first;
   an edge turned in the round waits for every seam that meets it; what is caught in a seam is prepared before.
2. Mark, fuse interfacing, stay-stitch and neaten first, while everything is flat and single.
3. Small before large: darts and pleats, then collars, cuffs, bands, facings and pockets, while they lie flat
   and alone.
4. Flat before round: seams that leave the work lying flat come before those that close a tube. Shoulders, and
   whatever runs across the body, leave it flat; sides close it.
5. A band is sewn down, a zip set in, as soon as it can be.
6. Inner before outer: the seams in the middle of the body that join a piece to its own mirror image.
7. Long before short. A seam that runs on into another is sewn with it in one go.
8. Casing, then its elastic or cord, late; growth tucks, then hems last, after trying on and, where cut off
   grain, a day's hanging; buttonholes and buttons when all else is done.
Source: house rule, 2025-11 and 2026-11, after orders of work for trousers that the trade uses, both right.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from clothwise.cloth import Cloth
from clothwise.errors import GarmentError
from clothwise.garment import Garment
from clothwise.sew.bench import Bench, Operation, bench_for, has_pocket
from clothwise.sew.cut_copies import back, own_mirror
from clothwise.sew.lying import Lying, flanks, runs_on
from clothwise.sew.minutes import step_minutes
from clothwise.sew.needs import Alternative, Preferring
from clothwise.sew.operations import operations
from clothwise.sew.phrases import Telling
from clothwise.sew.rests import with_rests, with_stops
from clothwise.sew.sewer import Sewer
from clothwise.sew.step import Join, Step


def order_of_work(
    garment: Garment, cloth: Cloth, sewer: Sewer, *, preferring: Preferring | None = None
) -> tuple[Step, ...]:
    """All steps at the machine in an order that can be sewn, numbered, with minutes and stop points.

    preferring  for seams of `alternatives`: 'flat' or 'in the round' instead of what the rules say
    Raises      GarmentError when the graph wants one thing before another and the other before the one, or for
                a preference there is no choice about
    """
    bench = bench_for(garment, cloth, sewer, preferring or {})
    ordered = _sorted(bench, operations(bench))
    ordered = with_rests(garment, bench.manners, _turned_once(_told_apart(garment, ordered)))
    timed = [
        replace(step, number=number, minutes=step_minutes(step, garment, cloth, sewer))
        for number, step in enumerate(ordered, 1)
    ]
    return tuple(with_stops(timed))


def _turned_once(steps: list[Step]) -> list[Step]:
    """A facing sewn on along two edges, neck and front, is turned with the last of them; one that is rolled to
    reach its armholes hangs inside already."""
    found = []
    for number, step in enumerate(steps):
        later = [s for s in steps[number + 1 :] if s.make == "facing" and s.why != "rolled"]
        mine = {run.piece for join in step.joins for run in join.a}
        waits = step.make == "facing" and any(mine & {r.piece for j in s.joins for r in j.a} for s in later)
        found.append(replace(step, turned_later=True, understitch=False) if waits else step)
    return found


def _told_apart(garment: Garment, steps: list[Step]) -> list[Step]:
    """Seams of one title get their pieces' names: shoulders of the garment, shoulders of its facing."""
    titles = [step.title for step in steps if step.kind == "seam"]
    return [
        replace(step, title=f"{step.title} of the {Telling(garment).named(step.joins[0].runs)}")
        if step.kind == "seam" and titles.count(step.title) > 1
        else step
        for step in steps
    ]


def alternatives(garment: Garment, cloth: Cloth, sewer: Sewer) -> tuple[Alternative, ...]:
    """Seams that the trade sews either flat or in the round, with the usual way and the reasons for both."""
    return tuple(bench_for(garment, cloth, sewer, {}).needs.alternatives)


# ---- sorting -----------------------------------------------------------------------------------

RANKS = {
    "mark": 0, "fuse": 1, "stay": 2, "neaten": 3, "dart": 4, "pleat": 4, "eyelet": 5, "crease": 5, "fold in": 6,
    "patch": 8, "zip": 10, "band": 10, "elastic": 14, "cord": 15, "tuck": 15, "buttons": 20,
}  # fmt: skip
TURN_RANKS = {"pocket top": 6, "stand": 6, "frill hem": 6, "casing": 13}
SMALL_SEAM, POCKET_SEAM, SEAM, STRAP, HEM = 7, 9, 11, 12, 16


def _rank(bench: Bench, op: Operation) -> int:
    step = op.step
    if step.kind == "turn":
        return TURN_RANKS.get(step.why, HEM)
    if step.kind == "seam":
        if op.small:
            return SMALL_SEAM
        seam = next(s for s in bench.garment.seams if s.name == step.name)
        return POCKET_SEAM if has_pocket(bench, seam) and seam.a[0].piece != seam.b[0].piece else SEAM
    if step.kind == "elastic" and op.small:
        return SMALL_SEAM
    if step.why == "strap":
        return STRAP
    return RANKS[step.kind]


def _sorted(bench: Bench, found: Sequence[Operation]) -> list[Step]:
    lying = Lying(bench.garment)
    for piece in bench.garment.pieces:
        lying.corners.close_darts(piece)
    mirrored = {seam.name for seam in bench.garment.seams if own_mirror(seam)}
    names = {op.step.name for op in found}
    waiting = list(found)
    done: set[str] = set()
    ordered: list[Step] = []

    def key(op: Operation) -> tuple[float, ...]:
        rank = _rank(bench, op)
        if op.step.kind != "seam":
            return (rank,)
        once = op.step.length / op.step.rows / op.step.times
        tube = lying.effect(op.step.joins, across=op.across)
        return (rank, tube != "", op.step.name not in mirrored, -once)

    while waiting:
        ready = [op for op in waiting if not (op.needs & names) - done]
        if not ready:
            raise _circular(bench.garment, waiting)
        chosen = min(ready, key=key)
        taken = [chosen]
        step = chosen.step
        if step.kind == "seam":
            taken = _in_one_go(chosen, [op for op in ready if op is not chosen], lying)
            step = _sewn(taken, lying)
        for op in taken:
            waiting.remove(op)
            ordered += op.prelude
            done.add(op.step.name)
        ordered.append(step)
    return ordered


def _in_one_go(chosen: Operation, others: list[Operation], lying: Lying) -> list[Operation]:
    """The chosen seam with those it runs on into, before and after, in the order in which they are sewn."""
    chain = [chosen]
    grown = _goes_on(chosen)
    for op in others if grown else ():
        if _goes_on(op) and _alike(op.step, chosen.step):
            for pair, single in ((op, chosen), (chosen, op)):
                if flanks(pair.step.joins, single.step.joins, lying.corners):
                    return [pair, single]
    while grown:
        grown = False
        for op in others:
            if op in chain or not _goes_on(op) or not _alike(op.step, chosen.step):
                continue
            if runs_on(chain[-1].step.joins, op.step.joins, lying.corners):
                chain.append(op)
                grown = True
            elif runs_on(op.step.joins, chain[0].step.joins, lying.corners):
                chain.insert(0, op)
                grown = True
    return chain


def _goes_on(op: Operation) -> bool:
    return op.step.kind == "seam" and op.step.make in ("", "layers") and not op.step.round and not op.prelude


def _alike(one: Step, other: Step) -> bool:
    """Sewn in the same manner, so that the needle need not stop."""
    return (one.facing, one.rows, one.allowance, one.stitch, one.make) == (
        other.facing,
        other.rows,
        other.allowance,
        other.stitch,
        other.make,
    )


def _sewn(taken: list[Operation], lying: Lying) -> Step:
    """The seam step as it is when its turn comes; several seams in one go are one step."""
    first = max((op.step for op in taken), key=lambda step: step.length)
    across = all(op.across for op in taken)
    joined = lying.joined(first.joins[0])
    tube = lying.effect(first.joins, across=across)
    if tube == "nested" and not first.crossings:
        tube = ""
    for op in taken:
        lying.sew(op.step.joins, across=op.across)
    if len(taken) == 1:
        return replace(first, joined=joined, tube=tube)
    steps = [op.step for op in taken]
    first = replace(first, times=max(s.times for s in steps)) if _even(steps) else replace(first, times=1)
    return replace(
        first,
        title=" + ".join(dict.fromkeys(s.title for s in steps)),
        joins=_by_copy(steps),
        neatenings=tuple(n for s in steps for n in s.neatenings),
        notches=tuple(dict.fromkeys(sign for s in steps for sign in s.notches)),
        crossings=tuple(dict.fromkeys(title for s in steps for title in s.crossings)),
        length=sum(s.length for s in steps),
        joined=joined,
        tube=tube,
        why="in one go" if not first.make else first.why,
    )


def _even(steps: list[Step]) -> bool:
    return len({len(step.joins) for step in steps}) == 1


def _by_copy(steps: list[Step]) -> tuple[Join, ...]:
    """All joins of the left, then all of the right; or left end, middle, right end."""
    if _even(steps):
        return tuple(join for group in zip(*(s.joins for s in steps), strict=True) for join in group)
    pair, single = steps
    right = pair.joins[1]
    other = Join(back(right.a), back(right.b), tuple(back(ply) for ply in right.more), right.seam)
    return (pair.joins[0], *single.joins, other)


def _circular(garment: Garment, waiting: Sequence[Operation]) -> GarmentError:
    titles = ", ".join(op.step.title.lower() for op in waiting)
    return GarmentError(
        f"These cannot be sewn in any order, each waits for another: {titles}.",
        where=f"garment '{garment.name}'",
        mend="Look at which seams run across which, and at what they are asked to come after.",
    )
