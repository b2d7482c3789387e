"""What is sent here with ill will: files that are not what they say, too large; scripts and paths for names."""

from __future__ import annotations

import gzip
import io
import re
import sqlite3
import zipfile
from collections.abc import Callable, Iterator
from contextlib import closing
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest

from clothwise.body import Body
from clothwise.cloth import Cloth
from clothwise.shelf.pattern import BoughtPattern, FinishedMake
from clothwise.shopping.box import BoxItem
from clothwise.store import KeptTicket, Store, deeds, photos
from clothwise.store.export import as_archive, everything, exported
from clothwise.store.store import CLOTH, IN_BOX
from clothwise.ticket import read_ticket, write_ticket
from clothwise.web.guard import MOST_RESTORE, MOST_UPLOAD
from clothwise.web.sheet import slug
from tests.page_tools import Answer, ask, form
from tests.small_photos import PHOTO

TICKET = "Marit's linen trousers"
WICKED = "<script>alert(1)</script>\"'><img src=x onerror=alert(1)>"
CLIMBING = "../../../tmp/climbed"


def upload(app: Any, path: str, data: bytes, field: str, name: str = "x", **headers: str) -> Answer:
    head = f'--b\r\nContent-Disposition: form-data; name="{field}"; filename="{name}"\r\n\r\n'.encode()
    sent_as = {"content-type": "multipart/form-data; boundary=b", "accept": "application/json", **headers}
    return ask(app, "POST", path, body=head + data + b"\r\n--b--\r\n", headers=sent_as)


# ---- photos --------------------------------------------------------------------------------------

PLACES = (f"/ticket/{slug(TICKET)}/log", "/cloth/White+poplin", "/make/First+straight+skirt")
NO_PHOTO = {
    "a drawing": b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>",
    "a drawing with a byte mark": b"\xef\xbb\xbf<?xml version='1.0'?><svg/>",
    "a page": b"<!doctype html><script>alert(1)</script>",
    "a picture that may move": b"GIF89a",
    "an archive": b"PK\x03\x04",
    "a document": b"%PDF-1.7",
    "nothing": b"",
}


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("kind", NO_PHOTO)
def test_only_a_photo_is_kept_as_a_photo(mill_page: Any, mill: Store, place: str, kind: str) -> None:
    before = everything(mill)["photos"]
    answer = upload(mill_page, f"{place}/photo", NO_PHOTO[kind], "photo", "front.jpg")
    assert answer.status == 422
    assert answer.json["refused"]["what"] == "This file is not a photo."
    assert everything(mill)["photos"] == before


@pytest.mark.parametrize("place", PLACES)
def test_a_photo_is_bounded_and_of_something_that_is_kept(mill_page: Any, mill: Store, place: str) -> None:
    large = upload(mill_page, f"{place}/photo", PHOTO + b"\0" * photos.MOST_BYTES, "photo")
    assert "larger than" in large.json["refused"]["what"]
    assert upload(mill_page, f"{place}/photo", PHOTO + b"\0" * MOST_UPLOAD, "photo").status == 413
    nowhere = re.sub(r"^/(\w+)/[^/]+", r"/\1/Nobody", place)
    assert upload(mill_page, f"{nowhere}/photo", PHOTO, "photo").status == 422
    assert everything(mill)["photos"] == []
    assert upload(mill_page, f"{place}/photo", PHOTO, "photo", "../../climbed.html").status == 200
    assert not list(Path(mill.place).parent.parent.rglob("climbed*"))


# ---- backups -------------------------------------------------------------------------------------


def bomb() -> bytes:
    """A small archive that would be large."""
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("store.sqlite", b"\0" * 20_000_000)
    return made.getvalue()


def changed(mill: Store, place: Path, *words: str) -> bytes:
    """A backup of the store into which another program has written."""
    mill.back_up(place)
    with closing(sqlite3.connect(place)) as raw, raw:
        for one in words:
            raw.execute(one)
    return place.read_bytes()


WRITTEN_INTO = {
    "a deed of nothing": "INSERT INTO deeds (done_at, scope, words, moves) VALUES ('', 'ticket/x', 'w', 'x')",
    "a deed of a table": 'UPDATE deeds SET moves = \'[["songs", "x", 1, 2]]\'',
    "a deed in words": 'UPDATE deeds SET moves = \'[["body", "Marit", "one", 2]]\'',
    "a page for a photo": "UPDATE photos SET data = '<script>alert(1)</script>', kind = 'text/html'",
    "a head for a kind": "UPDATE photos SET kind = 'image/jpeg' || char(13, 10) || 'X: y'",
    "progress of nothing": "INSERT INTO progress (name, version, current, text) VALUES ('x', 1, 1, '[1]')",
    "a cloth of nothing": "UPDATE cloths SET width = 'wide'",
    "a cloth without corners": "UPDATE cloths SET outline = '[[1, \"x\"]]'",
    "an earlier body of nothing": "UPDATE bodies SET figure = 'ghost', current = 0 WHERE name = 'Osei'",
    "work of nothing": "INSERT INTO jobs (kind, asked, state, begun_at) VALUES ('evening', '[', 'done', '')",
}


