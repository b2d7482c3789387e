"""Ease in the round: the least that can be worn, and what each fit class usually has.

    least   below it the garment cannot be worn, whatever was intended [cm]
    usual   what a maker means by a fit class when the envelope gives no finished measures [cm]
    knits   their ease is a share of the body, and may be negative; its floor follows from the stretch

Sources: figures met on independent pages are counted (n); T is ordinary trade knowledge; 'house rule' is
the house's judgement, 2026-11. Where the figures met disagree, the table holds their middle.
"""

from __future__ import annotations

from clothwise.body import Figure
from clothwise.shelf.pattern import FitClass, GarmentKind

LEAST_BUST = 3.0  # cm: least of 6 figures on 5 pages (3 to 7.6); below it a woven bodice does not close
LEAST_CHILD_CHEST = 4.0  # cm: least of 3 child blocks (4, 6, 7.6)
LEAST_WAIST = 1.0  # cm: under the least of 8 figures for skirts and trousers (1.3 to 5)
LEAST_WAIST_BODICE = 1.5  # cm: under the least of 4 figures for dresses and bodices (1.9 to 5)
LEAST_HIP = 4.0  # cm: skirts and dresses, 9 figures on 8 pages (5 to 10)
LEAST_HIP_TROUSERS = 2.5  # cm: 3 figures (2.5 to 5)
LEAST_LIMB = 2.5  # cm: thigh (4 figures) and upper arm (T)
LEAST_OTHER = 1.0  # cm: levels no rule was met for

NEGATIVE_SHARE = 0.5  # of (1 - 1 / (1 + stretch)): the most a knit may be cut smaller than the body (T)

FITTED_BELOW_WAIST = ("skirt", "trousers")

_USUAL: dict[FitClass, dict[str, float]] = {  # bust: one published scale (4.5, 7, 10, 15 and more), close T;
    "close": {"bust": 3.5, "waist": 1.5, "hip": 4.0},  # waist and hip: inside the figures met, above them T
    "fitted": {"bust": 5.0, "waist": 2.5, "hip": 5.0},
    "semi-fitted": {"bust": 7.0, "waist": 6.0, "hip": 7.5},
    "loose": {"bust": 10.0, "waist": 12.0, "hip": 12.0},
    "very loose": {"bust": 16.0, "waist": 20.0, "hip": 20.0},
}
_BELOW_WAIST: dict[FitClass, dict[str, float]] = {  # a waistband is fitted whatever the hip is
    "close": {"waist": 1.3, "hip": 3.0},
    "fitted": {"waist": 2.5, "hip": 5.0},
    "semi-fitted": {"waist": 2.5, "hip": 7.5},
    "loose": {"waist": 3.5, "hip": 12.0},
    "very loose": {"waist": 5.0, "hip": 20.0},
}
_MAN_SHIRT: dict[FitClass, float] = {  # chest; one maker's scale, and two school figures below it
    "close": 9.0, "fitted": 12.0, "semi-fitted": 16.0, "loose": 20.0, "very loose": 26.0,
}  # fmt: skip
_OVER: dict[GarmentKind, float] = {"jacket": 4.0, "coat": 8.0}  # cm more: worn over other clothes (T)
_CHILD: dict[FitClass, float] = {  # chest: 3 child blocks (4, 6, 7.6), beyond them T
    "close": 4.0, "fitted": 6.0, "semi-fitted": 7.6, "loose": 11.0, "very loose": 16.0,
}  # fmt: skip
_KNIT: dict[FitClass, tuple[float, float]] = {  # share of the body, and cm: -12 to 0 % met (n = 2), looser T
    "close": (-0.08, 0.0),
    "fitted": (-0.02, 0.0),
    "semi-fitted": (0.0, 4.0),
    "loose": (0.0, 9.0),
    "very loose": (0.0, 16.0),
}
_LIMBS: dict[FitClass, float] = {
    "close": 3.0,
    "fitted": 4.0,
    "semi-fitted": 5.0,
    "loose": 8.0,
    "very loose": 12.0,
}

SPREAD = {"bust": 2.5, "waist": 2.0, "hip": 2.5}  # cm, standard deviation: of the figures met for one class
SPREAD_OTHER = 2.5  # cm: limbs and lengths; house rule
SPREAD_LOOSE = 1.6  # times: wide garments are worn wider apart; house rule


def least_ease(
    level: str, garment: GarmentKind, figure: Figure, *, stretch: float | None, body: float
) -> float:
    """The floor at one level. [cm]

    stretch   share by which the cloth pulls out across; None for a woven cloth that does not stretch
    body      measure at the level [cm]; a knit's floor is a share of it, and negative
    """
    woven = _least_woven(level, garment, figure)
    if not stretch:
        return woven
    knit = -body * NEGATIVE_SHARE * (1 - 1 / (1 + stretch))
    return min(woven, knit)


def _least_woven(level: str, garment: GarmentKind, figure: Figure) -> float:
    below = garment in FITTED_BELOW_WAIST
    if level == "bust":
        return LEAST_CHILD_CHEST if figure in ("girl", "boy") else LEAST_BUST
    if level == "waist":
        return LEAST_WAIST if below else LEAST_WAIST_BODICE
    if level in ("hip", "high_hip"):
        return LEAST_HIP_TROUSERS if garment in ("trousers", "one-piece") else LEAST_HIP
    return LEAST_LIMB if level in ("thigh", "upper_arm") else LEAST_OTHER


def usual_ease(
    level: str, fit_class: FitClass, garment: GarmentKind, figure: Figure, *, knit: bool, body: float
) -> float:
    """What makers mean by a fit class, for want of their own figures. [cm]"""
    if knit:
        share, more = _KNIT[fit_class]
        return share * body + more
    if level not in ("bust", "waist", "hip"):
        return _LIMBS[fit_class] if level in ("thigh", "upper_arm", "high_hip") else LEAST_OTHER
    if garment in FITTED_BELOW_WAIST:
        return _BELOW_WAIST[fit_class].get(level, 0.0)
    if level == "bust" and figure in ("girl", "boy"):
        return _CHILD[fit_class] + _OVER.get(garment, 0.0)
    if level == "bust" and figure == "man" and garment == "shirt":
        return _MAN_SHIRT[fit_class]
    return _USUAL[fit_class][level] + _OVER.get(garment, 0.0)


def spread(level: str, fit_class: FitClass) -> float:
    """How far apart people lie in the ease they like within one class: one standard deviation. [cm]"""
    wide = SPREAD_LOOSE if fit_class in ("loose", "very loose") else 1.0
    return SPREAD.get(level, SPREAD_OTHER) * wide
