"""Pictures in the reader's language: the words in them, and what they show for those who cannot see them."""

from __future__ import annotations

from dataclasses import replace

from clothwise.garment import Garment
from clothwise.sew.ink import Item, Label, Picture
from clothwise.sew.language import Language
from clothwise.sew.phrases import Telling, capital
from clothwise.sew.step import Step
from clothwise.sew.words import step_title


def spoken_garment(garment: Garment, said: Language) -> Garment:
    """The same garment, its pieces entitled in the language."""
    pieces = tuple(replace(p, title=capital(said.word("piece", p.title))) for p in garment.pieces)
    return replace(garment, pieces=pieces)


def spoken(picture: Picture, t: Telling, step: Step | None = None) -> Picture:
    """The picture with its words and its alternative text in the language of the telling."""
    title = step_title(step, t) if step else ""
    alt = t(f"alt.{picture.alt}", step=title, garment=t.said.word("garment", t.garment.title))
    return Picture(tuple(_item(item, t) for item in picture.items), alt)


def _item(item: Item, t: Telling) -> Item:
    if not isinstance(item, Label) or not item.kind:
        return item
    if item.kind == "edge":
        text = t.edge(item.text)
    else:
        text = t.sign(item.text) if item.kind == "sign" else t(f"picture.{item.text}")
    return replace(item, text=text, kind="")
