"""Who may ask for what. Stands before everything else that the page serves.

hosts     only the names this server was started under: a foreign page cannot reach it by another name
          that resolves here (DNS rebinding)
origins   whatever changes something must come from our own page
sizes     no body grows beyond its bound, whatever its header says
pairing   on the home network, only a browser that has been shown the pairing address
headers   nothing is run, framed or fetched but what is ours
"""

from __future__ import annotations

import hmac
from dataclasses import dataclass
from http.cookies import CookieError, SimpleCookie
from urllib.parse import parse_qs

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse, RedirectResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

SAFE = ("GET", "HEAD")
MOST_BODY = 300_000  # bytes: a long form; a chart pasted whole
MOST_UPLOAD = 12_000_000  # bytes: one photo with its form
MOST_RESTORE = 400_000_000  # bytes: a whole store with its photos
UPLOADS = {"photo": MOST_UPLOAD, "restore": MOST_RESTORE}  # last part of the address -> bound
PAIR_COOKIE = "paired"
PAIR_PATH = "/pair"
LOOPBACK = ("127.0.0.1", "::1")
PAIRED_FOR = 60 * 60 * 24 * 30  # seconds

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


class TooLarge(Exception):
    """A body has outgrown its bound."""


class Guard:
    """The outermost layer of the application."""

    def __init__(self, app: ASGIApp, allowed: Allowed) -> None:
        self.app, self.allowed = app, allowed

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
        if not self.allowed.token or (client and client[0] in LOOPBACK):
            return None
        token = self.allowed.token
        if scope["path"] == PAIR_PATH:
            given = parse_qs(scope["query_string"].decode("latin-1")).get("token", [""])[0]
            if hmac.compare_digest(given.encode(), token.encode()):
                answer = RedirectResponse("/", status_code=303)
                answer.set_cookie(PAIR_COOKIE, token, max_age=PAIRED_FOR, httponly=True, samesite="strict")
                return answer
        elif hmac.compare_digest(_cookie(headers, PAIR_COOKIE).encode(), token.encode()):
            return None
        return _said(
            403, "This device is not paired: open the pairing address shown where Clothwise was started."
        )


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
