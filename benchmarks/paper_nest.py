"""One large nest, ten sizes of twenty pieces, in a process that loads nothing but what printing needs.

Prints seconds of one core, megabytes and sheets; `benchmarks.paper` runs it.
"""

from __future__ import annotations

import gc
import resource
import sys
import time
from dataclasses import replace
from pathlib import Path

from tests.paper_pieces import leg, panel, pocket

from clothwise.garment import Garment, Piece
from clothwise.paper.nest import print_nest

KILO = 1024  # the system tells memory in kilobytes


def one_nest(times: int) -> None:
    """Prints seconds, megabytes and sheets: the best of several times, for others may use the machine too.

    A nest of one size before loads fonts and the lay's kernels.
    """
    print_nest({"36": many(0)})
    sizes = {str(36 + 2 * i): many(i) for i in range(10)}
    gc.disable()  # as `clothwise print` does
    took = []
    for _ in range(times):
        start = time.process_time()
        printed = print_nest(sizes)
        took.append(time.process_time() - start)
    print(min(took), most_memory(), printed.sheets)


def most_memory() -> float:
    """Of this process [MB], from its status: `getrusage` also counts what its parent held before it began."""
    status = Path("/proc/self/status")
    if status.exists():
        return next(int(v.split()[1]) for v in status.read_text().splitlines() if v.startswith("VmHWM")) / KILO
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / KILO


def many(i: int) -> Garment:
    """Twenty hand-made pieces in the size i."""
    pieces: list[Piece] = []
    for k in range(5):
        four = (
            leg(wide=34 + i + k, long=112 + i),
            leg("back_leg", wide=40 + i + k, long=112 + i),
            panel(wide=32 + 0.6 * i + k, long=78 + i),
            pocket(wide=18 + 0.4 * i + k, high=20 + 0.4 * i),
        )
        pieces += [replace(piece, name=f"{piece.name}_{k}") for piece in four]
    return Garment("all", "All", tuple(pieces), (), ())


if __name__ == "__main__":
    one_nest(int(sys.argv[1]) if len(sys.argv) > 1 else 3)
