"""A ticket as the page changes it: one entry at a time, each under a path.

    choice.hip_ease     a choice of the draft, typed or chosen; '' leaves it to the draft
    measure.hip_girth   a measure of the ticket's own copy of the body
    confirm.hip_girth   'yes': the sewer stands by it
    figure.seat         how the figure differs; '' or 0 takes it off
    left.low_shoulder   how it differs on the left side alone; '' takes it off, 0 is as the draft has it there
    pattern cloth body  another draft, cloth of the cupboard, person
    way.side_seam       how a seam or zip is sewn; '' is the usual way
    booklet.language booklet.sheet booklet.large sheet
    sewer.skill sewer.overlocker sewer.units
    sewer.pace          'learned': as her finished makes have shown it; '' the plan's own

Setting an entry to what it is already changes nothing, so sending a change twice does no harm.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, cast

from clothwise.alter.figure import FIGURE_CHANGES, FigureChange
from clothwise.body import Body, Measure, definition
from clothwise.cloth import Cloth
from clothwise.draft import Choice, HouseDraft, pattern
from clothwise.errors import ChoiceError, LengthError, TicketError
from clothwise.sew.log import after
from clothwise.sew.sewer import Sewer
from clothwise.sew.step import WAYS, Way
from clothwise.store import KeptTicket, Store, deeds
from clothwise.store.log_book import logged_makes, sewer_of
from clothwise.store.standing import Watch
from clothwise.store.store import TICKET
from clothwise.store.versions import current_row
from clothwise.ticket import Ticket, read_ticket, write_ticket
from clothwise.ticket.bought_ticket import is_bought, read_bought_ticket, write_bought_ticket
from clothwise.web.entries import with_each
from clothwise.web.sheet import Reader, spoken


@dataclass(frozen=True, slots=True)
class State:
    """A ticket with its body and cloth, as it stands in the store."""

    name: str
    version: int
    kept: KeptTicket
    ticket: Ticket
    body: Body
    cloth: Cloth

    @property
    def whole(self) -> Ticket:
        """With all figures in it."""
        return self.ticket.filled(self.body, self.cloth)


class OnOneSheet(TicketError):
    """The ticket is of a bought pattern, which has no pieces here: all of it stands on one sheet."""

    def __init__(self, name: str) -> None:
        self.name = name
        super().__init__(
            f"'{name}' is made from a bought pattern: its pieces are on its own paper.",
            where=f"ticket '{name}'",
            mend="Open the ticket: what it needs and how far it is stands there.",
        )


def load(store: Store, name: str) -> State:
    """The ticket of this name. StoreError when it, its body or its cloth is not there."""
    with store._reading() as connection:  # text and number of one and the same version
        row = current_row(connection, TICKET.table, TICKET.word, name)
        return state_of(store, TICKET.read(connection, row), int(row.version))


def state_of(store: Store, kept: KeptTicket, version: int = 0) -> State:
    """The ticket as it is kept, with the body and cloth it has or names."""
    if is_bought(kept.text):
        raise OnOneSheet(kept.name)
    ticket = read_ticket(kept.text)
    return State(
        kept.name,
        version,
        kept,
        ticket,
        ticket.body or store.body(ticket.body_name),
        ticket.cloth or store.cloth(ticket.cloth_name),
    )


def named_anew(text: str, name: str) -> str:
    """The same kept ticket under another name, whatever its pattern is."""
    if is_bought(text):
        return write_bought_ticket(replace(read_bought_ticket(text), name=name))
    return write_ticket(replace(read_ticket(text), name=name))


def changed(state: State, entries: Mapping[str, str], reader: Reader, store: Store) -> State:
    """The state with these entries set. Raises Refused."""
    return with_each(state, entries, lambda stands, path, text: _set(stands, path, text, reader, store))


def _set(state: State, path: str, text: str, reader: Reader, store: Store) -> State:
    part, _, name = path.partition(".")
    ticket = state.ticket
    match part:
        case "choice":
            return replace(state, ticket=_with_choice(ticket, name, text, reader))
        case "measure":
            return _with_body(state, measured(state.body, name, text, reader))
        case "confirm":
            return _with_body(state, confirmed(state.body, name, text == "yes"))
        case "figure":
            return replace(state, ticket=_with_figure(ticket, name, text, reader))
        case "left":
            return replace(state, ticket=_with_left(ticket, name, text, reader))
        case "pattern":
            return replace(state, ticket=_with_pattern(ticket, text))
        case "cloth":
            found = store.cloth(text)
            others = tuple(one for one in ticket.other_cloths if one.cloth.name != text)
            now = replace(ticket, cloth=None, cloth_name=text, other_cloths=others)
            return replace(state, cloth=found, ticket=now)
        case "body":
            person = store.body(text)
            return replace(state, body=person, ticket=replace(ticket, body=None, body_name=text))
        case "sheet":
            return replace(state, ticket=_read_back(replace(ticket, sheet=text)))
        case "way":
            return replace(state, ticket=_read_back(replace(ticket, ways=_with_way(ticket, name, text))))
        case "booklet" if name in ("language", "sheet", "large"):
            told: Any = text == "yes" if name == "large" else text
            book = replace(ticket.booklet, **{name: told})
            return replace(state, ticket=_read_back(replace(ticket, booklet=book)))
        case "sewer" if name == "pace" and text in ("", "learned"):
            return replace(state, ticket=replace(ticket, sewer=_at_pace(store, ticket, text == "learned")))
        case "sewer" if name in ("skill", "overlocker", "units"):
            value: Any = text == "yes" if name == "overlocker" else text
            return replace(state, ticket=replace(ticket, sewer=replace(ticket.sewer, **{name: value})))
    raise ChoiceError(f"{path[:60]!r} is not an entry of a ticket.", where="ticket", mend="Reload the page.")


def _with_way(ticket: Ticket, seam: str, way: str) -> Mapping[str, Way]:
    """The ways with that of one seam; '' leaves it to the order of work."""
    if way and way not in WAYS:
        raise ChoiceError(f"{way[:30]!r} is no way to sew.", where="ticket", mend=f"Choose {', '.join(WAYS)}.")
    kept: dict[str, Way] = {name: one for name, one in ticket.ways.items() if name != seam}
    return {**kept, seam: cast("Way", way)} if way else kept


def _at_pace(store: Store, ticket: Ticket, learned: bool) -> Sewer:
    """The sewer of a ticket as her finished makes have shown her, or as the plan has her."""
    plain = replace(ticket.sewer, pace=1.0, logged=0, times_made=0)
    if not learned:
        return plain
    makes, _ = logged_makes(store, sewer_of(ticket))
    return after(plain, makes, ticket.pattern)


def _read_back(ticket: Ticket) -> Ticket:
    """Checked as a ticket's file is."""
    read_ticket(write_ticket(ticket))
    return ticket


