"""What is carried along: files of others by their hash, our own scripts small and whole."""

from __future__ import annotations

import hashlib
import re
import tomllib
from pathlib import Path

import pytest

from clothwise.web.files import HERE, fetched

VENDOR = Path(__file__).parent / "vendor"
LONGEST_SCRIPT = 300  # lines: one gesture, one file


def test_files_of_others_are_the_ones_that_were_looked_at() -> None:
    listed = tomllib.loads((VENDOR / "VENDOR.toml").read_text(encoding="utf-8"))["file"]
    for one in listed:
        data = (VENDOR / one["path"]).read_bytes()
        assert hashlib.sha256(data).hexdigest() == one["sha256"], one["path"]
        assert (VENDOR / one["licence_text"]).exists()
    assert {one["path"] for one in listed} | {"VENDOR.toml"} == {file.name for file in VENDOR.iterdir()}


@pytest.mark.parametrize("file", sorted(HERE.glob("*.js")), ids=lambda file: file.name)
def test_a_script_is_small_and_fetches_only_what_is_here(file: Path) -> None:
    text = file.read_text(encoding="utf-8")
    assert text.count("\n") < LONGEST_SCRIPT
    assert text.startswith("// ") or file.name == "takeaway.js", "it says what it is"
    for name in re.findall(r"""from '\./([\w.]+)'|import '\./([\w.]+)'""", text):
        assert "".join(name) in fetched(), f"{file.name} asks for {name}"
    assert not re.search(r"https?://(?!www\.w3\.org)", text)
    assert "eval(" not in text


@pytest.mark.parametrize("file", sorted(HERE.glob("*.css")), ids=lambda file: file.name)
def test_colours_stand_in_one_place(file: Path) -> None:
    if file.name in ("tokens.css", "takeaway.css"):
        return
    found = re.findall(r"#[0-9a-f]{3,8}\b", re.sub(r"@media print \{.*", "", file.read_text(), flags=re.DOTALL))
    assert [colour for colour in found if colour != "#fff"] == [], (
        "name it in tokens.css, for day and lamp light"
    )


def test_every_file_a_template_names_is_there() -> None:
    for template in (HERE.parent / "templates").glob("*.html"):
        for name in re.findall(r"/static/([\w.-]+)", template.read_text(encoding="utf-8")):
            assert name in fetched(), f"{template.name} asks for {name}"
