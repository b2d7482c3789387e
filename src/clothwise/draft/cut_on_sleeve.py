"""A cut-on sleeve: shoulder, arm line, sleeve end and underarm in one with the body, alike on front and back.

The shoulder line runs on beyond the shoulder point, falling a little more steeply along the arm. A cap is only
this overhang: its opening falls from there into the side, with the more of a hook under the arm the narrower
the body, until on a broad body it is an armhole. A sleeve has an underside as well, which meets the side in a
rounded corner. Neck point, shoulder and sides are given by the body of the garment; y up, centre on x = 0, cm.

    Q  width of the quarter        E  where the arm line ends     v  along the arm, n  across it, downwards
    D  lower end of a cap opening  C  corner of side and underside, before it is rounded
    a  direction of a cap's opening at D, outwards from straight down [degrees]

Source: drafting method 5.3-5.5; the direction at D from the rule that the opening is one arc (house rule,
2026-11, against the double bend of a direction set by the width alone).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from clothwise.curve import (
    UP,
    Cubic,
    Curve,
    NoSolution,
    Point,
    Vector,
    corner,
    heading,
    line,
    solve,
    sweep,
)
from clothwise.draft.bodice import LOW_ARRIVES
from clothwise.draft.hem import EVEN
from clothwise.draft.posture import Held
from clothwise.errors import ChoiceError
from clothwise.tolerance import PARAMETER, SOLVE

STEEPER = {"cap": 6.0, "short": 2.0, "long": 4.0}  # degrees: the arm line falls so much more than the shoulder
LIFTED = 0.6  # of the shoulder's slope: on a broad body the arm line may fall as little, or it hollows visibly
HANGS_LOW = 3.0  # cm: so far below its level the underarm may lie before the arm line is lifted
EASED_BEFORE, EASED_AFTER = 3.0, 4.0  # cm about the shoulder point over which the line bends
EASED_OF_ARM = 0.45  # and at most this share of the shoulder before and of the overhang after it
CAP_OF_HEIGHT = 0.04  # of height: a cap covers the round of the shoulder
HOOK = 0.12  # of the quarter: radius of the hook under a cap. Wider, it folds under the arm
UNDER_DEG = 10.0  # degrees: on the narrowest body a cap's opening runs so far inwards at D
TURNS = 40  # rounds in which the direction under a cap settles; each leaves a third of the error or less
LEANS_OUT = 0.012  # of the bust girth: the underside lies so much lower than the arm is thick, or it pulls
CORNER_OF_QUARTER = 0.37  # the underarm corner begins so far before C on either line: 9 cm on a quarter of 24,
CORNER_OF_UNDERSIDE = 0.7  # at most so much of the underside
CORNER_OF_SIDE = 0.45  # and of the side between C and the waist
MOST_TAPER = 0.16  # cm a cm of underside: steeper, the sleeve's hem bends too much to be turned
UNDERSIDE = 0.11  # of the arm: the shortest underside between corner and sleeve end
LOWEST = 0.16  # of the back waist length above the waist: the lowest corner that still lets the arm be raised
ABOVE_LEVEL = 1.5  # cm: highest that the corner may lie above the armhole level


@dataclass(frozen=True, slots=True)
class Frame:
    """What the body of the garment gives. slope in degrees; level, waist_free: heights above the waist. [cm]

    level      height of the underarm by the body; lowest: the lowest that is let pass
    opening    half girth that a cap's opening needs at least; under: half width under the arm of a sleeve
    overhang   length of the arm line beyond the shoulder point; end: half width at the sleeve's end, more on a
               short underside
    falls      so much steeper than at the neck the shoulder runs to its point, which lies low [degrees]
    straight   the side runs straight up to there at least
    """

    neck: Point
    slope: float
    shoulder: float
    quarter: float
    level: float
    lowest: float
    opening: float
    under: float
    overhang: float
    end: float
    least_underside: float
    falls: float = 0.0
    straight: float = -math.inf


@dataclass(frozen=True, slots=True)
class CutOn:
    """The outline from the side up under the arm, up along the sleeve's end, and back over the shoulder.

    straight_to  height up to which the side runs straight up, the corner or hook begins there [cm]
    lowered      the underarm lies so much lower than the body asks; lengthened: the sleeve so much longer [cm]
    steep        slope of the arm line [degrees]; overhang: its length [cm]
    """

    under: Curve
    end: Curve
    over: Curve
    straight_to: float
    lowered: float
    lengthened: float
    steep: float
    overhang: float


def cut_on(frame: Frame, sleeve: str) -> CutOn:
    """Draw it. ChoiceError when the sleeve does not fit so broad a body."""
    steep = frame.slope + STEEPER[sleeve]
    if sleeve == "cap":
        return _cap(frame, steep)
    return _sleeve(frame, _lifted(frame, steep))


def lowered(frame: Frame, cut: CutOn, sleeve: str, falls: float, straight: float) -> tuple[Frame, CutOn]:
    """It with a shoulder that falls so much more [degrees]: arm and underarm go down with its end, the arm line
    falling as it did. The side stays straight up to a height, and as it was below."""
    low = replace(frame, falls=falls, straight=straight)
    low = replace(low, level=frame.level - shoulder_point(frame).y + shoulder_point(low).y)
    return low, _cap(low, cut.steep) if sleeve == "cap" else _sleeve(low, cut.steep)


def shoulder_point(frame: Frame) -> Point:
    """Where the shoulder ends and the arm line bends."""
    return frame.neck.go(heading(-frame.slope - frame.falls), frame.shoulder)


def _over(frame: Frame, steep: float, overhang: float) -> Curve:
    """From the end of the arm line back over the shoulder to the neck point."""
    at, arm = shoulder_point(frame), heading(-steep)
    chord, along = heading(-frame.slope - frame.falls), heading(-frame.slope - LOW_ARRIVES * frame.falls)
    start = at.go(arm, min(EASED_AFTER, EASED_OF_ARM * overhang))
    end = at.go(chord, -min(EASED_BEFORE, EASED_OF_ARM * frame.shoulder))
    bend = corner(start, arm.back(), end, along.back())
    if frame.falls:  # the two directions may then be all but one, and meet nowhere near
        bend = sweep(start, arm.back(), end, along.back())
    last = line(end, frame.neck)
    if frame.falls:
        last = sweep(end, along.back(), frame.neck, heading(-frame.slope).back())
    return line(at.go(arm, overhang), start).then(bend, last)


def held(frame: Frame, cut: CutOn, half: Held, *, tapered: bool) -> CutOn:
    """One half of it as it is held: the seam over shoulder and arm lies elsewhere, the underarm stays.

    tapered  a long sleeve: what the back is higher ends at the wrist
    """
    if not half.higher and not half.steeper_deg:
        return cut
    own = replace(frame, neck=frame.neck.up(half.higher), slope=frame.slope + half.steeper_deg)
    steep = cut.steep
    if tapered:
        steep += math.degrees(math.asin(half.higher / cut.overhang))
    over = _over(own, steep, cut.overhang)
    over = _over(own, steep, cut.overhang + cut.over.length() - over.length())  # as long as the other half's
    (old,) = cut.end.strokes
    assert isinstance(old, Cubic)
    longer = old.start.distance(over.start) / old.start.distance(old.end)
    first, second = old.start.distance(old.first) * longer, old.second.distance(old.end) * longer
    end = Cubic(
        old.start,
        old.start.go(cut.end.start_tangent, first),
        over.start.go(heading(90 - steep), -second),
        over.start,
    )
    return replace(cut, end=Curve((end,)), over=over)


# ---- the cap -------------------------------------------------------------------------------------


def _cap(frame: Frame, steep: float) -> CutOn:
    tip = shoulder_point(frame).go(heading(-steep), frame.overhang)

    def opening(level: float) -> float:
        return _opening(frame, steep, tip, level)[0].length()

    level = frame.level
    if opening(level) < frame.opening:
        try:
            level = solve(opening, frame.opening, frame.level, frame.lowest, tolerance=SOLVE)
        except NoSolution:
            raise _refusal("cap", "The arm does not pass a cap's opening above the waist.") from None
    end, way = _opening(frame, steep, tip, level)
    under, straight_to = _hook(frame, end.start, way)
    over = _over(frame, steep, frame.overhang)
    return CutOn(under, end, over, straight_to, frame.level - level, 0.0, steep, frame.overhang)


def _opening(frame: Frame, steep: float, tip: Point, level: float) -> tuple[Curve, float]:
    """The opening from D up to the tip of the cap, and the direction a at D. [degrees]

    It leaves the arm line square. Leaving and arriving at the same angle to its chord it is one arc.
    """
    height, away = tip.y - level, frame.quarter - tip.x
    a = 0.0
    for _ in range(TURNS):
        reach = away + HOOK * frame.quarter * (1 - math.sin(math.radians(a)))
        turned = min(max(2 * math.degrees(math.atan2(reach, height)) + steep, -UNDER_DEG), 90.0)
        settled, a = abs(turned - a) <= PARAMETER, turned
        if settled:
            break
    low = Point(frame.quarter + HOOK * frame.quarter * (1 - math.sin(math.radians(a))), level)
    handle = _arc_handle(a + steep)
    return sweep(low, heading(90 + a), tip, heading(90 - steep), handle, handle), a


def _arc_handle(turn: float) -> float:
    """Share of the chord that both handles of a circle's arc take which turns by so much. [degrees]"""
    quarter = math.radians(turn) / 4
    return 2 / 3 * math.tan(quarter) / math.sin(2 * quarter) if quarter > PARAMETER else EVEN


