"""The commands about bought patterns: `clothwise size`, and `clothwise shelf …`."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from clothwise.errors import LengthError, ShelfError, StoreError
from clothwise.store import Store, open_store, seed_demo
from clothwise.ticket.taped import days_since_taped
from clothwise.units import Unit, parse_length

if TYPE_CHECKING:
    from clothwise.shelf.pattern import BoughtPattern

shelf = typer.Typer(
    help="Bought patterns: enter them, look at them, say how a make turned out.", no_args_is_help=True
)

Json = Annotated[bool, typer.Option("--json", help="Print for programs.")]
Named = Annotated[
    str, typer.Argument(help="A bought pattern of `clothwise shelf list`, or a part of its name.")
]
For = Annotated[str, typer.Option("--for", help="The body's name, as in `clothwise bodies`.")]
View = Annotated[str, typer.Option(help="The view, when the envelope holds several.")]
InUnit = Annotated[str, typer.Option("--unit", help="cm or inch.")]


def size(
    pattern: Named,
    name: For,
    view: View = "",
    cloth: Annotated[
        str, typer.Option(help="A cloth of the cupboard: its width, stretch, nap and length.")
    ] = "",
    width: Annotated[str, typer.Option(help="How much of a cloth this wide? Or name a --cloth.")] = "",
    nap: Annotated[str, typer.Option(help="none, one-way or two-way, with --width.")] = "two-way",
    longer: Annotated[str, typer.Option(help="Made longer by this, or shorter: --longer=-4.")] = "",
    shrinks: Annotated[
        float, typer.Option(help="Lost in the first wash, in a hundred, with --width: 5.", min=0, max=50)
    ] = 0.0,
    ease: Annotated[
        list[str] | None, typer.Option(help="Ease you want now: hip=6. May be given again.")
    ] = None,
    unit: InUnit = "cm",
    json: Json = False,
) -> None:
    """Which size or blend of a bought pattern, level by level, what to alter, and can you get into it."""
    from clothwise.cli.sizing import figures, lines
    from clothwise.size.answering import answered

    shown = unit_of(unit)
    if cloth and shrinks:
        raise ShelfError(
            "A cloth of the cupboard has its own shrinkage.", where="--shrinks", mend="Leave --shrinks out."
        )
    with opened() as store:
        body, found, makes = store.body(name), find(store, pattern), store.makes()
        stuff = store.cloth(cloth) if cloth else None
    answer = answered(
        body,
        found,
        view=view,
        cloth=stuff,
        width=parse_length(width, unit=shown) if width else None,
        nap=_one_of(nap, ("none", "one-way", "two-way"), "--nap"),  # type: ignore[arg-type]  # one of these
        hem=parse_length(longer, unit=shown, allow_negative=True) if longer else 0.0,
        shrinkage=shrinks / 100,
        makes=makes,
        wishes=_pairs(ease, "--ease", shown),
        tape_days=days_since_taped(body, date.today().isoformat()),
    )
    advice = answer.advice
    if json:
        _print_json(figures(advice, found, answer.needs, shown, answer.questions))
    else:
        for line in lines(
            advice, found, answer.needs, stuff, shown, trouble=answer.trouble, questions=answer.questions
        ):
            typer.echo(line)
    if advice.cut == "nothing":
        raise typer.Exit(1)


@shelf.command(name="list")
def list_patterns(json: Json = False) -> None:
    """The bought patterns on the shelf."""
    from clothwise.cli.bought_words import pattern_line
    from clothwise.ticket.figures import plain

    with opened() as store:
        kept = store.bought_patterns()
    if json:
        _print_json([plain(one) for one in kept])
        return
    for one in kept:
        typer.echo(pattern_line(one))
    if not kept:
        typer.echo("The shelf is empty: clothwise shelf add FILE.toml puts a pattern on it.")


@shelf.command()
def show(pattern: Named, unit: InUnit = "cm", json: Json = False) -> None:
    """One bought pattern: charts, finished measures, cloth, pieces, and doubts about its figures."""
    from clothwise.cli.bought_words import pattern_lines
    from clothwise.ticket.figures import plain

    with opened() as store:
        found = find(store, pattern)
    if json:
        _print_json(plain(found))
        return
    for line in pattern_lines(found, unit_of(unit)):
        typer.echo(line)


@shelf.command()
def add(
    file: Annotated[Path, typer.Argument(help="A pattern file, TOML; see docs.")], json: Json = False
) -> None:
    """Puts a bought pattern on the shelf, and says what was understood and what looks like a slip."""
    from clothwise.shelf.reading import read_pattern

    reading = read_pattern(_read(file))
    _keep(reading.pattern, reading.problems, json)


@shelf.command()
def table(
    pattern: Named,
    file: Annotated[
        str, typer.Argument(help="A file with the table as text or CSV; - reads what is pasted.")
    ] = "-",
    kind: Annotated[str, typer.Option(help="body, finished or cloth.")] = "body",
    view: View = "",
    unit: Annotated[str, typer.Option("--unit", help="What a bare number is in: cm or inch.")] = "cm",
    new: Annotated[bool, typer.Option("--new", help="The pattern is not on the shelf yet: begin it.")] = False,
    garment: Annotated[str, typer.Option(help="With --new: top, shirt, dress, skirt, trousers ...")] = "dress",
    figure: Annotated[str, typer.Option(help="With --new: woman, man, girl or boy.")] = "woman",
    fit: Annotated[
        str, typer.Option(help="With --new: close, fitted, semi-fitted, loose, very loose.")
    ] = "semi-fitted",
    stretch: Annotated[
        float | None,
        typer.Option(help="With --new, for a knit: the least it must stretch, 0.35.", min=0, max=3),
    ] = None,
    json: Json = False,
) -> None:
    """Puts a pasted table into a bought pattern: tabs, commas, ranges, fractions of an inch, mixed units."""
    from clothwise.shelf.pasting import sizes_of, with_table
    from clothwise.shelf.pattern import BoughtPattern

    text = sys.stdin.read() if file == "-" else _read(Path(file)).decode("utf-8", errors="replace")
    of = _one_of(kind, ("body", "finished", "cloth"), "--kind")
    with opened() as store:
        if new:
            sizes = sizes_of(text, of, unit_of(unit))  # type: ignore[arg-type]
            found = BoughtPattern(
                pattern, sizes, garment=garment, figure=figure, fit_class=fit,  # type: ignore[arg-type]  # it checks
                make="woven" if stretch is None else "knit", least_stretch=stretch,
            )  # fmt: skip
        else:
            found = find(store, pattern)
    reading = with_table(found, text, of, view=view, unit=unit_of(unit))  # type: ignore[arg-type]
    _keep(reading.pattern, reading.problems, json, unit_of(unit))


@shelf.command()
def forget(pattern: Named) -> None:
    """Takes a bought pattern off the shelf; the store keeps its earlier versions."""
    with opened() as store:
        found = find(store, pattern)
        store.forget_bought_pattern(found.name)
    typer.echo(f"{found.name} is off the shelf.")


@shelf.command()
def judge(
    pattern: Named,
    name: For,
    cut: Annotated[list[str], typer.Option("--size", help="The size cut: 14, or by level: hip=16.")],
    say: Annotated[list[str], typer.Option("--say", help="hip=loose, waist=right, sleeve_length=short.")],
    changed: Annotated[
        list[str] | None, typer.Option(help="Let out or added there: waist=2; taken in: hip=-2.")
    ] = None,
    measured: Annotated[list[str] | None, typer.Option(help="The garment itself as measured: hip=104.")] = None,
    view: View = "",
    on: Annotated[str, typer.Option(help="When it was made, 2026-11-20; today if left out.")] = "",
    unit: InUnit = "cm",
    json: Json = False,
) -> None:
    """Says how a finished make turned out, level by level; the next advice learns from it."""
    from clothwise.shelf.pattern import FinishedMake
    from clothwise.size.judging import judged
    from clothwise.ticket.figures import plain

    shown = unit_of(unit)
    sizes = dict(_pair(one, "--size") for one in cut if "=" in one)
    throughout = next((one for one in cut if "=" not in one), "")
    by, as_made = _pairs(changed, "--changed", shown), _pairs(measured, "--measured", shown)
    day = _day(on)
    with opened() as store:
        body, found = store.body(name), find(store, pattern)
        judgements = tuple(
            judged(
                body, found, level, verdict, size=sizes.get(level, throughout), view=view or _only_view(found),
                changed=by.get(level, 0.0), measured=as_made.get(level),
            )
            for level, verdict in (_pair(one, "--say") for one in say)
        )  # fmt: skip
        make = FinishedMake(
            f"{found.name} for {name}, {day}", name, found.name, found.fit_class, found.make,
            {one.level: sizes.get(one.level, throughout) for one in judgements}, judgements, day,
        )  # fmt: skip
        store.keep_make(make)
    if json:
        _print_json(plain(make))
        return
    from clothwise.size.words import Speaker

    typer.echo(f"Kept: {make.name}.")
    for one in judgements:
        typer.echo(
            f"  {one.level.replace('_', ' ')}: {one.verdict}, with {Speaker(shown).cm(one.ease)} of ease."
        )


# ---- behind the commands ---------------------------------------------------------------------------


def opened() -> Store:
    """The store of this person; a new one begins with the Tide Mill scenario."""
    store = open_store()
    seed_demo(store)
    return store


def find(store: Store, name: str) -> BoughtPattern:
    """The pattern of this name, or the only one whose name holds these words."""
    kept = store.bought_patterns()
    like = [one for one in kept if name.casefold() in one.name.casefold()]
    exact = [one for one in like if one.name == name]
    if exact or len(like) == 1:
        return (exact or like)[0]
    if like:
        raise StoreError(
            f"{len(like)} patterns are called something like '{name}'.",
            where="shelf",
            mend=f"Say which: {', '.join(one.name for one in like)}.",
        )
    return store.bought_pattern(name)


def unit_of(word: str) -> Unit:
    """'cm' or 'in'."""
    found: dict[str, Unit] = {"cm": "cm", "inch": "in", "inches": "in", "in": "in"}
    if word not in found:
        raise LengthError(f"'{word}' is no unit here.", where="--unit", mend="Say cm or inch.")
    return found[word]


def _keep(pattern: BoughtPattern, problems: Sequence[str], json: bool, unit: Unit = "cm") -> None:
    from clothwise.cli.bought_words import pattern_lines
    from clothwise.ticket.figures import plain

    with opened() as store:
        store.keep_bought_pattern(pattern)
    if json:
        _print_json({"pattern": plain(pattern), "problems": list(problems)})
        return
    for line in pattern_lines(pattern, unit, problems):
        typer.echo(line)


def _only_view(pattern: BoughtPattern) -> str:
    """The first view when the envelope has some: a size is nearly always the same for all."""
    return pattern.views[0] if pattern.views else ""


def _day(text: str) -> str:
    if not text:
        return date.today().isoformat()
    try:
        return date.fromisoformat(text).isoformat()
    except ValueError:
        raise ShelfError(f"'{text}' is no date.", where="--on", mend="Write it as 2026-11-20.") from None


def _pair(text: str, option: str) -> tuple[str, str]:
    from clothwise.shelf.levels import find_level

    name, equals, value = text.partition("=")
    level = find_level(name.replace("_", " "))
    if not equals or level is None or not value.strip():
        raise ShelfError(
            f"'{text}' is not understood.", where=option, mend="Write it as hip=..., waist=... and so on."
        )
    return level.name, value.strip()


def _pairs(texts: list[str] | None, option: str, unit: Unit) -> dict[str, float]:
    """Lengths by level; a leading minus is allowed."""
    pairs = [_pair(text, option) for text in texts or []]
    return {level: parse_length(value, unit=unit, allow_negative=True) for level, value in pairs}


def _one_of(word: str, known: tuple[str, ...], option: str) -> str:
    if word not in known:
        raise ShelfError(f"'{word}' is not understood.", where=option, mend=f"Say {', '.join(known)}.")
    return word


def _read(file: Path) -> bytes:
    try:
        return file.read_bytes()
    except OSError as fault:
        raise ShelfError(
            f"The file cannot be read: {fault.strerror}.", where=str(file), mend="Name a file that is there."
        ) from fault


def _print_json(figures: Any) -> None:
    from clothwise.ticket.figures import as_json

    typer.echo(as_json(figures), nl=False)
