"""What a booklet, card or page says of one make: a plain value in, plain text and pictures out.

Whatever a person typed goes in as data, never as markup; every figure is already in the sewer's units.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal

from clothwise.cloth import Cloth
from clothwise.garment import Garment, Notion, Piece
from clothwise.garment.haberdashery import bindings, finished_measures
from clothwise.paper import font
from clothwise.sew.cautions import cautions
from clothwise.sew.details import detail_picture, key_pictures, pieces_picture
from clothwise.sew.ink import Picture, svg
from clothwise.sew.language import NATIVE, language
from clothwise.sew.manners import NEEDLE_HOURS, manners
from clothwise.sew.minutes import Minutes
from clothwise.sew.needs import INVISIBLE
from clothwise.sew.phrases import Telling, capital, hours
from clothwise.sew.pictures import step_picture
from clothwise.sew.sewer import Sewer
from clothwise.sew.spoken import spoken, spoken_garment
from clothwise.sew.step import Step
from clothwise.sew.words import needle_words
from clothwise.sew.words import told as step_told
from clothwise.sew.worn import worn_picture

Sheet = Literal["A4", "Letter", "Phone"]
SHEETS: Mapping[str, str] = {"A4": "a4", "Letter": "us-letter", "Phone": "phone"}

STEP_ROOM = (76.0, 66.0)  # mm: width and height of a step's picture
STEP_SCALE = 3.4  # mm on paper for a cm at most: a pocket is not drawn as large as a leg
PHONE_ROOM = (76.0, 62.0)  # on a phone: the words below a picture begin on the same page
LARGE_ROOM, LARGE_SCALE, LARGE_LETTERS = (150.0, 80.0), 4.0, 1.6  # the same in large print
DETAIL_ROOM = (76.0, 30.0)
TITLE_ROOM = (150.0, 118.0)
PIECES_ROOM = (165.0, 62.0)
KEY_ROOM = (24.0, 15.0)
ORDINARY = 1.5  # cm: seam allowance where nothing else is known
GRAM_RANGE = 2000.0  # g/m2 beyond which a weight is a slip

UNITS = {"stretch": "%", "rib_stretch": "%", "fullness": "×"}  # of choices that are no lengths
DEGREES = " deg"  # how the name of a measure in degrees ends
OFF = 0.2  # cm: a mark on the plate that is off by so much counts


@dataclass(frozen=True, slots=True)
class BookletContent:
    """All that a booklet is made from, gathered by the ticket.

    title     of the make as the sewer calls it; for_whom the wearer
    made_on   ISO date printed on it, or ''; no clock is read
    measures  (title, cm, 'taped' or 'estimated') of the body, as far as the draft used them
    notions   what is bought besides cloth, from haberdashery()
    lay_svg   drawing of the lay, or ''; lay_note what it uses, in words
    large     large print: type a good third larger, one column
    tips      further hints of the house for this make, in English as the drafts speak
    language  ISO 639-1 code of the language it is written in
    ident     the mark of the make's ticket: boxes ticked on a screen are remembered under it
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
    language: str = NATIVE
    ident: str = ""

    @property
    def telling(self) -> Telling:
        """The garment told in the booklet's language and the sewer's units."""
        return Telling(self.garment, self.sewer.units, language(self.language))


# ---- pictures ----------------------------------------------------------------------------------

Pictures = dict[str, tuple[str, str]]  # file name -> SVG, alternative text


def pictures_of(content: BookletContent) -> Pictures:
    t = content.telling
    garment = spoken_garment(content.garment, t.said)
    shown = replace(t, garment=garment)
    found: Pictures = {}
    letters = LARGE_LETTERS if content.large else 1.0
    step_room, step_scale = (LARGE_ROOM, LARGE_SCALE) if content.large else (STEP_ROOM, STEP_SCALE)
    step_room = PHONE_ROOM if content.sheet == "Phone" else step_room

    def keep(name: str, picture: Picture, room: tuple[float, float], most: float = 10.0) -> None:
        found[name] = (svg(picture, *room, most_scale=most, letters=letters), picture.alt)

    for front, name in ((True, "front.svg"), (False, "back.svg")):
        keep(name, spoken(worn_picture(garment, front=front), t), (TITLE_ROOM[0] / 2, TITLE_ROOM[1]))
    keep("pieces.svg", pieces_picture(shown), PIECES_ROOM)
    for name, picture in key_pictures(t).items():
        keep(f"key_{name}.svg", picture, KEY_ROOM)
    for step in content.steps:
        picture = spoken(step_picture(garment, content.steps, step.number), t, step)
        keep(f"step{step.number}.svg", picture, step_room, most=step_scale)
        detail = detail_picture(step, t)
        if detail:
            keep(f"detail{step.number}.svg", detail, DETAIL_ROOM, most=8.0)
    if content.lay_svg:
        found["lay.svg"] = (content.lay_svg, t.said.phrase("lay", content.lay_note) or t("label.lay"))
    return found


# ---- data --------------------------------------------------------------------------------------


