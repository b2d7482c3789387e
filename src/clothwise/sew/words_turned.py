"""What is said of seams that are turned: facings, bindings, bands, collars and cuffs of two layers, yokes."""

from __future__ import annotations

from collections.abc import Sequence

from clothwise.garment import Garment, Run
from clothwise.sew.cut_copies import met
from clothwise.sew.phrases import Telling, lower
from clothwise.sew.step import Join, Step
from clothwise.sew.words_stitch import again, caught, finishing, fullness, matching, stitching

CLIP_SHORT = 0.2  # cm: clips stop so far from the stitching
UNDERSTITCH_FROM = 0.2  # cm: from the seam, on the facing


def _trimming(step: Step, t: Telling, *, inner: str) -> list[str]:
    said = []
    if step.trim_to:
        said.append(t(f"trim.{inner}", to=t.length(step.trim_to)))
    if step.clip:
        knit = step.stitch is not None and step.stitch.iso != "301"
        said.append(t("trim.knit") if knit else t("trim.clip", off=t.length(CLIP_SHORT)))
    return said


def facing(step: Step, t: Telling) -> list[str]:
    join = step.joins[0]
    facing, ground = t.named(join.a), t.named(join.b)
    if step.why == "rolled":
        return _rolled(step, t)
    key = "facing.lay_joined" if step.joined else "facing.lay"
    said = [t(key, facing=facing, ground=ground, edges=t.edges(join.b, several=True))]
    said += [*caught(step, t), *matching(step, t), *stitching(step, t)]
    if step.point:
        said.append(t("facing.slit"))
    said += _trimming(step, t, inner="facing")
    if step.turned_later:
        return [*said, t("facing.later"), *again(step, t)]
    if step.understitch:
        said.append(t("facing.understitch", off=t.length(UNDERSTITCH_FROM)))
    said.append(t("facing.turn"))
    if step.crossings:
        at = t.listed([lower(t.title(c), t.said) for c in step.crossings])
        said.append(t("facing.catch", seams=at))
    return said + again(step, t)


def _rolled(step: Step, t: Telling) -> list[str]:
    """A facing that hangs on the garment already, at the neck: its armholes are sewn from inside."""
    join = step.joins[0]
    return [
        t("rolled.roll", facing=t.named(join.a)),
        t("rolled.bring", edges=t.edges(join.b, several=True)),
        *matching(step, t),
        *stitching(step, t),
        *_trimming(step, t, inner="facing"),
        t("rolled.draw"),
        *again(step, t),
    ]


def binding(step: Step, t: Telling) -> list[str]:
    join = step.joins[0]
    strip = t.named(join.a)
    key = "binding.lay_round" if step.round else "binding.lay"
    said = [t(key, strip=strip, ground=t.named(join.b), edges=t.edges(join.b))]
    if step.point:
        said.append(t("binding.slit"))
    said += [*matching(step, t), *fullness(step, t), *stitching(step, t)]
    return [*said, t("binding.press", strip=strip), *again(step, t)]


def band(step: Step, t: Telling) -> list[str]:
    join = step.joins[0]
    bands = {r.piece for f in t.garment.free_edges if f.kind == "band" for r in f.runs}
    a_band = {run.piece for run in join.a} <= bands
    strip, ground = (join.a, join.b) if a_band else (join.b, join.a)
    said = [
        t(
            "sewn_band.lay_round" if step.round else "sewn_band.lay",
            strip=t.named(strip),
            ground=t.named(ground),
            edges=t.edges_of_pieces(ground),
        ),
        *caught(step, t),
        *matching(step, t),
        *fullness(step, t),
        *stitching(step, t),
        t("sewn_band.press", strip=t.named(strip)),
    ]
    return said + again(step, t)


def folded_band(step: Step, t: Telling) -> list[str]:
    join = step.joins[0]
    strip, ground = t.named(join.a), t.named(join.b)
    shape = "ring" if step.round else "strip"
    several = "each" if step.times > 1 else "one"
    said = [
        t(f"folded_band.fold_{shape}_{several}", strip=strip),
        *([t("folded_band.try")] if step.round and step.ratio < 1 else []),
        t(f"folded_band.pin_{shape}", strip=strip, edges=t.edges_of_pieces(join.b)),
    ]
    if step.ratio < 1:
        said.append(t("folded_band.stretch", strip=strip, ground=ground))
    said += [*stitching(step, t), *finishing(step, t)]
    return [*said, t("folded_band.press", strip=strip, ground=ground), *again(step, t)]


