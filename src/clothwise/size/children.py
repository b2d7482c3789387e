"""A child's sizes: width by girth, length by height, and how long each will serve.

width    the size chosen at the girths; serves until the ease there has shrunk to the floor
length   the size whose height is nearest; serves until the next size's would be nearer
roomy    the next size in length: growth takes length first, and a hem can be let down
"""

from __future__ import annotations

from collections.abc import Mapping

from clothwise.body import Body, definition
from clothwise.shelf.levels import level as level_of
from clothwise.shelf.pattern import BoughtPattern
from clothwise.size.chart import Graded, graded, label
from clothwise.size.growth import Growing, SizeWear, age_of_height, known_measures, months_until
from clothwise.size.levels_held import Asked

ROOM_SHOWN = ("height", "bust", "waist", "hip", "back_length", "sleeve_length", "inside_leg")


def growing_of(
    body: Body, pattern: BoughtPattern, view: str, asked: tuple[Asked, ...], places: Mapping[str, int]
) -> Growing | None:
    """For a child and a chart that gives heights; else None."""
    height = graded(pattern, view, "height", 0.0)
    if not body.child or height is None or "height" not in body or not asked:
        return None
    age = body.age_years if body.age_years is not None else age_of_height(body.figure, body["height"])
    hanger = asked[0] if asked[0].level == "bust" else asked[-1]
    length = nearest(height, body["height"])
    last = len(pattern.sizes) - 1
    roomy = length + 1 if length < last else None
    wear = [
        SizeWear(
            label(pattern, place),
            "height",
            months_until(body.figure, age, "height", body["height"], _until(height, place)),
        )
        for place in (length, roomy)
        if place is not None
    ]
    for one in asked:
        measure = level_of(one.level).body
        if not one.free and measure in known_measures():
            limit = one.grading.finished_at(places[one.level]) - one.floor
            wear.append(
                SizeWear(
                    label(pattern, places[one.level]),
                    one.level,
                    months_until(body.figure, age, measure, one.body, limit),
                )
            )
    surveyed = not body.baby and body["height"] >= definition("height").child[0]
    return Growing(
        label(pattern, places[hanger.level]),
        label(pattern, length),
        "" if roomy is None else label(pattern, roomy),
        _room(pattern, view, {"length": length, "girth": places[hanger.level]}),
        tuple(wear) if surveyed else (),
        age,
        body.age_years is None,
    )


def nearest(height: Graded, cm: float) -> int:
    """The size whose height is nearest; half way between, the larger."""
    return min(height.places, key=lambda place: (abs(height.chart_at(place) - cm), -place))


def _until(height: Graded, place: int) -> float:
    """The height at which the next size would be nearer. [cm]"""
    if place == height.places[-1]:
        return height.chart_at(place)
    return (height.chart_at(place) + height.chart_at(place + 1)) / 2


def _room(pattern: BoughtPattern, view: str, today: Mapping[str, int]) -> tuple[tuple[str, float], ...]:
    """What the next size gives more, for every measure of the chart."""
    found = []
    for name in ROOM_SHOWN:
        place = today[level_of(name).kind]
        row = graded(pattern, view, name, 0.0) if name in pattern.body else None
        if row is not None and place + 1 in row.places and place in row.places:
            found.append((name, row.chart_at(place + 1) - row.chart_at(place)))
    return tuple(found)
