"""Leggings: one piece a leg, cut as a pair of knit, with an elastic in a grown-on casing.

Drawn smaller than the body by a share of what the cloth gives; the body fills it out. Lengths in cm, stretch in
per cent in the choices and as a share of one in the code.

Source: drafting method 8 (negative ease, crotch length); rules of the trade I1 (knits never beyond half of what
the cloth gives), G (knit hem 2-2.5); house rule, 2026-11, for the rest. No pair has been sewn from it yet.
"""

from __future__ import annotations

from dataclasses import replace

from clothwise.body import Body, Figure
from clothwise.curve import Curve, NoSolution
from clothwise.draft import hem, knit, level, pull_on, waist
from clothwise.draft.leg_pieces import THIGH_BELOW_CROTCH
from clothwise.draft.leggings_leg import Frame, Leg, across, at_natural_waist, draw_leg, fitted_leg, moved_leg
from clothwise.draft.pattern import Choice, HouseDraft, Wish
from clothwise.draft.possible import between, possible
from clothwise.draft.trouser_frame import HIP_ABOVE_CROTCH, hem_depth, refuse_contradictions, refuse_low_waist
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
from clothwise.garment.piece import MarkKind
from clothwise.tolerance import SOLVE

NAME, TITLE = "leggings", "Leggings"
EASE_OF_STRETCH, MOST_EASE = 0.28, 0.22  # negative ease: this share of the stretch, and no more of the girth
ALONG = 0.01  # the crotch seam is drawn shorter than the body by this and a share of the negative ease,
ALONG_LEAST, ALONG_MOST = 0.42, 0.90  # any between these: worn, it gives as the cloth does along
USUAL_STRETCH = 50.0  # per cent: jersey with elastane
KNEE_MOST = 1.10  # of the knee's girth: on a stout thigh over a slim knee; more would hang in folds there
LEAST_STRETCH = 25.0  # per cent: what gives less splits at the seat
RISE_EASE: dict[Figure, float] = {"woman": 3.0, "man": 2.5, "girl": 1.0, "boy": 1.0}
# cm: as drawn; the shorter crotch seam draws it up to the body
SEAM = 0.7  # cm allowance: overlocked or zigzagged narrow (rule: 0.6-0.95)
HEM = 2.5  # cm turned once, its raw edge overlocked (rule: 2-2.5)
MOST_MOVED = 4.0  # cm: further than this rise and crotch length contradict each other
WORTH_SAYING = 0.5  # cm: a crotch line moved by more is told
LOOKS = 10  # places on each stroke of the crotch where its bend is read
SHORTEST_INSEAM = 5.0  # cm
THIGH_FREE = 1.0  # cm: the hem lies everywhere at least so far below the thigh line
KNEE_FREE = 3.0  # cm: a hem must end this much below the knee for the knee to be marked
GRAIN_FREE = 0.15  # of the inside leg: the arrow ends so far above the hem
SHORTEST_GRAIN = 8.0  # cm

LEG = "leg"
LENGTHS = {
    "full": lambda body: body["waist_to_ankle"],
    "mid-calf": level.mid_calf,
    "above-knee": level.above_knee,
}

CHOICES = (
    level.leg_length_choice(LENGTHS),
    level.longer_choice(6.0),
    knit.stretch_choice(USUAL_STRETCH, low=LEAST_STRETCH),
    Choice(
        "rise",
        "Waist higher (+) or lower (-) than the natural waist.",
        unit="cm",
        low=-8.0,
        high=4.0,
        default=0.0,
        changes="upper edge",
    ),
    waist.WIDTH_CHOICE,
    hem.depth_choice(f"{HEM:g}", growth=False),
)


def draw(body: Body, wish: Wish) -> Garment:
    """The leggings for this body. Raises MeasureError, ChoiceError or DraftError with one sentence."""
    stretch = float(wish["stretch"]) / 100
    less = min(MOST_EASE, EASE_OF_STRETCH * stretch)
    length = str(wish["length"])
    depth = hem_depth(body, NAME, length, LENGTHS[length](body), float(wish["longer"]))
    width = waist.elastic_width(body, wish)
    girth = waist.girth_below_waist(body, -float(wish["rise"]))
    found = waist.elastic(body, girth, width)
    edge = _waist_edge(body, girth, found.length, less, stretch)
    frame = _frame(body, wish, less, stretch, depth, edge, width)
    leg, notes = _fitted(body, frame, less)
    _refuse_tight_crotch(body, leg)
    leg = _cut_off(leg, frame, depth, length, float(wish["longer"]))
    found = _within(found, 2 * leg.waist.length())
    line_below = hem.hem_line(leg.front_inseam, leg.back_inseam)
    turn = hem.hem_depth(HEM, float(wish["hem"]) if "hem" in wish else None, line_below)
    piece = _piece(leg, frame, line_below, turn)
    garment = Garment(
        name=NAME,
        title=TITLE,
        pieces=(piece,),
        seams=SEAMS,
        free_edges=_free_edges(frame, found, turn),
        joints=JOINTS,
        levels=_levels(body, frame, leg, less, piece),
        passages=_passages(body, stretch),
        notions=(found.notion("casing"),),
        notes=(*notes, *waist.elastic_notes(found)),
        choices=wish,
        finished={
            "waist, elastic relaxed": found.length - waist.LAP,
            "waist, stretched": 2 * leg.waist.length(),
            "hip": frame.hip,
            "hem": line_below.length(),
            "inside leg": leg.front_inseam.length(),
            "front rise": leg.front_crotch.length(),
            "back rise": leg.back_crotch.length(),
        },
        for_child=body.child,
        body_name=body.name,
    )
    return _with_notches(garment, frame, leg)


