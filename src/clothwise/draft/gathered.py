"""Gathered skirt: straight panels, drawn up by elastic at the waist or gathered to a band.

A quarter of the skirt is a rectangle, or several side by side where the cloth is too narrow; hem and seams are
straight. The waist is a casing folded down from the panels themselves, or a band with a zip at the centre back,
or a band over a front that is open to the hem and buttoned.

    G  width of the cloth in the round   L  length from waist to hem

Source: rules of the trade D (gathers 1.5 : 1 to 3 : 1, 2 standard; what passes the hips); house rule, 2026-11.
Not sewn yet.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise

from clothwise.body import Body
from clothwise.curve import Point, line
from clothwise.draft import (
    hem,
    rise,
    skirt_length,
    skirt_panels,
    skirt_waist,
    waist,
    waistband,
    zip_opening,
)
from clothwise.draft.cone import Slice
from clothwise.draft.pattern import Choice, HouseDraft, Wish
from clothwise.draft.rise import Rise
from clothwise.draft.skirt_garment import skirt
from clothwise.draft.skirt_panels import IN_SEAM, OVERLAP, PATCH, STAND_FOLD_IN, Panel, Plan
from clothwise.draft.skirt_waist import BAND, BUTTONS, ELASTIC, Finish
from clothwise.errors import ChoiceError
from clothwise.garment import Garment, Mark, Note
from clothwise.tolerance import SOLVE

NAME = "gathered_skirt"
FULLNESS = 2.0  # times the waist (rule: 1.5-3, 2 standard)
HIP_EASE = 8.0  # cm in the round at least: below that the gathers are pulled flat over the seat
HEM = 4.0  # cm: a straight hem takes a deep one, and its weight draws the gathers down
STAND = OVERLAP + STAND_FOLD_IN  # cm turned back at a buttoned front
GRAIN_AT = 0.08  # of a panel's width, from its centre fold
BUTTON_BELOW = 6.0  # cm from the band to the first button
BUTTON_EVERY = 9.0  # cm between buttons, about
BUTTON_ABOVE_HEM = 10.0  # cm: the last leaves the hem free to step
POCKETS_AT = f"pattern '{NAME}', choice 'pockets'"

CHOICES = (
    skirt_length.LENGTH_CHOICE,
    skirt_length.LONGER_CHOICE,
    skirt_waist.finish_choice(ELASTIC, BAND, BUTTONS, main=True),
    Choice(
        "fullness",
        "How many times as wide as the waist the cloth is: 1.5 for stiff or heavy cloth, 2 for ordinary, 2.5 "
        "to 3 for sheer.",
        unit="times",
        low=1.3,
        high=3.0,
        default=FULLNESS,
        changes="width and number of panels",
    ),
    skirt_panels.pocket_choice(PATCH, IN_SEAM),
    skirt_panels.CLOTH_WIDTH_CHOICE,
    skirt_waist.EASE_CHOICE,
    *rise.CHOICES,
    rise.SIDE_CHOICE,
    waistband.WIDTH_CHOICE,
    waist.WIDTH_CHOICE,
    hem.depth_choice(f"{HEM:g}"),
)


@dataclass(frozen=True, slots=True)
class Frame:
    """What body and choices fix: G, L, the hip's depth, how far the front goes past the centre. [cm]"""

    around: float
    length: float
    hip_depth: float
    past_centre: float


def draw(body: Body, wish: Wish) -> Garment:
    """The skirt for this body. Raises ChoiceError with one sentence."""
    frame, notes = _frame(body, wish)
    quarter = Slice(0.0, frame.around / 4, frame.length)
    past = frame.past_centre + STAND if frame.past_centre else zip_opening.SEAM
    count, fold = skirt_panels.layout(quarter, float(wish["cloth_width"]), past)
    front, back = _panels(frame, count, wish)
    plan = _plan(body, wish, frame, count, fold)
    if plan.stand:
        front = (_with_buttons(front[0], plan), *front[1:])
    if plan.patch:
        front = (*front[:-1], skirt_panels.with_patch(front[-1], plan.patch, body, plan.hem, POCKETS_AT))
    finished = _finish(body, wish, front, back, plan)
    return skirt(
        body, wish, (NAME, "Gathered skirt"), front, back, plan, finished,
        hip_ease=waist.OVER_HIPS,
        hip_at_least=True,
        measures={"hem": frame.around + 2 * frame.past_centre, "length": front[0].inner.length()},
        notes=notes,
        hip_notch=frame.hip_depth,
        side_raised=float(wish["side_waist"]),
    )  # fmt: skip


def _frame(body: Body, wish: Wish) -> tuple[Frame, tuple[Note, ...]]:
    length = skirt_length.skirt_length(NAME, body, wish)
    asked = float(wish["fullness"]) * body["waist_girth"]
    needed = max(waist.edge_needed(body), body["hip_girth"] + HIP_EASE, skirt_length.stride(body, length))
    notes: tuple[Note, ...] = ()
    if needed > asked + SOLVE:
        text = f"To pass the hips and leave room to step the cloth is {needed - asked:.0f} cm wider than asked."
        notes = (Note(text, measure="fullness", by=needed - asked),)
    past = OVERLAP / 2 if wish["waist"] == BUTTONS else 0.0
    return Frame(max(asked, needed), length, body["waist_to_hip"], past), notes


