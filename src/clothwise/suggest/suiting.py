"""Does a cloth suit a make? A share of one, its reasons, and how the look changes. Needs no drawing.

The share is the product of one factor for each thing that may be wrong: weight, drape, recovery, show-through,
surface, bias, washing, season, occasion, skill. A factor of 1 says nothing is wrong, and gives no reason.
Factors are a house rule of 2026-11 (trade sense): what is far too light or heavy does not suit at all; what
stands or hangs otherwise than drawn, or shows, is still worn.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from clothwise.cloth import SEASONS, Cloth
from clothwise.cloth.kinds import Facts, facts
from clothwise.draft import HouseDraft
from clothwise.errors import ChoiceError
from clothwise.sew.manners import manners
from clothwise.suggest.answer import Reason
from clothwise.suggest.wants import OCCASIONS, Wants, wants

Look = Literal["as drawn", "stands away, wider line", "stands a little", "hangs close", "falls softly"]
FigureOf = Mapping[str, float | str]

SUITS = 0.45  # of the score: what hangs wrong is not worn, so the cloth counts most
FADES_OVER = 80.0  # g/m2 beyond the draft's range at which a cloth no longer suits at all
DRAPE_FADES_OVER = 0.50  # of drape coefficient beyond the range at which half of it is lost
LEAST_OF_DRAPE = 0.35
SOFT_PART, STIFF_PART = 0.25, 0.75  # of the draft's range of drape: below falls softly, above stands a little
GOOD_RECOVERY = 0.80  # a knit that goes back less bags at knee and seat (trade sense)
SHEER, SHOWS = 0.55, 0.85  # under something, or lined, it can still be worn
PILE_GATHERED, PILE = 0.70, 0.92  # gathers in pile are thick; every piece must point one way
BIAS_GROWS, BIAS_STEADY = 0.55, 0.80  # it drops for days and sags; or it does not fall as the cut wants it
WASH_BY_HAND, DRY_CLEAN = 0.94, 0.85  # of what is worn close or every day
OUT_OF_SEASON, OTHER_OCCASION = 0.55, 0.45
ABOVE_HER = (1.0, 0.78, 0.60)  # for each step that make or cloth is harder than the sewer is used to
MEETS = {"beginner": 2, "practised": 3, "expert": 4}  # hardness she meets without trouble
FIDDLY = 1.3  # handling factor of a cloth from which it makes the work a step harder
WASHED_OFTEN = ("everyday", "sport", "sleep", "home")


@dataclass(frozen=True, slots=True)
class Asked:
    """What the evening asks beside the draft: empty words ask nothing."""

    skill: str = "practised"
    season: str = ""
    occasion: str = ""

    def __post_init__(self) -> None:
        for what, word, known in (
            ("skill", self.skill, tuple(MEETS)),
            ("season", self.season, ("", *SEASONS)),
            ("occasion", self.occasion, ("", *OCCASIONS)),
        ):
            if word not in known:
                said = ", ".join(one for one in known if one)
                raise ChoiceError(f"'{word}' is no {what}.", where=what, mend=f"Say {said}.")


@dataclass(frozen=True, slots=True)
class Suiting:
    """`share` 0 to 1; the reasons' counts add up to SUITS times the share."""

    share: float
    reasons: tuple[Reason, ...]
    look: Look


def suiting(
    draft: HouseDraft, wish: Mapping[str, float | str], cloth: Cloth, asked: Asked | None = None
) -> Suiting:
    """How well the cloth suits. Pure; what a knit must stretch is asked in `stretching`."""
    want, known = wants(draft.name, wish), facts(cloth)
    share, reasons = 1.0, []
    head, factor = _weight(draft, cloth)
    share *= factor
    reasons.append(Reason(head, SUITS * share, _weight_figures(draft, cloth, head)))
    for kind, factor, figures in _others(draft, want, known, cloth, asked or Asked()):
        if factor < 1:
            reasons.append(Reason(kind, SUITS * share * (factor - 1), figures))  # type: ignore[arg-type]
            share *= factor
    return Suiting(share, tuple(reasons), look(want.drape, known.drape))


