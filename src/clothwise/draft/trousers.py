"""Pull-on trousers: a front leg and a back leg, each cut as a pair, with a grown-on casing at the waist.

Drawn from the natural waist (y = 0) down, centre line on the left, side seam on the right, y up, cm; the back
leg is turned over at the end, so that both pieces are the wearer's left half with the right side up.
Cloth without stretch. The waist edge passes the hips; elastic draws it in.

Source: house rule, 2026-11, proved on the bodies of `benchmarks.drafts`; ease and widths from the rules of the
trade (trousers, elastic, hems); other sources stand at their line. No pair has been sewn from it yet.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from clothwise.body import Body, Figure
from clothwise.curve import UP, Curve, NoSolution, Point, line
from clothwise.draft import flat_front, hem, level, waist
from clothwise.draft.leg import Leg
from clothwise.draft.pattern import Choice, HouseDraft, Wish
from clothwise.draft.seat import Frame, Seat, Sides, draw_seat, draw_sides, fitted_seat, moved_seat, with_shift
from clothwise.errors import ChoiceError, MeasureError
from clothwise.garment import (
    Corner,
    Edge,
    FreeEdge,
    Garment,
    Joint,
    Level,
    Mark,
    Note,
    Passage,
    Piece,
    Run,
    Seam,
)
from clothwise.garment.notches import notched
from clothwise.tolerance import SOLVE

HIP_EASE = 8.0  # cm in the round: sits and squats without a stretch in the cloth (fitted 5)
RISE_EASE: dict[Figure, float] = {"woman": 3.0, "man": 2.5, "girl": 2.5, "boy": 2.5}
# cm: the crotch hangs clear of the body (rule: elastic waists 2-3)
CROTCH_EASE = 1.5  # cm along the crotch seam: bending; the rise's ease adds its own (house rule)
KNEE_EASE = 5.0  # cm in the round: the knee bends (rule: 4-6)
CALF_EASE = 3.0  # cm in the round
HEEL_EASE = 1.5  # cm in the round: the heel passes the hem
THIGH_EASE = 3.0  # cm in the round, at least (rule: 2.5-5)
THIGH_BELOW_CROTCH = 2.5  # cm: where the thigh is measured
HIP_ABOVE_CROTCH = 0.36  # of the rise: the hip line lies at least so far above the crotch, clear of the curve
SIDE_SLOPE = 4.5  # degrees: the waist climbs from front to back across the side seam
CHILD_SIDE_SLOPE = 3.0

LEGS = {  # hem girth and knee as shares of the leg's width at the crotch: hem; knee between hem and crotch
    "tapered": (0.43, 0.40),
    "straight": (0.58, 0.30),
    "wide": (0.76, 0.25),
}
LENGTHS = {"full": level.full, "mid-calf": level.mid_calf, "above-knee": level.above_knee}
SHORTEST_INSEAM = 5.0  # cm: below, the leg no longer covers the crotch corner's turn-up

FIRM = 0.5  # an estimated crotch length may shape the seat only half as far as a taped one
MOST_MOVED = 4.0  # cm: further than this rise and crotch length contradict each other
WORTH_SAYING = 0.5  # cm: a crotch line moved by more is told

WAIST_BOW = 0.045  # casing depth over radius of the waist line (rule: folds flat up to 0.06, if bent evenly)
SEAM = 1.5  # cm allowance: room to fit
CROTCH_SEAM = 1.2  # cm: a hollow curve lies flat with less
CROTCH_TO_KNEE = 2.0  # cm: the crotch line lies at least this much above the knee
KNEE_TO_ANKLE = 5.0  # cm: and the knee above the ankle
KNEE_FREE = 3.0  # cm: a hem must end this much below the knee for the knee to be marked
GRAIN_FREE = 0.15  # of the inside leg: the arrow ends so far above the hem
ORIGIN = Point(0.0, 0.0)

FRONT, BACK = "front_leg", "back_leg"
ALL_ROUND, AT_THE_BACK = "elastic all round", "flat front, elastic at the back"

CHOICES = (
    Choice(
        "leg",
        "How wide the leg falls.",
        options=tuple(LEGS),
        default="straight",
        changes="knee and hem",
        main=True,
    ),
    Choice(
        "length",
        "Where the leg ends.",
        options=tuple(LENGTHS),
        default="full",
        changes="hem; the leg is cut off, not redrawn",
        main=True,
    ),
    Choice(
        "longer",
        "Longer (+) or shorter (-) than the length says.",
        unit="cm",
        low=-20.0,
        high=10.0,
        default=0.0,
        changes="hem",
    ),
    Choice(
        "waist",
        "Where the elastic runs.",
        options=(ALL_ROUND, AT_THE_BACK),
        default=ALL_ROUND,
        changes="elastic, marks on the front waist",
        main=True,
    ),
    Choice(
        "rise",
        "Waist higher (+) or lower (-) than the natural waist.",
        unit="cm",
        low=-6.0,
        high=3.0,
        default=0.0,
        changes="upper edge of all pieces",
    ),
    Choice(
        "hip_ease",
        "Room at the hip, in the round.",
        unit="cm",
        low=5.0,
        high=20.0,
        default=HIP_EASE,
        changes="width of all pieces, fork",
    ),
    Choice(
        "elastic_width",
        f"Width of the elastic; else {waist.ELASTIC_WIDTH:g}, for a child {waist.CHILD_ELASTIC_WIDTH:g}.",
        unit="cm",
        low=1.0,
        high=6.0,
        changes="casing",
    ),
    Choice(
        "hem",
        f"Depth turned up; if left open {hem.TROUSER_HEM:g}, shorts {hem.SHORTS_HEM:g}, "
        f"for a child {hem.GROWTH:g} more to let down.",
        unit="cm",
        low=1.5,
        high=8.0,
        changes="cutting line below the hem",
    ),
)


@dataclass(frozen=True, slots=True)
class Turn:
    """Width of the elastic; whole depths turned at waist and hem. [cm]"""

    elastic: float
    casing: float
    hem: float


@dataclass(frozen=True, slots=True)
class Half:
    """One leg in its half: seams from the top down, waist from the centre out, hem from the inseam out."""

    crotch: Curve
    inseam: Curve
    side: Curve
    waist: Curve
    hem: Curve
    crease: float  # x of the grain


def draw(body: Body, wish: Wish) -> Garment:
    """The trousers for this body. Raises MeasureError, ChoiceError or DraftError with one sentence."""
    depth = _hem_depth(body, wish)
    frame = with_shift(_frame(body, wish, depth))
    seat, notes = _seat(body, frame)
    sides = draw_sides(frame, seat)
    cut = _cut_off(frame, -depth, seat, sides)
    front = _half(
        seat.front_crotch, seat.front_inseam, sides.front_side, sides.front_waist, cut, seat.front_leg
    )
    back = _half(seat.back_crotch, seat.back_inseam, sides.back_side, sides.back_waist, cut, seat.back_leg)
    return _garment(body, wish, frame, front, back, notes)


# ---- the frame -----------------------------------------------------------------------------------


def _frame(body: Body, wish: Wish, hem_depth: float) -> Frame:
    """Levels and widths that the body and the choices fix."""
    rise = body["body_rise"] + RISE_EASE[body.figure]
    hip_level = -min(body["waist_to_hip"], (1 - HIP_ABOVE_CROTCH) * rise)
    hem_share, knee_share = LEGS[str(wish["leg"])]
    _refuse_contradictions(body, rise)
    return Frame(
        figure=body.figure,
        hip=body["hip_girth"],
        finished_hip=body["hip_girth"] + float(wish["hip_ease"]),
        thigh=body["thigh_girth"],
        knee_girth=body["knee_girth"] + KNEE_EASE,
        calf=body["calf_girth"] + CALF_EASE,
        heel=body["foot_heel_girth"] + HEEL_EASE,
        rise=rise,
        waist=float(wish["rise"]),
        hip_level=hip_level,
        knee=-body["waist_to_knee"],
        calf_level=-level.fullest_calf(body),
        hem=-max(level.full(body), hem_depth),
        edge=waist.edge_needed(body),
        side_slope_deg=CHILD_SIDE_SLOPE if body.child else SIDE_SLOPE,
        hem_share=hem_share,
        knee_share=knee_share,
        most_bow_deg=math.degrees(
            WAIST_BOW / waist.casing_turn(_elastic_width(body, wish)) * body["hip_girth"] / 4
        ),
    )


def _refuse_contradictions(body: Body, rise: float) -> None:
    """Levels must follow each other down the body, with room to draw between them."""
    for upper, depth, lower in (
        ("body_rise", rise + CROTCH_TO_KNEE, "waist_to_knee"),
        ("waist_to_knee", body["waist_to_knee"] + KNEE_TO_ANKLE, "waist_to_ankle"),
    ):
        if depth > body[lower]:
            one, other = upper.replace("_", " "), lower.replace("_", " ")
            raise MeasureError(
                f"{one.capitalize()} {body[upper]:.1f} cm and {other} {body[lower]:.1f} cm cannot both be.",
                where=f"body '{body.name}': {one}, {other}",
                mend=f"Measure both again; {other} should be at least {depth:.1f} cm.",
            )


def _seat(body: Body, frame: Frame) -> tuple[Seat, tuple[Note, ...]]:
    """The fork fitted to the crotch length; where that is not enough the crotch line is moved, and told."""
    measured = body.measures["crotch_length_total"]
    wanted = measured.cm + CROTCH_EASE
    if measured.source == "estimated":
        return _seat_of_estimate(frame, wanted)
    try:
        return fitted_seat(frame, wanted)[0], ()
    except NoSolution as short:
        fullness = 1.0 if wanted > short.high else -1.0
        low, high = short.low, short.high
    try:
        seat, lowered = moved_seat(frame, wanted, fullness, MOST_MOVED)
    except NoSolution as short:
        raise MeasureError(
            f"Body rise {body['body_rise']:.1f} cm and crotch length {measured.cm:.1f} cm cannot both be.",
            where=f"body '{body.name}': body rise, crotch length total",
            mend=f"Measure both again; with this rise and hip the crotch length can be "
            f"{min(short.low, low) - CROTCH_EASE:.0f} to {max(short.high, high) - CROTCH_EASE:.0f} cm.",
        ) from short
    if abs(lowered) < WORTH_SAYING:
        return seat, ()
    text = (
        f"Body rise and crotch length disagree: the crotch line was {'lowered' if lowered > 0 else 'raised'} "
        f"by {abs(lowered):.1f} cm to meet the crotch length. Measure both again before you cut."
    )
    return seat, (Note(text, measure="crotch_length_total", by=lowered),)


def _seat_of_estimate(frame: Frame, wanted: float) -> tuple[Seat, tuple[Note, ...]]:
    """An estimated crotch length shapes the seat only as far as FIRM, and never moves the crotch line."""
    text = "The crotch length is estimated, so it shapes the seat only in part: tape it before you cut."
    try:
        return fitted_seat(frame, wanted, FIRM)[0], (Note(text),)
    except NoSolution as short:
        seat = draw_seat(frame, FIRM if wanted > short.high else -FIRM)
        by = min(max(wanted, short.low), short.high) - wanted
        text = (
            f"{text} The crotch seam came {abs(by):.1f} cm {'longer' if by > 0 else 'shorter'} than estimated."
        )
        return seat, (Note(text, measure="crotch_length_total", by=by),)


# ---- length --------------------------------------------------------------------------------------


def _hem_depth(body: Body, wish: Wish) -> float:
    """Depth of the hem below the natural waist. ChoiceError when it drags or leaves no leg. [cm]"""
    depth = LENGTHS[str(wish["length"])](body)
    longer = float(wish["longer"])
    longest = body["body_rise"] + body["inside_leg"] - level.LEAST_CLEAR - depth
    shortest = body["body_rise"] + RISE_EASE[body.figure] + SHORTEST_INSEAM + MOST_MOVED - depth
    if not shortest <= longer <= longest:
        raise ChoiceError(
            f"{longer:+.1f} cm on {wish['length']} trousers would "
            f"{'reach the floor' if longer > longest else 'leave no leg'}.",
            where="pattern 'pull_on_trousers', choice 'longer'",
            mend=f"For this body {shortest:+.1f} to {longest:+.1f} cm is possible.",
        )
    return depth + longer


@dataclass(frozen=True, slots=True)
class Cut:
    """What is cut off the full leg, walked up from its hem: the same on front and back. [cm]"""

    inseam: float
    side: float


def _cut_off(frame: Frame, hem_level: float, seat: Seat, sides: Sides) -> Cut:
    """The front decides: its hem lies level, the back's follows because its seams are equally long."""
    if hem_level - frame.hem < SOLVE:
        return Cut(0.0, 0.0)
    return Cut(
        seat.front_inseam.length() - level.distance_to(seat.front_inseam, hem_level),
        sides.front_side.length() - level.distance_to(sides.front_side, hem_level),
    )


