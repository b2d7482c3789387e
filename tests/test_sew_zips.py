"""Zips: centred, lapped or invisible, each at its time and said as it is sewn."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from itertools import product

import pytest

from clothwise.cloth import Cloth
from clothwise.draft import pattern
from clothwise.errors import GarmentError
from clothwise.garment import Garment
from clothwise.garment.haberdashery import haberdashery
from clothwise.sew import Sewer, Step, alternatives, minutes, order_of_work
from clothwise.sew.contents import BookletContent, told
from clothwise.sew.pictures import step_picture
from clothwise.sew.step import Way
from clothwise.sew.step_check import check_steps
from clothwise.sew.words import step_words
from tests.sewn_by_hand import marit
from tests.sewn_garments import gathered_skirt

LINEN = Cloth("Linen", 140, 250, kind="linen")
JERSEY = Cloth("Jersey", 150, 250, make="knit", kind="single jersey", stretch_across=0.4)
WAYS: tuple[Way, ...] = ("centred", "lapped", "invisible")
ZIPPED: tuple[tuple[str, dict[str, float | str]], ...] = (
    ("a_line_skirt", {}),
    ("a_line_skirt", {"waist": "facing with zip", "pockets": "side seam"}),
    ("circle_skirt", {"waist": "facing with zip"}),
    ("bias_skirt", {}),
    ("gathered_skirt", {"waist": "band with zip"}),
    ("darted_shift", {"back_opening": "zip", "sleeve": "short"}),
)


@cache
def zipped() -> tuple[Garment, ...]:
    return (gathered_skirt(), *(pattern(name).make(marit(), wish) for name, wish in ZIPPED))


def steps_of(garment: Garment, way: Way, cloth: Cloth = LINEN) -> tuple[Step, ...]:
    return order_of_work(garment, cloth, Sewer(), preferring={"zip": way})


def said(garment: Garment, way: Way, kind: Callable[[Step], bool]) -> str:
    return " ".join(" ".join(step_words(s, garment).do) for s in steps_of(garment, way) if kind(s))


@pytest.mark.parametrize("way", WAYS)
def test_every_zip_can_be_set_every_way(way: Way) -> None:
    for garment, cloth in product(zipped(), (LINEN, JERSEY)):
        steps = steps_of(garment, way, cloth)
        assert check_steps(garment, steps, cloth) == (), (garment.name, way)
        assert step_picture(garment, steps, next(s.number for s in steps if s.kind == "zip")).items


def test_an_invisible_zip_goes_in_before_the_seam_below_it_any_other_after() -> None:
    for garment, way in product(zipped(), WAYS):
        steps = steps_of(garment, way)
        zip_, below = (next(s.number for s in steps if f(s)) for f in (is_zip, runs_into))
        assert (zip_ < below) == (way == "invisible")


def is_zip(step: Step) -> bool:
    return step.kind == "zip"


def runs_into(step: Step) -> bool:
    return bool(step.beside_zip)


def test_the_check_sees_a_zip_set_at_the_wrong_time() -> None:
    garment = gathered_skirt()
    for way, wrong in (("invisible", "cannot be reached"), ("centred", "not sewn yet")):
        other: Way = "centred" if way == "invisible" else "invisible"
        steps = [replace(s, way=way) if is_zip(s) else s for s in steps_of(garment, other)]  # type: ignore[arg-type]
        assert wrong in " ".join(fault.what for fault in check_steps(garment, steps, LINEN))


def test_each_way_is_said_as_it_is_sewn() -> None:
    garment = gathered_skirt()
    assert "Baste the opening shut" in said(garment, "centred", is_zip)
    assert "reach" in said(garment, "lapped", is_zip)
    assert "1.2 cm from the fold" in said(garment, "lapped", is_zip)
    assert "face down on the right side of its edge" in said(garment, "invisible", is_zip)
    assert "where the stitching of the zip ends" in said(garment, "invisible", runs_into)
    assert "opening above unsewn" in said(garment, "lapped", runs_into)


def test_an_invisible_zip_is_bought_as_such() -> None:
    garment, sewer = zipped()[1], Sewer()
    for way in WAYS:
        steps = steps_of(garment, way)
        time = minutes(garment, steps, LINEN, sewer)
        made = BookletContent(garment, steps, time, LINEN, sewer, notions=haberdashery(garment))
        bought = " ".join(what for what, _ in told(made, {})["notions"])
        assert ("concealed" in bought) == (way == "invisible")


def test_the_ways_are_offered_and_no_others() -> None:
    garment = gathered_skirt()
    offered = [a.other for a in alternatives(garment, LINEN, Sewer()) if a.seam == "zip"]
    assert offered == ["lapped", "invisible"]
    with pytest.raises(GarmentError, match=r"'zip' \(centred or lapped or invisible\)"):
        order_of_work(garment, LINEN, Sewer(), preferring={"zip": "flat"})
