"""The general strip packer `spyrrow` (MIT) in a process of its own: a question on stdin, the answer on stdout.

It cannot be asked to stop, it ends by its clock, and its errors are panics that no `except Exception` sees;
so it lives here, where it can be ended from outside. Lengths in cm, angles in degrees.

Question  {"height", "seconds", "seed", "workers", "kinds": [{"name", "outline", "count", "turns"}]}
Answer    {"width": used, "placed": [[name, turn, x, y]]} or {"error": why}
"""

from __future__ import annotations

import json
import sys
from typing import Any

import spyrrow


def packed(question: dict[str, Any]) -> dict[str, Any]:
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
            total_computation_time=question["seconds"],
            num_workers=question["workers"],
            seed=question["seed"],
        )
        solution = strip.solve(config)
    except BaseException as error:  # a panic is no Exception
        if isinstance(error, KeyboardInterrupt | SystemExit):
            raise
        return {"error": f"{type(error).__name__}: {error}"}
    return {
        "width": solution.width,
        "placed": [[one.id, one.rotation, *one.translation] for one in solution.placed_items],
    }


if __name__ == "__main__":
    json.dump(packed(json.load(sys.stdin)), sys.stdout)
