"""The operations a garment asks for, read from its pieces, seams and free edges, not yet in order.

Every seam and free edge gives one operation (all its copies at once), with what must be done before it.
"""

from __future__ import annotations

from dataclasses import replace

from clothwise.sew.before import before_any_seam
from clothwise.sew.bench import Bench, Operation
from clothwise.sew.finishing import free_operations, frill_seams, notion_operations, ring_elastics
from clothwise.sew.seaming import seam_operations
from clothwise.sew.tucks import tucking


def operations(bench: Bench) -> tuple[Operation, ...]:
    """All that is to be done at the machine, in no order yet but with what each needs before it."""
    found = before_any_seam(bench)
    for seam in bench.garment.seams:
        found += seam_operations(bench, seam)
    for free in bench.garment.free_edges:
        found += free_operations(bench, free)
    rings = ring_elastics(bench)
    found = [
        replace(op, needs=op.needs | {rings[op.step.name]}) if op.step.name in rings else op for op in found
    ]
    for free in bench.garment.free_edges:
        later = frill_seams(bench, free)
        found = [replace(op, needs=op.needs | {free.name}) if op.step.name in later else op for op in found]
    for hem, tucks in tucking(bench):
        waits = {tucks.step.name}
        found = [replace(op, needs=op.needs | waits) if op.step.name == hem else op for op in found]
        found.append(tucks)
    return (*found, *notion_operations(bench))
