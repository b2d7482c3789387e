"""A-line skirt: fits waist and hip, flares from the hip; darts, a zip in the centre back, a band or a facing.

Below the hip each quarter is a slice of a cone, as in the other skirts: the centre is straight and upright,
the side leans out. Above the hip the side seam bows in and darts take up the rest of what the cone is too wide
at the waist. The side seam is drawn once for front and back, so both are alike by construction; the waist is
drawn with its darts sewn shut and opened (`darted_waist`), their width solved so that it meets the side.

    Q  waist of a quarter of the cone   W  waist edge of the skirt     d  waist to hip
    L  length from waist to hem         phi  angle of a quarter of the cone [radians]

Source: drafting method, skirts (A-line: side .38 of a quarter, 40 % of the rest in front); rules of the trade
I4 (front dart <= 2.5, back <= 3, side <= 3-4, back darts longer, dip of the centre back .5-1); house rule,
2026-11, where nothing is said. Not sewn yet.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from clothwise.body import Body
from clothwise.curve import RIGHT, Curve, Point, Vector, line, sweep
from clothwise.draft import (
    hem,
    level,
    skirt_length,
    skirt_panels,
    skirt_seams,
    skirt_waist,
    waistband,
    zip_opening,
)
from clothwise.draft.cone import Slice
from clothwise.draft.darted_waist import Shaped, Wedge, shaped, undarted
from clothwise.draft.equal import trued
from clothwise.draft.pattern import Choice, HouseDraft, Wish
from clothwise.draft.skirt_panels import GRAIN_FREE, IN_SEAM, PATCH, Panel, Plan
from clothwise.draft.waist_facing import WIDTH as FACING_WIDTH
from clothwise.draft.waist_facing import Half
from clothwise.errors import ChoiceError
from clothwise.garment import Garment, Level, Mark, Note
from clothwise.tolerance import SOLVE

NAME = "a_line_skirt"
HIP_EASE = 5.0  # cm in the round (rule: 5, six pages of nine)
FLARE = 5.0  # cm each quarter is wider at the knee than at the hip: the step is free, no folds fall
CHILD_FLARE = 3.0  # cm: the way from hip to knee is short
MOST_ANGLE = 0.42  # radians, of a quarter: more is a quarter of a circle and falls in folds
HEM = 3.5  # cm (rule: A-line 3.8)
SIDE_SHARE = 0.38  # of the surplus of a quarter leaves at its side seam
SIDE_ALONE = 1.2  # cm: up to this the side takes all, no dart is worth sewing
SIDE_MOST = 3.0  # cm (rule: 3-4): a rounder side seam stands off at the hip
LEAST_DART = 0.8  # cm: a narrower dart is left to the side
FRONT_SHARE = 0.40  # of what darts take: the belly is rounder than the seat is hollow
FRONT_MOST, BACK_MOST = 2.5, 3.0  # cm (rule): what is wider becomes two or three darts
MOST_DARTS = 3  # each quarter
FRONT_LENGTH, BACK_LENGTH = 0.45, 0.62  # of waist to hip: 9 and 12.5 cm, back longer (rule)
SHORTER_OUTWARDS = 0.12  # of its length each dart is shorter than the one before it: the hip comes higher there
DARTS_AT: dict[int, tuple[float, ...]] = {
    0: (),
    1: (0.46,),
    2: (0.36, 0.66),
    3: (0.28, 0.52, 0.76),
}  # shares of the sewn waist from the centre
BOW_IN = 1.5  # the side seam's lean at the waist over its mean lean: round at the hip, straight at the top
BACK_DIP = 0.5  # cm: the centre back waist lies lower, in the hollow (rule: .5-1)
POCKET_BELOW_TIP = 1.0  # cm: a patch pocket begins under the front dart
ROUNDS = 6  # in which the waist's height at the side settles (3)
RAISED_ROUNDS = 2  # in which a raised centre settles to less than a millimetre
GRAIN_AT = 2.5  # cm from the centre
EVEN = 1 / 3  # of the chord: handles that spread a slight bow most evenly
POCKETS_AT = f"pattern '{NAME}', choice 'pockets'"

Darts = Callable[[float], tuple[Wedge, ...]]

CHOICES = (
    skirt_length.LENGTH_CHOICE,
    skirt_length.LONGER_CHOICE,
    skirt_waist.finish_choice(skirt_waist.BAND, skirt_waist.FACING),
    Choice(
        "flare",
        f"How much wider each quarter is at the knee than at the hip; if left open {FLARE:g}, for a child "
        f"{CHILD_FLARE:g}.",
        unit="cm",
        low=0.0,
        high=14.0,
        changes="side seams lean, hem and waist curve, darts get smaller",
    ),
    skirt_length.walking_room_choice(skirt_length.MORE_FLARE),
    skirt_panels.pocket_choice(PATCH, IN_SEAM),
    Choice(
        "hip_ease",
        "Room at the hip, in the round.",
        unit="cm",
        low=4.0,
        high=16.0,
        default=HIP_EASE,
        changes="width of all panels",
    ),
    skirt_waist.EASE_CHOICE,
    *skirt_panels.WAIST_SHAPE_CHOICES,
    waistband.WIDTH_CHOICE,
    hem.depth_choice(f"{HEM:g}"),
)


@dataclass(frozen=True, slots=True)
class Frame:
    """What body and choices fix: a quarter of the cone, W, d, the slit, what side and darts take. [cm]"""

    cone: Slice
    waist: float
    hip_depth: float
    side: float = 0.0
    front: float = 0.0
    back: float = 0.0
    slit: float = 0.0

    @property
    def hip_girth(self) -> float:
        return 4 * self.cone.width(self.hip_depth)

    @property
    def hem_girth(self) -> float:
        return 4 * self.cone.width(self.cone.length)


@dataclass(frozen=True, slots=True)
class Side:
    """The side seam above the hip, running up from it; slope: of the waist where it arrives. [radians]"""

    curve: Curve
    slope: float

    @property
    def top(self) -> Point:
        return self.curve.end


def draw(body: Body, wish: Wish) -> Garment:
    """The skirt for this body. Raises ChoiceError with one sentence."""
    frame, notes = _frame(body, wish)
    side, front_shape, back_shape = _top(
        frame, float(wish["front_waist"]), float(wish["back_waist"]) - BACK_DIP
    )
    front, back = _panel(frame, side, front_shape), _panel(frame, side, back_shape)
    plan = _plan(body, wish, frame, front)
    if plan.patch:
        below = max((dart.first_leg.distance(dart.tip) for dart in front.darts), default=0.0) + POCKET_BELOW_TIP
        front = skirt_panels.with_patch(front, plan.patch, body, plan.hem, POCKETS_AT, below)
    facing = _facing(side, front_shape), _facing(side, back_shape)
    finished = skirt_waist.finish(body, wish, (front,), (back,), plan.zip, facing)
    ease = frame.hip_girth - body["hip_girth"]
    garment = Garment(
        name=NAME,
        title="A-line skirt",
        pieces=(*skirt_panels.pieces((front,), (back,), plan), *finished.pieces),
        seams=(*skirt_seams.seams(1, 1, plan), *finished.seams),
        free_edges=(*finished.free_edges, *skirt_seams.free_edges(1, 1, plan)),
        joints=(*skirt_seams.joints((front,), (back,), plan), *finished.joints),
        levels=(
            *finished.levels,
            Level("hip", "Hip", skirt_seams.girth_runs(1, 1, "hip"), body["hip_girth"], ease),
        ),
        passages=(finished.passage,),
        notions=finished.notions,
        notes=(*notes, *finished.notes),
        choices=wish,
        finished=_finished(frame, front, dict(finished.measures)),
        for_child=body.child,
        body_name=body.name,
    )
    return skirt_seams.with_notches(garment, plan, front.outer.length() - frame.cone.length + frame.hip_depth)


# ---- the frame -----------------------------------------------------------------------------------


def _frame(body: Body, wish: Wish) -> tuple[Frame, tuple[Note, ...]]:
    length, depth = skirt_length.skirt_length(NAME, body, wish), body["waist_to_hip"]
    girth, hip = skirt_waist.edge_girth(body, wish), body["hip_girth"] + float(wish["hip_ease"])
    angle = _angle(body, wish)
    notes: tuple[Note, ...] = ()
    if skirt_length.wants_flare(body, wish, skirt_length.MORE_FLARE):
        more = (skirt_length.stride(body, length) - hip) / 4 - angle * (length - depth)
        if more > SOLVE:
            angle += more / (length - depth)
            notes = (skirt_length.wider_note(4 * more),)
    quarter = max(hip / 4 - angle * depth, girth / 4)
    frame = Frame(Slice(0.0, quarter, length, angle / quarter), girth, depth)
    more = frame.hip_girth - hip
    if more > SOLVE:
        text = f"From so wide a waist the skirt falls {more:.1f} cm wider at the hip than asked."
        notes = (Note(text, measure="hip_girth", by=more), *notes)
    slit = skirt_length.slit_for(body, length, frame.hem_girth)
    if slit:
        notes = (*notes, skirt_length.slit_note(slit, frame.hem_girth))
    side, front, back = _shares(2 * quarter - girth / 2)
    return replace(frame, side=side, front=front, back=back, slit=slit), notes


def _angle(body: Body, wish: Wish) -> float:
    """Of a quarter of the cone. ChoiceError when it would fall in folds. [radians]"""
    to_knee = level.knee(body) - body["waist_to_hip"]
    flare = float(wish.get("flare", CHILD_FLARE if body.child else FLARE))
    if flare > MOST_ANGLE * to_knee:
        raise ChoiceError(
            f"With {flare:g} cm of flare each quarter it would fall in folds and be no A-line.",
            where=f"pattern '{NAME}', choice 'flare'",
            mend=f"For this body up to {math.floor(10 * MOST_ANGLE * to_knee) / 10:g} cm is possible, "
            "or choose a circle skirt.",
        )
    return flare / to_knee


def _shares(surplus: float) -> tuple[float, float, float]:
    """Of what half the skirt is too wide at the waist: each side edge, the front's darts, the back's. [cm]"""
    side = min(max(SIDE_SHARE * surplus / 2, min(surplus / 2, SIDE_ALONE)), SIDE_MOST)
    darts = surplus - 2 * side
    if darts < LEAST_DART:
        return surplus / 2, 0.0, 0.0
    front = FRONT_SHARE * darts
    return (side, front, darts - front) if front >= LEAST_DART else (side, 0.0, darts)


def _darts(frame: Frame) -> tuple[Darts, Darts]:
    """The darts of front and back, each given by how much wider than planned they are together. [cm]"""
    return (
        _wedges(frame.front, FRONT_MOST, FRONT_LENGTH * frame.hip_depth),
        _wedges(frame.back, BACK_MOST, BACK_LENGTH * frame.hip_depth),
    )


def _wedges(total: float, most: float, length: float) -> Darts:
    n = min(math.ceil(total / most), MOST_DARTS)

    def darts(wider: float) -> tuple[Wedge, ...]:
        return tuple(
            Wedge(at, (total + wider) / n, length * (1 - i * SHORTER_OUTWARDS))
            for i, at in enumerate(DARTS_AT[n])
        )

    return darts


# ---- above the hip -------------------------------------------------------------------------------


def _top(frame: Frame, front_raised: float, back_raised: float) -> tuple[Side, Shaped, Shaped]:
    """The side seam above the hip and both waists, sewn together as long as the waist edge.

    The top of the side seam is lifted until the centre front, if not raised, lies level with the natural waist.
    """
    front_darts, back_darts = _darts(frame)
    front_length = frame.cone.outer - frame.side - frame.front
    lift = 0.0
    for _ in range(ROUNDS):
        side = _side(frame, frame.side + _more(frame, lift, front_raised, back_raised), lift)
        high = side.top.y - _waist(side, front_length, front_darts, 0.0).end.y
        if abs(high) <= SOLVE:
            break
        lift -= high
    front = _raised(lambda raised: _waist(side, front_length, front_darts, raised), front_raised)
    back_length = frame.waist / 2 - front.length
    back = _raised(lambda raised: _waist(side, back_length, back_darts, raised), back_raised)
    return side, front, back


def _more(frame: Frame, lift: float, front_raised: float, back_raised: float) -> float:
    """How much more than planned the side takes: without any dart it alone makes the waist fit. [cm]"""
    if frame.back:
        return 0.0

    def around(more: float) -> float:
        side = _side(frame, frame.side + more, lift)
        return sum(undarted(side.top.x, side.slope, raised).length for raised in (front_raised, back_raised))

    return trued(around, frame.waist / 2, -2.0, SIDE_MOST)


def _raised(waist: Callable[[float], Shaped], wanted: float) -> Shaped:
    """The waist whose centre lies so much higher above its side: what the opened darts make of it is evened."""
    shape = waist(wanted)
    if not wanted or not shape.darts:
        return shape
    level_end, raised = waist(0.0).end.y, wanted
    for _ in range(RAISED_ROUNDS):
        raised *= wanted / (level_end - shape.end.y)
        shape = waist(raised)
    return shape


def _waist(side: Side, length: float, darts: Darts, raised: float) -> Shaped:
    """A waist of that length, its darts made so wide that it ends at the side seam; without darts it is as long
    as the side seam leaves it."""
    if not darts(0.0):
        return undarted(side.top.x, side.slope, raised)

    def reach(wider: float) -> float:
        return shaped(length, side.slope, darts(wider), raised).end.x

    wider = trued(reach, side.top.x, 1.0, sum(wedge.width for wedge in darts(0.0)))
    return shaped(length, side.slope, darts(wider), raised)


def _side(frame: Frame, take: float, lift: float) -> Side:
    """From the hip up: it leaves along the cone and bows in by `take` at the top."""
    cone, depth = frame.cone, frame.hip_depth
    hip, top = cone.at(cone.outer, depth), cone.at(cone.outer, 0.0)
    up = hip.to(top).unit()
    lean = BOW_IN * take / (depth + lift)
    end = top.go(up, lift).go(up.left(), take)
    return Side(sweep(hip, up, end, up.turned(math.degrees(lean)), EVEN, EVEN), cone.angle + lean)


# ---- panels --------------------------------------------------------------------------------------


def _panel(frame: Frame, side: Side, waist: Shaped) -> Panel:
    """Front or back, the centre on the left."""
    cone, depth = frame.cone, frame.hip_depth
    way = waist.end.to(side.top)
    centre = Point(0.0, way.y)
    move = Vector(-centre.x, way.y)
    top, low = -GRAIN_FREE * cone.length, -(1 - GRAIN_FREE) * cone.length
    return Panel(
        inner=line(centre, cone.at(0.0, cone.length)),
        outer=side.curve.reversed().then(cone.down(cone.outer, depth, cone.length)),
        waist=tuple(part.moved(move) for part in waist.parts),
        hem=cone.across(cone.length),
        grain=(Point(GRAIN_AT, low), Point(GRAIN_AT, top)),
        marks=(
            Mark("hip", "level", cone.across(depth)),
            Mark("adjust_length", "adjust", cone.across((depth + cone.length) / 2)),
        ),
        darts=tuple(
            replace(
                dart,
                tip=dart.tip.go(move),
                first_leg=dart.first_leg.go(move),
                second_leg=dart.second_leg.go(move),
            )
            for dart in waist.darts
        ),
    )


def _facing(side: Side, waist: Shaped) -> Half:
    """The top of a panel with its darts closed."""
    seam = side.curve.reversed().part(0.0, FACING_WIDTH)
    turned = waist.closed.end_tangent.angle_deg - math.degrees(side.slope)
    seam = seam.rotated(side.top, turned).moved(side.top.to(waist.closed.end))
    low = Point(0.0, -FACING_WIDTH)
    return Half(
        centre=line(Point(0.0, 0.0), low),
        side=seam,
        waist=waist.closed,
        lower=sweep(low, RIGHT, seam.end, seam.end_tangent.left(), EVEN, EVEN),
    )


def _plan(body: Body, wish: Wish, frame: Frame, front: Panel) -> Plan:
    usual = hem.deepened_for_growth(HEM, body.child)
    turn = hem.hem_depth(usual, float(wish["hem"]) if "hem" in wish else None, front.hem)
    room = frame.cone.length - frame.slit
    bag = None
    if wish["pockets"] == IN_SEAM:
        bag = skirt_panels.bag_for(
            body, front.outer.length(), frame.cone.width(frame.hip_depth), turn, POCKETS_AT
        )
    return Plan(
        hem=turn,
        waist=waistband.SEAM,
        fold_front=True,
        zip=zip_opening.zip_length(body, frame.waist, room, f"pattern '{NAME}', choice 'waist'"),
        slit=frame.slit,
        bag=bag,
        patch=skirt_panels.patch_for(body, frame.cone.width(frame.hip_depth))
        if wish["pockets"] == PATCH
        else None,
    )


def _finished(frame: Frame, front: Panel, waist: dict[str, float]) -> dict[str, float]:
    """Finished measures in the trade's words. [cm]"""
    finished = {
        **waist,
        "hip": frame.hip_girth,
        "hem": frame.hem_girth,
        "length": front.inner.length(),
    }
    return {**finished, "slit": frame.slit} if frame.slit else finished


A_LINE_SKIRT = HouseDraft(
    name=NAME,
    title="A-line skirt",
    what="Fits waist and hip with darts, flares from the hip; a zip behind, a band or a facing at the waist.",
    choices=CHOICES,
    needs=skirt_length.NEEDS,
    least_age=4.0,
    draw=draw,
    shortened_by="longer",
)
