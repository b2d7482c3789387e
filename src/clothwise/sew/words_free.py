"""What is said of patches, turned edges, bands, zips, elastic, cords, buttons, and the rests in the work."""

from __future__ import annotations

from clothwise.curve import nearest
from clothwise.garment import Garment
from clothwise.garment.growth_tuck import growth_tucks
from clothwise.sew.bench import BASTE_MM
from clothwise.sew.phrases import Telling
from clothwise.sew.step import Step

LAP = 2.5  # cm: elastic ends laid over one another
FROM_NEATENED = 0.5  # cm: hem stitching inside a neatened edge
COVERS = 0.2  # cm: a band's inner fold reaches so far past the stitching (T)
UNDER_LAP, AT_TEETH = (
    0.3,
    0.2,
)  # cm: a lapped zip: the under fold stands out so far, and is stitched so far in (T)
BELOW_EDGE = 0.7  # cm: the zip's upper stop lies so far below the seam line above it (T)


def other_alike(step: Step, t: Telling) -> list[str]:
    return [t("other_alike")] if step.times > 1 else []


def patch(step: Step, t: Telling) -> list[str]:
    if step.why == "strap":
        return _strap(step, t)
    join = step.joins[0]
    set_on, ground = t.piece(join.a[0].piece), t.piece(join.b[0].piece)
    said = [
        t("patch.lay", ground=ground, patch=set_on),
        t("patch.stitch", off=t.length(step.allowance)),
        t("patch.corners"),
    ]
    return [*said, t("patch.level")] if t.several_of(join.a[0].piece) else said


def _strap(step: Step, t: Telling) -> list[str]:
    """The end of a strap or loop on its place."""
    join = step.joins[0]
    strap, ground = t.piece(join.a[0].piece), t.piece(join.b[0].piece)
    if is_loop(step, t.garment):
        return [t("strap.loop", strap=strap, ground=ground), t("strap.stitch", off=t.length(step.allowance))]
    return [
        t("strap.pin", strap=strap, ground=ground),
        t("strap.stitch", off=t.length(step.allowance)),
        *([t("strap.other")] if step.times > 1 else []),
    ]


def is_loop(step: Step, garment: Garment) -> bool:
    """Whether what is set on is a loop: both its ends on one piece."""
    strips = {run.piece for run in step.joins[0].a}
    ends = [s for s in garment.seams if s.kind == "patch" and s.more and {run.piece for run in s.a} & strips]
    return len({run.piece for s in ends for run in s.b}) == 1


# ---- turned edges ------------------------------------------------------------------------------


def _folding(step: Step, t: Telling) -> list[str]:
    if step.fold_in == 0:
        return [t("fold.once", depth=t.length(step.turn))]
    return [
        t("fold.first", depth=t.length(step.fold_in)),
        t("fold.again", depth=t.length(step.turn - step.fold_in)),
    ]


def turn(step: Step, t: Telling) -> list[str]:
    near = t("turn.near_fold", off=t.length(step.allowance))
    if not step.fold_in:
        raw = any(neatening.finish == "none needed" for neatening in step.neatenings)
        near = t("turn.near_raw" if raw else "turn.near_edge", off=t.length(FROM_NEATENED))
    if step.why == "casing":
        return _casing(step, near, t)
    if step.why == "pocket top":
        each = "_each" if t.several_of(step.edges[0].piece) else ""
        start = t(f"turn.pocket{each}", piece=t.piece(step.edges[0].piece))
        return [start, *_folding(step, t), t("turn.stitch_press", near=near)]
    if step.why == "stand":
        return [
            t("turn.stand", piece=t.named(step.edges), edges=t.edges(step.edges)),
            *_folding(step, t),
            t("turn.stitch_stand", near=near),
        ]
    said = [
        t("turn.inside_out" if step.round else "turn.wrong_side_up"),
        *_folding(step, t),
        t("turn.stitch_round" if step.round else "turn.stitch_along", near=near),
    ]
    return [*said, t("turn.second")] if step.times > 1 else said


def tuck(step: Step, t: Telling) -> list[str]:
    """Where it is folded, how it is stitched, and how it is let down one day."""
    pieces = t.named(step.edges)
    run = step.edges[0]
    lowest = growth_tucks(t.garment.piece(run.piece), run.line)[0]
    up = nearest(t.garment.curve(run), lowest.fold.start).away
    where = t("tuck.where", up=t.length(up), edge=t.edges(step.edges))
    several = "many" if step.count > 1 else "one"
    return [
        t(f"tuck.fold_{several}", count=step.count, pieces=pieces, where=where),
        t("tuck.stitch", depth=t.length(step.turn)),
        t("tuck.later", twice=t.length(2 * step.turn)),
    ]


def _casing(step: Step, near: str, t: Telling) -> list[str]:
    start = t("casing.inside_out" if step.round else "turn.wrong_side_up")
    if not step.opening:
        return [
            start,
            *_folding(step, t),
            t("casing.stitch_round" if step.round else "turn.stitch_along", near=near),
        ]
    return [
        start,
        *_folding(step, t),
        t(
            "casing.stitch_gap",
            near=near,
            where=t("casing.gap_side" if step.held_at else "casing.gap_back"),
            gap=t.length(step.opening),
        ),
        *other_alike(step, t),
    ]


