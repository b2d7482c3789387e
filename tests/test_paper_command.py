"""`clothwise print` and `clothwise sizes` as a person uses them; one process, no store but a fresh one."""

from __future__ import annotations

import json
from pathlib import Path

import ezdxf
import pikepdf
import pypdfium2 as pdfium
import pytest
from typer.testing import CliRunner, Result

from clothwise.cli.app import app
from clothwise.errors import LengthError, WorkroomError

from . import paper_reading as read

SKIRT = ("print", "four_panel_skirt", "--for", "Marit")


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("print")


def run(place: Path, *words: str) -> Result:
    environment = {"CLOTHWISE_STORE": str(place / "store.sqlite"), "COLUMNS": "200"}
    return CliRunner().invoke(app, [word.replace("@", f"{place}/") for word in words], env=environment)


def figures(place: Path, *words: str) -> dict[str, object]:
    done = run(place, *words, "--json")
    assert done.exit_code == 0, (done.output, done.exception)
    return json.loads(done.stdout)  # type: ignore[no-any-return]


def test_sheets_of_any_size_and_a_torn_one_again_by_name_or_page(place: Path) -> None:
    all_of_it = figures(place, *SKIRT, "--out", "@a.pdf")
    pdf = pdfium.PdfDocument(place / "a.pdf")
    assert len(pdf) == all_of_it["pages"]
    labels = [pdf.get_page_label(n) for n in range(len(pdf))]
    assert labels[1:] == all_of_it["sheets"]
    again = figures(place, *SKIRT, "--only", labels[2].lower(), "--only", "5", "--out", "@b.pdf")
    assert again["sheets"] == [labels[2], labels[4]]
    first = figures(place, *SKIRT, "--only", "1", "--out", "@b.pdf")
    assert (first["pages"], first["sheets"]) == (1, [])
    figures(
        place, *SKIRT, "--sheet", "12in x 18in", "--overlap", "0", "--lying", "landscape", "--out", "@c.pdf"
    )
    width, height = (v / read.CM for v in pdfium.PdfDocument(place / "c.pdf")[1].get_size())
    assert (width, height) == (pytest.approx(45.72, abs=0.01), pytest.approx(30.48, abs=0.01))


def test_a_roll_a_projector_and_a_screen(place: Path) -> None:
    figures(place, *SKIRT, "--on", "roll", "--width", "60", "--out", "@roll.pdf")
    assert pdfium.PdfDocument(place / "roll.pdf")[0].get_size()[0] / read.CM == pytest.approx(60, abs=0.01)
    figures(place, *SKIRT, "--on", "projector", "--table", "100 x 80", "--out", "@p.pdf")
    assert pdfium.PdfDocument(place / "p.pdf")[0].get_size()[0] / read.CM == pytest.approx(100, abs=0.01)
    assert run(place, *SKIRT, "--out", "@s.html").exit_code == 0
    assert "<svg" in (place / "s.html").read_text()


def test_a_nest_of_the_houses_sizes(place: Path) -> None:
    found = figures(
        place, "print", "pull_on_trousers", "--nest", "girls", "--sizes", "110-122", "--out", "@n.pdf"
    )
    said = pdfium.PdfDocument(place / "n.pdf")[0].get_textpage().get_text_range()
    assert found["problems"] == []
    assert "size 110 to 122" in said.replace("\r\n", " ")


def test_chosen_pieces_in_sizes_in_lengths_and_of_what_has_changed(place: Path) -> None:
    def said(file: str) -> str:
        pdf = pdfium.PdfDocument(place / file)
        return " ".join(pdf[n].get_textpage().get_text_range() for n in range(len(pdf)))

    only = ("--piece", "back_panel", "--json")
    run(place, *SKIRT[:2], "--nest", "women", "--sizes", "84-92", *only, "--out", "@n.pdf")
    run(place, *SKIRT, "--lengths", "mini, knee", *only, "--out", "@l.pdf")
    run(place, "draft", *SKIRT[1:], "--out", "@old.json")
    shorter = ("--set", "longer=-4")
    run(place, *SKIRT, *shorter, "--earlier", "@old.json", *only, "--out", "@c.pdf")
    for file in ("n.pdf", "l.pdf", "c.pdf"):
        assert "Back panel" in said(file), file
        assert "Front panel" not in said(file), file


def test_a_nest_for_other_programs_holds_every_size(place: Path) -> None:
    done = run(place, *SKIRT[:2], "--nest", "women", "--sizes", "84-92", "--out", "@n.dxf")
    assert done.exit_code == 0, done.output
    blocks = {block.name for block in ezdxf.readfile(place / "n.dxf").blocks}
    assert {f"BACK_PANEL-{size}" for size in ("84", "88", "92")} <= blocks


