"""The commands `clothwise print` and `clothwise sizes`: a pattern on every kind of paper, the house's sizes."""

from __future__ import annotations

import gc
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from clothwise.cli.bought import opened
from clothwise.cli.paper_words import (
    Kind,
    check_agree,
    figure_of,
    kind_of,
    length_of,
    paper_of,
    sides_of,
    sizes_asked,
)
from clothwise.errors import PaperError

if TYPE_CHECKING:
    from clothwise.body import Figure
    from clothwise.garment import Garment
    from clothwise.paper.pattern import Printed
    from clothwise.paper.pens import Pens
    from clothwise.paper.sheets import Sheet

SHOWN = ("height", "bust_girth", "waist_girth", "hip_girth", "back_waist_length", "arm_length", "inside_leg")

Json = Annotated[bool, typer.Option("--json", help="Print for programs.")]


def print_(
    what: Annotated[str, typer.Argument(help="A draft of `clothwise patterns`, or a work ticket, FILE.toml.")],
    out: Annotated[Path, typer.Option(help="A .pdf file; .html for the screen, .dxf for a nest.")],
    name: Annotated[str, typer.Option("--for", help="The body's name, as in `clothwise bodies`.")] = "",
    settings: Annotated[
        list[str] | None, typer.Option("--set", help="A choice of the draft, KEY=VALUE; may be given again.")
    ] = None,
    figure: Annotated[
        list[str] | None,
        typer.Option("--figure", help="How the figure differs, KEY=AMOUNT, as in `clothwise draft`."),
    ] = None,
    lengthen: Annotated[
        list[str] | None, typer.Option("--lengthen", help="LEVEL=CM, as in `clothwise draft`.")
    ] = None,
    on: Annotated[str, typer.Option(help="sheets, roll, projector or screen.")] = "",
    sheet: Annotated[str, typer.Option(help="A4, Letter, 'A4 and Letter', A3 ..., or '30 x 45'.")] = "A4",
    lying: Annotated[str, typer.Option(help="portrait, landscape or either.")] = "either",
    margin: Annotated[str, typer.Option(help="What the printer leaves blank all round.")] = "1",
    overlap: Annotated[str, typer.Option(help="Shared by neighbouring sheets; 0: butted.")] = "1",
    width: Annotated[str, typer.Option(help="Of the roll: 60, 90, 91.4 ...")] = "91.4",
    longest: Annotated[str, typer.Option(help="Page of the roll; longer is split between pieces.")] = "500",
    table: Annotated[str, typer.Option(help="What the projector shows, across x up.")] = "120 x 67.5",
    dark_on_light: Annotated[bool, typer.Option(help="Projector: dark lines on light.")] = False,
    piece: Annotated[list[str] | None, typer.Option(help="Only this piece; may be given again.")] = None,
    without: Annotated[
        list[str] | None,
        typer.Option(help="Leave out a layer: 'seam line', marks, words, 'cut line'; may be given again."),
    ] = None,
    only: Annotated[
        list[str] | None, typer.Option(help="Only this sheet, by its name (B3) or page (7); again for more.")
    ] = None,
    nest: Annotated[str, typer.Option(help="Sizes in one: women, men, girls or boys.")] = "",
    sizes: Annotated[str, typer.Option(help="With --nest: '84-104', or '84, 92'. Up to 12.")] = "",
    height: Annotated[str, typer.Option(help="With --nest, of adults: as tall as this.")] = "",
    lengths: Annotated[
        str, typer.Option(help="Several lengths of the draft in one: 'knee, midi'; cut at the one you want.")
    ] = "",
    earlier: Annotated[
        Path | None,
        typer.Option(help="Only what differs from an earlier print: its ticket, .toml, or pieces, .json."),
    ] = None,
    json: Json = False,
) -> None:
    """The pattern in true size: on sheets, a roll, the projector; in sizes; or only what has changed."""
    from clothwise.cli.app import _choices
    from clothwise.cli.files import write_one
    from clothwise.paper.pens import PRINT
    from clothwise.paper.pens import without as box_without

    ways = _Ways(
        paper=paper_of(sheet, lying, margin, overlap),
        width=length_of(width, "--width"),
        longest=length_of(longest, "--longest"),
        table=sides_of(table, "--table"),
        dark=not dark_on_light,
        pieces=tuple(piece or ()),
        only=tuple(only or ()),
        pens=box_without(PRINT, without or ()),
    )
    kind = kind_of(on, out, nested=bool(nest or lengths))
    wish = _choices(settings)
    made_with = partial(_make, what, name, figure=_choices(figure), longer=_choices(lengthen))
    make = partial(made_with, wish)
    check_agree(kind, nest=nest, lengths=lengths, earlier=earlier, only=only, without=without)
    if nest and (name or figure or lengthen):
        raise PaperError(
            "A nest is drawn to the house's sizes, not to a body.",
            where="--nest",
            mend="Leave out --for, --figure and --lengthen.",
        )
    if kind == "screen":
        write_one(_screen(make(), ways).encode(), out)
        _tell({"file": str(out)}, [f"Written to {out}; open it on any screen."], json)
        return
    several = None
    if nest:
        several = _in_sizes(what, wish, figure_of(nest), sizes, height)
    elif lengths:
        several = _in_lengths(lengths, made_with, wish)
    if several is not None and kind == "file":
        from clothwise.paper.dxf import nest_dxf

        text = nest_dxf(several.garments, made_on=several.made_on, pieces=ways.pieces)
        write_one(text.encode("ascii"), out)
        found = {"file": str(out), "sizes": list(several.garments)}
        _tell(found, [f"{', '.join(several.garments)} in one file, written to {out}."], json)
        return
    if several is not None:
        printed = _nested(several, ways)
    elif earlier is not None:
        printed = _changes(make(), earlier, ways)
    else:
        printed = _printed(make(), kind, ways)
    write_one(printed.data, out)
    _tell(_figures(printed, out), _lines(printed, kind, out), json)


