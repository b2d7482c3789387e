"""`clothwise lay` as a person types it: an answer in 80 columns and for programs, or one clear sentence."""

from __future__ import annotations

import json
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from clothwise.cli import main
from clothwise.cloth import Cloth
from clothwise.store.demo import scenario
from clothwise.ticket import Ticket
from clothwise.ticket.ticket import OtherCloth
from clothwise.ticket.writing import write_ticket


@pytest.fixture
def lay(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]):
    monkeypatch.setenv("CLOTHWISE_STORE", str(tmp_path / "store.sqlite"))
    monkeypatch.chdir(tmp_path)

    def run(*words: str) -> tuple[int, str, str]:
        monkeypatch.setattr(sys, "argv", ["clothwise", "lay", *words, "--effort", "quick"])
        with pytest.raises(SystemExit) as left:
            main()
        out, err = capsys.readouterr()
        return int(left.value.code or 0), out, err

    return run


SKIRT = ("four_panel_skirt", "--for", "Marit")
TWO_ISLANDS = "0,0 40,0 40,40 80,40 80,80 40,80 40,40 0,40"


def test_the_least_length_comes_with_how_to_fold_and_what_to_cut(lay, tmp_path):
    code, out, _ = lay(*SKIRT, "--width", "140", "--out", "lay.svg")
    assert code == 0
    assert " m, " in out
    assert "Cut Front panel and Back panel through" in " ".join(out.split())
    assert all(len(line) <= 80 for line in out.splitlines())
    assert (tmp_path / "lay.svg").read_text().startswith("<?xml")


def test_simpler_lays_and_other_cloths_are_told_beside_the_shortest(lay):
    code, out, _ = lay("sweatshirt", "--for", "Marit", "--width", "150", "--json")
    assert code == 0
    told = json.loads(out)
    cuts = [told["lay"]["cuts"], *(one["cuts"] for one in told["simpler"])]
    lengths = [told["lay"]["length"], *(one["length"] for one in told["simpler"])]
    assert len(cuts) >= 2
    assert cuts == sorted(set(cuts), reverse=True)  # ever fewer cuts
    assert lengths == sorted(lengths)  # for ever more cloth
    assert told["other_layers"] == {"rib": ["Cuff", "Hem band"]}
    _, out, _ = lay("sweatshirt", "--for", "Marit", "--width", "150")
    said = " ".join(out.split())
    assert "Simpler to cut: " in said
    assert "Also cut from rib: Cuff, Hem band (--layer rib)." in said
    assert "(once with the paper turned over)" in said


def test_several_widths_make_a_table_and_a_width_too_narrow_says_so(lay):
    code, out, _ = lay(*SKIRT, "--width", "150", "--width", "20", "--width", "1.4 m")
    assert code == 0
    rows = out.splitlines()[2:]
    assert [row.split()[0] for row in rows] == ["20", "140", "150"]
    assert "too narrow" in rows[0]


def test_does_it_fit_answers_yes_or_no_with_the_reason(lay):
    code, out, _ = lay(*SKIRT, "--width", "140", "--length", "150")
    assert code == 0
    assert "Yes, it fits" in out
    assert "79 cm of it in the whole width" in " ".join(out.split())
    code, out, _ = lay(*SKIRT, "--width", "140", "--length", "60", "--json")
    assert code == 1
    told = json.loads(out)
    assert told["verdict"] == "impossible"
    assert "m²" in told["reason"]


def test_on_cloth_that_is_long_enough_no_more_is_taken_than_is_needed(lay):
    _, out, _ = lay("button_front_shirt", "--for", "Pilar", "--width", "148", "--json")
    needed = json.loads(out)["lay"]["length"]
    code, out, _ = lay("button_front_shirt", "--for", "Pilar", "--width", "148", "--length", "260", "--json")
    assert (code, json.loads(out)["lay"]["length"]) == (0, needed)


