"""Checks on what the draft says about itself: a note names what was changed and by how much."""

from __future__ import annotations

import math
from collections.abc import Iterator

from clothwise.garment.check.fault import Fault
from clothwise.garment.garment import Garment


def note_faults(garment: Garment) -> Iterator[Fault]:
    where = f"garment '{garment.name}'"
    for note in garment.notes:
        if not note.text.strip() or note.text.rstrip()[-1] not in ".!?":
            yield Fault("note", where, f"A note is no sentence: '{note.text}'.")
        if bool(note.measure) != (note.by != 0) or not math.isfinite(note.by):
            what = f"A note names the measure '{note.measure}' and a change of {note.by:g} cm; it takes both."
            yield Fault("note", where, what, note.by)
    for name, cm in garment.finished.items():
        if not math.isfinite(cm) or cm <= 0:
            yield Fault("finished", where, f"The finished {name.replace('_', ' ')} is {cm:g} cm.", cm)
