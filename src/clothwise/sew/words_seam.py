"""What is said of a seam that joins edge to edge: how the edges are brought together, stitched and pressed."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from clothwise.garment import Run
from clothwise.sew import words_turned as turned
from clothwise.sew.cut_copies import met
from clothwise.sew.phrases import Telling
from clothwise.sew.step import Join, Make, Step
from clothwise.sew.words_stitch import again, caught, finishing, fullness, matching, stitching

MAKES: Mapping[Make, Callable[[Step, Telling], list[str]]] = {
    "facing": turned.facing, "binding": turned.binding, "band": turned.band, "folded band": turned.folded_band,
    "layers": turned.layers, "sandwich": turned.sandwich, "folded on itself": turned.strip_ends,
}  # fmt: skip


def seam(step: Step, t: Telling) -> list[str]:
    return MAKES.get(step.make, _joined)(step, t)


# ---- edge to edge ------------------------------------------------------------------------------


def _joined(step: Step, t: Telling) -> list[str]:
    join = step.joins[0]
    if step.tube == "nested" and not step.round:
        said = _nested_start(step, t, join.a)
    elif step.round:
        said = _round_start(step, t, join)
    elif len(step.seams) > 1:
        said = _in_one_go(step, t)
    else:
        said = _flat_start(step, t, join.a, join.b)
    said += [*caught(step, t), *matching(step, t), *fullness(step, t), *stitching(step, t)]
    return [*said, *finishing(step, t), *_pressing(step, t, join.a, join.b), *again(step, t)]


def _next_to_next(step: Step) -> bool:
    """Whether each copy is joined to the next of those alike, not to itself or to its mirror image."""
    return all(join.a[0].number != join.b[0].number for join in step.joins)


def _faces(a: Sequence[Run], b: Sequence[Run]) -> tuple[Run, Run]:
    """Two runs that lie on each other, of two pieces where there are two."""
    return next(((x, y) for x, y in zip(a, b, strict=False) if x.piece != y.piece), (a[0], b[0]))


def _belongs(step: Step, t: Telling, a: Sequence[Run], b: Sequence[Run]) -> list[str]:
    """How to see that a left was not taken for a right, the first time pieces of two pairs meet."""
    pairs = all(t.garment.piece(run.piece).cutting == "pair" for run in (a[0], b[0]))
    if step.joined or step.tube or a[0].piece == b[0].piece or step.times < 2 or not pairs:
        return []
    one, other = t.piece(a[0].piece), t.piece(b[0].piece)
    return [t("flat.belongs", one=one, other=other, edges=t.edges(a[:1], several=True))]


def _flat_start(step: Step, t: Telling, a: Sequence[Run], b: Sequence[Run]) -> list[str]:
    first, second = _faces(a, b)
    one, other = t.piece(first.piece), t.piece(second.piece)
    how = t(f"together.{'wrong' if step.facing == 'wrong sides together' else 'right'}")
    edges = t.edges(a, several=True)
    several = "each" if step.times > 1 else "one"
    if t.garment.edge_of(b[0]) is None:
        return [t("flat.on_line", strip=t.named(a), ground=other, line=t.edge(b[0].line))]
    if {r.piece for r in a} == {r.piece for r in b}:
        copies = t.garment.piece(a[0].piece).copies
        alike = t.pieces(a[0].piece)
        if step.times == copies > 1 and _next_to_next(step):
            start = t("flat.ring", copies=copies, pieces=alike, how=how, edges=edges)
        elif step.tube and a[0].line == b[0].line and step.joins[0].a[0].copy != step.joins[0].b[0].copy:
            start = t("flat.fold_two", pieces=alike, how=how, edges=edges)
        elif step.tube in ("closes each", "folded") or copies == 1:
            if a[0].line != b[0].line:
                start = t(f"flat.lengthwise_{several}", piece=one, how=how, edge=t.edges(a), on=t.edges(b))
            else:
                start = t(f"flat.folded_{several}", piece=one, how=how, edges=edges)
        else:
            start = t("flat.two_alike", pieces=alike, how=how, edges=edges)
    elif step.tube == "folded":
        start = t("flat.fold_work", one=one, other=other, how=how, edges=t.edges((*a, *b), several=True))
    elif step.tube == "closes each":
        start = t(f"flat.fold_{several}", one=one, other=other, how=how, edges=edges)
    elif step.joined and step.times > 1:
        ours, theirs = t.these(a[0].piece), t.these(b[0].piece)
        start = t("flat.joined", one=ours, other=theirs, how=how, edges=edges)
    else:
        ours, theirs = t.edges_of_pieces(a), t.edges_of_pieces(b)
        start = t("flat.lay", one=t.named(a), other=t.named(b), how=how, ours=ours, theirs=theirs)
    return [*_belongs(step, t, a, b), start]


def _legs(step: Step) -> list[Join]:
    """The seams of one side, in the order in which the needle goes."""
    return list(step.joins[: len(step.seams)])


def _in_one_go(step: Step, t: Telling) -> list[str]:
    parts = [
        t("edges_of", edges=t.edges(both, several=True), pieces=t.named(both))
        for both in ((*join.a, *join.b) for join in _legs(step))
    ]
    bag = any(t.garment.piece(j.a[0].piece).layer == "pocket" for j in _legs(step))
    line = f", {t('then')} ".join(parts)
    said = [t("one_go.fold" if step.tube else "one_go.lay", line=line)]
    return [*said, t("one_go.bags")] if bag else said


def _nested_start(step: Step, t: Telling, a: Sequence[Run]) -> list[str]:
    legs = all("leg" in t.garment.piece(r.piece).name for r in a)
    return [
        t("nested.leg" if legs else "nested.part", edges=t.edges(a, several=True)),
        t("nested.match", seams=t.crossed(step)),
    ]


def _round_start(step: Step, t: Telling, join: Join) -> list[str]:
    ours, theirs = _closing(t, step, join.a), _closing(t, step, join.b)
    pin = t("in_round.pin", ours=ours, theirs=theirs) if ours and theirs else t("in_round.pin_seams")
    piece, edges = t.named(join.a), t.edges(join.a)
    return [t("in_round.slip", piece=piece, edges=edges, theirs=t.edges_of_pieces(join.b)), pin]


def _closing(t: Telling, step: Step, chain: Sequence[Run]) -> str:
    """Titles of the seams that close the chain into a ring, in running text."""
    ends = (
        (chain[0].piece, met(t.garment, chain[0], going_out=False)),
        (chain[-1].piece, met(t.garment, chain[-1], going_out=True)),
    )
    lines = {(piece, edge.name) for piece, edge in ends if edge is not None}
    found = [
        t.inside(seam.title)
        for seam in t.garment.seams
        if seam.name not in step.seams and any((r.piece, r.line) in lines for r in seam.runs)
    ]
    return t.listed(found)


def _pressing(step: Step, t: Telling, a: Sequence[Run], b: Sequence[Run]) -> list[str]:
    same = {r.piece for r in a} == {r.piece for r in b}
    towards = {
        "open": t("pressed.open"),
        "to a": t("pressed.towards", piece=t.named(a)),
        "to b": t("pressed.towards", piece=t.named(b)),
        "up": t("pressed.up"),
        "down": t("pressed.down"),
    }
    if step.why in ("gathered", "pleated"):
        return [f"{towards[step.pressed]} {t('pressed.gathers' if step.ratio > 1 else 'pressed.pleats')}"]
    if step.why == "round cap":
        return [t("pressed.cap")]
    if same and step.pressed in ("to a", "to b"):
        curved = step.rows > 1 and step.seam_type is not None and step.seam_type.name != "French seam"
        return [t("pressed.straight_parts" if curved else "pressed.aside")]
    if len(step.seams) > 1 and step.pressed != "open":
        return [t("pressed.aside")]
    return [towards[step.pressed]] if step.pressed in towards else []