def told(content: BookletContent, pictures: Pictures) -> dict[str, Any]:
    """Everything the template prints, as plain text."""
    t, garment, cloth = content.telling, content.garment, content.cloth
    said = t.said
    cloth_manners = manners(cloth)
    needle = needle_words(cloth_manners.needle, t)
    concealed = {step.name for step in content.steps if step.kind == "zip" and step.way == INVISIBLE}
    return {
        "language": said.code,
        "sheet": SHEETS[content.sheet],
        "large": content.large,
        "family": font.FAMILY,
        "labels": said.table("label"),
        "title": _tidy(content.title or said.word("garment", garment.title)),
        "garment": said.word("garment", garment.title),
        "for_whom": _tidy(content.for_whom),
        "made_on": content.made_on,
        "choices": _choices(t),
        "time": _time(content, t),
        "body": [
            {
                "what": _tidy(capital(said.word("measure", what).removesuffix(DEGREES))),
                "cm": f"{t.number(round(cm, 1))}°" if what.endswith(DEGREES) else t.length(cm),
                "source": source if source == "estimated" else "",
            }
            for what, cm, source in content.measures
        ],
        "finished": [{"what": capital(said.word("measure", w)), "cm": t.length(cm)} for w, cm in _finished(t)],
        "notes": [said.phrase("note", note.text) for note in garment.notes],
        "cloth": _cloth(cloth, t),
        "notions": [
            *(_notion(notion, t, concealed) for notion in content.notions),
            *(_instead(notion, t) for notion in bindings(garment)),
        ],
        "tools": [*said.table("tools").values(), t("label.needle", needle=needle)],
        "pieces": [_piece(piece, t) for piece in garment.pieces],
        "lay_note": _lay_note(content, t),
        "before": _before(content, t),
        "paper": list(said.table("paper").values()),
        "words": _words(content, t),
        "tips": [t(f"tip.{key(tip)}") for tip in cloth_manners.tips]
        + [said.phrase("doubt", _tidy(tip)) for tip in content.tips],
        "steps": [_step(step, content, t, pictures) for step in content.steps],
        "care": list(said.table("care").values()),
        "next_time": list(said.table("next_time").values()),
        "safety": [
            {"title": t(f"caution.{key(kind)}.title"), "text": t(f"caution.{key(kind)}.text")}
            for kind in cautions(garment, cloth)
        ],
        "alt": {name: alt for name, (_, alt) in pictures.items()},
    }


def _lay_note(content: BookletContent, t: Telling) -> str:
    """How to fold; the drawing says the rest itself where it speaks the language of the booklet."""
    fold = t.said.phrase("lay", _tidy(content.lay_note))
    return f"{fold} {t('label.lay_read')}" if fold and t.said.code != NATIVE else fold


def key(name: str) -> str:
    """A name of the house as a key of the wording: 'press cloth' is tip.press_cloth."""
    return name.replace(" ", "_").replace("-", "_")


def _finished(t: Telling) -> list[tuple[str, float]]:
    """Girths and lengths of the garment when done: its levels and what the draft names, else every seam."""
    garment = t.garment
    if not garment.finished:
        return [(m.title, m.cm) for m in finished_measures(garment)]
    named = {name.lower().replace("_", " ") for name in garment.finished}
    levels = [(lv.title, garment.round(lv.runs)) for lv in garment.levels if lv.title.lower() not in named]
    return [*((name.replace("_", " "), cm) for name, cm in garment.finished.items()), *levels]


def _tidy(text: str) -> str:
    """Typed text as it is set: one line, printable."""
    return font.tidy(text)


def _choices(t: Telling) -> list[list[str]]:
    """The chosen words, and figures that differ from nothing."""
    found: list[list[str]] = []
    for name, value in t.garment.choices.items():
        title = capital(t.said.word("choice", name.replace("_", " ")))
        if isinstance(value, str):
            found.append([title, t.said.word("option", value)])
        elif value:
            found.append([title, f"{t.number(value)} {UNITS[name]}" if name in UNITS else t.length(value)])
    return found


def _time(content: BookletContent, t: Telling) -> dict[str, object]:
    m = content.minutes
    rows = t.said.table("time_row")
    parts = {name: getattr(m, name) for name in rows}
    return {
        "likely": hours(m.likely),
        "low": hours(m.low),
        "high": hours(m.high),
        "rows": [[rows[name], hours(value)] for name, value in parts.items() if value > 0],
        "wait": f"{m.wait_hours:g} h" if m.wait_hours else "",
    }


def _cloth(cloth: Cloth, t: Telling) -> list[list[str]]:
    rows = [["", _tidy(cloth.name)]]
    if cloth.kind:
        known = t.said.knows("cloth", cloth.kind)  # a kind of the house, or a word she typed
        rows.append([t("label.kind"), _tidy(t.said.word("cloth", cloth.kind) if known else cloth.kind)])
    if cloth.fibre:
        rows.append([t("label.fibre"), _tidy(cloth.fibre)])
    rows.append([t("label.size"), f"{t.length(cloth.width)} × {t.length(cloth.length)}"])
    if 0 < cloth.grams_per_m2 < GRAM_RANGE:
        rows.append([t("label.weight"), f"{t.number(cloth.grams_per_m2)} g/m²"])
    if cloth.nap == "one-way":
        rows.append([t("label.direction"), t("label.one_way")])
    return rows


