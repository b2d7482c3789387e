"""Starting and ending the page: a free port on this machine, the browser, Ctrl-C."""

from __future__ import annotations

import ipaddress
import secrets
import socket
import threading
import webbrowser
from collections.abc import Callable
from contextlib import suppress
from types import FrameType

import uvicorn
from starlette.applications import Starlette

from clothwise.errors import WorkroomError
from clothwise.store import Store
from clothwise.web.app import application
from clothwise.web.guard import PAIR_PATH, Allowed

USUAL_PORT = 8765  # tried first, so that an address can be kept; any free one else
GRACE = 2  # seconds for open event streams at the end
LOOPBACK = "127.0.0.1"
OUTWARD = "192.0.2.1"  # a documentation address (RFC 5737): asked only which of our addresses would lead there


def serve(store: Store, *, port: int, lan: bool, browser: bool, say: Callable[[str], None]) -> None:
    """Serves until Ctrl-C. Raises WorkroomError when it cannot listen."""
    bound = listening("0.0.0.0" if lan else LOOPBACK, port)
    number = bound.getsockname()[1]
    here = f"http://{LOOPBACK}:{number}/"
    names = {f"{LOOPBACK}:{number}", f"localhost:{number}"}
    token = ""
    say(f"Clothwise is open at {here}")
    if lan:
        token, outside = secrets.token_urlsafe(18), own_address()
        names.add(f"{outside}:{number}")
        say(
            f"To pair a phone on your own network, open there: http://{outside}:{number}{PAIR_PATH}?token={token}"
        )
        say("Whoever has that address can read and change everything here: keep it to people you trust.")
    say("It is open until you press Ctrl-C here.")
    app = application(store, Allowed(frozenset(names), token))
    config = uvicorn.Config(
        app, log_level="warning", timeout_graceful_shutdown=GRACE, server_header=False, access_log=False,
        proxy_headers=False,  # nobody stands before us: what a request says of its sender is not believed
    )  # fmt: skip
    if browser:
        threading.Timer(0.6, webbrowser.open, [here]).start()
    with suppress(KeyboardInterrupt):  # Ctrl-C is how it ends
        PageServer(config, app).run(sockets=[bound])


class PageServer(uvicorn.Server):
    """A server that tells whoever listens to news that it is closing, so that nobody keeps it open."""

    def __init__(self, config: uvicorn.Config, app: Starlette) -> None:
        super().__init__(config)
        self._app = app

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        self._app.state.closing = True
        super().handle_exit(sig, frame)


def listening(host: str, port: int) -> socket.socket:
    """A socket on the wished port; on the usual one or any free one when none was wished (0)."""
    wished = (port,) if port else (USUAL_PORT, 0)
    for one in wished:
        bound = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        bound.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            bound.bind((host, one))
            bound.listen(128)
        except OSError as wrong:
            bound.close()
            why = wrong.strerror or str(wrong)
        else:
            return bound
    raise WorkroomError(
        f"The page cannot be opened on port {port}: {why}.",
        where="--port",
        mend="Leave --port out, or name another between 1024 and 65535.",
    )


def own_address() -> str:
    """This machine's address on its own network. Nothing is sent."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asked:
        try:
            asked.connect((OUTWARD, 9))
        except OSError:
            return LOOPBACK
        return str(ipaddress.ip_address(asked.getsockname()[0]))
