"""Free edges as operations: hems, casings and stands turned, bands sewn down, zips, elastic, cords, buttons."""

from __future__ import annotations

from clothwise.garment import FreeEdge, Garment, Notion
from clothwise.sew.before import PREPARED, cords, crease_name, eyelet_marks
from clothwise.sew.bench import (
    BOUND,
    BUTTONHOLE,
    CASING,
    TURNED_ONCE,
    TURNED_TWICE,
    ZIGZAG_WIDE,
    Bench,
    Operation,
)
from clothwise.sew.graph import length
from clothwise.sew.makes import bodies
from clothwise.sew.needs import INVISIBLE
from clothwise.sew.seaming import EDGE_STITCH
from clothwise.sew.step import HeldAt, Neatening, SeamType, Step, Stitch, Way

OPENING_OVER = 3.0  # cm: threading gap beyond the elastic's width; keeps it inside the observed 4-10
OPENING_LEAST, OPENING_MOST = 4.0, 10.0  # cm: four sources
ELASTIC_OVERLAP = 2.5  # cm: ends laid over one another (three sources)
ZIP_BESIDE: dict[Way, float] = {  # cm from the seam to the stitching that is furthest from it (T)
    "centred": 0.7,  # clears the teeth at either side
    "lapped": 1.2,  # one row only, over teeth and tape
    "invisible": 0.1,  # in the groove beside the teeth
}
ELASTIC_END = "elastic_end"  # the drafts' mark where elastic ends
BUTTON, ZIP = "button", "zip"

__all__ = ["ELASTIC_OVERLAP", "flat_front", "free_operations", "notion_operations"]


def free_operations(bench: Bench, free: FreeEdge) -> list[Operation]:
    if free.kind == "zip":
        return [_zip(bench, free)]
    if free.kind == "band":
        return [_band(bench, free), *_elastic_of(bench, free)]
    return [_turn(bench, free), *_elastic_of(bench, free)]


def _needs(bench: Bench, free: FreeEdge) -> frozenset[str]:
    pieces = {run.piece for run in free.runs}
    darts = {f"{name} darts" for name in pieces if bench.garment.piece(name).darts}
    eyelets = {f"{free.name} eyelets"} if free.name in cords(bench.garment) else set()
    crease = {crease_name(free)} if free.kind == "band" else set()
    return PREPARED | bench.needs.before[free.name] | darts | eyelets | crease


def _gap(bench: Bench, free: FreeEdge) -> float:
    """Gap left to thread elastic through; a cord comes out at its eyelets. [cm]"""
    return opening(free.elastic) if free.elastic else 0.0


def _turn(bench: Bench, free: FreeEdge) -> Operation:
    garment, chains = bench.garment, bench.cut.chains[free.name]
    mine = tuple(run for chain in chains for run in chain)
    once = free.fold_in == 0
    inside: tuple[Neatening, ...] = ()
    if not once:
        inside = (Neatening("folded in", "in the seam", mine),)
    elif bench.manners.gives:
        inside = (Neatening("none needed", "in the seam", mine),)
    kind = CASING if free.kind == "casing" else (TURNED_ONCE if once else TURNED_TWICE)
    before = bench.needs.before[free.name]
    closed = free.closed and all(bench.cut.finished.closed(chain) for chain in chains)
    step = Step(
        0, "turn", free.name, free.title, edges=mine, lines=tuple(len(chain) for chain in chains),
        neatenings=inside, seam_type=kind,
        crossings=tuple(s.title for s in garment.seams if s.name in before) if closed else (),
        facing="inside out" if closed else "wrong side up",
        stitch=bench.topstitch(), needle=bench.manners.needle, round=closed,
        allowance=EDGE_STITCH, turn=free.turn, fold_in=free.fold_in, times=len(chains),
        opening=_gap(bench, free), held_at=held_at(garment, free) if free.elastic else "",
        length=length(garment, mine), why="frill hem" if frill_seams(bench, free) else free.kind,
    )  # fmt: skip
    return Operation(step, _needs(bench, free))


