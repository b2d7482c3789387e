"""Pull-on trousers: a front leg and a back leg, each cut as a pair, with a grown-on casing at the waist.

Drawn from the natural waist (y = 0) down, centre line on the left, side seam on the right, y up, cm; the back
leg is turned over at the end, so that both pieces are the wearer's left half with the right side up.
Cloth without stretch. The waist edge passes the hips; elastic draws it in.

Source: house rule, 2026-11, proved on the bodies of `benchmarks.drafts`; ease and widths from the rules of the
trade (trousers, elastic, hems); other sources stand at their line. No pair has been sewn from it yet.
"""

from __future__ import annotations

import math
from dataclasses import replace

from clothwise.body import Body, Figure
from clothwise.curve import Curve, line
from clothwise.draft import flat_front, hem, level, waist
from clothwise.draft.crotch_length import seat_for
from clothwise.draft.leg_pieces import (
    BACK,
    FRONT,
    JOINTS,
    SEAMS,
    Half,
    Turn,
    back_piece,
    cut_off,
    free_edges,
    front_piece,
    half,
    has_knee,
)
from clothwise.draft.pattern import Choice, HouseDraft, Wish
from clothwise.draft.seat import Frame, Seat, draw_sides, with_shift
from clothwise.errors import ChoiceError, MeasureError
from clothwise.garment import (
    Garment,
    Level,
    Mark,
    Note,
    Passage,
)
from clothwise.garment.notches import notched
from clothwise.tolerance import SOLVE

HIP_EASE = 8.0  # cm in the round: sits and squats without a stretch in the cloth (fitted 5)
RISE_EASE: dict[Figure, float] = {"woman": 3.0, "man": 2.5, "girl": 2.5, "boy": 2.5}
# cm: the crotch hangs clear of the body (rule: elastic waists 2-3)
KNEE_EASE = 5.0  # cm in the round: the knee bends (rule: 4-6)
CALF_EASE = 3.0  # cm in the round
HEEL_EASE = 1.5  # cm in the round: the heel passes the hem
THIGH_EASE = 3.0  # cm in the round, at least (rule: 2.5-5)
HIP_ABOVE_CROTCH = 0.38  # of the rise: the hip line lies at least so far above the crotch, clear of the curve
SIDE_SLOPE = 4.5  # degrees: the waist climbs from front to back across the side seam
CHILD_SIDE_SLOPE = 3.0

LEGS = {  # hem girth and knee as shares of the leg's width at the crotch: hem; knee between hem and crotch
    "tapered": (0.43, 0.40),
    "straight": (0.58, 0.30),
    "wide": (0.76, 0.25),
}
LENGTHS = {"full": level.full, "mid-calf": level.mid_calf, "above-knee": level.above_knee}


SHORTEST_INSEAM = 3.5  # cm: a shorter leg would lose the crotch corner in its hem

ELASTIC_STEP = 0.5  # cm: elastic is sold so
WAIST_BOW = 0.038  # casing depth over radius of the waist line (rule: folds flat up to 0.06, if bent evenly)
THICKEST_THIGH = 0.78  # of the hip: thicker than on all but 2 of 9,817 real bodies, whose tape surely slipped
CROTCH_TO_KNEE = 2.0  # cm: the crotch line lies at least this much above the knee
KNEE_TO_ANKLE = 5.0  # cm: and the knee above the ankle

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
    level.longer_choice(10.0),
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
    waist.WIDTH_CHOICE,
    hem.depth_choice(f"{hem.TROUSER_HEM:g}, shorts {hem.SHORTS_HEM:g}"),
)


def draw(body: Body, wish: Wish) -> Garment:
    """The trousers for this body. Raises MeasureError, ChoiceError or DraftError with one sentence."""
    depth = _hem_depth(body, wish)
    frame = with_shift(_frame(body, wish, depth))
    seat, notes = seat_for(body, frame)
    _refuse_no_leg(wish, depth, seat)
    sides = draw_sides(frame, seat)
    cut = cut_off(frame, -depth, seat, sides)
    front = half(seat.front_crotch, seat.front_inseam, sides.front_side, sides.front_waist, cut, seat.front_leg)
    back = half(seat.back_crotch, seat.back_inseam, sides.back_side, sides.back_waist, cut, seat.back_leg)
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
            WAIST_BOW / waist.casing_turn(waist.elastic_width(body, wish)) * body["hip_girth"] / 4
        ),
    )


def _refuse_contradictions(body: Body, rise: float) -> None:
    """Levels must follow each other down the body, with room to draw between them."""
    if body["thigh_girth"] > THICKEST_THIGH * body["hip_girth"]:
        raise MeasureError(
            f"Thigh {body['thigh_girth']:.1f} cm and hip {body['hip_girth']:.1f} cm cannot both be.",
            where=f"body '{body.name}': thigh girth, hip girth",
            mend=f"Measure both again; a thigh should be at most {THICKEST_THIGH * body['hip_girth']:.0f} cm.",
        )
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


