"""Points are places, vectors are ways between them; y points up, lengths in cm, angles in degrees.

NamedTuples of plain floats: a draft makes thousands of them and must answer within a few milliseconds.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from clothwise.tolerance import PARAMETER


class Vector(NamedTuple):
    """A way: so far right, so far up."""

    x: float
    y: float

    @property
    def length(self) -> float:
        return math.hypot(self.x, self.y)

    @property
    def angle_deg(self) -> float:
        """Direction, anticlockwise from the right, -180 to 180."""
        return math.degrees(math.atan2(self.y, self.x))

    def times(self, k: float) -> Vector:
        return Vector(self.x * k, self.y * k)

    def plus(self, other: Vector) -> Vector:
        return Vector(self.x + other.x, self.y + other.y)

    def minus(self, other: Vector) -> Vector:
        return Vector(self.x - other.x, self.y - other.y)

    def dot(self, other: Vector) -> float:
        return self.x * other.x + self.y * other.y

    def cross(self, other: Vector) -> float:
        """Positive when `other` lies to the left."""
        return self.x * other.y - self.y * other.x

    def unit(self) -> Vector:
        """The same direction, length one. ValueError for the zero vector: it has no direction."""
        size = math.hypot(self.x, self.y)
        if size == 0:
            raise ValueError("a zero vector has no direction")
        return Vector(self.x / size, self.y / size)

    def left(self) -> Vector:
        """Turned 90 degrees anticlockwise."""
        return Vector(-self.y, self.x)

    def right(self) -> Vector:
        """Turned 90 degrees clockwise."""
        return Vector(self.y, -self.x)

    def back(self) -> Vector:
        return Vector(-self.x, -self.y)

    def turned(self, angle_deg: float) -> Vector:
        c, s = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
        return Vector(self.x * c - self.y * s, self.x * s + self.y * c)


RIGHT = Vector(1.0, 0.0)
UP = Vector(0.0, 1.0)
LEFT = Vector(-1.0, 0.0)
DOWN = Vector(0.0, -1.0)


def heading(angle_deg: float) -> Vector:
    """Unit vector in that direction, anticlockwise from the right."""
    return Vector(math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg)))


class Point(NamedTuple):
    """A place on the drawing."""

    x: float
    y: float

    def up(self, by: float) -> Point:
        return Point(self.x, self.y + by)

    def down(self, by: float) -> Point:
        return Point(self.x, self.y - by)

    def right(self, by: float) -> Point:
        return Point(self.x + by, self.y)

    def left(self, by: float) -> Point:
        return Point(self.x - by, self.y)

    def go(self, way: Vector, distance: float = 1.0) -> Point:
        """The point reached by going `distance` times along `way`."""
        return Point(self.x + way.x * distance, self.y + way.y * distance)

    def to(self, other: Point) -> Vector:
        """The way from here to there."""
        return Vector(other.x - self.x, other.y - self.y)

    def distance(self, other: Point) -> float:
        return math.hypot(other.x - self.x, other.y - self.y)

    def between(self, other: Point, share: float = 0.5) -> Point:
        """The point at that share of the straight way to `other`."""
        return Point(self.x + (other.x - self.x) * share, self.y + (other.y - self.y) * share)

    def rotated(self, about: Point, angle_deg: float) -> Point:
        return about.go(about.to(self).turned(angle_deg))

    def mirrored(self, through: Point, along: Vector) -> Point:
        """Reflected in the line through a point along a direction."""
        unit = along.unit()
        way = through.to(self)
        return through.go(unit.times(2 * way.dot(unit)).minus(way))


def meeting(a: Point, along_a: Vector, b: Point, along_b: Vector) -> Point | None:
    """Where two straight lines meet; None when they run parallel (to the last digits)."""
    turn = along_a.cross(along_b)
    if abs(turn) <= PARAMETER * along_a.length * along_b.length:
        return None
    return a.go(along_a, a.to(b).cross(along_b) / turn)