# ---- the leg -------------------------------------------------------------------------------------


def _frame(
    body: Body, wish: Wish, less: float, stretch: float, depth: float, edge: float, width: float
) -> Frame:
    rise = body["body_rise"] + RISE_EASE[body.figure]
    refuse_contradictions(body, rise)
    hip_level = -min(body["waist_to_hip"], (1 - HIP_ABOVE_CROTCH) * rise)
    refuse_low_waist(NAME, float(wish["rise"]), hip_level)
    heel = body["foot_heel_girth"] / (1 + knit.PASSES_OF_STRETCH * stretch)
    kept = 1 - less
    return Frame(
        hip=kept * body["hip_girth"],
        thigh=kept * body["thigh_girth"],
        knee_girth=kept * body["knee_girth"],
        knee_most=KNEE_MOST * body["knee_girth"],
        calf=max(kept * body["calf_girth"], heel),
        ankle=max(kept * body["ankle_girth"], heel),
        rise=rise,
        waist=float(wish["rise"]),
        edge=edge,
        casing=waist.casing_turn(width),
        hip_level=hip_level,
        knee=-body["waist_to_knee"],
        calf_level=-level.fullest_calf(body),
        hem=-max(body["waist_to_ankle"], depth),
    )


def _refuse_tight_crotch(body: Body, leg: Leg) -> None:
    """A thick thigh under a short rise makes a fork so long that its hollow closes up."""
    if hem.sharpest(leg.back_crotch, looks=LOOKS) * SEAM > 1.0:
        raise MeasureError(
            f"With a thigh of {body['thigh_girth']:.1f} cm and a body rise of {body['body_rise']:.1f} cm the "
            "crotch would bend too sharply to be sewn.",
            where=f"body '{body.name}': thigh girth, body rise",
            mend="Measure both again, the thigh close under the crotch.",
        )


def _waist_edge(body: Body, girth: float, elastic: float, less: float, stretch: float) -> float:
    """It passes the hips, is no tighter than the cloth gives, and takes its elastic if the hip is wide. [cm]"""
    over_hips = body["hip_girth"] / (1 + knit.PASSES_OF_STRETCH * stretch)
    return max(over_hips, (1 - less) * girth, min(elastic, (1 - less) * body["hip_girth"]))


def _within(found: waist.Elastic, edge: float) -> waist.Elastic:
    """The elastic no longer than its casing. [cm]"""
    if found.length <= edge:
        return found
    return replace(found, length=edge, stretch=found.stretch * found.length / edge)


def _fitted(body: Body, frame: Frame, less: float) -> tuple[Leg, tuple[Note, ...]]:
    """The seat fitted to the crotch length: in the middle of what the cloth gives if the seat can, else as near
    as it comes; where even that is not enough the crotch line is moved, and told."""
    shortest, longest = _along(body, less, ALONG_MOST), _along(body, less, ALONG_LEAST)
    middle = (shortest + longest) / 2
    try:
        return fitted_leg(frame, middle), _estimated(body)
    except NoSolution as short:
        low, high = short.low, short.high
    fullness, wanted = (1.0, shortest) if high < middle else (-1.0, longest)
    if shortest <= high <= middle or middle <= low <= longest or not body.taped("crotch_length_total"):
        return draw_leg(frame, fullness), _estimated(body)
    try:
        leg, lowered = moved_leg(frame, wanted, fullness, MOST_MOVED)
    except NoSolution as short:
        least, most = min(short.low, low), max(short.high, high)
        kept = body["crotch_length_total"] / longest, body["crotch_length_total"] / shortest
        raise MeasureError(
            f"Body rise {body['body_rise']:.1f} cm and crotch length {body['crotch_length_total']:.1f} cm "
            "cannot both be.",
            where=f"body '{body.name}': body rise, crotch length total",
            mend="Measure both again; with this rise and hip the crotch length can be "
            f"{between(least * kept[0], most * kept[1])}.",
        ) from short
    if abs(lowered) < WORTH_SAYING:
        return leg, ()
    text = (
        f"Body rise and crotch length disagree: the crotch line was {'lowered' if lowered > 0 else 'raised'} "
        f"by {abs(lowered):.1f} cm to meet the crotch length. Measure both again before you cut."
    )
    return leg, (Note(text, measure="crotch_length_total", by=lowered),)


