"""How long `suggest` takes on the demo store, and whether what it hands out holds.

Cold: no lay remembered. Warm: the same question again, in a new memory opened on the same file. Every lay
handed out is then put to the independent verifier, outside the time. Imports and compiled code are warmed by
one small question first; what a whole new process takes is printed besides.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
import time
from pathlib import Path

from benchmarks.table import Row, print_table
from clothwise.lay.verify import faults
from clothwise.sew import Sewer
from clothwise.store import Store, open_store, seed_demo
from clothwise.store.lays import LayMemory
from clothwise.suggest.answer import Suggestions
from clothwise.suggest.suggest import Evening, suggest

WARM = 3.0  # seconds, the target


def main(quick: bool) -> int:
    """Prints the table. Returns 1 when a target is missed."""
    with tempfile.TemporaryDirectory() as folder, open_store(Path(folder) / "demo.sqlite") as store:
        seed_demo(store)
        _asked(store, "Marit", cloths=1, memory=Path(folder) / "small.lays")
        names = ["Marit"] if quick else [body.name for body in store.bodies()]
        rows: list[Row] = []
        for name in names:
            memory = Path(folder) / f"{name}.lays"
            cold, _ = _asked(store, name, memory=memory)
            warm, found = _asked(store, name, memory=memory)
            rows += _rows(name, cold, warm, found)
        rows.append(Row("a new process, all remembered, s", "-", _new_process(store.place, names[0])))
    return 0 if print_table("Suggest: the demo store", rows) else 1


def _asked(store: Store, name: str, *, memory: Path, cloths: int | None = None) -> tuple[float, Suggestions]:
    begun = time.perf_counter()
    with LayMemory(memory) as lays:
        evening = Evening(store.body(name), Sewer(name, "practised"), 3.0)
        found = suggest(evening, store.cloths()[:cloths], lays.plan, memory=lays)
    return time.perf_counter() - begun, found


def _rows(name: str, cold: float, warm: float, found: Suggestions) -> list[Row]:
    wrong = sum(bool(faults(answer.plan)) for answer in found.answers)
    wrong += sum(answer.plan.length > (answer.plan.problem.cloth.length or 0) for answer in found.answers)
    return [
        Row(f"{name}: answers", "> 0", len(found.answers), len(found.answers) > 0),
        Row(f"{name}: lays that fail the verifier or overrun the cloth", 0, wrong, wrong == 0),
        Row(f"{name}: cold, s", "-", cold),
        Row(f"{name}: warm, s", f"<= {WARM:g}", warm, warm <= WARM),
    ]


def _new_process(place: str, name: str) -> float:
    """Seconds of `clothwise suggest` as a person types it, the second time."""
    command = [sys.executable, "-c", "from clothwise.cli import main; main()"]
    command += ["suggest", "--for", name, "--hours", "3", "--json"]
    for _ in range(2):
        begun = time.perf_counter()
        subprocess.run(command, check=True, capture_output=True, env={"CLOTHWISE_STORE": place, "PATH": ""})
        spent = time.perf_counter() - begun
    return spent


if __name__ == "__main__":
    sys.exit(main("--quick" in sys.argv[1:]))
