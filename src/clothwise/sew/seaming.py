"""Seams as operations: plain, gathered, eased, stretched, facings and bands sewn on, patches set on."""

from __future__ import annotations

import itertools

from clothwise.garment import Seam
from clothwise.sew.before import PREPARED, crease_name
from clothwise.sew.bench import (
    BOUND,
    EASED,
    EASING,
    FRENCH,
    GATHERED,
    GATHERING,
    PATCH,
    PLAIN,
    PLEATED,
    REINFORCE_MM,
    STRETCHED,
    TURNED,
    Bench,
    Operation,
    finish_of,
    has_pocket,
    is_crotch,
    is_strap,
)
from clothwise.sew.cut_copies import Chain, met
from clothwise.sew.graph import (
    CURVED_DEG,
    allowance,
    has_point,
    hollow_deg,
    length,
    runs_across,
    turning_of,
)
from clothwise.sew.makes import INSIDE, bodies
from clothwise.sew.needs import FLAT_EASE
from clothwise.sew.pleats import laying, pleats_name, taken
from clothwise.sew.step import Facing, Finish, How, Join, Neatening, SeamType, Step

TRIM_CURVE = 0.8  # cm: what is left of a curved seam before it is neatened, so that it lies flat (T)
TRIM_INSIDE = 0.6  # cm: of a seam that is turned; the layer next to the garment is left wider (T)
TRIM_LEAST = 0.2  # cm: less is not worth trimming off
EDGE_STITCH = 0.2  # cm: from a folded edge to the stitching that holds it (T)
GATHER_ROWS, EASE_ROWS = 2, 1  # rows of long stitches (T)
TURN_GAP = 8.0  # cm left open to turn a belt through (T)
LITTLE = 0.3  # cm: fullness that the machine takes up by itself
FULL = 1.1  # ratio from which what pleats leave of the fullness is gathered, below it is eased in (as `alter`)


def seam_operations(bench: Bench, seam: Seam) -> list[Operation]:
    return _patch(bench, seam) if seam.kind == "patch" else [*laying(bench, seam), _seam(bench, seam)]


# ---- joining -----------------------------------------------------------------------------------


def signs(bench: Bench, runs: Chain) -> list[str]:
    """Signs of the notches met along the runs."""
    found: list[str] = []
    for run in runs:
        edge = bench.garment.edge_of(run)
        notches = sorted(edge.notches, key=lambda n: n.at, reverse=run.backwards) if edge else []
        found += [n.sign for n in notches]
    return list(dict.fromkeys(found))


def _seam(bench: Bench, seam: Seam) -> Operation:
    garment = bench.garment
    joins = bench.cut.joins[seam.name]
    join = joins[0]
    finish, how = finish_of(bench, seam)
    make = bench.make(seam)
    before = [s for s in garment.seams if s.name in _crossed(bench, seam)]
    curved = turning_of(garment, (*join.a, *join.b)) >= CURVED_DEG
    way = bench.needs.ways.get(seam.name, "")
    crotch = is_crotch(bench, seam)
    round_ = way == "in the round"
    drawn_in = length(garment, join.a) - taken(garment, join.a if seam.kind == "pleated" else ())
    fuller = drawn_in - length(garment, join.b)
    ratio = _ratio(seam, drawn_in / length(garment, join.b))
    width = allowance(garment, join.runs)
    rows = 2 if crotch or finish == "enclosed" or (round_ and seam.kind == "eased") else 1
    once = sum(length(garment, one.b) for one in joins)
    others = set(signs(bench, join.b)) | {s for ply in join.more for s in signs(bench, ply)}
    facing: Facing = "wrong sides together" if finish == "enclosed" else "right sides together"
    turned = make in ("facing", "layers")
    step = Step(
        0, "seam", seam.name, seam.title,
        joins=joins,
        neatenings=_neatenings(bench, joins, finish, how),
        notches=tuple(s for s in signs(bench, join.a) if s in others),
        crossings=tuple(s.title for s in before),
        facing=facing, make=make, way=way, other_way=_other_way(bench, seam),
        beside_zip=bench.needs.beside_zip(seam.name), round=round_,
        seam_type=_type(seam, step_make=make, french=finish == "enclosed"),
        stitch=bench.joining(REINFORCE_MM if crotch else None), needle=bench.manners.needle,
        rows=rows, allowance=width, trim_to=_trim(width, curved, how, turned=turned),
        clip=turned and curved, point=make in ("facing", "binding") and has_point(garment, join.b),
        understitch=make == "facing", fuller=fuller if abs(fuller) > LITTLE else 0.0, ratio=ratio,
        opening=TURN_GAP if make == "folded on itself" and _shut_all_round(bench, join) else 0.0,
        times=len(joins), length=once * rows, pressed=_pressed(seam, how, make), why=_why(bench, seam),
    )  # fmt: skip
    return Operation(
        step,
        PREPARED
        | _darts(bench, join)
        | _creases(bench, joins)
        | bench.needs.before[seam.name]
        | frozenset({pleats_name(seam)} if seam.kind == "pleated" else ()),
        prelude=_prelude(bench, seam, step),
        small=_small(bench, joins) and not has_pocket(bench, seam),
        across=runs_across(garment, join.b) or make in INSIDE or round_,
    )