@pytest.mark.parametrize("what", WRITTEN_INTO)
def test_a_backup_with_a_row_that_cannot_be_read_is_refused_before_it_does_harm(
    mill_page: Any, mill: Store, tmp_path: Path, what: str
) -> None:
    photos.add(mill, "cloth/White poplin", PHOTO, "")
    deeds.keep(mill, CLOTH, mill.cloth("White poplin").changed(colour="cream"), "colour")
    before = everything(mill)
    answer = upload(
        mill_page, "/house/restore", changed(mill, tmp_path / "b.sqlite", WRITTEN_INTO[what]), "backup"
    )
    assert answer.status == 422
    assert "that no Clothwise could have kept" in answer.json["refused"]["what"]
    assert answer.json["refused"]["where"] == "backup"
    assert everything(mill) == before
    assert ask(mill_page, "GET", "/house").status == 200
    assert upload(mill_page, "/house/restore", changed(mill, tmp_path / "c.sqlite"), "backup").status == 303


@pytest.mark.parametrize("kind", ["zip", "gzip", "text", "cut", "head", "trigger", "view", "foreign"])
def test_what_is_no_backup_of_ours_is_refused_and_all_stands(
    mill_page: Any, mill: Store, tmp_path: Path, kind: str
) -> None:
    trigger = "CREATE TRIGGER t AFTER INSERT ON things BEGIN DELETE FROM things; END"
    tables = "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite%'"
    mill.back_up(tmp_path / "names.sqlite")
    with closing(sqlite3.connect(tmp_path / "names.sqlite")) as raw:
        table = raw.execute(tables).fetchone()[0]
    made: dict[str, Callable[[], bytes]] = {
        "zip": bomb,
        "gzip": lambda: gzip.compress(b"\0" * 20_000_000),
        "text": lambda: b"<script>alert(1)</script>",
        "cut": lambda: changed(mill, tmp_path / "b.sqlite")[:20_000],
        "head": lambda: b"SQLite format 3\0" + b"\xff" * 4096,
        "trigger": lambda: changed(mill, tmp_path / "b.sqlite", trigger.replace("things", table)),
        "view": lambda: changed(mill, tmp_path / "b.sqlite", f"CREATE VIEW v AS SELECT * FROM {table}"),
        "foreign": lambda: _foreign(tmp_path / "b.sqlite"),
    }
    data = made[kind]()
    before = everything(mill)
    answer = upload(mill_page, "/house/restore", data, "backup", "backup.sqlite")
    assert answer.status == 422
    assert answer.json["refused"]["what"].endswith(".")
    assert answer.json["refused"]["where"] == "backup", "no path of this machine is told"
    assert everything(mill) == before
    assert upload(mill_page, "/house/restore", b"x", "other").status == 422
    assert ask(
        mill_page, "POST", "/house/restore", headers={"content-length": str(MOST_RESTORE + 1)}
    ).status == 413  # fmt: skip


def _foreign(place: Path) -> bytes:
    with closing(sqlite3.connect(place)) as raw, raw:
        raw.execute("CREATE TABLE songs (name TEXT)")
    return place.read_bytes()


def test_two_files_at_once_are_not_taken(mill_page: Any, mill: Store) -> None:
    before = everything(mill)
    part = b'--b\r\nContent-Disposition: form-data; name="backup"; filename="x"\r\n\r\nx\r\n'
    headers = {"content-type": "multipart/form-data; boundary=b", "accept": "application/json"}
    answer = ask(mill_page, "POST", "/house/restore", body=part * 3 + b"--b--\r\n", headers=headers)
    assert 400 <= answer.status < 500
    assert everything(mill) == before


# ---- names ---------------------------------------------------------------------------------------


