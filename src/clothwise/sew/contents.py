"""What a booklet, card or page says of one make: a plain value in, plain text and pictures out.

Whatever a person typed goes in as data, never as markup; every figure is already in the sewer's units.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from clothwise.cloth import Cloth
from clothwise.garment import Garment, Notion, Piece
from clothwise.garment.haberdashery import bindings, finished_measures
from clothwise.paper import font
from clothwise.sew import page_words as pages
from clothwise.sew.cautions import cautions
from clothwise.sew.details import detail_picture, key_pictures, pieces_picture
from clothwise.sew.ink import Picture, svg
from clothwise.sew.manners import manners
from clothwise.sew.minutes import Minutes
from clothwise.sew.phrases import hours, length
from clothwise.sew.pictures import step_picture
from clothwise.sew.sewer import Sewer, Units
from clothwise.sew.step import Step
from clothwise.sew.words import step_words
from clothwise.sew.worn import worn_picture

Sheet = Literal["A4", "Letter", "Phone"]
SHEETS: Mapping[str, str] = {"A4": "a4", "Letter": "us-letter", "Phone": "phone"}

STEP_ROOM = (76.0, 84.0)  # mm: width and height of a step's picture
STEP_SCALE = 3.4  # mm on paper for a cm at most: a pocket is not drawn as large as a leg
PHONE_ROOM = (76.0, 62.0)  # on a phone: the words below a picture begin on the same page
LARGE_ROOM, LARGE_SCALE, LARGE_LETTERS = (150.0, 80.0), 4.0, 1.6  # the same in large print
DETAIL_ROOM = (76.0, 30.0)
TITLE_ROOM = (150.0, 118.0)
PIECES_ROOM = (165.0, 62.0)
KEY_ROOM = (24.0, 15.0)
ORDINARY = 1.5  # cm: seam allowance where nothing else is known
GRAM_RANGE = 2000.0  # g/m2 beyond which a weight is a slip

LINES_CM = 10.0  # cm below which a haberdashery length is said in cm, above in m


@dataclass(frozen=True, slots=True)
class BookletContent:
    """All that a booklet is made from, gathered by the ticket.

    title     of the make as the sewer calls it; for_whom the wearer
    made_on   ISO date printed on it, or ''; no clock is read
    measures  (title, cm, 'taped' or 'estimated') of the body, as far as the draft used them
    notions   what is bought besides cloth, from haberdashery()
    lay_svg   drawing of the lay, or ''; lay_note what it uses, in words
    large     large print: type a good third larger, one column
    tips      further hints of the house for this make
    """

    garment: Garment
    steps: tuple[Step, ...]
    minutes: Minutes
    cloth: Cloth
    sewer: Sewer
    title: str = ""
    for_whom: str = ""
    made_on: str = ""
    measures: tuple[tuple[str, float, str], ...] = ()
    notions: tuple[Notion, ...] = ()
    lay_svg: str = ""
    lay_note: str = ""
    sheet: Sheet = "A4"
    large: bool = False
    tips: tuple[str, ...] = ()


# ---- pictures ----------------------------------------------------------------------------------

Pictures = dict[str, tuple[str, str]]  # file name -> SVG, alternative text


def pictures_of(content: BookletContent) -> Pictures:
    garment, units = content.garment, content.sewer.units
    found: Pictures = {}
    letters = LARGE_LETTERS if content.large else 1.0
    step_room, step_scale = (LARGE_ROOM, LARGE_SCALE) if content.large else (STEP_ROOM, STEP_SCALE)
    step_room = PHONE_ROOM if content.sheet == "Phone" else step_room

    def keep(name: str, picture: Picture, room: tuple[float, float], most: float = 10.0) -> None:
        found[name] = (svg(picture, *room, most_scale=most, letters=letters), picture.alt)

    for front, name in ((True, "front.svg"), (False, "back.svg")):
        keep(name, worn_picture(garment, front=front), (TITLE_ROOM[0] / 2, TITLE_ROOM[1]))
    keep("pieces.svg", pieces_picture(garment), PIECES_ROOM)
    for name, picture in key_pictures().items():
        keep(f"key_{name}.svg", picture, KEY_ROOM)
    for step in content.steps:
        picture = step_picture(garment, content.steps, step.number)
        keep(f"step{step.number}.svg", picture, step_room, most=step_scale)
        detail = detail_picture(step, units)
        if detail:
            keep(f"detail{step.number}.svg", detail, DETAIL_ROOM, most=8.0)
    if content.lay_svg:
        found["lay.svg"] = (content.lay_svg, content.lay_note or pages.LABELS["lay"])
    return found


# ---- data --------------------------------------------------------------------------------------


def told(content: BookletContent, pictures: Pictures) -> dict[str, Any]:
    """Everything the template prints, as plain text."""
    garment, units, cloth = content.garment, content.sewer.units, content.cloth
    cloth_manners = manners(cloth)
    return {
        "sheet": SHEETS[content.sheet],
        "large": content.large,
        "family": font.FAMILY,
        "labels": pages.LABELS,
        "title": _tidy(content.title or garment.title),
        "garment": garment.title,
        "for_whom": _tidy(content.for_whom),
        "made_on": content.made_on,
        "choices": _choices(garment, units),
        "time": _time(content),
        "body": [
            {
                "what": _tidy(what[:1].upper() + what[1:]),
                "cm": length(cm, units),
                "source": source if source == "estimated" else "",
            }
            for what, cm, source in content.measures
        ],
        "finished": [{"what": what, "cm": length(cm, units)} for what, cm in _finished(garment)],
        "notes": [note.text for note in garment.notes],
        "cloth": _cloth(cloth, units),
        "notions": [
            *(_notion(notion, units) for notion in content.notions),
            *(_instead(notion, units) for notion in bindings(garment)),
        ],
        "tools": [*pages.TOOLS, pages.LABELS["needle"].format(needle=cloth_manners.needle)],
        "pieces": [_piece(piece, units) for piece in garment.pieces],
        "lay_note": _tidy(content.lay_note),
        "before": _before(content),
        "paper": list(pages.PAPER),
        "words": _words(content),
        "tips": [pages.TIPS[tip] for tip in cloth_manners.tips] + [_tidy(tip) for tip in content.tips],
        "steps": [_step(step, content, pictures) for step in content.steps],
        "care": list(pages.CARE),
        "next_time": list(pages.NEXT_TIME),
        "safety": [
            {"title": title, "text": text}
            for title, text in (pages.caution_words(kind) for kind in cautions(garment, cloth))
        ],
        "alt": {name: alt for name, (_, alt) in pictures.items()},
    }


def _finished(garment: Garment) -> list[tuple[str, float]]:
    """Girths and lengths of the garment when done: its levels and what the draft names, else every seam."""
    if not garment.finished:
        return [(m.title, m.cm) for m in finished_measures(garment)]
    named = {name.lower() for name in garment.finished}
    levels = [(lv.title, garment.round(lv.runs)) for lv in garment.levels if lv.title.lower() not in named]
    own = [(name.replace("_", " ").capitalize(), cm) for name, cm in garment.finished.items()]
    return [*own, *levels]


def _tidy(text: str) -> str:
    """Typed text as it is set: one line, printable."""
    return font.tidy(text)


def _choices(garment: Garment, units: Units) -> list[str]:
    """The chosen words, and figures that differ from nothing."""
    found: list[str] = []
    for name, value in garment.choices.items():
        if isinstance(value, str):
            found.append(f"{name.replace('_', ' ').capitalize()}: {value}")
        elif value:
            found.append(f"{name.replace('_', ' ').capitalize()}: {length(value, units)}")
    return found


def _time(content: BookletContent) -> dict[str, object]:
    m = content.minutes
    parts = {name: getattr(m, name) for name in pages.TIME_ROWS}
    return {
        "likely": hours(m.likely),
        "low": hours(m.low),
        "high": hours(m.high),
        "rows": [[pages.TIME_ROWS[name], hours(value)] for name, value in parts.items() if value > 0],
        "wait": f"{m.wait_hours:g} h" if m.wait_hours else "",
    }


def _cloth(cloth: Cloth, units: Units) -> list[list[str]]:
    rows = [["", _tidy(cloth.name)]]
    if cloth.kind:
        rows.append([pages.LABELS["kind"], _tidy(cloth.kind)])
    if cloth.fibre:
        rows.append([pages.LABELS["fibre"], _tidy(cloth.fibre)])
    rows.append([pages.LABELS["size"], f"{length(cloth.width, units)} × {length(cloth.length, units)}"])
    if 0 < cloth.grams_per_m2 < GRAM_RANGE:
        rows.append([pages.LABELS["weight"], f"{cloth.grams_per_m2:g} g/m²"])
    if cloth.nap == "one-way":
        rows.append([pages.LABELS["direction"], pages.LABELS["one_way"]])
    return rows


def _notion(notion: Notion, units: Units) -> list[str]:
    title = notion.title
    if notion.width:
        title = pages.LABELS["wide"].format(what=notion.name.capitalize(), width=length(notion.width, units))
    if notion.count:
        return [title, f"{notion.count} ×"]
    if notion.name == "thread":
        return [title, f"{max(1, round(notion.length / 1000)) * 10} m"]
    return [title, length(notion.length, units) if notion.length else ""]


def _instead(notion: Notion, units: Units) -> list[str]:
    """What may be bought where the pattern has a piece for it."""
    title = pages.LABELS["instead"].format(what=notion.title, width=length(notion.width, units))
    return [title, length(notion.length, units)]


def _piece(piece: Piece, units: Units) -> dict[str, str]:
    allowances: dict[str, list[str]] = {}
    for edge in piece:
        if edge.kind != "fold":
            names = allowances.setdefault(length(edge.allowance, units), [])
            name = edge.name.replace("_", " ")
            if name not in names:
                names.append(name)
    return {
        "title": piece.title,
        "cut": pages.CUT_HOW[piece.cutting].format(n=piece.copies),
        "layer": pages.LAYERS[piece.layer],
        "allowances": "; ".join(f"{', '.join(names)} {size}" for size, names in allowances.items()),
    }


def _before(content: BookletContent) -> list[str]:
    cloth_manners, units = manners(content.cloth), content.sewer.units
    filled = [
        text.format(
            needle=cloth_manners.needle,
            stitch=f"{cloth_manners.stitch_mm:g}",
            seam=length(usual_allowance(content.steps), units),
            off=length(0.2, units),
            iron=pages.IRONS[cloth_manners.iron],
        )
        for text in pages.BEFORE
    ]
    first = [] if content.cloth.washed else [pages.WASH]
    return [pages.SEW_AHEAD, *first, *filled]


def _card_facts(step: Step, units: Units) -> list[list[str]]:
    """The figures one looks up with the work in hand."""
    say = pages.LABELS
    found: list[list[str]] = []
    if step.kind == "seam" and step.allowance:
        found.append([say["allowance"], length(step.allowance, units)])
    if step.kind == "turn":
        inner, rest = step.fold_in, step.turn - step.fold_in
        folds = [length(inner, units), length(rest, units)] if inner else [length(rest, units)]
        found.append([say["fold"], " + ".join(folds)])
    if step.kind == "elastic" and step.elastic_length:
        found.append([say["elastic"], length(step.elastic_length, units)])
    if step.notches:
        found.append([say["notches"], ", ".join(sign.replace("_", " ") for sign in step.notches)])
    if step.stitch:
        found.append([say["stitch"], f"{step.stitch.name}, {step.stitch.length_mm:g} mm"])
    return found


def usual_allowance(steps: Sequence[Step]) -> float:
    """The allowance of most of the stitching, which is marked on the machine's plate. [cm]"""
    sewn: dict[float, float] = {}
    for step in steps:
        if step.kind == "seam" and step.allowance:
            sewn[step.allowance] = sewn.get(step.allowance, 0.0) + step.length
    return max(sewn, key=lambda width: sewn[width], default=ORDINARY)


def _words(content: BookletContent) -> list[list[str]]:
    """Those of the trade's words that the steps use, explained."""
    said = " ".join(
        text
        for step in content.steps
        for words in (step_words(step, content.garment),)
        for text in (words.title, *words.do)
    ).lower()
    return [[word, meaning] for word, meaning in pages.WORDS.items() if word in said]


def _step(step: Step, content: BookletContent, pictures: Pictures) -> dict[str, object]:
    units = content.sewer.units
    words = step_words(step, content.garment, units, usual_allowance(content.steps))
    return {
        "number": step.number,
        "title": words.title,
        "do": list(words.do),
        "facts": [list(fact) for fact in words.facts],
        "card_facts": _card_facts(step, units),
        "why": words.why,
        "stop": words.stop,
        "time": words.time,
        "picture": f"step{step.number}.svg",
        "detail": f"detail{step.number}.svg" if f"detail{step.number}.svg" in pictures else "",
    }