def test_a_little_off_the_grain_and_either_side_out_are_freedoms_of_the_lay(lay):
    trousers = ("pull_on_trousers", "--for", "Marit", "--width", "140", "--nap", "one-way", "--json")
    _, out, _ = lay(*trousers)
    strict = json.loads(out)["lay"]
    _, out, _ = lay(*trousers, "--lean", "2")
    leaning = json.loads(out)["lay"]
    assert leaning["length"] < strict["length"] + 0.5  # this quick search need not find what leaning saves
    assert {one["angle"] for one in strict["placements"]} == {0}
    assert all(min(one["angle"], 360 - one["angle"]) <= 2 for one in leaning["placements"])
    code, out, _ = lay(*trousers, "--two-right-sides")
    assert (code, json.loads(out)["lay"]["verified"]) == (0, True)


def test_what_does_not_fit_is_told_the_least_change_that_makes_it_fit(lay):
    code, out, _ = lay("four_panel_skirt", "--for", "Pilar", "--width", "140", "--length", "75")
    assert code == 1
    assert "It would fit: 3 cm shorter, on 0.74 m (--set longer=-3.0)." in " ".join(out.split())
    code, out, _ = lay(
        "four_panel_skirt",
        "--for",
        "Pilar",
        "--width",
        "140",
        "--length",
        "75",
        "--set",
        "longer=-3.0",
        "--json",
    )
    assert (code, json.loads(out)["verdict"]) == (0, "yes")
    code, out, _ = lay("four_panel_skirt", "--for", "Pilar", "--width", "140", "--length", "20", "--json")
    assert (code, "change" in json.loads(out)) == (1, False)  # nothing small would help


def test_for_programs_the_lay_tells_its_places_sequence_and_what_is_left(lay):
    _, out, _ = lay(*SKIRT, "--cloth", "Grey-green linen", "--json")
    told = json.loads(out)
    assert told["verdict"] == "yes"
    assert told["lay"]["verified"]
    assert told["lay"]["sequence"]
    assert len(told["lay"]["left_over"][0]) >= 4


def test_folded_as_she_says_also_crosswise(lay):
    _, out, _ = lay(*SKIRT, "--width", "140", "--layering", "crosswise")
    assert "Fold the cut end over" in out
    _, out, _ = lay(*SKIRT, "--width", "140", "--layering", "partial 62")
    assert "until 62.0 cm lie double" in out


def test_folded_as_she_says_it_must_go_onto_the_cloth_too(lay, tmp_path):
    code, out, _ = lay(*SKIRT, "--width", "140", "--length", "50", "--layering", "centre", "--out", "lay.svg")
    assert code == 1
    assert (
        "The shortest lay found, selvedges to the centre, needs 71.1 cm, 21.1 cm more than there is."
        in " ".join(out.split())
    )
    assert not (tmp_path / "lay.svg").exists()
    code, out, _ = lay(*SKIRT, "--width", "140", "--length", "50", "--layering", "centre", "--json")
    assert (code, json.loads(out)["verdict"]) == (1, "not found")
    code, out, _ = lay(*SKIRT, "--width", "140", "--length", "72", "--layering", "centre")
    assert (code, "Fold both selvedges" in out) == (0, True)


def test_how_long_it_can_be_on_this_cloth(lay):
    code, out, _ = lay(*SKIRT, "--width", "140", "--length", "72", "--longest", "--json")
    assert code == 0
    told = json.loads(out)
    assert told["choice"] == "longer"
    assert told["lay"]["length"] <= 72
    assert told["reason"].startswith("1 cm longer: Piece 'Front panel' is ")
    _, out, _ = lay(*SKIRT, "--width", "140", "--length", "30", "--longest")
    assert "Not even the shortest goes on it. 20 cm shorter: " in " ".join(out.split())


