"""The bust dart moved about the bust point: to the shoulder, the armhole, low on the side, or opened as flare.

A front is a ring of named curves, anticlockwise from the hem's centre round to the centre front, with its dart
open at the side. To move the dart the part between its leg and the new place is turned about the bust point, so
that the old opening closes and a new one opens: legs, and all lengths along the edge, stay exactly what they
were. Sewn, a dart ends short of the bust point; the edge beside its mouth is then bent so little that, with
the dart folded, the edge runs on without a corner (a cutter trues it so, with the dart pinned).

Source: house rule, 2026-11 (dart tips 2 to 3.5 short of the bust point), proved on `benchmarks.drafts`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from clothwise.curve import Cubic, Curve, Line, Point, line
from clothwise.garment import Dart
from clothwise.tolerance import SAME_POINT

TIP_SHORT = 0.12  # of the leg: how far short of the bust point a dart ends,
TIP_LEAST, TIP_MOST = 2.0, 3.5  # cm: but between these
HANDLE_STEP, HANDLE_MOST = 0.05, 0.35  # shares of a handle: tried, and changed at most, while truing
HANDLE_ANSWERS = 0.05  # cm per share: a stroke that answers less is all but straight
MOST_BENDS, SLIGHT_DEG = 3, 0.4  # of a side beside a dart; degrees: less is straight to the eye
LOOKS = 12  # places at which a stroke is looked at
TRUED = 14.0  # cm of the edge on either side of a dart are trued


@dataclass(frozen=True, slots=True)
class Part:
    """One named run of a ring; `mouth` says that it is the opening of the dart of that name."""

    name: str
    curve: Curve
    mouth: bool = False


Ring = tuple[Part, ...]


def place_of(ring: Ring, name: str) -> int:
    """Where the part of that name stands in the ring."""
    return next(i for i, part in enumerate(ring) if part.name == name)


def moved_up(ring: Ring, mouth: str, about: Point, angle_deg: float, to: str, at: float, new: str) -> Ring:
    """So much of the dart is moved to the part `to`, which lies beyond the mouth; it opens there at the
    distance `at` from the part's start. The part is named `to`_low before and `to`_high after the new mouth.
    """
    old, target = place_of(ring, mouth), place_of(ring, to)
    low, high = ring[target].curve.split(at)
    between = [*ring[old + 1 : target], Part(f"{to}_low", low)]
    turned = [replace(part, curve=part.curve.rotated(about, -angle_deg)) for part in between]
    opening = Part(new, line(turned[-1].curve.end, high.start), mouth=True)
    closed = _closed(ring[old], turned[0].curve.start)
    return (*ring[:old], *closed, *turned, opening, Part(f"{to}_high", high), *ring[target + 1 :])


def moved_down(ring: Ring, mouth: str, about: Point, angle_deg: float, to: str, at: float, new: str) -> Ring:
    """As moved_up, for a part that lies before the mouth: what is between them turns the other way."""
    old, target = place_of(ring, mouth), place_of(ring, to)
    low, high = ring[target].curve.split(at)
    between = [Part(f"{to}_high", high), *ring[target + 1 : old]]
    turned = [replace(part, curve=part.curve.rotated(about, angle_deg)) for part in between]
    opening = Part(new, line(low.end, turned[0].curve.start), mouth=True)
    closed = _closed(ring[old], turned[-1].curve.end, first=True)
    return (*ring[:target], Part(f"{to}_low", low), opening, *turned, *closed, *ring[old + 1 :])


def _closed(mouth: Part, moved: Point, *, first: bool = False) -> tuple[Part, ...]:
    """What is left of the old mouth: nothing when it is shut."""
    start, end = (moved, mouth.curve.end) if first else (mouth.curve.start, moved)
    return () if start.distance(end) <= SAME_POINT else (replace(mouth, curve=line(start, end)),)


def merged(ring: Ring, one: str, other: str, name: str) -> Ring:
    """Two parts that follow each other made one, if nothing is left between them."""
    i = place_of(ring, one)
    if i + 1 >= len(ring) or ring[i + 1].name != other:
        return ring
    return (*ring[:i], Part(name, ring[i].curve.then(ring[i + 1].curve)), *ring[i + 2 :])


def sewn(ring: Ring, about: Point, *, short: bool = True) -> tuple[Ring, tuple[Dart, ...]]:
    """The ring with the edges beside each mouth trued for a tip short of the bust point, and the darts; not
    `short`, they point at it.
    """
    parts, darts = list(ring), []
    for i, part in enumerate(ring):
        if not part.mouth:
            continue
        dart = _dart(part, about, short=short)
        darts.append(dart)
        if not short:
            continue
        lean = _lean_deg(about, dart)
        before = parts[i - 1].curve
        turned = end_turned(before, -lean)
        if _bends(turned) > MOST_BENDS:
            turned = end_turned(before, -lean, sooner=True)
        parts[i - 1] = replace(parts[i - 1], curve=turned)
        after = parts[i + 1].curve.reversed()
        parts[i + 1] = replace(parts[i + 1], curve=end_turned(after, lean).reversed())
    return tuple(parts), tuple(darts)


def _dart(mouth: Part, about: Point, *, short: bool) -> Dart:
    first, second = mouth.curve.start, mouth.curve.end
    leg, middle = about.distance(first), first.between(second)
    by = min(max(TIP_SHORT * leg, TIP_LEAST), TIP_MOST) if short else 0.0
    tip = about.go(about.to(middle).unit(), by)
    return Dart(mouth.name.removesuffix("_mouth"), tip, first, second, mouth.name)


def _lean_deg(about: Point, dart: Dart) -> float:
    """How much more each leg leans when it runs to the tip and not to the bust point. [degrees]"""
    to_point, to_tip = dart.first_leg.to(about), dart.first_leg.to(dart.tip)
    return abs(math.degrees(math.atan2(to_point.cross(to_tip), to_point.dot(to_tip))))


def end_turned(curve: Curve, angle_deg: float, *, sooner: bool = False) -> Curve:
    """The curve arriving turned by so much (anticlockwise positive), its end where it was: a slight bend.

    sooner  its last stroke leaves turned too, so that it need not bend back on its way
    """
    whole = curve.length()
    if whole > TRUED + SAME_POINT:
        kept, bent = curve.split(whole - TRUED)
        return kept.then(end_turned(bent, angle_deg, sooner=sooner))
    last = curve.strokes[-1]
    if isinstance(last, Line):
        last = last.cubic()
    before = curve.strokes[-2] if sooner and len(curve.strokes) > 1 else None
    if not isinstance(before, Cubic):
        return Curve((*curve.strokes[:-1], _end_turned(last, angle_deg)))
    by = _turns_back_deg(_end_turned(last, angle_deg))
    before = Cubic(before.start, before.first, before.second.rotated(before.end, by), before.end)
    last = Cubic(last.start, last.first.rotated(last.start, by), last.second, last.end)
    return Curve((*curve.strokes[:-2], before, _end_turned(last, angle_deg)))


def _bends(curve: Curve) -> int:
    """How many bends it has one after the other, this way and that; slight ones aside."""
    found: list[float] = []
    for stroke in curve.strokes:
        ways = [stroke.tangent(i / LOOKS) for i in range(LOOKS + 1)]
        for one, other in pairwise(ways):
            turn = math.degrees(math.atan2(one.cross(other), one.dot(other)))
            if found and found[-1] * turn >= 0:
                found[-1] += turn
            else:
                found.append(turn)
    told = [bend > 0 for bend in found if abs(bend) >= SLIGHT_DEG]
    return sum(one != other for one, other in pairwise(told)) + bool(told)


def _turns_back_deg(stroke: Cubic) -> float:
    """By how much its start must turn (anticlockwise positive) for it to bend one way only. [degrees]"""
    one, two, three = (
        stroke.start.to(stroke.first),
        stroke.first.to(stroke.second),
        stroke.second.to(stroke.end),
    )
    if one.cross(two) * two.cross(three) >= 0:
        return 0.0
    return math.degrees(math.atan2(one.cross(two), one.dot(two)))


def _end_turned(stroke: Cubic, angle_deg: float) -> Cubic:
    """One stroke so turned; its last handle is shortened or lengthened until it is as long as before, which a
    stroke that bends can be (a straight one grows by less than a hundredth of a millimetre)."""
    second = stroke.second.rotated(stroke.end, angle_deg)
    whole = stroke.length(tolerance=SAME_POINT)

    def held(share: float) -> tuple[Cubic, float]:
        made = Cubic(stroke.start, stroke.first, stroke.end.between(second, share), stroke.end)
        return made, made.length(tolerance=SAME_POINT) - whole

    turned, off = held(1.0)
    slope = (held(1.0 + HANDLE_STEP)[1] - off) / HANDLE_STEP
    if abs(slope) < HANDLE_ANSWERS:
        return turned
    return held(1.0 - min(max(off / slope, -HANDLE_MOST), HANDLE_MOST))[0]


def darts_of(ring: Sequence[Part]) -> tuple[str, ...]:
    """Names of the mouths in the ring."""
    return tuple(part.name for part in ring if part.mouth)
