"""What a button-front shirt is drawn from: frame, neck, side seam, outlines, armhole and cap, button stand.

Source: house rule, 2026-11; rules of the trade I1 (shirt: chest 9, 12, 16, 20) and I3 (shirt cap ease 0-1.3).
"""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.body import Body
from clothwise.draft import button_stand, fit, neckline, posture, set_in, side_seam, sleeve, top_length
from clothwise.draft.bodice import Frame, Room, back_armhole, bust_height, frame, front_armhole
from clothwise.draft.button_stand import Stand
from clothwise.draft.cap import Armhole, Cap
from clothwise.draft.collar import BAND
from clothwise.draft.cuff import CHILD_DEEP, CHILD_EASE, DEEP, EASE, LAP
from clothwise.draft.neckline import Neckline
from clothwise.draft.pattern import Wish
from clothwise.draft.side_seam import Shape
from clothwise.draft.top_body import Outline, back_outline, front_outline
from clothwise.garment import Note

NAME = "button_front_shirt"
LENGTHS = ("top", "shirt", "tunic", "dress")
NO_DART = "none"
STRAIGHT, TAIL = "straight", "shirt tail"
CUFF, BUTTONED, HEMMED = "cuff", "buttoned cuff", "hem"

BUST = fit.SHIRT_BUST
HIP = (8.0, 10.0, 14.0, 18.0)  # cm in the round, in the order of fit.FITS
ARM = (6.0, 8.0, 10.0, 12.0)  # cm in the round: worn with the sleeve rolled up
LOWER = 1.0  # cm: a shirt's armhole lies lower than a blouse's
CAPS = set_in.Caps(low=0.42, high=0.66, ease=0.012, child_ease=0.01)  # a flat cap lifts: rule 0-1.3 cm of ease
NECK_WIDE, NECK_LOW = 0.3, 0.6  # cm beyond the base of the neck: a collar stands a little off it
CHILD_BACK_LOW = 0.2  # cm: the hollow of a small child's back neck then takes its whole seam allowance
CAMP_LOW = 1.2  # cm: a camp collar lies open
TAIL_RISE = 6.0  # cm that a shirt tail rises to the side seam,
TAIL_OF_DEPTH = 0.2  # or this share of its depth below the waist,
TAIL_OF_HALF = 0.12  # or of half the girth: on a narrow shirt it would curve too sharply to be hemmed
HEM_BELOW_HIP = 1.5  # cm: the hip line lies at least so far above the lowest end of the side seam
HEM_LIFT = 0.32  # of half the girth, per flare: so far a flared side ends above the hem's centre
SHORTEST_OF_HIP = 0.6  # of waist to hip
FLARE = 0.03  # out per cm down


@dataclass(frozen=True, slots=True)
class Drawn:
    """Everything the pieces are cut from. Lengths in cm, depths below the waist."""

    frame: Frame
    neckline: Neckline
    shape: Shape
    front: Outline
    back: Outline
    armhole: Armhole
    cap: Cap
    stand: Stand
    depth: float
    hip_depth: float
    notes: tuple[Note, ...]

    @property
    def half_waist(self) -> float:
        return self.frame.half + 2 * self.shape.out_waist

    @property
    def half_hip(self) -> float:
        return self.frame.half + 2 * self.shape.out_hip

    @property
    def neck(self) -> float:
        """Half the neck, from centre back to centre front."""
        return self.front.neck_length + self.back.neck_length


def drawn(body: Body, wish: Wish) -> Drawn:
    """All parts for this body and these choices."""

    def made(lower: float) -> tuple[Frame, Armhole]:
        base = _frame(body, wish, lower)
        return base, Armhole.of(front_armhole(base.front), back_armhole(base.back))

    room = fit.of_table(ARM, "arm_ease", body, wish)
    base, cap, lowered = set_in.fitted(body, wish, room, CAPS, made, NAME)
    depth = top_length.depth_of(body, wish, NAME, SHORTEST_OF_HIP * body["waist_to_hip"])
    tail = min(TAIL_RISE, TAIL_OF_DEPTH * depth, TAIL_OF_HALF * base.half) if wish["hem_shape"] == TAIL else 0.0
    hip_depth = min(body["waist_to_hip"], depth - HEM_BELOW_HIP - tail - FLARE * HEM_LIFT * base.half)
    shape, notes = _shape(body, wish, base, hip_depth)
    low = NECK_LOW if wish["collar"] == BAND else CAMP_LOW
    back_low = CHILD_BACK_LOW if body.child else 0.0
    cut = neckline.lowered(base.neck, NECK_WIDE, low, back_low, base.front.slope_deg)
    front = front_outline(base, cut, shape, hip_depth, -depth, tail)
    back = back_outline(base, cut, shape, hip_depth, -depth, tail)
    armhole = Armhole.of(front.armhole, back.armhole)
    stand = button_stand.stand_for(body, front.neck[-1].end.y, bust_height(body, base), -depth)
    found = (*base.notes, *lowered, *notes, *button_stand.notes(body, stand))
    return Drawn(base, cut, shape, front, back, armhole, cap, stand, depth, hip_depth, found)


def cuffed(wish: Wish) -> bool:
    return wish["sleeve"] == "long" and wish["sleeve_end"] != HEMMED


def buttons_at_wrist(wish: Wish) -> bool:
    """Whether its cuffs open over a slit."""
    return cuffed(wish) and wish["sleeve_end"] == BUTTONED


def cuff_deep(body: Body) -> float:
    return CHILD_DEEP if body.child else DEEP


def cuff_round(body: Body, wish: Wish) -> float:
    """Round the cuff as it is worn: the folded hand passes, or buttoned about the wrist. [cm]"""
    if buttons_at_wrist(wish):
        return body["wrist_girth"] + (CHILD_EASE if body.child else EASE)
    return sleeve.HAND_OF_WRIST * body["wrist_girth"] + sleeve.OVER_HAND


def cuff_long(body: Body, wish: Wish) -> float:
    """From end to end of the cuff. [cm]"""
    return cuff_round(body, wish) + (LAP if buttons_at_wrist(wish) else 0.0)


def _frame(body: Body, wish: Wish, lower: float) -> Frame:
    drop = fit.armhole_drop(body, wish) + LOWER * (fit.OF_CHILD if body.child else 1.0) + lower
    bust = fit.of_table(BUST, "bust_ease", body, wish)
    darted = wish["dart"] != NO_DART
    return frame(body, Room(bust, drop, darted=darted, posture=posture.posture_of(body, wish, NAME)))


def _shape(body: Body, wish: Wish, base: Frame, hip_depth: float) -> tuple[Shape, tuple[Note, ...]]:
    half_hip = (body["hip_girth"] + fit.of_table(HIP, "hip_ease", body, wish)) / 2
    out_waist = side_seam.loose(
        base.half, base.underarm, base.bust_level, hip_depth, half_hip, body["waist_girth"]
    )
    out_hip = side_seam.hip_out(base.half, half_hip, out_waist, FLARE, hip_depth)
    wider = 2 * (base.half + 2 * out_hip) - 2 * half_hip
    return Shape(out_waist, out_hip, FLARE), side_seam.hip_notes(wish, wider)
