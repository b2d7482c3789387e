"""The race: what the packer finds is in it, whenever it stops, and without the packer there is a lay too."""

from __future__ import annotations

import time
from dataclasses import replace

import pytest

from clothwise.lay.layering import SINGLE
from clothwise.lay.nofit import NoFits
from clothwise.lay.packing import kinds, packable
from clothwise.lay.plan import LayPlan
from clothwise.lay.planning import plan
from clothwise.lay.problem import LayCloth, LayPiece, LayProblem
from clothwise.lay.search import Effort
from clothwise.lay.verify import faults
from clothwise.race import packing, racing
from clothwise.race.packing import Packer
from clothwise.race.racing import CLEARING, OPENING, race

from .laid_by_hand import problem, rectangle

A_HAIR = 0.001  # cm
LATE = 2.0  # seconds: what a busy machine may add to a race
PIECES = (
    LayPiece("wedge", "Wedge", ((0, 0), (30, 0), (0, 22)), 6, mirrored_pair=True),
    LayPiece("hook", "Hook", ((0, 0), (24, 0), (24, 8), (8, 8), (8, 26), (0, 26)), 6),
    LayPiece("yoke", "Yoke", ((0, 0), (20, 0), (16, 9), (0, 9)), 2, on_fold=True, fold_edge=((0, 0), (0, 9))),
)
ASKED = LayProblem(PIECES, LayCloth(90, None, "two-way"), gap=0.4)


def until_told(packer: Packer) -> None:
    for _ in range(300):
        if packer.told:
            return
        time.sleep(0.05)
    raise AssertionError("the packer said nothing in 15 seconds")


def test_the_packer_tells_every_lay_at_once_and_its_newest_counts_when_it_is_stopped():
    packer = Packer(ASKED, NoFits(), 30)
    try:
        until_told(packer)
        assert not packer.ended()
    finally:
        packer.end()
    assert packer.ended()
    made = packer.lay(CLEARING)
    assert made is not None
    assert made.verified
    assert faults(made) == ()
    assert made.length <= packer.told[-1]["width"] * 1.0005, (
        "pressed together, it is no longer than it was told"
    )


def test_a_race_is_never_longer_than_what_the_packer_in_it_found(monkeypatch):
    found: list[LayPlan | None] = []
    widths: list[float] = []
    lay = Packer.lay

    def listened(packer: Packer, effort: Effort) -> LayPlan | None:
        found.append(lay(packer, effort))
        widths.extend(one["width"] for one in packer.told)
        return found[-1]

    monkeypatch.setattr(Packer, "lay", listened)
    begun = time.monotonic()
    made = race(ASKED, seconds=4)
    assert time.monotonic() - begun < 4 + LATE
    assert made.verified
    assert found[0] is not None
    assert made.length <= found[0].length <= min(widths) * 1.0005
    assert max(widths) > min(widths) * 1.01, "the newest lay is not as good as any"
    assert made.length < plan(ASKED, SINGLE, effort=OPENING).length - 1, "and well below where it opened"


def test_where_the_packer_gives_up_the_own_search_has_all_the_time(monkeypatch):
    monkeypatch.setattr(packing, "strip_height", lambda asked: 5.0)  # nothing goes in: it can only give up
    begun = time.monotonic()
    made = race(ASKED, seconds=3)
    assert 2 < time.monotonic() - begun < 3 + LATE
    assert faults(made) == ()
    assert made.length < plan(ASKED, SINGLE, effort=OPENING).length - 1


def test_who_watches_ends_the_race_with_a_verified_lay():
    begun = time.monotonic()
    made = race(ASKED, seconds=60, watch=lambda made: time.monotonic() - begun < 1)
    assert time.monotonic() - begun < 1 + LATE + 2
    assert made.verified


def test_few_pieces_or_stripes_are_no_matter_for_the_packer(monkeypatch):
    def refuse(*_: object, **__: object) -> None:
        raise AssertionError("the packer was begun")

    monkeypatch.setattr(racing, "Packer", refuse)
    made = race(problem((LayPiece("patch", "Patch", rectangle(30, 40), 5),), 100), seconds=1)
    assert made.length == pytest.approx(80, abs=0.1)  # three abreast, then two
    flawed = replace(ASKED, cloth=replace(ASKED.cloth, flaws=(((10, 10), (12, 10), (12, 12), (10, 12)),)))
    assert not packable(flawed)
    assert faults(race(flawed, seconds=1)) == ()


def test_a_lay_that_lacks_a_piece_is_passed_over_for_the_one_before():
    packer = Packer(ASKED, NoFits(), 30)
    try:
        until_told(packer)
    finally:
        packer.end()
    whole = packer.told[-1]
    packer.told.append(whole | {"placed": whole["placed"][1:]})
    made = packer.lay(CLEARING)
    assert made is not None
    assert len(made.placements) == sum(kind.count for kind in kinds(ASKED, NoFits()))