def _half(crotch: Curve, inseam: Curve, side: Curve, waist_line: Curve, cut: Cut, leg: Leg) -> Half:
    """One leg cut to its length, with a hem square to both seams."""
    if cut.side > 0:
        inseam = inseam.part(0.0, inseam.length() - cut.inseam)
        side = side.part(0.0, side.length() - cut.side)
    return Half(crotch, inseam, side, waist_line, hem.hem_line(inseam, side), leg.crease)


# ---- pieces --------------------------------------------------------------------------------------


def _front(half: Half, frame: Frame, turn: Turn) -> Piece:
    """The front leg, run round from the centre front down, along the inseam, the hem and up the side."""
    return Piece(
        FRONT,
        "Front leg",
        edges=(
            Edge("crotch", half.crotch, "seam", CROTCH_SEAM),
            Edge("inseam", half.inseam, "seam", SEAM),
            Edge("hem", half.hem, "hem", turn.hem),
            Edge("side_seam", half.side.reversed(), "seam", SEAM),
            Edge("waist", half.waist.reversed(), "casing", turn.casing),
        ),
        grain=_grain(half),
        marks=_marks(half, frame),
    )


def _back(half: Half, frame: Frame, turn: Turn) -> Piece:
    """The back leg, turned over so that it too is the wearer's left: its side seam is on the left."""

    def over(curve: Curve) -> Curve:
        return curve.mirrored(ORIGIN, UP)

    bottom, top = _grain(half)
    return Piece(
        BACK,
        "Back leg",
        edges=(
            Edge("side_seam", over(half.side), "seam", SEAM),
            Edge("hem", over(half.hem.reversed()), "hem", turn.hem),
            Edge("inseam", over(half.inseam.reversed()), "seam", SEAM),
            Edge("crotch", over(half.crotch.reversed()), "seam", CROTCH_SEAM),
            Edge("waist", over(half.waist), "casing", turn.casing),
        ),
        grain=(bottom.mirrored(ORIGIN, UP), top.mirrored(ORIGIN, UP)),
        marks=tuple(replace(mark, curve=over(mark.curve)) for mark in _marks(half, frame)),
    )


