"""The command line for tests: in this process, which is quicker, or as a program of its own."""

from __future__ import annotations

import contextlib
import io
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest

from clothwise.cli import main

COMMAND = [sys.executable, "-c", "from clothwise.cli import main; main()"]


@dataclass(frozen=True)
class Done:
    """How a command ended and what it said."""

    returncode: int
    stdout: str
    stderr: str


def ask(place: Path, *words: str) -> Done:
    """The command in this process, with the store of that place; anything but an exit is a crash."""
    out, err = io.StringIO(), io.StringIO()
    with (
        pytest.MonkeyPatch.context() as patch,
        contextlib.chdir(place),
        contextlib.redirect_stdout(out),
        contextlib.redirect_stderr(err),
    ):
        patch.setenv("CLOTHWISE_STORE", str(place / "store.sqlite"))
        patch.setattr(sys, "argv", ["clothwise", *words])
        with pytest.raises(SystemExit) as left:
            main()
    return Done(int(left.value.code or 0), out.getvalue(), err.getvalue())


def run(place: Path, *words: str) -> Done:
    """The same as a program of its own, which knows nothing of what was asked before."""
    environment = {"CLOTHWISE_STORE": str(place / "store.sqlite"), "PATH": "", "HOME": str(place)}
    done = subprocess.run(
        [*COMMAND, *words], capture_output=True, text=True, cwd=place, env=environment, check=False
    )
    return Done(done.returncode, done.stdout, done.stderr)
