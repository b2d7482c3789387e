"""The store: what goes in comes out, nothing is lost, and what is no store is refused and left alone."""

from __future__ import annotations

import multiprocessing
import os
import random
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwise.body import Body, Measure
from clothwise.cloth import Cloth
from clothwise.errors import StoreError, WorkroomError
from clothwise.store import KeptTicket, Store, default_place, open_store, opening
from clothwise.store.tables import METADATA, NEWEST, REVISIONS
from clothwise.store.versions import fit_name

ADA = Body(
    name="Ada",
    figure="woman",
    measures={
        "waist_girth": Measure(71.3),
        "hip_girth": Measure(0.1 + 0.2 + 98, confirmed=True),
        "inside_leg": Measure(79.0, "estimated", 75.2, 82.9),
        "body_rise": Measure(26.5, "worked out"),
    },
    age_years=34.5,
    taken_on="2025-11-04",
    notes=("Sits all day.", "Says: \"not tight\" – ½ cm 'ease'."),
)
GINGHAM = Cloth(
    "Blue gingham", 112.0, 240.0, kind="poplin", fibre="cotton", nap="none", stretch_across=0.03,
    shrinkage=0.04, washed=False, colour="blue", price_per_m=8.95,
)  # fmt: skip
TICKET = KeptTicket("Gingham skirt", 'ticket = 1\nname = "Röckchen ½"\r\n', "2025-11-18")


@pytest.fixture
def place(tmp_path: Path) -> Path:
    return tmp_path / "cupboard.sqlite"


@pytest.fixture
def store(place: Path) -> Iterator[Store]:
    with open_store(place) as opened:
        yield opened


def make_revision_1(place: Path) -> None:
    """A store as the first Clothwise left it, with one of each."""
    engine = opening._engine(place, place)
    with opening.writing(engine) as connection:
        opening._upgrade(connection, "1")
    engine.dispose()
    with closing(sqlite3.connect(place)) as raw, raw:
        raw.execute("INSERT INTO bodies VALUES (7, 'Ada', 'woman', 34.5, '2025-11-04', '[\"Sits all day.\"]')")
        raw.execute("INSERT INTO measures VALUES (7, 'waist_girth', 0, 71.3, 'taped', NULL, NULL, 1)")
        raw.execute(
            "INSERT INTO cloths VALUES (3, 'Blue gingham', 112, 240, 'woven', 'poplin', 'cotton', 150, 0.03, 0,"
            " 'none', 0.04, 0, 'blue', 8.95)"
        )
        raw.execute(
            "INSERT INTO tickets VALUES (1, ?, ?, ?, ?)",
            (TICKET.name, TICKET.text, TICKET.created_on, TICKET.sha256),
        )


def content(place: Path) -> list[str]:
    """All that a file of SQLite says, as text."""
    with closing(sqlite3.connect(place)) as raw:
        return list(raw.iterdump())


# ---- in and out ----------------------------------------------------------------------------------


def test_what_is_kept_comes_out_equal(store: Store, place: Path) -> None:
    store.keep_body(ADA)
    store.keep_cloth(GINGHAM)
    store.keep_ticket(TICKET)
    with open_store(place) as again:
        assert again.body("Ada") == ADA
        assert list(again.body("Ada")) == list(ADA), "measures stay in the order they were written down"
        assert again.cloth("Blue gingham") == GINGHAM
        assert again.ticket("Gingham skirt") == TICKET
        assert (again.bodies(), again.cloths(), again.tickets()) == ((ADA,), (GINGHAM,), (TICKET,))


def test_keeping_a_name_again_leaves_the_earlier_version(store: Store) -> None:
    later = ADA.with_measures(waist_girth=73)
    for body in (ADA, later, later, ADA):
        store.keep_body(body)
    assert store.body("Ada") == ADA
    assert store.bodies() == (ADA,)
    assert store.earlier_bodies("Ada") == (ADA, later), "the same again is no new version"

    cut = replace(GINGHAM, length=120.0)
    store.keep_cloth(GINGHAM)
    store.keep_cloth(cut)
    assert store.cloth(GINGHAM.name) == cut
    assert store.earlier_cloths(GINGHAM.name) == (GINGHAM,)


def test_what_is_forgotten_is_gone_from_the_shelf_but_not_lost(store: Store) -> None:
    store.keep_ticket(TICKET)
    store.forget_ticket(TICKET.name)
    assert store.tickets() == ()
    assert store.earlier_tickets(TICKET.name) == (TICKET,)
    with pytest.raises(StoreError, match="There is no ticket called 'Gingham skirt'"):
        store.forget_ticket(TICKET.name)
    store.keep_ticket(TICKET)
    assert store.ticket(TICKET.name) == TICKET
    assert store.earlier_tickets(TICKET.name) == (TICKET,)


