"""Robe and kimono jacket: rectangles with a band, open in front, the sleeves set on straight, a belt in loops.

Front and back hang straight from the shoulders; the shoulder line runs on over the arm to the side, a little
less steep than the shoulder. The front edge falls from the neck point to the waist and straight down; one band
of even width goes round both fronts and the back neck. The sleeve is a rectangle.
Half of the body is drawn, centre on x = 0, the natural waist y = 0, y up, cm; the front is cut as a pair and
laps over the centre.

    Q  quarter of the girth with its room    T  end of the shoulder seam    U  underarm

Source: drafting method 8 (room .22 of the fuller of bust and hip; shoulder slope .75; armhole .56 of the upper
arm and 5), belts and loops house rule, 2026-11; proved on the bodies of `benchmarks.drafts`. Not sewn yet.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from clothwise.body import Body
from clothwise.curve import DOWN, Curve, Point, line, sweep
from clothwise.draft import hem, level, pocket, posture, robe_belt, robe_notes, robe_shoulder, sleeve
from clothwise.draft.neckline import Neckline, along_shoulder, close_neck, cut_back, square_to_shoulder
from clothwise.draft.pattern import Choice, HouseDraft, Wish
from clothwise.draft.possible import possible, within
from clothwise.draft.posture import posture_of
from clothwise.draft.robe_joined import BACK, BAND, FRONT, JOINTS, SEAMS, SLEEVE, band_free, hem_runs
from clothwise.draft.robe_shoulder import Shoulder
from clothwise.errors import ChoiceError
from clothwise.garment import Edge, FreeEdge, Garment, Level, Mark, Passage, Piece, Run
from clothwise.garment.notches import notched
from clothwise.tolerance import SOLVE

NAME = "robe"
ROOM = 0.22  # of the fuller of bust and hip: worn over clothes, it overlaps without gaping
ARMHOLE_OF_ARM, ARMHOLE_MORE = 0.56, 5.0  # half the sleeve's width: share of the upper arm and cm,
CHILD_MORE = 3.0  # cm for a child
NECK_WIDE, NECK_LOW = 0.14, 0.10  # of shoulder and half neck: so far off the neck the seam of the band lies
BACK_ROUND = 1.25  # the back neck's depth squared over its half width, for the allowance to fit its bend
OVERLAP = {"hip": 0.0, "knee": 4.0, "calf": 4.0, "ankle": 4.0}  # cm the front edge lies beyond the centre
CHILD_OVERLAP = 0.6  # of an adult's
BAND_WIDTH, CHILD_BAND_WIDTH = 5.0, 4.0  # cm finished
SEAM = 1.5  # cm
BAND_SEAM = 1.0  # cm
HEM, SLEEVE_HEM = 4.0, 3.0  # cm
SLEEVE_LEAST = 6.0  # cm: a shorter sleeve on so broad a robe is none
HIP_BELOW = 3.0  # cm: from here on below the hip the hem promises room there
FRONT_HANDLES = (0.45, 0.42)  # of the front edge from the neck to the waist
POCKET_BELOW = 0.06  # of the hip girth: the pocket's top below the waist
POCKET_FROM_SIDE, POCKET_ROOM, POCKET_ABOVE_HEM = 4.0, 3.0, 2.0  # cm
GRAIN_CLEAR = 1.0  # cm from the front edge at least
GRAIN_FREE = 0.15
NOTCH_FREE = 4.0  # cm
JACKET_BELOW_HIP = 0.9  # of the way from hip to crotch
LEAST_CLEAR = 3.0  # cm from the floor at least: it must not be trodden on
LEAST_OF_HIP = 0.5  # of waist to hip: the shortest jacket
LEAST_POCKET, LEAST_WIDTH = 0.75, 8.0  # height over width of the shortest pocket; cm
HIGHEST_POCKET = 0.04  # of the hip girth: so far above the waist a jacket's pocket may begin
ADULT_ARM = 56.0  # cm
NO_POCKETS, PATCH = "none", "patch"

LENGTHS = ("hip", "knee", "calf", "ankle")

CHOICES = (
    Choice(
        "length",
        "A jacket to the hip, or a robe to knee, calf or ankle.",
        options=LENGTHS,
        default="calf",
        changes="hem, band",
        main=True,
    ),
    level.longer_choice(20.0),
    Choice(
        "sleeve",
        "Where the straight sleeve ends.",
        options=sleeve.LENGTH_WORDS,
        default="three-quarter",
        changes="sleeve",
        main=True,
    ),
    sleeve.longer_choice(),
    Choice(
        "belt",
        "A belt in two loops, a child's sewn fast at the back; left open a robe has one, a jacket none.",
        options=(robe_belt.NONE, robe_belt.TIED),
        changes="belt, loops and their places",
    ),
    Choice(
        "pockets",
        "Patch pockets on the fronts.",
        options=(NO_POCKETS, PATCH),
        default=PATCH,
        changes="a pocket piece, its place on the front",
    ),
    Choice(
        "room",
        f"Room round the fuller of bust and hip; if left open {ROOM:g} of it.",
        unit="cm",
        low=8.0,
        high=50.0,
        changes="width of front and back",
    ),
    Choice(
        "overlap",
        "How far each front edge lies beyond the centre, without its band; negative stands open.",
        unit="cm",
        low=-8.0,
        high=12.0,
        changes="fronts",
    ),
    Choice(
        "band_width",
        f"Finished width of the band; if left open {BAND_WIDTH:g}, for a child {CHILD_BAND_WIDTH:g}.",
        unit="cm",
        low=2.5,
        high=9.0,
        changes="band",
    ),
    *posture.CHOICES,
)


@dataclass(frozen=True, slots=True)
class Frame:
    """Heights above the waist, widths, and the lines of the half. slope in degrees. [cm]

    neck       where the shoulder seam begins; wrap: how far the front edge lies beyond the centre
    front, back  their shoulders and armholes
    sleeve     its length; band: finished width
    """

    quarter: float
    slope: float
    neck: Point
    back_neck: Curve
    front: Shoulder
    back: Shoulder
    wrap: float
    depth: float
    sleeve: float
    band: float
    fuller: float
    room: float
    hip_depth: float
    pocket: pocket.Pocket | None

    @property
    def underarm(self) -> Point:
        return self.front.armhole.end

    @property
    def around_arm(self) -> float:
        """Round both armholes, as wide as the sleeve."""
        return self.front.armhole.length() + self.back.armhole.length()

    @property
    def front_edge(self) -> Curve:
        """From the neck point down to the hem: one sweep to the waist, then straight."""
        waist = Point(-self.wrap, 0.0)
        upper = sweep(self.neck, square_to_shoulder(self.slope), waist, DOWN, *FRONT_HANDLES)
        return upper.then(line(waist, Point(-self.wrap, -self.depth)))


def draw(body: Body, wish: Wish) -> Garment:
    """The robe for this body. Raises ChoiceError, MeasureError or DraftError with one sentence."""
    frame = _frame(body, wish)
    belt = robe_belt.belt_for(body, wish, frame.room)
    jacket = wish["length"] == "hip"
    front, back = _front(frame, body), _back(frame, belt)
    pockets = (pocket.piece(frame.pocket),) if frame.pocket else ()
    garment = Garment(
        name=NAME,
        title="Kimono jacket" if jacket else "Robe",
        pieces=(front, back, _sleeve(frame), _band(frame, back), *pockets, *robe_belt.pieces(belt)),
        seams=(
            *((pocket.seam(FRONT),) if frame.pocket else ()),
            *robe_belt.seams(belt, BACK),
            *SEAMS,
        ),
        free_edges=_free_edges(frame),
        joints=JOINTS,
        levels=_levels(body, frame),
        passages=(
            Passage("hand", "Sleeve over the hand", ((SLEEVE, "hem", 1),), _hand(body), sleeve.HAND_NEEDS),
        ),
        notes=(*robe_belt.notes(belt), *robe_notes.notes(body, jacket=jacket)),
        choices=wish,
        finished=_finished(frame, back, belt),
        for_child=body.child,
        body_name=body.name,
    )
    return _with_notches(garment, frame)


# ---- the frame -----------------------------------------------------------------------------------


def _frame(body: Body, wish: Wish) -> Frame:
    fuller = max(body["bust_girth"], body["hip_girth"], body["waist_girth"])
    room = float(wish.get("room", ROOM * fuller))
    quarter = (fuller + room) / 4
    arm = ARMHOLE_OF_ARM * body["upper_arm_girth"] + (CHILD_MORE if body.child else ARMHOLE_MORE)
    slope = robe_shoulder.slope_of(body, quarter, arm)
    held = posture_of(body, wish, NAME)
    neck = close_neck(body["neck_base_girth"], slope, slope)
    close = Point(neck.width, body["back_waist_length"] + neck.rise)
    wide = NECK_WIDE * body["shoulder_length"]
    at = along_shoulder(close, slope, wide)
    low = max(NECK_LOW * neck.width, math.sqrt(BACK_ROUND * BAND_SEAM * at.x) + close.y - neck.rise - at.y)
    front, back = robe_shoulder.shoulders(close, at, slope, quarter, arm, held)
    depth = _depth(body, wish)
    made = Frame(
        quarter=quarter,
        slope=slope,
        neck=at,
        back_neck=cut_back(neck, Neckline("round", wide, 0.0, low), close.up(held.round_back), slope),
        front=front,
        back=back,
        wrap=_wrap(body, wish),
        depth=depth,
        sleeve=_sleeve_length(body, wish, wide + front.seam.length()),
        band=float(wish.get("band_width", CHILD_BAND_WIDTH if body.child else BAND_WIDTH)),
        fuller=fuller,
        room=room,
        hip_depth=body["waist_to_hip"],
        pocket=None,
    )
    return replace(made, pocket=_pocket(body, made)) if wish["pockets"] == PATCH else made


def _wrap(body: Body, wish: Wish) -> float:
    usual = OVERLAP[str(wish["length"])] * (CHILD_OVERLAP if body.child else 1.0)
    return float(wish.get("overlap", usual))


def _depth(body: Body, wish: Wish) -> float:
    """The hem below the waist. ChoiceError when it drags or leaves no robe. [cm]"""
    hip, longer = body["waist_to_hip"], float(wish["longer"])
    usual = {
        "hip": hip + JACKET_BELOW_HIP * max(body["body_rise"] - hip, 0.0),
        "knee": level.knee(body),
        "calf": level.mid_calf(body),
        "ankle": level.maxi(body),
    }[str(wish["length"])]
    most = body["body_rise"] + body["inside_leg"] - LEAST_CLEAR
    least = LEAST_OF_HIP * hip
    if not within(usual + longer, least, most):
        raise ChoiceError(
            f"{longer:+.1f} cm on the length '{wish['length']}' would "
            f"{'be trodden on' if usual + longer > most else 'end at the waist'}.",
            where=f"pattern '{NAME}', choice 'longer'",
            mend=possible(longer, least - usual, most - usual),
        )
    return usual + longer


def _sleeve_length(body: Body, wish: Wish, shoulder: float) -> float:
    """From the end of the shoulder seam, `shoulder` from the neck, to the hem. [cm]"""
    word, longer = str(wish["sleeve"]), float(wish["sleeve_longer"])
    reach = body["shoulder_length"] + sleeve.length_from_shoulder(body, word, 0.0, 0.0) + longer
    least = SLEEVE_LEAST * body["arm_length"] / ADULT_ARM
    if reach - shoulder < least:
        raise ChoiceError(
            f"A {word} sleeve ends {max(reach - shoulder, 0):.1f} cm beyond the shoulder seam of this robe.",
            where=f"pattern '{NAME}', choice 'sleeve'",
            mend=f"Make the sleeve {math.ceil(least - reach + shoulder)} cm longer, or choose a longer one.",
        )
    return reach - shoulder


def _hand(body: Body) -> float:
    return sleeve.HAND_OF_WRIST * body["wrist_girth"]


# ---- pieces --------------------------------------------------------------------------------------


def _front(frame: Frame, body: Body) -> Piece:
    """Along the hem, up side and armhole, over the shoulder, down the front edge."""
    edge = frame.front_edge
    marks = _marks(frame, edge)
    if frame.pocket:
        marks = (*marks, pocket.place(frame.pocket, _pocket_top(frame, frame.pocket, body)))
    return Piece(
        FRONT,
        "Front",
        edges=(*_outer(frame, frame.front, -frame.wrap), Edge("front_edge", edge, "seam", BAND_SEAM)),
        grain=_grain(frame, max(edge.start.x, edge.end.x)),
        marks=marks,
    )


def _back(frame: Frame, belt: robe_belt.Belt | None) -> Piece:
    fold = line(frame.back_neck.end, Point(0.0, -frame.depth))
    return Piece(
        BACK,
        "Back",
        edges=(
            *_outer(frame, frame.back, 0.0),
            Edge("neck", frame.back_neck, "seam", BAND_SEAM),
            Edge("fold", fold, "fold", 0.0),
        ),
        grain=_grain(frame),
        cutting="on fold",
        copies=1,
        marks=(
            *_marks(frame, line(Point(0.0, frame.underarm.y), Point(0.0, -frame.depth))),
            *robe_belt.places(belt, frame.quarter),
        ),
    )


def _outer(frame: Frame, shoulder: Shoulder, inner: float) -> tuple[Edge, ...]:
    """Hem, side, armhole and shoulder, which front and back share."""
    low, under = Point(frame.quarter, -frame.depth), frame.underarm
    return (
        Edge("hem", line(Point(inner, -frame.depth), low), "hem", HEM),
        Edge("side_seam", line(low, under), "seam", SEAM),
        Edge("armhole", shoulder.armhole.reversed(), "seam", SEAM),
        Edge("shoulder", shoulder.seam, "seam", SEAM),
    )


def _grain(frame: Frame, inner: float = 0.0) -> tuple[Point, Point]:
    """In the middle of the width, or of what a front that does not meet leaves of it."""
    x, height = frame.quarter / 2, frame.underarm.y + frame.depth
    if x < inner + GRAIN_CLEAR:
        x = (inner + frame.quarter) / 2
    return Point(x, GRAIN_FREE * height - frame.depth), Point(x, frame.underarm.y - GRAIN_FREE * height)


def _marks(frame: Frame, inner: Curve) -> tuple[Mark, ...]:
    """Level lines to the side, and where the body is lengthened."""
    side = line(frame.underarm, Point(frame.quarter, -frame.depth))
    marks = [level.across("underarm", "level", inner, side, frame.underarm.y - SOLVE)]
    if frame.depth > frame.hip_depth + HIP_BELOW:
        marks.append(level.across("hip", "level", inner, side, -frame.hip_depth))
    marks.append(level.across("adjust_length", "adjust", inner, side, -0.5 * min(frame.hip_depth, frame.depth)))
    return tuple(marks)


def _sleeve(frame: Frame) -> Piece:
    """A rectangle: its upper edge is as long as both armholes."""
    width, length = frame.around_arm, frame.sleeve
    left, right = Point(0.0, 0.0), Point(width, 0.0)
    return Piece(
        SLEEVE,
        "Sleeve",
        edges=(
            Edge("hem", line(left, right), "hem", SLEEVE_HEM),
            Edge("back_seam", line(right, right.up(length)), "seam", SEAM),
            Edge("top", line(right.up(length), left.up(length)), "seam", SEAM),
            Edge("front_seam", line(left.up(length), left), "seam", SEAM),
        ),
        grain=(Point(width / 2, GRAIN_FREE * length), Point(width / 2, (1 - GRAIN_FREE) * length)),
    )


def _band(frame: Frame, back: Piece) -> Piece:
    """Half the band, from the hem of one front to the centre back; folded along its middle."""
    length, b = frame.front_edge.length() + frame.back_neck.length(), frame.band
    low, far = Point(0.0, 0.0), Point(length, 0.0)
    return Piece(
        BAND,
        "Band",
        edges=(
            Edge("outer", line(low, far), "seam", BAND_SEAM),
            Edge("centre", line(far, far.up(2 * b)), "seam", BAND_SEAM),
            Edge("inner", line(far.up(2 * b), low.up(2 * b)), "seam", BAND_SEAM),
            Edge("low_end", line(low.up(2 * b), low), "seam", BAND_SEAM),
        ),
        grain=(Point(GRAIN_FREE * length, b / 2), Point((1 - GRAIN_FREE) * length, b / 2)),
        marks=(
            Mark("fold", "fold line", line(low.up(b), far.up(b))),
            Mark(
                "shoulder",
                "note",
                line(Point(frame.front_edge.length(), 0.0), Point(frame.front_edge.length(), b / 2)),
            ),
        ),
    )


# ---- pockets -------------------------------------------------------------------------------------


def _pocket(body: Body, frame: Frame) -> pocket.Pocket:
    """The patch pocket. ChoiceError when the fronts are too short or too narrow for it."""
    made = pocket.pocket_for(body["hip_girth"], frame.quarter + min(frame.wrap, 0.0) - 2 * POCKET_ROOM)
    lack = _pocket_top(frame, made, body).y - HIGHEST_POCKET * body["hip_girth"]
    height = made.height - max(lack, 0.0)
    if made.width < LEAST_WIDTH or height < LEAST_POCKET * made.width:
        raise ChoiceError(
            "A pocket does not fit on fronts so short or so narrow.",
            where=f"pattern '{NAME}', choice 'pockets'",
            mend="Choose no pockets, or make it longer or wider.",
        )
    return replace(made, height=height)


def _pocket_top(frame: Frame, made: pocket.Pocket, body: Body) -> Point:
    """The pocket's upper left corner: below the waist, on a jacket as high as the hem asks, near the side."""
    free = frame.quarter + min(frame.wrap, 0.0) - made.width
    x = frame.quarter - made.width - min(POCKET_FROM_SIDE, free / 2)
    lowest = HEM + POCKET_ABOVE_HEM + made.height - frame.depth
    return Point(x, max(-POCKET_BELOW * body["hip_girth"], lowest))


