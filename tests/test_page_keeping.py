"""What the page keeps: entries of a ticket, undo and redo, backup and restore, export, work after a restart."""

from __future__ import annotations

import csv
import io
import json
import sqlite3
import zipfile
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from clothwise.body import Body
from clothwise.cloth import Cloth
from clothwise.errors import LengthError, StoreError
from clothwise.store import KeptTicket, Store, deeds, jobs, open_store, opening, photos, seed_demo
from clothwise.store.demo import clear_demo
from clothwise.store.export import as_archive, everything, exported
from clothwise.store.restoring import restore
from clothwise.store.store import BODY, CLOTH, TICKET
from clothwise.store.tables import REVISIONS
from clothwise.ticket import read_ticket, write_ticket
from clothwise.ticket.figures import plain
from clothwise.web.app import application
from clothwise.web.entries import Refused
from clothwise.web.guard import Allowed
from clothwise.web.learning import minutes_typed
from clothwise.web.live import look, pulls
from clothwise.web.sheet import Reader
from clothwise.web.ticket_state import changed, keep, load
from clothwise.web.work import do_job
from tests.page_tools import ask
from tests.small_photos import PHOTO

NAME = "Marit's linen trousers"
CM, INCH = Reader(), Reader(inches=True)


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with open_store(tmp_path / "store.sqlite") as opened:
        seed_demo(opened)
        yield opened


# ---- entries -------------------------------------------------------------------------------------


def test_an_entry_is_read_in_the_readers_unit(store: Store) -> None:
    state = changed(load(store, NAME), {"measure.hip_girth": "40 1/2", "choice.hip_ease": "3"}, INCH, store)
    assert state.body["hip_girth"] == pytest.approx(102.87)
    assert state.ticket.choices["hip_ease"] == pytest.approx(7.62)


@pytest.mark.parametrize(
    ("path", "text"),
    [
        ("choice.hip_ease", "roomy"),
        ("choice.hip_ease", "400"),
        ("choice.leg", "left"),
        ("choice.sequins", "many"),
        ("measure.hip_girth", "1,020"),
        ("measure.tail_length", "40"),
        ("cloth", "Gold brocade"),
        ("body", "Nobody"),
        ("pattern", "ballgown"),
        ("sheet", "A7"),
        ("sewer.height", "2"),
        ("figure.seat", "large"),
        ("__class__", "x"),
    ],
)
def test_what_cannot_be_is_told_at_its_entry_and_changes_nothing(store: Store, path: str, text: str) -> None:
    with pytest.raises(Refused) as no:
        keep(store, NAME, {path: text}, CM)
    assert no.value.path == path
    assert no.value.what.endswith((".", "!", "?"))
    assert deeds.version(store, TICKET, NAME) == 1


def test_two_tabs_that_change_different_things_lose_neither(store: Store) -> None:
    keep(store, NAME, {"choice.longer": "2"}, CM)
    keep(store, NAME, {"choice.hip_ease": "9"}, CM)
    choices = load(store, NAME).ticket.choices
    assert choices["longer"] == 2
    assert choices["hip_ease"] == 9


def test_sending_a_change_again_changes_nothing(store: Store) -> None:
    once = keep(store, NAME, {"choice.longer": "2", "measure.hip_girth": "103"}, CM)
    again = keep(store, NAME, {"choice.longer": "2", "measure.hip_girth": "103"}, CM)
    assert once.version == again.version == 2


def test_another_draft_keeps_the_choices_it_has_too(store: Store) -> None:
    keep(store, NAME, {"choice.hip_ease": "9", "choice.leg": "wide"}, CM)
    after = keep(store, NAME, {"pattern": "a_line_skirt"}, CM).ticket
    assert after.choices["hip_ease"] == 9
    assert "leg" not in after.choices


def test_pieces_levels_and_minutes_follow_a_measure(store: Store) -> None:
    state = load(store, NAME)
    before = look(state.whole)
    after = look(changed(state, {"measure.hip_girth": "108"}, CM, store).whole)
    hips = [{one["name"]: one for one in seen["levels"]}["hip"] for seen in (before, after)]
    assert hips[1]["body"] - hips[0]["body"] == pytest.approx(6)
    assert hips[1]["finished"] - hips[0]["finished"] == pytest.approx(6, abs=0.1)
    assert after["cloth"]["length"] > before["cloth"]["length"]
    assert before["pieces"][0]["seam"] != after["pieces"][0]["seam"]


