"""Minutes of one step for a practised sewer on a home machine in plain cotton: handling, and so much per cm.

Sources
  planning  trade knowledge, practised / beginner, minutes: plain 60 cm seam with pins, press, finish 8 / 20;
            dart 5 / 10; neck facing 30 / 70; neckband 25 / 60; lapped zip 40 / 90; set-in sleeve 20 / 50;
            raglan seam 10 / 25; patch pocket 15 / 35; collar with stand 75 / 180; cuff and placket, a pair
            80 / 180; buttonhole and button 8 / 15; casing and elastic 25 / 50; hem of 1 m 12 / 25.
The rates below were set so that these figures come out, and tests and `./run bench sew` hold them; how the
minutes of a row are shared within it is our judgement. (T) ordinary trade knowledge, no row of its own.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from clothwise.garment import Garment
from clothwise.sew.step import Step

HANDLE = 1.5  # take up, match the ends, cut the threads; once for each copy
PIN = 0.03  # per cm of seam pinned, pins out again
PRESS_SEAM = 0.025  # per cm of seam pressed flat, then open or to one side
SEAM_SPEED = 40.0  # cm a minute along a plain seam, stops included
TOP_SPEED = 28.0  # cm a minute of stitching that shows, or in the round
CORNER_SPEED = 25.0  # cm a minute round a patch
ZIGZAG_SPEED = 75.0  # cm a minute of neatening by zigzag
OVERLOCK_SPEED = 140.0  # cm a minute of neatening by overlocker
NEATEN_EACH = 0.25  # per edge: start, stop, next
FOLD_PRESS = 0.05  # per cm: one fold measured and pressed
FOLD_AGAIN = 0.015  # per cm: the raw edge folded in besides
PIN_TURN = 0.015  # per cm of a turned edge pinned
MARK_PIECE = 0.7  # per cut piece: chalk and label
FUSE_EACH = 2.5  # per piece: lay, press place by place, let it cool (T)
ELASTIC_SET = 11.5  # measure, cut, thread, try, join, close, even out
RING_ELASTIC = 4.0  # measure, cut, lap, sew (T)
CORD_SET = 6.0  # thread, even out, knot both ends (T)
TRY_ON = 6.0
HANG_UP = 3.0  # hang up, take down, mark the level
PRESS_WHOLE = 6.0
DART = 4.4  # besides its stitching: mark, fold, pin, knot, press; 5 in all
TUCK_PIN = 0.03  # minutes a cm: fold on the line, pin through both other lines; as a hem turned (T)
PLEAT = 1.6  # besides its basting: fold on the line, bring it over, pin, press its head; a third of a dart (T)
CLIP = 1.0  # per copy of a curved seam: trim
GATHER_DRAW = 0.08  # per cm of cloth: draw up, spread, pin (T)
EASE_DRAW = 0.06  # per cm of a sleeve head: draw up, shape over the hand (T)
SET_IN = 5.0  # per sleeve set in the round: pin close, look at it from outside; set-in sleeve 20 in all
QUARTERS = 13.0  # band and edge in quarters, pinned, the length tried; neckband 25 in all
TRIM_CLIP = 0.08  # per cm of a seam that is turned: trim in steps, clip (T)
TURN_PRESS = 0.07  # per cm: turn, roll the seam to the edge, press (T)
UNDERSTITCH = 1.0  # besides its stitching (T)
TACK = 2.0  # a facing caught down at one seam, by hand (T)
POINT = 5.0  # reinforce, cut into the point, press (T)
TURN_OUT = 8.0  # a collar or cuff turned, corners pushed out, tacked and pressed (T)
CAUGHT = 4.0  # a ply more between the others: match its middle and ends, tack (T)
BAND_DOWN = 0.12  # per cm: fold over the seam, pin so that it covers, besides stitching (T)
BAND_END = 4.0  # per open end: fold, stitch across, trim, turn (T)
ZIP_SET = 34.0  # baste, press, pin, baste the zip, change the foot, unpick; zip 40 in all
BUTTON_EACH = 8.0  # mark, trial, buttonhole, cut, button (planning)
EYELET_EACH = 4.0  # back, stitch round, cut (T)


def practised_minutes(step: Step, garment: Garment, overlocker: bool) -> float:
    """The sum of rates for one step. [minutes]"""
    if step.kind in ("neaten", "stay"):
        speed = OVERLOCK_SPEED if step.kind == "neaten" and overlocker else ZIGZAG_SPEED
        return NEATEN_EACH * len(step.edges) + step.length / speed
    if step.kind == "seam":
        return _seam(step, garment, overlocker)
    if step.kind == "mark":
        return MARK_PIECE * sum(piece.copies for piece in garment.pieces)
    return RATES[step.kind](step)


def _turn(step: Step) -> float:
    again = FOLD_AGAIN if step.fold_in > 0 else 0.0
    return step.times * HANDLE + (FOLD_PRESS + again + PIN_TURN) * step.length + step.length / TOP_SPEED


def _gather(step: Step) -> float:
    once = step.length / step.rows
    draw = GATHER_DRAW if step.why == "gather" else EASE_DRAW
    return step.times * HANDLE + step.length / SEAM_SPEED + draw * once


def _band(step: Step) -> float:
    return step.times * HANDLE + (BAND_DOWN + 1 / TOP_SPEED) * step.length + BAND_END * step.count


RATES: Mapping[str, Callable[[Step], float]] = {
    "fuse": lambda s: FUSE_EACH * s.count,
    "dart": lambda s: DART * s.count + (PRESS_SEAM + 1 / SEAM_SPEED) * s.length,
    "pleat": lambda s: HANDLE / 2 * s.times + PLEAT * s.count + s.length / SEAM_SPEED,
    "tuck": lambda s: HANDLE * s.times * s.count + (TUCK_PIN + PRESS_SEAM) * s.length + s.length / SEAM_SPEED,
    "crease": lambda s: HANDLE / 2 * s.times + FOLD_PRESS * s.length * (1 + s.count),
    "fold in": lambda s: HANDLE / 2 * s.times + FOLD_PRESS * s.length,
    "gather": _gather,
    "patch": lambda s: s.times * 2 * HANDLE + (PIN + PRESS_SEAM / 2) * s.length + s.length / CORNER_SPEED,
    "turn": _turn,
    "band": _band,
    "zip": lambda s: ZIP_SET + s.length / TOP_SPEED,
    "elastic": lambda s: RING_ELASTIC * s.times if s.make else ELASTIC_SET,
    "cord": lambda s: CORD_SET,
    "eyelet": lambda s: EYELET_EACH * s.count,
    "buttons": lambda s: BUTTON_EACH * s.count,
    "try on": lambda s: TRY_ON,
    "hang": lambda s: HANG_UP,
    "press": lambda s: PRESS_WHOLE,
}


def _seam(step: Step, garment: Garment, overlocker: bool) -> float:
    """Pin once, stitch every row, neaten, press; then what its make asks."""
    once = step.length / step.rows
    total = step.times * HANDLE + (PIN + PRESS_SEAM) * once + step.length / SEAM_SPEED
    for neatening in step.neatenings:
        if neatening.finish in ("overlocked", "zigzagged"):
            total += NEATEN_EACH * step.times + once / (OVERLOCK_SPEED if overlocker else ZIGZAG_SPEED)
    if step.rows == 2:
        total += CLIP * step.times
    caught = sum(len(join.more) for join in step.joins) / max(len(step.joins), 1)
    if step.make in ("facing", "layers"):
        total += (TRIM_CLIP + TURN_PRESS) * once
    if step.make == "facing":
        total += UNDERSTITCH + once / TOP_SPEED + TACK * len(step.crossings) + POINT * step.point * step.times
    if step.make == "layers":
        total += TURN_OUT * step.times
    if step.make == "binding":
        total += POINT / 2 * step.point * step.times
    if step.make == "folded band":
        total += (QUARTERS + FOLD_PRESS * once) * step.times
    elif caught:
        total += CAUGHT * caught * step.times
    if step.round and step.make == "":
        total += SET_IN * step.times
    return total