# ---- the garment ---------------------------------------------------------------------------------


def _free_edges(frame: Frame) -> tuple[FreeEdge, ...]:
    sleeves = (Run(SLEEVE, "hem"),)
    pockets = (pocket.top(),) if frame.pocket else ()
    return (
        *pockets,
        hem.hem_edge("Hem", hem_runs(), HEM, closed=False),
        replace(hem.hem_edge("Sleeve hems", sleeves, SLEEVE_HEM, times=2), name="sleeve_hem"),
        *band_free(BAND_SEAM),
    )


def _levels(body: Body, frame: Frame) -> tuple[Level, ...]:
    """Half round the back below the arms; at the hip from front edge to front edge."""
    lapped = frame.fuller + frame.room + 2 * frame.wrap
    half, more = body["bust_girth"] / 2, (frame.fuller + frame.room - body["bust_girth"]) / 2
    levels = [Level("bust", "Half round, at the back", ((BACK, "underarm", 2),), half, more)]
    if frame.depth > frame.hip_depth + HIP_BELOW:
        hip = ((FRONT, "hip", 2), (BACK, "hip", 2))
        levels.append(Level("hip", "Hip, with both laps", hip, body["hip_girth"], lapped - body["hip_girth"]))
    return tuple(levels)


def _finished(frame: Frame, back: Piece, belt: robe_belt.Belt | None) -> dict[str, float]:
    """Finished measures in the trade's words. [cm]"""
    found = {
        "round the body, closed": frame.fuller + frame.room,
        "nape to hem": frame.back_neck.end.y + frame.depth,
        "neck point to sleeve end": frame.front.seam.length() + frame.sleeve,
        "sleeve width round": frame.around_arm,
        "band, whole": 2 * (frame.front_edge.length() + frame.back_neck.length()),
    }
    return {**found, "belt": belt.length} if belt else found


