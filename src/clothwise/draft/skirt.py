"""Four-panel skirt: two front panels and two back panels, pull-on, with a grown-on casing at the waist.

Each panel is a quarter of a cone: a rectangle when the skirt is straight, a slice of a ring when it flares, so
every seam is straight and square to waist and hem. Drawn with the waist's middle at (0, 0), the centre seam on
the left and the side seam on the right, y up, cm; the back panel is turned over, so that both are the wearer's
left half with the right side up. Cloth without stretch: the waist edge passes the hips, elastic draws it in.

    W  waist edge of the whole skirt   psi  angle of the whole cone [radians]
    L  length from waist to hem        r    from the tip of the cone to the waist, W / psi

Source: house rule, 2026-11, proved on the bodies of `benchmarks.drafts`; ease, hems and walking room from the
rules of the trade. Not sewn yet. Not drawn: a waist lowered at the back or raised over a belly.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from clothwise.body import Body
from clothwise.curve import UP, Cubic, Curve, Point, heading, line
from clothwise.draft import hem, level, pocket, waist
from clothwise.draft.panels_joined import BACK, FRONT, HEM_AT_CENTRE_BACK, JOINTS, SEAMS, open_hem, round_body
from clothwise.draft.pattern import Choice, HouseDraft, Wish
from clothwise.errors import ChoiceError
from clothwise.garment import (
    Edge,
    FreeEdge,
    Garment,
    Level,
    Mark,
    Note,
    Passage,
    Piece,
    Run,
)
from clothwise.garment.notches import notched

HIP_EASE = 6.0  # cm in the round: sits without strain, hangs without folds (rule: 5-10)
LEAST_BELOW_HIP = 8.0  # cm: shorter, it no longer covers the seat when she bends
LEAST_TO_KNEE = 0.42  # or this share of the way from hip to knee: a small child is soon at the knee
LEAST_CLEAR = 3.0  # cm from the floor at least: it must not be trodden on
STRIDE_OF_HEIGHT = 0.75  # hem girth over body height that lets her take a full step (rule of the trade)
STRIDE_FROM = 0.9  # of waist to knee: a skirt that ends higher than this does not hold the step
SLIT_ABOVE_KNEE = 0.28  # of waist to knee: the slit ends two hands above the knee, below the seat
SLIT_LEAST = 12.0  # cm: a shorter slit frees no step
SLIT_TURN = 2.0  # cm turned at the slit's edges, of which
SLIT_FOLD_IN = 0.5  # cm are folded in first
SEAM = 1.5  # cm allowance: room to fit
POCKET_BELOW = 7.0  # cm from the waist edge to the pocket's top for an adult's hip of 100: a hand slides in
POCKET_FROM_SIDE = 4.0  # cm between pocket and side seam
POCKET_ROOM = 2.0  # cm at least on either side of the pocket, on the narrowest panel
POCKET_ABOVE_HEM = 4.0  # cm between pocket and the top of the hem's turn
GRAIN_FREE = 0.15  # of the length left above and below the grain arrow
NOTCH_FREE = 4.0  # cm: a notch is set no nearer to an end of its seam

LENGTHS = {"mini": level.mini, "knee": level.knee, "midi": level.mid_calf, "maxi": level.maxi}
NO_POCKETS, PATCH = "none", "patch"

CHOICES = (
    Choice("length", "Where the skirt ends.", options=tuple(LENGTHS), default="knee", changes="hem", main=True),
    level.longer_choice(20.0),
    Choice(
        "flare",
        "How much wider each panel is at the hem than at the waist.",
        unit="cm",
        low=0.0,
        high=12.0,
        default=0.0,
        changes="seams lean, waist and hem curve",
    ),
    Choice(
        "pockets",
        "Patch pockets on the front.",
        options=(NO_POCKETS, PATCH),
        default=NO_POCKETS,
        changes="a pocket piece, its place on the front panel",
        main=True,
    ),
    Choice(
        "hip_ease",
        "Room at the hip, in the round.",
        unit="cm",
        low=4.0,
        high=24.0,
        default=HIP_EASE,
        changes="width of all panels",
    ),
    waist.WIDTH_CHOICE,
    hem.depth_choice(f"{hem.STRAIGHT_SKIRT_HEM:g}, flared {hem.FLARED_SKIRT_HEM:g}"),
)


@dataclass(frozen=True, slots=True)
class Frame:
    """What body and choices fix. Girths of the whole skirt and lengths [cm]; angle of one panel [radians]."""

    waist: float
    angle: float
    length: float
    hip_depth: float
    slit: float  # length of the slit at the centre back, 0 = none
    pocket: pocket.Pocket | None

    @property
    def tip(self) -> float:
        """From the tip of the cone to the waist; infinite for a straight skirt. [cm]"""
        return self.waist / 4 / self.angle if self.angle else math.inf

    def at(self, share: float, depth: float) -> Point:
        """A point of the panel: share -1 at the centre seam to +1 at the side, depth below the waist."""
        if not self.angle:
            return Point(share * self.waist / 8, -depth)
        turn = share * self.angle / 2
        radius = self.tip + depth
        return Point(radius * math.sin(turn), self.tip - radius * math.cos(turn))

    def across(self, depth: float) -> Curve:
        """The level line at that depth, from the centre seam to the side."""
        start, end = self.at(-1, depth), self.at(1, depth)
        if not self.angle:
            return line(start, end)
        half = math.degrees(self.angle / 2)
        handle = 4 / 3 * math.tan(self.angle / 4) * (self.tip + depth)
        return Curve((Cubic(start, start.go(heading(-half), handle), end.go(heading(half), -handle), end),))

    def down(self, share: float, upper: float, lower: float) -> Curve:
        """A line down the panel between two depths: a seam at share -1 or 1."""
        return line(self.at(share, upper), self.at(share, lower))

    @property
    def hem_girth(self) -> float:
        return self.waist + 4 * self.angle * self.length


@dataclass(frozen=True, slots=True)
class Turn:
    """Width of the elastic; whole depths turned at waist and hem. [cm]"""

    elastic: float
    casing: float
    hem: float


def draw(body: Body, wish: Wish) -> Garment:
    """The skirt for this body. Raises ChoiceError with one sentence."""
    frame, notes = _frame(body, wish)
    turn = _turn(body, wish, frame)
    _refuse_flare(frame, turn)
    if frame.pocket:
        _refuse_pocket_off(frame, turn, body)
    found = waist.elastic(body, body["waist_girth"], turn.elastic)
    panels = (_front(frame, turn, body), _back(frame, turn))
    pockets = (pocket.piece(frame.pocket),) if frame.pocket else ()
    garment = Garment(
        name="four_panel_skirt",
        title="Four-panel skirt",
        pieces=(*panels, *pockets),
        seams=(*((pocket.seam(FRONT),) if frame.pocket else ()), *SEAMS),
        free_edges=_free_edges(frame, turn),
        joints=JOINTS if frame.slit else (*JOINTS, HEM_AT_CENTRE_BACK),
        levels=(Level("hip", "Hip", _both("hip"), body["hip_girth"], _hip_ease(body, frame)),),
        passages=(
            Passage(
                "over_hips", "Waist edge over the hips", _both("waist"), body["hip_girth"], waist.OVER_HIPS
            ),
        ),
        notions=(found.notion("casing"),),
        notes=(*notes, *waist.elastic_notes(found)),
        choices=wish,
        finished=_finished(body, frame, found),
        for_child=body.child,
        body_name=body.name,
    )
    return _with_notches(garment, frame)


# ---- the frame -----------------------------------------------------------------------------------


def _frame(body: Body, wish: Wish) -> tuple[Frame, tuple[Note, ...]]:
    length = _length(body, wish)
    angle = float(wish["flare"]) / length  # of one panel: its hem is longer than its waist by angle x length
    hip = body["hip_girth"] + float(wish["hip_ease"])
    edge = waist.edge_needed(body)
    at_hip = hip - 4 * angle * body["waist_to_hip"]
    notes: tuple[Note, ...] = ()
    if at_hip < edge:
        more = edge - at_hip
        text = f"The waist edge must pass the hips, so the whole skirt is {more:.1f} cm wider than asked."
        notes = (Note(text, measure="hip_girth", by=more),)
    whole = max(edge, at_hip)
    frame = Frame(
        waist=whole,
        angle=angle,
        length=length,
        hip_depth=body["waist_to_hip"],
        slit=0.0,
        pocket=pocket.pocket_for(body["hip_girth"], whole / 4 - 2 * POCKET_ROOM)
        if wish["pockets"] == PATCH
        else None,
    )
    return _with_slit(frame, body, notes)


def _length(body: Body, wish: Wish) -> float:
    """From the waist down to the hem. ChoiceError when it drags or leaves no skirt. [cm]"""
    depth, longer = LENGTHS[str(wish["length"])](body), float(wish["longer"])
    hip, knee = body["waist_to_hip"], body["waist_to_knee"]
    shortest = hip + min(LEAST_BELOW_HIP, LEAST_TO_KNEE * (knee - hip)) - depth
    longest = body["body_rise"] + body["inside_leg"] - LEAST_CLEAR - depth
    if not shortest <= longer <= longest:
        raise ChoiceError(
            f"{longer:+.1f} cm on a {wish['length']} skirt would "
            f"{'drag on the floor' if longer > longest else 'no longer cover the seat'}.",
            where="pattern 'four_panel_skirt', choice 'longer'",
            mend=f"For this body {shortest:+.1f} to {longest:+.1f} cm is possible.",
        )
    return depth + longer


def _with_slit(frame: Frame, body: Body, notes: tuple[Note, ...]) -> tuple[Frame, tuple[Note, ...]]:
    """A slit at the centre back where the hem would hold her step."""
    knee = body["waist_to_knee"]
    holds = frame.length >= STRIDE_FROM * knee and frame.hem_girth < STRIDE_OF_HEIGHT * body["height"]
    slit = frame.length - (1 - SLIT_ABOVE_KNEE) * knee
    if not holds or slit < SLIT_LEAST:
        return frame, notes
    text = (
        f"The hem is {frame.hem_girth:.0f} cm round: a slit of {slit:.0f} cm at the centre back frees the step."
    )
    return replace(frame, slit=slit), (*notes, Note(text))


def _turn(body: Body, wish: Wish, frame: Frame) -> Turn:
    width = waist.elastic_width(body, wish)
    usual = hem.FLARED_SKIRT_HEM if frame.angle else hem.STRAIGHT_SKIRT_HEM
    usual = hem.deepened_for_growth(usual, body.child)
    wished = float(wish["hem"]) if "hem" in wish else None
    return Turn(width, waist.casing_turn(width), hem.hem_depth(usual, wished, frame.across(frame.length)))


def _refuse_flare(frame: Frame, turn: Turn) -> None:
    """The casing folds down from a curved waist only while the curve is slight."""
    if turn.casing > hem.HEM_BOW * frame.tip:
        most = hem.HEM_BOW * frame.waist / 4 / turn.casing * frame.length
        raise ChoiceError(
            f"With {frame.angle * frame.length:g} cm of flare the waist curves too much for a grown-on casing.",
            where="pattern 'four_panel_skirt', choice 'flare'",
            mend=f"For this body, length and elastic {math.floor(10 * most) / 10:g} cm is possible; "
            "a narrower elastic allows more.",
        )


def _hip_ease(body: Body, frame: Frame) -> float:
    return frame.waist + 4 * frame.angle * frame.hip_depth - body["hip_girth"]


# ---- pieces --------------------------------------------------------------------------------------


def _front(frame: Frame, turn: Turn, body: Body) -> Piece:
    """The front panel: down the centre, along the hem, up the side, back along the waist."""
    marks = _marks(frame)
    if frame.pocket:
        marks = (*marks, pocket.place(frame.pocket, _pocket_corner(frame, frame.pocket, body)))
    return Piece(
        FRONT,
        "Front panel",
        edges=(
            Edge("centre", frame.down(-1, 0, frame.length), "seam", SEAM),
            Edge("hem", frame.across(frame.length), "hem", turn.hem),
            Edge("side_seam", frame.down(1, 0, frame.length).reversed(), "seam", SEAM),
            Edge("waist", frame.across(0).reversed(), "casing", turn.casing),
        ),
        grain=_grain(frame),
        marks=marks,
    )


def _back(frame: Frame, turn: Turn) -> Piece:
    """The back panel, turned over: its side seam is on the left, the centre with its slit on the right."""

    def over(curve: Curve) -> Curve:
        return curve.mirrored(Point(0.0, 0.0), UP)

    sewn = frame.length - frame.slit
    centre = [Edge("centre", over(frame.down(-1, 0, sewn).reversed()), "seam", SEAM)]
    if frame.slit:
        slit = over(frame.down(-1, sewn, frame.length).reversed())
        centre.insert(0, Edge("slit", slit, "hem", SLIT_TURN))
    return Piece(
        BACK,
        "Back panel",
        edges=(
            Edge("side_seam", over(frame.down(1, 0, frame.length)), "seam", SEAM),
            Edge("hem", over(frame.across(frame.length).reversed()), "hem", turn.hem),
            *centre,
            Edge("waist", over(frame.across(0)), "casing", turn.casing),
        ),
        grain=_grain(frame),
        marks=tuple(replace(mark, curve=over(mark.curve)) for mark in _marks(frame)),
    )


def _grain(frame: Frame) -> tuple[Point, Point]:
    """Down the middle of the panel, so that it hangs alike to both sides."""
    return frame.at(0, (1 - GRAIN_FREE) * frame.length), frame.at(0, GRAIN_FREE * frame.length)


def _marks(frame: Frame) -> tuple[Mark, ...]:
    adjust = (frame.hip_depth + frame.length) / 2
    return (
        Mark("hip", "level", frame.across(frame.hip_depth)),
        Mark("adjust_length", "adjust", frame.across(adjust)),
    )


# ---- pockets -------------------------------------------------------------------------------------


def _pocket_corner(frame: Frame, made: pocket.Pocket, body: Body) -> Point:
    """The pocket's upper left corner: a hand below the waist, and a little in from the side seam."""
    top = frame.at(0, POCKET_BELOW * body["hip_girth"] / 100).y
    side = min(_side_at(frame, top), _side_at(frame, top - made.height))
    in_from_side = min(POCKET_FROM_SIDE, side - made.width / 2)  # on a narrow panel it lies in the middle
    return Point(side - in_from_side - made.width, top)


