"""What is said of the work on single, flat pieces: marks, interfacing, darts, creases, gathers, eyelets."""

from __future__ import annotations

from clothwise.garment.growth_tuck import in_a_tuck
from clothwise.sew.graph import CURVED_DEG, turning_of
from clothwise.sew.phrases import HARD, Telling, lower
from clothwise.sew.pleats import pleats_of
from clothwise.sew.step import Step

NOTCH_DEEP = 0.3  # cm: a snip that stays well clear of the seam
BESIDE_SEAM = 0.2  # cm: long stitches lie just outside the seam line, so that no hole is seen (T)
ROW_APART, LEAST_FROM_EDGE = 0.4, 0.3  # cm: the second row from the first, and from the raw edge (T)
DRAWN_INSIDE = ("placement", "button", "buttonhole", "fold line")


def mark(step: Step, t: Telling) -> list[str]:
    pieces = [f"{t.piece(p.name).replace(' ', HARD)}{HARD}×{HARD}{p.copies}" for p in t.garment.pieces]
    said = [t("mark.lay_out", pieces=t.listed(pieces)), t("mark.wrong_side")]
    patches = {run.piece for seam in t.garment.seams if seam.kind == "patch" for run in seam.a}
    pairs = [t.the(t.piece(p.name)) for p in t.garment.pieces if p.cutting == "pair" and p.name not in patches]
    if pairs:
        said.append(t("mark.pairs", pieces=t.listed(pairs)))
    said.append(t("mark.notches", deep=t.length(NOTCH_DEEP)) if step.snip else t("mark.notches_chalk"))
    inside = _inner_marks(t)
    if inside:
        said.append(t("mark.carry", marks=t.listed(inside)))
    return said


def _inner_marks(t: Telling) -> list[str]:
    """What is drawn inside pieces and needed later."""
    kinds = {mark.kind for piece in t.garment.pieces for mark in piece.marks}
    darts = ["dart"] if any(piece.darts for piece in t.garment.pieces) else []
    pleats = ["pleat"] if any(seam.kind == "pleated" for seam in t.garment.seams) else []
    tucks = ["tuck"] if any(in_a_tuck(m) for p in t.garment.pieces for m in p.marks) else []
    names = [*darts, *pleats, *tucks, *(kind.replace(" ", "_") for kind in DRAWN_INSIDE if kind in kinds)]
    return [t(f"drawn.{name}") for name in names]


def fuse(step: Step, t: Telling) -> list[str]:
    pieces = t.once(t.the(t.piece(run.piece)) for run in step.edges)
    return [t("fuse.cut", pieces=pieces), t("fuse.try"), t("fuse.press")]


def stay(step: Step, t: Telling) -> list[str]:
    edges = "; ".join(t.edges_by_piece(step.edges))
    return [t("stay.stitch", off=t.length(step.allowance), edges=edges), t("stay.pull")]


def neaten(step: Step, t: Telling) -> list[str]:
    finish = step.neatenings[0].finish
    return [
        t("neaten.these", how=t(f"finish.{finish}")),
        *[f"– {text}" for text in t.edges_by_piece(step.edges)],
        t("neaten.overlocker" if finish == "overlocked" else "neaten.zigzag"),
    ]


# ---- darts -------------------------------------------------------------------------------------


def dart(step: Step, t: Telling) -> list[str]:
    piece = t.garment.piece(step.name.removesuffix(" darts"))
    key = "dart.fold_each" if step.count > 1 else "dart.fold"
    said = [t(key, count=step.count, piece=t.piece(piece.name))]
    if any(d.edge for d in piece.darts):
        said.append(t("dart.stitch"))
    if step.point:
        said.append(t("dart.two_points"))
    ways = {"to the centre": "dart.press_centre", "down": "dart.press_down", "both": "dart.press_both"}
    return [*said, *([t(ways[step.pressed])] if step.pressed in ways else [])]


# ---- pleats ------------------------------------------------------------------------------------


def pleat(step: Step, t: Telling) -> list[str]:
    """Where each fold goes, what holds it, and how long the edge then is: the one thing to be measured."""
    run = step.edges[0]
    own = pleats_of(t.garment.piece(run.piece), run.line)
    each = len(own) * (2 if t.garment.piece(run.piece).cutting == "on fold" else 1)
    several = "many" if each > 1 else "one"
    edge = t.garment.length((run,)) - sum(pleat.takes for pleat in own)
    where = t("edges_of", edges=t.edges(step.edges), pieces=t.named(step.edges))
    half = "half" if t.garment.piece(run.piece).cutting == "on fold" else "piece"
    return [
        t(f"pleat.lay_{several}", where=where, count=each, twice=t.length(own[0].takes)),
        t("pleat.baste", off=t.length(step.allowance)),
        t(f"pleat.measure_{half}", where=where, long=t.length(edge)),
    ]


# ---- bands -------------------------------------------------------------------------------------


def crease(step: Step, t: Telling) -> list[str]:
    names = list(dict.fromkeys(run.piece for run in step.edges))
    strips = t.listed([t.pieces(n) if step.times > 1 else t.piece(n) for n in names])
    edges = "; ".join(t.edges_by_piece(step.edges))
    said = [t("crease.half", strips=strips)] if step.count else []
    return [*said, t("crease.allowance", depth=t.length(step.allowance), edges=edges)]


def fold_in(step: Step, t: Telling) -> list[str]:
    piece = t.garment.piece(step.edges[0].piece)
    key = "fold_in.each" if t.several_of(piece.name) else "fold_in.one"
    # Round corners are drawn up, sharp ones folded.
    corners = turning_of(t.garment, step.edges) >= CURVED_DEG
    return [
        t(key, piece=lower(t.piece(piece.name), t.said), depth=t.length(step.allowance)),
        t("fold_in.round_corners" if corners else "fold_in.sharp_corners"),
    ]


# ---- gathers and eyelets -----------------------------------------------------------------------


def gather(step: Step, t: Telling) -> list[str]:
    where = t("edges_of", edges=t.edges(step.edges), pieces=t.named(step.edges))
    if step.why == "ease":
        between = t("gather.between", signs=t.signs(step.notches)) if len(step.notches) > 1 else ""
        return [
            t("gather.ease_row", where=where, between=between, off=t.length(BESIDE_SEAM)),
            t("gather.ease_draw", by=t.length(step.fuller)),
            *([t("other_alike")] if step.times > 1 else []),
        ]
    first, second = step.allowance - BESIDE_SEAM, step.allowance - BESIDE_SEAM - ROW_APART
    return [
        t(
            "gather.rows",
            where=where,
            first=t.length(first),
            second=t.length(max(second, LEAST_FROM_EDGE)),
        ),
        t("gather.quarters", ratio=t.number(step.ratio, ".3g")),
        t("gather.draw"),
    ]


def eyelet(step: Step, t: Telling) -> list[str]:
    several = "many" if step.count > 1 else "one"
    return [t(f"eyelet.back_{several}", pieces=t.named(step.edges)), t(f"eyelet.work_{several}")]