def _with_choice(ticket: Ticket, name: str, text: str, reader: Reader) -> Ticket:
    draft = pattern(ticket.pattern)
    choice = draft.choice(name)
    choices = dict(ticket.choices)
    if not text:
        choices.pop(name, None)
    else:
        stands = choices.get(name)
        value = typed_choice(choice, text, reader, stands if isinstance(stands, float) else None)
        draft.settled({name: value})
        choices[name] = value
    return replace(ticket, choices=choices)


def typed_choice(choice: Choice, text: str, reader: Reader, stands: float | None = None) -> float | str:
    """The value of a choice as typed: a word, a length, or a number. `stands`: the length it is now."""
    if choice.options:
        return text
    if choice.unit == "cm":
        return reader.typed(text, allow_negative=choice.low < 0, stands=stands)
    return plain_number(text, f"a number of {choice.unit or 'it'}")


def plain_number(text: str, what: str) -> float:
    """A number as typed, with a point or a comma."""
    try:
        value = float(text.replace(",", ".").replace("−", "-").removesuffix("%").removesuffix("°"))
    except ValueError:
        raise LengthError(
            "This cannot be read as a number.", where=f"'{text[:40]}'", mend=f"Type {what}, for example 25."
        ) from None
    if not abs(value) < 10_000:
        raise LengthError("This is no number to sew by.", where=f"'{text[:40]}'", mend="Type a smaller one.")
    return value


def measured(body: Body, name: str, text: str, reader: Reader) -> Body:
    """The body with one measure as typed; '' takes it off. Raises what cannot be read as a length."""
    known = definition(name)
    if not text:
        return replace(body, measures={n: m for n, m in body.measures.items() if n != name})
    stands = body[name] if name in body.measures and body.taped(name) else None
    cm = plain_number(text, "degrees") if known.unit == "degrees" else reader.typed(text, stands=stands)
    if stands is not None and same_on_tape(stands, cm):
        return body
    return body.with_measures(**{name: cm})


def same_on_tape(one: float, other: float) -> bool:
    """Whether two lengths read the same when they are shown: what is only looked at is not changed."""
    return abs(one - other) < 0.005


def confirmed(body: Body, name: str, sure: bool) -> Body:
    """The body with one measure that the sewer was asked about and stands by."""
    if name not in body.measures:
        raise ChoiceError(f"There is no {spoken(name)} to stand by.", where="ticket", mend="Tape it first.")
    old = body.measures[name]
    return replace(body, measures={**body.measures, name: Measure(old.cm, confirmed=sure)})


def _with_body(state: State, body: Body) -> State:
    if body == state.body:
        return state
    return replace(state, body=body, ticket=replace(state.ticket, body=body, body_name=body.name))


def _with_figure(ticket: Ticket, name: str, text: str, reader: Reader) -> Ticket:
    figure, by = dict(ticket.figure), _differs(name, text, reader, ticket.figure.get(name))
    if by:
        figure[name] = by
    else:
        figure.pop(name, None)
    return replace(ticket, figure=figure)