def _ratio(seam: Seam, left: float) -> float:
    """How many times its length is drawn up; of a pleated edge what its pleats leave."""
    if seam.kind != "pleated":
        return seam.ratio
    return left if left > FULL else 1.0


def _other_way(bench: Bench, seam: Seam) -> str:
    """What speaks for sewing it the other way, where there is a choice: a key of the words."""
    choice = next((a for a in bench.needs.alternatives if a.seam == seam.name), None)
    if choice is None:
        return ""
    return choice.for_other if bench.needs.ways[seam.name] == choice.way else choice.reason


def _shut_all_round(bench: Bench, join: Join) -> bool:
    """Whether every edge of a folded strip is in the seam: a belt, turned through a gap closed by hand."""
    pieces = {run.piece for run in join.runs}
    lines = {run.line for run in join.runs}
    return all(
        edge.name in lines or edge.kind == "fold" for name in pieces for edge in bench.garment.piece(name)
    )


def _neatenings(bench: Bench, joins: tuple[Join, ...], finish: Finish, how: How) -> tuple[Neatening, ...]:
    """What is neatened with the seam; nothing where it was done flat."""
    runs = tuple(run for one in joins for run in one.runs if bench.garment.edge_of(run))
    return (
        ()
        if how == "alone" and finish != "none needed"
        else (Neatening(finish, "in the seam" if how == "alone" else how, runs),)
    )


def _crossed(bench: Bench, seam: Seam) -> set[str]:
    """Seams that lie across the line of stitching: their allowances are sewn down by it."""
    found: set[str] = set()
    for join in bench.cut.joins[seam.name]:
        for ply in join.plies:
            for one, other in itertools.pairwise(ply):
                out, into = met(bench.garment, one, going_out=True), met(bench.garment, other, going_out=False)
                if one.copy == other.copy and out is not None and out.name == other.line:
                    continue
                found |= {s.name for s in (
                    *bench.needs.seams_at(one.piece, out), *bench.needs.seams_at(other.piece, into)
                )}  # fmt: skip
    return found & bench.needs.before[seam.name]


def _type(seam: Seam, *, step_make: str, french: bool) -> SeamType:
    if french:
        return FRENCH
    if step_make in ("binding", "band"):
        return BOUND
    if step_make in ("facing", "layers", "sandwich"):
        return TURNED
    return {"gathered": GATHERED, "eased": EASED, "stretched": STRETCHED, "pleated": PLEATED}.get(
        seam.kind, PLAIN
    )


def _trim(width: float, curved: bool, how: str, *, turned: bool) -> float:
    if turned:
        return TRIM_INSIDE if width > TRIM_INSIDE + TRIM_LEAST else 0.0
    return TRIM_CURVE if curved and how == "together" and width > TRIM_CURVE + TRIM_LEAST else 0.0


def _pressed(seam: Seam, how: str, make: str) -> str:
    if make in ("facing", "binding"):
        return "to a"
    if make == "folded on itself":
        return "open"
    if make == "layers":
        return ""
    return seam.pressed if how == "alone" else ("to b" if seam.pressed == "open" else seam.pressed)


def _why(bench: Bench, seam: Seam) -> str:
    make = bench.make(seam)
    if is_crotch(bench, seam):
        return "crotch"
    if bench.manners.gives and (shoulder := _shoulder(bench, seam)):
        return shoulder
    if seam.kind in ("gathered", "pleated"):
        return seam.kind
    if make == "facing" and bench.needs.ways.get(seam.name) == "flat" and bench.needs.hangs_already(seam):
        return "rolled"
    if seam.name in bench.needs.ways and make in ("", "facing"):
        way = bench.needs.ways[seam.name]
        if seam.kind == "eased":
            return "round cap" if way == "in the round" else "flat cap"
        if make == "":
            return {"flat": "flat cap", "in the round": "round band"}[way]
    if make in ("facing", "layers", "folded band", "sandwich", "binding"):
        return make
    if seam.kind == "stretched":
        return "stretched"
    return "bag first" if has_pocket(bench, seam) and seam.a[0].piece != seam.b[0].piece else ""


def _shoulder(bench: Bench, seam: Seam) -> str:
    """Why it is taped: a seam across the body between two hollow edges, neck and armhole, or, where the sleeve
    is cut on, between the neck and the sleeve's end; '' where it is no shoulder."""
    join = bench.cut.joins[seam.name][0]
    if seam.kind != "plain" or not runs_across(bench.garment, join.b):
        return ""
    ends = (met(bench.garment, join.b[0], going_out=False), met(bench.garment, join.b[-1], going_out=True))
    hollow = [edge is not None and edge.kind == "seam" and hollow_deg(edge) > 0 for edge in ends]
    if all(hollow):
        return "knit shoulder"
    sleeve_end = [edge is not None and edge.kind == "hem" for edge in ends]
    return "knit shoulder cut on" if any(hollow) and any(sleeve_end) else ""