# ---- bands and zips ----------------------------------------------------------------------------


def band(step: Step, t: Telling) -> list[str]:
    strip = t.named(step.edges)
    off = t.length(step.allowance)
    if step.make == "layers":
        return [t("band.layer_fold", strip=strip), t("band.layer_stitch", off=off)]
    longest = max(t.garment.length((run,)) for run in step.edges)
    whole = max(edge.curve.length() for edge in t.garment.piece(step.edges[0].piece))
    if longest < whole / 2:
        ends = t("edges_of", edges=t.edges(step.edges), pieces=strip)
        return [t("band.ends_fold", ends=ends, depth=t.length(step.turn)), t("band.ends_stitch", off=off)]
    said = [t("band.open_ends", strip=strip)] if step.count else []
    said += [t("band.fold_over", strip=strip, past=t.length(COVERS)), t("band.stitch", off=off)]
    if step.opening:
        said.append(t("band.gap", gap=t.length(step.opening)))
    return said + other_alike(step, t)


def zip_in(step: Step, t: Telling) -> list[str]:
    below, off = t.length(BELOW_EDGE), t.length(step.allowance)
    if step.way == "lapped":
        return [
            t("zip.lapped_press", out=t.length(UNDER_LAP)),
            t("zip.lapped_under", near=t.length(AT_TEETH), below=below),
            t("zip.lapped_over", off=off),
            t("zip.try"),
        ]
    if step.way == "invisible":
        return [
            t("zip.invisible_ready", off=t.length(step.turn)),
            t("zip.invisible_first", below=below),
            t("zip.invisible_second"),
            t("zip.invisible_close"),
        ]
    return [
        t("zip.baste", stitch=t.number(BASTE_MM), off=t.length(step.turn)),
        t("zip.lay", below=below),
        t("zip.stitch", off=off),
        t("zip.try"),
    ]


# ---- elastic and cords -------------------------------------------------------------------------


def _held_elastic(step: Step, t: Telling) -> list[str]:
    """Elastic through the back only, its ends sewn down."""
    at = "side" if step.held_at == "side seams" else "mark"
    cut = t.length(step.elastic_length)
    return [
        t("elastic.held_cut", cut=cut, lap=t.length(LAP)),
        t(f"elastic.held_far_{at}"),
        t(f"elastic.held_near_{at}", cut=cut),
        t("elastic.held_close"),
        t("elastic.held_gathers"),
    ]


def elastic(step: Step, t: Telling) -> list[str]:
    each = "_each" if step.times > 1 else ""
    cut, lap = t.length(step.elastic_length), t.length(LAP)
    if step.make == "folded band":
        return [
            f"{t(f'elastic.cut{each}', cut=cut, lap=lap)} {t('elastic.ring_try')}",
            t("elastic.ring_lap", lap=lap),
            t("elastic.ring_lay"),
        ]
    if step.held_at:
        return _held_elastic(step, t)
    return [
        t(f"elastic.cut{each}", cut=cut, lap=lap) if step.elastic_length else t("elastic.cut_by_feel"),
        t("elastic.thread", width=t.length(step.elastic_width)),
        t("elastic.lap", lap=lap),
        t("elastic.close"),
        t("elastic.gathers"),
        *other_alike(step, t),
    ]


def cord(step: Step, t: Telling) -> list[str]:
    said = [
        t(
            "cord.draw_eyelets" if step.count else "cord.draw_round",
            cord=t.inside(step.title),
            length=t.length(step.elastic_length),
        ),
        t("cord.ends"),
    ]
    return [*said, t("cord.child")] if t.garment.for_child else said


# ---- at the end --------------------------------------------------------------------------------


def buttons(step: Step, t: Telling) -> list[str]:
    marks = {mark.kind for piece in t.garment.pieces for mark in piece.marks}
    many = "many" if step.count != 1 else "one"
    if "buttonhole" in marks:
        said = [t("buttons.mark"), t("buttons.holes"), t(f"buttons.lap_{many}")]
    else:
        said = [t(f"buttons.sew_{many}", count=step.count)]
    return [*said, t("buttons.child")] if t.garment.for_child else said


def try_on(step: Step, t: Telling) -> list[str]:
    turns = [free.turn for free in t.garment.free_edges if free.kind == "hem"]
    if not turns:
        return [t("try_on.look")]
    below = t.length(turns[0])
    if _from_shoulders(t.garment):
        return [t("try_on.look"), t("try_on.hems", below=below)]
    return [t("try_on.shoes"), t("try_on.walk"), t("try_on.shorter", below=below)]


def _from_shoulders(garment: Garment) -> bool:
    """Whether it hangs from the shoulders: it has a neck."""
    return any("neck" in edge.name for piece in garment.pieces for edge in piece)


def hang(step: Step, t: Telling) -> list[str]:
    return [t("hang.up", hours=t.number(step.wait_hours)), t("hang.level")]


def press(step: Step, t: Telling) -> list[str]:
    kinds = {free.kind for free in t.garment.free_edges}
    done = [t(f"press.{kind}") for kind in ("casing", "hem") if kind in kinds]
    return [t("press.pins"), t("press.whole", then=t.listed(done) or t("press.edges"))]
