"""A body drawn from its own measures, and where the tape runs for each of them. Lengths in cm, y down.

A plain standing figure: heights stand where they were measured, widths follow from girths, since a trunk is
wider than deep (WIDE) and limbs are round (ROUND). Front and back share one outline.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from clothwise.body import Body

Spot = tuple[float, float]
Side = Literal["front", "back"]

ROUND = 1 / (2 * math.pi)  # half the width of a round limb, of its girth
WIDE = {"bust": 0.166, "waist": 0.168, "hip": 0.178}  # half the width of a trunk, of its girth: T
HEAD_HIGH = 0.40  # height of the head, of its girth: T
LEAN = 0.16  # how far an arm hangs outwards, of its length
SAG = 0.12  # how far the near half of a level tape hangs in the drawing, of its half width
RIM = 6.0  # cm round the figure
FOOT = 3.5  # cm: how far a foot stands out


@dataclass(frozen=True, slots=True)
class Tape:
    """Where the tape runs, drawn on one side of the figure."""

    side: Side
    path: str


@dataclass(frozen=True, slots=True)
class FigureDrawn:
    """Outlines of the figure, and a tape for each measure. `view` is of the SVG of one side."""

    view: str
    outlines: tuple[str, ...]
    tapes: dict[str, Tape]


class _Frame:
    """Heights and half widths of one body; y is up here."""

    def __init__(self, body: Body) -> None:
        b = body
        self.tall, self.nape, self.waist = b["height"], b["nape_to_floor"], b["waist_to_floor"]
        self.chin = self.tall - HEAD_HIGH * b["head_girth"]
        self.neck_point = self.nape - 1.0
        self.crotch, self.bust = b["inside_leg"], b["bust_height"]
        self.armpit = self.nape - b["armscye_depth"]
        self.hip = self.waist - b["waist_to_hip"]
        self.knee, self.ankle = self.waist - b["waist_to_knee"], self.waist - b["waist_to_ankle"]
        self.calf = self.ankle + 0.68 * (self.knee - self.ankle)
        self.thigh = self.crotch - 0.04 * self.tall
        fall = math.radians(b["shoulder_slope_deg"])
        self.neck_wide = b["neck_girth"] * ROUND
        self.neck_base = self.neck_wide + 1.2
        self.shoulder_x = self.neck_base + b["shoulder_length"] * math.cos(fall)
        self.shoulder = self.neck_point - b["shoulder_length"] * math.sin(fall)
        self.bust_x = b["bust_girth"] * WIDE["bust"]
        self.waist_x = b["waist_girth"] * WIDE["waist"]
        self.hip_x = b["hip_girth"] * WIDE["hip"]
        self.limb = {
            name: b[f"{name}_girth"] * ROUND
            for name in ("thigh", "knee", "calf", "ankle", "upper_arm", "elbow", "wrist")
        }
        self.leg_x = max(self.hip_x - self.limb["thigh"], self.limb["thigh"] + 0.6)
        self.foot_x = 0.62 * self.leg_x + self.limb["ankle"]
        self.elbow, self.wrist = self._along_arm(b["arm_length"], 0.55), self._along_arm(b["arm_length"], 1.0)
        self.arm = self._along_arm(b["arm_length"], 0.22)

    def _along_arm(self, length: float, share: float) -> Spot:
        """A point of the middle of the arm, which hangs from the shoulder a little outwards."""
        down = length * share
        return self.shoulder_x + 0.6 + LEAN * down, self.shoulder - down * math.sqrt(1 - LEAN**2)

    def leg(self, height: float) -> float:
        """How far out the middle of the leg is. [cm]"""
        share = (self.thigh - height) / (self.thigh - self.ankle)
        return self.leg_x + (self.foot_x - self.leg_x) * min(max(share, 0.0), 1.0)


def figure_drawn(body: Body) -> FigureDrawn:
    """The figure of a body with all its measures (see `body.estimate`)."""
    f = _Frame(body)
    half, arm = _trunk_and_leg(f), _arm(f)
    runs = [arm, _mirrored(arm), half + _mirrored(half)[-2::-1], _head(f)]
    widest = max(x for x, _ in arm) + RIM
    view = f"{-widest:.1f} {-f.tall - RIM:.1f} {2 * widest:.1f} {f.tall + 2 * RIM:.1f}"
    outlines = tuple(smooth(run) for run in runs)
    tapes = {name: Tape(side, path) for name, (side, path) in _tapes(f).items() if name in body}
    return FigureDrawn(view, outlines, tapes)


def _mirrored(run: Sequence[Spot]) -> list[Spot]:
    return [(-x, y) for x, y in run]


def _head(f: _Frame) -> list[Spot]:
    high = f.tall - f.chin
    wide = 0.36 * high
    shape = ((0.0, 1.0), (0.72, 0.9), (1.0, 0.6), (0.86, 0.27), (0.42, 0.03), (0.0, 0.0))
    right = [(wide * x, f.chin + high * y) for x, y in shape]
    return right + [(-x, y) for x, y in reversed(right[1:-1])]


def _trunk_and_leg(f: _Frame) -> list[Spot]:
    """The right half from the neck down the side to the foot, and up the inside of the leg to the crotch."""
    inner = [
        (f.leg(h) - f.limb[name], h) for name, h in (("ankle", f.ankle), ("calf", f.calf), ("knee", f.knee))
    ]
    outer = [
        (f.leg(h) + f.limb[name], h) for name, h in (("knee", f.knee), ("calf", f.calf), ("ankle", f.ankle))
    ]
    return [
        (f.neck_wide * 0.6, f.chin + 3.0), (f.neck_wide, f.neck_point + 2.0), (f.neck_base, f.neck_point),
        (f.shoulder_x, f.shoulder), (f.bust_x * 0.98, f.armpit), (f.bust_x, f.bust),
        (f.waist_x, f.waist), (f.hip_x, f.hip), (f.leg_x + f.limb["thigh"], f.thigh),
        *outer, (f.foot_x + FOOT, 1.2), (f.foot_x + FOOT * 0.6, 0.0), (f.foot_x - f.limb["ankle"] * 2, 0.0),
        *inner, (max(f.leg_x - f.limb["thigh"], 0.4), f.thigh), (0.0, f.crotch),
    ]  # fmt: skip


def _arm(f: _Frame) -> list[Spot]:
    def out(at: Spot, half: float, way: float) -> Spot:
        return at[0] + way * half, at[1] + way * half * LEAN

    hand = (f.wrist[0] + 1.0, f.wrist[1] - 0.09 * f.tall)
    upper, elbow, wrist = f.limb["upper_arm"], f.limb["elbow"], f.limb["wrist"]
    return [
        (f.shoulder_x - 0.4, f.shoulder), out(f.arm, upper, 1), out(f.elbow, elbow, 1), out(f.wrist, wrist, 1),
        out(hand, wrist * 0.8, 1), out(hand, wrist * 0.6, -1), out(f.wrist, wrist, -1), out(f.elbow, elbow, -1),
        out(f.arm, upper, -1), (f.bust_x * 0.98, f.armpit),
    ]  # fmt: skip


# ---- where the tape runs -------------------------------------------------------------------------


def _tapes(f: _Frame) -> dict[str, tuple[Side, str]]:
    tip = f.bust_x * 0.55
    side = f.hip_x + 3.0
    back_x = f.shoulder_x * 0.93
    half = (f.shoulder + f.armpit) / 2
    chest = f.armpit - 0.1 * (f.armpit - f.bust)
    elbow_out = (f.elbow[0] + f.limb["elbow"], f.elbow[1])
    wrist_out = (f.wrist[0] + f.limb["wrist"], f.wrist[1])
    round_tapes: dict[str, tuple[float, float, float, Side]] = {
        "bust_girth": (0.0, f.bust, f.bust_x, "front"),
        "high_bust_girth": (0.0, chest, f.bust_x * 0.98, "front"),
        "under_bust_girth": (0.0, f.bust - 0.25 * (f.bust - f.waist), (f.bust_x + f.waist_x) / 2, "front"),
        "waist_girth": (0.0, f.waist, f.waist_x, "front"),
        "high_hip_girth": (0.0, (f.waist + f.hip) / 2, (f.waist_x + f.hip_x) / 2, "front"),
        "hip_girth": (0.0, f.hip, f.hip_x, "back"),
        "neck_base_girth": (0.0, f.neck_point, f.neck_base, "front"),
        "neck_girth": (0.0, (f.chin + f.neck_point) / 2 + 0.5, f.neck_wide, "front"),
        "head_girth": (0.0, f.chin + 0.66 * (f.tall - f.chin), 0.36 * (f.tall - f.chin), "front"),
        "upper_arm_girth": (*f.arm, f.limb["upper_arm"], "front"),
        "elbow_girth": (*f.elbow, f.limb["elbow"], "front"),
        "wrist_girth": (*f.wrist, f.limb["wrist"], "front"),
        "thigh_girth": (f.leg_x, f.thigh, f.limb["thigh"], "front"),
        "knee_girth": (f.leg(f.knee), f.knee, f.limb["knee"], "front"),
        "calf_girth": (f.leg(f.calf), f.calf, f.limb["calf"], "front"),
        "ankle_girth": (f.leg(f.ankle), f.ankle, f.limb["ankle"], "front"),
        "foot_heel_girth": (f.foot_x, 0.55 * f.ankle, f.limb["ankle"] * 1.3, "front"),
    }
    lines: dict[str, tuple[Side, Sequence[Spot]]] = {
        "height": ("back", [(0, 0), (0, f.tall)]),
        "shoulder_length": ("front", [(f.neck_base, f.neck_point), (f.shoulder_x, f.shoulder)]),
        "across_shoulder": ("back", [(-f.shoulder_x, f.shoulder), (0, f.nape), (f.shoulder_x, f.shoulder)]),
        "across_back": ("back", [(-back_x, half), (back_x, half)]),
        "across_front": ("front", [(-back_x * 0.94, half), (back_x * 0.94, half)]),
        "shoulder_slope_deg": (
            "back", [(f.shoulder_x, f.neck_point), (f.neck_base, f.neck_point), (f.shoulder_x, f.shoulder)],
        ),
        "back_waist_length": ("back", [(0, f.nape), (0, f.waist)]),
        "front_waist_length_over_bust": ("front", [(f.neck_base, f.neck_point), (tip, f.bust), (tip, f.waist)]),
        "bust_point_distance": ("front", [(-tip, f.bust), (tip, f.bust)]),
        "shoulder_neck_point_to_bust_point": ("front", [(f.neck_base, f.neck_point), (tip, f.bust)]),
        "bust_height": ("front", [(tip, f.bust), (tip, 0)]),
        "nape_to_floor": ("back", [(0, f.nape), (0, 0)]),
        "armscye_depth": ("back", [(0, f.nape), (0, f.armpit)]),
        "arm_length": ("back", [(f.shoulder_x, f.shoulder), elbow_out, wrist_out]),
        "waist_to_hip": ("front", [(side, f.waist), (side, f.hip)]),
        "waist_to_knee": ("front", [(side, f.waist), (side, f.knee)]),
        "waist_to_ankle": ("front", [(side, f.waist), (side, f.ankle)]),
        "waist_to_floor": ("front", [(side, f.waist), (side, 0)]),
        "inside_leg": ("front", [(0, f.crotch), (0, 0)]),
        "body_rise": ("front", [(side, f.waist), (side, f.crotch)]),
        "crotch_depth_sitting": ("front", [(side, f.waist), (side, f.crotch)]),
        "crotch_length_total": ("front", [(0, f.waist), (0, f.crotch)]),
        "foot_length": ("front", [(f.foot_x - f.limb["ankle"] * 2, -1.5), (f.foot_x + FOOT, -1.5)]),
    }  # fmt: skip
    found: dict[str, tuple[Side, str]] = {
        name: (way, _round(x, y, wide)) for name, (x, y, wide, way) in round_tapes.items()
    }
    found |= {name: (way, _run(points)) for name, (way, points) in lines.items()}
    found["armscye_girth"] = ("front", _loop((f.shoulder_x, f.shoulder), (f.bust_x * 0.9, f.armpit)))
    return found


def _round(x: float, y: float, wide: float) -> str:
    """A tape held level round something, seen a little from above: its near half, the far one is hidden."""
    return f"M{x - wide:.1f} {-y:.1f}A{wide:.1f} {max(wide * SAG, 0.6):.1f} 0 0 0 {x + wide:.1f} {-y:.1f}"


def _run(points: Sequence[Spot]) -> str:
    return "M" + "L".join(f"{x:.1f} {-y:.1f}" for x, y in points)


def _loop(upper: Spot, lower: Spot) -> str:
    """A tape round the armhole, from the shoulder under the arm and back."""
    (x0, y0), (x1, y1) = upper, lower
    rise = math.hypot(x1 - x0, y1 - y0) / 2
    turn = math.degrees(math.atan2(-(y1 - y0), x1 - x0))
    return (
        f"M{x0:.1f} {-y0:.1f}A{rise:.1f} {rise * 0.4:.1f} {turn:.0f} 1 1 {x1:.1f} {-y1:.1f}"
        f"A{rise:.1f} {rise * 0.4:.1f} {turn:.0f} 1 1 {x0:.1f} {-y0:.1f}"
    )


def smooth(points: Sequence[Spot]) -> str:
    """A closed curve through all points (Catmull and Rom's, as cubics)."""
    n = len(points)
    parts = [f"M{points[0][0]:.2f} {-points[0][1]:.2f}"]
    for i in range(n):
        (x0, y0), (x1, y1), (x2, y2), (x3, y3) = (points[(i + k) % n] for k in (-1, 0, 1, 2))
        first, second = (x1 + (x2 - x0) / 6, y1 + (y2 - y0) / 6), (x2 - (x3 - x1) / 6, y2 - (y3 - y1) / 6)
        parts.append(f"C{first[0]:.2f} {-first[1]:.2f} {second[0]:.2f} {-second[1]:.2f} {x2:.2f} {-y2:.2f}")
    return "".join(parts) + "Z"