def test_pulling_an_edge_moves_what_the_draft_would_move(store: Store) -> None:
    state = load(store, NAME)
    ways = pulls(write_ticket(state.whole))
    hem = {row["choice"]: row for row in ways["front_leg/hem"]}
    assert hem["longer"]["dy"] == pytest.approx(1, abs=0.05), (
        "a centimetre longer moves the hem a centimetre down"
    )
    side = next(rows for key, rows in ways.items() if key.startswith("front_leg/side"))
    ease = {row["choice"]: row for row in side}["hip_ease"]
    assert abs(ease["dx"]) > abs(ease["dy"])


# ---- undo ----------------------------------------------------------------------------------------


def test_undo_and_redo_walk_the_deeds_of_one_thing(store: Store) -> None:
    for longer in ("1", "2", "3"):
        keep(store, NAME, {"choice.longer": longer}, CM)
    keep_cloth = Cloth("Other cloth", 140, 200)
    deeds.keep(store, CLOTH, keep_cloth, "Cloth in")
    scope = f"ticket/{NAME}"

    def now() -> Any:
        return load(store, NAME).ticket.choices.get("longer")

    told = deeds.undo(store, scope)
    assert told is not None
    assert told.words == "longer 2.0 cm to 3.0 cm"
    assert now() == 2
    deeds.undo(store, scope)
    deeds.undo(store, scope)
    assert now() is None
    assert deeds.undo(store, scope) is None, "and not the cloth"
    for _ in range(3):
        deeds.redo(store, scope)
    assert now() == 3
    assert deeds.redo(store, scope) is None
    deeds.undo(store, scope)
    keep(store, NAME, {"choice.longer": "9"}, CM)
    assert deeds.can(store, scope).redo is None, "a new deed ends what could be redone"
    deeds.undo(store, scope)
    assert now() == 2
    assert len(store.earlier_tickets(NAME)) >= 4, "every version stays"


def test_a_deed_of_another_thing_that_changed_this_one_too_ends_what_could_be_redone(store: Store) -> None:
    keep(store, NAME, {"choice.longer": "1"}, CM)
    scope = f"ticket/{NAME}"
    deeds.undo(store, scope)
    changed = KeptTicket(NAME, store.ticket(NAME).text + "\n# cut\n")
    deeds.do(store, "cloth/Blue linen", "Cut", lambda hand: hand.keep(TICKET, changed))
    assert deeds.redo(store, scope) is None
    assert store.ticket(NAME).text == changed.text


def test_what_was_changed_elsewhere_is_not_undone_over(store: Store) -> None:
    keep(store, NAME, {"choice.longer": "1"}, CM)
    store.keep_ticket(KeptTicket(NAME, store.ticket(NAME).text + "\n# by hand\n"))
    with pytest.raises(StoreError, match="changed elsewhere"):
        deeds.undo(store, f"ticket/{NAME}")
    assert store.ticket(NAME).text.endswith("# by hand\n")


def test_forgetting_and_photos_can_be_undone(store: Store) -> None:
    deeds.forget(store, BODY, "Osei", "Osei away")
    deeds.undo(store, "body/")
    assert store.body("Osei").name == "Osei"
    number = photos.add(store, "make/x", PHOTO, "front")
    photos.take_away(store, "make/x", number)
    assert photos.of_thing(store, "make/x") == ()
    deeds.undo(store, "make/x")
    assert [photo.number for photo in photos.of_thing(store, "make/x")] == [number]


def test_the_demo_goes_with_one_deed_and_comes_back(store: Store) -> None:
    own = Body("Own", "woman", {})
    store.keep_body(own)
    before = everything(store)
    assert clear_demo(store) > 10
    assert [body.name for body in store.bodies()] == ["Own"]
    assert (store.cloths(), store.tickets(), store.makes()) == ((), (), ())
    assert not seed_demo(store), "it does not come back by itself"
    deeds.undo(store, "house/demo")
    assert everything(store) == before


# ---- backup, restore, export ---------------------------------------------------------------------


