"""Commands about buying: `clothwise shopping`, `clothwise box …`, `clothwise metres`."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

import typer

from clothwise.cli.bought import opened

box = typer.Typer(help="The haberdashery box: what is in it, put in, take out.", invoke_without_command=True)

Json = Annotated[bool, typer.Option("--json", help="Print for programs.")]
Unit = Annotated[str, typer.Option("--unit", help="Of lengths without one: cm or inch.")]
For = Annotated[str, typer.Option("--for", help="The body's name, as in `clothwise bodies`.")]
Settings = Annotated[
    list[str] | None, typer.Option("--set", help="A choice of the draft, KEY=VALUE; may be given again.")
]


def shopping(
    tickets: Annotated[list[Path], typer.Argument(help="One or several work tickets, TOML.")],
    without_cloth: Annotated[bool, typer.Option("--without-cloth", help="The cloths are there.")] = False,
    json: Json = False,
) -> None:
    """One shopping list over several tickets, less what is in the haberdashery box."""
    from clothwise.cli.shopping_words import needs_for
    from clothwise.shopping.lists import shopping_list
    from clothwise.shopping.together import too_short
    from clothwise.shopping.words import cloth_line, line_of, short_line
    from clothwise.ticket.figures import plain

    with opened() as store:
        there = store.box()
        cloths, needs = needs_for(store, tickets)
        short = () if without_cloth else too_short(cloths, store.cloths())
    found = shopping_list(needs, there)
    if json:
        _print(
            {
                "cloths": [] if without_cloth else [plain(cloth) for cloth in cloths],
                "short": [plain(one) for one in short],
                "lines": [plain(line) for line in found],
            }
        )
        return
    said = [] if without_cloth else [cloth_line(cloth) for cloth in cloths]
    said += [short_line(one) for one in short]
    for text in (*said, *(line_of(line) for line in found)):
        typer.echo(text)


def metres(
    pattern: Annotated[str, typer.Argument(help="A draft of `clothwise patterns`.")],
    name: For,
    settings: Settings = None,
    like: Annotated[
        str,
        typer.Option(help="A cloth of the cupboard or a kind: its nap, repeat, shrinkage, price."),
    ] = "",
    nap: Annotated[str, typer.Option(help="none, one-way or two-way; else as the cloth.")] = "",
    shrinkage: Annotated[str, typer.Option(help="Lost in the first wash, '5 %'; else as the cloth.")] = "",
    price: Annotated[float | None, typer.Option(help="A metre.")] = None,
    width: Annotated[list[str] | None, typer.Option(help="A width; may be given again.")] = None,
    unit: Unit = "cm",
    json: Json = False,
) -> None:
    """How much cloth to buy, for any width: really laid, with what the wash takes, in steps of 10 cm."""
    from clothwise.cli.bought import unit_of
    from clothwise.cli.shopping_words import metres_of
    from clothwise.shopping.words import metres_lines
    from clothwise.ticket.figures import plain
    from clothwise.units import parse_length

    shown = unit_of(unit)
    widths = tuple(parse_length(text, unit=shown) for text in width or ())
    with opened() as store:
        rows, like_cloth = metres_of(store, name, pattern, settings, like, nap, shrinkage, price, widths)
    if json:
        fields = ("width", "need", "buy", "price", "layering", "why")
        _print([{field: plain(getattr(row, field)) for field in fields} for row in rows])
    else:
        for text in metres_lines(rows, like_cloth):
            typer.echo(text)
    if all(row.buy is None for row in rows):
        raise typer.Exit(1)


@box.callback()
def first(context: typer.Context, json: Json = False) -> None:
    """Without a word more: what is in it."""
    from clothwise.shopping.words import box_lines
    from clothwise.ticket.figures import plain

    if context.invoked_subcommand is not None:
        return
    with opened() as store:
        there = store.box()
    if json:
        _print([plain(item) for item in there])
        return
    for text in box_lines(there):
        typer.echo(text)


@box.command()
def put(
    name: Annotated[str, typer.Argument(help="What it is called: 'White elastic 2.5 cm'.")],
    sort: Annotated[str, typer.Option(help="elastic, thread, button, zip ...")],
    length: Annotated[str, typer.Option(help="'1.5 m', of what is sold by length.")] = "",
    count: Annotated[int, typer.Option(help="How many, of the rest.")] = 0,
    width: Annotated[str, typer.Option(help="Of elastic, cord, binding, button; of a zip its length.")] = "",
    colour: Annotated[str, typer.Option(help="Empty: goes with all.")] = "",
    unit: Unit = "cm",
    json: Json = False,
) -> None:
    """Puts a thing into the box, or says anew how much of it there is."""
    from clothwise.cli.bought import unit_of
    from clothwise.shopping.box import BoxItem
    from clothwise.store.deeds import keep
    from clothwise.store.store import IN_BOX
    from clothwise.ticket.figures import plain
    from clothwise.units import parse_length

    shown = unit_of(unit)
    item = BoxItem(
        name=name,
        sort=sort,  # type: ignore[arg-type]  # BoxItem checks it
        length=parse_length(length, unit=shown) if length else 0.0,
        count=count,
        width=parse_length(width, unit=shown) if width else 0.0,
        colour=colour,
    )
    with opened() as store:
        keep(store, IN_BOX, item, f"Put {name} into the box")
    if json:
        _print(plain(item))
    else:
        typer.echo(f"{name} is in the box.")


@box.command(name="take-out")
def take_out(name: Annotated[str, typer.Argument(help="A thing in the box.")], json: Json = False) -> None:
    """Takes a thing out of the box."""
    from clothwise.store.deeds import forget
    from clothwise.store.store import IN_BOX

    with opened() as store:
        forget(store, IN_BOX, name, f"Took {name} out of the box")
    if json:
        _print({"taken_out": name})
    else:
        typer.echo(f"{name} is out of the box.")


def _print(figures: Any) -> None:
    from clothwise.ticket.figures import as_json

    typer.echo(as_json(figures), nl=False)
