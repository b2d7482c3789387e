"""The work ticket of one make: body x pattern x choices x cloth x sewer x paper. A small plain TOML file.

All else is computed from it: same ticket, same packet, byte for byte. A ticket may be short, naming a body
and a cloth of the store (`body.name = "Marit"`); the whole ticket, with every measure, goes into the packet.
Lengths are numbers in cm or text as a person types it ("26 1/2 in").
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from types import MappingProxyType
from typing import Any, Literal

from clothwise.alter import Change, change_of
from clothwise.body import Body, Measure
from clothwise.cloth import Cloth
from clothwise.cloth.entries import FLAGS, LISTS, NUMBERS, WORDS, listed
from clothwise.errors import ChoiceError, ClothError, TicketError
from clothwise.sew.contents import SHEETS, Sheet
from clothwise.sew.language import FILES, NATIVE
from clothwise.sew.sewer import Sewer
from clothwise.sew.step import WAYS, Way
from clothwise.units import parse_length

FORMAT = 1  # of the ticket file; a reader refuses what is newer
MOST = 1e6  # of any number on a ticket, in its unit: more is no cloth, no price and no ease

_TOP = (
    "ticket", "name", "made_on", "body", "pattern", "cloth", "other_cloths", "sewer", "ways", "paper",
    "booklet",
)  # fmt: skip
_BODY = ("name", "figure", "age_years", "taken_on", "measures", "estimated", "confirmed", "notes")
_CLOTH_LENGTHS = ("width", "length")
_CLOTH_NUMBERS = tuple(name for name in NUMBERS if name not in _CLOTH_LENGTHS)
_CLOTH = (*WORDS, *NUMBERS, *FLAGS, *LISTS)
_SEWER = ("name", "skill", "overlocker", "times_made", "units", "pace", "logged")
_SHEETS = ("A4", "Letter", "A3", "Legal", "Tabloid")
_WORDS: Mapping[str, tuple[str, ...]] = {
    "body.figure": ("woman", "man", "girl", "boy"),
    "cloth.make": ("woven", "knit"),
    "cloth.nap": ("none", "one-way", "two-way"),
    "sewer.skill": ("beginner", "practised", "expert"),
    "sewer.units": ("cm", "inch"),
    "paper.sheet": _SHEETS,
    "booklet.language": tuple(FILES),
    "booklet.sheet": tuple(SHEETS),
}
_BOOKLET = ("language", "sheet", "large")


@dataclass(frozen=True, slots=True)
class Booklet:
    """How the booklet is set: ISO 639-1 language; sheet, '' = the one nearest to the pattern's; large print."""

    language: str = NATIVE
    sheet: Sheet | Literal[""] = ""
    large: bool = False


@dataclass(frozen=True, slots=True)
class OtherCloth:
    """Pieces, by name, that are cut from another cloth than the rest: facings, pockets."""

    pieces: tuple[str, ...]
    cloth: Cloth


@dataclass(frozen=True, slots=True)
class Ticket:
    """One make, whole. `body` and `cloth` may still be mere names (see `names`), to be filled by a store.

    figure   ways in which the figure differs (names of alter.FIGURE_CHANGES) and by how much
    left     the same for the wearer's left side alone: then nothing pairs and all is cut singly
    changes  what is altered on the drawn pieces, in this order
    ways     for a seam or zip that the trade sews in more than one way: which (see sew.alternatives)
    booklet  language, sheet and size of its print
    other_cloths  pieces, of the shell or of a layer such as lining, that are cut from another cloth
    """

    name: str
    pattern: str
    choices: Mapping[str, float | str] = field(default_factory=dict)
    body: Body | None = None
    cloth: Cloth | None = None
    sewer: Sewer = field(default_factory=Sewer)
    sheet: str = "A4"
    made_on: str = ""  # ISO date printed on the paper; no clock is read
    body_name: str = ""
    cloth_name: str = ""
    figure: Mapping[str, float] = field(default_factory=dict)
    left: Mapping[str, float] = field(default_factory=dict)
    changes: tuple[Change, ...] = ()
    ways: Mapping[str, Way] = field(default_factory=dict)
    booklet: Booklet = field(default_factory=Booklet)
    other_cloths: tuple[OtherCloth, ...] = ()

    def __post_init__(self) -> None:
        for name in ("choices", "figure", "left", "ways"):
            object.__setattr__(self, name, MappingProxyType(dict(getattr(self, name))))

    @property
    def whole(self) -> bool:
        """Whether body and cloth are there with all their figures."""
        return self.body is not None and self.cloth is not None

    def filled(self, body: Body, cloth: Cloth) -> Ticket:
        """The ticket with body and cloth set, where it had only their names."""
        return replace(self, body=self.body or body, cloth=self.cloth or cloth)