# ---- panels --------------------------------------------------------------------------------------


def _panels(frame: Frame, count: int, wish: Wish) -> tuple[tuple[Panel, ...], tuple[Panel, ...]]:
    """The panels of a front and of a back quarter, from the centre outwards."""
    quarter = frame.around / 4
    raised = float(wish["front_waist"]), float(wish["back_waist"])
    shapes = rise.rises(*raised, quarter, rise.side_raised(wish, NAME))
    halves = []
    for shape, past in zip(shapes, (frame.past_centre, 0.0), strict=True):
        ends = [-past, *(quarter * n / count for n in range(1, count + 1))]
        halves.append(tuple(_panel(frame, shape, left, right) for left, right in pairwise(ends)))
    return halves[0], halves[1]


def _panel(frame: Frame, shape: Rise, left: float, right: float) -> Panel:
    """What lies between two upright seams."""
    at = left + GRAIN_AT * (right - left) if left <= 0 else (left + right) / 2
    piece = Slice(left, right, frame.length)
    return skirt_panels.of_cone(piece, frame.hip_depth, shape, out=left, grain_at=at)


def _with_buttons(panel: Panel, plan: Plan) -> Panel:
    """The front with its buttons and buttonholes down the centre line."""
    top = panel.waist[0].start.y
    places = _button_places(top - panel.hem.start.y - plan.hem)
    hole = waistband.BUTTON + waistband.BUTTONHOLE_LONGER
    marks: list[Mark] = []
    for number, below in enumerate(places, 1):
        at = Point(0.0, top - below)
        stitch = line(at.left(waistband.STITCH / 2), at.right(waistband.STITCH / 2))
        marks.append(Mark(f"button_{number}", "button", stitch))
        marks.append(Mark(f"buttonhole_{number}", "buttonhole", line(at.up(hole / 2), at.down(hole / 2))))
    return replace(panel, marks=(*panel.marks, *marks))


def _button_places(length: float) -> list[float]:
    """How far below the band the buttons of a front of that length sit, evenly spaced. [cm]"""
    last = max(length - BUTTON_ABOVE_HEM, BUTTON_BELOW)
    n = math.ceil((last - BUTTON_BELOW) / BUTTON_EVERY)
    return [BUTTON_BELOW + (last - BUTTON_BELOW) * i / max(n, 1) for i in range(n + 1)]


def _plan(body: Body, wish: Wish, frame: Frame, count: int, fold: bool) -> Plan:
    turn = hem.deepened_for_growth(HEM, body.child)
    turn = float(wish["hem"]) if "hem" in wish else turn
    finish, panel = wish["waist"], frame.around / 4 / count
    zipped = 0.0
    if finish == BAND:
        girth = skirt_waist.edge_girth(body, wish)
        zipped = zip_opening.zip_length(body, girth, frame.length, f"pattern '{NAME}', choice 'waist'")
    bag = None
    if wish["pockets"] == IN_SEAM:
        bag = skirt_panels.bag_for(body, frame.length, panel, turn, POCKETS_AT)
    casing = waist.casing_turn(waist.elastic_width(body, wish))
    return Plan(
        hem=turn,
        waist=casing if finish == ELASTIC else waistband.SEAM,
        waist_kind="casing" if finish == ELASTIC else "seam",
        fold_front=fold and finish != BUTTONS,
        fold_back=fold and finish != BAND,
        zip=zipped,
        stand=STAND if finish == BUTTONS else 0.0,
        bag=bag,
        patch=skirt_panels.patch_for(body, panel) if wish["pockets"] == PATCH else None,
    )


# ---- the waist -----------------------------------------------------------------------------------


def _finish(body: Body, wish: Wish, front: tuple[Panel, ...], back: tuple[Panel, ...], plan: Plan) -> Finish:
    if wish["waist"] == ELASTIC:
        _refuse_waist(front, back, plan.waist)
        return skirt_waist.grown_on(body, wish, front, back)
    cloth = 2 * sum(panel.waist[0].length() for panel in (*front, *back))
    if wish["waist"] == BAND:
        gathered = cloth / skirt_waist.edge_girth(body, wish)
        return skirt_waist.banded(body, wish, front, back, plan.zip, gathered)
    gathered = cloth / (skirt_waist.edge_girth(body, wish) + OVERLAP)
    buttons = sum(mark.kind == "button" for mark in front[0].marks)
    return skirt_waist.buttoned(body, wish, front, back, gathered, buttons)


def _refuse_waist(front: tuple[Panel, ...], back: tuple[Panel, ...], casing: float) -> None:
    if (
        casing * hem.sharpest(*(part for panel in (*front, *back) for part in panel.waist))
        > hem.HEM_BOW + SOLVE
    ):
        raise ChoiceError(
            "So shaped, the waist curves too much for a grown-on casing.",
            where=f"pattern '{NAME}', choices 'front_waist', 'back_waist', 'side_waist'",
            mend="Raise or lower it less, take a narrower elastic, or choose a band.",
        )


GATHERED_SKIRT = HouseDraft(
    name=NAME,
    title="Gathered skirt",
    what="Straight panels gathered to elastic, to a band with a zip, or to a band buttoned down the front.",
    choices=CHOICES,
    needs=skirt_length.NEEDS,
    least_age=2.0,
    draw=draw,
    heaviest=220.0,
    shortened_by="longer",
    length_shown="length",
)