def test_a_backup_put_back_is_the_store_it_was_and_nothing_is_lost(store: Store, tmp_path: Path) -> None:
    photos.add(store, "make/x", PHOTO, "front")
    keep(store, NAME, {"choice.longer": "1"}, CM)
    before = everything(store)
    store.back_up(tmp_path / "backup.sqlite")
    keep(store, NAME, {"choice.longer": "5"}, CM)
    later = everything(store)
    aside = restore(store, (tmp_path / "backup.sqlite").read_bytes())
    assert everything(store) == before
    deeds.undo(store, f"ticket/{NAME}")
    assert "longer" not in load(store, NAME).ticket.choices, "its history came along"
    with open_store(aside) as kept:
        assert everything(kept) == later


@pytest.mark.parametrize("revision", REVISIONS[:-1])
def test_a_backup_of_an_older_clothwise_restores(store: Store, tmp_path: Path, revision: str) -> None:
    old = tmp_path / "old.sqlite"
    engine = opening._engine(old, old)
    with opening.writing(engine) as connection:
        opening._upgrade(connection, revision)
    engine.dispose()
    ticket = store.ticket(NAME)
    with closing(sqlite3.connect(old)) as raw, raw:
        raw.execute(
            "INSERT INTO tickets (name, text, created_on, sha256) VALUES (?, ?, ?, ?)",
            (ticket.name, ticket.text, ticket.created_on, ticket.sha256),
        )
    data = old.read_bytes()
    restore(store, old)
    assert store.ticket(NAME) == ticket
    assert store.bodies() == ()
    assert old.read_bytes() == data, "the file that was given is left as it was"


@pytest.mark.parametrize("data", [b"", b"no store at all", b"SQLite format 3\0" + b"\1" * 5000])
def test_what_is_no_backup_changes_nothing(store: Store, data: bytes) -> None:
    before = everything(store)
    with pytest.raises(StoreError):
        restore(store, data)
    assert everything(store) == before


def test_a_backup_of_a_newer_clothwise_is_refused(store: Store, tmp_path: Path) -> None:
    store.back_up(tmp_path / "new.sqlite")
    with closing(sqlite3.connect(tmp_path / "new.sqlite")) as raw, raw:
        raw.execute("UPDATE alembic_version SET version_num = '999'")
    before = everything(store)
    with pytest.raises(StoreError, match="newer Clothwise"):
        restore(store, tmp_path / "new.sqlite")
    assert everything(store) == before


def test_an_export_holds_everything_in_plain_files(store: Store) -> None:
    photos.add(store, "make/x", PHOTO, "front")
    store.keep_cloth(Cloth("=cmd|' /C calc'!A0", 100, 100))
    files = exported(store)
    whole = json.loads(files["everything.json"])
    assert {body["name"] for body in whole["bodies"]} == {"Marit", "Osei", "Pilar", "Juno"}
    rows = list(csv.DictReader(io.StringIO(files["cloths.csv"].decode())))
    assert len(rows) == len(store.cloths())
    assert not any(row["name"].startswith("=") for row in rows), "a spreadsheet runs nothing"
    assert read_ticket(files["tickets/1.toml"]).name == NAME
    assert files["photos/1.jpg"] == PHOTO


def test_a_stranger_reads_an_export_and_comes_to_the_same_store(store: Store) -> None:
    """By the units that the files themselves tell, and by nothing else."""
    store.keep_body(store.body("Marit").with_measures(shoulder_slope_deg=21.0))
    archive = zipfile.ZipFile(io.BytesIO(as_archive(exported(store))))

    def table(name: str) -> list[dict[str, str]]:
        return list(csv.DictReader(io.StringIO(archive.read(name).decode())))

    per = {"cm": 1.0, "degrees": 1.0}
    read: dict[str, dict[str, float]] = {}
    for row in table("measures.csv"):
        read.setdefault(row["body"], {})[row["measure"]] = float(row["value"]) * per[row["unit"]]
    assert read == {body.name: {name: pytest.approx(body[name]) for name in body} for body in store.bodies()}
    assert {row["unit"] for row in table("measures.csv") if row["measure"] == "shoulder_slope_deg"} == {
        "degrees"
    }
    cloths = {row["name"]: row for row in table("cloths.csv")}
    for cloth in store.cloths():
        row = cloths[cloth.name]
        assert float(row["width [cm]"]) == pytest.approx(cloth.width)
        assert float(row["length [cm]"]) == pytest.approx(cloth.length)
        corners = json.loads(row["outline [cm]"] or "[]")
        assert [tuple(corner) for corner in corners] == [pytest.approx(corner) for corner in cloth.outline]
        assert float(row["shrinkage [share]"] or 0) == pytest.approx(cloth.shrinkage)
    whole = json.loads(archive.read("everything.json"))
    assert whole["units"]["lengths"].startswith("cm")
    assert archive.read("units.txt").decode().startswith("lengths: cm")
    assert [plain(make) for make in store.makes()] == whole["makes"]
    assert [plain(pattern) for pattern in store.bought_patterns()] == whole["bought_patterns"]
    assert {t["name"]: t["text"] for t in whole["tickets"]} == {t.name: t.text for t in store.tickets()}


