"""Four-panel skirt: two front panels and two back panels, pull-on, with a grown-on casing at the waist.

Each panel is a quarter of a cone: a rectangle when the skirt is straight, a slice of a ring when it flares, so
every seam is straight and square to waist and hem. The panel's middle hangs upright; the waist may be higher or
lower at the centre front and back. Cloth without stretch: the waist edge passes the hips, elastic draws it in.

    W  waist edge of the whole skirt   L  length from waist to hem   psi  angle of one panel [radians]

Source: house rule, 2026-11, proved on the bodies of `benchmarks.drafts`; ease, hems and walking room from the
rules of the trade. Not sewn yet.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from clothwise.body import Body
from clothwise.draft import hem, rise, side_slit, skirt_length, skirt_panels, skirt_waist, waist
from clothwise.draft.cone import Slice
from clothwise.draft.pattern import Choice, HouseDraft, Wish
from clothwise.draft.possible import greatest
from clothwise.draft.skirt_garment import skirt
from clothwise.draft.skirt_panels import IN_SEAM, PATCH, Panel, Plan
from clothwise.errors import ChoiceError
from clothwise.garment import Garment, Note
from clothwise.tolerance import SOLVE

NAME = "four_panel_skirt"
HIP_EASE = 6.0  # cm in the round: sits without strain, hangs without folds (rule: 5-10)
WIDER_ROUNDS = 4  # in which the waist edge is as wide as it must be (2)
SHAPING = tuple(choice.name for choice in (*rise.CHOICES, rise.SIDE_CHOICE))
POCKETS_AT = f"pattern '{NAME}', choice 'pockets'"

CHOICES = (
    skirt_length.LENGTH_CHOICE,
    skirt_length.LONGER_CHOICE,
    Choice(
        "flare",
        "How much wider each panel is at the hem than at the waist.",
        unit="cm",
        low=0.0,
        high=12.0,
        default=0.0,
        changes="seams lean, waist and hem curve",
    ),
    skirt_length.walking_room_choice(),
    side_slit.choice(side_slit.LONGEST_OF_DRESS, skirt_length.AT_THE_SIDES),
    skirt_panels.pocket_choice(PATCH, IN_SEAM, main=True),
    Choice(
        "hip_ease",
        "Room at the hip, in the round.",
        unit="cm",
        low=4.0,
        high=24.0,
        default=HIP_EASE,
        changes="width of all panels",
    ),
    *rise.CHOICES,
    rise.SIDE_CHOICE,
    waist.WIDTH_CHOICE,
    hem.depth_choice(f"{hem.STRAIGHT_SKIRT_HEM:g}, flared {hem.FLARED_SKIRT_HEM:g}"),
)


@dataclass(frozen=True, slots=True)
class Frame:
    """What body and choices fix: W, psi, L, the hip's depth, the slit (0 = none). [cm, radians]"""

    waist: float
    angle: float
    length: float
    hip_depth: float
    slit: float = 0.0

    @property
    def quarter(self) -> Slice:
        """One panel, its middle upright."""
        return Slice(-self.waist / 8, self.waist / 8, self.length, 4 * self.angle / self.waist)

    @property
    def hem_girth(self) -> float:
        return self.waist + 4 * self.angle * self.length

    @property
    def hip_girth(self) -> float:
        return self.waist + 4 * self.angle * self.hip_depth


def draw(body: Body, wish: Wish) -> Garment:
    """The skirt for this body. Raises ChoiceError with one sentence."""
    casing = waist.casing_turn(waist.elastic_width(body, wish))
    frame, notes = _frame(body, wish, casing)
    _refuse_flare(body, wish, frame, casing)
    front, back = _panels(frame, wish)
    if not _folds((front, back), casing):
        raise _too_curved(body, wish)
    plan = _plan(body, wish, frame, front, casing)
    if plan.patch:
        front = skirt_panels.with_patch(front, plan.patch, body, plan.hem, POCKETS_AT)
    found = skirt(
        body, wish, (NAME, "Four-panel skirt"), (front,), (back,), plan,
        skirt_waist.grown_on(body, wish, (front,), (back,)),
        hip_ease=frame.hip_girth - body["hip_girth"],
        measures=_measures(frame, front),
        notes=notes,
        hip_notch=frame.hip_depth,
        side_raised=float(wish["side_waist"]),
    )  # fmt: skip
    return side_slit.slitted(found, wish, body["waist_to_hip"] + side_slit.BELOW_HIP)


# ---- the frame -----------------------------------------------------------------------------------


def _frame(body: Body, wish: Wish, casing: float) -> tuple[Frame, tuple[Note, ...]]:
    length = skirt_length.skirt_length(NAME, body, wish)
    angle = float(wish["flare"]) / length  # of one panel: its hem is longer than its waist by angle x length
    frame = _with_flare(body, wish, length, angle)
    notes: tuple[Note, ...] = ()
    if skirt_length.wants_flare(body, wish):
        stride = skirt_length.stride(body, length)
        wider = _with_flare(body, wish, length, _angle_for(frame, body, wish, stride, casing))
        if wider.hem_girth > frame.hem_girth + SOLVE:
            notes = skirt_length.wider_notes(wider.hem_girth - frame.hem_girth)
            frame = wider
    more = frame.hip_girth - body["hip_girth"] - float(wish["hip_ease"])
    if more > SOLVE:
        text = f"The waist edge must pass the hips, so the whole skirt is {more:.1f} cm wider than asked."
        notes = (Note(text, measure="hip_girth", by=more), *notes)
    slit, told = skirt_length.slit_behind(body, wish, length, frame.hem_girth)
    return replace(frame, slit=slit), (*notes, *told)


