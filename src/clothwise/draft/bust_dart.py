"""Where the bust dart goes: the choice, and the front with its dart there, in one or two.

Source: house rule, 2026-11: armhole at its hollow, shoulder in the middle, the French dart low on the side.
"""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.curve import line
from clothwise.draft.bodice import Frame
from clothwise.draft.darts import Ring, merged, moved_down, moved_up, place_of, sewn
from clothwise.draft.pattern import Choice
from clothwise.draft.top_body import BUST_MOUTH, Outline, across, over_dart, renamed
from clothwise.errors import ChoiceError
from clothwise.garment import Dart, Mark

SIDE, SHOULDER, ARMHOLE, FRENCH = "side", "shoulder", "armhole", "French"
WAIST = "waist"  # only where there is a waist seam
ARMHOLE_AT = 0.40  # of the front armhole from the underarm: in its hollow, below the front notch's reach
SHOULDER_AT = 0.50  # of the shoulder
FRENCH_ABOVE_WAIST = 0.25  # of the bust line's height over the waist
FRENCH_LEAST = 2.5  # cm of side seam left above a French dart at least
WIDEST = 7.0  # cm at its mouth: a wider dart makes a point, so it is split in two
SECOND = {SIDE: FRENCH, SHOULDER: SIDE, ARMHOLE: SIDE, FRENCH: SIDE}  # where the other half goes

POINT_MARK = 0.5  # cm: half the stroke that marks the bust point

PLACE_CHOICE = Choice(
    "dart",
    "Where the bust dart begins; on a body without a cup there is none.",
    options=(SIDE, SHOULDER, ARMHOLE, FRENCH),
    default=SIDE,
    changes="front",
)
SPLIT_CHOICE = Choice(
    "dart_split",
    "A bust dart wider than this at its mouth is made as two.",
    unit="cm",
    low=3.0,
    high=12.0,
    default=WIDEST,
    changes="front: a second dart",
)
FRENCH_MOUTH = "french_dart_mouth"
NAMES = {"side": ("lower", "upper", "top"), "armhole": ("low", "high"), "shoulder": ("outer", "inner")}


@dataclass(frozen=True, slots=True)
class Darted:
    """A front with its bust darts where they were asked: ring, darts, bust line; how many darts."""

    ring: Ring
    darts: tuple[Dart, ...]
    bust_line: Mark
    bust: float  # width of the half front along the bust line, the dart sewn [cm]


def darted(frame: Frame, front: Outline, place: str, split_over: float) -> Darted:
    """The front's ring with the dart at that place; two when it would be wider than `split_over`. [cm]"""
    ring = front.ring()
    bust = frame.bust
    if bust is None:
        return Darted(ring, (), across("bust", ring, frame.bust_level), frame.side_front)
    two = bust.lower_leg.distance(bust.upper_leg) > split_over
    angle = bust.dart_deg / 2 if two else bust.dart_deg
    moved = SECOND[place] if place == SIDE and two else place
    end = bust.lower_leg
    if moved in (SHOULDER, ARMHOLE):
        share = SHOULDER_AT if moved == SHOULDER else ARMHOLE_AT
        at = share * ring[place_of(ring, moved)].curve.length()
        ring = moved_up(ring, BUST_MOUTH, bust.point, angle, moved, at, f"{moved}_dart_mouth")
        ring = merged(ring, "side_lower", "side_upper", "side")
    elif moved == FRENCH:
        ring = moved_down(
            ring, BUST_MOUTH, bust.point, angle, "side_lower", _french(frame, front), FRENCH_MOUTH
        )
        ring = merged(ring, "side_lower_high", "side_upper", "side_upper")
        end = end.rotated(bust.point, angle)
    for stem, names in NAMES.items():
        ring = renamed(ring, stem, names)
    ring, darts = sewn(ring, bust.point)
    french = next((dart for dart in darts if dart.edge == FRENCH_MOUTH), None)
    line_ = (
        over_dart("bust", frame.bust_level, french, end) if french else across("bust", ring, frame.bust_level)
    )
    taken = line_.curve.strokes[1].start.distance(line_.curve.strokes[1].end) if french else 0.0
    return Darted(ring, darts, line_, line_.curve.length() - taken)


def _french(frame: Frame, front: Outline) -> float:
    """Distance from the hem along the lower side at which a French dart opens. [cm]"""
    from_top = (1 - FRENCH_ABOVE_WAIST) * frame.bust_level
    if from_top < FRENCH_LEAST:
        raise ChoiceError(
            "A French dart finds no room between bust and waist.",
            where="choice 'dart'",
            mend="Choose the side, the shoulder or the armhole.",
        )
    return front.side.length() - from_top


def bust_point(frame: Frame) -> tuple[Mark, ...]:
    """A short stroke where the bust point lies, to see where the darts point."""
    if frame.bust is None:
        return ()
    at = frame.bust.point
    return (Mark("bust_point", "note", line(at.left(POINT_MARK), at.right(POINT_MARK))),)
