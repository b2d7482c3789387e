"""Slits at the foot of the side seams: the seam ends higher, its allowances are turned to either side below.

The allowance of the seam is just what is turned: the folded edge runs straight on from the seam pressed open.
Front and back are hemmed apart. The natural waist lies on y = 0, lengths in cm. Source: trade knowledge: 5 to
20 long on a straight hem, up to 40 on a dress.
"""

from __future__ import annotations

from dataclasses import replace

from clothwise.draft import in_seam_pocket
from clothwise.draft.narrow_hem import EASED_AWAY
from clothwise.draft.pattern import Choice, Wish
from clothwise.draft.possible import at_least, at_most
from clothwise.errors import ChoiceError
from clothwise.garment import Edge, FreeEdge, Garment, Notch, Piece, Run
from clothwise.tolerance import NOTCH_CORNER

SLIT = "slit"
SHORTEST, LONGEST, LONGEST_OF_DRESS = 5.0, 20.0, 40.0  # cm: shorter it is a nick
SEAM_LEFT = 6.0  # cm of the seam's lowest edge that must be left above it,
BELOW_WAIST = 5.0  # cm: and so far below the waist it ends; of a skirt, which nothing is worn under,
BELOW_HIP = 4.0  # cm: so far below the hip line
ABOVE_HEM = 0.5  # cm: and so far above what is turned up at the hem
LOOKS = 8  # at each stroke of a seam, for how far up it is straight
FOLD_IN_SHARE = 0.5  # of what is turned is folded in first,
LEAST_FOLDED = 1.2  # cm: where so much is turned; less, on a knit, is turned once and overlocked


def choice(longest: float = LONGEST, where: str = "") -> Choice:
    """The choice of the slits' length. `where`: a word more on what they go with. [cm]"""
    return Choice(
        "side_slit",
        f"Slits at the foot of the side seams, so long from the hem; left open, none.{where}",
        unit="cm",
        low=SHORTEST,
        high=longest,
        changes="side seams, hem",
    )


def slitted(garment: Garment, wish: Wish, highest: float = BELOW_WAIST) -> Garment:
    """The garment, its back on the fold or joined at the centre, with the slits that are asked below its side
    seams, if any; they end `highest` below the waist at least.

    ChoiceError where the waist or hip, a dart or the top of the seam leaves no room for them, or where they end
    within the hem's turn. [cm]
    """
    if "side_slit" not in wish:
        return garment
    long = float(wish["side_slit"])
    seam = next(one for one in garment.seams if one.name in ("side_seam", in_seam_pocket.LOWER))
    low = (_lowest(garment, seam.a), _lowest(garment, seam.b))
    (hem,) = (free for free in garment.free_edges if free.name == "hem")
    _refuse(garment.name, long, hem.turn + ABOVE_HEM, min(_room(garment, run, highest) for run in low))
    ends = {run.piece: run for run in low}
    pieces = tuple(_parted(p, ends[p.name], long) if p.name in ends else p for p in garment.pieces)
    others = (free for free in garment.free_edges if free is not hem)
    return replace(
        garment,
        pieces=pieces,
        seams=tuple(replace(one, pressed="open") if one is seam else one for one in garment.seams),
        free_edges=(*_slits(garment, low), *_hems(hem, low), *others),
        joints=tuple(joint for joint in garment.joints if joint.name != "hem at the side"),
        finished={**garment.finished, "side slit": long},
    )


def _room(garment: Garment, run: Run, highest: float) -> float:
    """How long a slit may be at the foot of that seam, where it is still so straight that what is turned lies
    flat. [cm]"""
    up, turn = garment.curve(run), garment.piece(run.piece).edge(run.line).allowance
    room, low = min(up.length() - SEAM_LEFT, -up.start.y - highest), 0.0
    for number, stroke in enumerate(up.strokes):
        for look in range(LOOKS + 1):
            if abs(stroke.curvature(look / LOOKS)) * turn > EASED_AWAY:
                return min(room, low)
            low = up.length_to(number, look / LOOKS)
    return room


def _refuse(pattern: str, long: float, least: float, most: float) -> None:
    """ChoiceError where a slit is shorter or longer than can be had. [cm]"""
    where = f"pattern '{pattern}', choice 'side_slit'"
    if long > most:
        raise ChoiceError(
            f"A slit {long:g} cm long would reach too near to the waist or hip, or to a dart in the side.",
            where=where,
            mend=f"Up to {at_most(most)} cm is possible."
            if most >= max(least, SHORTEST)
            else "Choose none here.",
        )
    if long < least:
        raise ChoiceError(
            f"A slit {long:g} cm long would end within the hem, which is turned up {least - ABOVE_HEM:g} cm.",
            where=where,
            mend=f"{at_least(least)} cm or more is possible; a shallower hem allows less."
            if most >= least
            else "Choose none here, or a shallower hem.",
        )


def _lowest(garment: Garment, runs: tuple[Run, ...]) -> Run:
    """The run of a side seam that meets the hem, walked up from it."""
    if garment.curve(runs[0]).start.y < garment.curve(runs[-1]).end.y:
        return runs[0]
    return replace(runs[-1], backwards=not runs[-1].backwards)


def _slits(garment: Garment, low: tuple[Run, Run]) -> tuple[FreeEdge, ...]:
    turn = garment.piece(low[0].piece).edge(low[0].line).allowance
    fold_in = FOLD_IN_SHARE * turn if turn >= LEAST_FOLDED else 0.0
    titles = "Side slits of the front", "Side slits of the back"
    return tuple(
        FreeEdge(
            f"{run.piece}_slit", title, (Run(run.piece, SLIT),), "hem", turn, fold_in, closed=False, times=2
        )
        for run, title in zip(low, titles, strict=True)
    )


def _hems(hem: FreeEdge, low: tuple[Run, Run]) -> tuple[FreeEdge, ...]:
    """Of front and back, from slit to slit; of a front that opens, from there to the slit on either side."""
    front, back = (run.piece for run in low)
    first = next(i for i, run in enumerate(hem.runs) if run.piece == front != hem.runs[i - 1].piece)
    runs = (*hem.runs[first:], *hem.runs[:first]) if hem.closed else hem.runs
    behind = tuple(run for run in runs if run.piece == back)
    before = tuple(run for run in runs if run.piece == front)
    of_front = (
        replace(hem, name="front_hem", title="Hem of the front", runs=before, closed=False)
        if hem.closed
        else replace(hem, name="front_hem", title="Hems of the fronts", runs=before[:1], times=2)
    )
    return of_front, replace(hem, name="back_hem", title="Hem of the back", runs=behind, closed=False)


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