def _hook(frame: Frame, low: Point, a: float) -> tuple[Curve, float]:
    """From the straight side round to D, square to the opening; a quarter of a circle when a is 0."""
    way = heading(a)
    run = (low.x - frame.quarter) / max(math.cos(math.radians(a)), PARAMETER)
    turn = low.go(way, -run)
    start = Point(frame.quarter, turn.y - run)
    if run <= SOLVE:  # an armhole: the side runs straight up into it
        start = low.down(HOOK * frame.quarter)
        return line(start, low), start.y
    return corner(start, UP, low, way), start.y


# ---- the sleeve ----------------------------------------------------------------------------------


def _lifted(frame: Frame, steep: float) -> float:
    """The slope of the arm line, less on a broad body, so that the underarm comes up to its level. [degrees]"""
    least = LIFTED * frame.slope

    def height(angle: float) -> float:
        return _under_corner(frame, angle)[1].y

    if height(steep) >= frame.level - HANGS_LOW:
        return steep
    if height(least) <= frame.level - HANGS_LOW:
        return least
    return solve(height, frame.level - HANGS_LOW, least, steep, tolerance=SOLVE)


def _under_corner(frame: Frame, steep: float) -> tuple[float, Point]:
    """Half width of the sleeve under the arm, and the corner C where it meets the side."""
    at, along = shoulder_point(frame), heading(-steep)
    across = along.right()
    under = max(frame.under, _width_at(frame, at, along, across, frame.level + ABOVE_LEVEL))
    return under, _corner(frame, at, along, across, under)