@pytest.mark.parametrize(
    ("words", "said", "code"),
    [
        ((), "On which cloth?", 1),
        (("--width", "wide"), "cannot be read as a length", 2),
        (("--width", "-140"), "less than nothing", 2),
        (("--width", "5"), "wide", 1),
        (("--remnant", "0,0 100,0"), "2 points", 1),
        (("--remnant", "0,0 100,100 100,0 0,100.5"), "crosses itself", 1),
        (("--remnant", TWO_ISLANDS), "islands", 1),
        (("--remnant", "0,0 nan,0 50,50"), "not a number", 1),
        (("--remnant", "0,0 100 50,50"), "not a corner", 1),
        (("--remnant", "0,0 99,0 99,90", "--width", "140"), "by its corners", 1),
        (("--width", "140", "--flaw", "500,500 510,500 510,510"), "beside the cloth", 1),
        (("--width", "140", "--nap", "upwards"), "not known", 1),
        (("--width", "140", "--layering", "in thirds"), "not a way to lay", 1),
        (("--width", "140", "--layering", "partial 90"), "cannot be made", 1),
        (("--width", "140", "--first-bar", "3"), "Which stripes", 1),
        (("--width", "140", "--bars", "0.1"), "cannot be matched", 1),
        (("--width", "140", "--layer", "silver"), "Nothing of it is cut from", 1),
        (("--width", "140", "--gap", "20"), "gap", 1),
        (("--width", "140", "--lean", "20"), "off its grain", 1),
        (("--width", "140", "--lean", "nan"), "off its grain", 1),
        (("--cloth", "Nobody's"), "Nobody", 1),
        (("--width", "140", "--longest"), "How much cloth", 1),
    ],
)
def test_what_cannot_be_is_refused_in_one_clear_sentence(lay, words, said, code):
    left, out, err = lay(*SKIRT, *words)
    assert said in err
    assert left == code
    assert out == ""
    assert "Traceback" not in err


def test_a_draft_wants_a_body_and_a_ticket_wants_none(lay, tmp_path):
    code, _, err = lay("four_panel_skirt", "--width", "140")
    assert (code, "For whom?" in err) == (1, True)
    (tmp_path / "t.toml").write_text("ticket = 1")
    code, _, err = lay("t.toml", "--for", "Marit")
    assert (code, "by itself" in err) == (1, True)


def test_what_a_ticket_cuts_from_another_cloth_is_not_laid_on_the_first(lay, tmp_path):
    linen, scrap = Cloth("Linen", 138, 240, kind="linen"), Cloth("Lawn scrap", 90, 60, kind="cotton lawn")
    whole = Ticket("Skirt", "a_line_skirt", {"waist": "facing with zip"}, body=scenario()[0][0], cloth=linen)
    facings = ("front_facing", "back_facing")
    divided = replace(whole, other_cloths=(OtherCloth(facings, scrap),))
    (tmp_path / "t.toml").write_text(write_ticket(divided))
    code, out, _ = lay("t.toml", "--json")
    told = json.loads(out)
    assert code == 0
    assert not {one["piece"] for one in told["lay"]["placements"]} & set(facings)
    assert len(told["other_layers"]["Lawn scrap"]) == 2


def test_what_is_too_wide_is_offered_a_join_and_a_remnant_is_told_by_its_size(lay):
    code, out, _ = lay("circle_skirt", "--for", "Marit", "--width", "115", "--tricks")
    assert code == 1
    assert "Not as it is" in out
    assert "makes it possible" in " ".join(out.split())
    assert "Then it fits" not in out
    code, out, _ = lay("circle_skirt", "--for", "Marit", "--width", "115", "--length", "170", "--tricks")
    assert code == 1
    assert "Then it fits." in out
    code, out, _ = lay("darted_shift", "--for", "Marit", "--width", "112", "--tricks")
    assert "Done already in the lay above" in out
    corners = "0,0 150,0 150,70 100,80 90,120 0,115"
    code, out, _ = lay(*SKIRT, "--remnant", corners, "--flaw", "30,50 36,48 38,56 31,57")
    assert code == 0
    assert "a remnant of" in out
    assert "1 flaw" in out
    assert all(len(line) <= 80 for line in out.splitlines())


def test_checks_are_matched_and_said(lay):
    code, out, _ = lay(*SKIRT, "--width", "150", "--bars", "9", "--stripes", "6")
    assert code == 0
    told = " ".join(out.split())
    assert "repeat 9 cm along and 6 cm across" in told
    assert "they meet at side seam" in told


def test_uneven_checks_keep_every_piece_one_way_in_a_single_layer(lay):
    wanted = ("--width", "150", "--bars", "9", "--stripes", "6", "--uneven", "--json")
    _, out, _ = lay(*SKIRT, *wanted)
    told = json.loads(out)["lay"]
    assert told["layering"] == "single layer"
    assert {one["angle"] for one in told["placements"]} == {0}
