"""How a top opens at the back so that it can be put on: a faced slit or keyhole, or a zip in a centre back
seam.

A slit and a keyhole are stitched on facing and back together, then cut open between the stitching. Lengths in
cm. Source: house rule, 2026-11; rules of the trade D (slit half of what the head lacks, and 1-2), G
(allowance of a bound vent 0.3, of a zip 1.9).
"""

from __future__ import annotations

import math
from dataclasses import replace

from clothwise.body import Body
from clothwise.curve import DOWN, LEFT, Curve, Point, corner, line, sweep
from clothwise.draft.darts import Part, Ring
from clothwise.draft.pattern import Choice
from clothwise.draft.top_body import level_x
from clothwise.garment import Note, Notion

SLIT, KEYHOLE, ZIP = "slit", "keyhole", "zip"
SLIT_HALF = 0.35  # cm: half the width between the two lines of stitching of a slit, at the neck
KEYHOLE_HALF = 1.4  # cm: half the width of a keyhole at its widest,
KEYHOLE_AT = 0.62  # at this share of its length from the neck
ALLOWANCE = 0.3  # cm inside a slit or keyhole
ZIP_ALLOWANCE = 1.9  # cm at a centre back seam with a zip (rule)
ZIP_STEP = 5.0  # cm: zips are sold in such lengths
ZIP_BELOW_WAIST = 0.55  # of waist to hip: a waist opens over the hips from there
LEAST_SEAM = 4.0  # cm of centre back seam below a zip
BUTTON_WIDTH = 1.2  # cm
SMALL_PARTS = (
    "A button is a small part that a small child can swallow: sew it on with doubled thread, try it with a "
    "firm pull, and keep to the rules for children's clothing where you live."
)

CHOICE = Choice(
    "back_opening",
    "How it opens at the back where neck or waist would not let the body in; left open a slit, or a zip where "
    "the waist is shaped.",
    options=(SLIT, KEYHOLE, ZIP),
    changes="centre back, back neck facing",
)


def opening_curve(kind: str, neck: Curve, length: float) -> Curve:
    """The edge of a slit or keyhole, from the neck down to the centre line, square to it."""
    top = neck.at_length(level_x(neck, SLIT_HALF))
    low = Point(0.0, neck.end.y - length)
    if kind == SLIT:
        turn = Point(SLIT_HALF, low.y + SLIT_HALF)
        return line(top, turn).then(corner(turn, DOWN, low, LEFT))
    wide = Point(KEYHOLE_HALF, top.y - KEYHOLE_AT * length)
    return sweep(top, DOWN, wide, DOWN).then(corner(wide, DOWN, low, LEFT))


def with_opening(ring: Ring, name: str, opening: Curve) -> Ring:
    """The ring with an opening at its centre, from where the neck meets it down to the centre line."""
    neck, centre = ring[-2], ring[-1]
    kept, _ = neck.curve.split(level_x(neck.curve, opening.start.x))
    below = Part(centre.name, line(opening.end, centre.curve.end))
    return (*ring[:-2], replace(neck, curve=kept), Part(name, opening), below)


def zip_length(body: Body, neck_y: float) -> float:
    """Length of the zip: to below the waist, in a length that is sold. [cm]"""
    return math.ceil((neck_y + ZIP_BELOW_WAIST * body["waist_to_hip"]) / ZIP_STEP) * ZIP_STEP


def with_zip(ring: Ring, length: float) -> Ring:
    """The ring with its centre parted into what the zip is set in and the seam below it."""
    centre = ring[-1]
    upper, lower = centre.curve.split(length)
    return (*ring[:-1], Part(ZIP, upper), Part(centre.name, lower))


def button(place: str) -> Notion:
    return Notion("button", f"Button {BUTTON_WIDTH:g} cm, with a thread loop", place=place, count=1)


def notes(body: Body, kind: str) -> tuple[Note, ...]:
    """What to know before cutting a slit or keyhole."""
    found = [
        Note(f"Do not cut the {kind} open yet: stitch it on the facing first, then cut between the stitching.")
    ]
    if body.child:
        found.append(Note(SMALL_PARTS))
    return tuple(found)
