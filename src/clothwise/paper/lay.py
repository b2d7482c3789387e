"""A lay plan drawn to be read at the cutting table, in black and white.

Each stage of the cutting is a picture of its own: the cloth as it lies on the table, folds made, right side in,
with every outline that is cut then, once; after it the cloth opened out, with what is cut through one layer.
Cloth runs to the right, its cut end on the left. All is scaled onto the paper; the scale bar says how much.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from clothwise.curve import Point, Vector, polyline
from clothwise.lay.cutting import cutting_sequence, how_to_fold, stages
from clothwise.lay.left_over import left_words
from clothwise.lay.plan import LayPlan
from clothwise.lay.stripes import stripe_words
from clothwise.paper import font
from clothwise.paper.drawing import Drawing, Item, Stroke, Words, arrow_head
from clothwise.paper.lay_panel import END_LABEL, Scale, panel, shown_length
from clothwise.paper.pdf import Book, Page, write_pdf
from clothwise.paper.sheets import sheet
from clothwise.paper.svg import Hung, write_svg

__all__ = ["how_to_fold", "lay_drawing", "lay_pdf", "lay_svg"]

TITLE = 0.5  # cm of type
NOTE = 0.3  # cm of type below the drawing
BAR = 50.0  # cm of cloth that the scale bar shows
HEAD = 1.6  # cm on paper above the first picture, for title and facts
ABOVE, BELOW = 0.85, 0.5  # cm on paper round a picture, for its heading and the names of its edges
FOOT = 0.9  # cm on paper for the scale bar
LINE = NOTE * 1.45  # cm from one note to the next
ARROW_ROOM = 9.0  # cm on paper beside the scale bar: its words, then the arrow of the lengthwise threads
BETWEEN = 1.0  # cm on paper between pictures side by side
UPRIGHT = 0.7  # height over width of a drawing: as a landscape sheet
LEAST_SCALE = 0.01  # paper over cloth: a roll of 20 m is still seen
SVG_WIDTH = 25.0  # cm: an SVG is drawn to be read on a landscape A4 or a screen


def lay_svg(plan: LayPlan, title: str) -> str:
    """The lay plan as SVG, 25 cm wide."""
    return write_svg([Hung(lay_drawing(plan, title, SVG_WIDTH))], title=title, what=_facts(plan))


def lay_pdf(plan: LayPlan, title: str, size: str = "A4", *, made_on: str = "") -> bytes:
    """The lay plan on one sheet, landscape, or upright where that shows it larger."""
    paper = sheet(size)
    long, short = max(paper.width, paper.height), min(paper.width, paper.height)
    rooms = [
        (long - 2 * paper.margin, short - 2 * paper.margin),
        (short - 2 * paper.margin, long - 2 * paper.margin),
    ]
    width, height = max(rooms, key=lambda room: _spread(plan, *room).scale)
    drawing = _drawn(plan, title, _spread(plan, width, height), width)
    left, _, _, top = drawing.bounds()
    across, up = width + 2 * paper.margin, height + 2 * paper.margin
    placed = drawing.moved(paper.margin - left, up - paper.margin - top)
    page = Page(across, up, "Lay", placed, bookmark="Lay plan")
    return write_pdf(Book(title=f"Lay plan: {title}", pages=(page,), made_on=made_on, ident=title))


def lay_drawing(plan: LayPlan, title: str, width: float) -> Drawing:
    """The lay plan at most `width` cm wide on paper, its origin at the first picture's lower left corner."""
    return _drawn(plan, title, _spread(plan, width, width * UPRIGHT), width)


@dataclass(frozen=True, slots=True)
class _Spread:
    """Paper over cloth, and whether the pictures stand side by side or under each other."""

    scale: float
    beside: bool


def _spread(plan: LayPlan, width: float, height: float) -> _Spread:
    """As large as the room allows."""
    shown = stages(plan)
    lines = len(_notes(plan, width)) + len(list(_wrapped(_facts(plan), width))) - 1
    tall = max(height - HEAD - FOOT - lines * LINE, 1.0)
    heights = [stage.table.high - stage.table.low for stage in shown]
    lengths = [shown_length(plan, stage) for stage in shown]
    under = min((width - 1.0) / max(lengths), (tall - len(shown) * (ABOVE + BELOW)) / sum(heights))
    apart = BETWEEN * (len(shown) - 1)
    beside = min((width - 1.0 - apart) / sum(lengths), (tall - ABOVE - BELOW) / max(heights))
    headed = all(
        font.width(_stage_words(plan, k, 0.0), NOTE, bold=True) < length * beside + BETWEEN / 2
        for k, length in enumerate(lengths)
    )
    if len(shown) > 1 and beside > under and headed:
        return _Spread(beside, beside=True)
    return _Spread(max(under, LEAST_SCALE), beside=False)


def _longest(plan: LayPlan) -> float:
    return max(shown_length(plan, stage) for stage in stages(plan))