def _grain(half: Half) -> tuple[Point, Point]:
    """Along the crease, over the middle of the leg."""
    top, bottom = half.inseam.start.y, half.hem.start.y
    way = GRAIN_FREE * (top - bottom)
    return Point(half.crease, bottom + way), Point(half.crease, top + way)


def _marks(half: Half, frame: Frame) -> tuple[Mark, ...]:
    """Level lines, and where the piece is made longer or shorter."""
    thigh = _thigh_level(half)
    bottom = max(half.hem.start.y, half.hem.end.y)
    between = (half.inseam.start.y + max(frame.knee, bottom)) / 2
    marks = [
        level.across("hip", "level", half.crotch, half.side, frame.hip_level),
        level.across("thigh", "level", half.inseam, half.side, thigh),
        level.across(
            "adjust_rise", "adjust", half.crotch, half.side, (half.waist.start.y + frame.hip_level) / 2
        ),
        level.across("adjust_leg", "adjust", half.inseam, half.side, between),
    ]
    if _has_knee(frame, bottom):
        marks.append(level.across("knee", "level", half.inseam, half.side, frame.knee))
    return tuple(marks)


def _thigh_level(half: Half) -> float:
    return half.inseam.at_length(THIGH_BELOW_CROTCH).y


def _has_knee(frame: Frame, bottom: float) -> bool:
    return bottom < frame.knee - KNEE_FREE


