"""The page for tests: a real server on a seeded store, a real browser, the application asked without either.

A missing browser leaves the tests out with one line that says how to have it; in CI it is a failure.
"""

from __future__ import annotations

import asyncio
import json
import os
import re
import shutil
import signal
import socket
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

import pytest

from clothwise.web.serving import own_address
from clothwise.web.words_set import NO_BREAK
from tests.cli_tools import COMMAND

ROOT = Path(__file__).resolve().parents[1]
AXE = Path(__file__).parent / "vendor" / "axe.min.js"
BROWSERS = ("chromium", "chromium-browser", "google-chrome")
ARGUMENTS = [
    "--no-sandbox", "--disable-quic", "--disable-dev-shm-usage",
    f"--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1, EXCLUDE localhost, EXCLUDE {own_address()}",
]  # fmt: skip
WAIT_MS = 30_000  # for anything to appear: the machine may be busy
START = 60.0  # seconds for a server to come up on a busy machine
WIDE, NARROW = (1280, 900), (390, 844)


def browser_file() -> str:
    """The browser's program; leaves the test out, or fails it in CI, where there is none."""
    found = next((path for name in BROWSERS if (path := shutil.which(name))), None)
    if found is None:
        say = pytest.fail if os.environ.get("CI") == "true" else pytest.skip
        say("no Chromium found; on Debian or Ubuntu: apt-get install chromium")
    assert found is not None
    return found


def free_port() -> int:
    """A port nobody listens on: several servers stand side by side, and one comes up again on its own."""
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        return int(asked.getsockname()[1])


@dataclass
class Server:
    """A running `clothwise start` on a store of its own."""

    place: Path
    port: int = 0
    process: subprocess.Popen[str] | None = None
    said: list[str] = field(default_factory=list)

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    @property
    def store(self) -> Path:
        return self.place / "store.sqlite"

    def start(self, *words: str) -> Server:
        self.port = self.port or free_port()
        environment = {**os.environ, "CLOTHWISE_STORE": str(self.store), "PYTHONUNBUFFERED": "1"}
        log = (self.place / "server.log").open("a")
        self.process = subprocess.Popen(
            [*COMMAND, "start", "--no-browser", "--port", str(self.port), *words],
            stdout=subprocess.PIPE, stderr=log, text=True, env=environment, cwd=ROOT, start_new_session=True,
        )  # fmt: skip
        log.close()
        assert self.process.stdout is not None
        begun = time.monotonic()
        while time.monotonic() - begun < START:
            line = self.process.stdout.readline()
            self.said.append(line)
            found = re.search(r"127\.0\.0\.1:(\d+)/", line)
            if found:
                self.port = int(found[1])
                self._answers(begun)
                return self
            if self.process.poll() is not None:
                break
        raise AssertionError(f"the server did not start: {self.log()}")

    def _answers(self, begun: float) -> None:
        from urllib.error import URLError
        from urllib.request import urlopen

        while time.monotonic() - begun < START:
            try:
                urlopen(self.address + "/static/page.css", timeout=5).close()
                return
            except URLError:
                time.sleep(0.1)
        raise AssertionError(f"the server does not answer: {self.log()}")

    def kill(self) -> None:
        """kill -9, its workers too: they were all started in one session of their own."""
        assert self.process is not None
        os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait()
        self._done()

    def stop(self) -> int:
        """Ctrl-C. Returns the exit code."""
        if self.process is None or self.process.poll() is not None:
            return 0
        self.process.send_signal(signal.SIGINT)
        try:
            code = self.process.wait(15)
        except subprocess.TimeoutExpired:
            self.kill()
            return -9
        self._done()
        return code

    def _done(self) -> None:
        assert self.process is not None
        assert self.process.stdout is not None
        self.process.stdout.close()

    def log(self) -> str:
        return (self.place / "server.log").read_text()[-3000:]


@contextmanager
def serving(place: Path, *words: str) -> Iterator[Server]:
    """A server for as long as the block runs; it must not have stumbled meanwhile."""
    server = Server(place).start(*words)
    try:
        yield server
    finally:
        server.stop()
    assert "Traceback" not in server.log(), server.log()