def _side_at(frame: Frame, y: float) -> float:
    """How far the side seam is from the panel's middle at that height. [cm]"""
    top, bottom = frame.at(1, 0), frame.at(1, frame.length)
    return top.x + (bottom.x - top.x) * (top.y - y) / (top.y - bottom.y)


def _refuse_pocket_off(frame: Frame, turn: Turn, body: Body) -> None:
    assert frame.pocket is not None
    at = _pocket_corner(frame, frame.pocket, body)
    lowest = frame.at(0, frame.length).y + turn.hem + POCKET_ABOVE_HEM
    if at.y - frame.pocket.height < lowest:
        lack = lowest - (at.y - frame.pocket.height)
        raise ChoiceError(
            f"A pocket {frame.pocket.height:.0f} cm deep does not fit above the hem of so short a skirt.",
            where="pattern 'four_panel_skirt', choice 'pockets'",
            mend=f"Choose no pockets, or make the skirt {math.ceil(lack)} cm longer.",
        )


# ---- the garment ---------------------------------------------------------------------------------


def _both(name: str) -> tuple[tuple[str, str, int], ...]:
    return ((FRONT, name, 2), (BACK, name, 2))


def _finished(body: Body, frame: Frame, found: waist.Elastic) -> dict[str, float]:
    """Finished measures in the trade's words. [cm]"""
    finished = {
        "waist, elastic relaxed": found.length - waist.LAP,
        "waist, stretched": frame.waist,
        "hip": body["hip_girth"] + _hip_ease(body, frame),
        "hem": frame.hem_girth,
        "length": frame.length,
    }
    return {**finished, "slit": frame.slit} if frame.slit else finished


