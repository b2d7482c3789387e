"""Bias skirt: four panels cut on the bias, without darts: the cloth gives over the hip and falls in soft flare.

A cone like the circle skirt, its flare found from waist and hip: it fits the waist, widens straight to the hip
and goes on so to the hem, or more if wished. Front and back have a seam down the middle, so that the grain of
the left half mirrors that of the right and the skirt does not twist. Cut singly, never on the fold. On the bias
the length drops as it hangs, so the panels are cut shorter; it hangs a day before the hem is levelled.

    W  waist edge   d  waist to hip   L  length of the panels   phi  angle of a quarter of the cone [radians]

Source: drafting method, skirts (bias: same cone, grain 45 degrees, cut single, length -2 %); rules of the trade
G (hang 24-72 h, hem by flare); house rule, 2026-11. Not sewn yet.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from clothwise.body import Body
from clothwise.draft import (
    hem,
    level,
    rise,
    skirt_length,
    skirt_panels,
    skirt_waist,
    waist,
    waist_facing,
    waistband,
    zip_opening,
)
from clothwise.draft.cone import Slice
from clothwise.draft.pattern import Choice, HouseDraft, Wish
from clothwise.draft.rise import Rise
from clothwise.draft.skirt_garment import skirt
from clothwise.draft.skirt_panels import SEAM, Panel, Plan
from clothwise.draft.skirt_waist import BAND, ELASTIC, FACING
from clothwise.errors import ChoiceError
from clothwise.garment import Garment, Note
from clothwise.tolerance import CUT_FLATTEN, SOLVE

NAME = "bias_skirt"
HIP_EASE = 4.0  # cm in the round: the bias gives besides
FLARE = 6.0  # cm each quarter is wider at the knee than at the hip, at least: less would cling to the thighs
DROPS = 0.02  # of the length: so much it grows while it hangs
HEM = 1.5  # cm: a deep hem on the bias ripples
LEAST_HEM = 1.0  # cm

CHOICES = (
    skirt_length.LENGTH_CHOICE,
    skirt_length.LONGER_CHOICE,
    skirt_waist.finish_choice(BAND, FACING, ELASTIC, child=ELASTIC),
    Choice(
        "flare",
        "How much wider each quarter is at the knee than at the hip, at least; else as waist and hip ask.",
        unit="cm",
        low=4.0,
        high=24.0,
        changes="seams lean, waist and hem curve",
    ),
    skirt_panels.CLOTH_WIDTH_CHOICE,
    Choice(
        "hip_ease",
        "Room at the hip, in the round.",
        unit="cm",
        low=2.0,
        high=16.0,
        default=HIP_EASE,
        changes="flare of all panels",
    ),
    skirt_waist.EASE_CHOICE,
    *rise.CHOICES,
    waistband.WIDTH_CHOICE,
    waist.WIDTH_CHOICE,
    hem.depth_choice(f"{HEM:g}", least=LEAST_HEM, growth=False),
)


@dataclass(frozen=True, slots=True)
class Frame:
    """What body and choices fix: a quarter of the cone with its middle upright, d. [cm]"""

    quarter: Slice
    hip_depth: float

    @property
    def hip_girth(self) -> float:
        return 4 * self.quarter.width(self.hip_depth)

    @property
    def hem_girth(self) -> float:
        return 4 * self.quarter.width(self.quarter.length)


def draw(body: Body, wish: Wish) -> Garment:
    """The skirt for this body. Raises ChoiceError with one sentence."""
    wish = skirt_waist.settled(body, wish)
    frame, notes = _frame(body, wish)
    shapes = _rises(frame, wish)
    front, back = (skirt_panels.of_cone(frame.quarter, frame.hip_depth, shape) for shape in shapes)
    plan = _plan(body, wish, frame, front)
    for panel in (front, back):
        _refuse_cloth(panel, plan, float(wish["cloth_width"]))
    # the facing is cut on the straight grain, its centre upright, and keeps the waist from growing
    upright = replace(frame.quarter, inner=0.0, outer=frame.quarter.outer - frame.quarter.inner)
    facing = waist_facing.of_cone(upright, shapes)
    finished = skirt_waist.finish(body, wish, (front,), (back,), plan.zip, facing)
    return skirt(
        body, wish, (NAME, "Bias skirt"), (front,), (back,), plan, finished,
        hip_ease=frame.hip_girth - body["hip_girth"],
        measures={"hip": frame.hip_girth, "hem": frame.hem_girth, "length": front.inner.length()},
        notes=notes,
        hip_notch=frame.hip_depth,
    )  # fmt: skip


def _frame(body: Body, wish: Wish) -> tuple[Frame, tuple[Note, ...]]:
    hung = skirt_length.skirt_length(NAME, body, wish)
    length, depth = (1 - DROPS) * hung, body["waist_to_hip"]
    girth = skirt_waist.edge_girth(body, wish)
    to_knee = level.knee(body) - depth
    by_hip = (body["hip_girth"] + float(wish["hip_ease"]) - girth) / 4 / depth
    by_flare = float(wish.get("flare", FLARE)) / to_knee
    by_step = (skirt_length.stride(body, hung) - girth) / 4 / length
    angle = max(by_hip, by_flare, by_step)
    quarter = Slice(-girth / 8, girth / 8, length, 4 * angle / girth)
    text = f"The panels are cut {hung - length:.1f} cm shorter: so much they drop while the skirt hangs."
    notes: tuple[Note, ...] = (Note(text, measure="length", by=length - hung),)
    more = 4 * (angle - by_flare) * to_knee
    if "flare" in wish and more > SOLVE:
        why = "pass from waist to hip" if by_hip >= by_step else "leave room to step"
        notes = (*notes, Note(f"To {why} the hem is {more:.0f} cm wider than asked.", measure="hem", by=more))
    return Frame(quarter, depth), notes


def _plan(body: Body, wish: Wish, frame: Frame, panel: Panel) -> Plan:
    turn = hem.hem_depth(HEM, float(wish["hem"]) if "hem" in wish else None, panel.hem)
    zipped = 0.0
    if wish["waist"] != ELASTIC:
        girth, room = skirt_waist.edge_girth(body, wish), frame.quarter.length
        zipped = zip_opening.zip_length(body, girth, room, f"pattern '{NAME}', choice 'waist'")
    return Plan(hem=turn, waist=waistband.SEAM, zip=zipped, bias=True)


def _rises(frame: Frame, wish: Wish) -> tuple[Rise, Rise]:
    """The waist of front and back, as long together as the waist edge."""
    quarter = frame.quarter.outer - frame.quarter.inner

    def around(pair: tuple[Rise, Rise]) -> float:
        panels = (skirt_panels.of_cone(frame.quarter, frame.hip_depth, shape) for shape in pair)
        return 2 * sum(panel.waist[0].length() for panel in panels)

    pair = rise.rises(float(wish["front_waist"]), float(wish["back_waist"]), quarter)
    return rise.as_long(pair, 4 * quarter, around)


def _refuse_cloth(panel: Panel, plan: Plan, cloth_width: float) -> None:
    """A panel lies across the cloth at 45 degrees; it is not pieced."""
    outline = (panel.inner, panel.outer, panel.waist[0], panel.hem)
    places = [p for curve in outline for p in curve.flattened(tolerance=CUT_FLATTEN)]
    across = [(p.x + p.y) / math.sqrt(2) for p in places]
    needed = max(across) - min(across) + math.sqrt(2) * (SEAM + plan.hem)
    if needed > cloth_width:
        raise ChoiceError(
            f"On the bias a panel lies {needed:.0f} cm across the cloth, which is {cloth_width:g} cm wide.",
            where=f"pattern '{NAME}', choice 'cloth_width'",
            mend="Take wider cloth, or make the skirt shorter or with less flare.",
        )


BIAS_SKIRT = HouseDraft(
    name=NAME,
    title="Bias skirt",
    what="Four panels cut on the bias: smooth over waist and hip without darts, soft flare below.",
    choices=CHOICES,
    needs=skirt_length.NEEDS,
    least_age=4.0,
    draw=draw,
    heaviest=220.0,
    lacks={
        "pockets": "A bias skirt has no pockets: in its seams or on its panels they would drag the cloth, "
        "which hangs by its own give, out of shape."
    },
    shortened_by="longer",
    length_shown="length",
    instead=rise.LEVELLED,
)
