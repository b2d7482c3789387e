"""The operations a garment asks for, read from its seams and free edges, not yet in order.

Every seam and free edge gives one operation (both copies at once), with what must be done before it. The
sewing figures (stitch length, rows, opening, finish) come from the house's rules of the trade; where only
general trade knowledge stands behind a number the comment says so.
"""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.cloth import Cloth
from clothwise.garment import Dart, FreeEdge, Garment, Piece, Run, Seam
from clothwise.sew.graph import (
    CURVED_DEG,
    allowance,
    copies,
    copy,
    edge_of,
    needed_by_edge,
    needed_by_seam,
    turning_of,
)
from clothwise.sew.manners import Manners, manners
from clothwise.sew.sewer import Sewer
from clothwise.sew.step import Facing, Finish, HeldAt, How, Join, Neatening, SeamType, Step, Stitch

FRENCH_LEAST = 1.3  # cm: a French seam eats this much allowance (three sources)
TRIM_CURVE = 0.8  # cm: what is left of a curved seam before it is neatened, so that it lies flat (T)
TRIM_LEAST = 0.2  # cm: less is not worth trimming off
EDGE_STITCH = 0.2  # cm: from a folded edge to the stitching that holds it (T)
OPENING_OVER = 3.0  # cm: threading gap beyond the elastic's width; keeps it inside the observed 4-10
OPENING_LEAST, OPENING_MOST = 4.0, 10.0  # cm: four sources
ELASTIC_OVERLAP = 2.5  # cm: ends laid over one another (three sources)
REINFORCE_MM = 2.0  # stitch length of a seam under strain: between ordinary 2.5 and reinforcing 1.5
OVERLOCK_MM, ZIGZAG_MM, ZIGZAG_WIDE = 2.5, 2.0, 4.0  # neatening stitches (T)
KNIT_LONG, KNIT_WIDE = 2.5, 1.0  # mm: narrow zigzag that stretches with a knit (n = 1, T agrees)

ELASTIC_END = "elastic_end"  # the drafts' mark where elastic ends

OVERLOCK = Stitch("504", "three-thread overlock", OVERLOCK_MM, 5.0)
KNIT_OVERLOCK = Stitch("514", "four-thread overlock", OVERLOCK_MM, 6.0)
ZIGZAG = Stitch("304", "zigzag", ZIGZAG_MM, ZIGZAG_WIDE)
NARROW_ZIGZAG = Stitch("304", "narrow zigzag", KNIT_LONG, KNIT_WIDE)

PLAIN = SeamType("1", "plain seam")
FRENCH = SeamType("1", "French seam")
PATCH = SeamType("5", "patch set on")
TURNED_ONCE = SeamType("6", "edge turned once")
TURNED_TWICE = SeamType("6", "edge turned twice")
CASING = SeamType("6", "turned casing")
NEATENED = SeamType("6", "neatened edge")


@dataclass(frozen=True, slots=True)
class Operation:
    """One step still without its place, and the names of the operations that must come before it.

    size_cm  how big the work in hand is: small parts are prepared first
    """

    step: Step
    needs: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Bench:
    """What every operation asks: the garment, the cloth's manners, the sewer."""

    garment: Garment
    cloth: Cloth
    manners: Manners
    sewer: Sewer

    def lockstitch(self, length_mm: float | None = None) -> Stitch:
        return Stitch("301", "straight stitch", length_mm or self.manners.stitch_mm)

    def joining(self, length_mm: float | None = None) -> Stitch:
        """The stitch of a seam: one that gives where the cloth gives."""
        if not self.manners.gives:
            return self.lockstitch(length_mm)
        return KNIT_OVERLOCK if self.sewer.overlocker else NARROW_ZIGZAG

    def topstitch(self) -> Stitch:
        """The stitch that holds a turned edge, seen from the right side."""
        return NARROW_ZIGZAG if self.manners.gives else self.lockstitch()


