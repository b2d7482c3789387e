"""What seams of all kinds share: matching, fullness, stitching, finishing."""

from __future__ import annotations

from clothwise.sew.phrases import Telling
from clothwise.sew.step import Neatening, Step

SECOND_ROW = 0.3  # cm: second line of a seam under strain, outside the first
FRENCH_TRIM, FRENCH_SECOND, FRENCH_CLOTH = 0.3, 0.6, 0.1  # cm: trimmed to; second row; taken by the fold
LITTLE_FULL = 0.3  # cm: fullness that the machine takes up by itself


def again(step: Step, t: Telling) -> list[str]:
    if step.times > 2:
        return [t("again.others")]
    return [t("again.mirrored")] if step.times > 1 else []


def caught(step: Step, t: Telling) -> list[str]:
    """Prepared plies that lie in the seam."""
    more = [t.named(ply) for ply in step.joins[0].more]
    if not more or step.make in ("folded band", "sandwich"):
        return []
    return [t("caught", what=t.once(more))]


def matching(step: Step, t: Telling) -> list[str]:
    signs = t.signs(step.notches)
    several = "many" if len(step.notches) > 1 else "one"
    if step.tube == "nested" and not step.round:
        more = f" {t('match.then_notches', signs=signs)}" if step.notches else ""
        return [t("match.across") + more]
    seams = t("match.and_seams", seams=t.crossed(step)) if step.crossings else ""
    if not step.notches:
        return [t("match.at_seams") if step.round else t("match.ends", seams=seams)]
    return [t(f"match.{'round' if step.round else 'ends_notches'}_{several}", signs=signs, seams=seams)]


def fullness(step: Step, t: Telling) -> list[str]:
    """What is done with the longer side."""
    join = step.joins[0]
    if step.ratio > 1:
        return [t("full.gathered")]
    if step.why == "pleated":
        return [t("full.pleated")]
    if step.ratio < 1:
        return [t(_by_number("full.shorter", t.several(join.a)), what=t.named(join.a))]
    if step.fuller > LITTLE_FULL:
        key = "full.cap" if step.why == "round cap" else "full.longer"
        return [t(_by_number(key, t.several(join.a)), what=t.named(join.a), by=t.length(step.fuller))]
    if step.fuller < -LITTLE_FULL:
        key = _by_number("full.longer", t.several(join.b))
        return [t(key, what=t.named(join.b), by=t.length(-step.fuller))]
    return []


def _by_number(key: str, several: bool) -> str:
    return f"{key}_many" if several else f"{key}_one"


def stitching(step: Step, t: Telling) -> list[str]:
    if step.facing == "wrong sides together":
        first = step.allowance - FRENCH_SECOND - FRENCH_CLOTH
        return [
            t("stitch.french_first", off=t.length(first), trim=t.length(FRENCH_TRIM)),
            t("stitch.french_second", off=t.length(FRENCH_SECOND)),
        ]
    said = [t("stitch.round" if step.round else "stitch.along", off=t.length(step.allowance))]
    if step.beside_zip:
        said.append(t("stitch.to_invisible_zip" if step.beside_zip == "invisible" else "stitch.to_zip"))
    if step.rows == 2:
        said.append(t("stitch.second_row", off=t.length(SECOND_ROW)))
    return said


def finishing(step: Step, t: Telling) -> list[str]:
    found = [_finish_words(n, step, t) for n in step.neatenings if n.finish not in ("enclosed", "inside")]
    return list(dict.fromkeys(found))


def _finish_words(neatening: Neatening, step: Step, t: Telling) -> str:
    if neatening.finish == "none needed":
        return t("finishing.none_needed")
    if neatening.how == "in the seam" and neatening.finish == "overlocked":
        return t("finishing.in_one")
    trim = f"{t('finishing.trim', to=t.length(step.trim_to))} " if step.trim_to else ""
    plies = "all" if any(join.more for join in step.joins) else "both"
    return trim + t(f"finishing.{neatening.finish}_{plies}")