def sizes(
    of: Annotated[str, typer.Argument(help="women, men, girls or boys.")] = "women",
    height: Annotated[str, typer.Option(help="Of adults: as tall as this.")] = "",
    json: Json = False,
) -> None:
    """The house's own sizes: what a nested pattern is drawn to."""
    from clothwise.body.sizes import size_bodies
    from clothwise.cli.app import _print_json
    from clothwise.ticket.figures import body_figures

    found = size_bodies(figure_of(of), height=length_of(height, "--height") if height else None)
    if json:
        _print_json([body_figures(body) for body in found])
        return
    measures = [measure for measure in SHOWN if measure in found[0]]
    typer.echo(f"Sizes of {of}, cm; worked out from the population, nobody was taped.")
    typer.echo("size".ljust(20) + "".join(body.name.rjust(7) for body in found))
    for measure in measures:
        cells = "".join(f"{body[measure]:7.1f}" for body in found)
        typer.echo(measure.replace("_", " ").ljust(20) + cells)
    if found[0].age_years is not None:
        typer.echo("age, about".ljust(20) + "".join(f"{body.age_years:7.1f}" for body in found))


# ---- what is printed -------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Make:
    """A garment with what is said of it on paper."""

    garment: Garment
    body: str
    made_on: str
    ident: str


@dataclass(frozen=True, slots=True)
class _Ways:
    """How it is to be printed. Lengths in cm."""

    paper: Sheet
    width: float
    longest: float
    table: tuple[float, float]
    dark: bool
    pieces: tuple[str, ...]
    only: tuple[str, ...]
    pens: Pens


Wish = dict[str, float | str]


def _make(what: str, name: str, wish: Wish, figure: Wish, longer: Wish) -> _Make:
    """The checked garment of a ticket, or of a draft for a body of the store."""
    from clothwise.cli.drafting import drawn_for

    if _is_ticket(what):
        if name or wish or figure or longer:
            raise PaperError(
                "A ticket says by itself for whom, with which choices and changes.",
                where="--for, --set, --figure, --lengthen",
                mend="Leave them out, or name a draft instead of the ticket.",
            )
        return _of_ticket(Path(what))
    if not name:
        raise PaperError("For whom?", where="--for", mend="Name a body of `clothwise bodies`, or use --nest.")
    with opened() as store:
        body = store.body(name)
    return _Make(drawn_for(body, what, wish, figure, longer), body.name, date.today().isoformat(), "")


def _is_ticket(what: str) -> bool:
    return what.lower().endswith(".toml")


def _of_ticket(file: Path) -> _Make:
    from clothwise.body import estimate
    from clothwise.cli.sewing import _whole
    from clothwise.draft import pattern
    from clothwise.ticket.made import drawn, with_cloth
    from clothwise.ticket.packet import ident
    from clothwise.ticket.writing import write_ticket

    ticket = _whole(file)
    assert ticket.body is not None  # _whole fills it
    assert ticket.cloth is not None
    choices = with_cloth(pattern(ticket.pattern), ticket.choices, ticket.cloth)
    body = estimate(ticket.body)
    garment = drawn(body, ticket.pattern, choices, ticket.figure, ticket.left, ticket.changes)
    return _Make(garment, body.name, ticket.made_on, ident(write_ticket(ticket)))


