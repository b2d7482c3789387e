"""Cloths and kinds in words, the same at the terminal and on the page."""

from __future__ import annotations

from clothwise.cloth.cloth import Cloth
from clothwise.cloth.home_tests import (
    HOW_TO_DRAPE_BY_DISC,
    HOW_TO_DRAPE_BY_EDGE,
    HOW_TO_SEE_A_NAP,
    HOW_TO_SEE_UNEVEN,
    HOW_TO_SHRINK,
    HOW_TO_STRETCH,
)
from clothwise.cloth.kinds import Kind, facts, find_kind
from clothwise.cloth.shape import written

HOW_TO = {
    "Stretch and recovery: stretch_across='10 to 15', recovery='10 to 15 to 10.5'": list(HOW_TO_STRETCH),
    "Shrinkage: shrinkage='50 to 47.5'": list(HOW_TO_SHRINK),
    "A pile or print with one way: nap='one-way', one_way_print='yes'": list(HOW_TO_SEE_A_NAP),
    "Stripes and checks, even or not: uneven_repeat='yes'": list(HOW_TO_SEE_UNEVEN),
    "Drape over the table's edge: drape='edge 4.2'": list(HOW_TO_DRAPE_BY_EDGE),
    "Drape over a tin: drape='disc 12 13 12.5 13 12 13 12.5 13'": list(HOW_TO_DRAPE_BY_DISC),
}
KNOWN = {"measured": "measured", "kind": "usual for its kind", "weight": "guessed from its weight"}


def summary(cloth: Cloth) -> str:
    """'linen, 138 cm wide, 210 cm long, 185 g/m², washed'"""
    parts = [
        cloth.kind or cloth.make, f"{cloth.width:.4g} cm wide", f"{cloth.length:.4g} cm long",
        f"{cloth.grams_per_m2:g} g/m²", "washed" if cloth.washed else "not washed yet",
    ]  # fmt: skip
    parts += ["a remnant"] if cloth.outline else []
    return ", ".join(parts)


def cloth_lines(cloth: Cloth) -> list[str]:
    """All that is known of one cloth, each with where it comes from."""
    known, kind = facts(cloth), find_kind(cloth.kind)
    lines = [cloth.name, f"  {summary(cloth)}"]
    lines += [f"  colour: {cloth.colour}"] if cloth.colour else []
    lines += [f"  fibre: {cloth.fibre}"] if cloth.fibre else []
    if cloth.outline:
        lines += [f"  outline: {written(cloth.outline)}"]
    lines += [f"  flaw: {written(flaw)}" for flaw in cloth.flaws]
    if not cloth.washed:
        lines.append(
            f"  after the first wash about {cloth.usable_width:.0f} x {cloth.usable_length:.0f} cm "
            f"(loses {cloth.shrinkage:.0%} of its length)"
        )
    lines.append(f"  stretch: {cloth.stretch_across:.0%} across, {cloth.stretch_along:.0%} along")
    lines.append(f"  goes back {known.recovery:.0%} of it ({KNOWN[known.recovery_known]})")
    lines.append(f"  drape coefficient {known.drape:.0%} ({KNOWN[known.drape_known]}); {known.see_through}")
    lines.append(f"  nap: {cloth.nap}" + (", print stands one way" if cloth.print_one_way else ""))
    if cloth.repeat_along or cloth.repeat_across:
        even = "even" if cloth.repeat_even else "uneven"
        lines.append(f"  repeat: {cloth.repeat_along:g} cm along, {cloth.repeat_across:g} cm across, {even}")
    lines.append(f"  worn in {', '.join(known.seasons)}" + (f"; washed at {known.wash}" if known.wash else ""))
    if cloth.price_per_m is not None:
        lines.append(f"  price: {cloth.price_per_m:.2f} a metre")
    return lines + (_sewing(kind) if kind else [])


def _sewing(kind: Kind) -> list[str]:
    return [
        f"  sew: {kind.needle} needle, stitch {kind.stitch_mm:g} mm; finish: {kind.finish}",
        f"  press: {kind.iron} iron, {kind.press}",
    ]


def kind_lines(kind: Kind) -> list[str]:
    """One kind with its source."""
    return [
        f"{kind.name} ({kind.make}, {kind.fibre})",
        f"  {kind.grams:g} g/m² ({kind.lightest:g} to {kind.heaviest:g}); drape coefficient {kind.drape:.0%}",
        f"  stretch {kind.stretch_across:.0%} across, {kind.stretch_along:.0%} along, "
        f"goes back {kind.recovery:.0%}; shrinks {kind.shrinkage:.0%}",
        f"  {kind.see_through}; worn in {', '.join(kind.seasons)}; wash: {kind.wash}",
        *_sewing(kind),
        f"  source: {kind.source}",
    ]