def _drawn(plan: LayPlan, title: str, spread: _Spread, width: float) -> Drawing:
    items: list[Item] = []
    shown, scale = stages(plan), spread.scale
    tops = [(stage.table.high - stage.table.low) * scale for stage in shown]
    top = max(tops) if spread.beside else tops[0]
    items += _heading(plan, title, top + (ABOVE if len(shown) > 1 else 0.0), width)
    left, base, number = 0.0, 0.0, 1
    for k, (stage, tall) in enumerate(zip(shown, tops, strict=True)):
        if spread.beside:
            base = top - tall  # their upper edges are level
        elif k:
            base -= tall + ABOVE + BELOW
        if len(shown) > 1:
            room = shown_length(plan, stage) * scale + BETWEEN if spread.beside else width
            items.append(
                Words(_stage_words(plan, k, room), Point(left, base + tall + END_LABEL * 1.9), NOTE, bold=True)
            )
        earlier = tuple(one for before in shown[:k] for one in before.cuts)
        at = Scale(scale, stage.table.start - left / scale, stage.table.low, base)
        items += panel(plan, stage, at, number, earlier)
        number += len(stage.cuts)
        if spread.beside:
            left += shown_length(plan, stage) * scale + BETWEEN
    lowest = min(0.0, base) - BELOW - 0.35
    items += _foot(plan, lowest, scale, width)
    return Drawing("lay", title, tuple(items))


# ---- the words -------------------------------------------------------------------------------------


def _heading(plan: LayPlan, title: str, top: float, width: float) -> Iterator[Item]:
    facts = list(_wrapped(_facts(plan), width))
    more = (len(facts) - 1) * LINE
    yield Words(title, Point(0, top + 1.05 + more), TITLE, bold=True)
    for k, line in enumerate(facts):
        yield Words(line, Point(0, top + 0.62 + more - k * LINE), NOTE)


def _stage_words(plan: LayPlan, number: int, room: float) -> str:
    """How the cloth lies in this picture, without the depths where they would run into the next one."""
    if number:
        return f"{number + 1}. Opened out, right side up"
    whole = f"1. {_capital(str(plan.layering))}"
    return whole if font.width(whole, NOTE, bold=True) < room - BETWEEN / 2 else whole.partition(",")[0]


def _facts(plan: LayPlan) -> str:
    cloth = plan.problem.cloth
    left = f"; {cloth.length - plan.length:.0f} cm left over" if cloth.length and cloth.outline is None else ""
    proved = "; no shorter lay exists for this layering" if plan.optimal else ""
    if cloth.outline is not None and cloth.length is not None:
        what = f"a remnant of {cloth.length:.0f} x {cloth.width:.0f} cm, {cloth.area_cm2 / 1e4:.2f} m²"
    else:
        what = f"{plan.length / 100:.2f} m of cloth {cloth.width:.0f} cm wide"
    return f"{_capital(str(plan.layering))}: {what}, {plan.waste:.0%} falls away{left}{proved}"


def _capital(text: str) -> str:
    return text[0].upper() + text[1:]


NAP_WORDS = {
    "one-way": "The cloth has one way: every arrow points to the same end of it.",
    "two-way": "Pieces may point up or down the cloth.",
    "none": "Pieces may point up or down the cloth.",
}


def _nap_words(plan: LayPlan) -> str:
    cloth = plan.problem.cloth
    uneven = cloth.repeat is not None and not cloth.repeat.even and any(p.match for p in plan.problem.pieces)
    if uneven and cloth.nap != "one-way":
        return "The stripes are uneven: all pieces that meet them point to the same end of the cloth."
    return NAP_WORDS[cloth.nap]


def _notes(plan: LayPlan, width: float) -> list[str]:
    """What must be read before the first cut, in lines no wider than the picture."""
    cloth = plan.problem.cloth
    notes = [f"{' '.join(cutting_sequence(plan))} {_nap_words(plan)}"]
    notes += stripe_words(plan)
    if cloth.flaws:
        notes.append("Crossed out: flaws, which no piece touches. Measure them again before you cut.")
    notes += [words] if (words := left_words(plan)) else []
    notes.append(
        "Roll up what hangs over the table's edge: it pulls the cloth askew. Lay all pieces before the first "
        "cut, then cut in the order of the numbers after 'cut'. The first number is the piece's; arrows point "
        "to its top. Hatched: the paper lies face down. Mark wrong sides as you cut."
    )
    return [line for note in notes for line in _wrapped(note, width)]


def _wrapped(text: str, width: float) -> Iterator[str]:
    line = ""
    for word in text.split():
        longer = f"{line} {word}".strip()
        if line and font.width(longer, NOTE) > width:
            yield line
            line = word
        else:
            line = longer
    yield line


def _foot(plan: LayPlan, y: float, scale: float, width: float) -> Iterator[Item]:
    room = (width - ARROW_ROOM) / scale
    length = min(BAR, 10 * int(min(_longest(plan), room) / 10) or 10.0) * scale
    bar = [Point(0, y + 0.12), Point(0, y), Point(length, y), Point(length, y + 0.12)]
    yield Stroke(polyline(bar), "square")
    said = Words(f"{length / scale:.0f} cm of cloth", Point(length + 0.15, y), END_LABEL)
    yield said
    start = length + said.width + 1.2
    yield Stroke(polyline([Point(start, y + 0.08), Point(start + 1.6, y + 0.08)]), "grain")
    yield arrow_head(Point(start + 1.6, y + 0.08), Vector(1, 0), 0.22)
    yield Words("lengthwise threads", Point(start + 1.75, y), END_LABEL)
    for i, note in enumerate(_notes(plan, max(width, 12.0))):
        yield Words(note, Point(0, y - 0.6 - i * LINE), NOTE)
