"""The curve kernel: points, strokes, curves, and what a cutter does with them. No garment word in it."""

from clothwise.curve.construct import corner, line, sweep
from clothwise.curve.crossing import (
    Crossing,
    crossings,
    crossings_at_x,
    crossings_at_y,
    crossings_with_line,
    self_crossings,
)
from clothwise.curve.curve import Curve, joined, polyline
from clothwise.curve.nearest import Nearest, nearest
from clothwise.curve.offset import NoParallel, parallel, parallel_outline
from clothwise.curve.outline import anticlockwise, area_cm2, closed, inside, simple
from clothwise.curve.point import DOWN, LEFT, RIGHT, UP, Point, Vector, heading, meeting
from clothwise.curve.segment import Cubic, Line, Segment
from clothwise.curve.solve import NoSolution, solve

__all__ = [
    "DOWN",
    "LEFT",
    "RIGHT",
    "UP",
    "Crossing",
    "Cubic",
    "Curve",
    "Line",
    "Nearest",
    "NoParallel",
    "NoSolution",
    "Point",
    "Segment",
    "Vector",
    "anticlockwise",
    "area_cm2",
    "closed",
    "corner",
    "crossings",
    "crossings_at_x",
    "crossings_at_y",
    "crossings_with_line",
    "heading",
    "inside",
    "joined",
    "line",
    "meeting",
    "nearest",
    "parallel",
    "parallel_outline",
    "polyline",
    "self_crossings",
    "simple",
    "solve",
    "sweep",
]
