"""The panels of a skirt as they are cut: all skirts of the house share them.

A quarter of the skirt is one panel, or several side by side where the cloth is too narrow for one. Each is
drawn with the centre on its left; the back is turned over when it is done, so that front and back are the
wearer's left half with the right side up. The centre is a fold or a seam; the centre back seam may hold a zip
at the top and a slit at the hem, the side seam a pocket. What happens at the waist is not told here; the seams
stand in `skirt_seams`.

Lengths in cm, y up. Source: house rule, 2026-11.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from clothwise.body import Body
from clothwise.curve import Cubic, Curve, Line, Point, Vector, heading, line
from clothwise.draft import in_seam_pocket, level, pocket, zip_opening
from clothwise.draft.cone import Slice
from clothwise.draft.in_seam_pocket import InSeamPocket
from clothwise.draft.pattern import Choice
from clothwise.draft.rise import Rise
from clothwise.draft.turned_over import MIDDLE, turned_over
from clothwise.errors import ChoiceError
from clothwise.garment import Dart, Edge, Mark, Piece
from clothwise.garment.mirror import walked_back
from clothwise.garment.piece import EdgeKind

SEAM = 1.5  # cm allowance: room to fit
SLIT_TURN = 2.0  # cm turned at the slit's edges, of which
SLIT_FOLD_IN = 0.5  # cm are folded in first
GRAIN_FREE = 0.15  # of the length left above and below the grain arrow
POCKET_BELOW = 7.0  # cm from the waist edge to the pocket's top for an adult's hip of 100: a hand slides in
OPENING_BELOW = 5.0  # cm from the waist edge to the opening in a side seam, the same
POCKET_FROM_SIDE = 4.0  # cm between patch pocket and side seam
POCKET_ROOM = 2.0  # cm at least on either side of a pocket, on the narrowest panel
POCKET_ABOVE_HEM = 4.0  # cm between pocket and the top of the hem's turn

FRONT, BACK = "front_panel", "back_panel"
ORDINAL = ("", "Second ", "Third ", "Fourth ", "Fifth ", "Sixth ")
OVERLAP = 3.0  # cm by which the halves of a buttoned front lie over one another, half of it past the centre
STAND_FOLD_IN = 1.0  # cm folded in at the edge of the button stand, which is as wide as the overlap
STAND = "stand"
CENTRE, SIDE, INNER, OUTER = "centre", "side_seam", "inner", "outer"
NO_POCKETS, PATCH, IN_SEAM = "none", "patch", "side seam"


def pocket_choice(*kinds: str, main: bool = False) -> Choice:
    """The choice of pockets, of these kinds besides none; main: `suggest` tries each."""
    return Choice(
        "pockets",
        "Pockets, and where they are.",
        options=(NO_POCKETS, *kinds),
        default=NO_POCKETS,
        changes="patch: a pocket piece and its place on the front; side seam: an opening and bags",
        main=main,
    )


CLOTH_WIDTH_CHOICE = Choice(
    "cloth_width",
    "Usable width of the cloth: wider parts are joined from panels that fit it.",
    unit="cm",
    low=70.0,
    high=320.0,
    default=140.0,
    changes="number of panels",
)


@dataclass(frozen=True, slots=True)
class Panel:
    """One panel with the centre on its left: seams run down; waist (between its darts) and hem run outwards."""

    inner: Curve
    outer: Curve
    waist: tuple[Curve, ...]
    hem: Curve
    grain: tuple[Point, Point]
    marks: tuple[Mark, ...] = ()
    darts: tuple[Dart, ...] = ()


@dataclass(frozen=True, slots=True)
class Plan:
    """How the panels are cut and sewn. Lengths in cm; 0 or None: the skirt has none.

    hem, waist   what is turned or left outside the hem and the waist; waist_kind: how the waist is finished
    stand        what is turned back at an open, buttoned centre front
    back_seam    allowance of the centre back seam: more where it holds a zip
    """

    hem: float
    waist: float
    waist_kind: EdgeKind = "seam"
    fold_front: bool = False
    fold_back: bool = False
    zip: float = 0.0
    slit: float = 0.0
    stand: float = 0.0
    bag: InSeamPocket | None = None
    patch: pocket.Pocket | None = None
    bias: bool = False

    @property
    def back_seam(self) -> float:
        return zip_opening.SEAM if self.zip else SEAM


# ---- a panel from a cone -------------------------------------------------------------------------


def of_cone(
    piece: Slice,
    hip_depth: float,
    rise: Rise,
    *,
    out: float = 0.0,
    grain_at: float = 0.0,
    drawn: Callable[[Point, Vector, Point, Vector], Curve] | None = None,
) -> Panel:
    """A panel that is a slice of a cone. [cm]

    rise      of its waist; out: how far along the waist its inner seam lies from the centre
    grain_at  how far right of (0, 0) its grain stands upright
    drawn     how a waist that is not level is drawn between its ends, else with handles as of an arc
    """
    width = piece.outer - piece.inner
    return Panel(
        inner=piece.down(piece.inner, -rise.height(out), piece.length),
        outer=piece.down(piece.outer, -rise.height(out + width), piece.length),
        waist=(piece.across(0) if rise.level else _risen(piece, rise, out, drawn),),
        hem=piece.across(piece.length),
        grain=(
            Point(grain_at, piece.at(0, (1 - GRAIN_FREE) * piece.length).y),
            Point(grain_at, piece.at(0, GRAIN_FREE * piece.length).y),
        ),
        marks=(
            Mark("hip", "level", piece.across(hip_depth)),
            Mark("adjust_length", "adjust", piece.across((hip_depth + piece.length) / 2)),
        ),
    )


def _risen(
    piece: Slice, rise: Rise, out: float, drawn: Callable[[Point, Vector, Point, Vector], Curve] | None
) -> Curve:
    """A waist with a rise: at either seam at its height and slope."""
    ends = []
    for along, far in ((piece.inner, out), (piece.outer, out + piece.outer - piece.inner)):
        high = rise.height(far)
        turn = math.degrees(piece.bend * along + math.atan(rise.climb(far)))
        share = 4 / 3 * math.tan(piece.angle / 4) / piece.angle if piece.bend else 1 / 3
        handle = share * (piece.outer - piece.inner) * (1 - piece.bend * high)
        ends.append((piece.at(along, -high), heading(turn), handle))
    (start, leaves, first), (end, arrives, second) = ends
    if drawn:
        return drawn(start, leaves, end, arrives)
    return Curve((Cubic(start, start.go(leaves, first), end.go(arrives, -second), end),))


def layout(quarter: Slice, cloth_width: float, past_centre: float = zip_opening.SEAM) -> tuple[int, bool]:
    """How many panels a quarter of the skirt takes on cloth of that width, and whether the centre is a fold.

    A quarter is given with its centre upright at (0, 0). It lies whole on the folded cloth, else beside the
    other, else it is parted from waist to hem into equal panels with their middles upright. [cm]

    past_centre  what is cut beyond the centre where it is no fold
    """
    if 2 * (quarter.across_cloth() + SEAM) <= cloth_width:
        return 1, True
    if quarter.across_cloth() + SEAM + past_centre <= cloth_width:
        return 1, False
    count = 2
    while True:
        half = (quarter.outer - quarter.inner) / count / 2
        part = Slice(-half, half, quarter.length, quarter.bend)
        if 2 * part.across_cloth() + SEAM + past_centre <= cloth_width:
            return count, False
        count += 1


# ---- pieces --------------------------------------------------------------------------------------


def front_name(number: int) -> str:
    return FRONT if number == 0 else f"{FRONT}_{number + 1}"


def back_name(number: int) -> str:
    return BACK if number == 0 else f"{BACK}_{number + 1}"


def pieces(front: Sequence[Panel], back: Sequence[Panel], plan: Plan) -> tuple[Piece, ...]:
    """All panels from the centre outwards, front before back, then the pockets."""
    last = len(front) - 1
    found = [
        _piece(
            front_name(n),
            f"{ORDINAL[n]}front panel".capitalize(),
            panel,
            _front_centre(panel, plan) if n == 0 else _seam(INNER, panel.inner),
            _side(panel, plan) if n == last else _seam(OUTER, panel.outer),
            plan,
            folded=plan.fold_front and n == 0,
        )
        for n, panel in enumerate(front)
    ]
    found += [
        turned_over(
            _piece(
                back_name(n),
                f"{ORDINAL[n]}back panel".capitalize(),
                panel,
                _back_centre(panel, plan) if n == 0 else _seam(INNER, panel.inner),
                _side(panel, plan) if n == last else _seam(OUTER, panel.outer),
                plan,
                folded=plan.fold_back and n == 0,
            )
        )
        for n, panel in enumerate(back)
    ]
    if plan.patch:
        found.append(pocket.piece(plan.patch))
    if plan.bag:
        found[last] = _with_marks(found[last], in_seam_pocket.opening_marks(plan.bag, front[last].outer))
        found.append(in_seam_pocket.bag(plan.bag, _upright(front[last].outer), SEAM))
    return tuple(found)


def _piece(
    name: str,
    title: str,
    panel: Panel,
    centre: tuple[Edge, ...],
    side: tuple[Edge, ...],
    plan: Plan,
    *,
    folded: bool,
) -> Piece:
    """Down the centre, along the hem, up the side, back along the waist with its darts."""
    return Piece(
        name,
        title,
        edges=(
            *centre,
            Edge("hem", panel.hem, "hem", plan.hem),
            *walked_back(side),
            *walked_back(_waist(panel, plan)),
        ),
        grain=panel.grain,
        cutting="on fold" if folded else "pair",
        copies=1 if folded else 2,
        darts=tuple(replace(d, first_leg=d.second_leg, second_leg=d.first_leg) for d in panel.darts),
        marks=panel.marks,
        bias=plan.bias,
    )


def _waist(panel: Panel, plan: Plan) -> tuple[Edge, ...]:
    """The waist from the centre outwards, the mouths of the darts in between."""
    first = "waist" if len(panel.waist) == 1 else "waist_1"
    edges = [Edge(first, panel.waist[0], plan.waist_kind, plan.waist)]
    for n, (one, other) in enumerate(pairwise(panel.waist)):
        mouth = line(one.end, other.start)
        edges.append(Edge(panel.darts[n].edge, mouth, plan.waist_kind, plan.waist))
        edges.append(Edge(f"waist_{n + 2}", other, plan.waist_kind, plan.waist))
    return tuple(edges)


def _seam(name: str, curve: Curve, allowance: float = SEAM) -> tuple[Edge, ...]:
    return (Edge(name, curve, "seam", allowance),)


def _front_centre(panel: Panel, plan: Plan) -> tuple[Edge, ...]:
    if plan.stand:
        return (Edge(STAND, panel.inner, "hem", plan.stand),)
    return (Edge("fold", panel.inner, "fold", 0.0),) if plan.fold_front else _seam(CENTRE, panel.inner)


def _back_centre(panel: Panel, plan: Plan) -> tuple[Edge, ...]:
    """From the waist down: the zip, the seam, the slit."""
    if plan.fold_back:
        return (Edge("fold", panel.inner, "fold", 0.0),)
    whole = panel.inner.length()
    sewn = whole - plan.slit
    edges = [Edge(CENTRE, panel.inner.part(plan.zip, sewn), "seam", plan.back_seam)]
    if plan.zip:
        edges.insert(0, Edge(zip_opening.EDGE, panel.inner.part(0.0, plan.zip), "seam", plan.back_seam))
    if plan.slit:
        edges.append(Edge("slit", panel.inner.part(sewn, whole), "hem", SLIT_TURN))
    return tuple(edges)


def _side(panel: Panel, plan: Plan) -> tuple[Edge, ...]:
    if plan.bag:
        return in_seam_pocket.side_edges(plan.bag, panel.outer, SEAM, upwards=False)
    return _seam(SIDE, panel.outer)


def _with_marks(piece: Piece, marks: tuple[Mark, ...]) -> Piece:
    return replace(piece, marks=(*piece.marks, *marks))


def _upright(side: Curve) -> Curve:
    """A straight side seam set upright, so that the bag is drawn as it hangs; a curved one as it is."""
    if len(side.strokes) == 1 and isinstance(side.strokes[0], Line):
        return line(MIDDLE, MIDDLE.down(side.length()))
    return side


# ---- pockets -------------------------------------------------------------------------------------


def patch_for(body: Body, narrowest: float) -> pocket.Pocket:
    """A patch pocket for the body on a panel of that least width. [cm]"""
    return pocket.pocket_for(body["hip_girth"], narrowest - 2 * POCKET_ROOM)


def with_patch(
    panel: Panel, made: pocket.Pocket, body: Body, turn: float, where: str, below: float = 0.0
) -> Panel:
    """The front panel with the place of its patch pocket: a hand below the waist, a little in from the side.

    turn   of the hem: the pocket ends above it. ChoiceError when it would not.
    below  and at least so far below the waist
    """
    top = panel.waist[0].start.y - max(POCKET_BELOW * body["hip_girth"] / 100, below)
    bottom = top - made.height
    lack = min(panel.hem.start.y, panel.hem.end.y) + turn + POCKET_ABOVE_HEM - bottom
    if lack > 0:
        raise ChoiceError(
            f"A pocket {made.height:.0f} cm deep does not fit above the hem of so short a skirt.",
            where=where,
            mend=f"Choose no pockets, or make the skirt {math.ceil(lack)} cm longer.",
        )
    side = min(level.crossing(panel.outer, y).x for y in (top, bottom))
    middle = (max(level.crossing(panel.inner, y).x for y in (top, bottom)) + side) / 2
    right = max(side - POCKET_FROM_SIDE, middle + made.width / 2)  # on a narrow panel it lies in the middle
    return replace(panel, marks=(*panel.marks, pocket.place(made, Point(right - made.width, top))))


def bag_for(body: Body, side: float, across: float, turn: float, where: str) -> InSeamPocket:
    """A pocket in a side seam of that length, on a panel that leaves so much room across. [cm]"""
    start = OPENING_BELOW * body["hip_girth"] / 100
    room = in_seam_pocket.Room(across - POCKET_ROOM, side - turn - POCKET_ABOVE_HEM)
    made = in_seam_pocket.pocket_for(body["hip_girth"], start, room)
    if made is None:
        raise ChoiceError(
            "A pocket in the side seam does not fit above the hem of so short a skirt.",
            where=where,
            mend="Choose no pockets, or make the skirt longer.",
        )
    return made
