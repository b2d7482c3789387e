"""Bought patterns and finished makes: in and out equal, versions kept, older stores brought along."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest

from clothwise.errors import StoreError
from clothwise.shelf.pattern import BoughtPattern, ClothRow, FinishedMake, Judgement, NamedPiece, Span
from clothwise.store import Store, open_store, opening, seed_demo
from clothwise.store.demo import bought_scenario
from clothwise.store.tables import NEWEST
from tests.test_store import ADA, GINGHAM, TICKET, content


def row(*cells: float | None) -> tuple[Span | None, ...]:
    return tuple(None if cell is None else Span(cell, cell) for cell in cells)


PATTERN = BoughtPattern(
    name='Åsa\'s "best" ½ skirt',
    sizes=("12/14", "16"),
    garment="skirt",
    make="knit",
    body={"waist": (Span(72.39, 76.2), None), "hip": row(100 / 3, 0.1 + 0.2 + 100)},
    finished={"": {"hip": row(104.0, 110.0)}, "A": {"length": row(61.5, None)}},
    cloth=(ClothRow(114.3, row(150.0, 262.89), "one-way", "lining", "A"),),
    pieces=(NamedPiece("Front", 1, True, "main", 66.6, {"16": ((0.0, 0.0), (30.0, 0.0), (25.5, 60.1))}),),
    least_stretch=0.25,
    free=("hip",),
    slits={"waist_opening": 18.0},
    minutes=90.0,
    notes=("Zip at the side: 'short'.",),
)
MAKE = FinishedMake(
    name="Skirt for Ada",
    person="Ada",
    pattern=PATTERN.name,
    fit_class="fitted",
    make="knit",
    sizes={"waist": "12/14", "hip": "16"},
    judgements=(Judgement("waist", -1.25, "tight"), Judgement("hip", 4.0, "right")),
    made_on="2026-11-20",
    notes=("Wore it twice.",),
)


@pytest.fixture
def place(tmp_path: Path) -> Path:
    return tmp_path / "shelf.sqlite"


@pytest.fixture
def store(place: Path) -> Store:
    return open_store(place)


def test_what_is_kept_comes_out_equal(store: Store, place: Path) -> None:
    store.keep_bought_pattern(PATTERN)
    store.keep_make(MAKE)
    with open_store(place) as again:
        assert again.bought_pattern(PATTERN.name) == PATTERN
        assert again.make(MAKE.name) == MAKE
        assert again.make(MAKE.name).judgements == MAKE.judgements


def test_changing_and_forgetting_lose_nothing(store: Store) -> None:
    later = replace(PATTERN, kept="blue box")
    store.keep_bought_pattern(PATTERN)
    store.keep_bought_pattern(later)
    store.keep_bought_pattern(later)
    assert store.earlier_bought_patterns(PATTERN.name) == (PATTERN,)
    store.keep_make(MAKE)
    store.forget_make(MAKE.name)
    assert store.makes() == ()
    assert store.earlier_makes(MAKE.name) == (MAKE,)
    store.forget_bought_pattern(PATTERN.name)
    assert store.bought_patterns() == ()
    with pytest.raises(StoreError, match="There is no bought pattern called"):
        store.bought_pattern(PATTERN.name)


@pytest.mark.parametrize("revision", ["1", "2"])
def test_an_older_store_gains_a_shelf_and_keeps_all_it_held(place: Path, revision: str) -> None:
    engine = opening._engine(place, place)
    with opening.writing(engine) as connection:
        opening._upgrade(connection, revision)
    engine.dispose()
    versions = ", 1, 1" if revision == "2" else ""
    with closing(sqlite3.connect(place)) as raw, raw:
        names = "(name, text, created_on, sha256" + (", version, current)" if versions else ")")
        raw.execute(
            f"INSERT INTO tickets {names} VALUES (?, ?, ?, ?{versions})",
            (TICKET.name, TICKET.text, TICKET.created_on, TICKET.sha256),
        )
    with open_store(place) as opened:
        assert opened.ticket(TICKET.name) == TICKET
        assert opened.bought_patterns() == opened.makes() == ()
        opened.keep_bought_pattern(PATTERN)
        opened.keep_make(MAKE)
        assert opened.bought_pattern(PATTERN.name) == PATTERN
        assert opened.make(MAKE.name) == MAKE
    assert place.with_name(f"shelf-before-revision-{NEWEST}.sqlite").exists()


def test_a_store_that_was_seeded_before_there_was_a_shelf_gets_the_demo_patterns(place: Path) -> None:
    with open_store(place) as opened:
        seed_demo(opened)
        opened.forget_body("Juno")
        for pattern in opened.bought_patterns():
            opened.forget_bought_pattern(pattern.name)
    with closing(sqlite3.connect(place)) as raw, raw:
        raw.execute("DELETE FROM flags WHERE name = 'tide_mill_shelf'")
        raw.execute("DELETE FROM bought_patterns")
    with open_store(place) as opened:
        assert seed_demo(opened) is True
        assert len(opened.bought_patterns()) == len(bought_scenario()[0]) >= 4
        assert "Juno" not in [body.name for body in opened.bodies()]
        assert seed_demo(opened) is False


@pytest.mark.parametrize(
    "change",
    [
        "UPDATE bought_patterns SET text = replace(text, '104', '140')",
        "UPDATE makes SET fit_class = 'snug'",
        "UPDATE makes SET sizes = '{'",
        "UPDATE makes SET make = 'felt'",
        "UPDATE judgements SET verdict = 'nice'",
        "UPDATE judgements SET level = 'elsewhere' WHERE level = 'hip'",
    ],
)
def test_a_row_that_no_clothwise_wrote_is_not_believed(store: Store, place: Path, change: str) -> None:
    store.keep_bought_pattern(PATTERN)
    store.keep_make(MAKE)
    with closing(sqlite3.connect(place)) as raw, raw:
        raw.execute(change)
    with pytest.raises(StoreError, match=r"What the store holds about .* is damaged"):
        _ = store.bought_patterns(), store.makes()


def test_numbers_that_are_none_are_refused_and_nothing_is_half_written(store: Store, place: Path) -> None:
    store.keep_body(ADA)
    store.keep_cloth(GINGHAM)
    before = content(place)
    with pytest.raises(StoreError, match="ease"):
        store.keep_make(replace(MAKE, judgements=(Judgement("hip", float("nan"), "right"),)))
    assert content(place) == before
