"""Minutes: more work takes longer, and the planning figures of the trade come out of the rates."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwise.cloth import Cloth
from clothwise.cloth.kinds import kinds
from clothwise.curve import Point
from clothwise.errors import TicketError
from clothwise.garment import Garment
from clothwise.sew import Minutes, Sewer, minutes, order_of_work
from clothwise.sew.manners import manners
from clothwise.sew.sewer import learned
from tests.sewn_by_hand import skirt, trousers

COTTON = Cloth("Cotton", 140, 250, grams_per_m2=150)
SETTLED = 2  # makes before this one at which the practised planning figures hold


def made(
    garment: Garment, sewer: Sewer, cloth: Cloth = COTTON, sheets: int = 0, cuts: int | None = None
) -> Minutes:
    steps = order_of_work(garment, cloth, sewer)
    return minutes(garment, steps, cloth, sewer, sheets=sheets, cuts=cuts)


def scaled(garment: Garment, k: float) -> Garment:
    """The same garment for a larger body."""

    def at(p: Point) -> Point:
        return Point(p.x * k, p.y * k)

    pieces = tuple(
        replace(
            p,
            edges=tuple(replace(e, curve=e.curve.scaled(k), notches=()) for e in p),
            marks=tuple(replace(m, curve=m.curve.scaled(k)) for m in p.marks),
            grain=(at(p.grain[0]), at(p.grain[1])),
        )
        for p in garment.pieces
    )
    return replace(garment, pieces=pieces)


def test_more_seam_takes_more_minutes() -> None:
    small, large = made(trousers(), Sewer()), made(scaled(trousers(), 1.2), Sewer())
    assert large.sew > small.sew * 1.05
    assert large.cut > small.cut
    assert made(skirt(pockets=True), Sewer()).sew > made(skirt(pockets=False), Sewer()).sew + 30


def test_skill_overlocker_practice_and_cloth_each_tell() -> None:
    garment = trousers()
    by_skill = [made(garment, Sewer(skill=s)).likely for s in ("beginner", "practised", "expert")]  # type: ignore[arg-type]
    assert by_skill[0] > 1.5 * by_skill[1] > 1.5 * by_skill[2]
    assert made(garment, Sewer(overlocker=True)).likely < made(garment, Sewer()).likely
    assert made(garment, Sewer(times_made=5)).likely < made(garment, Sewer()).likely
    satin = replace(COTTON, kind="silk satin")
    assert made(garment, Sewer(), satin).likely > made(garment, Sewer()).likely
    assert made(garment, Sewer(), replace(COTTON, washed=False)).ready > made(garment, Sewer()).ready


def test_parts_sum_to_the_whole_and_the_interval_holds_it() -> None:
    m = made(skirt(), Sewer(), sheets=20)
    assert m.ready + m.print_tape + m.cut + m.sew + m.finish == pytest.approx(m.likely)
    assert m.low < m.likely < m.high
    assert sum(value for _, value in m.rows) == pytest.approx(m.likely)


def test_a_first_make_is_less_certain_than_a_fourth() -> None:
    first, fourth = made(trousers(), Sewer()), made(trousers(), Sewer(times_made=3))
    assert first.high / first.low > fourth.high / fourth.low


def test_sheets_to_print_and_outlines_to_cut_are_counted() -> None:
    none, some = made(trousers(), Sewer()), made(trousers(), Sewer(), sheets=20)
    more = made(trousers(), Sewer(), sheets=30)
    assert none.print_tape == 0
    assert more.print_tape - some.print_tape == pytest.approx(
        30.0
    )  # 3 min a sheet for a beginner: planning figure
    assert made(trousers(), Sewer(), cuts=4).cut > made(trousers(), Sewer(), cuts=2).cut


@pytest.mark.parametrize(
    ("skill", "what", "planned"),
    [
        ("practised", "seam", 8.0), ("beginner", "seam", 20.0),
        ("practised", "pocket", 15.0), ("beginner", "pocket", 35.0),
        ("practised", "waist", 25.0), ("beginner", "waist", 50.0),
        ("practised", "hem", 12.0), ("beginner", "hem", 25.0),
    ],
)  # fmt: skip
def test_the_trades_planning_figures_come_out(skill: str, what: str, planned: float) -> None:
    """Plain 60 cm seam, patch pocket, casing with elastic, hem of one metre: within a third."""
    sewer = Sewer(skill=skill, times_made=SETTLED)  # type: ignore[arg-type]
    garment = skirt()
    steps = order_of_work(garment, COTTON, sewer)
    if what == "seam":
        sides = next(s for s in steps if s.name == "side_seam")
        neaten = next(s for s in steps if s.name == "neaten")
        share = garment.length(sides.joins[0].a) * 4 / neaten.length  # both edges of both side seams
        took = (sides.minutes.likely + share * neaten.minutes.likely) * 60 / sides.length
    elif what == "pocket":
        took = sum(s.minutes.likely for s in steps if "pocket" in s.name) / 2
    elif what == "waist":
        took = sum(s.minutes.likely for s in steps if s.name.startswith("waist"))
    else:
        hem = next(s for s in steps if s.name == "hem")
        took = hem.minutes.likely * 100 / hem.length
    assert took == pytest.approx(planned, rel=0.34)


def test_logged_makes_draw_the_pace_and_narrow_the_interval() -> None:
    sewer = Sewer(times_made=3)
    slow = sewer
    for _ in range(8):
        m = made(trousers(), slow)
        slow = learned(slow, m.likely, 2.0 * made(trousers(), sewer).likely)
    assert slow.pace == pytest.approx(2.0, rel=0.25)
    before, after = made(trousers(), sewer), made(trousers(), slow)
    assert after.high / after.low < before.high / before.low
    assert learned(sewer, 100, 200).pace < 1.5  # one slow evening does not make her slow


@pytest.mark.parametrize("wrong", [{"skill": "wizard"}, {"times_made": -1}, {"pace": 0.0}, {"units": "ell"}])
def test_an_impossible_sewer_is_refused_in_a_sentence(wrong: dict[str, object]) -> None:
    with pytest.raises(TicketError, match="sewer 'Osei'"):
        Sewer("Osei", **wrong)  # type: ignore[arg-type]


def test_a_log_that_is_no_minutes_is_refused() -> None:
    with pytest.raises(TicketError, match="learned from"):
        learned(Sewer("Osei"), 100, 0)


def test_every_kind_of_the_cupboard_has_its_needle_stitch_and_iron() -> None:
    """As the table of kinds has them, whether the kind has a row of its own among the manners or not."""
    for kind in kinds():
        found = manners(Cloth("any", 140, 200, make=kind.make, kind=kind.name, grams_per_m2=kind.grams))
        assert (found.needle, found.stitch_mm, found.iron) == (kind.needle, kind.stitch_mm, kind.iron), (
            kind.name
        )
    assert "pile" in manners(Cloth("any", 140, 200, kind="towelling")).tips
    assert "press cloth" in manners(Cloth("any", 140, 200, kind="tweed")).tips
