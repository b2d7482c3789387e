"""The seat brought to the body's crotch length, and what the sewer is told when it and the rise disagree.

A taped crotch length is met exactly: first by the fullness of the seat, then by moving the crotch line. An
estimated one shapes the seat only in part. Lengths in cm.
Source: house rule, 2026-11, proved on the bodies of `benchmarks.drafts`.
"""

from __future__ import annotations

from clothwise.body import Body
from clothwise.curve import NoSolution
from clothwise.draft.seat import Frame, Seat, draw_seat, fitted_seat, moved_seat
from clothwise.errors import MeasureError
from clothwise.garment import Note

CROTCH_EASE = 1.5  # cm along the crotch seam: bending; the rise's ease adds its own (house rule)
FIRM = 0.5  # an estimated crotch length may shape the seat only half as far as a taped one
MOST_MOVED = 4.0  # cm: further than this rise and crotch length contradict each other
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
        seat, lowered = moved_seat(frame, wanted, fullness, MOST_MOVED)
    except NoSolution as short:
        raise MeasureError(
            f"Body rise {body['body_rise']:.1f} cm and crotch length {measured.cm:.1f} cm cannot both be.",
            where=f"body '{body.name}': body rise, crotch length total",
            mend=f"Measure both again; with this rise and hip the crotch length can be "
            f"{min(short.low, low) - CROTCH_EASE:.0f} to {max(short.high, high) - CROTCH_EASE:.0f} cm.",
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