# ---- the garment ---------------------------------------------------------------------------------


def _garment(body: Body, wish: Wish, frame: Frame, front: Half, back: Half, notes: tuple[Note, ...]) -> Garment:
    turn = _turn(body, wish, front, back)
    found = _elastic(body, wish, frame, front, back, turn)
    front_piece = _front(front, frame, turn)
    if found.flat and found.flat < 2 * front.waist.length() - SOLVE:
        front_piece = replace(front_piece, marks=(*front_piece.marks, _elastic_end(front, found, turn)))
    girth = waist.girth_below_waist(body, -frame.waist)
    garment = Garment(
        name="pull_on_trousers",
        title="Pull-on trousers",
        pieces=(front_piece, _back(back, frame, turn)),
        seams=SEAMS,
        free_edges=_free_edges(turn, found),
        joints=JOINTS,
        levels=_levels(body, frame, front),
        passages=_passages(body, wish),
        notions=(found.notion("casing"),),
        notes=(*notes, *waist.elastic_notes(found), *_flat_notes(front, found)),
        choices=wish,
        finished=_finished(body, frame, front, back, found, girth),
        for_child=body.child,
        body_name=body.name,
    )
    return _with_notches(garment, frame, front, back)


def _elastic_width(body: Body, wish: Wish) -> float:
    return float(wish.get("elastic_width", waist.elastic_width(body)))


