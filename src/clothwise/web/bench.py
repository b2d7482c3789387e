"""One warm process beside the page for short heavy looks: cutting lines, the check, a quick lay.

The page's own process stays free to follow a finger meanwhile. What was found stays remembered by the ticket.
"""

from __future__ import annotations

import asyncio
import threading
from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import active_children
from typing import Any

from clothwise.errors import WorkroomError
from clothwise.web.workers import WORKERS

MOST_KNOWN = 200  # looks remembered


class Bench:
    """The process and what it found."""

    def __init__(self, place: str) -> None:
        self._place = place
        self._pool: ProcessPoolExecutor | None = None
        self._known: OrderedDict[str, Any] = OrderedDict()
        self.waste: dict[str, float] = {}  # by pattern: what its last lay wasted

    def open(self) -> None:
        """Has the process started while nobody waits yet."""
        self._pool = ProcessPoolExecutor(1, mp_context=WORKERS)
        threading.Thread(target=self._pool.submit, args=(int,), daemon=True).start()

    def close(self) -> None:
        """Ends it, whatever it is doing; by now it is the only child there is."""
        if self._pool is not None:
            for child in active_children():
                child.terminate()
            self._pool.shutdown(wait=True, cancel_futures=True)

    def known(self, text: str) -> dict[str, Any] | None:
        """What was found for this very ticket before."""
        found: dict[str, Any] | None = self._known.get(text)
        return found

    async def exact(self, text: str, pattern: str) -> dict[str, Any]:
        """The second look at a whole ticket, see `live.exact`."""
        from clothwise.web.live import exact

        found: dict[str, Any] | None = self._known.get(text)
        if found is None:
            found = dict(await self._asked(exact, self._place, text))
            self._remember(text, found)
        if "cloth" in found:
            self.waste[pattern] = found["cloth"]["waste"]
        return found

    async def ask(self, look: Callable[..., Any], *asked: Any) -> Any:
        """Any other look of its process, remembered by what was asked."""
        key = repr((look.__name__, asked))
        found = self._known.get(key)
        if found is None:
            found = await self._asked(look, *asked)
            self._remember(key, found)
        return found

    def has(self, look: Callable[..., Any], *asked: Any) -> bool:
        """Whether that look is known, so that asking takes no time."""
        return repr((look.__name__, asked)) in self._known

    def _remember(self, key: str, found: Any) -> None:
        self._known[key] = found
        while len(self._known) > MOST_KNOWN:
            self._known.popitem(last=False)

    async def _asked(self, look: Callable[..., Any], *asked: Any) -> Any:
        assert self._pool is not None
        loop = asyncio.get_running_loop()
        try:
            return await loop.run_in_executor(self._pool, look, *asked)
        except asyncio.CancelledError:  # the server ends while somebody waits: said, not thrown at the terminal
            raise WorkroomError(
                "Clothwise is being closed.", where="page", mend="Start it again and reload the page."
            ) from None
        except BrokenProcessPool:  # it was killed from outside: a new one does the same work
            self.open()
            return await loop.run_in_executor(self._pool, look, *asked)