def _estimated(body: Body) -> tuple[Note, ...]:
    if body.measures["crotch_length_total"].source != "estimated":
        return ()
    text = "The crotch length is estimated, so it shapes the seat only in part: tape it before you cut."
    return (Note(text),)


def _along(body: Body, less: float, of_ease: float) -> float:
    """The crotch seam from waist to waist, shorter than the body. [cm]"""
    return (1 - ALONG - of_ease * less) * body["crotch_length_total"]


def _cut_off(leg: Leg, frame: Frame, depth: float, length: str, longer: float) -> Leg:
    """Cut to its length. ChoiceError when that leaves no leg."""
    more, lack = 0.0, 1.0
    while lack > SOLVE:
        lack = _lacking(leg, frame, depth + more)
        more += max(lack, 0.0)
    if more > SOLVE:
        raise ChoiceError(
            f"So short, {length} leggings would leave no leg.",
            where=f"pattern '{NAME}', choice 'longer'",
            mend=possible(longer, least=longer + more),
        )
    return _short(leg, frame, depth)


def _short(leg: Leg, frame: Frame, depth: float) -> Leg:
    """Cut off at that depth below the natural waist. [cm]"""
    if -depth - frame.hem < SOLVE:
        return leg
    return replace(leg, front_inseam=leg.front_inseam.part(0.0, level.distance_to(leg.front_inseam, -depth)))


def _lacking(leg: Leg, frame: Frame, depth: float) -> float:
    """How much longer than that it must be at least for some leg to be left. [cm]

    Square to both inseams, which lean the more the nearer to the crotch, the hem bows up between them.
    """
    crotch = leg.front_inseam.start.y
    lack = SHORTEST_INSEAM - crotch - depth
    if lack > 0:
        return lack
    short = _short(leg, frame, depth)
    top = _hem_top(hem.hem_line(short.front_inseam, short.back_inseam))
    return top - crotch + THIGH_BELOW_CROTCH + THIGH_FREE


def _hem_top(line_below: Curve) -> float:
    """Where the hem lies highest: at its ends or in the middle. [cm]"""
    return max(line_below.start.y, line_below.strokes[0].at(0.5).y)


# ---- the piece -----------------------------------------------------------------------------------


def _piece(leg: Leg, frame: Frame, line_below: Curve, turn: float) -> Piece:
    """The wearer's left leg, right side up: down the front, along the hem, up the back, along the waist."""
    top, bottom = leg.front_inseam.start.y, _hem_top(line_below)
    way = GRAIN_FREE * (top - bottom)
    axis = line_below.start.between(line_below.end)
    low = axis.up(bottom + way - axis.y)
    high = axis.up(max(top + way, bottom + way + SHORTEST_GRAIN) - axis.y)
    return Piece(
        LEG,
        "Leg",
        edges=(
            Edge("crotch_front", leg.front_crotch, "seam", SEAM),
            Edge("inseam_front", leg.front_inseam, "seam", SEAM),
            Edge("hem", line_below, "hem", turn),
            Edge("inseam_back", leg.back_inseam.reversed(), "seam", SEAM),
            Edge("crotch_back", leg.back_crotch.reversed(), "seam", SEAM),
            Edge("waist", leg.waist.reversed(), "casing", frame.casing),
        ),
        grain=(low, high),
        marks=_marks(leg, frame, bottom),
    )


def _marks(leg: Leg, frame: Frame, bottom: float) -> tuple[Mark, ...]:
    """Level lines, and where the piece is made longer or shorter."""

    def inside(name: str, y: float, kind: MarkKind = "level") -> Mark:
        return Mark(name, kind, across(leg, y, level.crossing))

    def seat(name: str, y: float, kind: MarkKind = "level") -> Mark:
        return level.across(name, kind, leg.front_crotch, leg.back_crotch, y)

    low_waist = min(leg.waist.start.y, leg.waist.end.y)
    marks = [
        seat("hip", frame.hip_level),
        seat("adjust_rise", (low_waist + frame.hip_level) / 2, "adjust"),
        inside("thigh", leg.front_inseam.at_length(THIGH_BELOW_CROTCH).y),
        inside("adjust_leg", (leg.front_inseam.start.y + max(frame.knee, bottom)) / 2, "adjust"),
    ]
    if bottom < frame.knee - KNEE_FREE:
        marks.append(inside("knee", frame.knee))
    if bottom < frame.calf_level - KNEE_FREE:
        marks.append(inside("calf", frame.calf_level))
    return tuple(marks)


