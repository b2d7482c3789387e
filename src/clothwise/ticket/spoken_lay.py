"""The lay plan as the booklet shows it, in the booklet's language.

The paper's own drawing speaks English. For another language its pieces get that language's titles, what stands
on them and along the cloth is said in it, and the lines above and below are left to the booklet's own text.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from clothwise.lay.plan import LayPlan
from clothwise.paper.drawing import Drawing, Item, Words
from clothwise.paper.lay import NOTE, SVG_WIDTH, how_to_fold, lay_drawing, lay_svg
from clothwise.paper.lay_panel import END_LABEL
from clothwise.paper.svg import Hung, write_svg
from clothwise.sew.language import NATIVE, Language
from clothwise.sew.phrases import capital


def spoken_lay(plan: LayPlan, title: str, said: Language) -> str:
    """The drawing as SVG."""
    if said.code == NATIVE:
        return lay_svg(plan, title)
    pieces = tuple(replace(p, title=capital(said.word("piece", p.title))) for p in plan.problem.pieces)
    titled = replace(plan, problem=replace(plan.problem, pieces=pieces))
    drawing = lay_drawing(titled, title, SVG_WIDTH)
    spoken = Drawing(drawing.name, drawing.title, tuple(_spoken(drawing.items, said)))
    return write_svg([Hung(spoken)], title=title, what=said.phrase("lay", how_to_fold(plan)), lang=said.code)


def _spoken(items: tuple[Item, ...], said: Language) -> Iterator[Item]:
    """Words on the pieces, along the cloth and over its stages; the rest is heading and notes."""
    for item in items:
        if not isinstance(item, Words):
            yield item
        elif item.anchor == "middle" or item.size == END_LABEL or (item.size == NOTE and item.bold):
            yield replace(item, text=_fragments(item.text, said))


def _fragments(text: str, said: Language) -> str:
    """The fixed fragments of a label in the language, the longest first."""
    table = said.words["on_lay"]
    known = "|".join(re.escape(part) for part in sorted(table, key=len, reverse=True))
    return re.sub(rf"\b(?:{known})\b", lambda found: str(table[found.group()]), text)