def _printed(make: _Make, kind: Kind, ways: _Ways) -> Printed:
    from clothwise.paper.pattern import print_pattern
    from clothwise.paper.projector import print_projector
    from clothwise.paper.roll import print_roll

    printer = {
        "sheets": partial(print_pattern, paper=ways.paper, only=ways.only),
        "roll": partial(print_roll, width=ways.width, longest=ways.longest),
        "projector": partial(print_projector, table=ways.table, dark=ways.dark),
    }[kind]
    return printer(
        make.garment,
        pens=ways.pens,
        pieces=ways.pieces,
        body_name=make.body,
        made_on=make.made_on,
        ticket_id=make.ident,
    )


def _screen(make: _Make, ways: _Ways) -> str:
    from clothwise.paper.screen import pattern_screen

    return pattern_screen(
        make.garment,
        body_name=make.body,
        made_on=make.made_on,
        ticket_id=make.ident,
        pieces=ways.pieces,
        pens=ways.pens,
    )


def _changes(make: _Make, earlier: Path, ways: _Ways) -> Printed:
    """Only what differs from the pieces of an earlier ticket or of a JSON file of pieces."""
    from clothwise.cli.files import read_file
    from clothwise.paper.changes import print_changes
    from clothwise.paper.geometry import pieces_of_json

    ticket = _is_ticket(str(earlier))
    before = _of_ticket(earlier).garment.pieces if ticket else pieces_of_json(read_file(earlier, "pieces"))
    return print_changes(
        make.garment,
        before,
        paper=ways.paper,
        body_name=make.body,
        made_on=make.made_on,
        ticket_id=make.ident,
        pieces=ways.pieces,
        only=ways.only,
        pens=ways.pens,
    )


@dataclass(frozen=True, slots=True)
class _Nest:
    """One draft several times: in the house's sizes, or in lengths for one body."""

    garments: Mapping[str, Garment]
    made_on: str
    lengths_for: str = ""


def _in_sizes(what: str, wish: Wish, figure: Figure, sizes: str, height: str) -> _Nest:
    """The sizes asked for, each drawn to its size body."""
    from clothwise.body.sizes import size_bodies
    from clothwise.ticket.made import drawn

    if _is_ticket(what):
        raise PaperError(
            "A ticket is for one body.", where="--nest", mend="Name a draft, with its choices by --set."
        )
    tall = length_of(height, "--height") if height else None
    bodies = size_bodies(figure, sizes_asked(sizes, figure), height=tall)
    return _Nest({body.name: drawn(body, what, wish) for body in bodies}, date.today().isoformat())


def _in_lengths(lengths: str, make: Callable[[Wish], _Make], wish: Wish) -> _Nest:
    """One body's garment in the lengths that the draft knows."""
    names = [part.strip() for part in lengths.split(",") if part.strip()]
    if not names:
        raise PaperError("In which lengths?", where="--lengths", mend="Write them as 'knee, midi'.")
    made = {name: make({**wish, "length": name}) for name in names}
    some = made[names[0]]
    return _Nest({name: one.garment for name, one in made.items()}, some.made_on, some.body)


def _nested(nest: _Nest, ways: _Ways) -> Printed:
    """One inside the other on the same sheets."""
    from clothwise.paper.nest import print_nest

    gc.disable()  # a nest makes a hundred thousand small values and no rings of them: nothing to look for
    return print_nest(
        nest.garments,
        paper=ways.paper,
        made_on=nest.made_on,
        pieces=ways.pieces,
        only=ways.only,
        lengths_for=nest.lengths_for,
        box=ways.pens,
    )


# ---- what is said ----------------------------------------------------------------------------------


def _figures(printed: Printed, out: Path) -> dict[str, object]:
    return {
        "file": str(out),
        "pages": printed.sheets,
        "sheets": list(printed.tiles),
        "side_by_side": printed.plain,
        "rows": printed.rows,
        "columns": printed.columns,
        "problems": list(printed.problems),
    }


def _lines(printed: Printed, kind: Kind, out: Path) -> list[str]:
    pages = f"{printed.sheets} page" + ("" if printed.sheets == 1 else "s")
    said = [f"{pages}, written to {out}."]
    if kind == "sheets":
        count = f"{printed.sheets} sheet" + ("" if printed.sheets == 1 else "s")
        said = [f"{count} to print, {len(printed.tiles)} of them to tape, written to {out}."]
        saved = printed.plain - len(printed.tiles)
        if saved > 0 and printed.sheets > len(printed.tiles):
            said.append(f"Laid side by side the pieces would need {printed.plain}: {saved} saved.")
        if printed.sheets > len(printed.tiles):
            said.append("Print at 100 %, the first sheet alone, and measure its squares before the rest.")
    return [*said, *(f"  Note: {problem}" for problem in printed.problems)]


def _tell(figures: Mapping[str, object], lines: Sequence[str], json: bool) -> None:
    from clothwise.cli.app import _print_json

    if json:
        _print_json(figures)
        return
    for line in lines:
        typer.echo(line)
