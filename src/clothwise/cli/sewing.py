"""The commands `clothwise make`, `steps` and `log`: the packet, the order of work, what a make took."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from clothwise.errors import ChoiceError, WorkroomError
from clothwise.store import Store

if TYPE_CHECKING:
    from clothwise.sew import Alternative
    from clothwise.ticket import Ticket
    from clothwise.ticket.made import Made

Json = Annotated[bool, typer.Option("--json", help="Print for programs.")]
TicketFile = Annotated[Path, typer.Argument(help="A work ticket, TOML.")]
Language = Annotated[str, typer.Option(help="Of the booklet, card and screen: en or de; else the ticket's.")]
BookletSheet = Annotated[
    str, typer.Option("--booklet", help="Its sheet: A4, Letter or Phone; else the ticket's.")
]
Large = Annotated[bool, typer.Option("--large", help="The booklet in large print.")]
InUnits = Annotated[str, typer.Option("--units", help="cm or inch; else the ticket's.")]
Ways = Annotated[
    list[str] | None,
    typer.Option("--way", help="How a seam or zip is sewn, NAME=WAY, as `clothwise steps` lists them."),
]


def make(
    ticket: TicketFile,
    out: Annotated[Path, typer.Option(help="The folder for the packet.")],
    language: Language = "",
    booklet: BookletSheet = "",
    large: Large = False,
    units: InUnits = "",
    way: Ways = None,
    json: Json = False,
) -> None:
    """The whole packet of a ticket: pattern, lay, booklet, lists, every figure."""
    from clothwise.cli.evening import print_made
    from clothwise.cli.files import write_all
    from clothwise.ticket.made import work_out
    from clothwise.ticket.packet import packet

    made = work_out(_asked(_whole(ticket), language, booklet, large, units, way))
    files = packet(made)
    write_all(files, out)
    if json:
        typer.echo(files["packet.json"].decode(), nl=False)
    else:
        print_made(made, files, out)


def steps(
    ticket: TicketFile, language: Language = "", units: InUnits = "", way: Ways = None, json: Json = False
) -> None:
    """The order of work with its minutes, and which seams the trade sews in more than one way."""
    from clothwise.sew import alternatives
    from clothwise.ticket.made import work_out

    made = work_out(_asked(_whole(ticket), language, "", False, units, way), effort="quick")
    either = alternatives(made.garment, made.cloth, made.ticket.sewer)
    if json:
        from clothwise.ticket.figures import as_json, minutes_figures, plain

        figures: dict[str, Any] = {
            "name": made.ticket.name,
            "steps": [plain(step) for step in made.steps],
            "alternatives": [plain(one) for one in either],
            "minutes": minutes_figures(made.minutes),
        }
        typer.echo(as_json(figures), nl=False)
        return
    _print_steps(made, either)


def _print_steps(made: Made, either: tuple[Alternative, ...]) -> None:
    from clothwise.sew.language import language
    from clothwise.sew.phrases import Telling, hours
    from clothwise.sew.words import told

    ticket = made.ticket
    t = Telling(made.garment, ticket.sewer.units, language(ticket.booklet.language))
    span = (
        f"{hours(made.minutes.likely)} ({hours(made.minutes.low)} {t('label.to')} {hours(made.minutes.high)})"
    )
    typer.echo(f"{ticket.name}: {span}")
    for step in made.steps:
        words = told(step, t)
        typer.echo(f"{step.number:3}. {words.title}, {words.time}{' *' if step.stop else ''}")
    typer.echo(f"  *  {t('stop')}")
    for name in dict.fromkeys(one.seam for one in either):
        ways = [one for one in either if one.seam == name]
        chosen = ticket.ways.get(name, ways[0].way)
        others = [way for way in (ways[0].way, *(one.other for one in ways)) if way != chosen]
        offered = " ".join(f"--way '{name}={way}'" for way in others)
        typer.echo(f"  {t.title(ways[0].title)}: {t(f'either.{_key(chosen)}')}; {offered}")


def log(
    ticket: TicketFile,
    minutes: Annotated[float, typer.Option(help="What the whole make took, pauses left out.")],
    on: Annotated[str, typer.Option(help="The day it was finished, 2026-11-25; else today.")] = "",
    json: Json = False,
) -> None:
    """A make is finished: keeps how long it took, and says what that tells of the sewer's pace."""
    from clothwise.sew.log import after
    from clothwise.store.log_book import log as keep
    from clothwise.store.log_book import logged_makes, sewer_of
    from clothwise.ticket.planned import planned_minutes
    from clothwise.ticket.writing import write_ticket

    whole = _whole(ticket)
    with _store() as store:
        keep(store, whole, write_ticket(whole), minutes, on or date.today().isoformat())
        name = sewer_of(whole)
        makes, lost = logged_makes(store, name)
    sewer = after(replace(whole.sewer, pace=1.0, logged=0, times_made=0), makes, whole.pattern)
    figures = {"pace": round(sewer.pace, 3), "logged": sewer.logged, "times_made": sewer.times_made}
    if json:
        from clothwise.ticket.figures import as_json

        typer.echo(as_json({"sewer": name, **figures, "not_counted": list(lost)}), nl=False)
        return
    typer.echo(f"'{whole.name}' took {minutes:g} minutes; {planned_minutes(whole):.0f} were planned.")
    for gone in lost:
        typer.echo(f"  Not counted: '{gone}', its ticket can no longer be drawn.")
    typer.echo(f"{name}'s pace is {sewer.pace:.2f} of the plan; makes logged: {sewer.logged}.")
    typer.echo("Suggestions reckon with it; in a ticket it stands under [sewer]:")
    for key, value in figures.items():
        typer.echo(f"{key} = {value}")


