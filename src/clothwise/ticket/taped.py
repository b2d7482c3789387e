"""How old the tape's figures are on a day: what is too old is taken again before anything is cut."""

from __future__ import annotations

from datetime import date

from clothwise.body import Body


def days_since_taped(body: Body, day: str) -> int | None:
    """How old they are on that ISO date. None where either day is not known, or an odd one stands on the card:
    that is no reason to refuse anything. [days]"""
    try:
        return (date.fromisoformat(day) - date.fromisoformat(body.taken_on)).days
    except ValueError:
        return None


def tape_is_old(body: Body, day: str) -> tuple[str, ...]:
    """That the measures should be taken again, when by this ISO date they are too old to cut from."""
    months = body.months_stale(days_since_taped(body, day))
    return () if months is None else (f"The measures are {months} months old: take them again.",)