def frill_seams(bench: Bench, free: FreeEdge) -> set[str]:
    """Seams that set on a small part whose hem this is: a frill is hemmed before it is gathered and sewn on."""
    mine = {run.piece for run in free.runs}
    if free.kind != "hem":
        return set()
    found = [
        s
        for s in bench.garment.seams
        if {r.piece for r in s.runs} & mine
        and not {r.piece for r in s.runs} <= mine
        and not (s.kind == "patch" and {r.piece for r in s.b} <= mine)  # a strap is set on it later
    ]
    small = mine <= bench.small_pieces
    set_on = all(
        (s.kind == "gathered" and {r.piece for r in s.a} <= mine)
        or any({r.piece for r in ply} <= mine for ply in s.more)
        for s in found
    )
    later = {s.name for s in found}
    waits = bool(later & bench.needs.all_before(free.name))
    return later if small and set_on and len(found) == 1 and not waits else set()


def _band(bench: Bench, free: FreeEdge) -> Operation:
    """The inner edge of a band folded over its seam and sewn down; open ends closed in the same go."""
    chains = bench.cut.chains[free.name]
    mine = tuple(run for chain in chains for run in chain)
    closed = all(bench.cut.finished.closed(chain) for chain in chains)
    step = Step(
        0, "band", free.name, free.title, edges=mine, lines=tuple(len(chain) for chain in chains),
        neatenings=(Neatening("folded in", "in the seam", mine),), seam_type=BOUND, facing="wrong side up",
        stitch=bench.topstitch(), needle=bench.manners.needle, round=closed, allowance=EDGE_STITCH,
        turn=free.turn, fold_in=free.fold_in, times=len(chains), opening=_gap(bench, free),
        count=_open_ends(bench, free), length=length(bench.garment, mine), why="band",
        make="layers" if _layered(bench, free) else "band",
    )  # fmt: skip
    return Operation(step, _needs(bench, free))


def _layered(bench: Bench, free: FreeEdge) -> bool:
    mine = {body for chain in bench.cut.chains[free.name] for body in bodies(bench.garment, chain)}
    return any(pair & mine for pair in bench.makes.layers)


def _open_ends(bench: Bench, free: FreeEdge) -> int:
    """Short ends of the band that are turned in with it."""
    count = 0
    for chain in bench.cut.chains[free.name]:
        longest = max(bench.garment.length((run,)) for run in chain)
        count += sum(bench.garment.length((run,)) < longest / 3 for run in chain)
    return count


def _zip(bench: Bench, free: FreeEdge) -> Operation:
    garment, chains = bench.garment, bench.cut.chains[free.name]
    mine = tuple(run for chain in chains for run in chain)
    before = bench.needs.before[free.name]
    notion = next((n for n in garment.notions if n.name == ZIP and n.place in ("", free.name)), None)
    once = length(garment, mine) / max(len(chains), 1)
    way = bench.needs.ways[free.name]
    apart = way == INVISIBLE  # each edge by itself: nothing joins them yet
    lines = (1,) * len(mine) if apart else tuple(len(chain) for chain in chains)
    # A knit's edges stay raw under the tape; a woven's have been neatened each by itself.
    inside = (Neatening("none needed", "in the seam", mine),) if bench.manners.gives else ()
    step = Step(
        0, "zip", free.name, free.title, edges=mine, lines=lines,
        neatenings=inside, seam_type=SeamType("", f"{way} zip"),
        facing="right side up" if way == INVISIBLE else "wrong side up", way=way, other_way="zip",
        stitch=bench.lockstitch(), needle=bench.manners.needle, allowance=ZIP_BESIDE[way], turn=free.turn,
        opening=notion.length if notion else once / 2, times=len(chains),
        crossings=tuple(s.title for s in garment.seams if s.name in before),
        length=2 * length(garment, mine), why="zip",
    )  # fmt: skip
    return Operation(step, _needs(bench, free))


# ---- elastic -----------------------------------------------------------------------------------


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