# ---- how it joins, and what it promises ----------------------------------------------------------


def _free_edges(frame: Frame, found: waist.Elastic, turn: float) -> tuple[FreeEdge, ...]:
    around = (Run(LEG, "waist"), Run(LEG, "waist", backwards=True, side="mirrored"))
    hems = FreeEdge("hem", "Leg hems", (Run(LEG, "hem"),), "hem", turn=turn, times=2)
    return waist.casing(around, frame.casing, found.width), hems


def _levels(body: Body, frame: Frame, leg: Leg, less: float, piece: Piece) -> tuple[Level, ...]:
    """Every girth is at least what the cloth stretches from; the hip is drawn to it."""
    crotch, lost = body["crotch_length_total"], at_natural_waist(frame, leg) - leg.crotch_length
    least = min(_along(body, less, ALONG_MOST), at_natural_waist(frame, leg))
    found = [
        Level("hip", "Hip", ((LEG, "hip", 2),), body["hip_girth"], -less * body["hip_girth"]),
        Level(
            "crotch_length_total",
            "Crotch length",
            ((LEG, "crotch_front", 1), (LEG, "crotch_back", 1)),
            crotch,
            least - lost - crotch,
            at_least=True,
        ),
    ]
    drawn = {mark.name for mark in piece.marks}
    for name, measure in (("thigh", "thigh_girth"), ("knee", "knee_girth"), ("calf", "calf_girth")):
        if name in drawn:
            girth = body[measure]
            found.append(Level(name, name.capitalize(), ((LEG, name, 1),), girth, -less * girth, at_least=True))
    return tuple(found)


def _passages(body: Body, stretch: float) -> tuple[Passage, ...]:
    gives = knit.PASSES_OF_STRETCH * stretch
    return (
        Passage("over_hips", "Waist edge over the hips", ((LEG, "waist", 2),), body["hip_girth"], 0.0, gives),
        Passage("over_heel", "Hem over the heel", ((LEG, "hem", 1),), body["foot_heel_girth"], 0.0, gives),
    )


def _with_notches(garment: Garment, frame: Frame, leg: Leg) -> Garment:
    """Match marks: knee inside, one single and one double at the turns of the crotch curve."""
    inseam, front, back = leg.front_inseam, leg.front_crotch, leg.back_crotch
    knee = inseam.end.y < frame.knee - KNEE_FREE
    inside = level.distance_to(inseam, frame.knee) if knee else inseam.length() / 2
    garment = notched(garment, "inseam", inside, "inside")
    garment = notched(garment, "crotch", back.strokes[0].length(tolerance=SOLVE), "back", 2, 2)
    turn = front.strokes[0].length(tolerance=SOLVE)
    return notched(garment, "crotch", back.length() + front.length() - turn, "front")


SEAMS = (
    Seam(
        "inseam",
        "Inseams",
        (Run(LEG, "inseam_front"),),
        (Run(LEG, "inseam_back", backwards=True),),
        times=2,
        pressed="to b",
    ),
    Seam(
        "crotch",
        "Crotch seam",
        (Run(LEG, "crotch_back", backwards=True), Run(LEG, "crotch_front", backwards=True)),
        (
            Run(LEG, "crotch_back", backwards=True, side="mirrored"),
            Run(LEG, "crotch_front", backwards=True, side="mirrored"),
        ),
        pressed="to b",
    ),
)

JOINTS = (
    Joint("hem at the inseam", (Corner(LEG, "inseam_front", "hem"), Corner(LEG, "hem", "inseam_back"))),
    Joint(
        "crotch at the inseam",
        (Corner(LEG, "crotch_front", "inseam_front"), Corner(LEG, "inseam_back", "crotch_back")),
    ),
    Joint("waist at centre front", (Corner(LEG, "waist", "crotch_front"),) * 2),
    Joint("waist at centre back", (Corner(LEG, "crotch_back", "waist"),) * 2),
)

LEGGINGS = HouseDraft(
    name=NAME,
    title=TITLE,
    what="One piece a leg and an elastic: close-fitting leggings of a knit that gives.",
    choices=CHOICES,
    needs=(*pull_on.NEEDS, "ankle_girth"),
    least_age=2.0,
    draw=draw,
    lightest=160.0,
    heaviest=320.0,
    makes=("knit",),
    shortened_by="longer",
    length_shown="inside leg",
    instead={"hip_height": "Close-fitting knit follows a hip that is higher by itself."},
)
