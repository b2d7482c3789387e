"""What is sent to a real server with ill will: every address with names and numbers that are none, broken
bodies, forged heads, slow and half-open lines. Nothing stumbles, nothing of the machine comes out."""

from __future__ import annotations

import json
import random
import re
import socket
import time
from collections.abc import Iterator
from contextlib import ExitStack, closing, suppress
from http.client import HTTPConnection
from typing import Any
from urllib.parse import urlencode

import pytest

from clothwise.store import open_store
from clothwise.store.export import everything
from clothwise.web.app import SCREENS
from tests.page_tools import Server, serving

NAMES = (
    "..%2f..%2fetc%2fpasswd", "~2E~2E~2Fetc~2Fpasswd", "%2e%2e", "..", "a%00b", "~00", "x" * 5000, "%ff%fe",
    "~FF", "%0d%0aSet-Cookie:a=b", "~ED~A0~80", "%", "~", "~2", "+", "%C2%B2", "__class__", "Nobody",
)  # fmt: skip
NUMBERS = ("0", "-1", "9" * 18, "9" * 23, "9" * 5000, "%C2%B2", "%D9%A3", "1.5")
QUERIES = (
    "job=%C2%B2",
    "job=" + "9" * 23,
    "job=" + "9" * 5000,
    "job=-1",
    "on=x&wait=1",
    "restored=%3Cscript%3E",
)
JSONS = (
    b"[" * 100_000, b'{"set":' + b'{"a":' * 40_000 + b"1" + b"}" * 40_001, b"\xff\xfe", b"null",
    b'{"set":null}',
    b'{"set":{"measure.hip_girth":"\\ud800"}}', b'{"set":{"\\ud800":"x"}}', b'{"set":{"notes":"\\ud800"}}',
    b'{"set":{"words":"a\\u0000b"}}', b'{"set":{"choice.longer":"1e400"}}',
    b'{"set":{"outline":"nanxnan 1x2 3x4"}}',
    b'{"piece":"front","copy":1e999,"dx":0,"dy":0}', b'{"piece":[],"copy":0,"dx":"nan","dy":0}',
)  # fmt: skip
FORMS = (
    b"", b"a=%ff%fe&name=%ff", b"name=%00&step=%00", b"name=%ed%a0%80&step=%ed%a0%80", b"hours=nan&for=Marit",
    b"much=1e400&by=nan&length=1e400&width=nan&margin=nan", b"what=line&place=__class__%3D1&by=1e308",
    b"finished_on=2026-13-45", b"job=%C2%B2&rank=1&number=1", b"job=99999999999999999999999&rank=1&number=1",
    b"whole=" + b"%5B" * 50_000, b"back=//evil.example&scope=" + b"&scope=".join([b"y"] * 5000),
)  # fmt: skip
OF = {"/ticket": "Marit~27s+linen+trousers", "/person": "Marit", "/cloth/": "White+poplin", "/draft/": "apron"}
NOT_HERE = (  # what empties the store, or begins long work: that is tried by itself
    *(
        "/house/demo/clear",
        "/house/restore/back",
        "/forget",
        "/rename",
        "/evening/ask",
        "/shopping/ask",
        "/again",
    ),
    *("/cloth/plan", "/cloth/tricks", "/cloth/longest", "/paper/packet", "/metres"),
)


