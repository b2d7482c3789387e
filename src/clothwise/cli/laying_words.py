"""The answers of `clothwise lay` on a terminal of 80 columns, and for programs."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from clothwise.lay.answers import Longest
    from clothwise.lay.cloth import LayCloth
    from clothwise.lay.plan import LayAnswer, LayPlan
    from clothwise.lay.tricks import Offer
    from clothwise.suggest.near import Near

WIDTH = 78  # columns of a terminal, less a margin


def cloth_words(cloth: LayCloth) -> str:
    """'cloth 140 cm wide, 200 cm long, one-way'."""
    if cloth.outline is not None and cloth.length is not None:
        text = f"a remnant of {cloth.area_cm2 / 1e4:.2f} m² within {cloth.length:g} x {cloth.width:g} cm"
    else:
        long = f", {cloth.length:g} cm long" if cloth.length is not None else ""
        text = f"cloth {cloth.width:g} cm wide{long}"
    nap = {"none": "no nap", "two-way": "two-way", "one-way": "one-way"}[cloth.nap]
    flaws = f", {len(cloth.flaws)} flaw{'s' if len(cloth.flaws) > 1 else ''}" if cloth.flaws else ""
    repeat = cloth.repeat
    steps = [(repeat.along, "along"), (repeat.across, "across")] if repeat else []
    matched = [f"{step:g} cm {way}" for step, way in steps if step]
    return f"{text}, {nap}{flaws}" + (f", repeat {' and '.join(matched)}" if matched else "")


def heading_lines(title: str, cloth: LayCloth) -> list[str]:
    """What is laid on what."""
    return _folded(f"{title}, on {cloth_words(cloth)}")


def refusal_lines(reason: str) -> list[str]:
    """When no length of this cloth would do."""
    return _folded(f"Not as it is: {reason}", 2)


def too_short(plan: LayPlan) -> str:
    """Why this plan does not go onto its cloth; nothing where it does."""
    length = plan.problem.cloth.length
    if length is None or plan.length <= length:
        return ""
    needs = f"needs {plan.length:.1f} cm, {plan.length - length:.1f} cm more than there is"
    return f"The shortest lay found, {plan.layering}, {needs}."


def plan_lines(plan: LayPlan) -> list[str]:
    """How long, how to fold, what to cut, what is left."""
    from clothwise.lay.cutting import cutting_sequence
    from clothwise.lay.left_over import left_words
    from clothwise.lay.stripes import stripe_words

    proved = "; proved: no shorter lay exists for this layering" if plan.optimal else ""
    lines = _folded(
        f"{plan.length / 100:.2f} m, {plan.layering}: {plan.cuts} cuts, {plan.waste:.0%} falls away{proved}", 2
    )
    for number, sentence in enumerate(cutting_sequence(plan), 1):
        lines += _folded(f"{number}. {sentence}", 2, hang=3)
    for sentence in stripe_words(plan):
        lines += _folded(sentence.replace("Thin lines: the", "The"), 2)
    return [*lines, *_folded(left_words(plan), 2)]


def answer_lines(answer: LayAnswer) -> list[str]:
    """Yes with the lay; impossible, which is proved; or not found."""
    if answer.plan is not None:
        return [*_folded("Yes, it fits.", 2), *plan_lines(answer.plan)]
    if answer.verdict == "impossible":
        return _folded(f"No, and that is proved: {answer.reason}", 2)
    return not_found_lines(answer.reason)


def not_found_lines(reason: str) -> list[str]:
    """It may still go."""
    return _folded(f"Not found: {reason} A longer search (--effort thorough) may still find one.", 2)


def change_lines(change: Near, draft: str) -> list[str]:
    """What would make it fit."""
    from clothwise.draft import pattern
    from clothwise.suggest.words import choice_changed

    said = " and ".join(choice_changed(one, pattern(draft)) for one in change.changes)
    how = " ".join(f"--set {one.choice}={one.value}" for one in change.changes)
    return _folded(f"It would fit: {said}, on {change.plan.length / 100:.2f} m ({how}).", 2)


def change_figures(change: Near) -> dict[str, Any]:
    """For programs: the choices to change, and the length it takes then."""
    return {"set": {one.choice: one.value for one in change.changes}, "length": change.plan.length}


def simpler_lines(others: Sequence[LayPlan]) -> list[str]:
    """Lays that take more cloth and fewer cuts."""
    said = [f"{one.length / 100:.2f} m with {one.cuts} cuts, {one.layering}" for one in others]
    return _folded(f"Simpler to cut: {'; '.join(said)}.", 2) if said else []


def simpler_figures(plan: LayPlan) -> dict[str, Any]:
    """The same for programs."""
    return {"layering": str(plan.layering), "length": plan.length, "cuts": plan.cuts}


def layer_lines(others: Mapping[str, Sequence[str]]) -> list[str]:
    """What is not among these pieces, since it is cut from another cloth."""
    from typing import get_args

    from clothwise.garment.piece import Layer

    lines = []
    for cloth, titles in others.items():
        how = f" (--layer {cloth})" if cloth in get_args(Layer) else ""
        lines += _folded(f"Also cut from {cloth}: {', '.join(titles)}{how}.", 2)
    return lines


def table_lines(rows: Sequence[tuple[float, LayPlan | None]]) -> list[str]:
    """One line for each width."""
    lines = [f"  {'width':>8}  {'length':>8}  {'falls away':>10}  layering"]
    for width, plan in rows:
        if plan is None:
            lines.append(f"  {width:>5g} cm  {'--':>8}  {'--':>10}  too narrow for a piece")
        else:
            lines.append(f"  {width:>5g} cm  {plan.length / 100:>6.2f} m  {plan.waste:>10.0%}  {plan.layering}")
    return lines


def longest_lines(found: Longest, choice: str, now: float) -> list[str]:
    """How much longer or shorter than drawn."""
    from clothwise.lay.answers import longer_words

    if found.length is None or found.plan is None:
        return _folded(f"Not even the shortest goes on it. {found.reason}", 2)
    than = longer_words(found.length - now)
    lines = _folded(f"The longest that goes on it: {than} ({choice}={found.length:g}).", 2)
    return [*lines, *_folded(f"Why no longer: {found.reason}", 2), *plan_lines(found.plan)]


def offer_lines(offers: Sequence[Offer], made: LayPlan | None, length: float | None) -> list[str]:
    """What would save cloth, and what it costs; apart from it what the lay above does already.

    made    the lay above; None where nothing fits
    length  of the cloth [cm]
    """
    from clothwise.lay.tricks import WORTH

    done = [o for o in offers if made is not None and o.plan.length > made.length - WORTH]
    further = [o for o in offers if o not in done]
    lines = ["  What would save cloth:"] if further else _folded("No further trick saves cloth here.", 2)
    for offer in further:
        enough = made is None and length is not None and offer.plan.length <= length
        lines += _folded(f"- {offer.sentence}{' Then it fits.' if enough else ''}", 2, hang=2)
    lines += ["  Done already in the lay above, against folding it lengthwise:"] if done else []
    return lines + [line for offer in done for line in _folded(f"- {offer.sentence}", 2, hang=2)]


def plan_figures(plan: LayPlan) -> dict[str, Any]:
    """A lay for programs: as in a packet, with the order of cutting and what is left."""
    from clothwise.lay.cutting import cutting_sequence
    from clothwise.lay.left_over import left_over
    from clothwise.ticket.figures import lay_figures, plain

    return {
        **lay_figures(plan),
        "cuts": plan.cuts,
        "sequence": list(cutting_sequence(plan)),
        "left_over": plain(left_over(plan)) if plan.problem.cloth.length is not None else [],
    }


def _folded(text: str, indent: int = 0, hang: int = 0) -> list[str]:
    pad = " " * indent
    return textwrap.wrap(text, WIDTH, initial_indent=pad, subsequent_indent=pad + " " * hang)