def operations(garment: Garment, cloth: Cloth, sewer: Sewer) -> tuple[Operation, ...]:
    """All that is to be done at the machine, in no order yet but with what each needs before it."""
    bench = Bench(garment, cloth, manners(cloth), sewer)
    found = [_marking(bench)]
    for op in (_neatening(bench), _staying(bench)):
        found += [op] if op else []
    for piece in garment.pieces:
        found += [_dart(bench, piece, dart) for dart in piece.darts]
    for seam in garment.seams:
        found += _patch(bench, seam) if seam.kind == "patch" else [_seam(bench, seam)]
    for edge in garment.free_edges:
        found += _free_edge(bench, edge)
    return tuple(found)


# ---- how a seam is finished --------------------------------------------------------------------


def finish_of(bench: Bench, seam: Seam) -> tuple[Finish, How]:
    """By machine, by cloth, by how it is pressed. Knits need none; fine straight seams close French."""
    machine: Finish = "overlocked" if bench.sewer.overlocker else "zigzagged"
    if seam.kind == "patch":
        return ("none needed", "alone") if bench.manners.gives else (machine, "alone")
    if bench.manners.gives:
        return ("overlocked", "in the seam") if bench.sewer.overlocker else ("none needed", "in the seam")
    if bench.manners.fine and not bench.sewer.overlocker and _can_be_french(bench.garment, seam):
        return "enclosed", "in the seam"
    curved = turning_of(bench.garment, (*seam.a, *seam.b)) >= CURVED_DEG
    return machine, "alone" if seam.pressed == "open" and not curved else "together"


def _can_be_french(garment: Garment, seam: Seam) -> bool:
    runs = (*seam.a, *seam.b)
    narrowest = min(edge.allowance for run in runs if (edge := edge_of(garment, run)))
    return seam.kind == "plain" and narrowest >= FRENCH_LEAST and turning_of(garment, runs) < CURVED_DEG


# ---- before any seam ---------------------------------------------------------------------------


def _marking(bench: Bench) -> Operation:
    return Operation(Step(0, "mark", "mark", "Mark the pieces", why="mark", facing="wrong side up"))


def _neatening(bench: Bench) -> Operation | None:
    """All edges that are neatened each by itself, while everything still lies flat."""
    edges: list[Run] = []
    finish: Finish = "overlocked" if bench.sewer.overlocker else "zigzagged"
    for seam in bench.garment.seams:
        if finish_of(bench, seam) == (finish, "alone"):
            sides = seam.a if seam.kind == "patch" else (*seam.a, *seam.b)
            edges += copies(sides, seam.times)
    if not bench.manners.gives:
        for free in bench.garment.free_edges:
            edges += copies(free.runs, free.times) if free.fold_in == 0 else ()
        edges += _raw_edges(bench.garment)
    if not edges:
        return None
    chain = tuple(dict.fromkeys(Run(r.piece, r.line, False, r.side) for r in edges))
    step = Step(
        0, "neaten", "neaten", "Neaten the edges", edges=chain, facing="right side up",
        neatenings=(Neatening(finish, "alone", chain),), seam_type=NEATENED,
        stitch=OVERLOCK if bench.sewer.overlocker else ZIGZAG, needle=bench.manners.needle,
        length=bench.garment.length(chain), why="neaten flat",
    )  # fmt: skip
    return Operation(step, frozenset({"mark"}))


def _raw_edges(garment: Garment) -> list[Run]:
    """Edges that stay as they are but for the neatening."""
    return [
        Run(piece.name, edge.name, False, "mirrored" if number else "as drawn")
        for piece in garment.pieces
        for edge in piece
        if edge.kind == "raw"
        for number in range(2 if piece.cutting == "pair" or piece.copies > 1 else 1)
    ]