def _darts(bench: Bench, join: Join) -> frozenset[str]:
    pieces = {run.piece for run in join.runs}
    return frozenset(f"{name} darts" for name in pieces if bench.garment.piece(name).darts)


def _creases(bench: Bench, joins: tuple[Join, ...]) -> frozenset[str]:
    """Bands are pressed before they are sewn to anything."""
    mine = {body for join in joins for body in bodies(bench.garment, join.runs)}
    return frozenset(
        crease_name(free)
        for free in bench.garment.free_edges
        if free.kind == "band"
        and any(bodies(bench.garment, chain) & mine for chain in bench.cut.chains[free.name])
    )


def _small(bench: Bench, joins: tuple[Join, ...]) -> bool:
    """Whether only small parts are in it."""
    return {run.piece for join in joins for run in join.runs} <= bench.small_pieces


def _prelude(bench: Bench, seam: Seam, step: Step) -> tuple[Step, ...]:
    """Rows of long stitches to gather or ease by."""
    gathers = seam.kind == "gathered" or (seam.kind == "pleated" and step.ratio > FULL)
    if not gathers and not (seam.kind == "eased" and step.fuller > FLAT_EASE):
        return ()
    edges = tuple(run for join in step.joins for run in join.a)
    rows = GATHER_ROWS if gathers else EASE_ROWS
    return (
        Step(
            0, "gather", f"{seam.name} gathered", seam.title, edges=edges,
            lines=tuple(len(join.a) for join in step.joins), facing="right side up",
            stitch=GATHERING if gathers else EASING, needle=bench.manners.needle, rows=rows,
            allowance=step.allowance, times=len(step.joins), fuller=step.fuller, ratio=step.ratio,
            notches=step.notches, round=step.round,
            length=length(bench.garment, edges) * rows, why="gather" if gathers else "ease",
        ),
    )  # fmt: skip


# ---- patches -----------------------------------------------------------------------------------


def _patch(bench: Bench, seam: Seam) -> list[Operation]:
    """A prepared piece: its allowances pressed under, then set on while its ground is flat."""
    garment, joins = bench.garment, bench.cut.joins[seam.name]
    if is_strap(seam):
        return [_strap(bench, seam, joins)]
    mine = tuple(run for join in joins for run in join.a)
    folding = Step(
        0, "fold in", f"{seam.name} folded in", seam.title, edges=mine, lines=tuple(len(j.a) for j in joins),
        facing="wrong side up", allowance=allowance(garment, joins[0].a), times=seam.times,
        length=length(garment, mine), why="fold in",
    )  # fmt: skip
    setting = Step(
        0, "patch", seam.name, seam.title, joins=joins,
        facing="right side up", seam_type=PATCH, stitch=bench.topstitch(), needle=bench.manners.needle,
        allowance=EDGE_STITCH, times=seam.times, length=length(garment, mine), why="patch flat",
        neatenings=(Neatening("none needed", "in the seam", mine),) if bench.manners.gives else (),
    )  # fmt: skip
    tops = frozenset(bench.needs.before[seam.name])
    return [
        Operation(folding, PREPARED | tops | _darts(bench, joins[0])),
        Operation(setting, frozenset({folding.name}) | PREPARED | tops | _darts(bench, joins[0])),
    ]


def _strap(bench: Bench, seam: Seam, joins: tuple[Join, ...]) -> Operation:
    """The end of a strap, turned under and sewn on its place."""
    ends = tuple(run for join in joins for ply in (join.a, *join.more) for run in ply)
    step = Step(
        0, "patch", seam.name, seam.title, joins=joins, facing="wrong side up", seam_type=PATCH, make="caught",
        stitch=bench.lockstitch(), needle=bench.manners.needle, allowance=EDGE_STITCH, times=len(joins),
        neatenings=(Neatening("folded in", "in the seam", ends),), length=4 * length(bench.garment, ends),
        why="strap",
    )  # fmt: skip
    return Operation(step, PREPARED | bench.needs.before[seam.name] | _hanging(bench, seam))


def _hanging(bench: Bench, strap: Seam) -> frozenset[str]:
    """What must be sewn before a strap from piece to piece can be tried on: all seams of its grounds. A loop,
    both its ends on one piece, is set on as soon as it can be."""
    strips = {run.piece for run in strap.a}
    ends = [s for s in bench.garment.seams if is_strap(s) and {run.piece for run in s.a} & strips]
    grounds = {run.piece for s in ends for run in s.b}
    if len(grounds) < 2:
        return frozenset()
    return frozenset(
        s.name for s in bench.garment.seams if not is_strap(s) and {run.piece for run in s.runs} & grounds
    )
