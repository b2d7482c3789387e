"""What must be bought: needs of several makes together, less the box; metres for any width."""

from __future__ import annotations

import itertools

import pytest

from clothwise.body import estimate
from clothwise.cloth import Cloth
from clothwise.draft import pattern
from clothwise.errors import ClothError, WorkroomError
from clothwise.lay.from_garment import lay_pieces
from clothwise.lay.nofit import NoFits
from clothwise.lay.planning import best_plan
from clothwise.sew import Sewer, order_of_work
from clothwise.shopping.box import BoxItem
from clothwise.shopping.lists import ShoppingLine, shopping_list, still_to_buy
from clothwise.shopping.metres import metres, to_buy
from clothwise.shopping.needs import Need, needs_of
from clothwise.store import open_store, seed_demo
from clothwise.store.demo import scenario

MARIT = estimate(scenario()[0][0])
LINEN = Cloth("Linen", 140, 300, kind="linen", grams_per_m2=185, colour="sand")


def needs(draft: str, name: str, colour: str = "sand", **wish: str) -> tuple[Need, ...]:
    garment = pattern(draft).make(MARIT, wish)
    return needs_of(garment, order_of_work(garment, LINEN, Sewer()), wanted_by=name, colour=colour)


def line(lines: tuple[ShoppingLine, ...], sort: str) -> ShoppingLine:
    return next(one for one in lines if one.sort == sort)


def test_two_makes_share_a_reel_and_a_needle_but_not_their_elastic():
    one, other = needs("pull_on_trousers", "A"), needs("pull_on_trousers", "B", waist="elastic all round")
    both = shopping_list((*one, *other))
    alone = shopping_list(one)
    assert line(both, "needle").buy == line(alone, "needle").buy == 1
    assert line(both, "needle").wanted_by == ("A", "B")
    assert line(both, "elastic").wanted == pytest.approx(2 * line(alone, "elastic").wanted)
    assert line(both, "thread").wanted == pytest.approx(2 * line(alone, "thread").wanted)
    assert line(both, "thread").unit == "reels"


def test_what_is_in_the_box_is_taken_off_and_each_thing_only_once():
    wanted = needs("pull_on_trousers", "A")
    elastic = line(shopping_list(wanted), "elastic")
    box = [
        BoxItem("White elastic", "elastic", length=elastic.wanted + 20, width=_width(wanted)),
        BoxItem("Sand thread", "thread", length=2_000_000, colour="Sand"),
    ]
    lines = shopping_list(wanted, box)
    assert line(lines, "elastic").buy == 0
    assert line(lines, "elastic").from_box == ("White elastic",)
    assert line(lines, "thread").buy == 0
    twice = shopping_list((*wanted, *needs("pull_on_trousers", "B", colour="red")), box)
    assert line(twice, "elastic").buy > 0  # one length does not serve two waists, and is not pieced together
    reds = [one for one in twice if one.sort == "thread" and one.colour == "red"]
    assert [one.buy > 0 for one in reds] == [True]


def test_a_thing_that_serves_two_needs_is_given_only_once():
    sand, red = needs("pull_on_trousers", "A"), needs("pull_on_trousers", "B", colour="red")
    wanted = line(shopping_list(sand), "thread").wanted
    box = [BoxItem("Any thread", "thread", length=1.5 * wanted)]  # goes with all colours
    threads = [one for one in shopping_list((*sand, *red), box) if one.sort == "thread"]
    assert sum(one.in_box for one in threads) == pytest.approx(1.5 * wanted)
    assert [one.buy for one in threads] == [0, 1]


def _width(wanted: tuple[Need, ...]) -> float:
    return next(need.width for need in wanted if need.sort == "elastic")


def test_elastic_of_another_width_or_too_short_does_not_serve():
    wanted = needs("pull_on_trousers", "A")
    need = line(shopping_list(wanted), "elastic").wanted
    for item in (
        BoxItem("Narrow", "elastic", length=500, width=_width(wanted) - 1),
        BoxItem("Short", "elastic", length=need - 1, width=_width(wanted)),
    ):
        assert line(shopping_list(wanted, [item]), "elastic").buy > 0, item.name


def test_a_longer_zip_serves_and_a_shorter_one_does_not():
    wanted = needs("a_line_skirt", "A")
    zip_length = next(need.width for need in wanted if need.sort == "zip")
    assert zip_length > 5
    for off, buy in ((0.0, 0), (5.0, 0), (-2.0, 1), (30.0, 1)):
        item = BoxItem("Zip", "zip", count=1, width=zip_length + off)
        assert line(shopping_list(wanted, [item]), "zip").buy == buy, off


def test_a_shirt_wants_buttons_interfacing_thread_and_a_needle():
    lines = shopping_list(needs("button_front_shirt", "Shirt"))
    assert {"button", "interfacing", "thread", "needle"} <= {one.sort for one in lines}
    assert line(lines, "button").buy >= 6
    assert line(lines, "interfacing").buy % 10 == 0


def test_binding_may_be_bought_instead_of_cut_and_is_no_must():
    lines = shopping_list(needs("bias_camisole", "Camisole", edges="bound"))
    binding = [one for one in lines if one.sort == "bias binding"]
    assert binding
    assert all(one.instead for one in binding)
    assert not [one for one in still_to_buy(lines) if one.sort == "bias binding"]


