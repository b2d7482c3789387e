"""`clothwise size` and `clothwise shelf` as typed: they read well on 80 columns, and never crash."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from clothwise.body import Body, Measure
from clothwise.size.words import TOGETHER
from clothwise.store import open_store, seed_demo
from tests.cli_tools import ask, run

CHART = """size,12/14,16/18,20/22
Bust (in),34-36,38-40,42-44
Waist,70-76,80-86,90-96
Fringe,1,2,3
"""


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("size")


ASKED = [
    ("swing", "--for", "Marit"),
    ("swing", "--for", "Marit", "--view", "B", "--unit", "inch"),
    ("straight skirt", "--for", "Marit", "--cloth", "Washed denim"),
    (
        "straight skirt",
        "--for",
        "Pilar",
        "--width",
        "112",
        "--nap",
        "one-way",
        "--longer",
        "12",
        "--ease",
        "hip=9",
    ),
    ("knit top", "--for", "Pilar", "--cloth", "Sluice jersey", "--unit", "inch"),
    ("knit top", "--for", "Marit", "--cloth", "White poplin"),
    ("work shirt", "--for", "Osei"),
    ("play trousers", "--for", "Juno", "--cloth", "Rust corduroy"),
    ("straight skirt", "--for", "Osei"),
]


@pytest.mark.parametrize("words", ASKED, ids=" ".join)
def test_the_answer_reads_on_80_columns_in_both_units(place: Path, words: tuple[str, ...]) -> None:
    shown = ask(place, "size", *words)
    assert shown.returncode == 0, shown.stderr
    lines = shown.stdout.splitlines()
    assert max(map(len, lines)) <= 80
    assert re.search(r"^  Cut ", shown.stdout, re.MULTILINE)
    assert "\nWhy\n" in shown.stdout
    for odd in ("None", "nan", "{", "}", "  .", "..", "_", "mappingproxy", "-0 "):
        assert odd not in shown.stdout, odd
    if "inch" in words:
        assert not re.search(r"\d cm\b", shown.stdout)
    else:
        assert not re.search(r"\d in\b(?! the| ten)", shown.stdout)
    sentences = [part for part in re.split(r"\n  ?- ", shown.stdout)[1:] if part]
    assert all(sentence.split("\n\n")[0].rstrip().endswith((".", "?")) for sentence in sentences)


def test_the_answer_for_programs_says_the_same(place: Path) -> None:
    told = json.loads(ask(place, "size", "straight skirt", "--for", "Marit", "--width", "140", "--json").stdout)
    shown = ask(place, "size", "straight skirt", "--for", "Marit", "--width", "140").stdout
    assert told["headline"] in " ".join(shown.split())
    assert set(told["sizes"]) == {"waist", "hip"}
    assert told["confidence"] in ("sure", "likely")
    assert [level["level"] for level in told["levels"]] == ["waist", "hip"]
    assert told["cloth_needs"]["main"]["steps"] == ["lay"]
    assert all(passage["goes"] for passage in told["passages"])
    alone = [one for one in told["reasons"] if one["kind"] not in TOGETHER]
    assert alone
    for reason in alone:
        assert reason["words"] in " ".join(shown.split())


def test_what_is_said_alike_of_several_levels_is_said_once(place: Path) -> None:
    (place / "plain.csv").write_text("size,12,14\nbust,88,92\nwaist,70,74\nhip,96,100\n")
    ask(place, "shelf", "table", "Plain tide", "plain.csv", "--new")
    shown = " ".join(ask(place, "size", "plain tide", "--for", "Marit").stdout.split())
    assert "no finished bust, waist or hip: 7, 6 and 7.5 cm of ease are assumed" in shown
    assert shown.count("Measure the pieces once") == 1
    swing = " ".join(ask(place, "size", "swing", "--for", "Marit").stdout.split())
    assert "Waist and hip hang free" in swing
    ask(place, "shelf", "forget", "Plain tide")


def test_a_length_is_never_torn_from_its_fraction_or_unit(place: Path) -> None:
    for words in (("swing", "--for", "Marit", "--view", "B"), ("knit top", "--for", "Pilar")):
        for unit in ("cm", "inch"):
            lines = ask(place, "size", *words, "--unit", unit).stdout.splitlines()
            for line, following in pairwise(lines):
                ends, begins = line.split()[-1:], following.split()[:1]
                torn = ends and begins and ends[0].isdigit() and re.match(r"\d+/\d+|cm\b|in\b", begins[0])
                assert not torn, (line, following)


def test_grave_doubts_stand_before_what_rests_on_them(place: Path) -> None:
    (place / "mixed.csv").write_text("size,12,14,16\nbust,88,92,97\nwaist,26 1/2,28,31\nhip,96,100,105\n")
    ask(place, "shelf", "table", "Mixed tide", "mixed.csv", "--new")
    shown = ask(place, "size", "mixed tide", "--for", "Marit").stdout
    assert "inches perhaps" in shown
    assert "Doubts about the chart" not in shown.split("\nWhy\n")[-1]
    ask(place, "shelf", "forget", "Mixed tide")


def test_cloth_is_told_for_the_size_and_length_that_are_cut(place: Path) -> None:
    """Juno's roomy length is the 128's; Pilar's 5 cm are laid; a cloth too narrow does not lose the size."""
    juno = json.loads(ask(place, "size", "play", "--for", "Juno", "--width", "140", "--json").stdout)
    assert juno["growing"]["roomy_size"] == juno["cloth_needs"]["main"]["size"] == "128"
    assert juno["cloth_needs"]["main"]["likely"] == 115
    longer = ask(place, "size", "straight", "--for", "Pilar", "--width", "90", "--longer", "5").stdout
    assert "from a real lay of the pieces, 5 cm longer" in " ".join(longer.split())
    washed = json.loads(
        ask(place, "size", "play", "--for", "Juno", "--width", "140", "--shrinks", "8", "--json").stdout
    )
    assert washed["cloth_needs"]["main"]["likely"] == pytest.approx(115 / 0.92)
    twice = ask(place, "size", "play", "--for", "Juno", "--cloth", "Rust corduroy", "--shrinks", "8")
    assert (twice.returncode, "own shrinkage" in twice.stderr) == (2, True)
    narrow = ask(place, "size", "straight", "--for", "Pilar", "--width", "20")
    assert narrow.returncode == 0
    assert "Take wider cloth" in narrow.stdout


