"""The wording of the steps: step data in, words of one language out. All sentences stand in `wording/`."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from clothwise.garment import Garment
from clothwise.sew import words_flat as flat
from clothwise.sew import words_free as free
from clothwise.sew.language import NATIVE, language
from clothwise.sew.phrases import Telling, lower
from clothwise.sew.sewer import Units
from clothwise.sew.step import Kind, Step
from clothwise.sew.words_seam import seam

SAME_ALLOWANCE = 0.05  # cm: allowances that differ by less are the same on the plate
TITLED = ("mark", "fuse", "stay", "neaten", "eyelet", "try on", "hang", "press")  # kinds of one title always
ENTITLED = ("fold in", "crease", "band")  # kinds whose title says what is done with a seam or free edge


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


SAY: Mapping[Kind, Callable[[Step, Telling], list[str]]] = {
    "mark": flat.mark, "fuse": flat.fuse, "stay": flat.stay, "neaten": flat.neaten, "dart": flat.dart,
    "pleat": flat.pleat, "tuck": free.tuck,
    "crease": flat.crease, "fold in": flat.fold_in, "gather": flat.gather, "eyelet": flat.eyelet,
    "seam": seam, "patch": free.patch, "turn": free.turn, "band": free.band, "zip": free.zip_in,
    "elastic": free.elastic, "cord": free.cord, "buttons": free.buttons, "try on": free.try_on,
    "hang": free.hang, "press": free.press,
}  # fmt: skip


def step_words(
    step: Step, garment: Garment, units: Units = "cm", usual: float = 0.0, code: str = NATIVE
) -> StepWords:
    """What the booklet says of one step.

    usual  the allowance of most seams, marked on the machine's plate; a seam with another says so [cm]
    code   ISO 639-1 of the language
    """
    return told(step, Telling(garment, units, language(code)), usual)


def told(step: Step, t: Telling, usual: float = 0.0) -> StepWords:
    """The same, by a telling that is there already."""
    do = SAY[step.kind](step, t)
    if usual and step.kind == "seam" and step.allowance and abs(step.allowance - usual) > SAME_ALLOWANCE:
        do.insert(0, t("usual_not", this=t.length(step.allowance), usual=t.length(usual)))
    reason = "" if step.why == "strap" and free.is_loop(step, t.garment) else step.why
    why = t.said.sentences.get(f"why.{reason.replace(' ', '_')}", "")
    return StepWords(
        title=step_title(step, t),
        do=tuple(do),
        facts=tuple(_facts(step, t)),
        why=" ".join(part for part in (why, _other_way(step, t)) if part),
        stop=t("stop") if step.stop else "",
        time=t.about(step.minutes),
    )


def _other_way(step: Step, t: Telling) -> str:
    """That it may be sewn the other way too, and what speaks for it."""
    if not step.other_way:
        return ""
    if step.kind == "zip":
        return t(f"either.zip.{step.way}")
    way = t("either.flat" if step.way == "in the round" else "either.in_the_round")
    return t("either.way", way=way, why=t(f"either.why.{step.other_way.replace(' ', '_')}"))


# ---- titles ------------------------------------------------------------------------------------


def step_title(step: Step, t: Telling) -> str:
    if step.kind in TITLED:
        return t(f"title.{step.kind.replace(' ', '_')}")
    if step.kind == "dart":
        several = "darts" if step.title.endswith("darts") else "dart"
        piece = t.garment.piece(step.name.removesuffix(" darts"))
        return t(f"title.{several}", piece=t.said.word("piece", piece.title))
    if step.kind == "elastic":
        place = step.name.removesuffix(" elastic")
        titles = {part.name: part.title for part in t.garment.free_edges}
        titles |= {part.name: part.title for part in t.garment.seams}
        return t("title.elastic_ring" if step.make else "title.elastic", what=t.inside(titles[place]))
    if step.kind == "buttons":
        return t("title.buttons" if step.stitch and not step.stitch.iso else "title.buttonholes")
    shown = _titles(step, t)
    if step.kind == "gather":
        return t("title.gather" if step.why == "gather" else "title.ease", what=shown)
    if step.kind == "pleat":
        return t("title.pleat", what=shown)
    if step.kind == "tuck":
        return t("title.tuck", what=shown)
    if step.kind == "patch" and step.why != "strap" and not t.several_of(step.joins[0].a[0].piece):
        return t("title.patch_one", what=shown)
    if step.kind in ENTITLED or (step.kind == "patch" and step.why != "strap"):
        return t(f"title.{step.kind.replace(' ', '_')}", what=shown)
    return shown


def _titles(step: Step, t: Telling) -> str:
    """Titles of seams sewn in one go: 'Side seams and sleeve seams, in one go'."""
    first, *others = [_one_title(part, step, t) for part in step.title.split(" + ")]
    if not others:
        return first
    return t("title.one_go", what=t.listed([first, *(lower(part, t.said) for part in others)]))


def _one_title(english: str, step: Step, t: Telling) -> str:
    """A seam's own title; two seams of one title are told apart by their pieces."""
    own, _, apart = english.rpartition(" of the ")
    if apart and not t.said.knows("title", english) and t.said.knows("title", own):
        return t("title.of", what=t.title(own), pieces=t.named(step.joins[0].runs))
    return t.title(english)


def _facts(step: Step, t: Telling) -> list[tuple[str, str]]:
    facts: list[tuple[str, str]] = []
    if step.stitch and step.stitch.iso:
        size = [t("fact.long", mm=t.number(step.stitch.length_mm))] if step.stitch.length_mm else []
        size += [t("fact.wide", mm=t.number(step.stitch.width_mm))] if step.stitch.width_mm else []
        named = ", ".join([t.said.word("stitch", step.stitch.name), *size])
        facts.append((t("fact.stitch"), f"{named} ({t('fact.iso_stitch', iso=step.stitch.iso)})"))
    if step.seam_type:
        key = "fact.iso_seam_number" if "." in step.seam_type.iso else "fact.iso_seam"
        iso = f" ({t(key, iso=step.seam_type.iso)})" if step.seam_type.iso else ""
        facts.append((t("fact.seam"), f"{t.said.word('seam', step.seam_type.name)}{iso}"))
    if step.kind == "seam" and step.allowance:
        facts.append((t("fact.allowance"), t.length(step.allowance)))
    if step.needle and step.stitch:
        facts.append((t("fact.needle"), needle_words(step.needle, t)))
    if step.notches:
        facts.append((t("fact.notches"), ", ".join(t.sign(sign) for sign in step.notches)))
    return facts


def needle_words(needle: str, t: Telling) -> str:
    """'universal 80': the point in words, the shaft as it stands on the packet."""
    point, _, number = needle.rpartition(" ")
    return f"{t.said.word('needle', point)} {number}"
