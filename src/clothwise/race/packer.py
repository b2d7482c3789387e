"""The general strip packer `spyrrow` (MIT) in a process of its own: a question on stdin, answers on stdout.

It cannot be asked to stop, it ends by its clock, and its errors are panics that no `except Exception` sees;
so it lives here, where it can be ended from outside at any moment: each lay it finds is told at once.
Lengths in cm, angles in degrees.

Question  {"height", "seed", "workers", "kinds": [{"name", "outline", "count", "turns"}]}, and whole seconds:
          "exploring" and "compressing", or "seconds", which the packer shares out by itself
Answers   one a line, each shorter: {"width": used, "placed": [[name, turn, x, y]]}; the last one {"error": why}
          when it gave up
"""

from __future__ import annotations

import json
import sys
import time
from threading import Thread
from typing import Any, TextIO

import spyrrow

OFTEN = 0.05  # seconds between looks for new lays
FEASIBLE = (spyrrow.ReportType.ExplFeas, spyrrow.ReportType.CmprFeas, spyrrow.ReportType.Final)


def packed(question: dict[str, Any], progress: spyrrow.ProgressQueue | None = None) -> dict[str, Any]:
    """The answer to one question; whatever goes wrong in the packer becomes the error it is."""
    try:
        items = [
            spyrrow.Item(
                kind["name"],
                [tuple(point) for point in kind["outline"]],
                demand=kind["count"],
                allowed_orientations=kind["turns"],
            )
            for kind in question["kinds"]
        ]
        strip = spyrrow.StripPackingInstance("lay", strip_height=question["height"], items=items)
        config = spyrrow.StripPackingConfig(
            early_termination=False,
            total_computation_time=question.get("seconds"),
            exploration_time=question.get("exploring"),
            compression_time=question.get("compressing"),
            num_workers=question["workers"],
            seed=question["seed"],
        )
        return _told(strip.solve(config, progress))
    except BaseException as error:  # a panic is no Exception
        if isinstance(error, KeyboardInterrupt | SystemExit):
            raise
        return {"error": f"{type(error).__name__}: {error}"}


def _told(solution: spyrrow.StripPackingSolution) -> dict[str, Any]:
    return {
        "width": solution.width,
        "placed": [[one.id, one.rotation, *one.translation] for one in solution.placed_items],
    }


def tell(question: dict[str, Any], out: TextIO) -> None:
    """Every lay found, as soon as it is found, and the last answer."""
    progress = spyrrow.ProgressQueue()
    last: list[dict[str, Any]] = []
    worker = Thread(target=lambda: last.append(packed(question, progress)), daemon=True)
    worker.start()
    while worker.is_alive():
        time.sleep(OFTEN)
        found = [solution for report, solution in progress.drain() if report in FEASIBLE]
        if found:
            print(json.dumps(_told(found[-1])), file=out, flush=True)
    print(json.dumps(last[0]), file=out, flush=True)


if __name__ == "__main__":
    tell(json.load(sys.stdin), sys.stdout)
