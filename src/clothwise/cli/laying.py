"""The command `clothwise lay`: least cloth, a table over widths, a remnant, what would save cloth."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from clothwise.cli.laying_cloth import ToldCloth, cloth_told, cm, no_cloth
from clothwise.cli.laying_subject import Subject, other_layers, pieces_of, problem_of, subject_of
from clothwise.cli.laying_words import (
    answer_lines,
    change_figures,
    change_lines,
    heading_lines,
    layer_lines,
    longest_lines,
    not_found_lines,
    offer_lines,
    plan_figures,
    plan_lines,
    refusal_lines,
    simpler_figures,
    simpler_lines,
    table_lines,
    too_short,
)
from clothwise.cli.laying_words import cloth_words as words_of
from clothwise.errors import ChoiceError, ClothError, LayError

if TYPE_CHECKING:
    from clothwise.lay.layering import Layering
    from clothwise.lay.nofit import NoFits
    from clothwise.lay.plan import LayAnswer, LayPlan
    from clothwise.lay.problem import LayProblem
    from clothwise.suggest.near import Near

LAYERINGS = "single, folded, centre, crosswise, 'partial 30', 'partial 30 25' (near and far), or 'far 30'"


def lay(
    what: Annotated[str, typer.Argument(help="A work ticket, FILE.toml, or a draft of `clothwise patterns`.")],
    name: Annotated[str, typer.Option("--for", help="With a draft: the body's name.")] = "",
    settings: Annotated[
        list[str] | None, typer.Option("--set", help="With a draft: a choice, KEY=VALUE; again for more.")
    ] = None,
    cloth: Annotated[str, typer.Option(help="A cloth of `clothwise cupboard`.")] = "",
    width: Annotated[
        list[str] | None, typer.Option(help="Usable width of the cloth; several give a table.")
    ] = None,
    length: Annotated[str, typer.Option(help="What there is of it: does it fit?")] = "",
    remnant: Annotated[
        str, typer.Option(help="Corners of a remnant, cm along and across: '0,0 150,0 150,60 90,110 0,110'.")
    ] = "",
    flaw: Annotated[
        list[str] | None, typer.Option(help="Corners of a hole or stain, as for --remnant; again for more.")
    ] = None,
    nap: Annotated[str, typer.Option(help="none, two-way or one-way.")] = "",
    bars: Annotated[str, typer.Option(help="Checks: from bar to bar along the selvedge.")] = "",
    stripes: Annotated[str, typer.Option(help="Stripes or checks: from stripe to stripe across.")] = "",
    first_bar: Annotated[str, typer.Option(help="Middle of the first bar from the cut end.")] = "",
    first_stripe: Annotated[str, typer.Option(help="Middle of the first stripe from the selvedge.")] = "",
    uneven: Annotated[bool, typer.Option("--uneven", help="Stripes differ seen from their two sides.")] = False,
    two_right_sides: Annotated[
        bool, typer.Option("--two-right-sides", help="Either side of the cloth may be worn outside.")
    ] = False,
    lean: Annotated[float, typer.Option(help="Degrees that pieces may lie off their grain.")] = 0.0,
    layering: Annotated[str, typer.Option(help=f"Found if not given: {LAYERINGS}.")] = "",
    gap: Annotated[str, typer.Option(help="Left between pieces for the blade.")] = "0.3",
    layer: Annotated[str, typer.Option(help="shell, lining, pocket, rib or interfacing.")] = "shell",
    tricks: Annotated[bool, typer.Option("--tricks", help="Offer what would save cloth.")] = False,
    longest: Annotated[bool, typer.Option("--longest", help="How long can it be made on this cloth?")] = False,
    effort: Annotated[str, typer.Option(help="quick, brisk, usual or thorough.")] = "usual",
    seconds: Annotated[float | None, typer.Option(help="Race: a single layer, so long by the clock.")] = None,
    out: Annotated[Path | None, typer.Option(help="A file for the lay plan, .svg or .pdf.")] = None,
    json: Annotated[bool, typer.Option("--json", help="Print for programs.")] = False,
) -> None:
    """The lay: how to fold, what to cut in which order, the length it takes, what is left."""
    from clothwise.cli.settings import settings_of

    subject = replace(subject_of(what, name, settings_of(settings), cloth), lean=lean)
    widths = [cm(one, "--width") for one in width or []]
    said = ToldCloth(length, remnant, tuple(flaw or ()), nap, bars, stripes, first_bar, first_stripe, uneven)
    on = replace(cloth_told(subject.cloth, widths, said), two_right_sides=two_right_sides)
    problem = problem_of(subject, on, layer, cm(gap, "--gap"))
    title = f"{subject.title} for {subject.whom}" if subject.whom else subject.title
    if seconds is not None:
        if longest or tricks or layering or len(widths) > 1 or on.length is not None:
            raise LayError(
                "A race is for one width of cloth, as long as is needed, in a single layer.",
                where="--seconds",
                mend="Leave out --length, --remnant, --layering, --tricks and --longest, and give one --width.",
            )
        _tell_race(problem, seconds, title, out, json)
    elif longest:
        if not widths and subject.cloth is None and on.length is None:
            raise no_cloth()
        _tell_longest(subject, problem, layer, effort, title, out, json)
    elif len(widths) > 1:
        _tell_table(problem, widths, effort, title, json)
    else:
        _tell_lay(subject, problem, layering, effort, title, out, json, tricks=tricks)


# ---- the answers -----------------------------------------------------------------------------------


def _tell_race(problem: LayProblem, seconds: float, title: str, out: Path | None, json: bool) -> None:
    from clothwise.race.racing import race

    made = race(problem, seconds=seconds)
    figures: dict[str, Any] = {"title": title, "cloth": words_of(problem.cloth), "lay": plan_figures(made)}
    lines = [*heading_lines(title, problem.cloth), *plan_lines(made)]
    _write(made, title, out, lines, figures)
    _print(figures, lines, json)


def _write(made: LayPlan, title: str, out: Path | None, lines: list[str], figures: dict[str, Any]) -> None:
    """The plan to a file, where one is asked for."""
    if out is not None:
        from clothwise.cli.drafting import lay_file

        lay_file(made, title, out)
        lines.append(f"The plan is written to {out}.")
        figures |= {"file": str(out)}


def _tell_lay(
    subject: Subject,
    problem: LayProblem,
    layering: str,
    effort: str,
    title: str,
    out: Path | None,
    json: bool,
    *,
    tricks: bool,
) -> None:
    from clothwise.lay.nofit import NoFits
    from clothwise.lay.planning import every_way, plan
    from clothwise.lay.tricks import offers

    known = NoFits()
    figures: dict[str, Any] = {"title": title, "cloth": words_of(problem.cloth)}
    lines = heading_lines(title, problem.cloth)
    made: LayPlan | None = None
    if tricks and not layering and (refused := _refusal(problem, known)):
        figures |= {"verdict": "impossible", "reason": refused}
        lines += refusal_lines(refused)
    elif layering:
        made = plan(problem, _layering(layering), effort=effort, known=known)
        if short := too_short(made):
            figures |= {"verdict": "not found", "reason": short}
            lines += not_found_lines(short)
            made = None
        else:
            lines += plan_lines(made)
    elif problem.cloth.length is None:
        made, *simpler = every_way(problem, effort=effort, known=known)
        lines += [*plan_lines(made), *simpler_lines(simpler)]
        figures |= {"simpler": [simpler_figures(one) for one in simpler]}
    else:
        answer, simpler = _does_it_fit(problem, effort, known)
        made = answer.plan
        figures |= {"verdict": answer.verdict, "reason": answer.reason}
        figures |= {"simpler": [simpler_figures(one) for one in simpler]}
        lines += [*answer_lines(answer), *simpler_lines(simpler)]
        if made is None and (change := _change(subject, problem, known)) is not None:
            figures |= {"change": change_figures(change)}
            lines += change_lines(change, subject.pattern)
    if made is not None:
        figures |= {"lay": plan_figures(made)}
    others = other_layers(subject, problem.pieces[0].layer)
    figures |= {"other_layers": others}
    lines += layer_lines(others)
    if tricks:
        woven = subject.cloth is None or subject.cloth.make == "woven"
        offered = offers(
            _endless(problem), _plain(problem, effort, known), effort=effort, known=known, plain=woven
        )
        lines += offer_lines(offered, made, problem.cloth.length)
        figures |= {
            "tricks": [
                {"name": o.trick.name, "says": o.sentence, "saves": o.saves, "length": o.plan.length}
                for o in offered
            ]
        }
    if made is not None:
        _write(made, title, out, lines, figures)
    _print(figures, lines, json)
    if figures.get("verdict", "yes") != "yes":
        raise typer.Exit(1)


def _does_it_fit(problem: LayProblem, effort: str, known: NoFits) -> tuple[LayAnswer, list[LayPlan]]:
    """The shortest lay where that goes onto the cloth, with simpler ones that do too; else what `fits` says."""
    from clothwise.lay.impossible import why_impossible
    from clothwise.lay.plan import LayAnswer
    from clothwise.lay.planning import every_way, fits

    length = problem.cloth.length
    assert length is not None
    if not why_impossible(problem, known):
        try:
            best, *simpler = every_way(problem, effort=effort, known=known)
        except LayError as refusal:
            return LayAnswer("impossible", refusal.what), []
        if best.length <= length:
            said = f"It fits, {best.layering}, on {best.length:.1f} cm."
            return LayAnswer("yes", said, best, best), [one for one in simpler if one.length <= length]
    return fits(problem, effort=effort, known=known), []


def _change(subject: Subject, problem: LayProblem, known: NoFits) -> Near | None:
    """The least change of one choice with which it fits; not sought for a ticket's altered pieces."""
    from clothwise.cli.laying_near import least_change
    from clothwise.draft import pattern
    from clothwise.suggest.candidate import Make

    if subject.altered or subject.body is None or problem.pieces[0].layer != "shell":
        return None
    wish = subject.wish()
    return least_change(Make(pattern(subject.pattern), wish, subject.body), subject.cloth, problem, known)