def test_the_command_itself_answers(place: Path) -> None:
    done = run(place, "size", "straight skirt", "--for", "Marit")
    assert done.returncode == 0, done.stderr
    assert done.stdout == ask(place, "size", "straight skirt", "--for", "Marit").stdout


def test_slips_of_the_tape_are_asked_about_before_the_cut(place: Path) -> None:
    with open_store(place / "store.sqlite") as store:
        seed_demo(store)
        marit = store.body("Marit")
        store.keep_body(replace(marit.with_measures(waist_girth=102, hip_girth=79), name="Swapped"))
        store.keep_body(Body("Baby", "girl", {"height": Measure(74), "hip_girth": Measure(46)}, age_years=1))
    swapped = ask(place, "size", "straight skirt", "--for", "Swapped")
    assert "Before you cut" in swapped.stdout
    baby = ask(place, "size", "play", "--for", "Baby")
    assert baby.returncode == 1
    assert "could not be estimated" in baby.stdout


def test_who_fits_nowhere_gets_a_refusal_not_a_size(place: Path) -> None:
    done = ask(place, "size", "swing", "--for", "Juno")
    assert done.returncode == 1
    assert "No size of this pattern can be told" in done.stdout


def test_a_chart_from_the_command_line_becomes_a_size(place: Path) -> None:
    (place / "chart.csv").write_text(CHART)
    added = ask(place, "shelf", "table", "Found in a box", "chart.csv", "--new", "--garment", "top")
    assert added.returncode == 0, added.stderr
    assert "86.4-91.4" in added.stdout
    assert "Fringe" in added.stdout
    advice = json.loads(ask(place, "size", "found in", "--for", "Marit", "--json").stdout)
    assert advice["sizes"]["bust"] == "16/18"
    assert advice["confidence"] == "likely"
    assert {reason["kind"] for reason in advice["reasons"]} >= {"no finished measure"}
    assert ask(place, "shelf", "forget", "found in").returncode == 0
    assert ask(place, "size", "found in", "--for", "Marit").returncode == 1


def test_a_childs_chart_is_begun_for_a_child_and_doubts_are_told_by_the_row(place: Path) -> None:
    (place / "child.csv").write_text(
        "Age,4-5,6-7,8-9\nHeight,104-110,116-122,128-134\nChest,57-59,61-63,66-69\n"
    )
    words = ("shelf", "table", "Two tides", "child.csv", "--new", "--garment", "top")
    unsaid = ask(place, *words)
    assert unsaid.stdout.count("\n- ") == 1, unsaid.stdout
    assert "a child's measures" in unsaid.stdout
    said = ask(place, *words, "--figure", "girl", "--fit", "loose", "--stretch", "0.4")
    assert said.returncode == 0, said.stderr
    assert "Doubts" not in said.stdout
    assert "Loose top for a girl, knit cloth; stretch of 40% or more" in said.stdout
    (place / "fall.csv").write_text("size,S,M,L\nbust,92,88,84\n")
    falling = ask(place, "shelf", "table", "Two tides", "fall.csv", "--new").stdout
    assert "Body chart: bust of M and L is less than the size before" in falling
    ask(place, "shelf", "forget", "Two tides")