def read_ticket(text: str | bytes) -> Ticket:
    """The ticket in a TOML text. Raises TicketError: what, at which entry, how to mend it."""
    if isinstance(text, bytes):
        try:
            text = text.decode("utf-8")
        except UnicodeDecodeError:
            raise TicketError(
                "The ticket is not a text file.", where="ticket", mend="Save it as plain text in UTF-8."
            ) from None
    try:
        whole = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise TicketError(
            f"The ticket cannot be read: {fault}.",
            where="ticket",
            mend="Mend that line; words stand in quotes, numbers without, a comma in a number is a full stop.",
        ) from None
    return _ticket(whole)


def _ticket(whole: dict[str, Any]) -> Ticket:
    _known(whole, _TOP, "")
    if whole.get("ticket") != FORMAT:
        raise TicketError(
            f"This is not a ticket of format {FORMAT}.",
            where="ticket",
            mend=f"The first line of a ticket is 'ticket = {FORMAT}'.",
        )
    pattern = _table(whole, "pattern", required=True)
    _known(pattern, ("name", "choices", "figure", "left", "changes"), "pattern")
    body, cloth = _table(whole, "body", required=True), _table(whole, "cloth", required=True)
    paper = _table(whole, "paper")
    _known(paper, ("sheet",), "paper")
    return Ticket(
        name=_word(whole, "name", "", default="Untitled make"),
        pattern=_word(pattern, "name", "pattern"),
        choices=_choices(_table(pattern, "choices")),
        body=_body(body),
        cloth=_cloth(cloth),
        sewer=_sewer(_table(whole, "sewer")),
        sheet=_word(paper, "sheet", "paper", default="A4"),
        made_on=_date(whole, "made_on", ""),
        body_name=_word(body, "name", "body"),
        cloth_name=_word(cloth, "name", "cloth"),
        figure=_figure(pattern, "figure"),
        left=_figure(pattern, "left"),
        changes=_changes(pattern),
        ways=_ways(_table(whole, "ways")),
        booklet=_booklet(_table(whole, "booklet")),
        other_cloths=_others(whole),
    )


def _body(table: dict[str, Any]) -> Body | None:
    _known(table, _BODY, "body")
    taped = _table(table, "measures", "body.")
    if not taped:
        return None
    confirmed = table.get("confirmed", [])
    if not isinstance(confirmed, list):
        raise _wrong("body.confirmed", confirmed, "a list of measures in quotes")
    measures = {
        name: Measure(_length(value, f"body.measures.{name}"), confirmed=name in confirmed)
        for name, value in taped.items()
    }
    for name, row in _table(table, "estimated", "body.").items():
        place = f"body.estimated.{name}"
        if not (isinstance(row, list) and len(row) == 3):
            raise _wrong(place, row, "three lengths: likely, low, high")
        cm, low, high = (_length(value, place) for value in row)
        measures[name] = Measure(cm, "estimated", low, high)
    notes = table.get("notes", [])
    return Body(
        name=_word(table, "name", "body"),
        figure=_word(table, "figure", "body"),  # type: ignore[arg-type]  # held to _WORDS
        measures=measures,
        age_years=_number(table, "age_years", "body"),
        taken_on=_date(table, "taken_on", "body"),
        notes=tuple(str(note) for note in notes) if isinstance(notes, list) else (),
    )


