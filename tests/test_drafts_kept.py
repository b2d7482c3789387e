"""A sweep of drafts that was ended goes on where it was, and begins anew when garments are drawn otherwise."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

from benchmarks.drafts_kept import Found, Kept, Wish, digest

from clothwise.body import sample
from clothwise.draft import pattern

ONE = Found(drawn=3, refused=1, faults=Counter({"kink": 2}), worst={"kink": "broken: somewhere"})


def test_what_was_found_is_there_when_the_sweep_begins_again(tmp_path: Path) -> None:
    kept = Kept(tmp_path, "apron", "as drawn")
    kept.keep("real adults 0", ONE)
    kept.keep("real adults 1", Found(drawn=8))
    with (tmp_path / "apron.jsonl").open("a") as file:
        file.write('["real adults 2", {"drawn": 8, "ref')  # ended here
    again = Kept(tmp_path, "apron", "as drawn")
    assert again.found("real adults 0") == ONE
    assert again.found("real adults 2") is None
    again.keep("real adults 2", Found(drawn=7))
    assert Kept(tmp_path, "apron", "as drawn").found("real adults 2") == Found(drawn=7)


def test_garments_drawn_otherwise_are_swept_anew(tmp_path: Path) -> None:
    Kept(tmp_path, "apron", "as drawn").keep("real adults 0", ONE)
    assert Kept(tmp_path, "apron", "drawn otherwise").found("real adults 0") is None


def test_without_a_folder_nothing_is_kept(tmp_path: Path) -> None:
    kept = Kept(None, "apron")
    kept.keep("real adults 0", ONE)
    assert kept.found("real adults 0") is None


def test_a_digest_tells_a_body_or_a_choice_that_gives_another_garment() -> None:
    draft, bodies = pattern("apron"), sample("woman", 3, 5)
    ends: list[Wish] = [{}, {"longer": 1.0}]
    found = digest(draft, bodies, ends)
    assert found == digest(draft, bodies, ends)
    assert found != digest(draft, bodies, [{}, {"longer": 1.001}])
    assert found != digest(draft, sample("woman", 3, 6), ends)
