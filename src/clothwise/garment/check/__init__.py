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
from dataclasses import dataclass
from functools import cached_property, lru_cache

from clothwise.garment.check.compare import greatest_move, same
from clothwise.garment.check.cut import cut_faults
from clothwise.garment.check.drawn import Seen, seen_piece
from clothwise.garment.check.fault import Fault
from clothwise.garment.check.girths import girth_faults
from clothwise.garment.check.graph import graph_faults
from clothwise.garment.check.notes import note_faults
from clothwise.garment.check.pieces import piece_faults
from clothwise.garment.check.seams import edge_notch_faults, seam_faults
from clothwise.garment.garment import Garment
from clothwise.garment.piece import Piece

__all__ = ["Fault", "check", "forget", "greatest_move", "same"]

# Another choice redraws few pieces of a garment and leaves the others as they are to the last digit, so what
# was found on a piece is kept for the next garment that has it: those of some ten garments, 20 MB at most.
KEPT = 256


def check(garment: Garment) -> tuple[Fault, ...]:
    """Every fault of a garment, none if all invariants hold. Never raises for a faulty garment.

    Tolerances are those of `tolerance.py`; a fault says what was measured and what is allowed.
    """
    return tuple(_faults(garment))


# Without a sound outline there is no cutting line to speak of.
_NO_OUTLINE = {"closed", "crosses itself", "anticlockwise", "direction"}


def _faults(garment: Garment) -> Iterator[Fault]:
    yield from graph_faults(garment)
    first = {piece.name: piece for piece in reversed(garment.pieces)}  # of two with one name
    looked = {piece.name: _looked_at(first[piece.name]) for piece in garment.pieces}
    pieces = {name: look.seen for name, look in looked.items()}
    for look in looked.values():
        yield from look.drawn
    if any(fault.rule == "finite" for look in looked.values() for fault in look.drawn):
        return  # nothing can be measured on points that are nowhere
    yield from edge_notch_faults(pieces)
    yield from seam_faults(garment, pieces)
    yield from girth_faults(garment, pieces)
    yield from note_faults(garment, pieces)
    for look in looked.values():
        yield from look.cut


@dataclass(frozen=True)
class _Look:
    """What one piece shows by itself: its faults as drawn, and as cut."""

    seen: Seen
    drawn: tuple[Fault, ...]

    @cached_property
    def cut(self) -> tuple[Fault, ...]:
        no_outline = any(fault.rule in _NO_OUTLINE for fault in self.drawn)
        return () if no_outline else tuple(cut_faults(self.seen))


@lru_cache(maxsize=KEPT)
def _looked_at(piece: Piece) -> _Look:
    measured = seen_piece(piece)
    return _Look(measured, tuple(piece_faults(measured)))


def forget() -> None:
    """Look at every piece anew: for whoever times the check, or changes what it looks at."""
    _looked_at.cache_clear()