def _cloth(table: dict[str, Any]) -> Cloth | None:
    _known(table, _CLOTH, "cloth")
    if not any(name in table for name in _CLOTH_LENGTHS):
        return None
    given: dict[str, Any] = {}
    for name in _CLOTH_LENGTHS:
        if name not in table:
            raise TicketError(
                f"The cloth's {name} is missing.",
                where=f"ticket, cloth.{name}",
                mend=f"Add '{name} = …' in cm.",
            )
        given[name] = _length(table[name], f"cloth.{name}")
    for name in WORDS:
        if name in table:
            given[name] = _word(table, name, "cloth")
    for name in _CLOTH_NUMBERS:
        if name in table:
            given[name] = _number(table, name, "cloth")
    for name in FLAGS:
        if name in table:
            given[name] = _yes(table, name, "cloth")
    for name in LISTS:
        if name in table:
            given[name] = _listed(table, name)
    return Cloth(**{"name": _word(table, "name", "cloth"), **given})


def _others(whole: dict[str, Any]) -> tuple[OtherCloth, ...]:
    rows = whole.get("other_cloths", [])
    if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
        raise _wrong("other_cloths", rows, "a list of cloths, each under [[other_cloths]]")
    found = []
    for row in rows:
        pieces = row.get("pieces")
        if not isinstance(pieces, list) or not pieces or not all(isinstance(name, str) for name in pieces):
            raise _wrong("other_cloths.pieces", pieces, "a list of names of pieces in quotes")
        cloth = _cloth({name: value for name, value in row.items() if name != "pieces"})
        if cloth is None:
            raise _wrong("other_cloths", row, "a cloth with its width and length")
        found.append(OtherCloth(tuple(pieces), cloth))
    return tuple(found)


def _listed(table: dict[str, Any], name: str) -> Any:
    try:
        return listed(name, table[name], f"cloth.{name}")
    except ClothError as no:
        raise TicketError(no.what, where=f"ticket, cloth.{name}", mend=no.mend) from None


def _sewer(table: dict[str, Any]) -> Sewer:
    _known(table, _SEWER, "sewer")
    given: dict[str, Any] = {}
    for name in ("name", "skill", "units"):
        if name in table:
            given[name] = _word(table, name, "sewer")
    if "overlocker" in table:
        given["overlocker"] = _yes(table, "overlocker", "sewer")
    if "pace" in table:
        given["pace"] = _number(table, "pace", "sewer")
    for name in ("times_made", "logged"):
        if name in table:
            times = table[name]
            if isinstance(times, bool) or not isinstance(times, int) or times < 0:
                raise _wrong(f"sewer.{name}", times, "a whole number from 0 up")
            given[name] = times
    return Sewer(**given)


def _ways(table: dict[str, Any]) -> dict[str, Way]:
    """Which way each seam is sewn; whether the garment offers it is found when it is drawn."""
    for name, way in table.items():
        if way not in WAYS:
            raise _wrong(f"ways.{name}", way, f"one of {', '.join(WAYS)}")
    return dict(table)


def _booklet(table: dict[str, Any]) -> Booklet:
    _known(table, _BOOKLET, "booklet")
    return Booklet(
        language=_word(table, "language", "booklet", default=NATIVE),
        sheet=_word(table, "sheet", "booklet") if "sheet" in table else "",  # type: ignore[arg-type]  # held to _WORDS
        large=_yes(table, "large", "booklet") if "large" in table else False,
    )


def _choices(table: dict[str, Any]) -> dict[str, float | str]:
    return {name: _plain(value, f"pattern.choices.{name}") for name, value in table.items()}


