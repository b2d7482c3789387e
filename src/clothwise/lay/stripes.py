"""Where a lay wants the stripes to be: for the picture, and in words for the cutting table."""

from __future__ import annotations

from collections.abc import Iterator

from clothwise.lay.plan import LayPlan
from clothwise.lay.verify_matching import place_of_stripes


def bars_and_stripes(plan: LayPlan) -> Iterator[tuple[bool, tuple[float, float]]]:
    """(along, (the first one's middle, from one to the next)) for bars, then for stripes. [cm]"""
    repeat = plan.problem.cloth.repeat
    if repeat is None or not any(piece.match for piece in plan.problem.pieces):
        return
    for along, step, known in ((True, repeat.along, repeat.bar), (False, repeat.across, repeat.stripe)):
        if step:
            place = place_of_stripes(plan, 0 if along else 1) if known is None else known
            yield along, (place % step, step)


def stripe_words(plan: LayPlan) -> list[str]:
    """One sentence for bars and one for stripes: where they must fall, and where they meet."""
    found = []
    for along, (first, step) in bars_and_stripes(plan):
        groups = sorted(
            {
                m.group.replace("_", " ")
                for piece in plan.problem.pieces
                for m in piece.match
                if (m.along if along else m.across) and m.group != piece.name
            }
        )
        what, start = ("bar", "the cut end") if along else ("stripe", "the near selvedge")
        meet = f"; they meet at {', '.join(groups)}" if groups else ""
        found.append(
            f"Thin lines: the middle of each {what}, first {first:.1f} cm from {start}, then every {step:g} cm"
            f"{meet}. Check it on the cloth before you cut."
        )
    return found
