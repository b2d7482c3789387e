"""A ticket that comes as a file: opened as a new one from whatever holds it, else refused in one sentence."""

from __future__ import annotations

import html
import io
import json
import re
import zipfile
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from clothwise.body import Body
from clothwise.errors import WorkroomError
from clothwise.store import Store, deeds, open_store
from clothwise.store.export import exported
from clothwise.ticket import Ticket, read_ticket, write_ticket
from clothwise.ticket.bought_ticket import read_bought_ticket
from clothwise.ticket.packet import packet
from clothwise.web.opening import MOST_LETTERS, opened, ticket_text
from clothwise.web.sheet import slug
from clothwise.web.takeaway import takeaway
from clothwise.web.ticket_state import load
from clothwise.web.ticket_work import made_of
from tests.page_tools import Server, ask, axe, sideways
from tests.test_page_hostile import CLIMBING, WICKED, Running, upload

TROUSERS = "Marit's linen trousers"


@pytest.fixture
def empty(tmp_path: Path) -> Iterator[Store]:
    """A store of somebody else, with nothing in it."""
    with open_store(tmp_path / "elsewhere.sqlite") as store:
        yield store


@pytest.fixture
def working(mill_page: Any) -> Iterator[Any]:
    """The page with the process beside it."""
    mill_page.state.bench.open()
    yield mill_page
    mill_page.state.bench.close()


def whole(store: Store, name: str = TROUSERS) -> Ticket:
    return load(store, name).whole


def without_notes(ticket: Ticket) -> Ticket:
    assert ticket.body is not None
    return replace(ticket, body=replace(ticket.body, notes=()))


def files_of(page: Any, store: Store) -> dict[str, bytes]:
    """The files in which a ticket may come, as the page gives them."""
    text, packed = write_ticket(whole(store)), io.BytesIO()
    files = packet(made_of(store, TROUSERS))
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in files.items():
            archive.writestr(name, data)
    return {
        "text": ask(page, "GET", f"/ticket/{slug(TROUSERS)}/ticket.toml").body,
        "marked": b"\xef\xbb\xbf" + text.encode(),
        "packet": packed.getvalue(),
        "figures": files["packet.json"],
        "takeaway": takeaway(text, {}, False).encode(),
        "export": exported(store)["everything.json"],
    }


def test_every_file_that_holds_a_ticket_opens_as_that_ticket_elsewhere(
    mill_page: Any, mill: Store, empty: Store
) -> None:
    there = whole(mill)
    for number, (kind, data) in enumerate(files_of(mill_page, mill).items(), 1):
        if kind == "export":  # it holds names alone, so it opens where those are
            name, _ = opened(mill, ticket_text(data))
            assert whole(mill, name) == replace(there, name=name)
            continue
        name, came = opened(empty, ticket_text(data))
        assert came == TROUSERS
        assert name == (TROUSERS if number == 1 else f"{TROUSERS} {number}"), kind
        carried = without_notes(there) if kind == "takeaway" else there
        assert whole(empty, name) == replace(carried, name=name), kind


def test_what_stands_here_stays_and_the_deed_can_be_undone(mill_page: Any, mill: Store) -> None:
    text = write_ticket(replace(whole(mill), sheet="A3")).encode()
    before = mill.tickets()
    answer = upload(mill_page, "/tickets/open", text, "open", "ticket.toml", accept="text/html")
    assert answer.status == 303
    assert answer.headers["location"] == f"/ticket/{slug(TROUSERS)}+2?opened=beside"
    assert mill.ticket(TROUSERS) == next(one for one in before if one.name == TROUSERS)
    assert load(mill, f"{TROUSERS} 2").ticket.sheet == "A3"
    shown = ask(mill_page, "GET", answer.headers["location"])
    assert "stays as it is" in shown.text
    done = deeds.undo(mill, "ticket/")
    assert done is not None
    assert "opened from a file" in done.words
    assert mill.tickets() == before


def test_a_takeaway_gives_no_notes_on_the_body_away(mill: Store) -> None:
    ticket = whole(mill)
    assert ticket.body is not None
    noted = replace(ticket, body=replace(ticket.body, notes=("She would rather not have this told.",)))
    assert "rather not" not in takeaway(write_ticket(noted), {}, False)


def test_a_bought_pattern_opens_where_it_stands_on_the_shelf(mill: Store, empty: Store) -> None:
    text = (
        'ticket = 1\nname = "Play trousers"\n[bought]\nname = "Mill 5 play trousers"\n'
        '[body]\nname = "Juno"\n[cloth]\nname = "White poplin"\n'
    )
    name, _ = opened(mill, text)
    assert read_bought_ticket(mill.ticket(name).text).pattern == "Mill 5 play trousers"
    with pytest.raises(WorkroomError, match="no bought pattern called 'Mill 5 play trousers'"):
        opened(empty, text)
    assert empty.tickets() == ()


def test_a_ticket_of_names_alone_says_who_is_not_here(mill: Store, empty: Store) -> None:
    with pytest.raises(WorkroomError, match="no body called 'Marit'"):
        opened(empty, mill.ticket(TROUSERS).text)