def test_a_knit_s_rib_is_on_the_list():
    garment = pattern("sweatshirt").make(MARIT, {})
    from clothwise.ticket.made import other_layers

    fleece = Cloth("Terry", 150, 300, make="knit", stretch_across=0.25)
    steps = order_of_work(garment, fleece, Sewer())
    lines = shopping_list(needs_of(garment, steps, wanted_by="A", others=other_layers(garment)))
    assert line(lines, "rib").buy >= 10


@pytest.mark.parametrize(
    ("sort", "more"),
    [
        ("string", {"length": 3}),
        ("elastic", {}),
        ("button", {}),
        ("thread", {"length": -1}),
        ("zip", {"count": -1}),
    ],
)
def test_what_cannot_lie_in_a_box_is_refused(sort: str, more: dict[str, float]):
    with pytest.raises(WorkroomError) as no:
        BoxItem("Thing", sort, **more)  # type: ignore[arg-type]
    assert no.value.mend


def test_the_box_is_kept_in_the_store(tmp_path):
    from clothwise.store import deeds
    from clothwise.store.store import IN_BOX

    item = BoxItem("White elastic", "elastic", length=150, width=2.5, colour="white")
    with open_store(tmp_path / "a.sqlite") as store:
        seed_demo(store)
        deeds.keep(store, IN_BOX, item, "Put in")
        assert store.box_item("White elastic") == item
        assert store.box() == (item,)
        deeds.forget(store, IN_BOX, "White elastic", "Taken out")
        assert store.box() == ()
        deeds.undo(store, "thing in the box/White elastic")
        assert store.box() == (item,)


# ---- metres -----------------------------------------------------------------------------------------


def rows(like: Cloth, widths: tuple[float, ...] = (90.0, 112.0, 140.0, 150.0), draft: str = "four_panel_skirt"):
    known = NoFits()
    pieces = lay_pieces(pattern(draft).make(MARIT, {}))
    return metres(pieces, like, lambda problem: best_plan(problem, effort="quick", known=known), widths)


def test_metres_cover_the_lay_after_the_wash_in_steps_of_ten():
    like = Cloth("Linen", 140, 300, shrinkage=0.07, washed=False, price_per_m=20)
    for row in rows(like):
        assert row.buy is not None
        assert row.need is not None
        assert row.plan is not None
        assert row.plan.verified
        assert row.plan.problem.cloth.width == pytest.approx(row.width * (1 - 0.035))
        assert row.buy % 10 == pytest.approx(0)
        assert row.need <= row.buy * (1 - 0.07) + 1e-9 < row.need + 10
        assert row.price == pytest.approx(20 * row.buy / 100)


def test_a_nap_never_needs_less_and_a_wider_cloth_never_more():
    plain, napped = rows(Cloth("A", 140, 300)), rows(Cloth("A", 140, 300, nap="one-way"))
    for row, other in zip(plain, napped, strict=True):
        assert row.need is not None
        assert other.need is not None
        assert other.need >= row.need - 0.5
    needs_of_widths = [row.need for row in plain if row.need is not None]
    assert all(wide <= narrow + 0.5 for narrow, wide in itertools.pairwise(needs_of_widths))


def test_a_width_that_holds_no_piece_says_which():
    (narrow,) = rows(Cloth("A", 140, 300), widths=(20.0,))
    assert narrow.buy is None
    assert "cm wide" in narrow.why
    with pytest.raises(ClothError, match="is no cloth"):
        rows(Cloth("A", 140, 300), widths=(2.0,))


def test_what_to_ask_for_in_the_shop():
    assert to_buy(100, 0.0) == 100
    assert to_buy(100.1, 0.0) == 110
    assert to_buy(100, 0.05) == 110  # 105.3
    assert to_buy(95, 0.05) == 100  # exactly 100: no step more


def test_a_needle_is_blunt_after_a_dozen_hours_and_then_another_is_bought():
    """One serves 8 to 12 hours: the trousers of an afternoon share it, a season's sewing does not."""
    shirts = [needs("button_front_shirt", f"shirt {n}") for n in range(4)]
    hours = sum(one.wears for one in shirts[0] if one.sort == "needle")
    assert 3 < hours < 12
    assert line(shopping_list(shirts[0]), "needle").buy == 1
    for n in range(1, 5):
        bought = line(shopping_list(itertools.chain(*shirts[:n])), "needle").buy
        assert n * hours / 12 <= bought <= n * hours / 8 + 1
    printed = Need("needle", "Machine needle, universal 80", count=3, wanted_by="Envelope")
    assert (
        line(shopping_list((*shirts[0], printed)), "needle").buy == 3
    )  # an envelope that asks for more gets it


@pytest.mark.parametrize(
    ("there", "wanted", "does"),
    [
        ("Needles 80", "universal 80", True),
        ("universal 80/12, pack of 5", "universal 80", True),
        ("Universal needles", "universal 80", True),  # no size told: any serves
        ("Needles 90", "universal 80", False),
        ("Jersey needles 80", "universal 80", False),
        ("Jersey needles 80", "ballpoint 80", True),
        ("Needles 80", "ballpoint 80", False),  # an ordinary point makes holes in a knit
        ("Stretch 75", "stretch 75", True),
        ("denim 100/16", "jeans 100", True),
        ("hand needles", "universal 80", False),
    ],
)
def test_a_needle_of_the_box_serves_by_its_point_and_size(there: str, wanted: str, does: bool):
    need = Need("needle", f"Machine needle, {wanted}", count=1, wanted_by="A")
    bought = line(shopping_list((need,), (BoxItem(there, "needle", count=5),)), "needle").buy
    assert bought == (0 if does else 1)
