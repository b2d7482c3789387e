"""Why a size was advised, as data, and how far it can be trusted.

Each reason names its kind and the figures a sentence needs. Confidence falls with what was missing,
doubted, estimated or reckoned beyond the paper:

    sure        body taped, chart and finished measures printed for every level that decides
    likely      something was assumed that a sewer assumes every day, and said
    a guess     a slip in the chart, an estimate wider than a size, or two sizes and more beyond the chart
    cannot say  nothing to go by, or further off than any grade holds
"""

from __future__ import annotations

from clothwise.body import Body
from clothwise.cloth import Cloth
from clothwise.shelf.doubts import ChartDoubt
from clothwise.shelf.levels import level as level_of
from clothwise.shelf.pattern import BoughtPattern
from clothwise.size.advice import Alteration, Confidence, Reason, ReasonKind
from clothwise.size.chart import label
from clothwise.size.choosing import EDGES, Held, best_alone, seam_takes, widest_jump
from clothwise.size.growth import Growing
from clothwise.size.levels_held import FULL_BUST, NEEDED, Asked, length_between

JUST_ON = 0.15  # places: so near to a chart row, a body is on it
LIKES = 1.0  # cm: a liking that differs less from the intention is not worth a sentence
INTENDS_LITTLE = 0.5  # cm under the usual floor before it is said
FULL_MAYBE = 93.0  # cm of bust: from here on an untaped high bust is worth asking for; house rule
MUCH_STRETCH = 0.25  # shares: a class of stretch more than asked (25, 50, 75 %): neck and shoulders grow
LITTLE_STRETCH = 0.03  # shares: a tape on stretched cloth reads no finer
ESTIMATE_WIDE = 0.5  # grades: half the interval of an estimate; wider than this it may be the next size

ASSUMED: frozenset[ReasonKind] = frozenset(
    (
        *("no finished measure", "no chart", "off the chart", "not measured", "tape is old"),
        *(
            "stretch unknown",
            "gap filled",
            "high bust not taped",
            "jump too wide",
            "knit for a woven",
            "one size",
        ),
        *("cloth stretches less", "intends little", "estimated", "other figure"),
    )
)
GUESSED: frozenset[ReasonKind] = frozenset(
    ("unwearable", "cloth does not stretch", "level missing", "one size unmeasured")
)
FAR_BEYOND = 2  # sizes beyond the paper: from here on the grade is hope


def reasons_of(
    body: Body,
    pattern: BoughtPattern,
    view: str,
    cloth: Cloth | None,
    stretch: float | None,
    asked: tuple[Asked, ...],
    held: tuple[Held, ...],
    single: int,
    blend: tuple[int, ...],
    growing: Growing | None,
    removal: Alteration | None,
    tape_days: int | None,
) -> tuple[Reason, ...]:
    """All reasons, the weightiest first."""
    if not asked:
        return (Reason("no level at all"), *_missing(body, pattern, asked))
    found = [*_of_cloth(pattern, cloth, stretch), *_of_figure(body, pattern), *_full_bust(body, pattern, asked)]
    for one, as_chosen, place in zip(asked, held, blend, strict=True):
        found += _of_level(one, as_chosen, pattern, place)
    found += _of_blend(asked, held, blend, single, body, pattern)
    found += _missing(body, pattern, asked)
    if removal is not None:
        found.append(Reason("drop is large", {"half": removal.each, **removal.figures}))
    if growing is not None:
        found.append(Reason("size by height", {"width": growing.width_size, "length": growing.length_size}))
    if (months := body.months_stale(tape_days)) is not None:
        found.append(Reason("tape is old", {"months": months}))
    if len(pattern.sizes) == 1:
        measured = all(one.grading.printed for one in asked)
        found.append(Reason("one size" if measured else "one size unmeasured"))
    if any(reason.kind == "too far off" for reason in found):
        found = [reason for reason in found if reason.kind != "high bust not taped"]
    return tuple(found)


