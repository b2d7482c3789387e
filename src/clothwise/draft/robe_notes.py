"""What a sewer of a robe should know before she cuts: fire, and children's rules."""

from __future__ import annotations

from clothwise.body import Body
from clothwise.garment import Note


def notes(body: Body, *, jacket: bool) -> tuple[Note, ...]:
    """Wide sleeves and skirts near a flame; rules for children's nightwear."""
    if jacket:
        return ()
    if body.child:
        text = (
            "A gown for a child counts as nightwear in many countries and has rules against fire for cloth and "
            "labels: keep to the local ones, choose cloth that burns slowly, and keep it away from flames."
        )
        return (Note(text),)
    return (
        Note("Wide sleeves and loose skirts catch fire at hob, candle and stove: keep them away from flames."),
    )
