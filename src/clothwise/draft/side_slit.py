"""Slits at the foot of the side seams: the seam ends higher, its allowances are turned to either side below.

The allowance of the seam is just what is turned: the folded edge runs straight on from the seam pressed open.
Front and back are hemmed apart. Lengths in cm. Source: trade knowledge: 5 to 20 long, on a straight hem.
"""

from __future__ import annotations

from dataclasses import replace

from clothwise.draft.pattern import Choice
from clothwise.draft.possible import at_most
from clothwise.errors import ChoiceError
from clothwise.garment import Edge, FreeEdge, Garment, Notch, Piece, Run
from clothwise.tolerance import NOTCH_CORNER

SLIT = "slit"
SHORTEST, LONGEST = 5.0, 20.0  # cm: shorter it is a nick, longer it bares the waist
SEAM_LEFT = 6.0  # cm of the seam's lowest edge that must be left above it,
BELOW_WAIST = 5.0  # cm: and so far below the waist it ends
FOLD_IN_SHARE = 0.5  # of what is turned is folded in first

CHOICE = Choice(
    "side_slit",
    "Slits at the foot of the side seams, so long from the hem; left open, none. On a straight hem.",
    unit="cm",
    low=SHORTEST,
    high=LONGEST,
    changes="side seams, hem",
)


def slitted(garment: Garment, long: float, front: str, back: str) -> Garment:
    """The garment, its front a pair and its back on the fold, with slits below the side seams.

    ChoiceError where a dart or the top of the seam leaves no room for them. [cm]
    """
    seam = garment.seam("side_seam")
    ends = {run.piece: run for run in (seam.a[0], seam.b[0])}
    for run in ends.values():
        room = _room(garment, run)
        if long > room:
            raise ChoiceError(
                f"A slit {long:g} cm long would reach too near to the waist or to a dart in the side.",
                where=f"pattern '{garment.name}', choice 'side_slit'",
                mend=f"Up to {at_most(room)} cm is possible." if room >= SHORTEST else "Choose none here.",
            )
    pieces = tuple(_parted(p, ends[p.name], long) if p.name in ends else p for p in garment.pieces)
    turn = garment.piece(front).edge(seam.a[0].line).allowance
    slits = (Run(front, SLIT), Run(back, SLIT))
    (hem,) = (free for free in garment.free_edges if free.name == "hem")
    behind = (Run(back, "hem"), Run(back, "hem", backwards=True, side="mirrored"))
    hems = (
        replace(hem, name="front_hem", title="Hems of the fronts", runs=(Run(front, "hem"),), times=2),
        replace(hem, name="back_hem", title="Hem of the back", runs=behind),
    )
    edges = tuple(
        FreeEdge(f"{run.piece}_slit", title, (run,), "hem", turn, FOLD_IN_SHARE * turn, closed=False, times=2)
        for run, title in zip(slits, ("Side slits of the fronts", "Side slits of the back"), strict=True)
    )
    return replace(
        garment,
        pieces=pieces,
        free_edges=(*edges, *hems, *(free for free in garment.free_edges if free is not hem)),
        joints=tuple(joint for joint in garment.joints if joint.name != "hem at the side"),
        finished={**garment.finished, "side slit": long},
    )


def _room(garment: Garment, run: Run) -> float:
    """The longest slit that the edge which runs up from the hem leaves room for. [cm]"""
    foot = garment.curve(run).start
    waist = garment.piece(run.piece).mark("waist").curve.start
    return min(garment.length((run,)) - SEAM_LEFT, waist.y - foot.y - BELOW_WAIST)


def _parted(piece: Piece, run: Run, long: float) -> Piece:
    """The edge that runs down to the hem in two: what is sewn, and the slit."""
    whole = piece.edge(run.line)
    length = whole.curve.length()
    if run.backwards:
        sewn, slit = whole.curve.split(length - long)
        moved = tuple(notch for notch in whole.notches if notch.at < length - long - NOTCH_CORNER)
        parts = (replace(whole, curve=sewn, notches=moved), Edge(SLIT, slit, "hem", whole.allowance))
    else:
        slit, sewn = whole.curve.split(long)
        moved = tuple(Notch(n.sign, n.at - long, n.count) for n in whole.notches if n.at > long + NOTCH_CORNER)
        parts = (Edge(SLIT, slit, "hem", whole.allowance), replace(whole, curve=sewn, notches=moved))
    edges = tuple(part for edge in piece for part in (parts if edge.name == run.line else (edge,)))
    return replace(piece, edges=edges)
