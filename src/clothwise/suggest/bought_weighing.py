"""What a bought pattern counts for before it is laid: does the cloth suit, how long will it take.

Minutes: stated times were low by 3, 3 and 10 times for first makes (ten makers' reports), so a beginner's
likely time is three times what is stated, a practised sewer's one and a half; where nothing is stated, the
hours that makers reported for such garments. Tracing and cutting come on top, piece by piece.
"""

from __future__ import annotations

from collections.abc import Mapping

from clothwise.cloth import Cloth
from clothwise.cloth.kinds import Kind, facts, find_kind
from clothwise.sew import Minutes, Sewer
from clothwise.sew.manners import manners
from clothwise.shelf.pattern import BoughtPattern
from clothwise.suggest.answer import Reason, ReasonKind
from clothwise.suggest.suiting import (
    DRAPE_FADES_OVER,
    FADES_OVER,
    LEAST_OF_DRAPE,
    OUT_OF_SEASON,
    SUITS,
    Look,
    look,
)

OVER_STATED: Mapping[str, float] = {"beginner": 3.0, "practised": 1.5, "expert": 1.0}
REPORTED_HOURS: Mapping[str, Mapping[str, float]] = {  # middle of what makers reported, by skill
    "dress": {"beginner": 7.5, "practised": 4.0, "expert": 2.0},
    "skirt": {"beginner": 4.5, "practised": 2.5, "expert": 1.0},
    "shirt": {"beginner": 14.0, "practised": 9.0, "expert": 4.0},
    "top": {"beginner": 4.0, "practised": 2.0, "expert": 1.5},
}
LIKE: Mapping[str, str] = {"trousers": "skirt", "one-piece": "dress", "jacket": "shirt", "coat": "shirt"}
TRACE: Mapping[str, float] = {"beginner": 12.0, "practised": 8.0, "expert": 5.5}  # minutes a piece (planning)
CUT: Mapping[str, float] = {"beginner": 8.0, "practised": 5.0, "expert": 3.5}  # minutes a piece (planning)
FINISH_SHARE = 0.32  # of the sewing: hems, buttons, pressing; the middle of the house's own drafts
SPAN = (0.65, 1.9)  # of the likely minutes: nine in ten (the spread of those reports)
NOT_NAMED = 0.8  # share for a cloth that the envelope does not name but that is like those it names
NAMELESS = 0.85  # share when the envelope names no cloth


def minutes_of(pattern: BoughtPattern, cloth: Cloth, sewer: Sewer) -> Minutes:
    """The whole make at this sewer's pace; the cloth's own manners as in a house draft. [minutes]"""
    skill, pieces = sewer.skill, len(pattern.pieces)
    hours = REPORTED_HOURS[LIKE.get(pattern.garment, pattern.garment)][skill]
    told = pattern.minutes * OVER_STATED[skill] if pattern.minutes else 60 * hours
    factor = manners(cloth).factor
    trace = TRACE[skill] * pieces * sewer.pace
    cut = CUT[skill] * pieces * factor * sewer.pace
    sewing = told * factor * sewer.pace
    sew, finish = (1 - FINISH_SHARE) * sewing, FINISH_SHARE * sewing
    likely = trace + cut + sewing
    low, high = (likely * part for part in SPAN)
    rows = (("Trace the pieces", trace), ("Cloth: cut", cut), ("Sew", sew), ("Finish", finish))
    return Minutes(0.0, trace, cut, sew, finish, low, likely, high, rows=rows)


def suits(pattern: BoughtPattern, cloth: Cloth, season: str) -> tuple[float, tuple[Reason, ...], Look]:
    """By the cloths the envelope names: a share of one, its reasons, and how the look changes."""
    share, reasons, seen = 1.0, list[Reason](), "as drawn"
    known = facts(cloth)
    named = _named(pattern)
    if cloth.kind in pattern.recommended:
        reasons.append(Reason("suits", SUITS, {"grams": cloth.grams_per_m2}))
    elif not named:
        share = NAMELESS
    else:
        share, reasons = _beside_named(cloth, named)
        low, high = min(kind.drape for kind in named), max(kind.drape for kind in named)
        seen = look((low, high), known.drape) if not low <= known.drape <= high else "as drawn"
    if season and season not in known.seasons:
        figures = {"season": season, "worn": ", ".join(known.seasons)}
        reasons.append(Reason("out of season", SUITS * share * (OUT_OF_SEASON - 1), figures))
        share *= OUT_OF_SEASON
    return share, tuple(reasons), seen  # type: ignore[return-value]  # one of the words of Look


def _named(pattern: BoughtPattern) -> list[Kind]:
    return [kind for kind in map(find_kind, pattern.recommended) if kind is not None]


def _beside_named(cloth: Cloth, named: list[Kind]) -> tuple[float, list[Reason]]:
    """How near a cloth that the envelope does not name comes to those it names, in weight and drape."""
    known, reasons = facts(cloth), list[Reason]()
    light, heavy = min(kind.lightest for kind in named), max(kind.heaviest for kind in named)
    off = max(light - cloth.grams_per_m2, cloth.grams_per_m2 - heavy, 0.0)
    share = NOT_NAMED * max(0.0, 1 - off / FADES_OVER)
    if off:
        light_or_heavy: ReasonKind = "too light" if cloth.grams_per_m2 < light else "too heavy"
        wanted = light if light_or_heavy == "too light" else heavy
        reasons.append(
            Reason(light_or_heavy, SUITS * (share - NOT_NAMED), {"grams": cloth.grams_per_m2, "wanted": wanted})
        )
    low, high = min(kind.drape for kind in named), max(kind.drape for kind in named)
    away = max(low - known.drape, known.drape - high, 0.0)
    if away:
        factor = max(LEAST_OF_DRAPE, 1 - away / DRAPE_FADES_OVER)
        softer = known.drape < low
        figures = {"drape": known.drape, "wanted": low if softer else high, "known": known.drape_known}
        kind: ReasonKind = "hangs close" if softer else "stands away"
        reasons.append(Reason(kind, SUITS * share * (factor - 1), figures))
        share *= factor
    return share, reasons
