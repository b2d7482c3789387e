"""What the booklet says of this cloth before and while it is sewn: notches, pile, a knit at rest, the needle;
and what is slept in bears its caution from whatever cloth it is cut."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from clothwise.cloth import Cloth
from clothwise.draft import PATTERNS
from clothwise.garment import Garment
from clothwise.garment.haberdashery import haberdashery
from clothwise.sew import Sewer, minutes, order_of_work
from clothwise.sew.booklet import BookletContent
from clothwise.sew.cautions import SLEPT_IN, cautions
from clothwise.sew.contents import told
from clothwise.sew.words import step_words
from clothwise.suggest.wants import WANTS
from tests.sewn_by_hand import marit, skirt, trousers
from tests.sewn_garments import knit_tee

POPLIN = Cloth("Poplin", 148, 260, kind="poplin", grams_per_m2=115)
LINEN = Cloth("Linen", 140, 250, kind="linen", grams_per_m2=185)
VELVET = Cloth("Velvet", 140, 250, kind="velvet", grams_per_m2=280, nap="one-way")
JERSEY = Cloth("Jersey", 150, 250, make="knit", kind="single jersey", stretch_across=0.4)
PLAIN_KNIT = Cloth("Some knit", 150, 250, make="knit", grams_per_m2=200, stretch_across=0.3)


def notching(garment: Garment, cloth: Cloth) -> str:
    (mark,) = [s for s in order_of_work(garment, cloth, Sewer()) if s.kind == "mark"]
    return next(said for said in step_words(mark, garment).do if "notch" in said)


def booklet_of(garment: Garment, cloth: Cloth) -> dict[str, Any]:
    steps = order_of_work(garment, cloth, Sewer())
    return told(
        BookletContent(
            garment,
            steps,
            minutes(garment, steps, cloth, Sewer()),
            cloth,
            Sewer(),
            notions=haberdashery(garment),
        ),
        {},
    )


@pytest.mark.parametrize("cloth", [JERSEY, PLAIN_KNIT])
def test_a_knit_is_never_snipped_at_its_notches(cloth: Cloth) -> None:
    """A ladder runs from the cut, into the seam and beyond it."""
    said = notching(knit_tee(), cloth)
    assert said.startswith("Chalk")
    assert "Do not snip" in said


def test_a_cloth_that_frays_is_told_the_same_at_its_step_as_in_its_hints() -> None:
    said = booklet_of(skirt(), LINEN)
    assert any("do not snip" in tip for tip in said["tips"])
    assert "Do not snip" in notching(skirt(), LINEN)


def test_a_firm_cloth_may_be_snipped_short_of_its_seams() -> None:
    said = notching(trousers(), POPLIN)
    assert said.startswith("Snip each notch no deeper than 3 mm")
    assert min(edge.allowance for piece in trousers().pieces for edge in piece if edge.notches) > 0.3


def test_a_pile_is_told_both_ways_and_to_keep_to_one() -> None:
    (said,) = [tip for tip in booklet_of(skirt(), VELVET)["tips"] if "pile" in tip]
    for word in ("upwards", "deeper", "downwards", "cleaner", "Choose one"):
        assert word in said


def test_a_knit_rests_before_it_is_cut_and_a_woven_need_not() -> None:
    rests = [any("lie flat" in one for one in booklet_of(g, cloth)["before"])
             for g, cloth in ((knit_tee(), JERSEY), (trousers(), POPLIN))]  # fmt: skip
    assert rests == [True, False]


def test_how_long_a_needle_lasts_is_said_where_it_is_put_in() -> None:
    (said,) = [one for one in booklet_of(trousers(), POPLIN)["before"] if "needle:" in one]
    assert "8 to 12 hours" in said


def test_a_ring_of_knit_is_tried_over_what_must_pass_before_it_is_sewn_on() -> None:
    tee = knit_tee()
    bands = [s for s in order_of_work(tee, JERSEY, Sewer()) if s.make == "folded band" and s.ratio < 1]
    assert any(s.round for s in bands)
    for step in bands:
        do = step_words(step, tee).do
        tried = [at for at, said in enumerate(do) if "rest a minute" in said]
        sewn = next(at for at, said in enumerate(do) if said.startswith("Stitch"))
        assert (len(tried) == 1 and tried[0] < sewn) if step.round else not tried


def test_what_is_slept_in_bears_the_caution_of_fire_from_any_cloth() -> None:
    """Plain cotton burns too: the caution must not hang on a thin or raised cloth alone."""
    body, by_name = marit(), {draft.name: draft for draft in PATTERNS}
    assert {name for name, want in WANTS.items() if want.occasions[0] == "sleep"} == set(SLEPT_IN)
    for name in SLEPT_IN:
        assert "nightwear" in cautions(by_name[name].make(body, {}), POPLIN)
    assert "nightwear" not in cautions(trousers(), POPLIN)
    brushed = replace(POPLIN, kind="brushed cotton")
    assert "nightwear" in cautions(trousers(), brushed)
    assert any(
        "burns fast" in one["text"] for one in booklet_of(by_name["robe"].make(body, {}), POPLIN)["safety"]
    )


@pytest.mark.parametrize(
    ("kind", "grams", "hours"),
    [("poplin", 115, 24), ("viscose challis", 125, 48), ("double gauze", 130, 48), ("wool coating", 480, 48)],
)
def test_a_flared_skirt_of_loose_or_heavy_cloth_hangs_longer(kind: str, grams: float, hours: float) -> None:
    """One grew at its side seams for three days; a day is the least for any."""
    flared, cloth = skirt(30.0, False), Cloth("Some", 140, 300, kind=kind, grams_per_m2=grams)
    (hang,) = [s for s in order_of_work(flared, cloth, Sewer()) if s.kind == "hang"]
    assert hang.wait_hours == hours
    assert f"at least {hours} hours" in " ".join(step_words(hang, flared).do)
    assert not [s for s in order_of_work(skirt(), cloth, Sewer()) if s.kind == "hang"]


def test_a_knit_shoulder_is_taped_with_a_cut_on_sleeve_too_and_no_other_seam_is() -> None:
    """The neck of a tee drops by the weight of the whole; under the arm and in woven cloth nothing is taped."""
    for make in ("cut_on_sleeve_tee", "sweatshirt"):
        garment = next(draft for draft in PATTERNS if draft.name == make).make(marit(), {})
        steps = order_of_work(garment, JERSEY, Sewer())
        taped = {s.title for s in steps if "tape" in step_words(s, garment).why.lower()}
        assert taped
        assert all("shoulder" in title.lower() for title in taped), taped
    shirt = next(draft for draft in PATTERNS if draft.name == "button_front_shirt").make(marit(), {})
    assert not any(s.why.startswith("knit shoulder") for s in order_of_work(shirt, POPLIN, Sewer()))
