"""The command line as a person uses it: a ticket in, the same packet out each time, or one clear sentence."""

from __future__ import annotations

import json
from pathlib import Path

import pypdfium2
import pytest

from tests.cli_tools import ask, run

TICKET = """
ticket = 1
name = "Tuesday skirt"
made_on = "2026-11-24"
[pattern]
name = "four_panel_skirt"
choices = { length = "knee", pockets = "patch" }
[body]
name = "Marit"
[cloth]
name = "Grey-green linen"
[sewer]
name = "Marit"
skill = "beginner"
"""
FILES = {
    "ticket.toml", "pattern.pdf", "pattern.svg", "lay.svg", "lay.pdf", "booklet.pdf", "card.pdf", "steps.html",
    "list.txt", "packet.json",
}  # fmt: skip


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("cli")


@pytest.fixture(scope="module")
def packet(place: Path) -> Path:
    (place / "short.toml").write_text(TICKET)
    done = run(place, "make", "short.toml", "--out", "one", "--json")
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout)["name"] == "Tuesday skirt"
    return place / "one"


def test_a_packet_holds_all_its_files(packet: Path):
    assert {file.name for file in packet.iterdir()} == FILES


def test_the_whole_ticket_of_a_packet_makes_the_same_packet_byte_for_byte(place: Path, packet: Path):
    done = run(place, "make", "one/ticket.toml", "--out", "two")
    assert done.returncode == 0, done.stderr
    for file in packet.iterdir():
        assert file.read_bytes() == (place / "two" / file.name).read_bytes(), file.name


def test_the_figures_agree_with_the_files(packet: Path):
    figures = json.loads((packet / "packet.json").read_text())
    assert figures["lay"]["verified"]
    assert figures["lay"]["length"] <= figures["cloth"]["length"]
    assert figures["body"]["measures"]["hip_girth"]["cm"] < figures["garment"]["finished"]["hip"]
    assert len(pypdfium2.PdfDocument(packet / "pattern.pdf")) == figures["paper"]["sheets"]
    assert figures["minutes"]["low"] < figures["minutes"]["likely"] < figures["minutes"]["high"]
    assert figures["minutes"]["print_tape"] > 0
    words = (packet / "list.txt").read_text()
    for piece in figures["garment"]["pieces"]:
        assert piece["title"] in words
    assert set(figures["files"]) == FILES


def test_suggestions_read_on_a_terminal_and_by_a_program(place: Path):
    shown = ask(place, "suggest", "--for", "Juno", "--hours", "3", "--most", "3")
    assert shown.returncode == 0, shown.stderr
    assert max(len(line) for line in shown.stdout.splitlines()) <= 80
    told = json.loads(ask(place, "suggest", "--for", "Juno", "--hours", "3", "--json").stdout)
    assert told["answers"][0]["title"] in shown.stdout
    drafted = [answer for answer in told["answers"] if answer["made_from"] == "draft"]
    assert drafted
    assert all(answer["lay"]["verified"] for answer in drafted)
    assert all(answer["need"] for answer in told["answers"] if answer["made_from"] != "draft")


