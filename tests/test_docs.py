"""What the pages say can be done: verbs and commands exist, links lead somewhere, the words are all there."""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from clothwise.shelf.doubts import doubts
from clothwise.shelf.reading import read_pattern

ROOT = Path(__file__).resolve().parents[1]
PAGES = sorted([*ROOT.glob("*.md"), *(ROOT / "docs").rglob("*.md")])
VERBS = ("start", "clothwise", "test", "check", "bench", "help")

FENCE = re.compile(r"^```\w*\n(.*?)^```", re.MULTILINE | re.DOTALL)
INLINE = re.compile(r"`(\./run [^`]*)`")
LINK = re.compile(r"!?\[[^\]]*\]\(([^)\s]+)(?:\s+\"[^\"]*\")?\)")


def run(*words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run([str(ROOT / "run"), *words], capture_output=True, text=True, timeout=120)


@cache
def commands_of_clothwise() -> str:
    command = Path(sys.executable).with_name("clothwise")
    return subprocess.run([command, "--help"], capture_output=True, text=True, check=True).stdout


def commands_on(page: Path) -> Iterator[list[str]]:
    """The words after ./run of every command in a fence or in running text."""
    text = page.read_text(encoding="utf-8")
    lines = [line for block in FENCE.findall(text) for line in block.splitlines()]
    for line in [*lines, *INLINE.findall(FENCE.sub("", text))]:
        line = line.strip().removeprefix("$ ")
        if line.startswith("./run "):
            yield shlex.split(line, comments=True)[1:]


def written_commands() -> list[tuple[str, list[str]]]:
    return [(page.name, words) for page in PAGES for words in commands_on(page)]


def anchors_of(page: Path) -> set[str]:
    """The fragments that headings of a page answer to."""
    text = FENCE.sub("", page.read_text(encoding="utf-8"))
    headings = re.findall(r"^#+\s+(.*)$", text, re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", heading.lower()).strip().replace(" ", "-") for heading in headings}


def test_help_names_every_verb() -> None:
    page = run("help")
    assert page.returncode == 0
    listed = re.findall(r"^  (\w+)", page.stdout, re.MULTILINE)
    assert listed == list(VERBS)
    assert run().stdout == page.stdout, "a stranger who types ./run alone is told what there is"


@pytest.mark.parametrize(("page", "words"), written_commands(), ids=lambda value: str(value))
def test_a_command_on_a_page_can_be_typed(page: str, words: list[str]) -> None:
    verb, *rest = words
    assert verb in VERBS, f"{page} names ./run {verb}"
    if verb == "bench":
        assert rest[0] in run("help").stdout.split()
    if verb == "clothwise" and rest and not rest[0].startswith("-"):
        assert re.search(rf"\b{re.escape(rest[0])}\b", commands_of_clothwise()), (
            f"{page} names clothwise {rest[0]}"
        )


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_links_on_a_page_lead_somewhere(page: Path) -> None:
    broken = []
    for target in LINK.findall(FENCE.sub("", page.read_text(encoding="utf-8"))):
        if "://" in target:
            continue
        name, _, fragment = target.partition("#")
        there = page if not name else (page.parent / name).resolve()
        if not there.exists() or (fragment and fragment not in anchors_of(there)):
            broken.append(target)
    assert broken == []


def test_a_wrong_verb_or_benchmark_is_answered_in_a_sentence() -> None:
    verb = run("dance")
    assert verb.returncode == 2
    assert verb.stderr.startswith("There is no verb 'dance'.")
    for words in (("bench",), ("bench", "dance")):
        bench = run(*words)
        assert bench.returncode == 2
        assert re.fullmatch(r"There is no benchmark '\w*': choose one of [\w ]+\.\n", bench.stderr)


def test_the_script_needs_a_new_enough_python(tmp_path: Path) -> None:
    """In a bare copy without a Python that will do, it says what to install, and leaves nothing behind."""
    for name in ("run", "pyproject.toml", "constraints.txt"):
        (tmp_path / name).write_bytes((ROOT / name).read_bytes())
    (tmp_path / "bin").mkdir()
    for tool in ("bash", "cat", "sha256sum", "cut", "dirname", "tail", "id", "grep", "rm", "flock"):
        found = next((Path(p) / tool for p in os.defpath.split(":") if (Path(p) / tool).exists()), None)
        if found:
            (tmp_path / "bin" / tool).symlink_to(found)
    old = tmp_path / "bin" / "python3"
    answer = subprocess.run(
        ["bash", str(tmp_path / "run"), "check"],
        env={"PATH": str(tmp_path / "bin")},
        capture_output=True,
        text=True,
    )
    assert answer.returncode == 1
    assert "needs Python 3.11 or newer and found none" in answer.stderr
    old.write_text('#!/bin/bash\ncase "$*" in *ensurepip*) exit 1;; *) exit 0;; esac\n')
    old.chmod(0o755)
    answer = subprocess.run(
        ["bash", str(tmp_path / "run"), "check"],
        env={"PATH": str(tmp_path / "bin")},
        capture_output=True,
        text=True,
    )
    assert answer.returncode == 1
    assert "apt-get install python3-venv" in answer.stderr
    assert not (tmp_path / ".venv").exists()


def test_glossary_words_stand_there_once() -> None:
    rows = re.findall(r"^\| ([^|]+?) \|", (ROOT / "GLOSSARY.md").read_text(encoding="utf-8"), re.MULTILINE)
    words = [row for row in rows if row not in ("word", "unit")]
    assert len(words) == len(set(words)) > 30


def test_the_licence_is_whole() -> None:
    text = (ROOT / "LICENSE").read_text(encoding="utf-8")
    assert "Version 2.0, January 2004" in text
    assert "END OF TERMS AND CONDITIONS" in text
    assert [n for n in range(1, 10) if not re.search(rf"^   {n}\. ", text, re.MULTILINE)] == []


def test_the_pattern_file_on_its_page_is_read_without_a_problem() -> None:
    text = (ROOT / "docs" / "bought-patterns.md").read_text(encoding="utf-8")
    (example,) = re.findall(r"^```toml\n(.*?)^```", text, re.MULTILINE | re.DOTALL)
    reading = read_pattern(example)
    assert reading.problems == ()
    assert doubts(reading.pattern) == ()
    assert {row.nap for row in reading.pattern.cloth} == {"two-way", "one-way"}