def _plain(value: Any, place: str) -> float | str:
    if isinstance(value, str):
        return value
    if isinstance(value, bool) or not isinstance(value, int | float) or not abs(value) < MOST:
        raise _wrong(place, value, "a word in quotes or a number to sew by")
    return float(value)


def _figure(pattern: dict[str, Any], name: str) -> dict[str, float]:
    """How the figure differs: a number for each, either way from nought."""
    table = _table(pattern, name, "pattern.")
    found: dict[str, float] = {}
    for entry in table:
        by = _number(table, entry, f"pattern.{name}")
        assert by is not None
        found[entry] = by
    return found


def _changes(pattern: dict[str, Any]) -> tuple[Change, ...]:
    rows = pattern.get("changes", [])
    if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
        raise _wrong("pattern.changes", rows, "a list of parts, each under [[pattern.changes]]")
    found = []
    for number, row in enumerate(rows, 1):
        place = f"pattern.changes, number {number}"
        entries = {name: _plain(value, f"{place}.{name}") for name, value in row.items() if name != "what"}
        try:
            found.append(change_of(_word(row, "what", place), entries))
        except ChoiceError as no:
            raise TicketError(no.what, where=f"ticket, {place}: {no.where}", mend=no.mend) from None
    return tuple(found)


# -- entries --------------------------------------------------------------------------------------
def _known(table: dict[str, Any], names: tuple[str, ...], place: str) -> None:
    for name in table:
        if name not in names:
            near = get_close_matches(name, names, 1)
            raise TicketError(
                f"'{name}' is not an entry of a ticket.",
                where=f"ticket, {place + '.' if place else ''}{name}",
                mend=f"Did you mean '{near[0]}'?" if near else f"Possible here: {', '.join(names)}.",
            )


def _table(whole: dict[str, Any], name: str, place: str = "", *, required: bool = False) -> dict[str, Any]:
    table = whole.get(name)
    if table is None and not required:
        return {}
    if not isinstance(table, dict):
        raise TicketError(
            f"The part [{place}{name}] is missing." if table is None else f"'{name}' is not a part.",
            where=f"ticket, {place}{name}",
            mend=f"Add a line '[{place}{name}]' with its entries below.",
        )
    return table


def _word(table: dict[str, Any], name: str, place: str, default: str | None = None) -> str:
    full = f"{place}.{name}" if place else name
    value = table.get(name, default)
    if value is None:
        raise TicketError(f"'{name}' is missing.", where=f"ticket, {full}", mend=f"Add '{name} = \"…\"'.")
    if not isinstance(value, str) or not value.strip():
        raise _wrong(full, value, "a word in quotes")
    possible = _WORDS.get(full)
    if possible and value not in possible:
        raise _wrong(full, value, f"one of {', '.join(possible)}")
    return value


def _date(table: dict[str, Any], name: str, place: str) -> str:
    value = table.get(name, "")
    text = value.isoformat() if hasattr(value, "isoformat") else value
    if not isinstance(text, str):
        raise _wrong(f"{place}.{name}" if place else name, value, "a date, 2026-11-25")
    return text


def _number(table: dict[str, Any], name: str, place: str) -> float | None:
    value = table.get(name)
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int | float) or not abs(value) < MOST:
        raise _wrong(f"{place}.{name}", value, "a number")
    return float(value)


def _yes(table: dict[str, Any], name: str, place: str) -> bool:
    value = table[name]
    if not isinstance(value, bool):
        raise _wrong(f"{place}.{name}", value, "true or false")
    return value


def _length(value: Any, place: str) -> float:
    if isinstance(value, str):
        return parse_length(value)
    if isinstance(value, bool) or not isinstance(value, int | float) or not 0 < value < 10_000:
        raise _wrong(place, value, "a length above zero, in cm or as text such as '26 1/2 in'")
    return float(value)


def _wrong(place: str, value: object, expected: str) -> TicketError:
    return TicketError(f"{value!r} is not {expected}.", where=f"ticket, {place}", mend=f"Give {expected}.")