def test_a_pattern_file_goes_on_the_shelf_and_comes_back(place: Path) -> None:
    (place / "apron.toml").write_text(
        'name = "Ferry apron"\ngarment = "top"\nsizes = ["S", "M"]\n[body]\nbust = [90, 39]\n', encoding="utf-8"
    )
    added = ask(place, "shelf", "add", "apron.toml")
    assert added.returncode == 0, added.stderr
    assert "Doubts" in added.stdout
    assert "Ferry apron" in ask(place, "shelf", "list").stdout
    shown = ask(place, "shelf", "show", "ferry")
    assert max(map(len, shown.stdout.splitlines())) <= 80
    assert json.loads(ask(place, "shelf", "show", "ferry", "--json").stdout)["name"] == "Ferry apron"
    ask(place, "shelf", "forget", "Ferry apron")


@pytest.mark.parametrize("pattern", ["swing", "straight", "knit", "shirt", "play"])
@pytest.mark.parametrize("unit", ["cm", "inch"])
def test_every_pattern_on_the_shelf_is_shown_on_80_columns(place: Path, pattern: str, unit: str) -> None:
    shown = ask(place, "shelf", "show", pattern, "--unit", unit)
    assert shown.returncode == 0, shown.stderr
    assert max(map(len, shown.stdout.splitlines())) <= 80
    assert "Not understood" not in shown.stdout
    assert "Doubts" not in shown.stdout


def test_how_a_make_turned_out_changes_the_next_size(place: Path) -> None:
    ask_again = ("size", "straight skirt", "--for", "Pilar", "--json")
    before = json.loads(ask(place, *ask_again).stdout)
    for day in range(1, 6):
        done = ask(
            place, "shelf", "judge", "straight skirt", "--for", "Pilar", "--size", "18", "--size", "hip=20",
            "--say", "hip=tight", "--say", "waist=right", "--on", f"2026-10-0{day}",
        )  # fmt: skip
        assert done.returncode == 0, done.stderr
    after = json.loads(ask(place, *ask_again).stdout)

    def hip(told: dict) -> tuple[float, str]:  # type: ignore[type-arg]
        level = next(level for level in told["levels"] if level["level"] == "hip")
        return level["wanted"], level["size"]

    assert hip(after)[0] > hip(before)[0] + 3
    assert int(hip(after)[1]) > int(hip(before)[1])
    assert "likes" in {reason["kind"] for reason in after["reasons"]}


@pytest.mark.parametrize(
    ("words", "code", "says"),
    [
        (("size", "nothing like it", "--for", "Marit"), 1, "no bought pattern"),
        (("size", "Mill", "--for", "Marit"), 1, "Say which"),
        (("size", "swing", "--for", "Nobody"), 1, "Nobody"),
        (("size", "swing", "--for", "Marit", "--view", "Z"), 2, "no view"),
        (("size", "swing", "--for", "Marit", "--cloth", "Cobweb"), 1, "Cobweb"),
        (("size", "swing", "--for", "Marit", "--ease", "nose=3"), 2, "nose"),
        (("size", "swing", "--for", "Marit", "--ease", "upper_arm=3"), 2, "upper_arm"),
        (("size", "swing", "--for", "Marit", "--width", "wide"), 2, "wide"),
        (("size", "swing", "--for", "Marit", "--unit", "ell"), 2, "ell"),
        (("shelf", "add", "nowhere.toml"), 2, "nowhere.toml"),
        (("shelf", "table", "swing", "nowhere.csv"), 2, "nowhere.csv"),
        (("shelf", "table", "swing", "empty.csv"), 2, "cannot be read as a table"),
        (("shelf", "judge", "straight", "--for", "Marit", "--size", "16", "--say", "hip=nice"), 2, "verdict"),
        (("shelf", "judge", "straight", "--for", "Marit", "--size", "99", "--say", "hip=tight"), 2, "99"),
        (("shelf", "judge", "straight", "--for", "Marit", "--size", "16", "--say", "thigh=tight"), 2, "thigh"),
        (
            ("shelf", "judge", "straight", "--for", "Marit", "--size", "16", "--say", "hip=tight", "--on", "x"),
            2,
            "date",
        ),
    ],
)
def test_a_wrong_word_gets_one_sentence(place: Path, words: tuple[str, ...], code: int, says: str) -> None:
    (place / "empty.csv").write_text("\n")
    done = ask(place, *words)
    assert done.returncode == code, (done.stdout, done.stderr)
    assert says in done.stderr