def _turn(body: Body, wish: Wish, front: Half, back: Half) -> Turn:
    width = _elastic_width(body, wish)
    usual = hem.SHORTS_HEM if wish["length"] == "above-knee" else hem.TROUSER_HEM
    usual = hem.deepened_for_growth(usual, body.child)
    wished = float(wish["hem"]) if "hem" in wish else None
    return Turn(
        elastic=width,
        casing=waist.casing_turn(width),
        hem=hem.hem_depth(usual, wished, front.hem, back.hem),
    )


def _elastic(body: Body, wish: Wish, frame: Frame, front: Half, back: Half, turn: Turn) -> waist.Elastic:
    girth = waist.girth_below_waist(body, -frame.waist)
    if wish["waist"] == ALL_ROUND:
        return waist.elastic(body, girth, turn.elastic)
    return flat_front.flat_elastic(body, girth, turn.elastic, 2 * front.waist.length(), 2 * back.waist.length())


def _elastic_end(front: Half, found: waist.Elastic, turn: Turn) -> Mark:
    """Where the elastic ends on the front: a short line across the casing, square to the waist."""
    at = found.flat / 2
    top = front.waist.at_length(at)
    way = front.waist.tangent_at_length(at).right()
    return Mark("elastic_end", "note", line(top, top.go(way, turn.casing - waist.TURN_IN)))


def _flat_notes(front: Half, found: waist.Elastic) -> tuple[Note, ...]:
    if not found.flat:
        return ()
    past = front.waist.length() - found.flat / 2
    if past < SOLVE:
        text = (
            "The front casing stays flat; the elastic runs through the back and is sewn down at the side seams."
        )
    else:
        text = (
            f"The hips are much wider than the waist, so {found.flat:.0f} cm in mid-front stay flat: "
            f"the elastic runs {past:.1f} cm past each side seam and is sewn down at the marks."
        )
    return (Note(text),)


def _levels(body: Body, frame: Frame, front: Half) -> tuple[Level, ...]:
    def both(mark: str, times: int) -> tuple[tuple[str, str, int], ...]:
        return ((FRONT, mark, times), (BACK, mark, times))

    found = [
        Level("hip", "Hip", both("hip", 2), frame.hip, frame.finished_hip - frame.hip),
        Level("thigh", "Thigh", both("thigh", 1), frame.thigh, THIGH_EASE, at_least=True),
    ]
    if _has_knee(frame, max(front.hem.start.y, front.hem.end.y)):
        found.append(Level("knee", "Knee", both("knee", 1), body["knee_girth"], KNEE_EASE, at_least=True))
    return tuple(found)


def _passages(body: Body, wish: Wish) -> tuple[Passage, ...]:
    hips = Passage(
        "over_hips",
        "Waist edge over the hips",
        ((FRONT, "waist", 2), (BACK, "waist", 2)),
        passes=body["hip_girth"],
        needs=waist.OVER_HIPS,
    )
    heel = Passage(
        "over_heel",
        "Hem over the heel",
        ((FRONT, "hem", 1), (BACK, "hem", 1)),
        passes=body["foot_heel_girth"],
        needs=HEEL_EASE,
    )
    return hips, heel


