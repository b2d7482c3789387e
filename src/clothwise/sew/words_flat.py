"""What is said of the work on single, flat pieces: marks, interfacing, darts, creases, gathers, eyelets."""

from __future__ import annotations

from collections.abc import Sequence

from clothwise.garment import Garment, Run
from clothwise.sew.graph import CURVED_DEG, turning_of
from clothwise.sew.phrases import (
    FINISHES,
    HARD,
    edge_name,
    edges_of,
    length,
    listed,
    lower,
    named_pieces,
    piece_title,
    piece_titles,
    sign_list,
)
from clothwise.sew.sewer import Units
from clothwise.sew.step import Step

NOTCH_DEEP = 0.3  # cm: a snip that stays well clear of the seam
BESIDE_SEAM = 0.2  # cm: long stitches lie just outside the seam line, so that no hole is seen (T)
ROW_APART, LEAST_FROM_EDGE = 0.4, 0.3  # cm: the second row from the first, and from the raw edge (T)


def edges_by_piece(garment: Garment, runs: Sequence[Run]) -> list[str]:
    """'front leg: side, inside leg' for every piece, each edge once."""
    found: dict[str, list[str]] = {}
    for run in runs:
        lines = found.setdefault(run.piece, [])
        if edge_name(run.line) not in lines:
            lines.append(edge_name(run.line))
    return [f"{piece_title(garment, piece)}: {', '.join(lines)}" for piece, lines in found.items()]


def mark(step: Step, garment: Garment, units: Units) -> list[str]:
    pieces = [f"{p.title.lower().replace(' ', HARD)}{HARD}×{HARD}{p.copies}" for p in garment.pieces]
    said = [
        f"Lay out all the cut pieces: {listed(pieces)}.",
        "On the wrong side of each, chalk its name and an arrow that points up. If both sides of the cloth "
        "look alike, choose one now and keep to it.",
    ]
    patches = {run.piece for seam in garment.seams if seam.kind == "patch" for run in seam.a}
    pairs = [
        piece_title(garment, p.name) for p in garment.pieces if p.cutting == "pair" and p.name not in patches
    ]
    if pairs:
        said.append(
            f"Check the pairs: the pieces of {listed([f'the {p}' for p in pairs])} must be mirror images, a "
            "left and a right."
        )
    said.append(f"Snip each notch no deeper than {length(NOTCH_DEEP, units)}, or chalk it.")
    inside = _inner_marks(garment)
    if inside:
        said.append(
            f"Carry over what is drawn inside the pieces: {listed(inside)}. A pin through paper and cloth "
            "shows the place on both layers."
        )
    return said


def _inner_marks(garment: Garment) -> list[str]:
    """What is drawn inside pieces and needed later."""
    kinds = {mark.kind for piece in garment.pieces for mark in piece.marks}
    words = {
        "placement": "pocket places",
        "button": "button places",
        "buttonhole": "buttonholes",
        "fold line": "fold lines",
    }
    darts = ["darts with their tips"] if any(piece.darts for piece in garment.pieces) else []
    return [*darts, *(word for kind, word in words.items() if kind in kinds)]


def fuse(step: Step, garment: Garment, units: Units) -> list[str]:
    names = list(dict.fromkeys(run.piece for run in step.edges))
    pieces = listed([f"the {piece_title(garment, name)}" for name in names])
    return [
        f"Cut interfacing for {pieces}, the same way of the grain, just inside the seam lines, so that it does "
        "not thicken the seams.",
        "Try a scrap first. Lay each piece wrong side up, the interfacing on it, glued side down.",
        "Press place by place without sliding, as long as the maker says, with a cloth between. Let it cool "
        "flat before you move it.",
    ]


def stay(step: Step, garment: Garment, units: Units) -> list[str]:
    return [
        f"On each single piece, right side up, stitch {length(step.allowance, units)} from the raw edge along: "
        f"{'; '.join(edges_by_piece(garment, step.edges))}.",
        "Start at the wider end each time, let the machine feed, and do not pull. Lay the piece on its paper: "
        "the curve must still be as long.",
    ]


def neaten(step: Step, garment: Garment, units: Units) -> list[str]:
    verb = FINISHES[step.neatenings[0].finish]
    said = [
        f"With each piece single and flat, right side up, {verb} these edges:",
        *[f"– {text}" for text in edges_by_piece(garment, step.edges)],
    ]
    if verb == "overlock":
        said.append("Let the knife take off no more than the fluff: the seams are measured from this edge.")
    else:
        said.append("The needle should fall just off the edge on its outer swing. Do not stretch the edge.")
    return said


# ---- darts -------------------------------------------------------------------------------------


