"""The strip packer at work in its own process: started, listened to, ended."""

from __future__ import annotations

import json
import math
import subprocess
import sys
from threading import Thread
from typing import Any, TextIO

from clothwise.lay.nofit import NoFits
from clothwise.lay.packing import Kind, Packed, kinds, proposed, strip_height
from clothwise.lay.plan import LayPlan
from clothwise.lay.planning import checked
from clothwise.lay.problem import LayProblem
from clothwise.lay.search import Effort

SEED = 1
WORKERS = 2  # both cores
NEWEST = 3  # of its lays, so many are looked at, the newest first, until one can be put right


class Packer:
    """The packer, begun at once. It explores for so many seconds and more, or until it is ended."""

    def __init__(self, problem: LayProblem, known: NoFits, seconds: float) -> None:
        self.problem, self.known = problem, known
        self.kinds: tuple[Kind, ...] = kinds(problem, known)
        self.told: list[dict[str, Any]] = []
        question = {
            "height": strip_height(problem),
            "exploring": math.ceil(seconds),
            "compressing": 1,
            "seed": SEED,
            "workers": WORKERS,
            "kinds": [
                {"name": kind.name, "outline": kind.outline, "count": kind.count, "turns": kind.turns}
                for kind in self.kinds
            ],
        }
        self.process = subprocess.Popen(
            [sys.executable, "-m", "clothwise.race.packer"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
        )
        assert self.process.stdin is not None
        assert self.process.stdout is not None
        self.listener = Thread(target=self._listen, args=(self.process.stdout,), daemon=True)
        self.listener.start()
        json.dump(question, self.process.stdin)
        self.process.stdin.close()

    def _listen(self, said: TextIO) -> None:
        for line in said:
            if line.endswith("\n"):  # the last one may be cut off when the process is ended
                self.told.append(json.loads(line))

    def ended(self) -> bool:
        """Has it said its last word?"""
        return not self.listener.is_alive()

    def lay(self, effort: Effort) -> LayPlan | None:
        """Its newest lay put right, pressed together and verified; None when it has none."""
        for answer in [one for one in self.told if "placed" in one][: -NEWEST - 1 : -1]:
            placed = [Packed(*one) for one in answer["placed"]]
            made = proposed(self.problem, self.kinds, placed, self.known, effort)
            if made is not None:
                return checked(made)
        return None

    def end(self) -> None:
        """Stop it, wherever it is."""
        if self.process.poll() is None:
            self.process.kill()
        self.process.wait()
        self.listener.join()
        if self.process.stdout is not None:
            self.process.stdout.close()
