"""A-line skirt: fits waist and hip, flares from the hip; darts, a zip in the centre back, a band or a facing.

Below the hip each quarter is a slice of a cone, as in the other skirts: the centre is straight and upright,
the side leans out. Above the hip the side seam bows in and darts take up the rest of what the cone is too wide
at the waist (`fitted_top`).

Source: drafting method, skirts; rules of the trade I1 (ease), I4 (dip of the centre back .5-1), G (hem); house
rule, 2026-11, where nothing is said. Not sewn yet.
"""

from __future__ import annotations

import math
from dataclasses import replace

from clothwise.body import Body
from clothwise.curve import RIGHT, NoSolution, Point, Vector, line, sweep
from clothwise.draft import (
    hem,
    level,
    rise,
    side_slit,
    skirt_length,
    skirt_panels,
    skirt_waist,
    waistband,
    zip_opening,
)
from clothwise.draft.cone import Slice
from clothwise.draft.darted_waist import Shaped
from clothwise.draft.fitted_top import Frame, Side, shares, top_of
from clothwise.draft.pattern import Choice, HouseDraft, Wish
from clothwise.draft.skirt_garment import skirt
from clothwise.draft.skirt_panels import GRAIN_FREE, IN_SEAM, PATCH, Panel, Plan
from clothwise.draft.waist_facing import WIDTH as FACING_WIDTH
from clothwise.draft.waist_facing import Half
from clothwise.errors import ChoiceError
from clothwise.garment import Garment, Mark, Note
from clothwise.tolerance import SOLVE

NAME = "a_line_skirt"
HIP_EASE = 5.0  # cm in the round (rule: 5, six pages of nine)
FLARE = 5.0  # cm each quarter is wider at the knee than at the hip: the step is free, no folds fall
CHILD_FLARE = 3.0  # cm: the way from hip to knee is short
MOST_ANGLE = 0.42  # radians, of a quarter: more is a quarter of a circle and falls in folds
HEM = 3.5  # cm (rule: A-line 3.8)
BACK_DIP = 0.5  # cm: the centre back waist lies lower, in the hollow (rule: .5-1)
POCKET_BELOW_TIP = 1.0  # cm: a patch pocket begins under the front dart
GRAIN_AT = 2.5  # cm from the centre
EVEN = 1 / 3  # of the chord: handles that spread a slight bow most evenly
POCKETS_AT = f"pattern '{NAME}', choice 'pockets'"

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
    side_slit.choice(side_slit.LONGEST_OF_DRESS, skirt_length.AT_THE_SIDES),
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
    *rise.CHOICES,
    rise.SIDE_CHOICE,
    waistband.WIDTH_CHOICE,
    hem.depth_choice(f"{HEM:g}"),
)


def draw(body: Body, wish: Wish) -> Garment:
    """The skirt for this body. Raises ChoiceError with one sentence."""
    frame, notes = _frame(body, wish)
    side_raised = rise.side_raised(wish, NAME)
    side, front_shape, back_shape = _top(frame, wish, side_raised)
    front, back = _panel(frame, side, front_shape), _panel(frame, side, back_shape)
    plan = _plan(body, wish, frame, front)
    if plan.patch:
        below = max((dart.first_leg.distance(dart.tip) for dart in front.darts), default=0.0) + POCKET_BELOW_TIP
        front = skirt_panels.with_patch(front, plan.patch, body, plan.hem, POCKETS_AT, below)
    facing = _facing(side, front_shape), _facing(side, back_shape)
    finished = skirt_waist.finish(body, wish, (front,), (back,), plan.zip, facing)
    made = skirt(
        body, wish, (NAME, "A-line skirt"), (front,), (back,), plan, finished,
        hip_ease=frame.hip_girth - body["hip_girth"],
        measures=_measures(frame, front),
        notes=notes,
        hip_notch=front.outer.length() - frame.cone.length + frame.hip_depth - side_raised,
        side_raised=side_raised,
    )  # fmt: skip
    return side_slit.slitted(made, wish, body["waist_to_hip"] + side_slit.BELOW_HIP)


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
            notes = skirt_length.wider_notes(4 * more)
    quarter = max(hip / 4 - angle * depth, girth / 4)
    frame = Frame(Slice(0.0, quarter, length, angle / quarter), girth, depth)
    more = frame.hip_girth - hip
    if more > SOLVE:
        text = f"From so wide a waist the skirt falls {more:.1f} cm wider at the hip than asked."
        notes = (Note(text, measure="hip_girth", by=more), *notes)
    slit, told = skirt_length.slit_behind(body, wish, length, frame.hem_girth)
    side, front, back = shares(2 * quarter - girth / 2)
    return replace(frame, side=side, front=front, back=back, slit=slit), (*notes, *told)


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


def _top(frame: Frame, wish: Wish, side_raised: float) -> tuple[Side, Shaped, Shaped]:
    """Side seam and waists. ChoiceError where so shaped a waist is too long, its darts sewn to nothing."""
    front, back = float(wish["front_waist"]), float(wish["back_waist"]) - BACK_DIP
    try:
        return top_of(frame, front, back, side_raised)
    except NoSolution as no:
        raise ChoiceError(
            "So shaped, the waist of this skirt would be longer than the body's.",
            where=f"pattern '{NAME}', choices 'front_waist', 'back_waist', 'side_waist'",
            mend="Raise or lower it less.",
        ) from no


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


def _measures(frame: Frame, front: Panel) -> dict[str, float]:
    """Finished measures in the trade's words. [cm]"""
    found = {"hip": frame.hip_girth, "hem": frame.hem_girth, "length": front.inner.length()}
    return {**found, "slit": frame.slit} if frame.slit else found


A_LINE_SKIRT = HouseDraft(
    name=NAME,
    title="A-line skirt",
    what="Fits waist and hip with darts, flares from the hip; a zip behind, a band or a facing at the waist.",
    choices=CHOICES,
    needs=skirt_length.NEEDS,
    least_age=4.0,
    draw=draw,
    shortened_by="longer",
    length_shown="length",
)
