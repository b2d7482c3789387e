"""Trousers that pull on over the hips: a front and a back leg, each cut as a pair, with a grown-on casing.

What trousers, joggers and pyjama bottoms share. Each draft settles its choices into a `Design`; the legs are
drawn, finished at the waist and at the hem or cuff, given their pockets, and put together here.
The waist edge passes the hips; elastic draws it in. Lengths in cm.
Source: house rule, 2026-11, proved on the bodies of `benchmarks.drafts`. No pair has been sewn from it yet.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from clothwise.body import Body
from clothwise.curve import Curve, line
from clothwise.draft import drawstring, flat_front, hem, in_seam_pocket, level, pocket, trouser_pockets, waist
from clothwise.draft.crotch_length import crotch_level, front_crotch_level
from clothwise.draft.leg_pieces import (
    BACK,
    FRONT,
    SIDE,
    Half,
    Turn,
    back_piece,
    casing,
    front_piece,
    has_knee,
    joints,
    leg_hems,
    seams,
    waist_round,
)
from clothwise.draft.pattern import Choice, Wish
from clothwise.draft.possible import greatest
from clothwise.draft.trouser_frame import HEEL_EASE, KNEE_EASE, Cut, Legs, draw_legs
from clothwise.draft.trouser_pockets import Patch
from clothwise.errors import ChoiceError
from clothwise.garment import Garment, Level, Mark, Note, Passage, Piece, Seam
from clothwise.garment.notches import notched
from clothwise.tolerance import NOTCH_CORNER, SOLVE

THIGH_EASE = 3.0  # cm in the round, at least (rule: 2.5-5)
ELASTIC_STEP = 0.5  # cm: elastic is sold so
LEAST_RAISED = 0.1  # cm: a side raised by less is level

NEEDS = (
    "hip_girth",
    "waist_girth",
    "waist_to_hip",
    "body_rise",
    "crotch_length_total",
    "thigh_girth",
    "knee_girth",
    "calf_girth",
    "foot_heel_girth",
    "waist_to_knee",
    "waist_to_ankle",
    "inside_leg",
)

RISE_CHOICE = Choice(
    "rise",
    "Waist higher (+) or lower (-) than the natural waist.",
    unit="cm",
    low=-6.0,
    high=3.0,
    default=0.0,
    changes="upper edge of all pieces",
)
FRONT_CROTCH_CHOICE = Choice(
    "front_crotch",
    "Front part of the crotch length, taped from the waist in front down to the inseam; if left open as the "
    "draft shares it. For a full or a flat belly.",
    unit="cm",
    low=12.0,
    high=60.0,
    changes="waist climbs or falls towards the front, the other way towards the back",
)


def hip_ease_choice(default: float | None, low: float, high: float, usual: str = "") -> Choice:
    """`usual` says in words what it is when left open."""
    return Choice(
        "hip_ease",
        f"Room at the hip, in the round{'; if left open ' + usual if usual else ''}.",
        unit="cm",
        low=low,
        high=high,
        default=default,
        changes="width of all pieces, fork",
    )


def front_crotch(wish: Wish) -> float | None:
    """The front part of the crotch length, if it was given. [cm]"""
    return float(wish["front_crotch"]) if "front_crotch" in wish else None


@dataclass(frozen=True, slots=True)
class Design:
    """One make of pull-on trousers, its choices settled.

    cut           how the legs are cut
    usual_hem     depth turned up if no other is wished; hem: as wished [cm]
    elastic       width of the elastic as wished or as usual; elastic_wished: whether it was wished [cm]
    flat          whether the front lies flat and only the back is drawn in
    drawstring    whether a cord runs in the casing
    pockets       none, in-seam, patch in front, patch on the seat
    cuff_seam     allowance of the seam to a cuff, 0 where the leg ends in a hem [cm]
    """

    name: str
    title: str
    cut: Cut
    usual_hem: float
    hem: float | None
    elastic: float
    elastic_wished: bool
    flat: bool = False
    drawstring: bool = False
    pockets: str = trouser_pockets.NONE
    cuff_seam: float = 0.0


def casing_for(width: float, *, corded: bool) -> float:
    """Whole depth turned down for an elastic of that width. [cm]"""
    return waist.casing_turn(width) + (drawstring.CASING_ROOM if corded else 0.0)


@dataclass(frozen=True, slots=True)
class Made:
    """Legs drawn and finished."""

    legs: Legs
    turn: Turn
    elastic: waist.Elastic
    patch: Patch | None

    @property
    def front(self) -> Half:
        return self.legs.front

    @property
    def back(self) -> Half:
        return self.legs.back

    @property
    def edge(self) -> float:
        """Girth of the waist edge, ungathered. [cm]"""
        return 2 * (self.front.waist.length() + self.back.waist.length())


def made(body: Body, design: Design) -> Made:
    """Raises MeasureError, ChoiceError or DraftError with one sentence."""
    legs = draw_legs(body, design.cut)
    turn = _turn(body, design, legs)
    girth = waist.girth_below_waist(body, -legs.frame.waist)
    front, back = 2 * legs.front.waist.length(), 2 * legs.back.waist.length()
    if design.flat:
        found = flat_front.flat_elastic(body, girth, turn.elastic, front, back)
    else:
        found = waist.elastic(body, girth, turn.elastic)
    patch = None
    if design.pockets in (trouser_pockets.PATCH_FRONT, trouser_pockets.PATCH_SEAT):
        ground = legs.back if design.pockets == trouser_pockets.PATCH_SEAT else legs.front
        depth = turn.hem or turn.cuff_seam
        patch = trouser_pockets.patch(
            design.pockets, body["hip_girth"], ground, turn.casing, depth, design.name
        )
    return Made(legs, turn, found, patch)


def garment(body: Body, design: Design, made: Made, wish: Wish, notes: tuple[Note, ...] = ()) -> Garment:
    """Put together; a draft with cuffs adds them to it."""
    legs, turn, found = made.legs, made.turn, made.elastic
    whole = Garment(
        name=design.name,
        title=design.title,
        pieces=(*_pieces(made, design), *_pocket_pieces(made)),
        seams=(*_patch_seams(made), *seams(turn)),
        free_edges=(
            *((pocket.top(),) if made.patch else ()),
            casing(legs.front, turn, found),
            *(() if turn.cuff_seam else (leg_hems(turn),)),
        ),
        joints=joints(legs.front, turn),
        levels=_levels(body, design, legs),
        passages=_passages(body, legs.front, design.cut.gives),
        notions=(found.notion("casing"), *((drawstring.cord(made.edge),) if design.drawstring else ())),
        notes=(*legs.notes, *_finish_notes(design, made), *notes),
        choices=wish,
        finished=_finished(made),
        for_child=body.child,
        body_name=body.name,
    )
    return _with_notches(whole, made)


# ---- waist and hem -------------------------------------------------------------------------------


def _turn(body: Body, design: Design, legs: Legs) -> Turn:
    width = _foldable_width(body, design, legs)
    depth = 0.0
    if not design.cuff_seam:
        usual = hem.deepened_for_growth(design.usual_hem, body.child)
        depth = hem.hem_depth(usual, design.hem, legs.front.hem, legs.back.hem)
    turned = casing_for(width, corded=design.drawstring)
    found = None
    if design.pockets == trouser_pockets.IN_SEAM:
        below = depth or design.cuff_seam
        found = trouser_pockets.in_seam(body["hip_girth"], legs.front, turned, below, design.name)
    return Turn(elastic=width, casing=turned, hem=depth, pocket=found, cuff_seam=design.cuff_seam)


def _foldable_width(body: Body, design: Design, legs: Legs) -> float:
    """Width of elastic whose casing folds down flat on this waist. ChoiceError for a wish too wide. [cm]"""
    most = max(_widest(design, legs), 0.0)
    if design.elastic <= most + SOLVE:
        return design.elastic
    if not (design.elastic_wished or design.cut.side_raised):
        return max(math.floor(most / ELASTIC_STEP) * ELASTIC_STEP, ELASTIC_STEP)
    raise _unfoldable(body, design)


def _widest(design: Design, legs: Legs) -> float:
    """The widest elastic whose casing folds down flat on these legs. [cm]"""
    return hem.foldable(legs.front.waist, legs.back.waist) - casing_for(0.0, corded=design.drawstring)


def _folds(body: Body, design: Design, width: float, side_raised: float) -> bool:
    """Whether it would, of trousers drawn anew for that elastic and that side. [cm]"""
    casing = casing_for(width, corded=design.drawstring)
    try:
        legs = draw_legs(body, replace(design.cut, casing=casing, side_raised=side_raised))
    except ChoiceError:
        return False
    return width <= _widest(design, legs) + SOLVE


def _unfoldable(body: Body, design: Design) -> ChoiceError:
    """What to do where the casing does not fold down flat."""
    side, width = design.cut.side_raised, design.elastic
    narrower = greatest(lambda cm: _folds(body, design, cm, side), waist.WIDTH_CHOICE.low, width)
    lower = greatest(lambda cm: _folds(body, design, width, cm), LEAST_RAISED, side) if side else None
    if lower is not None:
        also = f", and with elastic of {narrower:g} cm what you asked" if narrower else ""
        return ChoiceError(
            f"Raised {side:g} cm at the side the waist bends too much for a casing of {width:g} cm elastic.",
            where=f"pattern '{design.name}', choice 'side_waist'",
            mend=f"For this body up to {lower:g} cm is possible{also}.",
        )
    if narrower is not None:
        mend = f"For this body up to {narrower:g} cm is possible."
    elif side:
        mend = "Leave the waist level at the side, and take a narrower elastic."
    else:
        mend = "Leave the elastic open: it is then made as narrow as this waist needs."
    return ChoiceError(
        f"A casing for {width:g} cm of elastic does not fold flat on so short and curved a waist.",
        where=f"pattern '{design.name}', choice 'elastic_width'",
        mend=mend,
    )


def _finish_notes(design: Design, made: Made) -> tuple[Note, ...]:
    return (
        *_narrower(design, made.turn),
        *waist.elastic_notes(made.elastic),
        *_flat_notes(made),
        *(drawstring.notes() if design.drawstring else ()),
        *_dart_notes(made.front),
    )


def _narrower(design: Design, turn: Turn) -> tuple[Note, ...]:
    by = turn.elastic - design.elastic
    if by == 0:
        return ()
    text = f"The waist is short and curved, so its casing is made for elastic {turn.elastic:g} cm wide."
    return (Note(text, measure="elastic_width", by=by),)


def _flat_notes(made: Made) -> tuple[Note, ...]:
    flat = made.elastic.flat
    if not flat:
        return ()
    past = made.front.waist.length() - flat / 2
    if past < SOLVE:
        text = (
            "The front casing stays flat; the elastic runs through the back and is sewn down at the side seams."
        )
    else:
        text = (
            f"So that the hips still pass, only {flat:.0f} cm in the middle of the front stay flat: "
            f"the elastic runs {past:.1f} cm past each side seam and is sewn down at the marks."
        )
    return (Note(text),)


def _dart_notes(front: Half) -> tuple[Note, ...]:
    if not front.darted:
        return ()
    text = (
        "Sew each front dart straight on beyond the waist to the raw edge of the casing, so that the casing "
        "folds down flat behind it."
    )
    return (Note(text),)


# ---- pieces --------------------------------------------------------------------------------------


def _pieces(made: Made, design: Design) -> tuple[Piece, Piece]:
    frame, turn, front = made.legs.frame, made.turn, made.front
    marks: list[Mark] = []
    if made.elastic.flat and made.elastic.flat < 2 * front.waist.length() - SOLVE:
        marks.append(_elastic_end(made))
    if design.drawstring:
        marks.append(drawstring.eyelet(front.waist, front.crotch, turn.casing, waist.TURN_IN))
    pieces = front_piece(front, frame, turn), back_piece(made.back, frame, turn)
    on_front = replace(pieces[0], marks=(*pieces[0].marks, *marks))
    if not made.patch:
        return on_front, pieces[1]
    if made.patch.ground == FRONT:
        return replace(on_front, marks=(*on_front.marks, made.patch.place)), pieces[1]
    return on_front, replace(pieces[1], marks=(*pieces[1].marks, made.patch.place))


def _pocket_pieces(made: Made) -> tuple[Piece, ...]:
    if made.turn.pocket:
        return (in_seam_pocket.bag(made.turn.pocket, made.front.side, _side_allowance(made)),)
    return (pocket.piece(made.patch.pocket),) if made.patch else ()


def _side_allowance(made: Made) -> float:
    return front_piece(made.front, made.legs.frame, made.turn).edge(in_seam_pocket.OPENING).allowance


def _patch_seams(made: Made) -> tuple[Seam, ...]:
    return (pocket.seam(made.patch.ground),) if made.patch else ()


def _elastic_end(made: Made) -> Mark:
    """Where the elastic ends on the front: a short line across the casing, square to the waist."""
    line_there, at = _on_front_waist(made.front, made.elastic.flat / 2)
    top = line_there.at_length(at)
    way = line_there.tangent_at_length(at).right()
    return Mark("elastic_end", "note", line(top, top.go(way, made.turn.casing - waist.TURN_IN)))


def _on_front_waist(front: Half, at: float) -> tuple[Curve, float]:
    """The part of the front waist as it is cut that lies so far from the centre, and how far along it. [cm]"""
    if not front.darted:
        return front.waist, at
    inner = front.darted.inner.length()
    return (front.darted.inner, at) if at <= inner else (front.darted.outer, at - inner)


# ---- what is promised ----------------------------------------------------------------------------


def _levels(body: Body, design: Design, legs: Legs) -> tuple[Level, ...]:
    def both(mark: str, times: int) -> tuple[tuple[str, str, int], ...]:
        return ((FRONT, mark, times), (BACK, mark, times))

    frame = legs.frame
    found = [
        Level("hip", "Hip", both("hip", 2), frame.hip, frame.finished_hip - frame.hip),
        Level("thigh", "Thigh", both("thigh", 1), frame.thigh, THIGH_EASE, at_least=True),
        crotch_level(body, frame, legs.seat, both("crotch", 1)),
    ]
    taped = design.cut.front_crotch
    if taped is not None:
        found.append(front_crotch_level(frame, legs.seat, taped, ((FRONT, "crotch", 1),)))
    if has_knee(frame, max(legs.front.hem.start.y, legs.front.hem.end.y)):
        found.append(Level("knee", "Knee", both("knee", 1), body["knee_girth"], KNEE_EASE, at_least=True))
    return tuple(found)


def _passages(body: Body, front: Half, gives: float) -> tuple[Passage, ...]:
    hips = Passage(
        "over_hips",
        "Waist edge over the hips",
        waist_round(front),
        passes=body["hip_girth"],
        needs=waist.OVER_HIPS,
    )
    heel = Passage(
        "over_heel",
        "Hem over the heel",
        ((FRONT, "hem", 1), (BACK, "hem", 1)),
        passes=body["foot_heel_girth"],
        needs=HEEL_EASE,
        stretch=gives,
    )
    return hips, heel


def _finished(made: Made) -> dict[str, float]:
    """Finished measures in the trade's words. [cm]"""
    front, back = made.front, made.back
    return {
        "waist, elastic relaxed": made.elastic.flat + made.elastic.length - waist.LAP,
        "waist, stretched": made.edge,
        "hip": made.legs.frame.finished_hip,
        "hem": front.hem.length() + back.hem.length(),
        "inside leg": front.inseam.length(),
        "outside leg": front.side.length(),
        "front rise": front.crotch.length(),
        "back rise": back.crotch.length(),
    }