# ---- long work -----------------------------------------------------------------------------------


def test_work_that_ends_with_the_program_says_so(store: Store) -> None:
    number = jobs.ask(store, "evening", {"for": "Marit"})
    jobs.turn(store, number, "running")
    jobs.tell(store, number, "found", {"rank": 1})
    assert jobs.interrupt_all(store) == 1
    after = jobs.job(store, number)
    assert after.state == "interrupted"
    assert "ask again" in after.said
    assert [news.told for news in jobs.news(store, number)] == [{"rank": 1}], "what was found stays"


def test_a_refusal_and_a_bug_end_a_job_in_a_sentence(store: Store) -> None:
    def refuses(_store: Store, _asked: Any, _tell: Any) -> None:
        raise LengthError("That is no length.")

    def stumbles(_store: Store, _asked: Any, _tell: Any) -> None:
        raise ZeroDivisionError

    one, two = jobs.ask(store, "refuses", {}), jobs.ask(store, "stumbles", {})
    do_job(store, one, {"refuses": refuses})
    assert (jobs.job(store, one).state, jobs.job(store, one).said) == ("refused", "That is no length.")
    with pytest.raises(ZeroDivisionError):
        do_job(store, two, {"stumbles": stumbles})
    assert jobs.job(store, two).state == "refused"


def test_a_cancelled_job_stays_cancelled(store: Store) -> None:
    number = jobs.ask(store, "x", {})
    jobs.turn(store, number, "cancelled", "You ended it.")
    do_job(store, number, {"x": lambda *_: None})
    assert jobs.job(store, number).state == "cancelled"


# ---- over the wire -------------------------------------------------------------------------------


def test_a_script_in_a_name_is_shown_and_never_run(store: Store) -> None:
    wicked = "<script>alert(1)</script>\"'><img src=x onerror=alert(1)>"
    ticket = read_ticket(store.ticket(NAME).text)
    store.keep_body(Body(wicked, "woman", dict(store.body("Marit").measures)))
    store.keep_ticket(KeptTicket(wicked, write_ticket(ticket).replace("Marit's linen trousers", "x")))
    app = application(store, Allowed(frozenset({"127.0.0.1:8000"})))
    for path in ("/", "/tickets"):
        text = ask(app, "GET", path).text
        assert "&lt;script&gt;alert(1)" in text
        assert "<script>alert" not in text
        assert "<img src=x" not in text


@pytest.mark.parametrize(
    "body", [b"", b"[]", b'{"set": 3}', b'{"set": {"a": 3}}', b"\xff", b'{"set": {"choice.longer": "NaN"}}']
)
def test_a_broken_change_is_refused_in_a_sentence(store: Store, body: bytes) -> None:
    app = application(store, Allowed(frozenset({"127.0.0.1:8000"})))
    headers = {"content-type": "application/json", "accept": "application/json"}
    answer = ask(app, "POST", "/ticket/Marit~27s+linen+trousers/keep", body=body, headers=headers)
    assert answer.status in (200, 422)
    assert answer.json["refused"]["what"]
    assert deeds.version(store, TICKET, NAME) == 1


@pytest.mark.parametrize(
    ("text", "minutes"), [("250", 250), ("4 h 10", 250), ("4:10", 250), ("2 h", 120), ("45 min", 45)]
)
def test_time_taken_is_read_as_people_write_it(text: str, minutes: float) -> None:
    assert minutes_typed(text) == minutes


def test_a_file_that_is_no_backup_is_named_as_it_was_given(store: Store, tmp_path: Path) -> None:
    odd = tmp_path / "holiday.txt"
    odd.write_text("not a backup")
    before = store.bodies()
    with pytest.raises(StoreError) as no:
        restore(store, odd)
    assert no.value.where == str(odd)
    with pytest.raises(StoreError) as no:
        restore(store, b"not a backup")
    assert no.value.where == "backup"
    assert store.bodies() == before
