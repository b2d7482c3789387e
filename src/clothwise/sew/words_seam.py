"""What is said of a seam that joins edge to edge: how the edges are brought together, stitched and pressed."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from clothwise.garment import Garment, Run
from clothwise.sew import words_turned as turned
from clothwise.sew.cut_copies import met
from clothwise.sew.phrases import (
    edge_name,
    edges_of,
    listed,
    lower,
    named_pieces,
    piece_title,
    piece_titles,
    these,
)
from clothwise.sew.sewer import Units
from clothwise.sew.step import Join, Make, Step
from clothwise.sew.words_stitch import again, caught, edge_phrase, finishing, fullness, matching, stitching

ASIDE = "Press it to one side."
MAKES: Mapping[Make, Callable[[Step, Garment, Units], list[str]]] = {
    "facing": turned.facing, "binding": turned.binding, "band": turned.band, "folded band": turned.folded_band,
    "layers": turned.layers, "sandwich": turned.sandwich, "folded on itself": turned.strip_ends,
}  # fmt: skip


def seam(step: Step, garment: Garment, units: Units) -> list[str]:
    if step.make in MAKES:
        return MAKES[step.make](step, garment, units)
    return _joined(step, garment, units)


# ---- edge to edge ------------------------------------------------------------------------------


def _joined(step: Step, garment: Garment, units: Units) -> list[str]:
    join = step.joins[0]
    if step.tube == "nested" and not step.round:
        said = _nested_start(step, garment, join.a)
    elif step.round:
        said = _round_start(step, garment, join)
    elif len(step.seams) > 1:
        said = _in_one_go(step, garment)
    else:
        said = _flat_start(step, garment, join.a, join.b)
    said += caught(step, garment)
    said += matching(step)
    said += fullness(step, garment, units)
    said += stitching(step, garment, units)
    said += finishing(step, units)
    said += _pressing(step, garment, join.a, join.b)
    return said + again(step)


def _next_to_next(step: Step) -> bool:
    """Whether each copy is joined to the next of those alike, not to itself or to its mirror image."""
    return all(join.a[0].number != join.b[0].number for join in step.joins)


def _faces(a: Sequence[Run], b: Sequence[Run]) -> tuple[Run, Run]:
    """Two runs that lie on each other, of two pieces where there are two."""
    return next(((x, y) for x, y in zip(a, b, strict=False) if x.piece != y.piece), (a[0], b[0]))


def _belongs(step: Step, garment: Garment, a: Sequence[Run], b: Sequence[Run]) -> list[str]:
    """How to see that a left was not taken for a right, the first time pieces of two pairs meet."""
    pairs = all(garment.piece(run.piece).cutting == "pair" for run in (a[0], b[0]))
    if step.joined or step.tube or a[0].piece == b[0].piece or step.times < 2 or not pairs:
        return []
    one, other = piece_title(garment, a[0].piece), piece_title(garment, b[0].piece)
    return [
        f"Take a {one} and a {other} for the same side of the body. If the {edge_name(a[0].line)} edges will "
        "not meet with the upper ends together, you hold a left and a right: change one of them."
    ]


def _flat_start(step: Step, garment: Garment, a: Sequence[Run], b: Sequence[Run]) -> list[str]:
    first, second = _faces(a, b)
    one, other = piece_title(garment, first.piece), piece_title(garment, second.piece)
    together = step.facing
    if garment.edge_of(b[0]) is None:
        return [
            f"Lay the {named_pieces(garment, a)} on the right side of the {other}, right sides together, its "
            f"seam line on the marked line ({edge_name(b[0].line)}), the finished edge pointing away from "
            "where it will fall."
        ]
    if {r.piece for r in a} == {r.piece for r in b}:
        copies = garment.piece(a[0].piece).copies
        if step.times == copies > 1 and _next_to_next(step):
            start = (
                f"Join the {copies} {piece_titles(garment, a[0].piece)} end to end: lay each on the next, "
                f"{together}, {edges_of(a, several=True)} together, and the last on the first, so that they "
                "make a ring."
            )
        elif step.tube in ("closes each", "folded") or garment.piece(a[0].piece).copies == 1:
            each = "each " if step.times > 1 else "the "
            start = (
                f"Fold {each}{one} lengthwise, {together}, so that the {edges_of(a)} lies on the {edges_of(b)}."
                if a[0].line != b[0].line
                else f"Fold {each}{one}, {together}, so that both {edges_of(a, several=True)} meet."
            )
        else:
            start = (
                f"Lay the two {piece_titles(garment, a[0].piece)} on each other, {together}, "
                f"{edges_of(a, several=True)} together."
            )
    elif step.tube == "folded":
        start = (
            f"Fold the work so that the {one} lies on the {other}, {together}, and the "
            f"{edges_of((*a, *b), several=True)} meet at the side."
        )
    elif step.tube == "closes each":
        start = (
            f"Fold each joined part so that the {one} lies on the {other}, {together}, and the "
            f"{edges_of(a, several=True)} meet."
        )
    elif step.joined and step.times > 1:
        start = (
            f"Lay the joined {these(garment, a[0].piece)} on the joined {these(garment, b[0].piece)}, "
            f"{together}, so that the {edges_of(a, several=True)} meet at both sides."
        )
    else:
        start = (
            f"Lay the {named_pieces(garment, a)} on the {named_pieces(garment, b)}, {together}, and bring "
            f"{edge_phrase(garment, a)} to {edge_phrase(garment, b)}."
        )
    return [*_belongs(step, garment, a, b), start]


def _legs(step: Step) -> list[Join]:
    """The seams of one side, in the order in which the needle goes."""
    return list(step.joins[: len(step.seams)])


def _in_one_go(step: Step, garment: Garment) -> list[str]:
    parts = [f"the {_both_edges(j)} of the {_both(garment, j)}" for j in _legs(step)]
    bag = any(garment.piece(j.a[0].piece).layer == "pocket" for j in _legs(step))
    fold = (
        "Fold the work so that front lies on back, right sides together, and all of this side lies flat in one "
        "line:"
        if step.tube
        else "Lay the work with right sides together, so that this side lies flat in one line:"
    )
    said = [f"{fold} {', then '.join(parts)}."]
    if bag:
        said.append(
            "Press the bags away from the garment first and bring their round edges together; at the ends of "
            "the opening swing the upper layer out of the way, so that the needle turns exactly where the bag "
            "is sewn on."
        )
    return said


def _both_edges(join: Join) -> str:
    """'side edges', or 'front underarm and back underarm edges' of one sleeve."""
    return edges_of((*join.a, *join.b), several=True)


def _both(garment: Garment, join: Join) -> str:
    return named_pieces(garment, (*join.a, *join.b))


def _nested_start(step: Step, garment: Garment, a: Sequence[Run]) -> list[str]:
    part = "leg" if all("leg" in garment.piece(r.piece).name for r in a) else "part"
    return [
        f"Turn one {part} right side out and leave the other inside out. Slip the first into the second, so "
        f"that right side lies on right side and the {edges_of(a, several=True)} lie together in one long U.",
        f"Match the {listed([c.lower() for c in step.crossings])} first, allowances lying as they were "
        "pressed; then the two ends at the waist, front on front and back on back.",
    ]


def _round_start(step: Step, garment: Garment, join: Join) -> list[str]:
    a = named_pieces(garment, join.a)
    ours, theirs = _closing(garment, step, join.a), _closing(garment, step, join.b)
    first = f"the {ours} on the {theirs}" if ours and theirs else "seam on seam"
    return [
        f"Turn the {a} right side out and the garment inside out. Slip the {a} in, so that right side lies on "
        f"right side and the {edges_of(join.a)} of the {a} meets {edge_phrase(garment, join.b)}.",
        f"Pin {first}, then what lies opposite.",
    ]


def _closing(garment: Garment, step: Step, chain: Sequence[Run]) -> str:
    """Titles of the seams that close the chain into a ring, in running text."""
    ends = (
        (chain[0].piece, met(garment, chain[0], going_out=False)),
        (chain[-1].piece, met(garment, chain[-1], going_out=True)),
    )
    lines = {(piece, edge.name) for piece, edge in ends if edge is not None}
    found = [
        lower(seam.title)
        for seam in garment.seams
        if seam.name not in step.seams and any((r.piece, r.line) in lines for r in seam.runs)
    ]
    return listed(found)


def _pressing(step: Step, garment: Garment, a: Sequence[Run], b: Sequence[Run]) -> list[str]:
    same = {r.piece for r in a} == {r.piece for r in b}
    towards = {
        "open": "Press the seam as it was sewn, then press it open.",
        "to a": f"Press it towards the {named_pieces(garment, a)}.",
        "to b": f"Press it towards the {named_pieces(garment, b)}.",
        "up": "Press it upwards.",
        "down": "Press it downwards.",
    }
    if step.why == "gathered":
        return [f"{towards[step.pressed]} Touch the gathers only with the tip of the iron."]
    if step.why == "round cap":
        return [
            "Press only the allowance, from the sleeve's side; let it turn into the sleeve by itself, where it "
            "holds the head up."
        ]
    if same and step.pressed in ("to a", "to b"):
        curved = step.rows > 1 and step.seam_type is not None and step.seam_type.name != "French seam"
        return ["Press the straight parts to one side; leave the curve as it falls."] if curved else [ASIDE]
    if len(step.seams) > 1 and step.pressed != "open":
        return [ASIDE]
    return [towards[step.pressed]] if step.pressed in towards else []
