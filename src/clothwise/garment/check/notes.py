"""Checks on what the draft says about itself: notes and finished measures.

A note names what was changed and by how much. A finished measure that the pieces show is theirs: what stands
on the packet is what the tape finds on the garment.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from clothwise.garment.check.drawn import Seen, has_line
from clothwise.garment.check.fault import Fault
from clothwise.garment.check.girths import girth
from clothwise.garment.check.graph import works
from clothwise.garment.garment import Garment, Run, Seam
from clothwise.tolerance import GIRTH

# Finished measures by the words of the trade, and the seam or free edge that shows them.
SHOWN_BY = {
    "hem": "hem",
    "waist, stretched": "casing",
    "inside leg": "inseam",
    "outside leg": "side_seam",
    "length": "centre_front",
}

Pieces = dict[str, Seen]


def note_faults(garment: Garment, pieces: Pieces) -> Iterator[Fault]:
    where = f"garment '{garment.name}'"
    for note in garment.notes:
        if not note.text.strip() or note.text.rstrip()[-1] not in ".!?":
            yield Fault("note", where, f"A note is no sentence: '{note.text}'.")
        if bool(note.measure) != (note.by != 0) or not math.isfinite(note.by):
            what = f"A note names the measure '{note.measure}' and a change of {note.by:g} cm; it takes both."
            yield Fault("note", where, what, note.by)
    shown = dict(_shown(garment, pieces))
    for name, cm in garment.finished.items():
        if not math.isfinite(cm) or cm <= 0:
            yield Fault("finished", where, f"The finished {name.replace('_', ' ')} is {cm:g} cm.", cm)
        elif not abs(cm - shown.get(name, cm)) <= GIRTH:
            what = f"The finished {name} is said to be {cm:.2f} cm and the pieces make it {shown[name]:.2f} cm."
            yield Fault("finished", where, what, cm, shown[name])


def _shown(garment: Garment, pieces: Pieces) -> Iterator[tuple[str, float]]:
    """Finished measures that can be read from the pieces. [cm]"""
    for name, place in SHOWN_BY.items():
        work = next((w for w in works(garment) if w.name == place), None)
        if work is None:
            continue
        runs = work.b if isinstance(work, Seam) else work.runs
        if runs and all(has_line(pieces, run) for run in runs):
            yield name, sum(pieces[run.piece].lines[run.line].length for run in runs)
    for level in garment.levels:
        if all(has_line(pieces, Run(piece, line)) for piece, line, _ in level.runs):
            yield level.name, girth(pieces, level.runs)
