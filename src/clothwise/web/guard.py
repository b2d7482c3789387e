"""Who may ask for what. Stands before everything else that the page serves.

hosts     only the names this server was started under: a foreign page cannot reach it by another name
          that resolves here (DNS rebinding)
origins   whatever changes something must come from our own page
sizes     no body grows beyond its bound, whatever its header says
pairing   on the home network, only a browser that has been shown the pairing address; guessing is held up
headers   nothing is run, framed or fetched but what is ours
"""

from __future__ import annotations

import hmac
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from http.cookies import CookieError, SimpleCookie
from urllib.parse import parse_qs

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import ClientDisconnect
from starlette.responses import PlainTextResponse, RedirectResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

SAFE = ("GET", "HEAD")
MOST_BODY = 300_000  # bytes: a long form; a chart pasted whole
MOST_UPLOAD = 12_000_000  # bytes: one photo with its form; a packet that is opened again
MOST_RESTORE = 400_000_000  # bytes: a whole store with its photos
# last part of the address -> bound
UPLOADS = {"photo": MOST_UPLOAD, "open": MOST_UPLOAD, "restore": MOST_RESTORE}
PAIR_COOKIE = "paired"
PAIR_PATH = "/pair"
LOOPBACK = ("127.0.0.1", "::1")
PAIRED_FOR = 60 * 60 * 24 * 30  # seconds
# wrong tokens from one address before it is held up: a slip or two, and a phone paired last week
MOST_GUESSES = 10
HELD_UP = 60.0  # seconds; the token has 144 bits, so this only keeps the noise down
MOST_TOKEN = 100  # letters of a wrong token that are remembered
MOST_HELD = 1000  # addresses remembered; a home has a few

HEADERS = {
    "content-security-policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; font-src 'self'; "
        "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
    ),
    "x-content-type-options": "nosniff",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "x-frame-options": "DENY",
    "permissions-policy": "camera=(self), geolocation=(), microphone=()",
}


@dataclass(frozen=True)
class Allowed:
    """Under which names the page answers, and the token that pairs another device ('' = this machine only)."""

    hosts: frozenset[str]
    token: str = ""


@dataclass
class Guesses:
    """Wrong tokens, by the address they came from. The same one again is no further guess."""

    clock: Callable[[], float] = time.monotonic
    wrong: dict[str, tuple[float, set[str]]] = field(default_factory=dict)  # address -> since when, which

    def note(self, address: str, token: str) -> None:
        """Remembers a wrong token."""
        if address not in self.wrong and len(self.wrong) >= MOST_HELD:
            del self.wrong[next(iter(self.wrong))]
        _, before = self.wrong.get(address, (0.0, set()))
        if len(before) < MOST_GUESSES:
            self.wrong[address] = (self.clock(), before | {token})

    def held_up(self, address: str) -> bool:
        """Whether this address has guessed too often of late."""
        since, tokens = self.wrong.get(address, (0.0, set()))
        if tokens and self.clock() - since > HELD_UP:
            del self.wrong[address]
            return False
        return len(tokens) >= MOST_GUESSES


class TooLarge(Exception):
    """A body has outgrown its bound."""


class Guard:
    """The outermost layer of the application."""

    def __init__(self, app: ASGIApp, allowed: Allowed) -> None:
        self.app, self.allowed, self.guesses = app, allowed, Guesses()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        refusal = self._refusal(scope, headers)
        if refusal is not None:
            await refusal(scope, receive, _with_headers(send))
            return
        bound = UPLOADS.get(scope["path"].rsplit("/", 1)[-1], MOST_BODY)
        begun = False

        async def watched(message: Message) -> None:
            nonlocal begun
            begun = begun or message["type"] == "http.response.start"
            await _with_headers(send)(message)

        try:
            await self.app(scope, _bounded(receive, bound), watched)
        except TooLarge:
            if not begun:
                await _said(413, "That is larger than can be taken here.")(scope, receive, _with_headers(send))
        except ClientDisconnect:  # who asked is gone before all was sent: nothing was done, nobody to be told
            return

    def _refusal(self, scope: Scope, headers: Headers) -> PlainTextResponse | RedirectResponse | None:
        host = headers.get("host", "")
        if host not in self.allowed.hosts:
            return _said(421, "This address is not served here.")
        if scope["method"] not in SAFE and not _same_origin(headers, scope["scheme"], host):
            return _said(403, "This can only be asked from the page itself.")
        length = headers.get("content-length", "0")
        bound = UPLOADS.get(scope["path"].rsplit("/", 1)[-1], MOST_BODY)
        if not length.isdigit() or int(length) > bound:
            return _said(413, "That is larger than can be taken here.")
        return self._unpaired(scope, headers)

    def _unpaired(self, scope: Scope, headers: Headers) -> PlainTextResponse | RedirectResponse | None:
        client = scope.get("client")
        address = client[0] if client else ""
        if not self.allowed.token or address in LOOPBACK:
            return None
        pairs = scope["path"] == PAIR_PATH
        given = _asked_with(scope) if pairs else _cookie(headers, PAIR_COOKIE)
        if given and self.guesses.held_up(address):
            return _said(429, "Too many wrong pairing addresses came from this device. Wait a minute.")
        if hmac.compare_digest(given.encode(), self.allowed.token.encode()):
            return _paired(given) if pairs else None
        if given:
            self.guesses.note(address, given[:MOST_TOKEN])
        return _said(
            403, "This device is not paired: open the pairing address shown where Clothwise was started."
        )


def _asked_with(scope: Scope) -> str:
    query: str = scope["query_string"].decode("latin-1")
    return parse_qs(query).get("token", [""])[0]


def _paired(token: str) -> RedirectResponse:
    answer = RedirectResponse("/", status_code=303)
    answer.set_cookie(PAIR_COOKIE, token, max_age=PAIRED_FOR, httponly=True, samesite="strict")
    return answer


def _same_origin(headers: Headers, scheme: str, host: str) -> bool:
    site = headers.get("sec-fetch-site")
    if site is not None and site != "same-origin":
        return False
    origin = headers.get("origin")
    return origin == f"{scheme}://{host}" if origin is not None else site is not None


def _cookie(headers: Headers, name: str) -> str:
    try:
        found = SimpleCookie(headers.get("cookie", "")).get(name)
    except CookieError:
        return ""
    return found.value if found else ""


def _said(status: int, text: str) -> PlainTextResponse:
    return PlainTextResponse(text + "\n", status_code=status)


def _bounded(receive: Receive, bound: int) -> Receive:
    taken = 0

    async def counted() -> Message:
        nonlocal taken
        message = await receive()
        taken += len(message.get("body", b""))
        if taken > bound:
            raise TooLarge
        return message

    return counted


def _with_headers(send: Send) -> Send:
    async def sent(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers.setdefault(name, value)
            headers.setdefault("cache-control", "no-store")
        await send(message)

    return sent