def dart(step: Step, garment: Garment, units: Units) -> list[str]:
    piece = garment.piece(step.name.removesuffix(" darts"))
    several = step.count > 1
    said = [
        f"{f'There are {step.count} darts. For each, fold' if several else 'Fold'} the "
        f"{piece_title(garment, piece.name)} along the middle of the dart, right sides together, so that its "
        "two legs lie on each other; pin through both lines.",
    ]
    if any(d.edge for d in piece.darts):
        said.append(
            "Stitch from the edge to the tip, the last stitches along the very fold; leave long threads and "
            "knot them. No stitching back at the tip: it makes a knob."
        )
    if step.point:
        said.append(
            "A dart pointed at both ends is sewn in two halves, from its widest place to either tip. Snip the "
            "fold once at the widest place, so that it can lie flat."
        )
    return [*said, *_dart_pressing(step)]


def _dart_pressing(step: Step) -> list[str]:
    ways = {
        "to the centre": "Press as sewn, then towards the centre of the body, over something rounded.",
        "down": "Press as sewn, then downwards, over something rounded.",
        "both": "Press as sewn, then upright ones towards the centre, sloping ones downwards, over something "
        "rounded.",
    }
    return [ways[step.pressed]] if step.pressed in ways else []


# ---- bands -------------------------------------------------------------------------------------


def crease(step: Step, garment: Garment, units: Units) -> list[str]:
    names = list(dict.fromkeys(run.piece for run in step.edges))
    strips = listed([piece_titles(garment, n) if step.times > 1 else piece_title(garment, n) for n in names])
    said = []
    if step.count:
        said.append(
            f"Fold the {strips} in half along the fold line, wrong sides together, press the fold sharp, and "
            "open it out again."
        )
    said.append(
        f"Wrong side up, press {length(step.allowance, units)} to the wrong side along: "
        f"{'; '.join(edges_by_piece(garment, step.edges))}. Leave the other edges as they are."
    )
    return said


def fold_in(step: Step, garment: Garment, units: Units) -> list[str]:
    piece = garment.piece(step.edges[0].piece)
    each = "each " if step.times > 1 else "the "
    return [
        f"Lay {each}{lower(piece.title)} wrong side up and press {length(step.allowance, units)} to the wrong "
        "side all round, except at the finished top: first the base, then the sides.",
        _corners(step, garment),
    ]


def _corners(step: Step, garment: Garment) -> str:
    """How the corners of a patch come out well."""
    if turning_of(garment, step.edges) >= CURVED_DEG:
        return (
            "Round corners lie smooth over a card of the finished shape: a row of long stitches in the "
            "allowance, drawn up round the card, then pressed."
        )
    return (
        "A card cut to the finished shape and laid inside gives sharp corners. Fold the surplus of each corner "
        "in so that nothing peeps out."
    )


# ---- gathers and eyelets -----------------------------------------------------------------------


def gather(step: Step, garment: Garment, units: Units) -> list[str]:
    where = f"the {edges_of(step.edges)} of the {named_pieces(garment, step.edges)}"
    if step.why == "ease":
        between = f" between the notches {sign_list(step.notches)}" if len(step.notches) > 1 else ""
        return [
            f"Along {where}{between}, right side up, stitch one row of long stitches in the allowance, "
            f"{length(BESIDE_SEAM, units)} outside the seam line; leave the threads long.",
            f"Draw the lower thread up until the edge is {length(step.fuller, units)} shorter, none of it near "
            "the underarm. Spread the fullness with your fingers so that no fold is left on the seam line, and "
            "steam the edge over your fist or a rolled towel.",
            *(["Do the other in the same way."] if step.times > 1 else []),
        ]
    first, second = step.allowance - BESIDE_SEAM, step.allowance - BESIDE_SEAM - ROW_APART
    return [
        f"Right side up, stitch two rows of long stitches along {where}, both in the allowance: "
        f"{length(first, units)} and {length(max(second, LEAST_FROM_EDGE), units)} from the raw edge. Stop and "
        "begin afresh at every seam; leave the threads long at both ends.",
        f"Mark the quarters on this edge and on the edge it goes to; here {step.ratio:.3g} times its length is "
        "drawn up.",
        "Draw the two lower threads up together, from both ends, until the quarters match. Wind the threads "
        "round a pin, and spread the gathers with your fingers, even and upright.",
    ]


def eyelet(step: Step, garment: Garment, units: Units) -> list[str]:
    pieces = listed(list(dict.fromkeys(piece_title(garment, run.piece) for run in step.edges)))
    several = step.count > 1
    return [
        f"Behind {'each place' if several else 'the place'} marked on the {pieces}, fuse a scrap of "
        "interfacing to the wrong side.",
        "Right side up, work "
        f"{'a small buttonhole at each mark' if several else 'a small buttonhole on the mark'}, through this "
        "layer only, or set a metal eyelet. Try it on a scrap first; open it with a seam ripper, a pin across "
        "its end.",
    ]