def _sleeve(frame: Frame, steep: float) -> CutOn:
    at, along = shoulder_point(frame), heading(-steep)
    across = along.right()
    under, inner = _under_corner(frame, steep)
    if inner.y < frame.lowest:
        raise _refusal(
            "short",
            f"The underarm of a cut-on sleeve would lie {inner.y:.1f} cm above the waist: the body is "
            "broad for its shoulders and the arm could not be raised.",
        )
    from_shoulder = at.to(inner).dot(along)
    overhang = max(frame.overhang, from_shoulder + frame.least_underside)
    narrower = under - MOST_TAPER * (overhang - from_shoulder)
    low = at.go(along, overhang).go(across, min(max(frame.end, narrower), under))
    round_by = min(
        CORNER_OF_QUARTER * frame.quarter,
        CORNER_OF_UNDERSIDE * inner.distance(low),
        CORNER_OF_SIDE * inner.y,
        inner.y - frame.straight,
    )
    way = inner.to(low).unit()
    start, out = inner.down(round_by), inner.go(way, round_by)
    over = _over(frame, steep, overhang)
    return CutOn(
        under=corner(start, UP, out, way).then(line(out, low)),
        end=sweep(low, way.left(), over.start, across.back(), EVEN, EVEN),
        over=over,
        straight_to=start.y,
        lowered=max(frame.level - inner.y, 0.0),
        lengthened=overhang - frame.overhang,
        steep=steep,
        overhang=overhang,
    )


def _corner(frame: Frame, at: Point, along: Vector, across: Vector, under: float) -> Point:
    """Where a line along the arm, `under` below it, meets the side."""
    start = at.go(across, under)
    return start.go(along, (frame.quarter - start.x) / along.x)


def _width_at(frame: Frame, at: Point, along: Vector, across: Vector, height: float) -> float:
    """How far below the arm line the side is at that height."""
    return at.to(Point(frame.quarter, height)).dot(across)


def _refusal(sleeve: str, what: str) -> ChoiceError:
    other = "" if sleeve == "cap" else "a cap sleeve, "
    return ChoiceError(
        what,
        where=f"choice 'sleeve', '{sleeve}'",
        mend=f"Choose {other}a closer fit, or a pattern with a set-in sleeve.",
    )
