"""What a finished make measured over the body, so that a verdict teaches something.

ease   finished measure of the size that was cut, and what was changed, less the body [cm]
"""

from __future__ import annotations

from collections.abc import Mapping

from clothwise.body import Body
from clothwise.errors import ShelfError
from clothwise.shelf.levels import level as level_of
from clothwise.shelf.pattern import BoughtPattern, Judgement, Verdict
from clothwise.size.chart import graded, place_of, plain_row

VERDICTS: Mapping[str, Verdict] = {
    **dict.fromkeys(("tight", "short", "too tight", "too short"), "tight"),
    **dict.fromkeys(("right", "good"), "right"),
    **dict.fromkeys(("loose", "long", "too loose", "too long"), "loose"),
}


def judged(
    body: Body,
    pattern: BoughtPattern,
    level: str,
    verdict: str,
    *,
    size: str,
    view: str = "",
    changed: float = 0.0,
    measured: float | None = None,
) -> Judgement:
    """One judgement with the ease it was given on.

    changed    what was let out or added there, negative when taken in [cm]
    measured   the garment itself as measured there, over what the envelope says [cm]
    Raises     ShelfError: no such verdict or size, or nobody says what the garment measures there
    """
    said = VERDICTS.get(verdict.strip().lower())
    if said is None:
        raise ShelfError(
            f"'{verdict}' is no verdict.",
            where=f"judgement of {level}",
            mend="Say tight, right or loose; of a length, short, right or long.",
        )
    measure = level_of(level).body
    if measure and measure not in body:
        raise ShelfError(
            f"The {level_of(level).words} of {body.name} is not measured.",
            where=f"body '{body.name}'",
            mend="Tape it, so that the ease is known.",
        )
    finished = measured if measured is not None else _finished(pattern, view, level, size) + changed
    return Judgement(level, finished - (body[measure] if measure else 0.0), said)


def _finished(pattern: BoughtPattern, view: str, level: str, size: str) -> float:
    place = place_of(pattern, size)
    if level_of(level).body:
        row = graded(pattern, view, level, None)
        if row is not None and place in row.places and (row.printed or level_of(level).kind != "girth"):
            return row.finished_at(place)
    elif 0 <= place < len(pattern.sizes):
        cell = plain_row(pattern, view, level)[place]
        if cell is not None:
            return cell
    raise ShelfError(
        f"The envelope does not say what size {size} measures at the {level_of(level).words}.",
        where=f"pattern '{pattern.name}'",
        mend="Measure the garment there and give that measure.",
    )
