"""Figures and reasons in words, for people: at a terminal of 80 columns and on the page."""

from __future__ import annotations

from clothwise.suggest.answer import Answer, Reason

HOUR = 60.0  # minutes


def duration(minutes: float) -> str:
    """'45 min', '2 h 10'; rounded to five minutes, since nobody sews by the minute."""
    whole = max(5, 5 * round(minutes / 5))
    hours, rest = divmod(whole, 60)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest:02d}" if rest else f"{hours} h"


def choices(answer: Answer) -> str:
    """'wide, mid-calf'"""
    words = [(name, value) for name, value in answer.ticket.choices.items() if isinstance(value, str)]
    return ", ".join(f"no {name}" if value == "none" else value for name, value in words)


def reason(one: Reason) -> str:
    """One reason as a short sentence."""
    f = one.figures
    match one.kind:
        case "suits":
            return f"the cloth's weight suits ({f['grams']:.0f} g/m2)"
        case "too light":
            return f"the cloth is light for it ({f['grams']:.0f} g/m2, better {f['wanted']:.0f} or more)"
        case "too heavy":
            return f"the cloth is heavy for it ({f['grams']:.0f} g/m2, better {f['wanted']:.0f} or less)"
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


def change(answer: Answer) -> str:
    """'4 cm shorter and it fits'"""
    if answer.change is None:
        return ""
    by = answer.change.by
    return f"{abs(by):.0f} cm {'shorter' if by < 0 else 'longer'} and it fits"