@pytest.mark.parametrize(
    ("words", "code", "says"),
    [
        (("suggest", "--for", "Nobody"), 1, "Nobody"),
        (("suggest", "--for", "Marit", "--hours", "-3"), 1, "hours"),
        (("suggest", "--for", "Marit", "--skill", "godlike"), 2, "godlike"),
        (("make", "nowhere.toml", "--out", "x"), 1, "nowhere.toml"),
        (("make", "broken.toml", "--out", "x"), 2, "cannot be read"),
        (("make", "narrow.toml", "--out", "x"), 1, "wide"),
        (("make", "negative.toml", "--out", "x"), 2, "cloth.length"),
        (("draft", "ballgown", "--for", "Marit", "--out", "x.svg"), 1, "ballgown"),
        (("draft", "four_panel_skirt", "--for", "Marit", "--out", "x.doc"), 1, ".svg"),
        (("draft", "four_panel_skirt", "--for", "Marit", "--set", "flare=wide", "--out", "x.svg"), 1, "number"),
        (("draft", "four_panel_skirt", "--for", "Marit", "--set", "flare", "--out", "x.svg"), 1, "KEY=VALUE"),
        (("dance",), 2, "dance"),
    ],
)
def test_a_wrong_word_gets_one_sentence_and_leaves_nothing(
    place: Path, words: tuple[str, ...], code: int, says: str
):
    (place / "broken.toml").write_text(TICKET[:60])
    narrow = TICKET.replace('name = "Grey-green linen"', 'name = "Ribbon"\nwidth = 20\nlength = 300')
    (place / "narrow.toml").write_text(narrow)
    (place / "negative.toml").write_text(narrow.replace("300", "-300"))
    done = (run if words[0] == "dance" else ask)(place, *words)  # once as a program of its own
    assert done.returncode == code, done.stderr
    assert says in done.stderr
    assert "Traceback" not in done.stderr
    assert not list(place.glob("x*"))
    assert not list(place.glob(".x*"))


SWAPPED = TICKET.replace(
    'name = "Marit"\n[cloth]',
    'name = "Marit"\nfigure = "woman"\n'
    "measures = { height = 168, bust_girth = 94, waist_girth = 102, hip_girth = 79 }\n[cloth]",
)


def test_waist_and_hip_swapped_is_asked_about_wherever_it_could_be_cut(place: Path):
    (place / "swapped.toml").write_text(SWAPPED)
    done = ask(place, "make", "swapped.toml", "--out", "asked")
    assert done.returncode == 0, done.stderr  # asked, never overruled
    assert "Before you cut" in done.stdout
    figures = json.loads((place / "asked" / "packet.json").read_text())
    assert len(figures["doubts"]) >= 1
    assert "waist" in figures["doubts"][0]
    assert "hip" in figures["doubts"][0]
    assert figures["doubts"][0] in (place / "asked" / "list.txt").read_text()
    assert "body_rise" in figures["estimated"]


def test_measures_confirmed_are_asked_about_no_more(place: Path):
    (place / "sure.toml").write_text(
        SWAPPED.replace("[cloth]", 'confirmed = ["height", "bust_girth", "waist_girth", "hip_girth"]\n[cloth]')
    )
    done = ask(place, "make", "sure.toml", "--out", "sure", "--json")
    assert json.loads(done.stdout)["doubts"] == []


def test_a_draft_can_be_checked_and_drawn(place: Path):
    assert ask(place, "check", "pull_on_trousers", "--for", "Osei").returncode == 0
    drawn = ask(place, "draft", "pull_on_trousers", "--for", "Pilar", "--set", "leg=wide", "--out", "legs.pdf")
    assert drawn.returncode == 0, drawn.stderr
    assert (place / "legs.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize("command", ["patterns", "bodies", "cupboard"])
def test_shelf_and_cupboard_are_shown(place: Path, command: str):
    assert ask(place, command).returncode == 0
    assert json.loads(ask(place, command, "--json").stdout)


def test_a_backup_is_a_store_again(place: Path):
    assert ask(place, "backup", "--out", "copy.sqlite").returncode == 0
    again = ask(place, "backup", "--out", "copy.sqlite")
    assert again.returncode == 1
    assert "overwrites nothing" in again.stderr


def test_a_draft_is_altered_as_asked_and_says_so(place: Path, tmp_path: Path):
    out = str(tmp_path / "trousers.svg")
    altered = ("draft", "pull_on_trousers", "--for", "Marit", "--out", out)
    done = ask(place, *altered, "--figure", "seat=1.5", "--lengthen", "knee=3")
    assert done.returncode == 0, done.stderr
    assert "full seat, 1.5 cm" in done.stdout
    assert "3.0 cm longer below the knee" in done.stdout
    wrong = ask(place, *altered, "--lengthen", "elbow=3")
    assert wrong.returncode == 1
    assert "No piece of it has a line 'elbow'" in wrong.stderr