def test_a_layer_left_out_is_not_in_the_file(place: Path) -> None:
    run(place, *SKIRT, "--without", "seam line", "--without", "words", "--out", "@w.pdf")
    with pikepdf.open(place / "w.pdf") as pdf:
        assert {str(g.Name) for g in pdf.Root.OCProperties.OCGs} == {"cut line", "marks", "sheet"}
    run(place, *SKIRT, "--without", "seam line", "--out", "@w.html")
    page = (place / "w.html").read_text()
    assert "seam-line" not in page
    assert "cut-line" in page


def test_only_what_has_changed_since_the_pieces_were_kept(place: Path) -> None:
    assert run(place, "draft", *SKIRT[1:], "--out", "@old.json").exit_code == 0
    changed = (*SKIRT, "--set", "longer=-4", "--earlier", "@old.json", "--out", "@ch.pdf")
    assert figures(place, *changed)["pages"] < figures(place, *SKIRT, "--out", "@a.pdf")["pages"]  # type: ignore[operator]
    same = run(place, *SKIRT, "--earlier", "@old.json", "--out", "@x.pdf")
    assert "Nothing differs" in str(same.exception)
    assert not (place / "x.pdf").exists()


def test_a_work_ticket_is_printed_as_it_says_and_against_an_earlier_one(place: Path) -> None:
    ticket = """
ticket = 1
name = "Skirt"
made_on = 2026-11-25
[pattern]
name = "four_panel_skirt"
[body]
name = "Marit"
[cloth]
name = "Grey-green linen"
"""
    (place / "t.toml").write_text(ticket)
    shorter = "choices = { longer = -4 }"
    (place / "u.toml").write_text(ticket.replace('"four_panel_skirt"', f'"four_panel_skirt"\n{shorter}'))
    whole = figures(place, "print", f"{place}/t.toml", "--out", "@t.pdf")
    first = pdfium.PdfDocument(place / "t.pdf")[0].get_textpage().get_text_range()
    assert "for Marit · 2026-11-25 · ticket" in first
    some = figures(place, "print", f"{place}/u.toml", "--earlier", f"{place}/t.toml", "--out", "@u.pdf")
    assert some["pages"] < whole["pages"]  # type: ignore[operator]
    done = run(place, "print", f"{place}/gone.toml", "--out", "@x.pdf")
    assert "cannot be read" in str(done.exception)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--sheet", "3 x 4"), "leave 1.0 x 2.0 cm"),
        (("--sheet", "A44"), "no sheet size 'A44'"),
        (("--margin", "12"), "Margins of 12 cm"),
        (("--overlap", "9"), "more than a third"),
        (("--lying", "sideways"), "'sideways'"),
        (("--piece", "collar"), "no piece 'collar'"),
        (("--only", "Z9"), "no sheet 'Z9'"),
        (("--on", "wall"), "on 'wall'"),
        (("--on", "roll", "--width", "12"), "12 cm wide"),
        (("--on", "projector", "--table", "wide"), "not two lengths"),
        (("--on", "roll", "--earlier", "old.json"), "goes with sheets"),
        (("--on", "roll", "--only", "A1"), "goes with sheets"),
        (("--earlier", "old.json", "--nest", "women"), "do not go together"),
        (("--nest", "women", "--sizes", "84", "--piece", "collar"), "no piece 'collar'"),
        (("--nest", "women", "--without", "words", "--out", "@refused.dxf"), "not with the file"),
        (("--lengths", " , "), "which lengths"),
        (("--without", "pictures"), "'pictures' cannot be left out"),
        (("--without", "sheet"), "'sheet' cannot be left out"),
        (("--nest", "women", "--for", "Marit"), "not to a body"),
        (("--nest", "giants"), "no sizes of 'giants'"),
        (("--nest", "women", "--sizes", "81-90"), "no sizes from 81 to 90"),
        (("--nest", "girls"), "14 sizes cannot be nested"),
    ],
)
def test_what_cannot_be_printed_is_refused_with_what_would_help(
    place: Path, words: tuple[str, ...], says: str
) -> None:
    whose = SKIRT[:2] if "--nest" in words and "--earlier" not in words else SKIRT
    done = run(place, *whose, "--out", "@refused.pdf", *words)
    assert isinstance(done.exception, WorkroomError), done.output
    assert says in str(done.exception)
    assert done.exception.mend
    assert not (place / "refused.pdf").exists()


def test_a_length_that_is_none_is_refused(place: Path) -> None:
    assert isinstance(run(place, *SKIRT, "--margin", "much", "--out", "@r.pdf").exception, LengthError)


def test_the_sizes_are_told(place: Path) -> None:
    done = run(place, "sizes", "men")
    assert done.exit_code == 0
    assert "bust girth" in done.stdout
    rows = json.loads(run(place, "sizes", "boys", "--json").stdout)
    assert rows[0]["measures"]["height"]["cm"] == 92
