"""The body: measures, how to take them, what the rest is likely to be, and slips of the tape."""

from clothwise.body.body import Body, Figure, Measure, Source

__all__ = ["Body", "Figure", "Measure", "Source"]