def layers(step: Step, t: Telling) -> list[str]:
    join = step.joins[0]
    one, other = t.named(join.a), t.named(join.b)
    edges = t.edges([run for part in step.joins for run in part.a], several=True)
    if one == other:
        said = [t("layers.lay_two", pieces=t.pieces(join.a[0].piece), edges=edges)]
    else:
        said = [t("layers.lay", one=one, other=other, edges=edges)]
    between = [t.named(ply) for part in step.joins for ply in part.more]
    if between:
        said.append(t("layers.between", what=t.once(between)))
    said += [*matching(step, t), *stitching(step, t), t("layers.corner"), *_trimming(step, t, inner="layer")]
    return [*said, t("layers.turn"), *again(step, t)]


def sandwich(step: Step, t: Telling) -> list[str]:
    join = step.joins[0]
    outer = join.more[0] if join.more else join.b
    a_layer = bool(set(_names(join.a)) & set(_names(outer)))
    layers, between = t.named(join.a if a_layer else outer), t.named(join.b if a_layer else join.a)
    said = [t("sandwich.roll", layers=layers)] if step.joined else []
    said.append(t("sandwich.lay", layers=layers, between=between, edges=t.edges(join.b, several=True)))
    said += [*matching(step, t), *stitching(step, t)]
    draw = f"{t('sandwich.draw')} " if step.joined else ""
    return [*said, draw + t("sandwich.press", layers=layers, between=between), *again(step, t)]


def _names(runs: Sequence[Run]) -> list[str]:
    return [run.piece for run in runs]


def strip_ends(step: Step, t: Telling) -> list[str]:
    join = step.joins[0]
    strip, edges = t.named(join.a), t.edges(join.a, several=True)
    several = "each" if step.times > 1 else "one"
    if step.opening:
        said = [
            t(f"strip.fold_{several}", strip=strip),
            *stitching(step, t),
            t("strip.gap", gap=t.length(step.opening)),
            t("strip.turn_gap"),
        ]
    elif _over_fold(t.garment, join) and _caught_elsewhere(t.garment, join):
        start = t(f"strip.tie_{several}", strip=strip, edges=edges)
        said = [start, *stitching(step, t), t("strip.turn_tie")]
    elif _over_fold(t.garment, join):
        said = [t("strip.end", strip=strip, edges=edges), *stitching(step, t), t("strip.turn")]
    elif _along(t.garment, join):
        said = [t(f"strip.tube_{several}", strip=strip), *stitching(step, t), t("strip.turn_tube")]
    elif join.a[0].piece == join.b[0].piece and join.a[0].copy != join.b[0].copy:
        start = t("strip.end_to_end", strips=t.pieces(join.a[0].piece), edges=edges)
        said = [start, *matching(step, t), *stitching(step, t), t("press_open")]
    elif {r.piece for r in join.a} == {r.piece for r in join.b}:
        start = t(f"strip.ring_{several}", strip=strip)
        said = [start, *matching(step, t), *stitching(step, t), t("press_open")]
    else:
        start = t("strip.join", one=strip, other=t.named(join.b), edges=edges)
        said = [start, *matching(step, t), *stitching(step, t), t("press_open")]
    return said + again(step, t)


def _caught_elsewhere(garment: Garment, join: Join) -> bool:
    """Whether the strip is a tie: made by itself, its open end caught in a seam of others."""
    strips = {run.piece for run in join.a}
    return any(strips & {run.piece for run in ply} for seam in garment.seams for ply in seam.more)


def _along(garment: Garment, join: Join) -> bool:
    """Whether the two edges run along the strip: a strap sewn into a tube."""
    piece = garment.piece(join.a[0].piece)
    fold = next((mark.curve for mark in piece.marks if mark.kind == "fold line"), None)
    if fold is None or len({r.copy for r in (*join.a, *join.b)}) > 1:
        return False
    edge = piece.line(join.a[0].line)
    way, other = edge.start.to(edge.end).unit(), fold.start.to(fold.end).unit()
    return abs(way.dot(other)) > abs(way.cross(other))


def _over_fold(garment: Garment, join: Join) -> bool:
    """Whether the two edges meet at the fold of the strip."""
    for one, other in ((join.a, join.b), (join.b, join.a)):
        lines = {run.line for run in other}
        ends = (met(garment, one[0], going_out=False), met(garment, one[-1], going_out=True))
        if any(edge is not None and edge.name in lines for edge in ends):
            return True
    return False
