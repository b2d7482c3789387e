"""A person's card as the page changes it: one entry at a time, each under a path.

measure.hip_girth   as typed, in the reader's unit; '' takes it off: it is then estimated
confirm.hip_girth   'yes': asked, and the sewer stands by it
figure age taken_on notes
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import get_args

from clothwise.body import Body, Figure, definition, estimate, measures_of
from clothwise.body.slips import Slip, slips
from clothwise.errors import MeasureError, WorkroomError
from clothwise.web.entries import with_each
from clothwise.web.sheet import Reader, spoken
from clothwise.web.ticket_state import confirmed, measured, plain_number

MOST_WORDS = 4000  # letters of notes
OLDEST = 120.0  # years


@dataclass(frozen=True, slots=True)
class Known:
    """A body with the rest estimated; or, in `no`, why the rest cannot be."""

    body: Body
    whole: Body | None
    no: WorkroomError | None
    doubts: tuple[Slip, ...]

    @property
    def thin(self) -> tuple[str, ...]:
        """What the estimate says of itself, for example where the data run thin."""
        return tuple(n for n in self.whole.notes if n not in self.body.notes) if self.whole else ()


def known(body: Body) -> Known:
    """All that follows from what was taped."""
    try:
        return Known(body, estimate(body), None, slips(body))
    except MeasureError as no:
        return Known(body, None, no, slips(body))


def with_entries(body: Body, entries: Mapping[str, str], reader: Reader) -> Body:
    """The body with these entries set. Raises Refused, which tells which entry cannot be."""
    return with_each(body, entries, lambda stands, path, text: _set(stands, path, text, reader))


def _set(body: Body, path: str, text: str, reader: Reader) -> Body:
    part, _, name = path.partition(".")
    if part == "measure" and name in measures_of(body.figure):
        return measured(body, name, text, reader)
    if part == "confirm":
        return confirmed(body, name, text == "yes")
    if part == "figure" and text in get_args(Figure):
        figure = next(one for one in get_args(Figure) if one == text)
        kept = {n: m for n, m in body.measures.items() if n in measures_of(figure)}
        return replace(body, figure=figure, measures=kept)
    if part == "age":
        return replace(body, age_years=_age(text))
    if part == "taken_on":
        return replace(body, taken_on=_day(text))
    if part == "notes" and len(text) <= MOST_WORDS:
        return replace(body, notes=tuple(line for line in text.splitlines() if line.strip()))
    raise MeasureError("That is no entry of this card.", where=path[:60], mend="Reload the page.")


def _age(text: str) -> float | None:
    if not text:
        return None
    years = plain_number(text, "an age in years")
    if not 0 < years < OLDEST:
        raise MeasureError(f"{years:g} is no age.", where="age", mend="Give it in years, for example 7 or 7.5.")
    return years


def _day(text: str) -> str:
    try:
        return date.fromisoformat(text).isoformat() if text else ""
    except ValueError:
        raise MeasureError(
            f"{text[:20]!r} is no date.", where="taped on", mend="Write it as 2026-11-25."
        ) from None


def said(body: Body, path: str, reader: Reader) -> str:
    """How an entry reads now."""
    part, _, name = path.partition(".")
    match part:
        case "measure" | "confirm":
            return length(body[name], name, reader) if name in body else ""
        case "age":
            return "" if body.age_years is None else f"{body.age_years:g}"
        case "notes":
            return "\n".join(body.notes)
    return str(getattr(body, part, ""))


def length(value: float, name: str, reader: Reader) -> str:
    """A measure as it reads: a length, or degrees."""
    return f"{value:.0f}°" if definition(name).unit == "degrees" else reader.length(value)


def guess(found: Known, name: str, reader: Reader) -> str:
    """'37.6 cm, nine in ten between 35.4 cm and 39.9 cm'; '' where it is taped or cannot be told."""
    if found.whole is None or found.body.taped(name) or name not in found.whole:
        return ""
    one = found.whole.measures[name]
    middle = length(one.cm, name, reader)
    if one.low is None or one.high is None:
        return middle
    return f"{middle}, nine in ten {length(one.low, name, reader)} to {length(one.high, name, reader)}"


def words_of(before: Body, after: Body, entries: Mapping[str, str], reader: Reader) -> str:
    """What a change did: 'hip girth 102.0 cm to 103.0 cm'."""
    told = []
    for path in entries:
        name, old, new = spoken(path.rpartition(".")[2]), said(before, path, reader), said(after, path, reader)
        if path.startswith("confirm."):
            told.append(f"{name} stands")
        elif old != new:
            told.append(f"{name} {old[:40] or 'open'} to {new[:40] or 'open'}")
    return ", ".join(told)[:300] or "Nothing"