def _elastic_of(bench: Bench, free: FreeEdge) -> list[Operation]:
    if not free.elastic:
        return []
    chains = bench.cut.chains[free.name]
    mine = tuple(run for chain in chains for run in chain)
    given = [n for n in bench.garment.notions if n.name == "elastic" and n.place == free.name]
    cut = sum(n.length for n in given) / max(len(chains), 1)
    gap, times = opening(free.elastic), len(chains)
    step = Step(
        0, "elastic", f"{free.name} elastic", f"Elastic in the {free.title.lower()}",
        edges=mine, lines=tuple(len(chain) for chain in chains), facing="inside out",
        held_at=held_at(bench.garment, free), stitch=Stitch("304", "zigzag", 1.0, ZIGZAG_WIDE),
        needle=bench.manners.needle, elastic_length=cut, elastic_width=free.elastic, opening=gap, times=times,
        length=gap * times + 4 * free.elastic * times, why="elastic",
    )  # fmt: skip
    return [Operation(step, frozenset({free.name}))]


# ---- what is bought and put in last ------------------------------------------------------------


def notion_operations(bench: Bench) -> list[Operation]:
    """Elastic laid in a folded band, cords, buttons."""
    return [*_ring_elastic(bench), *_cords(bench), *_buttons(bench)]


def _ring_elastic(bench: Bench) -> list[Operation]:
    """Elastic that lies in the fold of a band whose both edges are in one seam: joined to a ring first."""
    found = []
    for seam in bench.garment.seams:
        notions = [n for n in bench.garment.notions if n.name == "elastic" and n.place == seam.name]
        if not notions:
            continue
        times = len(bench.cut.joins[seam.name])
        wide = max(n.width for n in notions)
        step = Step(
            0, "elastic", f"{seam.name} elastic", f"Elastic for the {seam.title.lower()}",
            facing="right side up", make="folded band", stitch=Stitch("304", "zigzag", 1.0, ZIGZAG_WIDE),
            needle=bench.manners.needle, elastic_length=sum(n.length for n in notions) / times,
            elastic_width=wide, times=times, length=4 * wide * times, why="ring elastic",
        )  # fmt: skip
        found.append(Operation(step, PREPARED, small=True))
    return found


def ring_elastics(bench: Bench) -> dict[str, str]:
    """Seam -> its ring of elastic, which must be ready before it."""
    places = {n.place for n in bench.garment.notions if n.name == "elastic"}
    return {s.name: f"{s.name} elastic" for s in bench.garment.seams if s.name in places}


def _cords(bench: Bench) -> list[Operation]:
    found = []
    known = {f.name for f in bench.garment.free_edges} | {s.name for s in bench.garment.seams}
    for place in cords(bench.garment):
        notion = next(n for n in bench.garment.notions if n.place == place and n.name in ("drawstring", "cord"))
        marks = eyelet_marks(bench.garment, place)
        step = Step(
            0, "cord", f"{place} cord", notion.title, facing="right side up", elastic_length=notion.length,
            elastic_width=notion.width, count=len(marks), why="cord",
        )  # fmt: skip
        after = {place} & known
        elastic = {f"{f.name} elastic" for f in bench.garment.free_edges if f.name == place and f.elastic}
        found.append(Operation(step, PREPARED | frozenset(after | elastic)))
    return found


def _notions(garment: Garment, name: str) -> list[Notion]:
    return [n for n in garment.notions if n.name == name]


def _buttons(bench: Bench) -> list[Operation]:
    garment = bench.garment
    laced = {(p.name, mark) for place in cords(garment) for p, mark in eyelet_marks(garment, place)}
    marks = [
        (piece, mark)
        for piece in garment.pieces
        for mark in piece.marks
        if mark.kind in ("button", "buttonhole") and (piece.name, mark.name) not in laced
    ]
    bought = sum(n.count for n in _notions(garment, BUTTON))
    if not marks and not bought:
        return []
    drawn = sum(piece.copies for piece, mark in marks if mark.kind == "button")
    holes = any(mark.kind == "buttonhole" for _, mark in marks)
    count = bought or drawn
    step = Step(
        0, "buttons", "buttons", "Buttonholes and buttons" if holes else "Buttons", facing="right side up",
        stitch=BUTTONHOLE if holes else Stitch("", "by hand"), needle=bench.manners.needle, count=count,
        times=count, why="buttons",
    )  # fmt: skip
    everything = {f.name for f in garment.free_edges} | {s.name for s in garment.seams}
    return [Operation(step, PREPARED | frozenset(everything))]
