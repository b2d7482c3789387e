"""Circle skirt: a quarter, half, three quarters or all of a circle round the waist.

The skirt is a cone whose waist is solved from the part of the circle: r = W / (2 pi part). A quarter of the
skirt is one panel with the grain along its centre; where front or back fit on the folded cloth whole, their
centre is a fold; where a panel is wider than the cloth it is made of several, seamed from waist to hem, each
with the grain down its middle.

    W  waist edge of the whole skirt   L  length from waist to hem   r  from the tip of the cone to the waist

Source: rules of the trade D (radius of the opening, 4 pages) and G (hems by flare); house rule, 2026-11.
Not sewn yet.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from clothwise.body import Body
from clothwise.draft import (
    hem,
    rise,
    skirt_length,
    skirt_panels,
    skirt_waist,
    waist,
    waist_facing,
    zip_opening,
)
from clothwise.draft.cone import Slice
from clothwise.draft.pattern import Choice, HouseDraft, Wish
from clothwise.draft.rise import Rise
from clothwise.draft.skirt_garment import skirt
from clothwise.draft.skirt_panels import IN_SEAM, Panel, Plan
from clothwise.draft.skirt_waist import BAND, ELASTIC, FACING
from clothwise.draft.waistband import SEAM as WAIST_SEAM
from clothwise.draft.waistband import WIDTH_CHOICE as BAND_WIDTH_CHOICE
from clothwise.garment import Garment, Note

NAME = "circle_skirt"
PARTS = {"quarter": 0.25, "half": 0.5, "three quarters": 0.75, "full": 1.0}
HIP_EASE = 5.0  # cm in the round at least: a flared skirt hangs from the waist and must not catch at the hip
HEMS = {"quarter": 3.0, "half": 2.5, "three quarters": 1.5, "full": 1.2}  # cm (rule: half 2.5, full <= 1.3)
LEAST_HEM = 1.0  # cm
GRAIN_IN = 0.1  # of the waist of a panel: how far from the centre its grain is drawn
POCKETS_AT = f"pattern '{NAME}', choice 'pockets'"

CHOICES = (
    Choice(
        "sweep",
        "How much of a circle it is.",
        options=tuple(PARTS),
        default="half",
        changes="flare of all panels, their number",
        main=True,
    ),
    skirt_length.LENGTH_CHOICE,
    skirt_length.LONGER_CHOICE,
    skirt_waist.finish_choice(BAND, FACING, ELASTIC, child=ELASTIC),
    skirt_panels.pocket_choice(IN_SEAM),
    skirt_panels.CLOTH_WIDTH_CHOICE,
    skirt_waist.EASE_CHOICE,
    *rise.CHOICES,
    BAND_WIDTH_CHOICE,
    waist.WIDTH_CHOICE,
    hem.depth_choice("3 for a quarter, 2.5 half, 1.5 three quarters, 1.2 full", least=LEAST_HEM, growth=False),
)


@dataclass(frozen=True, slots=True)
class Frame:
    """What body and choices fix. waist, length, hip_depth [cm]; part: of a circle."""

    waist: float
    part: float
    length: float
    hip_depth: float

    @property
    def bend(self) -> float:
        return 2 * math.pi * self.part / self.waist

    def girth(self, depth: float) -> float:
        return self.waist * (1 + self.bend * depth)

    def slice(self, inner: float, outer: float) -> Slice:
        """Part of the skirt between two places of the waist. [cm]"""
        return Slice(inner, outer, self.length, self.bend)


def draw(body: Body, wish: Wish) -> Garment:
    """The skirt for this body. Raises ChoiceError with one sentence."""
    wish = skirt_waist.settled(body, wish)
    frame, notes = _frame(body, wish)
    count, folds = skirt_panels.layout(frame.slice(0.0, frame.waist / 4), float(wish["cloth_width"]))
    shapes = _rises(frame, wish, count)
    front, back = (_panels(frame, count, shape) for shape in shapes)
    plan = _plan(body, wish, frame, front, folds)
    facing = waist_facing.of_cone(frame.slice(0.0, frame.waist / 4), shapes, count)
    finished = skirt_waist.finish(body, wish, front, back, plan.zip, facing)
    hip, hem_girth = frame.girth(frame.hip_depth), frame.girth(frame.length)
    return skirt(
        body, wish, (NAME, "Circle skirt"), front, back, plan, finished,
        hip_ease=hip - body["hip_girth"],
        measures={"hip": hip, "hem": hem_girth, "length": front[0].inner.length()},
        notes=notes,
        hip_notch=frame.hip_depth,
    )  # fmt: skip


def _frame(body: Body, wish: Wish) -> tuple[Frame, tuple[Note, ...]]:
    girth = skirt_waist.edge_girth(body, wish)
    length = skirt_length.skirt_length(NAME, body, wish)
    part, depth = PARTS[str(wish["sweep"])], body["waist_to_hip"]
    needed = (body["hip_girth"] + HIP_EASE - girth) / (2 * math.pi * depth)
    if needed <= part:
        return Frame(girth, part, length, depth), ()
    more = 2 * math.pi * (needed - part) * depth
    text = (
        f"A {wish['sweep']} of a circle would be {more:.1f} cm too tight at the hip: "
        f"it is drawn as {needed:.2f} of a circle."
    )
    return Frame(girth, needed, length, depth), (Note(text, measure="hip_girth", by=more),)


def _rises(frame: Frame, wish: Wish, count: int) -> tuple[Rise, Rise]:
    """The waist of front and back, as long together as the waist edge."""

    def around(pair: tuple[Rise, Rise]) -> float:
        panels = (panel for shape in pair for panel in _panels(frame, count, shape))
        return 2 * sum(panel.waist[0].length() for panel in panels)

    pair = rise.rises(float(wish["front_waist"]), float(wish["back_waist"]), frame.waist / 4)
    return rise.as_long(pair, frame.waist, around)


def _panels(frame: Frame, count: int, shape: Rise) -> tuple[Panel, ...]:
    """The panels of a quarter, from the centre outwards."""
    each, depth = frame.waist / 4 / count, frame.hip_depth
    if count == 1:
        return (skirt_panels.of_cone(frame.slice(0.0, each), depth, shape, grain_at=GRAIN_IN * each),)
    part = frame.slice(-each / 2, each / 2)
    return tuple(skirt_panels.of_cone(part, depth, shape, out=n * each) for n in range(count))


def _plan(body: Body, wish: Wish, frame: Frame, panels: tuple[Panel, ...], fold: bool) -> Plan:
    usual = hem.deepest(*(panel.hem for panel in panels))
    usual = min(HEMS[str(wish["sweep"])], max(usual, LEAST_HEM))
    turn = hem.hem_depth(usual, float(wish["hem"]) if "hem" in wish else None, panels[-1].hem)
    zipped = wish["waist"] != ELASTIC
    zip_length = 0.0
    if zipped:
        zip_length = zip_opening.zip_length(
            body, frame.waist, frame.length, f"pattern '{NAME}', choice 'waist'"
        )
    bag = None
    if wish["pockets"] == IN_SEAM:
        across = frame.waist / 4 * (1 + frame.bend * frame.hip_depth)
        bag = skirt_panels.bag_for(body, frame.length, across, turn, POCKETS_AT)
    return Plan(
        hem=turn, waist=WAIST_SEAM, fold_front=fold, fold_back=fold and not zipped, zip=zip_length, bag=bag
    )


CIRCLE_SKIRT = HouseDraft(
    name=NAME,
    title="Circle skirt",
    what="A quarter, half or full circle round the waist: falls in soft folds and swings.",
    choices=CHOICES,
    needs=skirt_length.NEEDS,
    least_age=2.0,
    draw=draw,
    shortened_by="longer",
    length_shown="length",
    instead=rise.LEVELLED,
)