def _finished(
    body: Body, frame: Frame, front: Half, back: Half, found: waist.Elastic, girth: float
) -> dict[str, float]:
    """Finished measures in the trade's words. [cm]"""
    return {
        "waist, elastic relaxed": found.flat + found.length - waist.LAP,
        "waist, stretched": 2 * (front.waist.length() + back.waist.length()),
        "hip": frame.finished_hip,
        "hem": front.hem.length() + back.hem.length(),
        "inside leg": front.inseam.length(),
        "outside leg": front.side.length(),
        "front rise": front.crotch.length(),
        "back rise": back.crotch.length(),
    }


def _with_notches(garment: Garment, frame: Frame, front: Half, back: Half) -> Garment:
    """Match marks, walked along the seams: hip and knee at the side, knee inside, one single and one double
    at the turns of the crotch curve."""
    knee = _has_knee(frame, max(front.hem.start.y, front.hem.end.y))
    inside = level.distance_to(front.inseam, frame.knee) if knee else front.inseam.length() / 2
    garment = notched(garment, "side_seam", level.distance_to(front.side, frame.hip_level), "hip")
    if knee:
        garment = notched(garment, "side_seam", level.distance_to(front.side, frame.knee), "knee")
    garment = notched(garment, "inseam", inside, "inside")
    back_turn, front_turn = _straight(back.crotch), _straight(front.crotch)
    garment = notched(garment, "crotch", back_turn, "back", 2, 2)
    return notched(garment, "crotch", back.crotch.length() + front.crotch.length() - front_turn, "front")


def _straight(crotch: Curve) -> float:
    """Length of the straight upper part of a crotch seam. [cm]"""
    return crotch.part(0, crotch.length()).strokes[0].length(tolerance=SOLVE)


def _free_edges(turn: Turn, found: waist.Elastic) -> tuple[FreeEdge, ...]:
    casing = FreeEdge(
        "casing",
        "Casing at the waist",
        (
            Run(FRONT, "waist"),
            Run(FRONT, "waist", backwards=True, side="mirrored"),
            Run(BACK, "waist", backwards=True, side="mirrored"),
            Run(BACK, "waist"),
        ),
        "casing",
        turn=turn.casing,
        fold_in=waist.TURN_IN,
        elastic=found.width,
    )
    hem_edge = FreeEdge(
        "hem",
        "Leg hems",
        (Run(FRONT, "hem"), Run(BACK, "hem")),
        "hem",
        turn=turn.hem,
        fold_in=hem.HEM_FOLD_IN,
        times=2,
    )
    return casing, hem_edge


SEAMS = (
    Seam(
        "side_seam",
        "Side seams",
        (Run(FRONT, "side_seam", backwards=True),),
        (Run(BACK, "side_seam"),),
        times=2,
    ),
    Seam("inseam", "Inseams", (Run(FRONT, "inseam"),), (Run(BACK, "inseam", backwards=True),), times=2),
    Seam(
        "crotch",
        "Crotch seam",
        (Run(BACK, "crotch", backwards=True), Run(FRONT, "crotch", backwards=True)),
        (
            Run(BACK, "crotch", backwards=True, side="mirrored"),
            Run(FRONT, "crotch", backwards=True, side="mirrored"),
        ),
    ),
)

JOINTS = (
    Joint("waist at the side", (Corner(FRONT, "side_seam", "waist"), Corner(BACK, "waist", "side_seam"))),
    Joint("hem at the side", (Corner(FRONT, "hem", "side_seam"), Corner(BACK, "side_seam", "hem"))),
    Joint("hem at the inseam", (Corner(FRONT, "inseam", "hem"), Corner(BACK, "hem", "inseam"))),
    Joint("crotch at the inseam", (Corner(FRONT, "crotch", "inseam"), Corner(BACK, "inseam", "crotch"))),
    Joint("waist at centre front", (Corner(FRONT, "waist", "crotch"),) * 2),
    Joint("waist at centre back", (Corner(BACK, "crotch", "waist"),) * 2),
)

PULL_ON_TROUSERS = HouseDraft(
    name="pull_on_trousers",
    title="Pull-on trousers",
    what="Two pieces and an elastic: trousers or shorts that pull on over the hips.",
    choices=CHOICES,
    needs=(
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
    ),
    least_age=2.0,
    draw=draw,
    shortened_by="longer",
)