# ---- match marks ---------------------------------------------------------------------------------


def _with_notches(garment: Garment, made: Made) -> Garment:
    """Match marks, walked along the seams: hip and knee at the side, knee inside, one single and one double
    at the turns of the crotch curve."""
    front, back, frame = made.front, made.back, made.legs.frame
    knee = has_knee(frame, max(front.hem.start.y, front.hem.end.y))
    inside = level.distance_to(front.inseam, frame.knee) if knee else front.inseam.length() / 2
    garment = _side_notch(garment, made, frame.hip_level, "hip")
    if knee:
        garment = _side_notch(garment, made, frame.knee, "knee")
    garment = notched(garment, "inseam", inside, "inside")
    back_turn, front_turn = _straight(back.crotch), _straight(front.crotch)
    garment = notched(garment, "crotch", back_turn, "back", 2, 2)
    return notched(garment, "crotch", back.crotch.length() + front.crotch.length() - front_turn, "front")


def _side_notch(garment: Garment, made: Made, y: float, sign: str) -> Garment:
    """A pair of notches on the side seam at that height of the front; a pocket's opening has its own."""
    at = level.distance_to(made.front.side, y)
    made_in = made.turn.pocket
    if made_in is None:
        return notched(garment, SIDE, at, sign)
    below = at - made_in.start - made_in.opening
    if below < NOTCH_CORNER + SOLVE:
        return garment
    return notched(garment, in_seam_pocket.LOWER, below, sign)


def _straight(crotch: Curve) -> float:
    """Length of the straight upper part of a crotch seam. [cm]"""
    return crotch.strokes[0].length(tolerance=SOLVE)