def _staying(bench: Bench) -> Operation | None:
    """A line of stitches along curved edges of a cloth that grows while it waits."""
    if bench.manners.gives or not {"grows", "soft"} & set(bench.manners.tips):
        return None
    edges = tuple(
        run
        for seam in bench.garment.seams
        if seam.kind == "plain"
        for run in copies((*seam.a, *seam.b), seam.times)
        if turning_of(bench.garment, (run,)) >= CURVED_DEG
    )
    if not edges:
        return None
    chain = tuple(dict.fromkeys(Run(r.piece, r.line, False, r.side) for r in edges))
    step = Step(
        0, "stay", "stay", "Stay-stitch the curves", edges=chain, facing="right side up",
        stitch=bench.lockstitch(), needle=bench.manners.needle, length=bench.garment.length(chain),
        allowance=max(allowance(bench.garment, chain) - 0.3, 0.3), why="stay",
    )  # fmt: skip
    return Operation(step, frozenset({"mark"}))


# ---- seams -------------------------------------------------------------------------------------


def _dart(bench: Bench, piece: Piece, dart: Dart) -> Operation:
    leg = dart.tip.distance(dart.first_leg)
    step = Step(
        0, "seam", f"{piece.name} {dart.name}", f"{piece.title}: {dart.name.replace('_', ' ')}",
        stitch=bench.joining(), seam_type=SeamType("", "dart"), needle=bench.manners.needle,
        times=piece.copies, length=leg * piece.copies, pressed="to the centre", why="dart",
    )  # fmt: skip
    return Operation(step, frozenset({"mark"}))


def _signs(garment: Garment, runs: tuple[Run, ...]) -> list[str]:
    """Signs of the notches met along the runs."""
    signs: list[str] = []
    for run in runs:
        edge = edge_of(garment, run)
        notches = sorted(edge.notches, key=lambda n: n.at, reverse=run.backwards) if edge else []
        signs += [n.sign for n in notches]
    return signs


def _seam(bench: Bench, seam: Seam) -> Operation:
    garment = bench.garment
    finish, how = finish_of(bench, seam)
    before = needed_by_seam(garment, seam)
    both = (*seam.a, *seam.b)
    curved = turning_of(garment, both) >= CURVED_DEG
    rows = 2 if curved or finish == "enclosed" else 1
    width = allowance(garment, both)
    others = set(_signs(garment, seam.b))
    length = garment.length(seam.a) * seam.times * rows
    edges = copies(both, seam.times)
    trimmed = curved and how == "together" and width > TRIM_CURVE + TRIM_LEAST
    pressed = seam.pressed if how == "alone" else ("to b" if seam.pressed == "open" else seam.pressed)
    facing: Facing = "wrong sides together" if finish == "enclosed" else "right sides together"
    step = Step(
        0, "seam", seam.name, seam.title,
        joins=tuple(Join(copy(seam.a, n), copy(seam.b, n)) for n in range(seam.times)),
        neatenings=() if how == "alone" else (Neatening(finish, how, edges),),
        notches=tuple(s for s in _signs(garment, seam.a) if s in others),
        crossings=tuple(s.title for s in before),
        facing=facing,
        seam_type=FRENCH if finish == "enclosed" else PLAIN,
        stitch=bench.joining(REINFORCE_MM if curved else None), needle=bench.manners.needle,
        rows=rows, allowance=width, trim_to=TRIM_CURVE if trimmed else 0.0,
        times=seam.times, length=length, pressed=pressed, why="crotch" if curved and before else "",
    )  # fmt: skip
    return Operation(step, frozenset({"mark", "neaten", "stay", *(s.name for s in before), *seam.after}))


