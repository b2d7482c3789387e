"""What a camisole is drawn from: frame, side seam, upper edges, where the straps begin and how long they are.

One half with its centre on x = 0 and its side at +x, the waist y = 0, y up, cm. The front is that of the bodice
with its bust dart open at the side; above, it ends in a peak over the bust point, from which the upper edge
falls to the side and to the centre. The back runs across just below the arms.

    F   the peak of the front, where its strap begins      U   upper end of the side seam

Source: house rule, 2026-11, proved on the bodies of `benchmarks.drafts`; drafting method, skirts (bias: length
-2 %); rules of the trade G (hang 24-72 h).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from clothwise.body import Body
from clothwise.curve import DOWN, LEFT, UP, Curve, Point, Vector, corner, heading, line, sweep
from clothwise.draft import bodice, hem, level, side_seam, top_length
from clothwise.draft.bodice import Frame, Room
from clothwise.draft.darts import Part, Ring, end_turned, place_of, sewn
from clothwise.draft.neckline import along_shoulder
from clothwise.draft.pattern import Wish
from clothwise.draft.possible import greatest, possible, within
from clothwise.draft.side_seam import Shape
from clothwise.draft.top_body import BUST_MOUTH
from clothwise.errors import ChoiceError
from clothwise.garment import Dart

NAME = "bias_camisole"
LENGTHS = {"camisole": top_length.top, "knee slip": level.knee, "midi slip": level.mid_calf}
ROUND, V = "round", "V"
BINDING, FACING = "bound", "faced"
DROP = 2.0  # cm: the upper edge passes so far below the armpit (child 0.8 of it)
OF_CHILD = 0.8
DROPS = 0.02  # of the length: so much the bias grows while it hangs
PEAK_UP = 0.44  # of the way from the bust point to the neck point: the strap begins there
PEAK_OUT = 0.6  # cm outside the bust point: the strap bears the cup, not the throat
NECK_UP = {ROUND: 0.16, V: 0.06}  # of that way: how far over the bust point the front's centre lies
NECK_FALL_DEG = 105.0  # degrees below the right: so steeply a round neck leaves the peak
NECK_LEAST = 0.35  # of the peak's distance from the centre: a higher front is a straight bar
NECK_ABOVE_BUST = 0.3  # cm above the bust line at least: lower, the dart's tips would show
PEAK_WAY = 32.0  # degrees: so much steeper than its chord the side edge leaves the peak
FLATTER_DEG, FLATTEST_DEG = 5.0, 140.0  # degrees: a round neck too hollow for its allowance leaves it flatter
NECK_LOOKS = 32  # at the stroke of the neck, for its sharpest bend
EDGE_HANDLES = (0.50, 0.55)
BOUND, FACED = 0.9, 1.0  # cm allowance of the upper edges: the finished width of a binding; sewn to a facing
BUST_BELOW = 4.0  # cm below the underarm: the bust point of a body without a cup
BACK_DIP = 1.2  # cm: the back's centre below its side
BACK_STRAP = 0.52  # of half the back's width: where the strap is sewn on
SPARE = 3.0  # cm of strap more than the way over the shoulder: to be set when it is tried on
HEM_BELOW_HIP = 2.0  # cm: the hip line lies at least so far above the hem
LIFT = 0.32  # of half the girth, per flare: so far a flared side ends above the hem's centre
FLARE_OVER = 50.0  # cm down over which the flare is asked
STRIDE_OF_HEIGHT, STRIDE_FROM = 0.75, 0.9  # hem over height that lets her step, from this share of the knee
LEAST_CLEAR = 1.0  # cm from the floor
SIDE_SEAM = 1.5  # cm allowance at the sides
LEAST_FLARE = 2.0  # cm: the least that is asked
LOOKS = 24  # at each stroke of a side, which is drawn downwards, for its sharpest hollow


@dataclass(frozen=True, slots=True)
class Drawn:
    """Half front and half back as rings: hem, side, (dart, side,) upper edges. Lengths in cm.

    peak        F; strap: length from the front's to the back's end, without spare
    back_strap  how far from the centre back it is sewn on
    depth       of the hem below the waist, as cut; dropped: shorter than asked by so much
    """

    frame: Frame
    shape: Shape
    front: Ring
    back: Ring
    darts: tuple[Dart, ...]
    peak: Point
    back_strap: float
    strap: float
    hip_depth: float
    depth: float
    dropped: float


def drawn(body: Body, wish: Wish) -> Drawn:
    """Raises MeasureError or ChoiceError with one sentence."""
    drop = OF_CHILD * DROP if body.child else DROP
    frame = bodice.frame(body, Room(float(wish["bust_ease"]), drop))
    hung = _depth(body, wish, frame)
    dropped = DROPS * (frame.underarm + hung)
    depth = hung - dropped
    shape, hip_depth = _shape(body, wish, frame, depth)
    _refuse_sharp_side(body, wish, frame, depth)
    peak, neck = _peak(body, wish, frame)
    ring = _front(frame, shape, hip_depth, depth, peak, neck)
    front, darts = _trued(ring, _bust_point(body, frame))
    at = BACK_STRAP * frame.side_back
    back = _back(frame, shape, hip_depth, depth)
    strap = _strap(frame, peak, Point(at, frame.underarm - BACK_DIP))
    return Drawn(frame, shape, front, back, darts, peak, at, strap, hip_depth, depth, dropped)


# ---- lengths and side --------------------------------------------------------------------------------


def _depth(body: Body, wish: Wish, frame: Frame) -> float:
    """The hem below the waist, when it has hung. [cm]"""
    usual, longer = LENGTHS[str(wish["length"])](body), float(wish["longer"])
    least, most = 0.5 * body["waist_to_hip"], body["body_rise"] + body["inside_leg"] - LEAST_CLEAR
    if not within(usual + longer, least, most):
        word = "drag on the floor" if usual + longer > most else "no longer reach the hip"
        raise ChoiceError(
            f"{longer:+.1f} cm on a {wish['length']} would {word}.",
            where=f"pattern '{NAME}', choice 'longer'",
            mend=possible(longer, least - usual, most - usual),
        )
    return usual + longer


def _shape(body: Body, wish: Wish, frame: Frame, depth: float) -> tuple[Shape, float]:
    """How the side seam departs from upright, and the depth of the hip line. [cm]"""
    half_hip = (body["hip_girth"] + float(wish["hip_ease"])) / 2
    asked = float(wish["flare"]) / FLARE_OVER
    hip_depth = min(body["waist_to_hip"], depth - HEM_BELOW_HIP - asked * LIFT * frame.half)
    waist = side_seam.loose(
        frame.half, frame.underarm, frame.bust_level, hip_depth, half_hip, body["waist_girth"]
    )
    hip = side_seam.hip_out(frame.half, half_hip, waist, 0.0, hip_depth)
    flare = asked
    if depth >= STRIDE_FROM * body["waist_to_knee"]:
        lack = STRIDE_OF_HEIGHT * body["height"] - 2 * (frame.half + 2 * hip)
        flare = max(asked, lack / 4 / (depth - hip_depth))
    return Shape(waist, side_seam.hip_out(frame.half, half_hip, waist, flare, hip_depth), flare), hip_depth


def _refuse_sharp_side(body: Body, wish: Wish, frame: Frame, depth: float) -> None:
    """Where a short one flares soon below the waist, its sides must still bend so little that they are sewn."""

    def turns(flare: float) -> bool:
        shape, hip_depth = _shape(body, {**wish, "flare": flare}, frame, depth)
        sides = (_side(frame, shape, hip_depth, x, depth) for x in (frame.side_front, frame.side_back))
        bends = (
            stroke.curvature(n / LOOKS) for side in sides for stroke in side.strokes for n in range(LOOKS + 1)
        )
        return max(bends) * SIDE_SEAM < 1.0

    asked = float(wish["flare"])
    if turns(asked):
        return
    most = greatest(turns, LEAST_FLARE, asked)
    raise ChoiceError(
        f"{asked:g} cm of flare on so short a camisole would bend its sides too sharply to be sewn.",
        where=f"pattern '{NAME}', choice 'flare'",
        mend="Make it longer." if most is None else f"Make it longer, or flare it up to {most:g} cm.",
    )


def _side(frame: Frame, shape: Shape, hip_depth: float, x: float, depth: float) -> Curve:
    wider = max(frame.side_front, frame.side_back)
    end = side_seam.hem_end(x, wider, hip_depth, shape, -depth)
    return side_seam.curve(x, frame.underarm, frame.bust_level, hip_depth, shape, end)


def _hem(side: Curve, depth: float) -> Curve:
    return hem.hem_line(line(Point(0.0, 1.0 - depth), Point(0.0, -depth)), side)


# ---- upper edges -------------------------------------------------------------------------------------


def _bust_point(body: Body, frame: Frame) -> Point:
    """The bust point; on a body without a cup, where its strap is aimed at."""
    if frame.bust:
        return frame.bust.point
    low = OF_CHILD * BUST_BELOW if body.child else BUST_BELOW
    return Point(body["bust_point_distance"] / 2, frame.underarm - low)


def _peak(body: Body, wish: Wish, frame: Frame) -> tuple[Point, Curve]:
    """F, and the neck edge from there to the centre."""
    point, style = _bust_point(body, frame), str(wish["neckline"])
    up = frame.front.neck_point.y - point.y
    peak = Point(point.x + PEAK_OUT, point.y + PEAK_UP * up)
    usual = max(point.y + NECK_UP[style] * up, frame.bust_level + NECK_ABOVE_BUST)
    centre = Point(0.0, usual - float(wish["neck_depth"]))
    least = peak.y - NECK_LEAST * peak.x
    if centre.y > least or centre.y < frame.bust_level + NECK_ABOVE_BUST:
        deepest = usual - frame.bust_level - NECK_ABOVE_BUST
        raise ChoiceError(
            f"A neck {float(wish['neck_depth']):+.1f} cm deep does not lie between straps and bust.",
            where=f"pattern '{NAME}', choice 'neck_depth'",
            mend=possible(float(wish["neck_depth"]), usual - least, deepest),
        )
    if style == V:
        return peak, line(peak, centre)
    return peak, _round_neck(peak, centre, FACED if wish["edges"] == FACING else BOUND)


def _round_neck(peak: Point, centre: Point, allowance: float) -> Curve:
    """From the peak to the centre, as steep at the peak as its allowance finds room in the hollow. [cm]"""
    fall = NECK_FALL_DEG
    while True:
        neck = corner(peak, heading(-fall), centre, LEFT, *EDGE_HANDLES)
        if allowance * hem.sharpest(neck, looks=NECK_LOOKS) <= 1.0 or fall >= FLATTEST_DEG:
            return neck
        fall += FLATTER_DEG


def _front(frame: Frame, shape: Shape, hip_depth: float, depth: float, peak: Point, neck: Curve) -> Ring:
    side = _side(frame, shape, hip_depth, frame.side_front, depth)
    under, out = frame.front.underarm, frame.front.out
    chord = peak.to(under)
    way = chord.unit().turned(-PEAK_WAY)
    edge = corner(peak, way, under, out, *EDGE_HANDLES).reversed()
    low: tuple[Part, ...] = (Part("side", side.reversed()),)
    if frame.bust:
        lower = Curve(side.strokes[1:]).reversed()
        mouth = line(frame.bust.lower_leg, frame.bust.upper_leg)
        low = (
            Part("side_lower", lower),
            Part(BUST_MOUTH, mouth, mouth=True),
            Part("side_upper", line(frame.bust.upper_leg, under)),
        )
    return (Part("hem", _hem(side, depth)), *low, Part("armhole", edge), Part("neck", neck))


def _trued(ring: Ring, about: Point) -> tuple[Ring, tuple[Dart, ...]]:
    """The front with its dart; what the edge must bend there for a tip short of the bust point, all above the
    dart: below it the side would wave where the waist is hardly taken in."""
    bent, darts = sewn(ring, about)
    if not darts:
        return ring, ()
    first, tip = darts[0].first_leg, darts[0].tip
    to_point, to_tip = first.to(about), first.to(tip)
    lean = abs(math.degrees(math.atan2(to_point.cross(to_tip), to_point.dot(to_tip))))
    i = place_of(ring, BUST_MOUTH)
    above = end_turned(ring[i + 1].curve.reversed(), 2 * lean).reversed()
    return (*ring[: i + 1], Part(ring[i + 1].name, above), *bent[i + 2 :]), darts


def _back(frame: Frame, shape: Shape, hip_depth: float, depth: float) -> Ring:
    side = _side(frame, shape, hip_depth, frame.side_back, depth)
    top = sweep(side.start, LEFT, Point(0.0, frame.underarm - BACK_DIP), LEFT)
    return (Part("hem", _hem(side, depth)), Part("side", side.reversed()), Part("top", top))


def _strap(frame: Frame, peak: Point, end: Point) -> float:
    """From the peak straight up to the shoulder, over it, and down to the back. [cm]"""
    x = (peak.x + end.x) / 2
    ways = []
    for half, place in ((frame.front, peak), (frame.back, end)):
        run = max(x - half.neck_point.x, 0.0) / math.cos(math.radians(half.slope_deg))
        ways.append(place.distance(along_shoulder(half.neck_point, half.slope_deg, run)))
    return sum(ways)


def turned(ring: Ring) -> Ring:
    """The mirror image of a half ring, walked anticlockwise as well: from its last part to its first."""
    return tuple(
        Part(part.name, part.curve.mirrored(Point(0.0, 0.0), UP).reversed(), part.mouth)
        for part in reversed(ring)
    )


def side_way(frame: Frame) -> Vector:
    """Down the front's side seam from its upper end."""
    return frame.front.underarm.to(frame.bust.upper_leg).unit() if frame.bust else DOWN
