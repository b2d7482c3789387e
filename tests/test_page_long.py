"""Long work in the browser: left by the sewer, or broken off with the server; told so, and gone on with."""

from __future__ import annotations

import contextlib
import os
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from clothwise.store import KeptTicket, Store, jobs, open_store
from clothwise.store.store import HOW_FAR
from clothwise.ticket import Ticket, write_ticket
from clothwise.web.jobs import Jobs
from clothwise.web.lay_state import kept_lay
from tests.page_screens import LONG, TICKET
from tests.page_tools import WAIT_MS, Server, errors_of

pytestmark = pytest.mark.page
Do = Callable[[Any], None]


def press(name: str) -> Do:
    def pressed(page: Any) -> None:
        page.get_by_role("button", name=name).click()

    return pressed


@dataclass(frozen=True)
class Work:
    """One kind of long work: where it is asked, what shows that it goes on, and that it came to something."""

    kind: str
    path: str
    ask: Do
    goes: str
    done: str
    go_on: Do
    says: str = "[data-said]"


GO_ON = press("Go on with it")
EVENING = Work("evening", "/", press("See what can be made"), ".found [data-cancel]", ".answer", GO_ON)
WORKS = (
    EVENING,
    Work(
        "shopping", "/shopping", press("Write the list"), "[data-awaited] [data-cancel]", "[data-found] > *",
        GO_ON,
    ),
    Work(
        "metres", "/draft/darted_shift/metres?for=Marit", press("Lay it on these widths"),
        "[data-awaited] [data-cancel]", "[data-found] > *", GO_ON,
    ),
    Work(
        "lay", f"{TICKET}/cloth", press("Lay it on the cloth"), "[data-live=working] [data-cancel]", ".copy",
        press("Lay it on the cloth"), "[data-live=faults]",
    ),
    Work(
        "packet", f"{TICKET}/paper", press("Make the packet"), "[data-said]:has-text('Drawing')",
        "[data-ready]", GO_ON,
    ),
)  # fmt: skip


@pytest.fixture
def own(tmp_path: Path) -> Iterator[Server]:
    """A server that this test may kill."""
    server = Server(tmp_path).start()
    yield server
    server.stop()


@pytest.fixture
def window(browser: Any, own: Server) -> Iterator[Any]:
    context = browser.new_context()
    context.set_default_timeout(WAIT_MS)
    page = context.new_page()
    page.errors = errors_of(page)
    yield page
    context.close()


def newest(server: Server, kind: str) -> jobs.Job:
    with open_store(server.store) as store:
        return jobs.newest(store, kind)[0]


def begun(page: Any, server: Server, work: Work) -> jobs.Job:
    page.goto(server.address + work.path)
    page.wait_for_load_state("load")
    work.ask(page)
    page.wait_for_selector(work.goes)
    page.wait_for_load_state("load")  # its scripts too: they listen
    return newest(server, work.kind)


@pytest.mark.parametrize("work", WORKS, ids=[work.kind for work in WORKS])
def test_broken_off_with_the_server_it_is_said_and_gone_on_with(window: Any, own: Server, work: Work) -> None:
    before = begun(window, own, work)
    own.kill()
    window.wait_for_selector("#kept:has-text('does not answer')")
    assert before.going, "it was killed in the midst of it"
    own.start()
    window.wait_for_selector(f"{work.says}:has-text('Clothwise was closed while this was going on')")
    assert newest(own, work.kind).state == "interrupted"
    work.go_on(window)
    window.wait_for_selector(work.done, timeout=LONG)
    after = newest(own, work.kind)
    assert after.number > before.number
    assert after.asked == before.asked


def test_a_page_opened_afterwards_says_so_too(window: Any, own: Server) -> None:
    begun(window, own, EVENING)
    address = window.url
    own.kill()
    window.goto("about:blank")
    own.start()
    window.goto(address)
    window.wait_for_selector("[data-said]:has-text('Clothwise was closed while this was going on')")
    EVENING.go_on(window)
    window.wait_for_selector(".answer", timeout=LONG)