def _of_figure(body: Body, pattern: BoughtPattern) -> list[Reason]:
    """Between girls and boys charts differ little; between other figures the shapes do."""
    if body.figure == pattern.figure or (body.child and pattern.figure in ("girl", "boy")):
        return []
    return [Reason("other figure", {"body": body.figure, "pattern": pattern.figure})]


def _full_bust(body: Body, pattern: BoughtPattern, asked: tuple[Asked, ...]) -> list[Reason]:
    if asked[0].level != "bust":
        return []
    one = asked[0]
    if one.by_high_bust:
        high = body["high_bust_girth"]
        return [
            Reason(
                "base by high bust",
                {
                    "bust": one.body,
                    "high_bust": high,
                    "difference": one.body - high,
                    "drawn_for": pattern.bust_room,
                    "base": one.base,
                },
            )
        ]
    if body.figure == "woman" and not body.taped("high_bust_girth") and one.body >= FULL_MAYBE:
        return [Reason("high bust not taped", {"from": FULL_BUST})]
    return []


def _of_level(one: Asked, as_chosen: Held, pattern: BoughtPattern, place: int) -> list[Reason]:
    level, row, last = one.level, one.grading, len(pattern.sizes) - 1
    found = []

    def say(kind: ReasonKind, **figures: float | str) -> None:
        found.append(Reason(kind, {"level": level, **figures}))

    if row.beyond and place in (row.places[0], row.places[-1]):
        if one.wished is not None and min(row.chart) <= one.base <= max(row.chart):
            say("wish too far", wanted=one.wanted, most=one.ease(last), largest=pattern.sizes[-1])
        else:
            say("too far off", body=one.base, smallest=row.chart_at(0), largest=row.chart_at(last))
        return found
    if one.free and level in pattern.elastic:
        say("drawn in")
    elif one.free:
        say("hangs free", intended=one.intended, ease=one.ease(place))
    elif place < 0 or place > last:
        say(
            "off the chart",
            size=label(pattern, place),
            steps=abs(place - min(max(place, 0), last)),
            grade=row.grade,
            nearest=pattern.sizes[min(max(place, 0), last)],
        )
    else:
        found += _along_the_chart(one, pattern, place)
    if not one.wearable(place):
        say("unwearable", ease=one.ease(place), floor=one.floor, size=label(pattern, place))
    if one.wished is not None:
        say("wish", asked=one.wished, wanted=one.wanted, intended=one.intended)
    elif one.liked.judged and abs(one.wanted - one.intended) >= LIKES:
        say("likes", by=one.wanted - one.intended, judged=one.liked.judged, wanted=one.wanted)
    if not row.charted and not one.free:
        say("no chart", assumed=one.intended)
    elif row.charted and not row.printed and level not in pattern.elastic:
        say("no finished measure", assumed=one.intended, fit_class=pattern.fit_class)
    if any(some and not some >= set(range(last + 1)) for some in (row.printed, row.charted)):
        say("gap filled", size=label(pattern, place))
    if one.source == "estimated":
        say("estimated", body=one.base)
    if pattern.make == "woven" and 0 <= one.intended < as_chosen.floor + INTENDS_LITTLE and one.intended < 1:
        say("intends little", intended=one.intended)
    return found


def _along_the_chart(one: Asked, pattern: BoughtPattern, place: int) -> list[Reason]:
    """Just on a row of the chart, or between two."""
    row = one.grading
    exact = min(row.places, key=lambda p: abs(row.chart_at(p) - one.base))
    off = (one.base - row.chart_at(exact)) / row.grade
    if abs(off) <= JUST_ON:
        return [
            Reason("equals the chart", {"level": one.level, "size": label(pattern, exact), "body": one.base})
        ]
    lower = exact if off > 0 else exact - 1
    if lower < row.places[0] or lower + 1 > row.places[-1] or one.ease(lower) == one.ease(lower + 1):
        return []
    return [
        Reason(
            "between sizes",
            {
                "level": one.level,
                "lower": label(pattern, lower),
                "upper": label(pattern, lower + 1),
                "body": one.base,
                "lower_ease": one.ease(lower),
                "upper_ease": one.ease(lower + 1),
                "size": label(pattern, place),
                "wanted": one.wanted,
            },
        )
    ]