@pytest.mark.parametrize(
    ("asked", "offered"),
    [
        ("ada", "Did you mean 'Ada'?"),
        ("Addie", "Did you mean 'Ada'?"),
        ("Xyz", "There are: Ada, Børge."),
        ("", "There are: Ada, Børge."),
        ("\udc80", "There are: Ada, Børge."),
    ],
)
def test_an_unknown_name_is_answered_with_those_most_like_it(store: Store, asked: str, offered: str) -> None:
    store.keep_body(ADA)
    store.keep_body(replace(ADA, name="Børge"))
    with pytest.raises(StoreError) as refusal:
        store.body(asked)
    assert refusal.value.mend == offered
    with pytest.raises(StoreError, match="There is no cloth in the store yet"):
        store.cloth("Ada")


@settings(max_examples=60, deadline=None)
@given(name=st.text(max_size=30), note=st.text(max_size=30), text=st.text(max_size=60))
def test_odd_names_come_back_letter_by_letter_or_are_refused(
    shelf: Store, name: str, note: str, text: str
) -> None:
    body, ticket = replace(ADA, name=name, notes=(note,)), KeptTicket(name, text)
    if fit_name(name):
        shelf.keep_body(body)
        assert shelf.body(name) == body
    else:
        with pytest.raises(StoreError, match="cannot be called"):
            shelf.keep_body(body)
    if fit_name(name) and "\0" not in text and not any("\ud800" <= sign <= "\udfff" for sign in text):
        shelf.keep_ticket(ticket)
        assert shelf.ticket(name) == ticket
    else:
        with pytest.raises(StoreError):
            shelf.keep_ticket(ticket)


