"""The commands of the cupboard: `clothwise cupboard …`. Nothing is lost: a change leaves the version before."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Annotated, Any

import typer

from clothwise.cli.bought import opened
from clothwise.cloth import Cloth
from clothwise.errors import ClothError, StoreError

cupboard = typer.Typer(
    help="The cloths: look at them, add, change, take off the shelf, put back, cut.",
    invoke_without_command=True,
)

Json = Annotated[bool, typer.Option("--json", help="Print for programs.")]
Name = Annotated[str, typer.Argument(help="A cloth of the cupboard.")]
Entries = Annotated[
    list[str] | None,
    typer.Argument(
        help="FIELD=VALUE: kind=linen width=140 length='1.8 m' weight=185 'stretch_across=10 to 15' "
        "'outline=0x0 95x0 95x80 60x136 0x136' 'cut_outs=40x25 at 0x0' 'flaws=6x4 at 50x30' nap=one-way "
        "washed=no price=18.50 seasons=spring,summer; see the page on the cupboard."
    ),
]
Unit = Annotated[str, typer.Option("--unit", help="Of lengths without one: cm or inch.")]


@cupboard.callback()
def first(context: typer.Context, json: Json = False) -> None:
    """Without a word more: the list."""
    if context.invoked_subcommand is None:
        list_cloths(json)


@cupboard.command(name="list")
def list_cloths(json: Json = False) -> None:
    """All cloths, by name."""
    from clothwise.cli.cupboard_words import cloth_figures, print_cloths

    with opened() as store:
        kept = store.cloths()
    _print(json, [cloth_figures(cloth) for cloth in kept], lambda: print_cloths(kept))


@cupboard.command()
def show(
    name: Name, versions: Annotated[bool, typer.Option(help="Earlier ones too.")] = False, json: Json = False
) -> None:
    """One cloth: what was measured, what is usual for its kind, how to sew it."""
    from clothwise.cli.cupboard_words import cloth_figures
    from clothwise.cloth.words import cloth_lines

    with opened() as store:
        cloth, earlier = store.cloth(name), store.earlier_cloths(name) if versions else ()
    figures: dict[str, Any] = cloth_figures(cloth)
    if versions:
        figures["earlier"] = [cloth_figures(one) for one in earlier]
    _print(json, figures, lambda: _echo([*cloth_lines(cloth), *_version_lines(earlier)]))


@cupboard.command()
def add(name: Name, entries: Entries = None, unit: Unit = "cm", json: Json = False) -> None:
    """Puts a cloth into the cupboard: FIELD=VALUE after its name; what is not said is taken from its kind."""
    with opened() as store:
        if any(cloth.name == name for cloth in store.cloths()):
            raise StoreError(
                f"There is a cloth called '{name}' already.",
                where="cupboard",
                mend="Give this one another name, or say `clothwise cupboard change`.",
            )
    _keep(name, entries, unit, json, None, "Kept")


@cupboard.command()
def change(name: Name, entries: Entries = None, unit: Unit = "cm", json: Json = False) -> None:
    """Changes what is given of a cloth; all else stays, and so does the version before."""
    with opened() as store:
        before = store.cloth(name)
    _keep(name, entries, unit, json, before, "Changed")


def _keep(
    name: str, entries: Sequence[str] | None, unit: str, json: bool, before: Cloth | None, word: str
) -> None:
    from clothwise.cli.bought import unit_of
    from clothwise.cli.cupboard_words import cloth_figures
    from clothwise.cloth.typed import cloth_typed
    from clothwise.cloth.words import cloth_lines
    from clothwise.store.deeds import keep
    from clothwise.store.store import CLOTH

    cloth = cloth_typed(name, _fields(entries or ()), unit=unit_of(unit), before=before)
    with opened() as store:
        keep(store, CLOTH, cloth, f"{word} {name}")
    _print(json, cloth_figures(cloth), lambda: _echo([f"{word}:", *cloth_lines(cloth)]))


def _fields(entries: Sequence[str]) -> dict[str, str | list[str]]:
    """FIELD=VALUE pairs; a list's field may be given again."""
    from clothwise.cloth.typed import LISTS

    found: dict[str, str | list[str]] = {}
    for entry in entries:
        field, equals, value = entry.partition("=")
        field = field.strip().replace("-", "_").replace(" ", "_")
        if not equals or not field:
            raise ClothError(
                f"'{entry}' is not an entry.", where="cupboard", mend="Write FIELD=VALUE, such as width=140."
            )
        if field in LISTS:
            before = found.setdefault(field, [])
            assert isinstance(before, list)
            before += value.split(",") if field == "seasons" else [value]
        else:
            found[field] = value
    return found