# ---- with ill will -------------------------------------------------------------------------------


def packed(name: str, data: bytes, **how: Any) -> bytes:
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(name, data, **how)
    return made.getvalue()


def lying(data: bytes) -> bytes:
    """An archive that says of itself that its ticket is small."""
    size = len(data).to_bytes(4, "little")
    return packed("ticket.toml", data).replace(size, (10).to_bytes(4, "little"))


PLAIN = b"""ticket = 1
name = "t"
[pattern]
name = "apron"
[body]
name = "Marit"
[cloth]
name = "White poplin"
"""
HOSTILE: dict[str, bytes] = {
    "nothing": b"",
    "another text": b"Dear Marit,\n",
    "a program": b"MZ\x90\x00\x03",
    "a photo": b"\xff\xd8\xff\xe0",
    "too long": PLAIN + b"#" * MOST_LETTERS,
    "nested": b"a = " + b"[" * 50_000,
    "nested tables": b"a = " + b"{a = " * 11_000,
    "one long key": b"a." * 25_000 + b"a = 1",
    "a long number": b"ticket = " + b"9" * 50_000,
    "newer": PLAIN.replace(b"ticket = 1", b"ticket = 99"),
    "another draft": PLAIN.replace(b'"apron"', b'"ball_gown"'),
    "an unknown entry": PLAIN + b"run = true\n",
    "a name of two lines": PLAIN.replace(b'"t"', b'"t\\nSet-Cookie: a=b"'),
    "an endless name": PLAIN.replace(b'"t"', b'"' + b"n" * 400 + b'"'),
    "json, nested": b'{"packet": ' + b"[" * 100_000,
    "json without": b'{"packet": 1, "ticket": 5}',
    "json of much": b'{"export": 2, "tickets": [{"text": ""}, {"text": ""}]}',
    "json of none": b'{"export": 2, "tickets": []}',
    "json of a list": b'{"export": 2, "tickets": [[]]}',
    "a page": b"<!doctype html><script>alert(1)</script>",
    "a page cut off": b'<!doctype html><template id="ticket">ticket = 1',
    "an archive of something": packed("../../../tmp/climbed", b"x"),
    "an archive that unfolds": packed("ticket.toml", b"#" * 50_000_000),
    "an archive that lies": lying(b"#" * 50_000_000),
    "an archive cut off": packed("ticket.toml", PLAIN * 3000)[:90],
    "an archive's head": b"PK\x03\x04" + b"\xff" * 200,
}  # fmt: skip


@pytest.mark.parametrize("kind", HOSTILE)
def test_what_is_no_ticket_is_refused_in_a_sentence_and_nothing_is_kept(
    mill_page: Any, mill: Store, kind: str
) -> None:
    before = mill.tickets()
    answer = upload(mill_page, "/tickets/open", HOSTILE[kind], "open", "ticket.toml")
    assert answer.status == 422, answer.text
    assert re.search(r"[.!?]$", answer.json["refused"]["what"])
    assert answer.json["refused"]["mend"]
    assert len(answer.text) < 2000, "a sentence, not the file"
    assert mill.tickets() == before
    assert not Path("/tmp/climbed").exists()


def test_no_file_and_a_file_beyond_all_bounds_are_told(mill_page: Any, mill: Store) -> None:
    assert upload(mill_page, "/tickets/open", b"", "open", "").status == 422
    assert upload(mill_page, "/tickets/open", b"x", "other").status == 422
    assert upload(mill_page, "/tickets/open", b"#" * 12_000_001, "open").status == 413
    across = {"sec-fetch-site": "cross-site"}
    assert upload(mill_page, "/tickets/open", PLAIN, "open", **across).status == 403
    assert len(mill.tickets()) == 1


ODD = {
    "choice nan": "[pattern.choices]\nlength = nan\n",
    "choice inf": "[pattern.choices]\nlonger = inf\n",
    "choice huge": "[pattern.choices]\nlonger = 1e300\n",
    "no such choice": '[pattern.choices]\nwings = "two"\n',
    "choice of a word": '[pattern.choices]\nlonger = "long"\n',
    "figure nan": "[pattern.figure]\nlow_shoulder = nan\n",
    "figure unknown": "[pattern.figure]\nwings = 2\n",
    "pace nought": "[sewer]\npace = 0\n",
    "pace nan": "[sewer]\npace = nan\n",
    "pace below": "[sewer]\npace = -3.0\n",
    "logged huge": "[sewer]\nlogged = 999999999999999999\n",
    "way": '[ways]\nside_seam = "flat-felled"\n',
    "cut twice": '[[other_cloths]]\npieces = ["skirt"]\nname = "x"\nwidth = 100\nlength = 100\n',
    "cloth of nan": '[[other_cloths]]\npieces = ["skirt"]\nname = "x"\nwidth = nan\nlength = 100\n',
    "cloth bent": (
        '[[other_cloths]]\npieces = ["skirt"]\nname = "x"\nwidth = 100\nlength = 100\n'
        "outline = [[0, 0], [100, 100], [100, 0], [0, 100]]\n"
    ),
    "age nan": "[body.x]\n",
}


