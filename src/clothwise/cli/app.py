"""The commands. Each prints for people, and with --json for programs."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Annotated, Any

import typer

from clothwise.cli import asking, bought, cupboard, laying, printing, sewing, shopping
from clothwise.cli.settings import settings_of
from clothwise.store import Store, open_store, seed_demo

app = typer.Typer(
    help="What can I make, that will fit, from what I have, in the time I've got?",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
)

app.command()(asking.suggest)
app.command()(asking.scraps)
app.command()(asking.longest)
app.command()(asking.suits)
app.command()(shopping.metres)
app.command()(shopping.shopping)
app.add_typer(shopping.box, name="box")
app.command()(bought.size)
app.add_typer(bought.shelf, name="shelf")
app.add_typer(cupboard.cupboard, name="cupboard")
app.command(name="print")(printing.print_)
app.command()(printing.sizes)
app.command()(laying.lay)
app.command()(sewing.make)
app.command()(sewing.steps)
app.command()(sewing.log)

Json = Annotated[bool, typer.Option("--json", help="Print for programs.")]
For = Annotated[str, typer.Option("--for", help="The body's name, as in `clothwise bodies`.")]
Settings = Annotated[
    list[str] | None, typer.Option("--set", help="A choice of the draft, KEY=VALUE; may be given again.")
]
Figures = Annotated[
    list[str] | None,
    typer.Option("--figure", help="How the figure differs, KEY=AMOUNT: seat=2, shoulder_slope=3."),
]
Lengthen = Annotated[
    list[str] | None, typer.Option("--lengthen", help="Longer (or shorter) below a level, LEVEL=CM: knee=3.")
]
Left = Annotated[
    list[str] | None, typer.Option("--left", help="How the left side differs besides: low_shoulder=1.")
]
Changes = Annotated[
    list[str] | None,
    typer.Option("--change", help="A change of the pieces, NAME KEY=VALUE ...: 'face hem hem=hem by=5'."),
]


_choices = settings_of  # by this name the other files of commands ask for it


def _store() -> Store:
    """The store of this person; a new one begins with the Tide Mill scenario."""
    store = open_store()
    seed_demo(store)
    return store


def _print_json(figures: Any) -> None:
    from clothwise.ticket.figures import as_json

    typer.echo(as_json(figures), nl=False)


@app.command()
def start(
    packet: Annotated[
        bool, typer.Option("--packet", help="No page: what can Marit make? The best answer to ./packet/.")
    ] = False,
    port: Annotated[int, typer.Option(min=0, max=65535, help="The port; 0 takes a free one.")] = 0,
    lan: Annotated[
        bool, typer.Option("--lan", help="Also for devices on your own network that you pair.")
    ] = False,
    browser: Annotated[bool, typer.Option(help="Open the browser.")] = True,
) -> None:
    """Opens the page in the browser; only this machine can reach it unless --lan is given."""
    if packet:
        from clothwise.cli.evening import best_packet

        best_packet(_store, Path("packet"))
        return
    from clothwise.web.workers import begin_importing

    begin_importing()  # on the other core, beside our own
    from clothwise.web.serving import serve

    with _store() as store:
        serve(store, port=port, lan=lan, browser=browser, say=typer.echo)


@app.command()
def draft(
    pattern: Annotated[str, typer.Argument(help="A draft of `clothwise patterns`.")],
    name: For,
    out: Annotated[Path, typer.Option(help="A file ending in .svg, .pdf, .dxf or .json.")],
    settings: Settings = None,
    figure: Figures = None,
    lengthen: Lengthen = None,
    left: Left = None,
    change: Changes = None,
    sheet: Annotated[str, typer.Option(help="For .pdf: A4, Letter, A3 ...")] = "A4",
    json: Json = False,
) -> None:
    """The pieces of one draft for one body, altered where asked."""
    from clothwise.body.slips import slips
    from clothwise.cli.drafting import drawn_for, piece_file

    with _store() as store:
        body = store.body(name)
    choices, differs, longer, one_side = (_choices(given) for given in (settings, figure, lengthen, left))
    garment = drawn_for(body, pattern, choices, differs, longer, one_side, change or ())
    piece_file(garment, body.name, out, sheet)
    if json:
        from clothwise.ticket.figures import garment_figures

        _print_json({**garment_figures(garment), "file": str(out)})
        return
    typer.echo(f"{garment.title} for {body.name}: {len(garment.pieces)} pieces, written to {out}.")
    for slip in slips(body):
        typer.echo(f"  Before you cut: {slip.sentence}")
    for note in garment.notes:
        typer.echo(f"  Note: {note.text}")


@app.command()
def check(
    pattern: Annotated[str, typer.Argument(help="A draft of `clothwise patterns`.")],
    name: For,
    settings: Settings = None,
    json: Json = False,
) -> None:
    """Runs every invariant on a draft for one body; exit 1 when one is broken."""
    from clothwise.body import estimate
    from clothwise.draft import pattern as house_draft
    from clothwise.garment.check import check as faults_of

    with _store() as store:
        body = store.body(name)
    garment = house_draft(pattern).make(estimate(body), _choices(settings))
    faults = faults_of(garment)
    if json:
        _print_json({"pattern": pattern, "for": name, "faults": [str(fault) for fault in faults]})
    elif not faults:
        typer.echo(f"{garment.title} for {name}: every rule holds.")
    else:
        for fault in faults:
            typer.echo(str(fault))
    if faults:
        raise typer.Exit(1)


@app.command()
def patterns(json: Json = False) -> None:
    """The house drafts and their choices."""
    from clothwise.cli.shelf import pattern_figures, print_patterns

    if json:
        _print_json(pattern_figures())
    else:
        print_patterns()


@app.command()
def bodies(json: Json = False) -> None:
    """The people in the store, their measures, and slips of the tape worth asking about."""
    from clothwise.cli.shelf import print_bodies
    from clothwise.ticket.figures import body_figures

    with _store() as store:
        kept = store.bodies()
    if json:
        _print_json([body_figures(body) for body in kept])
    else:
        print_bodies(kept)


@app.command()
def backup(
    out: Annotated[Path | None, typer.Option(help="The file to write.")] = None, json: Json = False
) -> None:
    """A copy of the whole store in one file."""
    target = out or Path(f"clothwise-{date.today().isoformat()}.sqlite")
    with _store() as store:
        store.back_up(target)
    if json:
        _print_json({"file": str(target)})
    else:
        typer.echo(f"The store is copied to {target}.")


@app.command()
def restore(
    file: Annotated[Path, typer.Argument(help="A backup, as `clothwise backup` writes it.")], json: Json = False
) -> None:
    """Puts a backup in the place of the whole store; what was there is copied aside first."""
    from clothwise.store.restoring import restore as put_back

    with open_store() as store:
        aside = put_back(store, file)
    if json:
        _print_json({"restored": str(file), "before": str(aside)})
    else:
        typer.echo(f"The store is as in {file}; what it held before lies in {aside}.")


@app.command()
def export(
    out: Annotated[Path | None, typer.Option(help="The archive to write.")] = None, json: Json = False
) -> None:
    """Everything in the store as plain JSON, CSV and TOML in one archive."""
    from clothwise.cli.files import write_one
    from clothwise.store.export import as_archive, exported

    target = out or Path(f"clothwise-export-{date.today().isoformat()}.zip")
    with _store() as store:
        write_one(as_archive(exported(store)), target)
    if json:
        _print_json({"file": str(target)})
    else:
        typer.echo(f"All that is in the store is written to {target}.")
