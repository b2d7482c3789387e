"""What finished makes teach: the pace of one sewer, from the store to the suggestion and the ticket."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from clothwise.cli.app import app
from clothwise.cloth import Cloth
from clothwise.errors import StoreError
from clothwise.sew import Sewer
from clothwise.sew.log import Logged, after
from clothwise.store import Store, open_store
from clothwise.store.log_book import log, logged_makes
from clothwise.ticket import Ticket, write_ticket
from clothwise.ticket.planned import planned_minutes
from tests.sewn_by_hand import marit

LINEN = Cloth("Blue linen", 140, 300, kind="linen")


def ticket(name: str = "Skirt", pattern: str = "a_line_skirt", sewer: str = "Marit") -> Ticket:
    who = Sewer(sewer, "practised")
    return Ticket(
        name, pattern, body=marit(), cloth=LINEN, sewer=who, body_name="Marit", cloth_name="Blue linen"
    )


def store_at(folder: Path) -> Store:
    return open_store(folder / "store.db")


def test_pace_closes_in_on_what_she_takes_and_one_slow_evening_does_not_make_her_slow() -> None:
    sewer = Sewer("Marit", "practised")
    makes = [Logged("a_line_skirt", 200.0, 260.0, f"2026-01-{day:02}") for day in range(1, 25)]
    for number in range(1, len(makes) + 1):
        assert 1.0 < after(sewer, makes[:number]).pace < 1.3  # drawn towards it, never past it
    assert after(sewer, makes).pace == pytest.approx(1.3, abs=0.05)
    assert after(sewer, makes[:1]).pace < 1.12
    assert after(sewer, makes).logged == len(makes)


def test_the_order_in_which_makes_are_given_does_not_matter_their_days_do() -> None:
    makes = [Logged("a", 100, taken, f"2026-0{i}-01") for i, taken in enumerate((90, 150, 120), 1)]
    assert after(Sewer(), makes) == after(Sewer(), makes[::-1])


def test_only_makes_of_the_pattern_count_as_times_made() -> None:
    makes = [Logged("robe", 100, 100, "2026-01-01"), Logged("apron", 100, 100, "2026-01-02")]
    assert after(Sewer(), makes, "robe").times_made == 1


def test_a_log_in_the_store_is_read_back_for_its_sewer_alone(tmp_path: Path) -> None:
    mine, other = ticket(), ticket("Osei's apron", "apron", "Osei")
    with store_at(tmp_path) as store:
        for one, minutes in ((mine, 330.0), (other, 100.0)):
            log(store, one, write_ticket(one), minutes, "2026-11-25")
        makes, lost = logged_makes(store, "Marit")
    assert lost == ()
    assert [(make.pattern, make.taken, make.made_on) for make in makes] == [
        ("a_line_skirt", 330.0, "2026-11-25")
    ]
    assert makes[0].planned == pytest.approx(planned_minutes(mine))


@pytest.mark.parametrize("minutes", [0.1, 12.0, 9000.0])
def test_a_clock_that_was_forgotten_teaches_no_pace(tmp_path: Path, minutes: float) -> None:
    with store_at(tmp_path) as store:
        log(store, ticket(), write_ticket(ticket()), minutes, "2026-11-25")
        assert logged_makes(store, "Marit") == ((), ())


@pytest.mark.parametrize(("minutes", "on"), [(0, "2026-11-25"), (-5, "2026-11-25"), (90, "yesterday")])
def test_a_log_that_cannot_be_is_refused_and_nothing_kept(tmp_path: Path, minutes: float, on: str) -> None:
    with store_at(tmp_path) as store:
        with pytest.raises(StoreError, match=r"not possible|no date"):
            log(store, ticket(), write_ticket(ticket()), minutes, on)
        assert store.tickets() == ()


@pytest.fixture
def file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    monkeypatch.setenv("CLOTHWISE_STORE", str(tmp_path / "store.db"))
    kept = tmp_path / "skirt.toml"
    kept.write_text(write_ticket(ticket()), encoding="utf-8")
    return str(kept)


def run(*words: str) -> str:
    done = CliRunner().invoke(app, list(words))
    assert done.exit_code == 0, done.output
    return done.output


def test_from_the_command_line_a_log_tells_the_pace(file: str) -> None:
    figures = json.loads(run("log", file, "--minutes", "500", "--on", "2026-11-25", "--json"))
    assert figures["logged"] == figures["times_made"] == 1
    assert figures["pace"] > 1.0
    assert "pace = " in run("log", file, "--minutes", "500", "--on", "2026-11-25")


def test_steps_lists_the_order_and_the_other_ways(file: str) -> None:
    usual = run("steps", file)
    assert "--way 'zip=lapped'" in usual
    assert usual.index("Centre back seam") < usual.index("Zip, about")
    other = run("steps", file, "--way", "zip=invisible", "--language", "de")
    assert other.index("Reißverschluss, etwa") < other.index("Hintere Mittelnaht")
    figures = json.loads(run("steps", file, "--json"))
    assert {one["other"] for one in figures["alternatives"]} == {"lapped", "invisible"}
    assert figures["steps"][0]["kind"] == "mark"


@pytest.mark.parametrize("wrong", ["zip", "zip=glued", "=flat", "hem=flat"])
def test_a_way_that_is_none_is_refused(file: str, wrong: str) -> None:
    assert CliRunner().invoke(app, ["steps", file, "--way", wrong]).exit_code != 0
