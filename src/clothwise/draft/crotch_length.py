"""The seat brought to the body's crotch length, and what the sewer is told when it and the rise disagree.

A taped crotch length is met exactly: first by the fullness of the seat, then by moving the crotch line. An
estimated one shapes the seat only in part. Where its front part was taped too, the waist is turned about the
side seam until that is met as well. Lengths in cm.
Source: house rule, 2026-11, proved on the bodies of `benchmarks.drafts`.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from clothwise.body import Body
from clothwise.curve import NoSolution, solve
from clothwise.draft.fork import LOWERED_BY_FULLNESS
from clothwise.draft.possible import between
from clothwise.draft.seat import (
    Frame,
    Seat,
    at_natural_waist,
    draw_seat,
    fitted_seat,
    front_at_natural_waist,
    moved_seat,
    with_shift,
)
from clothwise.errors import ChoiceError, MeasureError
from clothwise.garment import Level, Note
from clothwise.tolerance import SOLVE

CROTCH_EASE = 1.5  # cm along the crotch seam: bending; the rise's ease adds its own (house rule)
FRONT_EASE = CROTCH_EASE / 2  # cm of it in the front part
WAIST_TURNS_DEG = 13.0  # degrees: so far the waist may be turned about the side seam, about 3 cm at the centres
FIRM = 0.5  # an estimated crotch length may shape the seat only half as far as a taped one
MOST_MOVED = 4.0  # cm: further than this rise and crotch length contradict each other
CROTCH_BELOW_HIP = 3.2  # cm: nor is it raised nearer to the hip line, where the crotch curve would have no room
WORTH_SAYING = 0.5  # cm: a crotch line moved by more is told


def seat_for(body: Body, frame: Frame) -> tuple[Seat, tuple[Note, ...]]:
    """The fork fitted to the crotch length; where that is not enough the crotch line is moved, and told."""
    measured = body.measures["crotch_length_total"]
    wanted = measured.cm + CROTCH_EASE
    if measured.source == "estimated":
        return _seat_of_estimate(frame, wanted)
    try:
        return fitted_seat(frame, wanted)[0], ()
    except NoSolution as short:
        fullness = 1.0 if wanted > short.high else -1.0
        low, high = short.low, short.high
    try:
        up = min(MOST_MOVED, frame.rise - LOWERED_BY_FULLNESS + frame.hip_level - CROTCH_BELOW_HIP)
        seat, lowered = moved_seat(frame, wanted, fullness, up, MOST_MOVED)
    except NoSolution as short:
        raise MeasureError(
            f"Body rise {body['body_rise']:.1f} cm and crotch length {measured.cm:.1f} cm cannot both be.",
            where=f"body '{body.name}': body rise, crotch length total",
            mend="Measure both again; with this rise and hip the crotch length can be "
            f"{between(min(short.low, low) - CROTCH_EASE, max(short.high, high) - CROTCH_EASE)}.",
        ) from short
    if abs(lowered) < WORTH_SAYING:
        return seat, ()
    text = (
        f"Body rise and crotch length disagree: the crotch line was {'lowered' if lowered > 0 else 'raised'} "
        f"by {abs(lowered):.1f} cm to meet the crotch length. Measure both again before you cut."
    )
    return seat, (Note(text, measure="crotch_length_total", by=lowered),)


def _seat_of_estimate(frame: Frame, wanted: float) -> tuple[Seat, tuple[Note, ...]]:
    """An estimated crotch length shapes the seat only as far as FIRM, and never moves the crotch line."""
    text = "The crotch length is estimated, so it shapes the seat only in part: tape it before you cut."
    try:
        return fitted_seat(frame, wanted, FIRM)[0], (Note(text),)
    except NoSolution as short:
        seat = draw_seat(frame, FIRM if wanted > short.high else -FIRM)
        by = min(max(wanted, short.low), short.high) - wanted
        text = (
            f"{text} The crotch seam came {abs(by):.1f} cm {'longer' if by > 0 else 'shorter'} than estimated."
        )
        return seat, (Note(text, measure="crotch_length_total", by=by),)


# ---- front and back apart ------------------------------------------------------------------------


def balanced_seat(
    body: Body, frame: Frame, front_crotch: float, pattern: str
) -> tuple[Frame, Seat, tuple[Note, ...]]:
    """The seat whose front part of the crotch seam has the taped length and its share of the ease. [cm]

    The waist is turned about the side seam: as much as it climbs in front (a belly) it falls behind, or the
    other way round (a flat front, a full seat). The whole crotch length stays as it is.
    Raises ChoiceError with the lengths that are possible.
    """

    def at(slope_deg: float) -> tuple[Frame, Seat, tuple[Note, ...]]:
        turned = with_shift(replace(frame, side_slope_deg=slope_deg))
        return turned, *seat_for(body, turned)

    def front(slope_deg: float) -> float:
        turned, seat, _ = at(slope_deg)
        return front_at_natural_waist(turned, seat)

    middle = frame.side_slope_deg
    try:
        return at(solve(front, front_crotch + FRONT_EASE, *_turns(front, middle), tolerance=SOLVE))
    except NoSolution as short:
        low, high = short.low - FRONT_EASE, short.high - FRONT_EASE
        raise ChoiceError(
            f"A front crotch length of {front_crotch:g} cm does not go with this body's crotch length.",
            where=f"pattern '{pattern}', choice 'front_crotch'",
            mend=f"Measure both again; from {math.ceil(10 * low) / 10:g} to {math.floor(10 * high) / 10:g} cm "
            "is possible.",
        ) from short


def _turns(front: Callable[[float], float], middle: float) -> tuple[float, float]:
    """The slopes between which the waist may be turned: as far as the crotch length is still met there."""
    for turns in (WAIST_TURNS_DEG, WAIST_TURNS_DEG / 2, WAIST_TURNS_DEG / 4):
        try:
            front(middle - turns)
            front(middle + turns)
        except MeasureError:
            continue
        return middle - turns, middle + turns
    return middle, middle


def crotch_level(body: Body, frame: Frame, seat: Seat, runs: tuple[tuple[str, str, int], ...]) -> Level:
    """The promise that the crotch seam is as long as the body asks, along the edges that are sewn to it.

    Where the waist lies lower than the natural one the seam is shorter by what both centre lines lose.
    """
    lost = at_natural_waist(frame, seat) - seat.crotch_length
    body_length = body["crotch_length_total"]
    return Level("crotch_length_total", "Crotch length", runs, body_length, CROTCH_EASE - lost)


def front_crotch_level(frame: Frame, seat: Seat, taped: float, runs: tuple[tuple[str, str, int], ...]) -> Level:
    """The same of the front part, where that was taped."""
    lost = front_at_natural_waist(frame, seat) - seat.front_crotch.length()
    return Level("front_crotch", "Front crotch length", runs, taped, FRONT_EASE - lost)
