"""The commands `clothwise print` and `clothwise sizes`: a pattern on every kind of paper, the house's sizes."""

from __future__ import annotations

import gc
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal, cast

import typer

from clothwise.cli.bought import opened
from clothwise.errors import PaperError
from clothwise.units import parse_length

if TYPE_CHECKING:
    from clothwise.body import Figure
    from clothwise.garment import Garment
    from clothwise.paper.pattern import Printed
    from clothwise.paper.sheets import Orientation, Sheet

Kind = Literal["sheets", "roll", "projector", "screen"]
KINDS: tuple[Kind, ...] = ("sheets", "roll", "projector", "screen")
FIGURES = {"women": "woman", "men": "man", "girls": "girl", "boys": "boy"}
SIDES = re.compile(r"(.+?)\s*(?:x|×|by)\s*(.+)", re.IGNORECASE)  # '30 x 45', '12in x 18in'
SPAN = re.compile(r"(\w+)\s*(?:[-–]|to)\s*(\w+)")  # '84-104'
SHOWN = ("height", "bust_girth", "waist_girth", "hip_girth", "back_waist_length", "arm_length", "inside_leg")

Json = Annotated[bool, typer.Option("--json", help="Print for programs.")]


def print_(
    what: Annotated[str, typer.Argument(help="A draft of `clothwise patterns`, or a work ticket, FILE.toml.")],
    out: Annotated[Path, typer.Option(help="A .pdf file; .html for the screen.")],
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

    ways = _Ways(
        paper=_sheet(sheet, lying, margin, overlap),
        width=_cm(width, "--width"),
        longest=_cm(longest, "--longest"),
        table=_sides(table, "--table"),
        dark=not dark_on_light,
        pieces=tuple(piece or ()),
        only=tuple(only or ()),
    )
    kind = _kind(on, out)
    wish = _choices(settings)
    made_with = partial(_make, what, name, figure=_choices(figure), longer=_choices(lengthen))
    make = partial(made_with, wish)
    _agree(kind, nest=nest, lengths=lengths, earlier=earlier, only=only, piece=piece)
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
    if nest:
        printed = _nested(what, wish, _figure(nest), sizes, height, ways)
    elif lengths:
        printed = _in_lengths(lengths, made_with, wish, ways)
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

    found = size_bodies(_figure(of), height=_cm(height, "--height") if height else None)
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
    from clothwise.cli.app import _whole
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
        make.garment, pieces=ways.pieces, body_name=make.body, made_on=make.made_on, ticket_id=make.ident
    )


def _screen(make: _Make, ways: _Ways) -> str:
    from clothwise.paper.screen import pattern_screen

    return pattern_screen(
        make.garment, body_name=make.body, made_on=make.made_on, ticket_id=make.ident, pieces=ways.pieces
    )


def _changes(make: _Make, earlier: Path, ways: _Ways) -> Printed:
    """Only what differs from the pieces of an earlier ticket or of a JSON file of pieces."""
    from clothwise.cli.app import _read
    from clothwise.paper.changes import print_changes
    from clothwise.paper.geometry import pieces_of_json

    ticket = _is_ticket(str(earlier))
    before = _of_ticket(earlier).garment.pieces if ticket else pieces_of_json(_read(earlier))
    return print_changes(
        make.garment,
        before,
        paper=ways.paper,
        body_name=make.body,
        made_on=make.made_on,
        ticket_id=make.ident,
        only=ways.only,
    )


def _nested(what: str, wish: Wish, figure: Figure, sizes: str, height: str, ways: _Ways) -> Printed:
    """The sizes asked for, each drawn to its size body."""
    from clothwise.body.sizes import size_bodies
    from clothwise.paper.nest import print_nest
    from clothwise.ticket.made import drawn

    if _is_ticket(what):
        raise PaperError(
            "A ticket is for one body.", where="--nest", mend="Name a draft, with its choices by --set."
        )
    bodies = size_bodies(figure, _asked(sizes, figure), height=_cm(height, "--height") if height else None)
    garments = {body.name: drawn(body, what, wish) for body in bodies}
    gc.freeze()  # what is loaded by now stays to the end: it is not looked through while the nest is drawn
    return print_nest(garments, paper=ways.paper, made_on=date.today().isoformat(), only=ways.only)