def _with_left(ticket: Ticket, name: str, text: str, reader: Reader) -> Ticket:
    left, by = dict(ticket.left), _differs(name, text, reader, ticket.left.get(name))
    if text:
        left[name] = by
    else:
        left.pop(name, None)
    return replace(ticket, left=left)


def figure_said(name: str, by: float, reader: Reader) -> str:
    """How far a figure differs, in words: '1.5 cm', '3°'."""
    return f"{by:g}°" if _figure_change(name).unit == "degrees" else reader.length(by)


def _differs(name: str, text: str, reader: Reader, stands: float | None) -> float:
    """How far a figure differs as typed, in cm or degrees; `stands`: how far it did."""
    known = _figure_change(name)
    if not text:
        return 0.0
    if known.unit != "cm":
        return plain_number(text, "degrees")
    return reader.typed(text, allow_negative=True, stands=stands)


def _figure_change(name: str) -> FigureChange:
    known = next((one for one in FIGURE_CHANGES if one.name == name), None)
    if known is None:
        raise ChoiceError(f"There is no figure change {name[:40]!r}.", where="ticket", mend="Reload the page.")
    return known


def _with_pattern(ticket: Ticket, name: str) -> Ticket:
    """Another draft; the choices that it has too stay, the others go."""
    draft: HouseDraft = pattern(name)
    kept = {}
    for choice in draft.choices:
        value = ticket.choices.get(choice.name)
        fits = value in choice.options if choice.options else isinstance(value, float)
        if value is not None and fits and (choice.options or choice.low <= float(value) <= choice.high):
            kept[choice.name] = value
    return replace(ticket, pattern=name, choices=kept, figure={}, left={}, changes=(), ways={}, other_cloths=())


# ---- keeping -------------------------------------------------------------------------------------


def keep(
    store: Store, name: str, entries: Mapping[str, str], reader: Reader, watch: Watch | None = None
) -> State:
    """Sets entries of the ticket as it stands now, whoever changed it last, in one deed."""

    def change(hand: deeds.Hand) -> None:
        before = state_of(store, hand.find(TICKET, name) or store.ticket(name))
        after = changed(before, entries, reader, store)
        hand.words = words_of(before, after, entries, reader)
        hand.keep(TICKET, KeptTicket(name, write_ticket(after.ticket), before.kept.created_on))

    deeds.do(store, f"ticket/{name}", "", change, watch)
    return load(store, name)


def keep_whole(store: Store, state: State, after: Ticket, words: str) -> None:
    """Keeps a ticket worked out from that state, as a deed. StoreError when it was changed meanwhile."""
    kept = KeptTicket(state.name, write_ticket(after), state.kept.created_on)

    def change(hand: deeds.Hand) -> None:
        hand.refuse_changed(TICKET, state.name, state.version)
        hand.keep(TICKET, kept)

    deeds.do(store, f"ticket/{state.name}", words, change)


def words_of(before: State, after: State, entries: Mapping[str, str], reader: Reader) -> str:
    """What a change did: 'hip ease 6.0 cm to 8.0 cm'."""
    said = []
    for path in entries:
        old, new = shown(before, path, reader), shown(after, path, reader)
        if old != new:
            said.append(f"{spoken(path.rpartition('.')[2])} {old or 'left open'} to {new or 'left open'}")
    return ", ".join(said)[:300] or "Nothing"


def shown(state: State, path: str, reader: Reader) -> str:
    """How an entry reads."""
    part, _, name = path.partition(".")
    ticket = state.ticket
    match part:
        case "choice":
            value = ticket.choices.get(name)
            if isinstance(value, float):
                return (
                    reader.length(value) if pattern(ticket.pattern).choice(name).unit == "cm" else f"{value:g}"
                )
            return "" if value is None else str(value)
        case "measure" | "confirm":
            if name not in state.body:
                return ""
            degrees = definition(name).unit == "degrees"
            return f"{state.body[name]:g}°" if degrees else reader.length(state.body[name])
        case "figure":
            return figure_said(name, ticket.figure[name], reader) if name in ticket.figure else ""
        case "left":
            return f"left side {figure_said(name, ticket.left[name], reader)}" if name in ticket.left else ""
        case "pattern":
            return pattern(ticket.pattern).title
        case "cloth":
            return ticket.cloth_name
        case "body":
            return ticket.body_name
        case "sheet":
            return ticket.sheet
        case "way":
            return ticket.ways.get(name, "")
        case "booklet":
            return _word(getattr(ticket.booklet, name, ""))
        case "sewer" if name == "pace":
            return pace_said(ticket.sewer)
    return _word(getattr(ticket.sewer, name, ""))


def _word(value: Any) -> str:
    """A setting as it reads: yes or no for a box."""
    return {True: "yes", False: "no"}.get(value, str(value))


def pace_said(sewer: Sewer) -> str:
    """'120 % of the usual time, by 3 finished makes'; '' at the plan's own pace."""
    if not sewer.logged:
        return ""
    return (
        f"{100 * sewer.pace:.0f} % of the usual time, by {sewer.logged} finished make{'s' * (sewer.logged > 1)}"
    )
