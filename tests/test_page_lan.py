"""A second device on the home network, for real: a server shared with --lan, asked from another address.

Whoever comes from another loopback address, or by this machine's own address on its network, is a stranger to
the server until paired, as a phone is. No packet leaves this machine.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from http.client import HTTPConnection, HTTPResponse
from typing import Any

import pytest

from clothwise.store import open_store
from clothwise.web.guard import HELD_UP, MOST_GUESSES, Guesses
from clothwise.web.serving import own_address
from tests.page_tools import WAIT_MS, Server, errors_of, serving

PHONE = "127.0.0.2"
FORM = {"Content-Type": "application/x-www-form-urlencoded"}


@dataclass
class Shared:
    """A server shared on the network, and what it told to pair a device."""

    server: Server
    outside: str  # host:port as a phone types it
    token: str

    def ask(
        self, path: str, method: str = "GET", body: str = "", source: str = PHONE, **headers: str
    ) -> tuple[int, str, HTTPResponse]:
        """One request from a device; headers with '_' for '-'. Cookies and origin are given by the caller."""
        wire = HTTPConnection("127.0.0.1", self.server.port, timeout=20, source_address=(source, 0))
        sent = {"Host": self.outside, **{key.replace("_", "-"): text for key, text in headers.items()}}
        with closing(wire):
            wire.putrequest(method, path, skip_host=True)
            for key, text in {**sent, "Content-Length": str(len(body))}.items():
                wire.putheader(key, text)
            wire.endheaders(body.encode())
            answer = wire.getresponse()
            return answer.status, answer.read().decode(errors="replace"), answer

    def pair(self) -> str:
        """The cookie of a device that was paired."""
        status, _, answer = self.ask(f"/pair?token={self.token}")
        assert status == 303
        told = answer.headers["Set-Cookie"]
        assert "HttpOnly" in told
        assert "samesite=strict" in told.lower()
        return told.split(";")[0]


@pytest.fixture(scope="module")
def shared(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shared]:
    with serving(tmp_path_factory.mktemp("lan"), "--lan") as server:
        assert server.process is not None
        assert server.process.stdout is not None
        told = server.process.stdout.readline()
        found = re.search(r"http://([\d.]+:\d+)/pair\?token=([\w-]+)", told)
        assert found, told
        assert "keep it to people you trust" in server.process.stdout.readline()
        yield Shared(server, found[1], found[2])


def test_without_the_token_a_device_sees_nothing(shared: Shared) -> None:
    for path in ("/", "/static/page.css", "/house/backup.sqlite", "/photo/1", "/pair", "/pair?token="):
        status, said, answer = shared.ask(path)
        assert status == 403, path
        assert said == (
            "This device is not paired: open the pairing address shown where Clothwise was started.\n"
        )
        assert "Set-Cookie" not in answer.headers
    assert shared.ask("/", Cookie="paired=guess")[0] == 403
    assert shared.ask("/", X_Forwarded_For="127.0.0.1")[0] == 403, "what it says of itself is not believed"
    assert shared.ask("/units", "POST", "units=inch", Sec_Fetch_Site="same-origin", **FORM)[0] == 403


def test_a_paired_device_does_the_job_and_only_by_our_own_page(shared: Shared) -> None:
    cookie = shared.pair()
    status, said, _ = shared.ask("/people", Cookie=cookie)
    assert status == 200
    assert "Marit" in said
    origin = f"http://{shared.outside}"
    card = "name=Ida&figure=girl&age=7"
    assert shared.ask("/people/add", "POST", card, Cookie=cookie, Origin=origin, **FORM)[0] == 303
    for foreign in (
        {"Origin": "http://example.org"},
        {"Origin": "null"},
        {"Origin": f"http://127.0.0.1:{shared.server.port}"},
        {"Sec_Fetch_Site": "cross-site", "Origin": origin},
        {},
    ):
        again = card.replace("Ida", "Eve")
        assert shared.ask("/people/add", "POST", again, Cookie=cookie, **foreign, **FORM)[0] == 403, foreign
    with open_store(shared.server.store) as store:
        names = {body.name for body in store.bodies()}
    assert "Ida" in names
    assert "Eve" not in names


@pytest.mark.parametrize("host", ["evil.example", "evil.example:{port}", "{own}", "192.0.2.9:{port}"])
def test_a_forged_host_is_not_served_even_to_a_paired_device(shared: Shared, host: str) -> None:
    forged = host.format(port=shared.server.port, own=shared.outside.split(":")[0])
    assert shared.ask("/", Host=forged, Cookie=shared.pair())[0] == 421


def test_whoever_guesses_is_held_up_and_nobody_else_is(shared: Shared) -> None:
    guesser, cookie = "127.0.0.3", shared.pair()
    said = [shared.ask(f"/pair?token=guess-{n}", source=guesser)[0] for n in range(MOST_GUESSES + 3)]
    assert said == [403] * MOST_GUESSES + [429] * 3
    assert shared.ask(f"/pair?token={shared.token}", source=guesser)[0] == 429, "not even by the right one"
    assert shared.ask("/", Cookie=cookie)[0] == 200
    assert shared.ask("/", source="127.0.0.1", Host=f"127.0.0.1:{shared.server.port}")[0] == 200


def test_a_device_paired_last_week_is_not_held_up_by_its_old_token_and_all_may_try_again_later() -> None:
    now = [0.0]
    guesses = Guesses(lambda: now[0])
    for _ in range(5 * MOST_GUESSES):
        guesses.note("10.0.0.7", "of last week")
    assert not guesses.held_up("10.0.0.7")
    for number in range(MOST_GUESSES):
        guesses.note("10.0.0.7", f"guess {number}")
    assert guesses.held_up("10.0.0.7")
    now[0] = HELD_UP + 1
    assert not guesses.held_up("10.0.0.7")
    for number in range(5000):
        guesses.note(f"10.0.{number // 256}.{number % 256}", "x")
    assert len(guesses.wrong) <= 1000


@pytest.mark.page
@pytest.mark.skipif(own_address() == "127.0.0.1", reason="this machine has no address but its own")
def test_a_phone_is_paired_by_its_browser_and_measures_somebody(browser: Any, shared: Shared) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True)
    context.set_default_timeout(WAIT_MS)
    page = context.new_page()
    page.goto(f"http://{shared.outside}/people")
    assert "This device is not paired" in page.inner_text("body")
    page.goto(f"http://{shared.outside}/pair?token={shared.token}")
    page.wait_for_selector("h1:has-text('this evening')")
    page.errors = errors_of(page)
    assert shared.token not in page.url
    page.goto(f"http://{shared.outside}/person/Pilar")
    page.wait_for_selector(".doubts", state="attached")
    page.locator("#m-knee_girth").fill("39.5")
    page.wait_for_selector("#kept:has-text('Kept')")
    with open_store(shared.server.store) as store:
        assert store.body("Pilar")["knee_girth"] == 39.5
    assert [said for said in page.errors if "Opener-Policy" not in said] == []  # told to be of no use over HTTP
    context.close()