def share_of(draft: HouseDraft, wish: Mapping[str, float | str], cloth: Cloth, asked: Asked) -> float:
    """The share alone, for the ranking of thousands."""
    share = _weight(draft, cloth)[1]
    if share > 0:
        for _, factor, _ in _others(draft, wants(draft.name, wish), facts(cloth), cloth, asked):
            share *= factor
    return share


def look(wanted: tuple[float, float], drape: float) -> Look:
    """How it will hang beside what was drawn: by the drape coefficient against the draft's range."""
    low, high = wanted
    if drape > high:
        return "stands away, wider line"
    if drape < low:
        return "hangs close"
    part = (drape - low) / (high - low)
    return "falls softly" if part < SOFT_PART else "stands a little" if part > STIFF_PART else "as drawn"


def _weight(draft: HouseDraft, cloth: Cloth) -> tuple[Literal["suits", "too light", "too heavy"], float]:
    grams = cloth.grams_per_m2
    if grams < draft.lightest:
        return "too light", max(0.0, 1 - (draft.lightest - grams) / FADES_OVER)
    if grams > draft.heaviest:
        return "too heavy", max(0.0, 1 - (grams - draft.heaviest) / FADES_OVER)
    return "suits", 1.0


def _weight_figures(draft: HouseDraft, cloth: Cloth, kind: str) -> FigureOf:
    if kind == "suits":
        return {"grams": cloth.grams_per_m2}
    return {
        "grams": cloth.grams_per_m2,
        "wanted": draft.lightest if kind == "too light" else draft.heaviest,
    }


def _others(
    draft: HouseDraft, want: Wants, known: Facts, cloth: Cloth, asked: Asked
) -> Iterator[tuple[str, float, FigureOf]]:
    low, high = want.drape
    off = max(low - known.drape, known.drape - high, 0.0)
    if off:
        kind = "stands away" if known.drape > high else "hangs close"
        figures: FigureOf = {
            "drape": known.drape, "wanted": high if known.drape > high else low, "known": known.drape_known
        }  # fmt: skip
        yield kind, max(LEAST_OF_DRAPE, 1 - off / DRAPE_FADES_OVER), figures
    if want.close and known.recovery < GOOD_RECOVERY:
        yield "slack", known.recovery / GOOD_RECOVERY, {"recovery": known.recovery, "wanted": GOOD_RECOVERY}
    if want.opaque and known.see_through != "opaque":
        factor = SHEER if known.see_through == "sheer" else SHOWS
        yield "shows through", factor, {"how": known.see_through}
    if known.surface == "pile":
        yield "pile", PILE_GATHERED if want.gathered else PILE, {"gathered": float(want.gathered)}
    if want.bias and known.on_bias != "drops":
        yield "on the bias", BIAS_GROWS if known.on_bias == "grows" else BIAS_STEADY, {"how": known.on_bias}
    if known.wash in ("hand", "dry clean") and set(want.occasions) & set(WASHED_OFTEN):
        yield "washing", WASH_BY_HAND if known.wash == "hand" else DRY_CLEAN, {"how": known.wash}
    if asked.season and asked.season not in known.seasons:
        yield "out of season", OUT_OF_SEASON, {"season": asked.season, "worn": ", ".join(known.seasons)}
    if asked.occasion and asked.occasion not in want.occasions:
        yield "other occasion", OTHER_OCCASION, {"asked": asked.occasion, "for": ", ".join(want.occasions)}
    factor = manners(cloth).factor
    hard = want.hard + (1 if factor >= FIDDLY else 0)
    over = min(max(hard - MEETS[asked.skill], 0), len(ABOVE_HER) - 1)
    if over:
        yield "hard", ABOVE_HER[over], {"steps": float(over), "cloth": float(factor >= FIDDLY)}
