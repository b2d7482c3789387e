"""The wording of the steps: step data in, words out. With the other files named `words_`, `phrases` and
`page_words` it is all the booklet's English.

A sentence never holds a figure of its own: lengths, stitches and names come from the step. Said to one person,
in the imperative, first what to do, then how to see that it is right.
"""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.garment import Garment
from clothwise.sew import words_flat as flat
from clothwise.sew import words_free as free
from clothwise.sew.phrases import ALTERNATIVE_WHY, OTHER_WAY, STOP, WHY, about, length, titles
from clothwise.sew.sewer import Units
from clothwise.sew.step import Step
from clothwise.sew.words_seam import seam

SAME_ALLOWANCE = 0.05  # cm: allowances that differ by less are the same on the plate


@dataclass(frozen=True, slots=True)
class StepWords:
    """One step as it is printed.

    do     sentences to follow, in order
    facts  (what, figure): stitch, needle, allowance...
    """

    title: str
    do: tuple[str, ...]
    facts: tuple[tuple[str, str], ...]
    why: str = ""
    stop: str = ""
    time: str = ""


SAY = {
    "mark": flat.mark, "fuse": flat.fuse, "stay": flat.stay, "neaten": flat.neaten, "dart": flat.dart,
    "crease": flat.crease, "fold in": flat.fold_in, "gather": flat.gather, "eyelet": flat.eyelet,
    "seam": seam, "patch": free.patch, "turn": free.turn, "band": free.band, "zip": free.zip_in,
    "elastic": free.elastic, "cord": free.cord, "buttons": free.buttons, "try on": free.try_on,
    "hang": free.hang, "press": free.press,
}  # fmt: skip


def step_words(step: Step, garment: Garment, units: Units = "cm", usual: float = 0.0) -> StepWords:
    """What the booklet says of one step.

    usual  the allowance of most seams, marked on the machine's plate; a seam with another says so [cm]
    """
    do = list(SAY[step.kind](step, garment, units))
    if usual and step.kind == "seam" and step.allowance and abs(step.allowance - usual) > SAME_ALLOWANCE:
        do.insert(0, f"Mind: this seam has {length(step.allowance, units)}, not {length(usual, units)}.")
    return StepWords(
        title=_title(step),
        do=tuple(do),
        facts=tuple(_facts(step, units)),
        why=" ".join(part for part in (WHY.get(step.why, ""), _other_way(step)) if part),
        stop=STOP if step.stop else "",
        time=about(step.minutes),
    )


def _other_way(step: Step) -> str:
    """That it may be sewn the other way too, and what speaks for it."""
    if not step.other_way:
        return ""
    return OTHER_WAY.format(
        way="in the round" if step.way == "flat" else "flat", why=ALTERNATIVE_WHY[step.other_way]
    )


def _title(step: Step) -> str:
    shown = titles(step.title)
    if step.kind == "gather":
        return f"{shown}: {'gather' if step.why == 'gather' else 'ease'}"
    return {
        "fold in": f"{shown}: press the edges in",
        "patch": shown if step.why == "strap" else f"{shown}: set them on",
        "crease": f"{shown}: press the folds",
        "band": f"{shown}: sew down",
    }.get(step.kind, shown)


def _facts(step: Step, units: Units) -> list[tuple[str, str]]:
    facts: list[tuple[str, str]] = []
    if step.stitch and step.stitch.iso:
        size = f", {step.stitch.length_mm:g} mm long" if step.stitch.length_mm else ""
        wide = f", {step.stitch.width_mm:g} mm wide" if step.stitch.width_mm else ""
        facts.append(("Stitch", f"{step.stitch.name}{size}{wide} (ISO 4915 class {step.stitch.iso})"))
    if step.seam_type:
        iso = f" (ISO 4916 class {step.seam_type.iso})" if step.seam_type.iso else ""
        facts.append(("Seam", f"{step.seam_type.name}{iso}"))
    if step.kind == "seam" and step.allowance:
        facts.append(("Allowance", length(step.allowance, units)))
    if step.needle and step.stitch:
        facts.append(("Needle", step.needle))
    if step.notches:
        facts.append(("Notches", ", ".join(sign.replace("_", " ") for sign in step.notches)))
    return facts
