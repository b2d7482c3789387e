"""What body and choices fix before trousers are drawn: levels, widths and length; and both legs from it.

Levels follow each other down the body, natural waist y = 0, y up, cm. Cloth without stretch.
Source: house rule, 2026-11, proved on the bodies of `benchmarks.drafts`; ease and widths from the rules of
the trade (trousers); other sources stand at their line.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from clothwise.body import Body, Figure
from clothwise.draft import level, waist
from clothwise.draft.crotch_length import balanced_seat, seat_for
from clothwise.draft.front_dart import size_for
from clothwise.draft.leg_pieces import Half, cut_off, half
from clothwise.draft.possible import at_least, at_most, possible
from clothwise.draft.seat import BACK_WIDER, Frame, Seat, draw_sides, with_shift
from clothwise.errors import ChoiceError, MeasureError
from clothwise.garment import Note

RISE_EASE: dict[Figure, float] = {"woman": 3.0, "man": 2.5, "girl": 2.5, "boy": 2.5}
# cm: the crotch hangs clear of the body (rule: elastic waists 2-3)
KNEE_EASE = 5.0  # cm in the round: the knee bends (rule: 4-6)
CALF_EASE = 3.0  # cm in the round
HEEL_EASE = 1.5  # cm in the round: the heel passes the hem
HIP_ABOVE_CROTCH = 0.38  # of the rise: the hip line lies at least so far above the crotch, clear of the curve
SIDE_SLOPE = 4.5  # degrees: the waist climbs from front to back across the side seam
CHILD_SIDE_SLOPE = 3.0

ANKLE = level.LEAST_CLEAR / (1 - level.FULL_OF_ANKLE)  # cm: the ankle bone lies at least so high
WAIST_ABOVE_HIP = 3.5  # cm: a waist nearer to the hip line than this slides down over it
SHORTEST_INSEAM = 3.5  # cm: a shorter leg would lose the crotch corner in its hem
WAIST_BOW = 0.038  # casing depth over radius of the waist line (rule: folds flat up to 0.06, if bent evenly)
THICKEST_THIGH = 0.78  # of the hip: thicker than on all but 2 of 9,817 real bodies, whose tape surely slipped
CROTCH_TO_KNEE = 2.0  # cm: the crotch line lies at least this much above the knee
KNEE_TO_ANKLE = 5.0  # cm: and the knee above the ankle


@dataclass(frozen=True, slots=True)
class Cut:
    """How trousers are cut, as the choices say.

    pattern       the draft's name, for refusals
    hem_share     hem girth of the leg's width at the crotch; knee_share: knee between hem (0) and crotch (1)
    hip_ease      room at the hip, in the round [cm]
    waist         height of the finished waist over the natural one [cm]
    casing        depth turned down at the waist [cm]
    length        what the length is called; depth: of the hem below the natural waist; longer: than called [cm]
    darts         whether each front has a dart
    front_crotch  the front part of the crotch length, if it was taped [cm]
    gives         share by which the hem stretches when the heel passes
    side_raised   how much higher the waist is at the side, over a high hip [cm]
    """

    pattern: str
    hem_share: float
    knee_share: float
    hip_ease: float
    waist: float
    casing: float
    length: str
    depth: float
    longer: float
    darts: bool = False
    front_crotch: float | None = None
    gives: float = 0.0
    side_raised: float = 0.0


@dataclass(frozen=True, slots=True)
class Legs:
    """Both legs drawn, and what was told about the seat."""

    frame: Frame
    seat: Seat
    front: Half
    back: Half
    notes: tuple[Note, ...]


def draw_legs(body: Body, cut: Cut) -> Legs:
    """Raises MeasureError, ChoiceError or DraftError with one sentence."""
    frame = with_shift(_frame(body, cut))
    if cut.front_crotch is None:
        seat, notes = seat_for(body, frame)
    else:
        frame, seat, notes = balanced_seat(body, frame, cut.front_crotch, cut.pattern)
    _refuse_no_leg(cut, seat)
    sides = draw_sides(frame, seat)
    off = cut_off(frame, -cut.depth, seat, sides)
    front = half(seat.front_crotch, seat.front_inseam, sides.front_side, sides.front_waist, off, seat.front_leg)
    back = half(seat.back_crotch, seat.back_inseam, sides.back_side, sides.back_waist, off, seat.back_leg)
    return Legs(frame, seat, replace(front, darted=sides.darted), back, notes)


# ---- the frame -----------------------------------------------------------------------------------


def _frame(body: Body, cut: Cut) -> Frame:
    """Levels and widths that the body and the choices fix."""
    rise = body["body_rise"] + RISE_EASE[body.figure]
    refuse_contradictions(body, rise)
    hip_level = -min(body["waist_to_hip"], (1 - HIP_ABOVE_CROTCH) * rise)
    refuse_low_waist(cut.pattern, cut.waist, hip_level)
    frame = Frame(
        figure=body.figure,
        hip=body["hip_girth"],
        finished_hip=body["hip_girth"] + cut.hip_ease,
        thigh=body["thigh_girth"],
        knee_girth=body["knee_girth"] + KNEE_EASE,
        calf=body["calf_girth"] + CALF_EASE,
        heel=(body["foot_heel_girth"] + HEEL_EASE) / (1 + cut.gives),
        rise=rise,
        waist=cut.waist,
        hip_level=hip_level,
        knee=-body["waist_to_knee"],
        calf_level=-level.fullest_calf(body),
        hem=-max(level.full(body), cut.depth),
        side_raised=cut.side_raised,
        edge=waist.edge_needed(body),
        side_slope_deg=CHILD_SIDE_SLOPE if body.child else SIDE_SLOPE,
        hem_share=cut.hem_share,
        knee_share=cut.knee_share,
        most_bow_deg=math.degrees(WAIST_BOW / cut.casing * body["hip_girth"] / 4),
    )
    return _with_dart(frame, cut) if cut.darts else frame


def refuse_low_waist(pattern: str, waist_at: float, hip_level: float) -> None:
    """A waist must lie above the hip line."""
    lowest = hip_level + WAIST_ABOVE_HIP
    if waist_at < lowest:
        there = f"{-waist_at:g} cm lower" if waist_at < 0 else "no higher"
        raise ChoiceError(
            f"A waist {there} would lie on the hip, where nothing holds it.",
            where=f"pattern '{pattern}', choice 'rise'",
            mend=f"For this body {math.ceil(10 * lowest) / 10:+g} cm or more is possible.",
        )


def _with_dart(frame: Frame, cut: Cut) -> Frame:
    quarter = frame.finished_hip * (0.25 - BACK_WIDER)
    spare = (frame.finished_hip - frame.edge) / 2
    size = size_for(frame.waist - frame.hip_level, quarter, cut.casing, frame.side_slope_deg, spare)
    return replace(frame, dart=size)


def refuse_contradictions(body: Body, rise: float) -> None:
    """Levels must follow each other down the body, with room to draw between them."""
    limit = THICKEST_THIGH * body["hip_girth"]
    if body["thigh_girth"] > limit:
        raise MeasureError(
            f"Thigh {body['thigh_girth']:.1f} cm and hip {body['hip_girth']:.1f} cm cannot both be.",
            where=f"body '{body.name}': thigh girth, hip girth",
            mend=f"Measure both again; a thigh should be at most {at_most(limit)} cm.",
        )
    for upper, depth, lower in (
        ("body_rise", rise + CROTCH_TO_KNEE, "waist_to_knee"),
        ("waist_to_knee", body["waist_to_knee"] + KNEE_TO_ANKLE, "waist_to_ankle"),
    ):
        if depth > body[lower]:
            one, other = upper.replace("_", " "), lower.replace("_", " ")
            raise MeasureError(
                f"{one.capitalize()} {body[upper]:.1f} cm and {other} {body[lower]:.1f} cm cannot both be.",
                where=f"body '{body.name}': {one}, {other}",
                mend=f"Measure both again; {other} should be at least {at_least(depth)} cm.",
            )


# ---- length --------------------------------------------------------------------------------------


def hem_depth(body: Body, pattern: str, length: str, depth: float, longer: float) -> float:
    """Depth of the hem below the natural waist. ChoiceError when it would drag. [cm]"""
    floor = body["body_rise"] + body["inside_leg"]
    longest = floor - level.LEAST_CLEAR - depth
    if longest < 0:
        ankle = body["waist_to_ankle"]
        raise MeasureError(
            f"Waist to ankle {ankle:.1f} cm and body rise and inside leg, {floor:.1f} cm, cannot all be.",
            where=f"body '{body.name}': waist to ankle, body rise, inside leg",
            mend=f"Measure them again: together rise and inside leg should be {ankle + ANKLE:.1f} cm or more.",
        )
    if longer > longest:
        raise ChoiceError(
            f"{longer:+.1f} cm on the length '{length}' would reach the floor.",
            where=f"pattern '{pattern}', choice 'longer'",
            mend=possible(longer, most=longest),
        )
    return depth + longer


def _refuse_no_leg(cut: Cut, seat: Seat) -> None:
    """Shorts need some leg below the crotch, whose corner would else be lost in the hem."""
    lack = SHORTEST_INSEAM - seat.back_inseam.start.y - cut.depth
    if lack > 0:
        raise ChoiceError(
            f"So short, {cut.length} trousers would leave no leg.",
            where=f"pattern '{cut.pattern}', choice 'longer'",
            mend=possible(cut.longer, least=cut.longer + lack),
        )