def _with_notches(garment: Garment, frame: Frame) -> Garment:
    """Match marks: side at the waist, shoulder on the sleeve, band at the waist of the front edge."""
    side = frame.depth
    garment = notched(garment, "side_seam", min(side, frame.depth + frame.underarm.y - NOTCH_FREE), "waist")
    garment = notched(garment, "armhole", frame.front.armhole.length() * 0.5, "front")
    back = frame.around_arm - frame.back.armhole.length() * 0.5
    garment = notched(garment, "armhole", back, "back", 2, 2)
    return notched(garment, "band", frame.depth, "band")


ROBE = HouseDraft(
    name=NAME,
    title="Robe and kimono jacket",
    what="Rectangles and one band: a jacket or robe that wraps over and ties.",
    choices=CHOICES,
    needs=(
        "bust_girth",
        "waist_girth",
        "hip_girth",
        "neck_base_girth",
        "shoulder_length",
        "shoulder_slope_deg",
        "back_waist_length",
        "upper_arm_girth",
        "wrist_girth",
        "arm_length",
        "waist_to_hip",
        "waist_to_knee",
        "waist_to_ankle",
        "body_rise",
        "inside_leg",
    ),
    least_age=2.0,
    draw=draw,
    makes=("woven", "knit"),
    lightest=80.0,
    heaviest=420.0,
    shortened_by="longer",
    length_shown="nape to hem",
    instead=posture.WRAPPED,
)
