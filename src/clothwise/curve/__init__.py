"""The curve kernel: points, strokes, curves, and what a cutter does with them. No garment word in it."""

from clothwise.curve.construct import corner, line, sweep
from clothwise.curve.curve import Curve, joined, polyline
from clothwise.curve.nearest import Nearest, nearest
from clothwise.curve.point import DOWN, LEFT, RIGHT, UP, Point, Vector, heading, meeting
from clothwise.curve.segment import Cubic, Line, Segment
from clothwise.curve.solve import NoSolution, solve

__all__ = [
    "DOWN",
    "LEFT",
    "RIGHT",
    "UP",
    "Cubic",
    "Curve",
    "Line",
    "Nearest",
    "NoSolution",
    "Point",
    "Segment",
    "Vector",
    "corner",
    "heading",
    "joined",
    "line",
    "meeting",
    "nearest",
    "polyline",
    "solve",
    "sweep",
]
