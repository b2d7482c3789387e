"""What can be made: `clothwise suggest`, `scraps`, `longest`, `suits`."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

import typer

from clothwise.cli.bought import opened

TICKET = Path("ticket.toml")

Json = Annotated[bool, typer.Option("--json", help="Print for programs.")]
For = Annotated[str, typer.Option("--for", help="The body's name, as in `clothwise bodies`.")]
Settings = Annotated[
    list[str] | None, typer.Option("--set", help="A choice of the draft, KEY=VALUE; may be given again.")
]
Pattern = Annotated[str, typer.Argument(help="A draft of `clothwise patterns`.")]
Cloths = Annotated[
    list[str] | None, typer.Option("--cloth", help="A cloth of the cupboard; may be given again. None: all.")
]
Hours = Annotated[float, typer.Option(help="How long the evening is.")]
Skill = Annotated[str, typer.Option(help="beginner, practised or expert")]
Overlocker = Annotated[bool, typer.Option("--overlocker", help="There is an overlocker.")]
Season = Annotated[str, typer.Option(help="spring, summer, autumn or winter; empty: any.")]
Take = Annotated[int, typer.Option("--take", help="Write the ticket of this answer, by its number.")]
To = Annotated[Path, typer.Option("--to", help="Where the ticket is written.")]
Occasion = Annotated[str, typer.Option(help="everyday, work, celebration, sleep, sport or home; empty: any.")]


def suggest(
    name: For,
    hours: Hours = 3.0,
    skill: Skill = "practised",
    overlocker: Overlocker = False,
    season: Season = "",
    occasion: Occasion = "",
    cloth: Cloths = None,
    most: Annotated[int, typer.Option(help="How many answers to print.")] = 8,
    take: Take = 0,
    to: To = TICKET,
    json: Json = False,
) -> None:
    """What can be made: ranked, each with its lay, minutes, and why."""
    from clothwise.cli.evening import answer_figures, answers_for, evening_of, print_answers
    from clothwise.cli.looking import looking
    from clothwise.cli.taking import take_up

    with opened() as store:
        evening = evening_of(store, name, hours, skill, overlocker, season, occasion)
        with looking() as progress:
            found = answers_for(store, evening, cloth, progress)
    if take:
        typer.echo(take_up(found.answers, take, to))
    elif json:
        _print(
            {
                "for": name,
                "hours": hours,
                "doubts": list(found.doubts),
                "answers": [answer_figures(a) for a in found.answers],
                "refusals": [{"pattern": r.pattern, "cloth": r.cloth, "why": r.why} for r in found.refusals],
            }
        )
    else:
        print_answers(found, name, hours, most)
    if not found.answers:
        raise typer.Exit(1)


def scraps(
    name: For,
    cloth: Cloths = None,
    hours: Hours = 3.0,
    skill: Skill = "practised",
    overlocker: Overlocker = False,
    season: Season = "",
    occasion: Occasion = "",
    most: Annotated[int, typer.Option(help="How many answers to print.")] = 8,
    take: Take = 0,
    to: To = TICKET,
    json: Json = False,
) -> None:
    """What fits on remnants, on one or on several together by layer."""
    from clothwise.cli.evening import evening_of, print_cautions
    from clothwise.cli.evening_asks import scrap_figures, scrap_lines, scraps_for
    from clothwise.cli.taking import take_up

    with opened() as store:
        evening = evening_of(store, name, hours, skill, overlocker, season, occasion)
        found = scraps_for(store, evening, cloth, max(most, take))
    if take:
        typer.echo(take_up([one.answer for one in found], take, to))
    elif json:
        _print([scrap_figures(one) for one in found])
    else:
        for number, one in enumerate(found, 1):
            for text in scrap_lines(number, one):
                typer.echo(text)
        print_cautions([one.answer for one in found])
    if not found:
        if not json and not take:
            typer.echo("Nothing was found that goes onto these remnants.")
        raise typer.Exit(1)


def longest(
    pattern: Pattern,
    name: For,
    cloth: Annotated[str, typer.Option("--cloth", help="A cloth of the cupboard.")],
    settings: Settings = None,
    json: Json = False,
) -> None:
    """The longest that a draft can be on a cloth of the cupboard, to half a centimetre."""
    from clothwise.cli.evening_asks import longest_for

    with opened() as store:
        text, figures = longest_for(store, pattern, name, cloth, settings)
    if json:
        _print(figures)
    else:
        typer.echo(text)


def suits(
    pattern: Pattern,
    cloth: Annotated[str, typer.Option("--cloth", help="A cloth of the cupboard.")],
    settings: Settings = None,
    skill: Skill = "practised",
    season: Season = "",
    occasion: Occasion = "",
    name: Annotated[str, typer.Option("--for", help="For knits: whose body must get into it.")] = "",
    json: Json = False,
) -> None:
    """Will this cloth suit this draft? A share of one with its reasons, and how the look changes."""
    from clothwise.cli.evening_asks import suits_for
    from clothwise.suggest.suiting import Asked

    with opened() as store:
        lines, figures, good = suits_for(store, pattern, cloth, settings, Asked(skill, season, occasion), name)
    if json:
        _print(figures)
    else:
        for text in lines:
            typer.echo(text)
    if not good:
        raise typer.Exit(1)


def _print(figures: Any) -> None:
    from clothwise.ticket.figures import as_json

    typer.echo(as_json(figures), nl=False)
