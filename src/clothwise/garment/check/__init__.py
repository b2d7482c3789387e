"""The check: nothing wrong reaches the scissors.

It reads the garment as a careful stranger would. It measures with its own means (`drawn`) and knows nothing
of how a draft was made, so a fault of the draft, of the curve kernel or of the allowances shows here.

Rules, by file (the name is what `Fault.rule` says):
  graph       names, copies, runs, order, edge kind, used once, sides, attached, joint corners
  pieces      finite, closed, crosses itself, anticlockwise, short edge, fold, fold straight, fold square,
              fold allowance, grain, grain inside, grain along fold, bias on fold, direction, kink, wavy,
              too tight, dart mouth, dart legs, dart tip, dart closed, mark inside
  seams       seam length, allowances equal, allowance missing, same end, face to face, runs on, goes round,
              joint angle, notch pair, notch match, notch near corner, notch sign
  girths      goes round, level across, level missing, girth, passage, passage missing, elastic,
              casing room, turn
  cut         cutting line, allowance, folds flat, folded hem
  notes       note, finished
  compare     two drafts of one pattern: `same`, `greatest_move`
"""

from __future__ import annotations

from collections.abc import Iterator

from clothwise.garment.check.compare import greatest_move, same
from clothwise.garment.check.cut import cut_faults
from clothwise.garment.check.drawn import seen
from clothwise.garment.check.fault import Fault
from clothwise.garment.check.girths import girth_faults
from clothwise.garment.check.graph import graph_faults
from clothwise.garment.check.notes import note_faults
from clothwise.garment.check.pieces import piece_faults
from clothwise.garment.check.seams import edge_notch_faults, seam_faults
from clothwise.garment.garment import Garment

__all__ = ["Fault", "check", "greatest_move", "same"]


def check(garment: Garment) -> tuple[Fault, ...]:
    """Every fault of a garment, none if all invariants hold. Never raises for a faulty garment.

    Tolerances are those of `tolerance.py`; a fault says what was measured and what is allowed.
    """
    return tuple(_faults(garment))


# Without a sound outline there is no cutting line to speak of.
_NO_OUTLINE = {"closed", "crosses itself", "anticlockwise", "direction"}


def _faults(garment: Garment) -> Iterator[Fault]:
    yield from graph_faults(garment)
    pieces = seen(garment)
    drawn = {name: tuple(piece_faults(piece)) for name, piece in pieces.items()}
    for faults in drawn.values():
        yield from faults
    if any(fault.rule == "finite" for faults in drawn.values() for fault in faults):
        return  # nothing can be measured on points that are nowhere
    yield from edge_notch_faults(pieces)
    yield from seam_faults(garment, pieces)
    yield from girth_faults(garment, pieces)
    yield from note_faults(garment, pieces)
    for name, piece in pieces.items():
        if not any(fault.rule in _NO_OUTLINE for fault in drawn[name]):
            yield from cut_faults(piece)
