"""Who may ask the page for what: forged names, other sites, bodies too large, climbing paths, phones."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

import pytest

from clothwise.store import jobs, open_store, photos, seed_demo
from clothwise.store.store import Store
from clothwise.web.app import application
from clothwise.web.guard import MOST_BODY, Allowed
from clothwise.web.sheet import named, own_path, slug
from tests.page_tools import Answer, ask
from tests.small_photos import PHOTO

HOST = "127.0.0.1:8000"
FORM = {"content-type": "application/x-www-form-urlencoded"}


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    with open_store(tmp_path_factory.mktemp("guard") / "store.sqlite") as opened:
        seed_demo(opened)
        yield opened


@pytest.fixture(scope="module")
def app(store: Store) -> Any:
    return application(store, Allowed(frozenset({HOST})))


def post(app: Any, path: str, body: bytes = b"units=inch", **headers: str) -> Answer:
    return ask(app, "POST", path, body=body, headers={**FORM, **headers})


@pytest.mark.parametrize(
    "host", ["evil.example", "127.0.0.1:9", "127.0.0.1", "", "localhost.evil.example:8000"]
)
def test_another_name_for_this_machine_is_not_served(app: Any, host: str) -> None:
    assert ask(app, "GET", "/", headers={"host": host}).status == 421


@pytest.mark.parametrize(
    "headers",
    [
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
        {"sec-fetch-site": "none"},
        {"sec-fetch-site": "", "origin": "http://example.org"},
        {"sec-fetch-site": "", "origin": "null"},
        {"sec-fetch-site": "same-origin", "origin": "http://example.org"},
        {"sec-fetch-site": ""},
    ],
)
def test_only_our_own_page_may_change_anything(app: Any, headers: dict[str, str]) -> None:
    assert post(app, "/units", **headers).status == 403


@pytest.mark.parametrize("headers", [{}, {"sec-fetch-site": "", "origin": f"http://{HOST}"}])
def test_our_own_page_may(app: Any, headers: dict[str, str]) -> None:
    answer = post(app, "/units", **headers)
    assert answer.status == 303
    assert "units=inch" in answer.headers["set-cookie"]


def test_a_body_beyond_its_bound_is_not_read(app: Any) -> None:
    assert post(app, "/units", body=b"a" * (MOST_BODY + 1)).status == 413
    said_small = post(app, "/units", body=b"a" * (MOST_BODY + 1), **{"content-length": "10"})
    assert said_small.status == 413, "whatever the header says"
    assert post(app, "/units", **{"content-length": "ten"}).status == 413


@pytest.mark.parametrize(
    "path",
    [
        "/static/../app.py",
        "/static/..%2fapp.py",
        "/static/%2e%2e/%2e%2e/pyproject.toml",
        "/static//etc/passwd",
        "/static/page.css%00.js",
        "/photo/../../etc/passwd",
        "/ticket/..%2f..%2fetc%2fpasswd",
        "/ticket/~2E~2E~2Fetc~2Fpasswd/picture/..%2f..%2fapp.py",
    ],
)
def test_no_address_reaches_the_disk(app: Any, path: str) -> None:
    answer = ask(app, "GET", path)
    assert answer.status in (404, 422)
    assert b"def " not in answer.body
    assert b"root:" not in answer.body


def test_every_answer_carries_the_strict_policy(app: Any) -> None:
    for path in ("/", "/static/page.js", "/nowhere", "/tickets"):
        headers = ask(app, "GET", path).headers
        assert "script-src 'self'" in headers["content-security-policy"]
        assert "unsafe" not in headers["content-security-policy"]
        assert headers["x-content-type-options"] == "nosniff"
        assert "access-control-allow-origin" not in headers


def test_pages_have_neither_inline_script_nor_inline_style(app: Any, store: Store) -> None:
    ticket = store.tickets()[0].name
    for path in ("/", "/tickets", "/house", f"/ticket/{slug(ticket)}", f"/ticket/{slug(ticket)}/log"):
        text = ask(app, "GET", path).text
        assert " style=" not in text
        assert "<style" not in text
        assert " onclick" not in text
        assert all("src=" in part or "application/json" in part for part in text.split("<script")[1:])


@pytest.fixture(scope="module")
def shared(store: Store) -> Any:
    return application(store, Allowed(frozenset({HOST, "10.0.0.5:8000"}), token="right-token"))


def test_a_device_on_the_network_must_be_paired(shared: Any) -> None:
    there = {"host": "10.0.0.5:8000"}
    assert ask(shared, "GET", "/", headers=there, client="10.0.0.9").status == 403
    assert ask(shared, "GET", "/pair?token=wrong", headers=there, client="10.0.0.9").status == 403
    assert ask(shared, "GET", "/static/page.css", headers=there, client="10.0.0.9").status == 403
    paired = ask(shared, "GET", "/pair?token=right-token", headers=there, client="10.0.0.9")
    assert paired.status == 303
    assert "HttpOnly" in paired.headers["set-cookie"]
    assert "samesite=strict" in paired.headers["set-cookie"].lower()
    cookie = {"cookie": paired.headers["set-cookie"].split(";")[0]}
    assert ask(shared, "GET", "/", headers={**there, **cookie}, client="10.0.0.9").status == 200
    assert ask(shared, "GET", "/", headers={**there, "cookie": "paired=x"}, client="10.0.0.9").status == 403


def test_this_machine_needs_no_pairing(shared: Any) -> None:
    assert ask(shared, "GET", "/").status == 200


HOSTILE = {
    "page": b"<html><script>alert(1)</script></html>",
    "drawing": b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>",
    "program": b"MZ\x90\x00",
    "nothing": b"",
    "gif": b"GIF89a<script>alert(1)</script>",
}


def upload(app: Any, data: bytes, name: str = "photo.jpg", field: str = "photo") -> Answer:
    body = (
        (
            f'--b\r\nContent-Disposition: form-data; name="{field}"; filename="{name}"\r\n'
            "Content-Type: image/jpeg\r\n\r\n"
        ).encode()
        + data
        + b"\r\n--b--\r\n"
    )
    headers = {"content-type": "multipart/form-data; boundary=b", "accept": "application/json"}
    return ask(app, "POST", "/ticket/Marit~27s+linen+trousers/log/photo", body=body, headers=headers)


@pytest.mark.parametrize("kind", HOSTILE)
def test_what_is_no_photo_is_not_kept_as_one(app: Any, kind: str) -> None:
    answer = upload(app, HOSTILE[kind])
    assert answer.status == 422
    assert answer.json["refused"]["what"].endswith(".")


def test_a_photo_is_bounded_and_served_as_nothing_else(app: Any, store: Store) -> None:
    assert upload(app, PHOTO + b"\0" * photos.MOST_BYTES).status == 422
    kept = upload(app, PHOTO + b"<script>alert(1)</script>", name="../../etc/cron.d/x.html")
    assert kept.status == 200
    shown = ask(app, "GET", f"/photo/{kept.json['photo']}")
    assert shown.headers["content-type"] == "image/jpeg"
    assert shown.headers["x-content-type-options"] == "nosniff"
    assert "sandbox" in shown.headers["content-security-policy"]
    assert not list(Path(store.place).parent.rglob("*.html"))


@pytest.mark.parametrize(
    "name", ["Tuesday skirt", "a/b", "..", "~tilde~", "50% linen", "Ærø é 裙", "?#&=+", "a+b c", "~41"]
)
def test_every_name_has_one_address_without_a_slash(name: str) -> None:
    assert named(slug(name)) == name
    assert "/" not in slug(name)
    assert "%" not in slug(name)
    assert "?" not in slug(name)


@pytest.mark.parametrize(
    "path", ["//evil.example", "http://example.org", "/\\evil.example", "", "javascript:x"]
)
def test_going_back_never_leaves_the_page(path: str) -> None:
    assert own_path(path) == "/"


@pytest.mark.parametrize(
    ("sender", "leads"),
    [(f"http://{HOST}/people?x=1", True), ("http://example.org/people", False), ("http://[", False)],
)
def test_a_refusal_leads_back_to_our_own_page_and_to_no_other(app: Any, sender: str, leads: bool) -> None:
    answer = post(app, "/people/add", b"name=Marit&figure=woman", referer=sender)
    assert answer.status == 422
    assert ('href="/people?x=1"' in answer.text) == leads
    assert "example.org" not in answer.text


@pytest.mark.parametrize("back", ["//evil.example/x", "http://[", "javascript:x", ""])
def test_work_asked_for_again_leads_to_no_other_page(app: Any, store: Store, back: str) -> None:
    number = jobs.ask(store, "evening", {})  # still going: it is not begun a second time
    answer = post(app, f"/jobs/{number}/again", urlencode({"back": back}).encode())
    assert answer.headers["location"] == f"/?job={number}"
    assert post(app, "/jobs/9999/again", b"back=/").status == 422
