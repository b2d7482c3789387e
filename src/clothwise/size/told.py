"""A size and what belongs to it in sentences, the same at the terminal and on the page."""

from __future__ import annotations

from clothwise.cloth import Cloth
from clothwise.size.advice import Advice
from clothwise.size.cloth_need import ClothNeed
from clothwise.size.words import Speaker

HOW = {
    "table": "the envelope's table",
    "lay": "a real lay of the pieces",
    "other width": "another width, by area",
    "between widths": "the widths beside it, by area",
    "other size": "another size, by area",
    "one-way": "pieces all one way",
    "shrinkage": "shrinkage",
}
CHILD_CAUTION = (
    "No cords or ties at neck, hood or waist, no small parts that come off; follow the rules where you live."
)
TRUST = {
    "sure": "sure: body, chart and finished measures are all there",
    "likely": "likely: read what was assumed",
    "a guess": "a guess: read what is missing or doubted, and sew a trial first",
    "cannot say": "no size can be told",
}


def headline(advice: Advice, say: Speaker) -> str:
    """'Cut 12 at the bust, 14 at the waist and 16 at the hip.'"""
    if advice.cut == "nothing":
        return f"No size of this pattern can be told for {say.who}."
    if advice.cut == "single":
        words = f"Cut {'' if ' ' in advice.single else 'size '}{advice.single} throughout."
    else:
        parts = [f"{size} at the {say.level(level)}" for level, size in advice.blend.items()]
        words = f"Cut {', '.join(parts[:-1])} and {parts[-1]}."
        for step in advice.steps:
            upper = "underarm" if step.upper == "bust" else say.level(step.upper)
            words += (
                f" Blend from {step.from_size} to {step.to_size} over the {say.cm(step.over)} from {upper} to "
                f"{say.level(step.lower)}."
            )
        tight = "" if advice.single_wearable else ", too tight somewhere"
        words += f" In one size: {advice.single}{tight}."
    growing = advice.growing
    if growing and growing.length_size != growing.width_size:
        words += f" In length, cut {growing.length_size}."
    if growing and growing.roomy_size:
        words += f" With room to grow, length of {growing.roomy_size}."
    return words


def changes(advice: Advice, say: Speaker) -> list[str]:
    """What is altered beyond the chart, each in a sentence."""
    said = [say.alteration(one) for one in advice.alterations]
    told = {one.level: say.length(one) for one in advice.lengths}
    lengthwise = ("lengthen", "shorten")
    return [
        f"{text[:-1]} ({told[one.level]})." if one.level in told and one.kind in lengthwise else text
        for text, one in zip(said, advice.alterations, strict=True)
    ]


def cloth_told(kind: str, need: ClothNeed, cloth: Cloth | None, say: Speaker) -> list[str]:
    """What to buy, or whether the cupboard's cloth suffices."""
    said = []
    from_ = ", ".join(say.longer(need.longer) if step == "other length" else HOW[step] for step in need.steps)
    wide = f"{'' if kind == 'main' else kind.capitalize() + ', '}{say.cm(need.width)} wide"
    wide += f", {need.size}" if " " in need.size else f", size {need.size}"
    buy = say.cloth(need.high, buy=True)
    if need.high - need.low < 1:
        said.append(f"{wide}: {say.cloth(need.high)}, from {from_}; buy {buy}.")
    else:
        said.append(
            f"{wide}: likely {say.cloth(need.likely)}, nine times in ten between "
            f"{say.cloth(need.low)} and {say.cloth(need.high)} (from {from_}). Buy {buy}, or lay the pieces "
            "out first."
        )
    for name in need.too_narrow:
        said.append(f"{name} is wider than this cloth: piece it, or take a wider one.")
    if cloth is not None and kind == "main":
        said.append(_enough(need, cloth, say))
    return said


def _enough(need: ClothNeed, cloth: Cloth, say: Speaker) -> str:
    have = cloth.usable_length
    there = f"{cloth.name} has {say.cloth(have)}"
    if have >= need.high:
        return f"{there}: enough."
    if have >= need.likely:
        return f"{there}: probably enough; lay all pieces out before the first cut."
    if have >= need.low:
        return f"{there}: probably too little; lay the pieces out before you give it up."
    return f"{there}: too little."