def test_it_is_left_though_the_script_is_not_there_yet(window: Any, own: Server) -> None:
    window.route("**/static/evening.js", lambda route: route.abort())
    window.goto(own.address + EVENING.path)
    EVENING.ask(window)
    window.get_by_role("button", name="Leave it at that").click()
    window.wait_for_selector("[data-said]:has-text('You ended it')")
    assert newest(own, "evening").state == "cancelled"


def test_left_by_the_sewer_it_ends_at_once_and_may_be_gone_on_with(window: Any, own: Server) -> None:
    job = begun(window, own, EVENING)
    workers = _children(own)
    window.get_by_role("button", name="Leave it at that").click()
    window.wait_for_selector("[data-said]:has-text('You ended it')")
    assert newest(own, "evening").state == "cancelled"
    begin = time.monotonic()
    while len(workers & _children(own)) == len(workers):
        assert time.monotonic() - begin < 10, "the worker goes on though nobody waits for it"
        time.sleep(0.1)
    EVENING.go_on(window)
    window.wait_for_selector(".answer", timeout=LONG)
    assert newest(own, "evening").number > job.number
    assert window.errors == []


def test_a_race_that_is_left_keeps_its_lay_and_takes_the_packer_along(mill: Store) -> None:
    """More than a dozen copies, so that the packer plays; it would run on for a minute by its own clock."""
    collar = {"collar": "camp collar", "sleeve_end": "buttoned cuff"}
    shirt = Ticket("Shirt", "button_front_shirt", body_name="Osei", cloth_name="White poplin", choices=collar)
    mill.keep_ticket(KeptTicket("Shirt", write_ticket(shirt)))
    at_work = Jobs(mill)
    try:
        number = at_work.begin(
            "lay", {"ticket": "Shirt", "place": "", "seconds": 60.0, "folded": "single layer"}
        )
        packers = _until(lambda: [one for one in _below(os.getpid()) if "clothwise.race.packer" in _words(one)])
        _until(lambda: [one for one in jobs.news(mill, number) if one.kind == "clock"])
        assert at_work.cancel(number)
        _until(lambda: not any(os.path.exists(f"/proc/{one}") for one in packers))
        assert kept_lay(mill._one(HOW_FAR, "Shirt").said) is not None
        assert jobs.job(mill, number).state == "cancelled"
    finally:
        at_work.close()


def _until(found: Callable[[], Any]) -> Any:
    """What is found in the end."""
    begin = time.monotonic()
    while not (what := found()):
        assert time.monotonic() - begin < 60
        time.sleep(0.1)
    return what


def _below(pid: int) -> set[int]:
    """The processes that one has started, and those that they have."""
    threads = Path(f"/proc/{pid}/task")
    if not threads.exists():
        return set()
    found = {int(word) for one in threads.iterdir() for word in (one / "children").read_text().split()}
    return found | {each for one in found for each in _below(one)}


def _words(pid: int) -> str:
    """How a process was called; nothing once it is gone."""
    try:
        return Path(f"/proc/{pid}/cmdline").read_text().replace("\0", " ")
    except OSError:
        return ""


def test_work_that_still_goes_is_not_asked_for_twice(window: Any, own: Server) -> None:
    job = begun(window, own, EVENING)
    asked = "at => fetch(at, {method: 'POST', body: new URLSearchParams({back: '/'})})"
    window.evaluate(asked, f"/jobs/{job.number}/again")
    window.wait_for_selector(".answer", timeout=LONG)
    assert newest(own, "evening").number == job.number


def _children(server: Server) -> set[int]:
    """The processes that the server has started, and what these have started."""
    assert server.process is not None
    if not Path("/proc/self/task").exists():  # no such list on this system
        pytest.skip("processes are listed only under Linux")
    found, waiting = set[int](), [server.process.pid]
    while waiting:
        with contextlib.suppress(FileNotFoundError, ProcessLookupError):  # it has ended meanwhile
            for thread in Path(f"/proc/{waiting.pop()}/task").iterdir():
                begun = {int(pid) for pid in (thread / "children").read_text().split()}
                waiting += begun - found
                found |= begun
    return found