def _notion(notion: Notion, t: Telling, concealed: Collection[str] = ()) -> list[str]:
    title = t.said.phrase("notion", notion.title)
    if notion.name == "zip":
        return [
            t("label.concealed", what=title) if notion.place in concealed else title,
            f"{notion.count or 1} ×",
        ]
    if notion.width:
        name = t.said.word("notion", notion.name.capitalize())
        title = t("label.wide", what=name, width=t.length(notion.width))
    if notion.count:
        return [title, f"{notion.count} ×"]
    if notion.name == "thread":
        return [title, f"{max(1, round(notion.length / 1000)) * 10} m"]
    return [title, t.length(notion.length) if notion.length else ""]


def _instead(notion: Notion, t: Telling) -> list[str]:
    """What may be bought where the pattern has a piece for it."""
    what = t.said.phrase("notion", notion.title)
    return [t("label.instead", what=what, width=t.length(notion.width)), t.length(notion.length)]


def _piece(piece: Piece, t: Telling) -> dict[str, str]:
    allowances: dict[str, list[str]] = {}
    for edge in piece:
        if edge.kind != "fold":
            names = allowances.setdefault(t.length(edge.allowance), [])
            name = t.edge(edge.name)
            if name not in names:
                names.append(name)
    return {
        "title": capital(t.said.word("piece", piece.title)),
        "cut": t(f"cut.{key(piece.cutting)}", n=piece.copies),
        "layer": t(f"layer.{piece.layer}"),
        "allowances": "; ".join(f"{', '.join(names)} {size}" for size, names in allowances.items()),
    }


def _before(content: BookletContent, t: Telling) -> list[str]:
    cloth_manners = manners(content.cloth)
    wash = [] if content.cloth.washed else [t("before.wash")]
    rest = [t("before.rest")] if content.cloth.make == "knit" else []
    needle = needle_words(cloth_manners.needle, t)
    return [
        t("before.ahead"),
        *wash,
        *rest,
        t("before.needle", needle=needle, least=NEEDLE_HOURS[0], most=NEEDLE_HOURS[1]),
        t("before.scrap", stitch=t.number(cloth_manners.stitch_mm)),
        t("before.plate", seam=t.length(usual_allowance(content.steps)), off=t.length(OFF)),
        t("before.iron", iron=t(f"iron.{cloth_manners.iron}")),
    ]


def _card_facts(step: Step, t: Telling) -> list[list[str]]:
    """The figures one looks up with the work in hand."""
    found: list[list[str]] = []
    if step.kind == "seam" and step.allowance:
        found.append([t("label.allowance"), t.length(step.allowance)])
    if step.kind == "turn":
        inner, rest = step.fold_in, step.turn - step.fold_in
        folds = [t.length(inner), t.length(rest)] if inner else [t.length(rest)]
        found.append([t("label.fold"), " + ".join(folds)])
    if step.kind == "elastic" and step.elastic_length:
        found.append([t("label.elastic"), t.length(step.elastic_length)])
    if step.notches:
        found.append([t("label.notches"), ", ".join(t.sign(sign) for sign in step.notches)])
    if step.stitch:
        name = t.said.word("stitch", step.stitch.name)
        found.append([t("label.stitch"), f"{name}, {t.number(step.stitch.length_mm)} mm"])
    return found


def usual_allowance(steps: Sequence[Step]) -> float:
    """The allowance of most seams, marked on the machine's plate; of those that are even, the longest's.
    [cm]"""
    sewn: dict[float, tuple[int, float]] = {}
    for step in steps:
        if step.kind == "seam" and step.allowance:
            number, long = sewn.get(step.allowance, (0, 0.0))
            sewn[step.allowance] = (number + 1, long + step.length)
    return max(sewn, key=lambda width: sewn[width], default=ORDINARY)


def _words(content: BookletContent, t: Telling) -> list[list[str]]:
    """Those of the trade's words that the steps use, explained."""
    told = (step_told(step, t) for step in content.steps)
    said = " ".join(text for words in told for text in (words.title, *words.do)).lower()
    return [[word, meaning] for word, meaning in t.said.table("glossary").items() if word.lower() in said]


def _step(step: Step, content: BookletContent, t: Telling, pictures: Pictures) -> dict[str, object]:
    words = step_told(step, t, usual_allowance(content.steps))
    return {
        "number": step.number,
        "title": words.title,
        "do": list(words.do),
        "facts": [list(fact) for fact in words.facts],
        "card_facts": _card_facts(step, t),
        "why": words.why,
        "stop": words.stop,
        "time": words.time,
        "picture": f"step{step.number}.svg",
        "detail": f"detail{step.number}.svg" if f"detail{step.number}.svg" in pictures else "",
    }