def _with_notches(garment: Garment, frame: Frame) -> Garment:
    """Match marks: hip at the side, one single at the centre front, one double at the centre back."""
    sewn = frame.length - frame.slit
    hip = min(max(frame.hip_depth, NOTCH_FREE), sewn - NOTCH_FREE)
    garment = notched(garment, "side_seam", min(frame.hip_depth, frame.length - NOTCH_FREE), "hip")
    garment = notched(garment, "centre_front", frame.length / 2, "front")
    return notched(garment, "centre_back", hip, "back", 2, 2)


def _free_edges(frame: Frame, turn: Turn) -> tuple[FreeEdge, ...]:
    casing = waist.casing(round_body("waist"), turn.casing, turn.elastic)
    around = open_hem() if frame.slit else round_body("hem")
    hem_edge = hem.hem_edge("Hem", around, turn.hem, closed=not frame.slit)
    slit = FreeEdge(
        "slit",
        "Edges of the slit",
        (Run(BACK, "slit"),),
        "hem",
        turn=SLIT_TURN,
        fold_in=SLIT_FOLD_IN,
        closed=False,
        times=2,
    )
    pockets = (pocket.top(),) if frame.pocket else ()
    return (*pockets, *((slit,) if frame.slit else ()), casing, hem_edge)


FOUR_PANEL_SKIRT = HouseDraft(
    name="four_panel_skirt",
    title="Four-panel skirt",
    what="Four panels and an elastic: a straight or slightly flared skirt of any length that pulls on.",
    choices=CHOICES,
    needs=(
        "height",
        "hip_girth",
        "waist_girth",
        "waist_to_hip",
        "waist_to_knee",
        "waist_to_ankle",
        "body_rise",
        "inside_leg",
    ),
    least_age=2.0,
    draw=draw,
    shortened_by="longer",
)