def errors_of(page: Any) -> list[str]:
    """Collects what the browser complains of from now on."""
    found: list[str] = []
    page.on("pageerror", lambda wrong: found.append(str(wrong)))
    page.on("console", lambda said: found.append(said.text) if said.type == "error" else None)
    return found


def axe(page: Any, rules: tuple[str, ...] = ()) -> list[str]:
    """Violations of WCAG 2.2 AA on the page, each in a line; of these rules alone, when some are named."""
    if not page.evaluate("'axe' in globalThis"):
        page.evaluate(AXE.read_text(encoding="utf-8"))
    tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
    only = {"type": "rule", "values": list(rules)} if rules else {"type": "tag", "values": tags}
    asked = {"runOnly": only, "resultTypes": ["violations"]}
    found = page.evaluate("asked => axe.run(document, asked)", asked)
    return [
        f"{one['id']}: {one['help']}: {node['html'][:160]} {node.get('failureSummary', '')[:200]}"
        for one in found["violations"]
        for node in one["nodes"][:3]
    ]


def sideways(page: Any) -> int:
    """By how many dots the page is wider than its window."""
    return int(page.evaluate("document.documentElement.scrollWidth - innerWidth"))


# ---- without a server ----------------------------------------------------------------------------


@dataclass(frozen=True)
class Answer:
    """What an application answered."""

    status: int
    headers: dict[str, str]
    body: bytes

    @property
    def text(self) -> str:
        """With plain spaces, wherever its lines may break."""
        return self.body.decode().replace(NO_BREAK, " ")

    @property
    def json(self) -> Any:
        return json.loads(self.body)


def ask(
    app: Any,
    method: str,
    path: str,
    *,
    headers: dict[str, str] | None = None,
    body: bytes = b"",
    client: str = "127.0.0.1",
) -> Answer:
    """One request to an ASGI application, as our own page would send it unless headers say otherwise."""
    plain, _, query = path.partition("?")
    own = {"host": "127.0.0.1:8000", "sec-fetch-site": "same-origin", "content-length": str(len(body))}
    sent = {key: value for key, value in {**own, **(headers or {})}.items() if value}
    scope = {
        "type": "http", "asgi": {"version": "3.0"}, "http_version": "1.1", "method": method, "scheme": "http",
        "path": _unquoted(plain), "raw_path": plain.encode(), "query_string": query.encode(), "root_path": "",
        "headers": [(key.encode("latin-1"), value.encode("latin-1")) for key, value in sent.items()],
        "client": (client, 5), "server": ("127.0.0.1", 8000), "state": {},
    }  # fmt: skip
    got: dict[str, Any] = {"body": b""}

    async def receive() -> dict[str, Any]:
        return {"type": "http.request", "body": body, "more_body": False}

    async def send(message: Any) -> None:
        if message["type"] == "http.response.start":
            got["status"] = message["status"]
            got["headers"] = {k.decode().lower(): v.decode() for k, v in message["headers"]}
        else:
            got["body"] += message.get("body", b"")

    asyncio.run(app(scope, receive, send))
    return Answer(got["status"], got["headers"], got["body"])


def form(app: Any, path: str, *pairs: tuple[str, str], **fields: str) -> Answer:
    """A form as the page sends it; pairs where a name comes several times, `cookie` goes into its header."""
    headers = {"content-type": "application/x-www-form-urlencoded", "cookie": fields.pop("cookie", "")}
    return ask(app, "POST", path, headers=headers, body=urlencode([*pairs, *fields.items()]).encode())


def keep(app: Any, path: str, entries: dict[str, str], **headers: str) -> Any:
    """Entries as the page's scripts send them while somebody types; what was answered."""
    sent_as = {"content-type": "application/json", "accept": "application/json", **headers}
    return ask(app, "POST", path, headers=sent_as, body=json.dumps({"set": entries}).encode()).json


def _unquoted(path: str) -> str:
    from urllib.parse import unquote

    return unquote(path)
