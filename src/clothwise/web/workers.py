"""Where the page's workers come from: each is forked from one process that has everything imported.

What a worker needs takes seconds to import. One process does that once and then only forks: a worker is there
at once, shares its memory with the others, and has no threads or open files of the server.
"""

from __future__ import annotations

import signal
import sys
from multiprocessing import get_context
from multiprocessing.context import ForkServerContext, SpawnContext

NEEDED = (
    "clothwise.web.buying_work",
    "clothwise.web.evening_work",
    "clothwise.web.live",
    "clothwise.web.ticket_work",
)


def _context() -> ForkServerContext | SpawnContext:
    if sys.platform == "win32":
        return get_context("spawn")
    context = get_context("forkserver")
    context.set_forkserver_preload(list(NEEDED))
    return context


WORKERS = _context()


def begin_importing() -> None:
    """Starts the process the workers come from, without waiting until it is ready.

    It and they hear no Ctrl-C: that is for the server, which ends them.
    """
    if sys.platform != "win32":
        from multiprocessing.forkserver import ensure_running

        before = signal.signal(signal.SIGINT, signal.SIG_IGN)
        try:
            ensure_running()
        finally:
            signal.signal(signal.SIGINT, before)