@cupboard.command(name="take-off")
def take_off(name: Name, json: Json = False) -> None:
    """Takes a cloth off the shelf: given away, sold, used up. `put-back` brings it back as it was."""
    from clothwise.store.deeds import forget
    from clothwise.store.store import CLOTH

    with opened() as store:
        forget(store, CLOTH, name, f"Took off {name}")
    _print(json, {"taken_off": name}, lambda: typer.echo(f"{name} is off the shelf; put-back brings it back."))


@cupboard.command(name="put-back")
def put_back(name: Name, json: Json = False) -> None:
    """Brings back a cloth that was taken off, or the version before of one that was changed."""
    from clothwise.cli.cupboard_words import cloth_figures
    from clothwise.cloth.words import cloth_lines
    from clothwise.store.deeds import keep
    from clothwise.store.store import CLOTH

    with opened() as store:
        earlier = store.earlier_cloths(name)
        if not earlier:
            raise StoreError(
                f"There is no earlier version of a cloth called '{name}'.",
                where="cupboard",
                mend="See `clothwise cupboard list` for the names.",
            )
        cloth = earlier[-1]
        keep(store, CLOTH, cloth, f"Put back {name}")
    _print(json, cloth_figures(cloth), lambda: _echo(["Put back:", *cloth_lines(cloth)]))


@cupboard.command()
def kinds(name: Annotated[str, typer.Argument(help="One kind; none: all.")] = "", json: Json = False) -> None:
    """What is usual for each kind of cloth, and where the figure comes from."""
    from clothwise.cli.cupboard_words import print_kinds
    from clothwise.cloth.kinds import kind_named
    from clothwise.cloth.kinds import kinds as all_kinds
    from clothwise.cloth.words import kind_lines
    from clothwise.ticket.figures import plain

    if name:
        kind = kind_named(name)
        _print(json, plain(kind), lambda: _echo(kind_lines(kind)))
    else:
        _print(json, [plain(kind) for kind in all_kinds()], print_kinds)


@cupboard.command(name="how-to-test")
def how_to_test(json: Json = False) -> None:
    """How to test stretch, shrinkage, nap, stripes and drape at home, and what to type then."""
    from clothwise.cloth.words import HOW_TO

    _print(json, HOW_TO, lambda: _echo([line for what, steps in HOW_TO.items() for line in (what, *steps, "")]))


@cupboard.command()
def cut(
    ticket: Annotated[Path, typer.Argument(help="A work ticket, TOML, whose cloths are in the cupboard.")],
    undo: Annotated[bool, typer.Option("--undo", help="Take the last cut of this ticket back.")] = False,
    json: Json = False,
) -> None:
    """What a ticket uses is taken off its cloths; the true remnants that are left go back in."""
    from clothwise.cli.cutting import cut_ticket, undo_ticket

    lines, figures = (undo_ticket if undo else cut_ticket)(ticket)
    _print(json, figures, lambda: _echo(lines))


def _version_lines(earlier: Sequence[Cloth]) -> list[str]:
    from clothwise.cloth.words import summary

    return [f"  before, version {number}: {summary(cloth)}" for number, cloth in enumerate(earlier, 1)]


def _print(json: bool, figures: Any, people: Any) -> None:
    from clothwise.ticket.figures import as_json

    if json:
        typer.echo(as_json(figures), nl=False)
    else:
        people()


def _echo(lines: Sequence[str]) -> None:
    for line in lines:
        typer.echo(line)