# ---- what is asked for ---------------------------------------------------------------------------


def _asked(
    ticket: Ticket, language: str, booklet: str, large: bool, units: str, ways: list[str] | None
) -> Ticket:
    """The ticket with what was asked for on the command line; its own entries stand where nothing was."""
    from clothwise.sew.contents import SHEETS
    from clothwise.sew.language import language as known

    if language:
        known(language)  # refuses what the house does not speak
    if booklet and booklet not in SHEETS:
        raise ChoiceError(
            f"A booklet is not set on '{booklet}'.", where="--booklet", mend=f"Choose {', '.join(SHEETS)}."
        )
    book = replace(
        ticket.booklet,
        language=language or ticket.booklet.language,
        sheet=booklet or ticket.booklet.sheet,  # type: ignore[arg-type]  # held to SHEETS
        large=large or ticket.booklet.large,
    )
    sewer = replace(ticket.sewer, units=units or ticket.sewer.units)  # type: ignore[arg-type]  # Sewer checks it
    return replace(ticket, booklet=book, sewer=sewer, ways={**ticket.ways, **_ways(ways)})


def _ways(asked: list[str] | None) -> dict[str, Any]:
    from clothwise.sew.step import WAYS

    found: dict[str, Any] = {}
    for one in asked or []:
        name, equals, way = (part.strip() for part in one.partition("="))
        if not equals or not name or way not in WAYS:
            raise ChoiceError(
                f"'{one}' is not a way to sew.", where="--way", mend=f"Write NAME=WAY, with {', '.join(WAYS)}."
            )
        found[name] = way
    return found


def _key(way: str) -> str:
    return way.replace(" ", "_")


def _store() -> Store:
    from clothwise.store import open_store, seed_demo

    store = open_store()
    seed_demo(store)
    return store


def _whole(file: Path) -> Ticket:
    """The ticket in a file; a body or cloth it only names is taken from the store."""
    from clothwise.store.log_book import filled
    from clothwise.ticket import read_ticket

    try:
        text = file.read_bytes()
    except OSError as fault:
        raise WorkroomError(
            f"The ticket cannot be read: {fault.strerror}.", where=str(file), mend="Name a ticket file."
        ) from fault
    given = read_ticket(text)
    if given.whole:
        return given
    with _store() as store:
        return filled(store, given)