def named_so(mill: Store, name: str) -> None:
    """Everything that has a name, called by this one."""
    marit, ticket = mill.body("Marit"), read_ticket(mill.ticket(TICKET).text)
    mill.keep_body(Body(name, "woman", dict(marit.measures), taken_on="2026-01-01", notes=(name,)))
    mill.keep_body(Body(name, "woman", {**marit.measures}, taken_on="2026-02-01", notes=(name,)))
    mill.keep_cloth(Cloth(name, 140, 300, colour=name[:60], fibre=name[:60]))
    bought = mill.bought_pattern("Mill 2 straight skirt")
    mill.keep_bought_pattern(BoughtPattern(**{**_fields(bought), "name": name, "notes": (name,)}))
    make = mill.make("First straight skirt")
    mill.keep_make(FinishedMake(**{**_fields(make), "name": name, "person": name, "notes": (name,)}))
    deeds.keep(mill, IN_BOX, BoxItem(name, "elastic", length=100, colour=name[:60]), "in")
    text = write_ticket(ticket).replace(TICKET, "t", 1)
    mill.keep_ticket(KeptTicket(name, text))
    photos.add(mill, f"make/{name}", PHOTO, name)
    photos.add(mill, f"cloth/{name}", PHOTO, name)


def _fields(value: Any) -> dict[str, Any]:
    return {field: getattr(value, field) for field in value.__dataclass_fields__}


class Running(HTMLParser):
    """What a browser would run of a page though it is not ours: handlers, scripts, pictures."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = dict(attrs)
        inline = tag == "script" and not (told.get("src") or told.get("type") == "application/json")
        strange = tag == "img" and not (told.get("src") or "").startswith(
            ("/photo/", "/ticket/", "data:image/")
        )
        if inline or strange or any(name.startswith("on") for name in told):
            self.tags.append(self.get_starttag_text() or tag)


@pytest.fixture
def working(mill_page: Any) -> Iterator[Any]:
    """The page with the process beside it that sets paper and booklet."""
    mill_page.state.bench.open()
    yield mill_page
    mill_page.state.bench.close()


def screens(name: str) -> list[str]:
    part = slug(name)
    of = [f"/{kind}/{part}" for kind in ("person", "cloth", "make")]
    stations = [
        f"/ticket/{part}{station}" for station in ("", "/cloth", "/paper?wait=1", "/work?wait=1", "/log")
    ]
    more = [f"/bought/{part}?for={part}&cloth={part}", f"/shelf?for={part}", f"/draft/apron/metres?for={part}"]
    lists = ["/", "/tickets", "/people", "/cupboard", "/box", "/shopping", "/shelf", "/makes", "/house"]
    return [*lists, *of, *stations, *more, f"/ticket/{part}/takeaway"]


def test_a_script_in_a_name_is_shown_and_never_run_on_any_screen(working: Any, mill: Store) -> None:
    named_so(mill, WICKED)
    seen = 0
    for path in screens(WICKED):
        answer = ask(working, "GET", path)
        assert answer.status == 200, path
        found = Running()
        found.feed(answer.text)
        own = ["<script>"] if path.endswith("/takeaway") else []  # one file, with its script in it
        assert found.tags == own, path
        seen += "alert(1)" in answer.text
    assert seen >= 14, "it was on most of them"


def test_a_path_in_a_name_reaches_no_file(working: Any, mill: Store, tmp_path: Path) -> None:
    named_so(mill, CLIMBING)
    before = set(tmp_path.rglob("*"))
    for path in screens(CLIMBING):
        answer = ask(working, "GET", path)
        assert answer.status == 200, path
        assert not re.search(r"filename=\"[^\"]*[/\\]", answer.headers.get("content-disposition", "")), path
    for kind in ("sheets", "roll", "svg"):
        answer = ask(working, "GET", f"/ticket/{slug(CLIMBING)}/print/{kind}")
        assert answer.status == 200
        assert ".." not in answer.headers["content-disposition"]
    for name in zipfile.ZipFile(io.BytesIO(as_archive(exported(mill)))).namelist():
        assert ".." not in name
        assert not name.startswith("/")
    assert set(tmp_path.rglob("*")) - before <= set(tmp_path.glob("store.sqlite-*"))
    assert not Path("/tmp/climbed").exists()


@pytest.mark.parametrize(
    "name", [WICKED, CLIMBING, "x\r\nSet-Cookie: a=b", "a\0b", "\u202ereversed", "n" * 400]
)
def test_a_name_given_to_a_ticket_is_taken_as_it_is_or_refused(mill_page: Any, mill: Store, name: str) -> None:
    answer = form(mill_page, f"/ticket/{slug(TICKET)}/rename", name=name)
    assert answer.status in (303, 422)
    assert "set-cookie" not in answer.headers
    if answer.status == 303:
        assert name.strip() in {ticket.name for ticket in mill.tickets()}
        assert ask(mill_page, "GET", answer.headers["location"]).status == 200
    else:
        assert TICKET in {ticket.name for ticket in mill.tickets()}