@pytest.fixture(scope="module")
def shelf(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    with open_store(tmp_path_factory.mktemp("shelf") / "odd ? # % name.sqlite") as opened:
        yield opened


@pytest.mark.parametrize(
    "name", ["O'Neill", 'the "good" linen', "Ålesund 2½ m", "布", "; DROP TABLE bodies; --", "%s", "🧵"]
)
def test_names_that_people_give_are_fit(store: Store, name: str) -> None:
    store.keep_cloth(replace(GINGHAM, name=name))
    assert store.cloth(name).name == name


@pytest.mark.parametrize("wrong", [float("nan"), float("inf"), float("-inf")])
def test_a_number_that_is_none_is_refused_and_nothing_is_half_written(store: Store, wrong: float) -> None:
    store.keep_body(ADA)
    with pytest.raises(StoreError, match="hip girth"):
        store.keep_body(replace(ADA, measures={**ADA.measures, "hip_girth": Measure(wrong)}))
    with pytest.raises(StoreError, match="age years"):
        store.keep_body(replace(ADA, age_years=wrong))
    assert store.body("Ada") == ADA
    assert store.earlier_bodies("Ada") == ()


# ---- two at once ---------------------------------------------------------------------------------


def keep_many(place: Path, who: str, times: int) -> None:
    with open_store(place) as store:
        for number in range(times):
            store.keep_cloth(replace(GINGHAM, name=f"{who} {number}"))
            store.keep_cloth(replace(GINGHAM, name="shared", fibre=f"{who} {number}"))


def test_two_programs_writing_at_once_lose_nothing(place: Path) -> None:
    spawn = multiprocessing.get_context("spawn")
    times = 40
    helpers = [
        spawn.Process(target=keep_many, args=(place, who, times)) for who in ("first", "second", "third")
    ]
    for helper in helpers:
        helper.start()
    for helper in helpers:
        helper.join(60)
    assert [helper.exitcode for helper in helpers] == [0, 0, 0]
    with open_store(place) as store:
        assert len(store.cloths()) == 3 * times + 1
        versions = [*store.earlier_cloths("shared"), store.cloth("shared")]
    assert sorted(v.fibre for v in versions) == sorted(
        f"{w} {n}" for w in ("first", "second", "third") for n in range(times)
    )


def test_a_reader_is_not_held_up_by_a_writer(store: Store, place: Path) -> None:
    store.keep_body(ADA)
    with closing(sqlite3.connect(place, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        other.execute("DELETE FROM measures")
        assert store.body("Ada") == ADA
        other.execute("ROLLBACK")


def test_a_store_held_by_another_program_is_said_so(
    store: Store, place: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(opening, "WAIT_MS", 50)
    with closing(sqlite3.connect(place, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(StoreError, match="being written by another program"):
            store.keep_body(ADA)
        other.execute("ROLLBACK")
    store.keep_body(ADA)


# ---- older, newer and damaged files --------------------------------------------------------------


def test_the_tables_of_a_new_store_are_those_the_code_asks_for(store: Store) -> None:
    from alembic.autogenerate import compare_metadata
    from alembic.migration import MigrationContext

    with store._engine.connect() as connection:
        assert compare_metadata(MigrationContext.configure(connection), METADATA) == []
        assert connection.exec_driver_sql("PRAGMA journal_mode").scalar() == "wal"
        assert connection.exec_driver_sql("PRAGMA foreign_keys").scalar() == 1


def test_every_revision_is_known_by_name() -> None:
    folder = Path(opening.__file__).parent / "migrations" / "versions"
    found = sorted(path.name.split("_")[1] for path in folder.glob("revision_*.py"))
    assert tuple(found) == REVISIONS


def test_a_store_of_revision_1_is_brought_up_to_date_after_a_backup(place: Path) -> None:
    make_revision_1(place)
    before = content(place)
    with open_store(place) as store:
        ada = store.body("Ada")
        assert ada.measures == {"waist_girth": Measure(71.3, confirmed=True)}
        assert (ada.age_years, ada.notes) == (34.5, ("Sits all day.",))
        assert store.cloth(GINGHAM.name) == GINGHAM
        assert store.ticket(TICKET.name) == TICKET
        store.keep_body(ada.with_measures(waist_girth=70))
        assert store.earlier_bodies("Ada") == (ada,)
    copy = place.with_name(f"cupboard-before-revision-{NEWEST}.sqlite")
    assert sorted(path.name for path in place.parent.iterdir()) == [copy.name, place.name]
    assert content(copy) == before
    with open_store(copy) as older:
        assert older.body("Ada") == ada


def test_a_backup_that_is_there_already_is_not_overwritten(place: Path) -> None:
    make_revision_1(place)
    first = place.with_name(f"cupboard-before-revision-{NEWEST}.sqlite")
    first.write_text("precious")
    open_store(place).close()
    assert first.read_text() == "precious"
    assert place.with_name(f"cupboard-before-revision-{NEWEST}-2.sqlite").exists()


def test_a_migration_that_fails_leaves_the_store_as_it_was(
    place: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    make_revision_1(place)
    with closing(sqlite3.connect(place)) as raw:
        raw.execute("CREATE TABLE one_version_of_tickets (id)")  # takes a name that revision 2 needs
    before = content(place)
    with pytest.raises(StoreError, match="one_version_of_tickets"):
        open_store(place)
    assert content(place) == before


def test_a_new_store_makes_its_folder_and_no_backup(tmp_path: Path) -> None:
    place = tmp_path / "not" / "yet" / "there.sqlite"
    with open_store(f"sqlite:///{place}") as store:
        store.keep_body(ADA)
    assert [path.name for path in place.parent.iterdir()] == [place.name]


def test_a_store_of_a_newer_clothwise_is_refused_and_left(store: Store, place: Path) -> None:
    store.keep_body(ADA)
    with closing(sqlite3.connect(place)) as raw, raw:
        raw.execute("UPDATE alembic_version SET version_num = '99'")
    before = place.read_bytes()
    with pytest.raises(StoreError, match=f"newer Clothwise .*revision 99, known here: {NEWEST}"):
        open_store(place)
    assert place.read_bytes() == before


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"name,width\nlinen,140\n", "not a store of Clothwise"),
        (b"SQLite format 3", "not a store of Clothwise"),
        (opening.HEADER + b"\x07" * 5000, "damaged"),
    ],
)
def test_a_file_that_is_no_store_is_refused_and_left_untouched(place: Path, content: bytes, said: str) -> None:
    place.write_bytes(content)
    with pytest.raises(StoreError, match=said) as refusal:
        open_store(place)
    assert str(place) in refusal.value.where
    assert place.read_bytes() == content
    assert list(place.parent.iterdir()) == [place]


def test_the_database_of_another_program_is_refused_and_left_untouched(place: Path) -> None:
    with closing(sqlite3.connect(place)) as raw, raw:
        raw.execute("CREATE TABLE bodies (name)")
    before = place.read_bytes()
    with pytest.raises(StoreError, match="belongs to another program"):
        open_store(place)
    assert place.read_bytes() == before


def test_a_folder_and_an_unknown_database_are_no_store(tmp_path: Path) -> None:
    with pytest.raises(StoreError, match="A folder is not a store"):
        open_store(tmp_path)
    with pytest.raises(StoreError, match="cannot be opened"):
        open_store("cloakroom://here/there")
    (tmp_path / "file").write_text("")
    with pytest.raises(StoreError, match="cannot be read"):
        open_store(tmp_path / "file" / "below")


@contextmanager
def as_nobody() -> Iterator[None]:
    """Root may write everywhere; so be someone else meanwhile."""
    if os.geteuid() != 0:
        yield
        return
    os.seteuid(65534)
    try:
        yield
    finally:
        os.seteuid(0)


def test_a_place_that_may_not_be_written_is_said_so() -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        with open_store(folder / "store.sqlite") as store:
            store.keep_body(ADA)
        before = (folder / "store.sqlite").read_bytes()
        (folder / "store.sqlite").chmod(0o444)
        folder.chmod(0o555)
        try:
            with as_nobody():
                with pytest.raises(StoreError, match="may not be written here"):
                    open_store(folder / "store.sqlite").keep_cloth(GINGHAM)
                with pytest.raises(StoreError, match="may not be written here"):
                    open_store(folder / "new.sqlite")
                with pytest.raises(StoreError, match="Permission denied"):
                    open_store(folder / "new" / "new.sqlite")
            (folder / "store.sqlite").chmod(0o000)
            with as_nobody(), pytest.raises(StoreError, match="Permission denied"):
                open_store(folder / "store.sqlite")
        finally:
            folder.chmod(0o755)
        assert (folder / "store.sqlite").read_bytes() == before


def use_all(place: Path) -> None:
    with open_store(place) as store:
        for body in store.bodies():
            store.earlier_bodies(body.name)
        store.cloths()
        store.tickets()
        store.keep_cloth(GINGHAM)


@pytest.mark.parametrize("part", [0.02, 0.3, 0.5, 0.9, 0.97])
def test_a_file_cut_short_is_refused(store: Store, place: Path, part: float) -> None:
    for number in range(100):
        store.keep_cloth(replace(GINGHAM, name=f"{number} of many"))
    whole = place.read_bytes()
    place.write_bytes(whole[: int(len(whole) * part)])
    with pytest.raises(StoreError, match="damaged"):
        use_all(place)
    assert place.read_bytes() == whole[: int(len(whole) * part)]


def test_flipped_bytes_bring_a_clear_refusal_or_nothing(store: Store, place: Path) -> None:
    store.keep_body(ADA)
    store.keep_cloth(GINGHAM)
    store.keep_ticket(TICKET)
    whole = place.read_bytes()
    chance = random.Random(4)
    written = [at for at, byte in enumerate(whole) if byte]
    for _ in range(250):
        bytes_now = bytearray(whole)
        bytes_now[chance.choice(written)] ^= 1 << chance.randrange(8)
        place.write_bytes(bytes_now)
        with suppress(WorkroomError):
            use_all(place)
        for left in place.parent.iterdir():
            left.unlink()


@pytest.mark.parametrize(
    "change",
    [
        "UPDATE tickets SET text = replace(text, '1', '2')",
        "UPDATE bodies SET figure = 'wombat'",
        "UPDATE bodies SET notes = '[unfinished'",
        "UPDATE measures SET source = 'guessed'",
        "UPDATE cloths SET make = 'poured'",
    ],
)
def test_a_row_that_no_clothwise_wrote_is_not_believed(store: Store, place: Path, change: str) -> None:
    store.keep_body(ADA)
    store.keep_cloth(GINGHAM)
    store.keep_ticket(TICKET)
    with closing(sqlite3.connect(place)) as raw, raw:
        raw.execute(change)
    with pytest.raises(StoreError, match=r"What the store holds about .* is damaged"):
        _ = store.bodies(), store.cloths(), store.tickets()


def test_a_backup_is_whole_and_overwrites_nothing(store: Store, tmp_path: Path) -> None:
    store.keep_body(ADA)
    copy = tmp_path / "copy.sqlite"
    store.back_up(copy)
    with open_store(copy) as again:
        assert again.body("Ada") == ADA
    with pytest.raises(StoreError, match="overwrites nothing"):
        store.back_up(copy)
    with pytest.raises(StoreError):
        store.back_up(tmp_path / "nowhere" / "copy.sqlite")


def test_the_place_may_be_named_by_the_environment(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("CLOTHWISE_STORE", str(place))
    assert default_place() == str(place)
    with open_store() as store:
        assert store.place == str(place)
    monkeypatch.delenv("CLOTHWISE_STORE")
    monkeypatch.setenv("XDG_DATA_HOME", str(place.parent))
    assert default_place() == str(place.parent / "clothwise" / "clothwise.sqlite")