def _in_lengths(lengths: str, make: Callable[[Wish], _Make], wish: Wish, ways: _Ways) -> Printed:
    """One body's garment in the lengths that the draft knows, each line saying where it is cut for which."""
    from clothwise.paper.nest import print_nest

    names = [part.strip() for part in lengths.split(",") if part.strip()]
    made = {name: make({**wish, "length": name}) for name in names}
    some = next(iter(made.values()))
    return print_nest(
        {name: one.garment for name, one in made.items()},
        paper=ways.paper,
        made_on=some.made_on,
        only=ways.only,
        lengths_for=some.body,
    )


def _asked(text: str, figure: Figure) -> tuple[str, ...]:
    """The names of sizes in '84-104' or '84, 92'; all when nothing is said."""
    from clothwise.body.sizes import size_names

    span = SPAN.fullmatch(text.strip())
    if span is None:
        return tuple(part for part in re.split(r"[,\s]+", text.strip()) if part)
    low, high = span.groups()
    names = size_names(figure)
    if low not in names or high not in names or names.index(low) > names.index(high):
        raise PaperError(
            f"There are no sizes from {low} to {high}.",
            where="--sizes",
            mend=f"The sizes are {', '.join(names)}.",
        )
    return names[names.index(low) : names.index(high) + 1]


# ---- what is typed ---------------------------------------------------------------------------------


def _kind(on: str, out: Path) -> Kind:
    """What to print on; by the file's ending when nothing is said."""
    ending = out.suffix.lower()
    kind = on or ("screen" if ending == ".html" else "sheets")
    if kind not in KINDS:
        raise PaperError(
            f"Nothing can be printed on '{kind}'.",
            where="--on",
            mend=f"Say {', '.join(KINDS[:-1])} or {KINDS[-1]}.",
        )
    wanted = ".html" if kind == "screen" else ".pdf"
    if ending != wanted:
        raise PaperError(
            f"'{out.name}' is no file for {'a' if kind != 'sheets' else 'the'} {kind}.",
            where="--out",
            mend=f"Let its name end in {wanted}; `clothwise draft` writes .svg, .dxf and .json.",
        )
    return kind


def _agree(kind: Kind, **asked: object) -> None:
    """Some things are for sheets only, and a nest or a change is of all pieces."""
    wanted = [option for option, value in asked.items() if value]
    for option in wanted:
        if option != "piece" and kind != "sheets":
            raise PaperError(
                f"--{option} goes with sheets, not with the {kind}.",
                where=f"--{option}, --on",
                mend="Leave one of them out.",
            )
    apart = [option for option in wanted if option != "only"]
    if len(apart) > 1:
        raise PaperError(
            f"--{apart[0]} and --{apart[1]} do not go together.",
            where=f"--{apart[0]}, --{apart[1]}",
            mend="Leave one of them out; single sheets are chosen by --only.",
        )


def _sheet(size: str, lying: str, margin: str, overlap: str) -> Sheet:
    from clothwise.paper.sheets import SIZES, sheet

    named = size.strip().casefold() in (known.casefold() for known in SIZES)
    wanted = size if named or not SIDES.fullmatch(size.strip()) else _sides(size, "--sheet")
    return sheet(
        wanted,
        margin=_cm(margin, "--margin"),
        overlap=_cm(overlap, "--overlap"),
        orientation=cast("Orientation", lying),
    )


def _sides(text: str, option: str) -> tuple[float, float]:
    """'30 x 45' in cm, or with units: '12in x 18in'."""
    found = SIDES.fullmatch(text.strip())
    if found is None:
        raise PaperError(f"'{text}' is not two lengths.", where=option, mend="Write it as 30 x 45.")
    return _cm(found[1], option), _cm(found[2], option)


def _cm(text: str, option: str = "") -> float:
    """Zero is a length here: sheets may be butted."""
    return 0.0 if text.strip() in ("0", "0 cm") else parse_length(text)


def _figure(word: str) -> Figure:
    if word not in FIGURES:
        raise PaperError(f"There are no sizes of '{word}'.", where="sizes", mend=f"Say {', '.join(FIGURES)}.")
    return cast("Figure", FIGURES[word])


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
