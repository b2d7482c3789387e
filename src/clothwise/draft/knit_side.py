"""The side seam of a knit body: from the bust down over waist and hip to the hem, alike on front and back.

Drawn downwards, centre on x = 0, the waist y = 0, y up, cm. The seam leaves the bust straight down; at the
waist it is hollowed towards the body as far as the fit allows, at the hip it runs on into the skirt's lean.

    Q  quarter widths at bust, waist, hip

Source: drafting method 5.6 (a hip hardly wider than the bust: one nearly straight curve); the most that a side
may be hollowed is a house rule, 2026-11: beyond it the cloth drags.
"""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.body import Body
from clothwise.curve import DOWN, Curve, Point, Vector, line, sweep
from clothwise.draft.knit import CLOSE, EASY, LOOSE, VERY_LOOSE, ease_of
from clothwise.draft.level import distance_to
from clothwise.draft.pattern import Wish

HOLLOW = {
    CLOSE: 3.5,
    EASY: 1.8,
    LOOSE: 0.6,
    VERY_LOOSE: 0.0,
}  # cm on each edge inside the line from bust to hip
HOLLOW_OF_WAIST = 0.17  # of the quarter's waist at most: a child's hollow is smaller
HANDLE = 0.33  # of the chord: an even bow


@dataclass(frozen=True, slots=True)
class Quarters:
    """Quarter widths of the garment at bust, waist and hip. [cm]"""

    bust: float
    waist: float
    hip: float


def quarters(
    body: Body, wish: Wish, bust_ease: float, hip_ease: float, stretch: float, bust_y: float
) -> Quarters:
    """Widths for this fit; the waist lies on the line from bust to hip but for what the fit takes in. [cm]"""
    fit = str(wish["fit"])
    bust = (body["bust_girth"] + bust_ease) / 4
    hip = (body["hip_girth"] + hip_ease) / 4
    straight = bust + (hip - bust) * bust_y / (bust_y + body["waist_to_hip"])
    wanted = (body["waist_girth"] + ease_of(fit, body["waist_girth"], stretch)) / 4
    hollow = min(HOLLOW[fit], HOLLOW_OF_WAIST * straight)
    return Quarters(bust, max(wanted, straight - hollow), hip)


def side(found: Quarters, bust_y: float, hip_depth: float, depth: float, lean: float) -> Curve:
    """From the bust down to the hem at that depth; below the hip it leans out by `lean` cm a cm."""
    bust, waist, hip = Point(found.bust, bust_y), Point(found.waist, 0.0), Point(found.hip, -hip_depth)
    chord = bust.to(hip).unit()
    straight = bust.x + (hip.x - bust.x) * bust_y / (bust_y + hip_depth)
    upright = min(max(straight - waist.x, 0.0) / HOLLOW[CLOSE], 1.0)  # a hollowed waist is its narrowest place
    through = Vector(chord.x * (1 - upright), chord.y).unit()
    skirt = Vector(lean, -1.0).unit()
    upper = sweep(bust, DOWN, waist, through, HANDLE, HANDLE)
    whole = upper.then(sweep(waist, through, hip, skirt, HANDLE, HANDLE))
    if depth > hip_depth:
        return whole.then(line(hip, hip.go(skirt, (depth - hip_depth) / -skirt.y)))
    return whole.part(0.0, distance_to(whole, -depth))