def _patch(bench: Bench, seam: Seam) -> list[Operation]:
    """A prepared piece: its allowances pressed under, then set on while its ground is flat."""
    garment = bench.garment
    mine = copies(seam.a, seam.times)
    tops = frozenset(
        free.name for free in garment.free_edges if {r.piece for r in free.runs} & {r.piece for r in seam.a}
    )
    folding = Step(
        0, "fold in", f"{seam.name} folded in", seam.title, edges=mine, facing="wrong side up",
        allowance=allowance(garment, seam.a), times=seam.times, length=garment.length(mine), why="fold in",
    )  # fmt: skip
    setting = Step(
        0, "patch", seam.name, seam.title,
        joins=tuple(Join(copy(seam.a, n), copy(seam.b, n)) for n in range(seam.times)),
        facing="right side up", seam_type=PATCH, stitch=bench.topstitch(), needle=bench.manners.needle,
        allowance=EDGE_STITCH, times=seam.times, length=garment.length(mine), why="patch flat",
        neatenings=(Neatening("none needed", "in the seam", mine),) if bench.manners.gives else (),
    )  # fmt: skip
    return [
        Operation(folding, frozenset({"mark", "neaten", *tops})),
        Operation(setting, frozenset({folding.name, "neaten", "stay", *seam.after})),
    ]


# ---- free edges --------------------------------------------------------------------------------


def _free_edge(bench: Bench, free: FreeEdge) -> list[Operation]:
    garment = bench.garment
    before = needed_by_edge(garment, free)
    mine = copies(free.runs, free.times)
    once = free.fold_in == 0
    inside: tuple[Neatening, ...] = ()
    if not once:
        inside = (Neatening("folded in", "in the seam", mine),)
    elif bench.manners.gives:
        inside = (Neatening("none needed", "in the seam", mine),)
    kind = CASING if free.kind == "casing" else (TURNED_ONCE if once else TURNED_TWICE)
    turning = Step(
        0, "turn", free.name, free.title, edges=mine, neatenings=inside, seam_type=kind,
        crossings=tuple(s.title for s in before) if free.closed else (),
        facing="inside out" if free.closed else "wrong side up",
        stitch=bench.topstitch(), needle=bench.manners.needle, round=free.closed,
        allowance=EDGE_STITCH, turn=free.turn, fold_in=free.fold_in, times=free.times,
        opening=opening(free.elastic) if free.elastic else 0.0,
        held_at=held_at(garment, free) if free.elastic else "",
        length=garment.length(mine), why=free.kind,
    )  # fmt: skip
    needs = frozenset({"mark", "neaten", *(s.name for s in before), *free.after})
    if not free.elastic:
        return [Operation(turning, needs)]
    return [Operation(turning, needs), _elastic(bench, free, opening(free.elastic))]


def held_at(garment: Garment, free: FreeEdge) -> HeldAt:
    """Where elastic that does not go all round ends: at marks of its own, else at the side seams."""
    pieces = [garment.piece(run.piece) for run in free.runs]
    if any(mark.name == ELASTIC_END for piece in pieces for mark in piece.marks):
        return "marks"
    return "side seams" if flat_front(garment) else ""


def flat_front(garment: Garment) -> bool:
    """Whether the front of the waist is without elastic: a choice of the drafts."""
    return "flat front" in str(garment.choices.get("waist", ""))


def opening(elastic: float) -> float:
    """Gap left in a casing to thread elastic of that width through. [cm]"""
    return min(max(elastic + OPENING_OVER, OPENING_LEAST), OPENING_MOST)


def _elastic(bench: Bench, free: FreeEdge, gap: float) -> Operation:
    length = sum(n.length for n in bench.garment.notions if n.name == "elastic" and n.place == free.name)
    step = Step(
        0, "elastic", f"{free.name} elastic", f"Elastic in the {free.title.lower()}",
        edges=copies(free.runs, free.times), facing="inside out", held_at=held_at(bench.garment, free),
        stitch=Stitch("304", "zigzag", 1.0, ZIGZAG_WIDE), needle=bench.manners.needle,
        elastic_length=length, elastic_width=free.elastic, opening=gap, times=free.times,
        length=gap * free.times + 4 * free.elastic * free.times, why="elastic",
    )  # fmt: skip
    return Operation(step, frozenset({free.name}))