@pytest.mark.parametrize("kind", ODD)
@pytest.mark.filterwarnings("ignore::RuntimeWarning")  # numbers that no tape has shown
def test_odd_figures_are_refused_or_said_on_a_page_that_stands(working: Any, mill: Store, kind: str) -> None:
    stands(working, mill, PLAIN.decode() + ODD[kind])


@pytest.mark.parametrize("hip", ["nan", "inf", "0.0001", "9999", '"12 yards"', "-3", "[1]"])
def test_odd_measures_are_refused_or_said_on_a_page_that_stands(working: Any, mill: Store, hip: str) -> None:
    measured = f'"Marit"\nfigure = "woman"\n[body.measures]\nheight = 170\nhip_girth = {hip}\n'
    stands(working, mill, PLAIN.decode().replace('"Marit"\n', measured))


def stands(page: Any, store: Store, text: str) -> None:
    """Refused with a sentence; or opened, and then every station is a page, with a sentence where it stops."""
    answer = upload(page, "/tickets/open", text.encode(), "open", "t.toml", accept="text/html")
    assert answer.status in (303, 422), answer.text[:300]
    if answer.status == 422:
        assert len(store.tickets()) == 1
        return
    for station in ("", "/cloth", "/cloth/layers", "/paper?wait=1", "/work?wait=1", "/log", "/takeaway"):
        seen = ask(page, "GET", f"/ticket/t{station}")
        assert seen.status in (200, 404, 422), (station, seen.text[:300])
    assert ask(page, "GET", "/tickets").status == 200


def test_a_wicked_name_is_shown_and_never_run(mill_page: Any, mill: Store) -> None:
    ticket = whole(mill)
    assert ticket.body is not None
    for name in (WICKED, CLIMBING):
        named = replace(ticket, name=name, body_name=name, body=Body(name, "woman", ticket.body.measures))
        text = write_ticket(named).encode()
        answer = upload(mill_page, "/tickets/open", text, "open", name, accept="text/html")
        assert answer.status == 303
        for path in (answer.headers["location"], "/tickets"):
            shown, found = ask(mill_page, "GET", path), Running()
            found.feed(shown.text)
            assert shown.status == 200
            assert found.tags == []
            assert html.escape(name, quote=False)[:20] in shown.text or name[:8] in shown.text
        saved = ask(mill_page, "GET", f"/ticket/{slug(name)}/ticket.toml")
        assert not re.search(r'filename="[^"]*[/\\.<]{2}', saved.headers["content-disposition"])
        carried = takeaway(write_ticket(named), {}, False)
        assert "<script>alert" not in carried
        assert read_ticket(ticket_text(carried.encode())) == named, "a name may not end the ticket in the page"


# ---- in a real browser ---------------------------------------------------------------------------


def a_file(name: str, data: bytes) -> Any:
    return {"name": name, "mimeType": "application/octet-stream", "buffer": data}


@pytest.mark.page
@pytest.mark.parametrize("narrow", [False, True], ids=["wide", "narrow"])
def test_a_file_is_chosen_opened_and_undone(opened: Callable[..., Any], server: Server, narrow: bool) -> None:
    name = f"Apron from a friend {narrow}"
    text = PLAIN.decode().replace('"t"', json.dumps(name))
    page = opened("/tickets", narrow=narrow, dark=narrow)
    page.set_input_files("[name=open]", a_file("apron.toml", b"Dear Marit,"))
    page.get_by_role("button", name="Open it as a ticket").click()
    page.wait_for_selector(".warning:has-text('cannot be read')")
    page.go_back()
    page.set_input_files("[name=open]", a_file("apron.toml", text.encode()))
    page.get_by_role("button", name="Open it as a ticket").press("Enter")
    page.wait_for_selector(".piece")
    assert page.locator("h1").inner_text() == name
    assert page.get_by_text("Opened from a file").count() == 1
    assert sideways(page) <= 0
    assert axe(page) == []
    page.locator("summary:has-text('Name it')").click()
    with page.expect_download() as saved:
        page.get_by_role("link", name="Save it as a file").click()
    there = read_ticket(Path(saved.value.path()).read_bytes())
    assert (there.name, there.whole) == (name, True), "with all figures, to be opened elsewhere"
    page.goto(server.address + "/tickets")
    page.get_by_role("button", name="Undo").click()
    page.wait_for_selector(f"h2:has-text('{name}')", state="detached")


@pytest.mark.page
def test_a_file_is_dropped_on_the_page(opened: Callable[..., Any]) -> None:
    page = opened("/tickets")
    text = PLAIN.decode().replace('"t"', '"Apron dropped"')
    dropped = page.evaluate_handle(
        """text => { const held = new DataTransfer();
        held.items.add(new File([text], 'apron.toml')); return held; }""",
        text,
    )
    page.dispatch_event("main", "dragover", {"dataTransfer": dropped})
    page.wait_for_selector("[data-drop].over")
    page.dispatch_event("main", "drop", {"dataTransfer": dropped})
    page.wait_for_selector(".piece")
    assert page.locator("h1").inner_text() == "Apron dropped"
    assert page.errors == []
