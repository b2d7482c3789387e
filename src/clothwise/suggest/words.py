"""Figures and reasons in words, for people: at a terminal of 80 columns and on the page."""

from __future__ import annotations

from collections.abc import Mapping

from clothwise.draft import PATTERNS, HouseDraft, pattern
from clothwise.suggest.answer import Change, Reason
from clothwise.suggest.bought import BoughtAnswer
from clothwise.suggest.cautions import caution_words
from clothwise.suggest.found import AnyAnswer

HOUR = 60.0  # minutes


def duration(minutes: float) -> str:
    """'45 min', '2 h 10'; rounded to five minutes, since nobody sews by the minute."""
    whole = max(5, 5 * round(minutes / 5))
    hours, rest = divmod(whole, 60)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest:02d}" if rest else f"{hours} h"


def headline(answer: AnyAnswer) -> str:
    """'Gathered skirt: knee, elastic, from Fog double gauze'"""
    told = choices(answer)
    return f"{answer.title}{': ' if told else ''}{told}, from {answer.cloth.name}"


def pattern_title(name: str) -> str:
    """The title of a house draft in the middle of a sentence; a bought pattern's name as it is."""
    return {draft.name: draft.title.lower() for draft in PATTERNS}.get(name, name)


def choices(answer: AnyAnswer) -> str:
    """'wide, mid-calf'; of a bought pattern its size"""
    if isinstance(answer, BoughtAnswer):
        return f"size {answer.sizes}"
    words = [(name, value) for name, value in answer.ticket.choices.items() if isinstance(value, str)]
    return ", ".join(f"no {name}" if value == "none" else value for name, value in words)


def reason(one: Reason) -> str:
    """One reason as a short sentence."""
    f = one.figures
    match one.kind:
        case "suits":
            return f"the cloth's weight suits ({f['grams']:.0f} g/m²)"
        case "too light":
            return f"the cloth is light for it ({f['grams']:.0f} g/m², better {f['wanted']:.0f} or more)"
        case "too heavy":
            return f"the cloth is heavy for it ({f['grams']:.0f} g/m², better {f['wanted']:.0f} or less)"
        case "stands away":
            return f"stiffer than it is drawn for: it stands away and the line is wider ({_drape(f)})"
        case "hangs close":
            return f"softer than it is drawn for: it hangs closer to the body ({_drape(f)})"
        case "slack":
            return f"goes back only {f['recovery']:.0%} after stretching, better {f['wanted']:.0%}: it will bag"
        case "shows through":
            if f["how"] == "sheer":
                return "sheer: line it, or wear something below"
            return "shows against the light: line it, or wear something pale below"
        case "pile":
            if f["gathered"]:
                return "pile is thick in gathers; all pieces must point one way"
            return "pile: all pieces must point one way, and it marks under the iron"
        case "on the bias":
            if f["how"] == "grows":
                return "grows when it hangs on the bias: hang it some days before the hem"
            return "too steady to fall well on the bias"
        case "washing":
            return "it must be cleaned dry" if f["how"] == "dry clean" else "it must be washed by hand"
        case "out of season":
            return f"not a cloth for {f['season']}: it is worn in {f['worn']}"
        case "other occasion":
            return f"rather for {f['for']} than for {f['asked']}"
        case "hard":
            return (
                "the cloth makes it harder than she is used to" if f["cloth"] else "harder than she is used to"
            )
        case "uses remnant":
            return f"uses up {float(f['share']):.0%} of the remnant"
        case "in time":
            return f"done this evening with about {duration(float(f['spare']))} to spare"
        case "may run over":
            return f"this evening will probably do; it may run over by {duration(float(f['over']))}"
        case "over time":
            return f"about {duration(float(f['over']))} more than this evening"
        case "uses cloth":
            share = float(f["share"])
            return f"uses {share:.0%} of the length, {float(f['left']):.0f} cm left over"
        case "draft note":
            return str(f["text"])


def _drape(figures: Mapping[str, float | str]) -> str:
    known = {"measured": "measured", "kind": "usual for its kind", "weight": "guessed from its weight"}
    return (
        f"drape {float(figures['drape']):.0%}, {known[str(figures['known'])]}; "
        f"drawn for {float(figures['wanted']):.0%}"
    )


def change(answer: AnyAnswer) -> str:
    """'4 cm shorter and it fits'; '' when it can be made as it is"""
    if not answer.changes:
        return ""
    return f"{' and '.join(_changed(one, answer) for one in answer.changes)}, and it fits"


def _changed(one: Change, answer: AnyAnswer) -> str:
    if one.choice == "from another cloth":
        return f"{one.value} from {one.was}"
    if isinstance(answer, BoughtAnswer):
        return f"{abs(one.by):.0f} cm shorter at the hem"
    return choice_changed(one, pattern(answer.ticket.pattern))


def choice_changed(one: Change, draft: HouseDraft) -> str:
    """'4 cm shorter', 'pockets: patch instead of in-seam'."""
    if one.choice == draft.shortened_by:
        return f"{abs(one.by):.0f} cm {'shorter' if one.by < 0 else 'longer'}"
    name = one.choice.replace("_", " ")
    if isinstance(one.value, str):
        now = f"no {name}" if one.value == "none" else f"{name}: {one.value}"
        return f"{now} instead of {one.was}" if one.was and one.value != "none" else now
    unit = draft.choice(one.choice).unit
    return f"{name} {one.value:g} {unit}" + (f" instead of {one.was:g}" if isinstance(one.was, float) else "")


def look(answer: AnyAnswer) -> str:
    """How it will hang, '' when as drawn."""
    return (
        "" if answer.look == "as drawn" else f"it {answer.look.replace(', wider line', ', the line is wider')}"
    )


def cautions(answer: AnyAnswer) -> list[str]:
    """What to mind with this make, one sentence each; local rules go first."""
    return caution_words(answer.cautions)


def length_of(answer: AnyAnswer) -> str:
    """'1.42 m of 130 cm, folded lengthwise'; of a bought pattern without outlines what its table says."""
    if answer.plan is not None:
        plan = answer.plan
        return f"{plan.length / 100:.2f} m of {plan.problem.cloth.width:.0f} cm, {plan.layering}"
    assert isinstance(answer, BoughtAnswer)
    need = answer.need
    span = (
        f"{need.low / 100:.2f} to {need.high / 100:.2f} m"
        if need.low < need.high
        else f"{need.high / 100:.2f} m"
    )
    return f"{span} of {need.width:.0f} cm by its envelope"


def to_buy(answer: AnyAnswer) -> str:
    """What must still be bought, in one line; '' when nothing is missing."""
    return "; ".join(line.title.lower() for line in answer.to_buy)