def _refusal(problem: LayProblem, known: Any) -> str:
    """Why the pieces as they are go on no length of this cloth; a trick may still make it possible."""
    from clothwise.lay.layering import SINGLE
    from clothwise.lay.planning import plan

    try:
        plan(problem, SINGLE, effort="quick", known=known)  # what fits in no single layer fits nowhere
    except LayError as refusal:
        return refusal.what
    return ""


def _endless(problem: LayProblem) -> LayProblem:
    """Tricks are told by the length they take, so the cloth has none; a remnant keeps its own."""
    if problem.cloth.outline is not None:
        return problem
    return replace(problem, cloth=replace(problem.cloth, length=None))


def _plain(problem: LayProblem, effort: str, known: Any) -> LayPlan | None:
    """What she would do without thinking: fold it lengthwise; open where that is refused; None: neither."""
    from clothwise.lay.layering import FOLDED, SINGLE
    from clothwise.lay.planning import plan

    for layering in (FOLDED, SINGLE):
        try:
            return plan(problem, layering, effort=effort, known=known)
        except LayError:
            continue
    return None


def _layering(words: str) -> Layering:
    from clothwise.lay.layering import ACROSS, FOLDED, SINGLE, TO_CENTRE, partial_fold

    first, *rest = words.lower().split() or [""]
    whole = {"single": SINGLE, "folded": FOLDED, "centre": TO_CENTRE, "center": TO_CENTRE, "crosswise": ACROSS}
    if first in whole and not rest:
        return whole[first]
    if first == "partial" and 1 <= len(rest) <= 2:
        return partial_fold(*(cm(one, "--layering") for one in rest))
    if first == "far" and len(rest) == 1:
        return partial_fold(far=cm(rest[0], "--layering"))
    raise ChoiceError(f"'{words}' is not a way to lay the cloth.", where="--layering", mend=f"Say {LAYERINGS}.")