# ---- length --------------------------------------------------------------------------------------


def _hem_depth(body: Body, wish: Wish) -> float:
    """Depth of the hem below the natural waist. ChoiceError when it would drag. [cm]"""
    depth = LENGTHS[str(wish["length"])](body)
    longer = float(wish["longer"])
    longest = body["body_rise"] + body["inside_leg"] - level.LEAST_CLEAR - depth
    if longer > longest:
        raise ChoiceError(
            f"{longer:+.1f} cm on {wish['length']} trousers would reach the floor.",
            where="pattern 'pull_on_trousers', choice 'longer'",
            mend=f"For this body up to {longest:+.1f} cm is possible.",
        )
    return depth + longer


def _refuse_no_leg(wish: Wish, depth: float, seat: Seat) -> None:
    """Shorts need some leg below the crotch, whose corner would else be lost in the hem."""
    shortest = SHORTEST_INSEAM - seat.back_inseam.start.y
    if depth < shortest:
        raise ChoiceError(
            f"{wish['longer']:+.1f} cm on {wish['length']} trousers would leave no leg.",
            where="pattern 'pull_on_trousers', choice 'longer'",
            mend=f"For this body {float(wish['longer']) + shortest - depth:+.1f} cm or more is possible.",
        )


# ---- the garment ---------------------------------------------------------------------------------


def _garment(body: Body, wish: Wish, frame: Frame, front: Half, back: Half, notes: tuple[Note, ...]) -> Garment:
    turn = _turn(body, wish, front, back)
    found = _elastic(body, wish, frame, front, back, turn)
    front_leg = front_piece(front, frame, turn)
    if found.flat and found.flat < 2 * front.waist.length() - SOLVE:
        front_leg = replace(front_leg, marks=(*front_leg.marks, _elastic_end(front, found, turn)))
    garment = Garment(
        name="pull_on_trousers",
        title="Pull-on trousers",
        pieces=(front_leg, back_piece(back, frame, turn)),
        seams=SEAMS,
        free_edges=free_edges(turn, found),
        joints=JOINTS,
        levels=_levels(body, frame, front),
        passages=_passages(body),
        notions=(found.notion("casing"),),
        notes=(*notes, *_narrower(body, wish, turn), *waist.elastic_notes(found), *_flat_notes(front, found)),
        choices=wish,
        finished=_finished(frame, front, back, found),
        for_child=body.child,
        body_name=body.name,
    )
    return _with_notches(garment, frame, front, back)


def _foldable_width(body: Body, wish: Wish, front: Half, back: Half) -> float:
    """Width of elastic whose casing folds down flat on this waist. ChoiceError for a wish too wide. [cm]"""
    most = max(hem.deepest(front.waist, back.waist) - waist.CASING_ROOM - waist.TURN_IN, 0.0)
    width = waist.elastic_width(body, wish)
    if width <= most or "elastic_width" not in wish:
        return min(width, max(math.floor(most / ELASTIC_STEP) * ELASTIC_STEP, ELASTIC_STEP))
    raise ChoiceError(
        f"A casing for {width:g} cm of elastic does not fold down flat on so short and curved a waist.",
        where="pattern 'pull_on_trousers', choice 'elastic_width'",
        mend=f"For this body up to {math.floor(10 * most) / 10:g} cm is possible.",
    )


def _narrower(body: Body, wish: Wish, turn: Turn) -> tuple[Note, ...]:
    by = turn.elastic - waist.elastic_width(body, wish)
    if by == 0:
        return ()
    text = f"The waist is short and curved, so its casing is made for elastic {turn.elastic:g} cm wide."
    return (Note(text, measure="elastic_width", by=by),)


def _turn(body: Body, wish: Wish, front: Half, back: Half) -> Turn:
    width = _foldable_width(body, wish, front, back)
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
            f"So that the hips still pass, only {found.flat:.0f} cm in the middle of the front stay flat: "
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
    if has_knee(frame, max(front.hem.start.y, front.hem.end.y)):
        found.append(Level("knee", "Knee", both("knee", 1), body["knee_girth"], KNEE_EASE, at_least=True))
    return tuple(found)


def _passages(body: Body) -> tuple[Passage, ...]:
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


def _finished(frame: Frame, front: Half, back: Half, found: waist.Elastic) -> dict[str, float]:
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
    knee = has_knee(frame, max(front.hem.start.y, front.hem.end.y))
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
    return crotch.strokes[0].length(tolerance=SOLVE)


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
