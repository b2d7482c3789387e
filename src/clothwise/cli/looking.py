"""How far a search is, on one line of a terminal while it lasts; nothing where nobody watches."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from time import monotonic

EVERY = 0.2  # seconds between two tellings
CLEAR = "\r\x1b[K"  # to the line's begin, and wipe it


@contextmanager
def looking() -> Iterator[Callable[[int, int], None] | None]:
    """Gives what tells `done, of`; None when the errors' stream is no terminal."""
    if not sys.stderr.isatty():
        yield None
        return
    told = 0.0

    def tell(done: int, of: int) -> None:
        nonlocal told
        if monotonic() - told > EVERY:
            told = monotonic()
            print(f"{CLEAR}{done} of {of} makes decided", end="", file=sys.stderr, flush=True)

    try:
        yield tell
    finally:
        print(CLEAR, end="", file=sys.stderr, flush=True)
