"""Pleats in the order of work: laid flat, once, before their seam, told and pictured; the rest is gathered."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwise.alter import apart, pleated
from clothwise.cloth import Cloth
from clothwise.draft import pattern
from clothwise.errors import GarmentError
from clothwise.garment import Garment
from clothwise.garment.check import check
from clothwise.sew import Sewer, order_of_work, proved_order
from clothwise.sew.language import FILES
from clothwise.sew.pictures import step_picture
from clothwise.sew.pleats import pleats_of, taken
from clothwise.sew.step import Step
from clothwise.sew.step_check import check_steps
from clothwise.sew.words import step_words
from tests.sewn_by_hand import marit

LINEN = Cloth("Linen", 140, 250, kind="linen")
NUMBER, DEPTH = 2, 3.0


def banded() -> Garment:
    """Gathered already: what the pleats leave is gathered between them."""
    return pleated(pattern("gathered_skirt").make(marit(), {"waist": "band with zip"}), "waist", "front_panel",
                   NUMBER, DEPTH)  # fmt: skip


def cuffed() -> Garment:
    """A sleeve laid in pleats into its shut band: nothing is left to gather."""
    return pleated(pattern("robe").make(marit(), {}), "armhole", "sleeve", NUMBER, 1.5)


def steps_of(garment: Garment) -> list[Step]:
    return list(proved_order(garment, LINEN, Sewer()))


def named(steps: list[Step], name: str) -> Step:
    return next(step for step in steps if step.name == name)


@pytest.mark.parametrize(("make", "seam"), [(banded, "waist"), (cuffed, "armhole")])
def test_pleats_are_laid_and_basted_flat_before_their_seam(make, seam: str):
    garment = make()
    steps = steps_of(garment)
    laying = named(steps, f"{seam} pleats")
    assert laying.number < next(step.number for step in steps if seam in step.seams)
    assert laying.number < min(step.number for step in steps if step.kind == "seam"), "while all lies flat"
    copies = {run.copy for run in laying.edges}
    assert len(copies) == 2, "either half or side"
    assert laying.count == NUMBER * len(copies)
    assert laying.stitch is not None
    assert laying.stitch.length_mm > 4, "basting is pulled out again: long stitches"
    assert laying.minutes.likely > 0


def test_a_pleat_takes_up_what_its_lines_are_apart():
    garment = banded()
    found = pleats_of(garment.piece("front_panel"), "waist")
    assert [pleat.takes for pleat in found] == pytest.approx([2 * DEPTH] * NUMBER, abs=0.01)
    assert taken(garment, garment.seam("waist").a) == pytest.approx(2 * 2 * NUMBER * DEPTH, abs=0.05)


def test_what_pleats_leave_of_the_width_is_gathered_and_nothing_where_they_take_all():
    with_gathers = steps_of(banded())
    seam = named(with_gathers, "waist")
    assert named(with_gathers, "waist gathered").number == seam.number - 1
    plain = pattern("gathered_skirt").make(marit(), {"waist": "band with zip"})
    assert seam.ratio == pytest.approx(plain.seam("waist").ratio, abs=0.01), "as full as it was without pleats"
    all_taken = steps_of(cuffed())
    assert all(step.kind != "gather" for step in all_taken)
    assert next(step for step in all_taken if "armhole" in step.seams).ratio == 1.0


@pytest.mark.parametrize("make", [banded, cuffed])
def test_pleats_forgotten_laid_twice_or_too_late_are_noticed(make):
    garment = make()
    steps = list(order_of_work(garment, LINEN, Sewer()))
    at = next(i for i, step in enumerate(steps) if step.kind == "pleat")
    sewn = next(i for i, step in enumerate(steps) if step.kind == "seam" and steps[at].name[:-7] in step.seams)
    late = [*steps[:at], *steps[at + 1 : sewn + 1], steps[at], *steps[sewn + 1 :]]
    for broken, says in (
        (steps[:at] + steps[at + 1 :], "before its pleats are laid"),
        (steps[: at + 1] + steps[at:], "are not laid, each once"),
        (late, "no pleat can be laid in it"),
    ):
        numbered = [replace(step, number=n) for n, step in enumerate(broken, 1)]
        assert any(says in fault.what for fault in check_steps(garment, numbered, LINEN)), says


@pytest.mark.parametrize("code", FILES)
def test_the_step_says_how_long_the_edge_must_be_and_shows_where_each_fold_goes(code: str):
    garment = cuffed()
    steps = steps_of(garment)
    step = named(steps, "armhole pleats")
    told = " ".join(step_words(step, garment, code=code).do)
    run = step.edges[0]
    long = garment.length((run,)) - 2 * 1.5 * NUMBER
    assert f"{round(2 * long) / 2:g}".replace(".", "," if code == "de" else ".") in told
    assert step_picture(garment, steps, step.number).alt == "pleats"


def test_pleats_stay_when_left_and_right_are_told_apart():
    single = apart(banded())
    assert check(single) == ()
    assert named(steps_of(single), "waist pleats").count == 2 * NUMBER


def test_pleats_between_darts_are_refused_with_the_reason():
    with pytest.raises(GarmentError, match="shaped by darts"):
        pleated(pattern("a_line_skirt").make(marit(), {}), "waist", "front_panel", 2, 2.0)