@pytest.fixture(scope="module")
def own(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """A server that must not stumble over anything in this file."""
    with serving(tmp_path_factory.mktemp("attacked")) as running:
        yield running


def send(server: Server, method: str, path: str, body: bytes = b"", **headers: str) -> tuple[int, bytes]:
    own = {"Sec-Fetch-Site": "same-origin", "Accept": "application/json", "Content-Length": str(len(body))}
    with closing(HTTPConnection("127.0.0.1", server.port, timeout=60)) as wire:
        wire.putrequest(method, path)
        for name, value in {**own, **{key.replace("_", "-"): text for key, text in headers.items()}}.items():
            wire.putheader(name, value)
        wire.endheaders(body)
        answer = wire.getresponse()
        streams = answer.headers.get("content-type", "").startswith("text/event-stream")
        return answer.status, b"" if streams else answer.read()


def ways(method: str) -> list[str]:
    return [
        route.path
        for screen in SCREENS
        for route in screen.ROUTES
        if method in (route.methods or {"GET"}) and not route.path.endswith(NOT_HERE)
    ]


def filled(path: str, name: str, number: str = "1") -> str:
    return re.sub(r"\{(\w+)(:\w+)?\}", lambda found: number if found[2] == ":counted" else name, path)


def test_a_name_or_number_that_is_none_gives_a_sentence_at_every_address(own: Server) -> None:
    asked = 0
    for method in ("GET", "POST"):
        for path in ways(method):
            kinds = [(name, "1") for name in NAMES if "{" in path]
            kinds += [("Marit", number) for number in NUMBERS if ":counted" in path]
            for name, number in kinds:
                status, said = send(own, method, filled(path, name, number))
                assert status < 500, (method, path, name[:30], number[:30])
                assert b"root:" not in said
                assert b"Traceback" not in said
                asked += 1
    for path in ways("GET"):
        for query in QUERIES:
            at = filled(path, OF.get(path[:7], "x"))
            assert send(own, "GET", f"{at}?{query}")[0] < 500, (at, query[:30])
    assert asked > 800


def test_a_broken_body_changes_nothing_and_is_refused_in_a_sentence(own: Server) -> None:
    with open_store(own.store) as store:
        before = everything(store)["bodies"]
    for path in ways("POST"):
        at = filled(path, OF.get(path[:7], "x"))
        by_script = at.endswith(("/keep", "/look", "/exact", "/pulls", "/hand"))
        for body in JSONS if by_script else JSONS[:1]:
            status, _ = send(own, "POST", at, body, Content_Type="application/json")
            assert status < 500, (at, body[:40])
        for body in FORMS[:1] if by_script else FORMS:
            status, _ = send(own, "POST", at, body, Content_Type="application/x-www-form-urlencoded")
            assert status < 500, (at, body[:40])
        for kind in ("multipart/form-data", "multipart/form-data; boundary=b", "x/y"):
            assert send(own, "POST", at, b"--b\r\ngarbage", Content_Type=kind)[0] < 500, (at, kind)
    with open_store(own.store) as store:
        assert everything(store)["bodies"] == before
    for path in ("/", "/tickets", "/people", "/cupboard", "/shelf", "/makes", "/box", "/house"):
        assert send(own, "GET", path, Accept="text/html")[0] == 200, path


# ---- by hand on the wire -------------------------------------------------------------------------


def raw(server: Server, *lines: str, body: bytes = b"") -> bytes:
    """The answer to a request written line by line."""
    with closing(socket.create_connection(("127.0.0.1", server.port), timeout=20)) as wire:
        wire.sendall("\r\n".join([*lines, "", ""]).encode("latin-1") + body)
        got = b""
        with suppress(TimeoutError, ConnectionResetError):
            while more := wire.recv(65536):
                got += more
        return got


CLOSE = "Connection: close"


def test_a_forged_head_is_not_served(own: Server) -> None:
    host, same = f"Host: 127.0.0.1:{own.port}", "Sec-Fetch-Site: same-origin"
    assert b" 200 " in raw(own, "GET /people HTTP/1.1", host, CLOSE)[:20]
    for forged in (
        [f"Host: evil.example:{own.port}"], ["Host: 127.0.0.1"], ["Host:"], [], [host, "Host: evil.example"],
        [f"Host: 127.0.0.1:{own.port}.evil.example"], [f"Host: evil.example, 127.0.0.1:{own.port}"],
    ):  # fmt: skip
        answer = raw(own, "GET /people HTTP/1.1", *forged, CLOSE)
        assert answer[9:12] in (b"400", b"421"), forged
        assert b"Marit" not in answer
    assert b"Marit" not in raw(own, "GET /people HTTP/1.0")
    post = "POST /people/add HTTP/1.1"
    form = [host, "Content-Type: application/x-www-form-urlencoded", "Content-Length: 27", CLOSE]
    for foreign in (
        ["Origin: http://example.org"], ["Origin: null"], ["Sec-Fetch-Site: cross-site"], [],
        [same, "Origin: http://example.org"], ["Sec-Fetch-Site: none"], [f"Origin: https://127.0.0.1:{own.port}"],
        ["X-Forwarded-Host: 127.0.0.1", "Sec-Fetch-Site: same-site"],
    ):  # fmt: skip
        answer = raw(own, post, *form, *foreign, body=b"name=Eve&figure=woman&age=9")
        assert answer[9:12] == b"403", foreign
    with open_store(own.store) as store:
        assert "Eve" not in {body.name for body in store.bodies()}


def test_a_body_without_end_and_a_head_without_end_are_cut_off(own: Server) -> None:
    host, same = f"Host: 127.0.0.1:{own.port}", "Sec-Fetch-Site: same-origin"
    chunk = b"10000\r\n" + b"a" * 0x10000 + b"\r\n"
    for path in ("/units", "/ticket/Marit~27s+linen+trousers/keep"):
        form = "Content-Type: application/x-www-form-urlencoded"
        whole = [f"POST {path} HTTP/1.1", host, same, form, CLOSE, "Transfer-Encoding: chunked"]
        answer = raw(own, *whole, body=chunk * 40)
        assert answer[9:12] in (b"413", b""), "cut off at its bound, whatever it says"
    assert raw(own, "GET / HTTP/1.1", host, "X: " + "a" * 200_000, CLOSE)[9:12] in (b"400", b"431", b"")
    assert raw(own, "GET /" + "a" * 200_000 + " HTTP/1.1", host, CLOSE)[9:12] in (b"400", b"404", b"414", b"")
    assert send(own, "GET", "/people")[0] == 200


def test_slow_and_silent_clients_keep_nobody_waiting(own: Server) -> None:
    with ExitStack() as held:
        for number in range(150):
            wire = held.enter_context(socket.create_connection(("127.0.0.1", own.port), timeout=20))
            head = f"POST /people/add HTTP/1.1\r\nHost: 127.0.0.1:{own.port}\r\nSec-Fetch-Site: same-origin\r\n"
            whole = (
                f"{head}Content-Type: application/x-www-form-urlencoded\r\nContent-Length: 1000\r\n\r\nname="
            )
            wire.sendall((head if number % 2 else whole).encode())
        begun = time.monotonic()
        for _ in range(5):
            assert send(own, "GET", "/people")[0] == 200
        assert time.monotonic() - begun < 10


def test_forty_windows_that_listen_to_news_keep_nobody_waiting(own: Server) -> None:
    asked = urlencode({"for": "Marit", "hours": "3", "skill": "practised", "cloth": "White poplin"}).encode()
    form = {"Content_Type": "application/x-www-form-urlencoded"}
    assert send(own, "POST", "/evening/ask", asked, **form)[0] == 303
    with open_store(own.store) as store:
        from clothwise.store import jobs

        (job,) = jobs.newest(store, "evening")
    with ExitStack() as held:
        for _ in range(40):
            wire = held.enter_context(closing(HTTPConnection("127.0.0.1", own.port, timeout=30)))
            wire.request("GET", f"/jobs/{job.number}/news")
        begun = time.monotonic()
        change = b'{"set": {"choice.longer": "1"}}'
        told = send(
            own, "POST", "/ticket/Marit~27s+linen+trousers/keep", change, Content_Type="application/json"
        )
        assert b"version" in told[1]
        assert time.monotonic() - begun < 10
    send(own, "POST", f"/jobs/{job.number}/cancel")


def test_photos_of_random_bytes_are_refused_or_kept_and_served_as_pictures_alone(own: Server) -> None:
    chance = random.Random(5)
    heads = (
        b"\xff\xd8\xff",
        b"\x89PNG\r\n\x1a\n",
        b"RIFF\0\0\0\0WEBPVP8 ",
        b"RIFF\0\0\0\0WEBPVP8X",
        b"GIF89a",
        b"",
    )
    for _ in range(60):
        data = chance.choice(heads) + chance.randbytes(chance.randrange(80))
        head = b'--bound\r\nContent-Disposition: form-data; name="photo"; filename="../../x.html"\r\n\r\n'
        status, said = send(
            own, "POST", "/cloth/White+poplin/photo", head + data + b"\r\n--bound--\r\n",
            Content_Type="multipart/form-data; boundary=bound",
        )  # fmt: skip
        told: Any = json.loads(said)
        assert status in (200, 422), data
        if status == 200:
            with closing(HTTPConnection("127.0.0.1", own.port, timeout=20)) as wire:
                wire.request("GET", f"/photo/{told['photo']}")
                answer = wire.getresponse()
                assert answer.headers["content-type"].startswith("image/")
                assert "sandbox" in answer.headers["content-security-policy"]