def _tell_table(problem: LayProblem, widths: list[float], effort: str, title: str, json: bool) -> None:
    from clothwise.lay.planning import width_table

    rows = width_table(problem, sorted(set(widths)), effort=effort)
    figures = {
        "title": title,
        "widths": [{"width": width, "lay": plan_figures(made) if made else None} for width, made in rows],
    }
    _print(figures, [f"{title}, cloth needed by width", *table_lines(rows)], json)


def _tell_longest(
    subject: Subject, problem: LayProblem, layer: str, effort: str, title: str, out: Path | None, json: bool
) -> None:
    from clothwise.draft import pattern
    from clothwise.lay.answers import longer_words, longest

    draft = pattern(subject.pattern)
    if not draft.shortened_by:
        raise ChoiceError(
            f"{draft.title} has no choice that makes it longer or shorter.",
            where="--longest",
            mend="Ask for its lay with the choices it has.",
        )
    if problem.cloth.length is None:
        raise ClothError(
            "How much cloth is there?",
            where="--length",
            mend="Give the length, or name a cloth of the cupboard.",
        )
    choice = draft.choice(draft.shortened_by)
    given = subject.choices.get(choice.name, choice.default)
    now = given if isinstance(given, float | int) else 0.0
    found = longest(
        lambda long: pieces_of(subject, problem.cloth, layer, {choice.name: long}),
        problem.cloth,
        shortest=choice.low,
        most=choice.high,
        gap=problem.gap,
        effort=effort,
        says=lambda long: longer_words(long - now),
    )
    figures: dict[str, Any] = {"title": title, "choice": choice.name, "longest": found.length}
    figures |= {"reason": found.reason, "lay": plan_figures(found.plan) if found.plan else None}
    lines = longest_lines(found, choice.name, now)
    if found.plan is not None and out is not None:
        from clothwise.cli.drafting import lay_file

        lay_file(found.plan, title, out)
        lines.append(f"The plan is written to {out}.")
    _print(figures, [*heading_lines(title, problem.cloth), *lines], json)
    if found.length is None:
        raise typer.Exit(1)


def _print(figures: Any, lines: list[str], json: bool) -> None:
    if json:
        from clothwise.ticket.figures import as_json

        typer.echo(as_json(figures), nl=False)
    else:
        typer.echo("\n".join(lines))
