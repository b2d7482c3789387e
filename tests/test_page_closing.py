"""The page is ended while somebody waits for a look."""

from __future__ import annotations

import asyncio
import time
from concurrent.futures import ThreadPoolExecutor

import pytest

from clothwise.errors import WorkroomError
from clothwise.web.bench import Bench


def test_whoever_waits_for_a_look_is_told_and_nothing_is_thrown_at_the_terminal() -> None:
    async def ended() -> None:
        bench = Bench("store.sqlite")
        bench._pool = ThreadPoolExecutor(1)  # type: ignore[assignment]  # a thread is there at once
        waiting = asyncio.create_task(bench.ask(time.sleep, 0.3))
        await asyncio.sleep(0.05)
        waiting.cancel()  # as the server does once its time to end is over
        with pytest.raises(WorkroomError, match="being closed"):
            await waiting

    asyncio.run(ended())
