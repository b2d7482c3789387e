"""What a darted shift is drawn from: frame, neckline, side seam, outlines, armhole and cap, back opening.

The sleeve decides how low the armhole must lie, so the frame is drawn again where the arm needs it.
Source: house rule, 2026-11; rules of the trade I1 and I3.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwise.body import Body
from clothwise.draft import back_opening, fit, neckline, posture, set_in, side_seam, sleeve, top_length
from clothwise.draft.bodice import Frame, Room, back_armhole, frame, front_armhole
from clothwise.draft.cap import HIGH, LOW, Armhole, Cap
from clothwise.draft.pattern import Wish
from clothwise.draft.possible import possible
from clothwise.draft.side_seam import Shape
from clothwise.draft.top_body import Outline, back_outline, front_outline, narrowed
from clothwise.errors import ChoiceError
from clothwise.garment import Note

NAME = "darted_shift"
LENGTHS = ("top", "tunic", "dress", "midi")
NO_SLEEVE, CAP, FLUTTER = "none", "cap", "flutter"
LOOSE, SHAPED, SEAMED = "loose", "shaped by darts", "shaped, with a waist seam"

SHOULDER_IN = 1.0  # cm: without a sleeve the shoulder ends inside the shoulder bone
SHOULDER_IN_OF_LENGTH = 0.08  # or this share of a child's shoulder
CAPS = set_in.Caps(LOW, HIGH, set_in.CAP_EASE, set_in.CHILD_CAP_EASE)
HEM_BELOW_HIP = 2.0  # cm: the hip line lies at least so far above the hem
HEM_LIFT = 0.32  # of half the girth, per flare: so far a flared side ends above the hem's centre
SHORTEST_OF_HIP = 0.5  # of waist to hip: a shorter top no longer covers the waistband
STRIDE_OF_HEIGHT = 0.75  # hem girth over body height that lets her take a full step (rule of the trade)
STRIDE_FROM = 0.9  # of waist to knee: what ends higher does not hold the step
FLARE_OVER = 50.0  # cm down over which the flare is asked
USUAL_FLARE = 0.04  # out per cm down: hangs clear of the hip
NECK_OVER_BUST = 2.0  # cm: the lowest neck ends so far over the bust line
OUT_TO_WAIST = 0.5  # out per cm down from the bust line: more bends tighter than a small child's allowance
OVER_BUST = -2.0  # cm: with arms raised the body slips through a waist this much under the bust


@dataclass(frozen=True, slots=True)
class Drawn:
    """Everything the pieces are cut from. Lengths in cm, depths below the waist."""

    frame: Frame
    shape: Shape
    front: Outline
    back: Outline
    armhole: Armhole
    cap: Cap | None
    depth: float
    hip_depth: float
    opening: str  # '', 'slit', 'keyhole' or 'zip'
    opening_length: float
    notes: tuple[Note, ...]

    @property
    def half_waist(self) -> float:
        """Half of the finished waist, darts sewn."""
        darts = sum(self.shape.back_darts) + sum(self.shape.front_darts)
        return self.frame.half + 2 * self.shape.out_waist - darts

    @property
    def half_hip(self) -> float:
        return self.frame.half + 2 * self.shape.out_hip


def drawn(body: Body, wish: Wish) -> Drawn:
    """All parts for this body and these choices."""
    word = str(wish["sleeve"])
    if word in sleeve.LENGTH_WORDS:
        base, cap, lowered = _with_cap(body, wish)
    else:
        base, cap, lowered = _frame(body, wish, 0.0), None, ()
    depth = top_length.depth_of(body, wish, NAME, SHORTEST_OF_HIP * body["waist_to_hip"])
    least_flare = float(wish["flare"]) / FLARE_OVER if "flare" in wish else USUAL_FLARE
    lifted = least_flare * HEM_LIFT * base.half
    hip_depth = min(body["waist_to_hip"], depth - HEM_BELOW_HIP - lifted)
    shape, shape_notes = _shape(body, wish, base, depth, hip_depth)
    cut = neckline.styled(
        str(wish["neckline"]),
        base.neck,
        base.front.neck_point.distance(base.front.shoulder),
        (base.back.slope_deg, base.front.slope_deg),
        wider=float(wish["neck_width"]),
        deeper=float(wish["neck_depth"]),
    )
    front = front_outline(base, cut, shape, hip_depth, -depth)
    _refuse_deep_neck(wish, base, front)
    back = back_outline(base, cut, shape, hip_depth, -depth)
    armhole = Armhole.of(front.armhole, back.armhole)
    found = Drawn(
        base, shape, front, back, armhole, cap, depth, hip_depth, "", 0.0, (*base.notes, *lowered, *shape_notes)
    )
    return _opened(body, wish, found)


def _refuse_deep_neck(wish: Wish, base: Frame, front: Outline) -> None:
    """The neck ends above the bust line, where the front is fitted and its facing still finds cloth."""
    too_low = base.bust_level + NECK_OVER_BUST - front.neck[-1].end.y
    if too_low > 0:
        most = float(wish["neck_depth"]) - too_low
        raise ChoiceError(
            f"A {wish['neckline']} neckline {float(wish['neck_depth']):+g} cm deep would reach the bust line.",
            where=f"pattern '{NAME}', choice 'neck_depth'",
            mend=possible(float(wish["neck_depth"]), most=most),
        )


def _frame(body: Body, wish: Wish, lower: float) -> Frame:
    """The frame; without a sleeve its shoulder is narrowed. `lower` puts the underarm lower. [cm]"""
    sleeved = wish["sleeve"] not in (NO_SLEEVE, CAP)
    drop = fit.armhole_drop(body, wish, sleeved=sleeved) + lower
    base = frame(body, Room(fit.ease("bust", body, wish), drop, posture=posture.posture_of(body, wish, NAME)))
    if sleeved:
        return base
    by = min(SHOULDER_IN, SHOULDER_IN_OF_LENGTH * body["shoulder_length"])
    return replace(base, front=narrowed(base.front, by), back=narrowed(base.back, by))


# ---- armhole and cap -------------------------------------------------------------------------------------


def _with_cap(body: Body, wish: Wish) -> tuple[Frame, Cap, tuple[Note, ...]]:
    """Frame and cap that agree."""

    def made(lower: float) -> tuple[Frame, Armhole]:
        base = _frame(body, wish, lower)
        return base, Armhole.of(front_armhole(base.front), back_armhole(base.back))

    return set_in.fitted(body, wish, fit.ease("arm", body, wish), CAPS, made, NAME)


# ---- side seam and waist ---------------------------------------------------------------------------------


def _shape(
    body: Body, wish: Wish, base: Frame, depth: float, hip_depth: float
) -> tuple[Shape, tuple[Note, ...]]:
    half_hip = (body["hip_girth"] + fit.ease("hip", body, wish)) / 2
    waist = body["waist_girth"]
    back_darts: tuple[float, ...] = ()
    front_darts: tuple[float, ...] = ()
    if wish["waist"] in (SHAPED, SEAMED):
        asked = (waist + fit.ease("waist", body, wish)) / 2
        _refuse_wide_waist(body, wish, base, asked)
        out_waist, back_darts, front_darts = side_seam.fitted(base.half, base.underarm, asked)
    else:
        out_waist = side_seam.loose(base.half, base.underarm, base.bust_level, hip_depth, half_hip, waist)
    below = depth - hip_depth
    at_hip = side_seam.hip_out(base.half, half_hip, out_waist, 0.0, hip_depth)
    if "flare" in wish:
        flare = float(wish["flare"]) / FLARE_OVER
    else:
        flare = max(USUAL_FLARE, _for_stride(body, depth, 2 * (base.half + 2 * at_hip)) / below)
    out_hip = side_seam.hip_out(base.half, half_hip, out_waist, flare, hip_depth)
    shape = Shape(out_waist, out_hip, flare, back_darts, front_darts)
    return shape, side_seam.hip_notes(wish, 2 * (base.half + 2 * out_hip) - 2 * half_hip)


def _refuse_wide_waist(body: Body, wish: Wish, base: Frame, asked: float) -> None:
    """The side may swing out to the waist, but where it does so on the spot it no longer lies flat."""
    widest = base.half + 2 * OUT_TO_WAIST * base.bust_level
    if "waist_ease" in wish and asked > widest:
        raise ChoiceError(
            f"A waist of {2 * asked:.0f} cm would stand out from a bust of {2 * base.half:.0f} cm.",
            where=f"pattern '{NAME}', choice 'waist_ease'",
            mend=possible(float(wish["waist_ease"]), most=2 * widest - body["waist_girth"]),
        )


def _for_stride(body: Body, depth: float, hip: float) -> float:
    """How much wider each side edge must be at the hem for a full step. [cm]"""
    if depth < STRIDE_FROM * body["waist_to_knee"]:
        return 0.0
    return max((STRIDE_OF_HEIGHT * body["height"] - hip) / 4, 0.0)


# ---- back opening ------------------------------------------------------------------------------------------


def _opened(body: Body, wish: Wish, found: Drawn) -> Drawn:
    """With the opening that lets head and bust through; none where they pass without."""
    asked = str(wish.get("back_opening", ""))
    neck = 2 * (found.front.neck_length + found.back.neck_length)
    tight = 2 * found.half_waist < body["bust_girth"] + OVER_BUST
    if tight and asked not in ("", back_opening.ZIP):
        raise ChoiceError(
            f"A waist of {2 * found.half_waist:.0f} cm does not pass over the bust; a {asked} does not help.",
            where=f"pattern '{NAME}', choice 'back_opening'",
            mend=f"Choose a zip, or {'a looser fit' if wish['waist'] == LOOSE else 'leave the waist loose'}.",
        )
    if tight or asked == back_opening.ZIP:
        length = back_opening.zip_length(body, found.back.neck[-1].end.y)
        room = found.back.centre.length() - back_opening.LEAST_SEAM
        length = min(length, room)
        notes = () if asked else (Note("The waist is shaped, so the back has a zip to get in by."),)
        return replace(found, opening=back_opening.ZIP, opening_length=length, notes=(*found.notes, *notes))
    slit = neckline.slit_for_head(body, neck)
    if not slit:
        return found
    kind = asked or back_opening.SLIT
    return replace(
        found, opening=kind, opening_length=slit, notes=(*found.notes, *back_opening.notes(body, kind))
    )