def _of_blend(
    asked: tuple[Asked, ...],
    held: tuple[Held, ...],
    blend: tuple[int, ...],
    single: int,
    body: Body,
    pattern: BoughtPattern,
) -> list[Reason]:
    found = []
    beyond = asked[0].grading.beyond
    alone = [best_alone(one) - beyond for one in held]
    tight = [one for one in asked if not one.wearable(single)]
    if len(set(blend)) > 1 and tight:
        one = tight[0]
        found.append(
            Reason(
                "unwearable below",
                {
                    "level": one.level,
                    "size": label(pattern, single),
                    "ease": one.ease(single),
                    "floor": one.floor,
                },
            )
        )
    for at, (one, place) in enumerate(zip(asked, blend, strict=True)):
        if len(set(blend)) == 1 and not one.free and alone[at] != place:
            found.append(
                Reason(
                    "straight serves",
                    {
                        "level": one.level,
                        "own": label(pattern, alone[at]),
                        "size": label(pattern, place),
                        "ease": one.ease(place),
                        "wanted": one.wanted,
                        "floor": one.floor,
                    },
                )
            )
    for upper, lower, here, there in zip(asked, asked[1:], alone, alone[1:], strict=False):
        length = length_between(upper.level, lower.level, body)
        own, girth = lower.grading.finished_at(here), lower.grading.finished_at(there)
        jump = abs(girth - own)
        takes = seam_takes(upper.grading.finished_at(here), own, girth, length)
        if not (upper.free or lower.free or takes):
            found.append(
                Reason(
                    "jump too wide",
                    {
                        "upper": upper.level,
                        "lower": lower.level,
                        "jump": jump,
                        "length": length,
                        "most": widest_jump(length),
                        "each": jump / EDGES,
                    },
                )
            )
    return found


def _missing(body: Body, pattern: BoughtPattern, asked: tuple[Asked, ...]) -> list[Reason]:
    """Levels this garment should be judged by, and was not."""
    there = {one.level for one in asked}
    found = []
    for name in NEEDED[pattern.garment]:
        if name in there:
            continue
        measured = level_of(name).body in body
        found.append(Reason("level missing" if measured else "not measured", {"level": name}))
    return found


def _of_cloth(pattern: BoughtPattern, cloth: Cloth | None, stretch: float | None) -> list[Reason]:
    least = pattern.least_stretch
    if pattern.make == "woven":
        return [Reason("knit for a woven", {"cloth": cloth.name})] if cloth and cloth.make == "knit" else []
    if cloth is None:
        return [Reason("stretch unknown")] if least is None else []
    if not stretch:
        return [Reason("cloth does not stretch", {"cloth": cloth.name})]
    if least is not None and stretch < least - LITTLE_STRETCH:
        return [Reason("cloth stretches less", {"cloth": cloth.name, "stretch": stretch, "least": least})]
    if least is not None and stretch > least + MUCH_STRETCH:
        return [Reason("cloth stretches more", {"cloth": cloth.name, "stretch": stretch, "least": least})]
    return []


def confidence_of(
    reasons: tuple[Reason, ...], doubted: tuple[ChartDoubt, ...], cut: str, asked: tuple[Asked, ...], body: Body
) -> Confidence:
    """How far the advice can be trusted, from what it rests on."""
    if cut == "nothing":
        return "cannot say"
    kinds = {reason.kind for reason in reasons}
    far = any(r.kind == "off the chart" and float(r.figures["steps"]) >= FAR_BEYOND for r in reasons)
    doubtful = far or any(doubt.grave for doubt in doubted) or any(_wide(one, body) for one in asked)
    if doubtful or kinds & GUESSED:
        return "a guess"
    return "likely" if doubted or kinds & ASSUMED else "sure"


def _wide(one: Asked, body: Body) -> bool:
    """Whether the measure is an estimate that may be off by a size."""
    known = body.measures[level_of(one.level).body]
    if known.source != "estimated" or one.free:
        return False
    if known.low is None or known.high is None:
        return True
    return (known.high - known.low) / 2 > ESTIMATE_WIDE * one.grading.grade
