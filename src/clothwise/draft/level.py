"""Levels: where the waist, hip, knee and hem lie below the waist, and a line drawn across a piece there.

Depths run down from the natural waist, which is y = 0 on every piece; y points up, cm.
Source: house rule, 2026-11, proved on the bodies of `benchmarks.drafts`; other sources stand at their line.
"""

from __future__ import annotations

from collections.abc import Iterable

from clothwise.body import Body
from clothwise.curve import Curve, Line, Point, line, solve
from clothwise.draft.pattern import Choice
from clothwise.errors import DraftError
from clothwise.garment import Mark
from clothwise.garment.piece import MarkKind
from clothwise.tolerance import SOLVE

FULL_BELOW_ANKLE = 2.0  # cm below the ankle bone: covers it, and clears the floor by a hand's width of heel
FULL_OF_ANKLE = 0.4  # and at most this share of the way to the floor: small children have low ankles
MAXI_ABOVE_ANKLE = 3.0  # cm above the ankle bone: no stair catches it
ABOVE_KNEE = 0.22  # of the way from the crotch to the knee, up from the knee: 6 cm on an adult, 4 on a child
MINI_OF_KNEE = 0.72  # of waist to knee: two hands above the knee
BELOW_KNEE = 0.05  # of waist to knee: the skirt's hem covers the kneecap
MIDI_TO_ANKLE = 0.55  # of the way from knee to ankle: under the fullest calf, where the leg is slim again
CALF_BELOW_KNEE = 0.30  # of the way from knee to ankle: the fullest calf. Trade knowledge, 10-12 cm
LEAST_CLEAR = 1.0  # cm: the lowest hem still clears the floor


def leg_length_choice(lengths: Iterable[str]) -> Choice:
    """How long a leg is, by the levels of the draft; the first main choice of all trousers."""
    return Choice(
        "length",
        "Where the leg ends.",
        options=tuple(lengths),
        default="full",
        changes="hem; the leg is cut off, not redrawn",
        main=True,
    )


def longer_choice(most: float, changes: str = "hem") -> Choice:
    """The choice that lengthens (+, up to `most`) or shortens (-) what the length word says. [cm]"""
    return Choice(
        "longer",
        "Longer (+) or shorter (-) than the length says.",
        unit="cm",
        low=-20.0,
        high=most,
        default=0.0,
        changes=changes,
    )


def full(body: Body) -> float:
    """Depth of a full-length trouser hem below the waist. [cm]"""
    ankle_height = body["body_rise"] + body["inside_leg"] - body["waist_to_ankle"]
    return body["waist_to_ankle"] + min(FULL_BELOW_ANKLE, FULL_OF_ANKLE * ankle_height)


def mid_calf(body: Body) -> float:
    """Depth of a hem below the fullest calf. [cm]"""
    knee, ankle = body["waist_to_knee"], body["waist_to_ankle"]
    return knee + MIDI_TO_ANKLE * (ankle - knee)


def above_knee(body: Body) -> float:
    """Depth of the hem of shorts that end above the knee. [cm]"""
    knee = body["waist_to_knee"]
    return knee - ABOVE_KNEE * (knee - body["body_rise"])


def mini(body: Body) -> float:
    """Depth of the hem of a short skirt. [cm]"""
    return MINI_OF_KNEE * body["waist_to_knee"]


def knee(body: Body) -> float:
    """Depth of a skirt hem that just covers the knee. [cm]"""
    return (1 + BELOW_KNEE) * body["waist_to_knee"]


def maxi(body: Body) -> float:
    """Depth of the hem of a long skirt. [cm]"""
    return body["waist_to_ankle"] - MAXI_ABOVE_ANKLE


def fullest_calf(body: Body) -> float:
    """Depth of the fullest calf below the waist. [cm]"""
    return body["waist_to_knee"] + CALF_BELOW_KNEE * (body["waist_to_ankle"] - body["waist_to_knee"])


def crossing(curve: Curve, y: float) -> Point:
    """Where a line that only falls, or only climbs, passes a level. DraftError when it does not."""
    stroke, t = _passing(curve, y)
    return curve.strokes[stroke].at(t)


def distance_to(curve: Curve, y: float) -> float:
    """How far along such a line that level is reached, from its start. [cm]"""
    stroke, t = _passing(curve, y)
    return curve.length_to(stroke, t)


def across(name: str, kind: MarkKind, one: Curve, other: Curve, y: float) -> Mark:
    """A level line drawn across a piece from one of its seams to the other."""
    return Mark(name, kind, line(crossing(one, y), crossing(other, y)))


def _passing(curve: Curve, y: float) -> tuple[int, float]:
    for number, stroke in enumerate(curve.strokes):
        if (stroke.start.y - y) * (stroke.end.y - y) <= 0:
            if isinstance(stroke, Line):
                return number, (y - stroke.start.y) / (stroke.end.y - stroke.start.y)
            return number, solve(lambda t, at=stroke.at: at(t).y, y, 0.0, 1.0, tolerance=SOLVE)  # type: ignore[misc]
    raise DraftError(
        f"A line from {-curve.start.y:.1f} to {-curve.end.y:.1f} cm below the waist does not reach {-y:.1f}.",
        where="levels of the draft",
        mend="Measure waist to hip, body rise, waist to knee and waist to ankle again: they disagree.",
    )