def _with_flare(body: Body, wish: Wish, length: float, angle: float) -> Frame:
    """The frame with that flare: as wide at the hip as asked, and at the waist, which may be raised into the
    narrower part, wide enough to be pulled on.
    """
    hip_depth, needed = body["waist_to_hip"], waist.edge_needed(body)
    at_hip = body["hip_girth"] + float(wish["hip_ease"]) - 4 * angle * hip_depth
    frame = Frame(max(needed, at_hip), angle, length, hip_depth)
    for _ in range(WIDER_ROUNDS):
        lack = needed - 2 * sum(panel.waist[0].length() for panel in _panels(frame, wish))
        if lack <= SOLVE:
            break
        frame = replace(frame, waist=frame.waist + lack)
    return frame


def _angle_for(frame: Frame, body: Body, wish: Wish, hem_girth: float, casing: float) -> float:
    """The least flare at which the hem measures that, or the most with which the casing still folds flat."""
    hip = body["hip_girth"] + float(wish["hip_ease"])
    by_hip = (hem_girth - hip) / (4 * (frame.length - frame.hip_depth))
    by_waist = (hem_girth - waist.edge_needed(body)) / (4 * frame.length)
    most = hem.HEM_BOW * waist.edge_needed(body) / 4 / casing
    return max(min(by_hip, by_waist, most), frame.angle)


def _refuse_flare(body: Body, wish: Wish, frame: Frame, casing: float) -> None:
    """The casing folds down from a curved waist only while the curve is slight."""

    def slight(flare: float) -> bool:
        wider = _with_flare(body, wish, frame.length, flare / frame.length)
        return casing <= hem.HEM_BOW * wider.quarter.tip + SOLVE

    flare = frame.angle * frame.length
    if not slight(flare):
        most = greatest(slight, 0.0, flare)
        raise ChoiceError(
            f"With {flare:.1f} cm of flare the waist curves too much for a grown-on casing.",
            where=f"pattern '{NAME}', choice 'flare'",
            mend=f"For this body, length and elastic {most or 0.0:g} cm is possible; "
            "a narrower elastic allows more.",
        )


# ---- panels --------------------------------------------------------------------------------------


def _panels(frame: Frame, wish: Wish) -> tuple[Panel, Panel]:
    """Front and back panel, the centre on the left."""
    raised = float(wish["front_waist"]), float(wish["back_waist"])
    front, back = rise.rises(*raised, frame.waist / 4, rise.side_raised(wish, NAME))
    depth = frame.hip_depth
    quarter, drawn = frame.quarter, waist.climbing_line
    return (
        skirt_panels.of_cone(quarter, depth, front, drawn=drawn),
        skirt_panels.of_cone(quarter, depth, back, drawn=drawn),
    )


def _folds(panels: tuple[Panel, Panel], casing: float) -> bool:
    """Whether a casing so deep folds down from this waist: it must bend little. [cm]"""
    return casing <= hem.foldable(*(part for panel in panels for part in panel.waist)) + SOLVE


def _too_curved(body: Body, wish: Wish) -> ChoiceError:
    """With how much less of it, and over what elastic, the casing would fold down flat."""

    def folds(other: Mapping[str, float]) -> bool:
        wished = {**wish, **other}
        casing = waist.casing_turn(waist.elastic_width(body, wished))
        return _folds(_panels(_frame(body, wished, casing)[0], wished), casing)

    share = greatest(lambda part: folds({name: part * float(wish[name]) for name in SHAPING}), 0.1, 1.0)
    width = waist.elastic_width(body, wish)
    narrower = greatest(lambda cm: folds({"elastic_width": cm}), waist.WIDTH_CHOICE.low, width)
    return ChoiceError(
        "So shaped, the waist curves too much for a grown-on casing.",
        where=f"pattern '{NAME}', choices 'front_waist', 'back_waist', 'side_waist'",
        mend=f"Raise and lower it {f'at most {share:g} times as much' if share else 'less'}"
        + (f", or take an elastic of up to {narrower:g} cm." if narrower else "."),
    )


def _plan(body: Body, wish: Wish, frame: Frame, front: Panel, casing: float) -> Plan:
    usual = hem.FLARED_SKIRT_HEM if frame.angle else hem.STRAIGHT_SKIRT_HEM
    usual = hem.deepened_for_growth(usual, body.child)
    turn = hem.hem_depth(usual, float(wish["hem"]) if "hem" in wish else None, front.hem)
    quarter = frame.waist / 4
    bag = None
    if wish["pockets"] == IN_SEAM:
        bag = skirt_panels.bag_for(body, frame.length, quarter, turn, POCKETS_AT)
    return Plan(
        hem=turn,
        waist=casing,
        waist_kind="casing",
        slit=frame.slit,
        bag=bag,
        patch=skirt_panels.patch_for(body, quarter) if wish["pockets"] == PATCH else None,
    )


def _measures(frame: Frame, front: Panel) -> dict[str, float]:
    """Finished measures in the trade's words. [cm]"""
    found = {"hip": frame.hip_girth, "hem": frame.hem_girth, "length": front.inner.length()}
    return {**found, "slit": frame.slit} if frame.slit else found


FOUR_PANEL_SKIRT = HouseDraft(
    name=NAME,
    title="Four-panel skirt",
    what="Four panels and an elastic: a straight or slightly flared skirt of any length that pulls on.",
    choices=CHOICES,
    needs=skirt_length.NEEDS,
    least_age=2.0,
    draw=draw,
    shortened_by="longer",
    length_shown="length",
)
