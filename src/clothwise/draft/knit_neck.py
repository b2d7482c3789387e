"""The neck of a knit as it is cut: the style asked, the finish inside it, opened until the head passes.

Front and back share neck point and shoulder slope. Half of each, centre on x = 0, the waist y = 0, y up, cm.
Source: drafting method 5.1; house rule, 2026-11.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from clothwise.body import Body
from clothwise.curve import Point
from clothwise.draft import neck_finish
from clothwise.draft.neckline import (
    SHOULDER_LEFT,
    SHOULDER_LEFT_SHARE,
    Neckline,
    along_shoulder,
    close_neck,
    cut_back,
    cut_front,
    styled,
)
from clothwise.draft.possible import at_least
from clothwise.errors import ChoiceError

# A back neck of half width W and depth d bends at its neck point with a radius of about d squared over W: the
# allowance must fit into the hollow.
BACK_ROUND = 1.2
ABOVE_BUST = 1.5  # cm: a neckline ends so far above the bust line at least
BACK_DIP_TURNED = 0.56  # of its half width a back neck is deep that is turned in: round enough to lie flat


@dataclass(frozen=True, slots=True)
class Opened:
    """Where the close neck point lies, how far from it along the shoulder the neck is cut, and how much of that
    only to let the head pass. [cm]"""

    close: Point
    wide: float
    by: float


def necks(
    body: Body, style: str, finish: neck_finish.Finish, pattern: str, *, wider: float = 0.0, deeper: float = 0.0
) -> tuple[neck_finish.Necks, Opened]:
    """Both necks; `wider` and `deeper` go beyond style and finish. [cm]

    Raises ChoiceError: no such neck on this shoulder, or the head does not pass however wide it is cut.
    """
    slope, shoulder, head = body["shoulder_slope_deg"], body["shoulder_length"], body["head_girth"]
    neck = close_neck(body["neck_base_girth"], slope, slope)
    at = Point(neck.width, body["back_waist_length"] + neck.rise)
    inset = finish.inset
    asked = styled(style, neck, shoulder, (slope, slope), wider=wider, deeper=deeper, inset=inset)
    asked = replace(
        asked, back_low=_back_low(asked, finish, along_shoulder(at, slope, asked.wide), at, neck.rise)
    )

    def cut(by: float) -> neck_finish.Necks:
        opened = _opened(asked, by)
        (front,) = cut_front(neck, opened, at, slope)
        back = cut_back(neck, opened, at, slope)
        return neck_finish.Necks(front, back, head, pointed=asked.shape == "V")

    most = max(shoulder - min(SHOULDER_LEFT, SHOULDER_LEFT_SHARE * shoulder) - asked.wide, 0.0)
    by = neck_finish.widening(lambda x: cut(x).opening, finish, head, most, pattern)
    return cut(by), Opened(at, asked.wide + by, by)


def refuse_below_bust(found: neck_finish.Necks, bust_y: float, pattern: str) -> None:
    """A neckline ends above the bust line: ChoiceError where it does not."""
    over = bust_y + ABOVE_BUST - found.front.end.y
    if over > 0:
        raise ChoiceError(
            "So deep a neckline would bare the bust.",
            where=f"pattern '{pattern}', choice 'neck_depth'",
            mend=f"Make it {at_least(over)} cm less deep.",
        )


def _back_low(asked: Neckline, finish: neck_finish.Finish, at: Point, close: Point, rise: float) -> float:
    """How far the back neck is lowered: with the finish, and round enough for it. [cm]"""
    dip = math.sqrt(BACK_ROUND * finish.allowance * at.x)
    if finish.kind == neck_finish.HEM:
        dip = BACK_DIP_TURNED * at.x
    return max(asked.back_low + finish.inset, dip + close.y - rise - at.y)


def _opened(asked: Neckline, by: float) -> Neckline:
    return replace(
        asked,
        wide=asked.wide + by,
        front_low=asked.front_low + neck_finish.LOWER * by,
        back_low=asked.back_low + neck_finish.BACK_LOWER * by,
    )
