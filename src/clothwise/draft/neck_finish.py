"""How the neck of a knit is finished, and how wide it must be for the head.

    band     a strip folded in half stands on the seam; it covers its width inwards
    binding  a strip sewn to the edge and turned over it; the edge itself is its fold
    hem      the edge turned in once, as narrow as its curve asks

The neckline asked for is the finished edge, so the seam of a band lies its width farther out. A head passes by
stretch: the seam opens by a part of the cloth's, the band, which runs across it, by nearly all of its own.
Where that is too little the neck is cut wider and lower, and a note says by how much.
Lengths in cm. Source: drafting method 5.1-5.2; rules of the trade D; widths house rule, 2026-11.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from clothwise.body import Body
from clothwise.curve import DOWN, Curve, NoSolution, solve
from clothwise.draft import rib
from clothwise.draft.knit import BAND_PASSES_OF_STRETCH, PASSES_OF_STRETCH
from clothwise.draft.narrow_hem import narrow_turn
from clothwise.draft.pattern import Choice, Wish
from clothwise.errors import ChoiceError
from clothwise.garment import FreeEdge, Note, Passage, Piece, Run, Seam
from clothwise.garment.piece import EdgeKind, Layer
from clothwise.tolerance import SOLVE

BAND, BINDING, HEM = "band", "binding", "hem"
HOOD = "hood"  # no choice of its own: the edge is a seam to a hood
BAND_WIDTH, CHILD_BAND_WIDTH = 2.0, 1.6  # cm finished
BINDING_WIDTH, CHILD_BINDING_WIDTH = 1.0, 0.8  # cm finished
STIFF_WIDTH = 2.0  # cm: a wider band of a stiff cloth does not lie flat (rule)
SEAM = rib.SEAM
OPENS_OVER_HEAD = 0.5  # cm: the seam, pulled out, is at least the head and this; the strip at least the head
LOWER, BACK_LOWER = 1.0, 0.5  # of what the neck is widened on each shoulder it is lowered in front and behind

FINISH_CHOICE = Choice(
    "neck_finish",
    "How the neck edge is finished: a band standing on it, a binding over it, or the edge turned in.",
    options=(BAND, BINDING, HEM),
    default=BAND,
    changes="neck edges, a strip",
)
WIDTH_CHOICE = Choice(
    "band_width",
    f"Finished width of the neckband; if left open {BAND_WIDTH:g}, for a child {CHILD_BAND_WIDTH:g}.",
    unit="cm",
    low=1.5,
    high=5.0,
    changes="neckband, and the seam it is sewn to",
)
CLOTH_CHOICE = Choice(
    "bands",
    "What bands and bindings are cut from: the cloth itself, or rib.",
    options=("own cloth", "rib"),
    default="own cloth",
    changes="length of the bands",
)
CHOICES = (FINISH_CHOICE, WIDTH_CHOICE, CLOTH_CHOICE, rib.rib_choice(), rib.RECOVERY_CHOICE)


@dataclass(frozen=True, slots=True)
class Finish:
    """As asked: kind, finished width, the cloth's stretch and the band's, as shares; recovery of the band."""

    kind: str
    width: float
    cloth: float
    stretch: float
    recovery: str
    layer: Layer

    @property
    def inset(self) -> float:
        """How far inside the seam the finished edge lies; none for a turned edge. [cm]"""
        return 0.0 if self.kind in (HEM, HOOD) else self.width

    @property
    def allowance(self) -> float:
        """Outside the seam line: a binding wraps just its own width. Of a turned edge see `finished`. [cm]"""
        return self.width if self.kind == BINDING else SEAM

    def share(self, opening: float) -> float:
        """Length of the strip over the opening."""
        return rib.hollow_share(opening, self.width, self.stretch, self.recovery)

    def passes(self, opening: float, head: float) -> float:
        """By how much the tighter of seam and strip opens beyond the head; negative where it does not. [cm]"""
        seam = opening * (1 + PASSES_OF_STRETCH * self.cloth) - head - OPENS_OVER_HEAD
        if self.kind in (HEM, HOOD):
            return seam
        strip = opening * self.share(opening) * (1 + BAND_PASSES_OF_STRETCH * self.stretch) - head
        return min(seam, strip)


def asked(body: Body, wish: Wish, pattern: str) -> Finish:
    """The finish as the choices say. ChoiceError where a band is too wide for so stiff a cloth."""
    kind, own = str(wish["neck_finish"]), wish["bands"] == "own cloth"
    cloth = float(wish["stretch"]) / 100
    stretch = cloth if own else float(wish["rib_stretch"]) / 100
    if kind == BINDING:
        width = CHILD_BINDING_WIDTH if body.child else BINDING_WIDTH
    else:
        width = float(wish.get("band_width", CHILD_BAND_WIDTH if body.child else BAND_WIDTH))
        if kind == BAND and stretch < rib.STIFF and width > STIFF_WIDTH:
            raise ChoiceError(
                f"A neckband {width:g} cm wide does not lie flat in a cloth of {100 * stretch:g} % stretch.",
                where=f"pattern '{pattern}', choice 'band_width'",
                mend=f"Up to {STIFF_WIDTH:g} cm is possible with it; or cut the bands from rib.",
            )
    return Finish(kind, width, cloth, stretch, str(wish["recovery"]), "shell" if own else "rib")


def widening(
    opening: Callable[[float], float], finish: Finish, head: float, most: float, pattern: str
) -> float:
    """How much wider on each shoulder the neck is cut so that the head passes; 0 where it does. [cm]

    opening  girth of the seam when widened so much. ChoiceError when `most` is not enough.
    """
    if finish.passes(opening(0.0), head) >= 0:
        return 0.0
    try:
        return solve(lambda x: finish.passes(opening(x), head), 0.0, 0.0, most, tolerance=SOLVE)
    except NoSolution:
        raise ChoiceError(
            f"A head of {head:.1f} cm does not pass a neck in a cloth of {100 * finish.cloth:g} % stretch.",
            where=f"pattern '{pattern}', choice 'stretch'",
            mend="Choose a cloth that stretches further, bands of rib, or a scooped neckline.",
        ) from None


def widening_notes(by: float) -> tuple[Note, ...]:
    if by <= 0:
        return ()
    text = (
        f"The neck is cut {by:.1f} cm wider on each shoulder and {LOWER * by:.1f} cm lower: the head must pass."
    )
    return (Note(text, measure="neck", by=by),)


# ---- on the pieces -------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Finished:
    """What the finish adds to a garment. `kind` and `allowance` of the neck edges. [cm]"""

    kind: EdgeKind
    allowance: float
    pieces: tuple[Piece, ...] = ()
    seams: tuple[Seam, ...] = ()
    free_edges: tuple[FreeEdge, ...] = ()
    passages: tuple[Passage, ...] = ()
    measures: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Necks:
    """The two necks as drawn, shoulder to centre, and the pieces they belong to; head girth. [cm]"""

    front: Curve
    back: Curve
    head: float
    pointed: bool = False
    front_piece: str = "front"
    back_piece: str = "back"

    @property
    def opening(self) -> float:
        return 2 * (self.front.length() + self.back.length())

    @property
    def runs(self) -> tuple[Run, ...]:
        """Once round, from the centre back; a V from its point, where the band begins and ends."""
        front, back = self.front_piece, self.back_piece
        if self.pointed:
            return (
                Run(front, "neck", backwards=True),
                Run(back, "neck"),
                Run(back, "neck", backwards=True, side="mirrored"),
                Run(front, "neck", side="mirrored"),
            )
        return (
            Run(back, "neck", backwards=True),
            Run(front, "neck"),
            Run(front, "neck", backwards=True, side="mirrored"),
            Run(back, "neck", side="mirrored"),
        )

    def matches(self, share: float) -> tuple[tuple[str, float], ...]:
        """Where a strip begun as `runs` meets shoulders and the other centre, along the strip. [cm]"""
        first, half = (self.front, "centre_back") if self.pointed else (self.back, "centre_front")
        shoulder, whole = share * first.length(), share * self.opening
        return (("shoulder", shoulder), (half, whole / 2), ("other_shoulder", whole - shoulder))


def over_head(necks: Necks, finish: Finish) -> Passage:
    """The seam round the neck, pulled out, lets the head through."""
    edges = ((necks.front_piece, "neck", 2), (necks.back_piece, "neck", 2))
    stretch = PASSES_OF_STRETCH * finish.cloth
    return Passage("head", "Neck over the head", edges, necks.head, OPENS_OVER_HEAD, stretch)


def finished(necks: Necks, finish: Finish, pattern: str) -> Finished:
    """Pieces, seams and edges of the finish. ChoiceError where it cannot be on so bent an edge."""
    if necks.pointed and finish.kind != BAND:
        raise ChoiceError(
            "The point of a V is finished by a band mitred there.",
            where=f"pattern '{pattern}', choice 'neck_finish'",
            mend="Choose the band, or a round or scooped neckline.",
        )
    neck = over_head(necks, finish)
    if finish.kind == HEM:
        return _turned_in(necks, neck, pattern)
    name = "neckband" if finish.kind == BAND else "neck_binding"
    title = "Neckband" if finish.kind == BAND else "Neck binding"
    share = finish.share(necks.opening)
    length, around = share * necks.opening, BAND_PASSES_OF_STRETCH * finish.stretch
    strip = Passage(f"head_{name}", f"{title} over the head", ((name, "outer", 1),), necks.head, 0.0, around)
    ends = rib.closing(name, f"Ends of the {title.lower()}")
    free: tuple[FreeEdge, ...] = ()
    if finish.kind == BINDING:
        piece = rib.binding(name, title, length, finish.width, finish.layer)
        sewn = rib.bound(name, f"{name}_seam", title, necks.runs, share)
        free = (rib.sewn_down(name, "Inside of the neck binding", finish.width),)
    elif necks.pointed:
        point = math.degrees(math.acos(necks.front.end_tangent.dot(DOWN)))
        piece = rib.mitred_band(name, title, length, finish.width, point, finish.layer)
        ends = rib.mitre(name, "Mitre of the neckband")
        sewn = rib.sewn_on(name, f"{name}_seam", title, necks.runs, share)
    else:
        piece = rib.band(name, title, length, finish.width, finish.layer)
        sewn = rib.sewn_on(name, f"{name}_seam", title, necks.runs, share)
    piece = rib.with_matches(piece, necks.matches(share))
    measures = ((f"{title.lower()}, cut to", length),)
    return Finished("seam", finish.allowance, (piece,), (ends, sewn), free, (neck, strip), measures)


def _turned_in(necks: Necks, neck: Passage, pattern: str) -> Finished:
    turn = narrow_turn(necks.front, necks.back)
    if turn is None:
        raise ChoiceError(
            "So small a neck curves too much to be turned in.",
            where=f"pattern '{pattern}', choice 'neck_finish'",
            mend="Choose the band or the binding, or a scooped neckline.",
        )
    edge = FreeEdge("neck_hem", "Neck edge", necks.runs, "hem", turn=turn)
    return Finished("hem", turn, free_edges=(edge,), passages=(neck,))
