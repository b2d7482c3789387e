"""The work ticket: what a person writes is read as meant, written back whole, or refused in one sentence."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from clothwise.body import Body, Measure, estimate
from clothwise.cloth import Cloth
from clothwise.errors import GarmentError, WorkroomError
from clothwise.lay.verify import faults
from clothwise.paper.caption import Caption
from clothwise.paper.piece import draw_pieces
from clothwise.sew import Sewer, Step, order_of_work
from clothwise.sew.language import language
from clothwise.ticket import Ticket, read_ticket, write_ticket
from clothwise.ticket.lists import shopping_and_cutting
from clothwise.ticket.made import drawn, work_out
from clothwise.ticket.taped import tape_is_old

SHORT = """
ticket = 1
name = "Linen trousers"
[pattern]
name = "pull_on_trousers"
[body]
name = "Marit"
[cloth]
name = "Undyed linen"
"""

WHOLE = """
ticket = 1
name = "Linen trousers"
made_on = 2026-11-25
[pattern]
name = "pull_on_trousers"
choices = { leg = "wide" }
[body]
name = "Marit"
figure = "woman"
measures = { height = "5 ft 6", waist_girth = "31 1/2 in", hip_girth = 102 }
confirmed = ["hip_girth"]
[cloth]
name = "Undyed linen"
width = "1.4 m"
length = 210.5
[sewer]
skill = "beginner"
"""


def test_a_short_ticket_holds_names_to_be_filled_by_the_store():
    ticket = read_ticket(SHORT)
    assert (ticket.body_name, ticket.cloth_name, ticket.whole) == ("Marit", "Undyed linen", False)


def test_lengths_are_read_as_people_type_them():
    ticket = read_ticket(WHOLE)
    assert ticket.body is not None
    assert ticket.cloth is not None
    assert ticket.body["height"] == pytest.approx(66 * 2.54)
    assert ticket.body["waist_girth"] == pytest.approx(31.5 * 2.54)
    assert ticket.cloth.width == pytest.approx(140)
    assert ticket.body.measures["hip_girth"].confirmed
    assert ticket.made_on == "2026-11-25"
    assert ticket.sewer.skill == "beginner"


letters = st.characters(exclude_categories=("C", "Z"))
names = st.text(letters, min_size=1, max_size=20) | st.sampled_from(['a "b" \\ c', "Çağla's Leinen", "布 1"])
lengths = st.floats(1.0, 300.0)


@st.composite
def tickets(draw: st.DrawFn) -> Ticket:
    measures = draw(
        st.dictionaries(st.sampled_from(["height", "hip_girth", "thigh_girth"]), lengths, min_size=1)
    )
    kept = {name: Measure(cm, confirmed=draw(st.booleans())) for name, cm in measures.items()}
    kept["inside_leg"] = Measure(80.0, "estimated", 76.0, 84.0)
    body = Body(draw(names), "woman", kept, age_years=draw(st.none() | st.floats(2, 90)))
    cloth = Cloth(draw(names), draw(lengths), draw(lengths), colour=draw(names), nap="one-way", washed=False)
    return Ticket(
        name=draw(names),
        pattern="pull_on_trousers",
        choices=draw(st.dictionaries(names, names | st.floats(-5, 5), max_size=3)),
        body=body,
        cloth=cloth,
        sewer=Sewer(draw(names), "expert", True, times_made=3, pace=0.9),
        sheet="Letter",
        made_on="2026-11-25",
        body_name=body.name,
        cloth_name=cloth.name,
    )


@given(tickets())
@settings(max_examples=60, deadline=None)
def test_a_ticket_written_and_read_again_is_the_same(ticket: Ticket):
    assert read_ticket(write_ticket(ticket)) == ticket


def test_estimates_keep_their_interval_through_the_file():
    body = estimate(
        Body(
            "Pilar",
            "woman",
            {
                n: Measure(v)
                for n, v in (
                    ("height", 183.0),
                    ("bust_girth", 98.0),
                    ("waist_girth", 81.0),
                    ("hip_girth", 107.0),
                )
            },
        )
    )
    ticket = Ticket("x", "p", body=body, cloth=Cloth("c", 140, 200), body_name="Pilar", cloth_name="c")
    again = read_ticket(write_ticket(ticket)).body
    assert again is not None
    assert again.measures["inside_leg"] == body.measures["inside_leg"]


@pytest.mark.parametrize(
    ("was", "becomes", "where"),
    [
        ('name = "pull_on_trousers"', "name = 7", "pattern.name"),
        ("[pattern]", "[patern]", "patern"),
        ("hip_girth = 102", "hip_girth = -102", "body.measures.hip_girth"),
        ("hip_girth = 102", "hip_girth = true", "body.measures.hip_girth"),
        ("hip_girth = 102", 'hip_girth = "wide"', "wide"),
        ("length = 210.5", "", "cloth.length"),
        ("length = 210.5", "length = 0", "cloth.length"),
        ('figure = "woman"', 'figure = "lady"', "body.figure"),
        ('skill = "beginner"', 'skill = "god"', "sewer.skill"),
        ("ticket = 1", "ticket = 9", "ticket"),
        ("ticket = 1", "", "ticket"),
        ('"31 1/2 in"', '"31 1/2 in', "line"),
        ('leg = "wide"', "leg = [1]", "pattern.choices.leg"),
        ('width = "1.4 m"', 'width = "1.4 m"\nweidth = 3', "cloth.weidth"),
    ],
)
def test_a_slip_in_a_ticket_is_answered_by_what_and_where(was: str, becomes: str, where: str):
    assert was in WHOLE
    with pytest.raises(WorkroomError) as refused:
        read_ticket(WHOLE.replace(was, becomes))
    assert where in str(refused.value)
    assert refused.value.mend


@given(st.binary(max_size=200), st.integers(0, len(WHOLE)))
@settings(max_examples=200, deadline=None)
def test_damage_never_escapes_as_anything_but_a_refusal(noise: bytes, cut: int):
    for text in (noise, WHOLE.encode()[:cut] + noise, WHOLE.encode()[:cut] + noise + WHOLE.encode()[cut:]):
        try:
            read_ticket(text)
        except WorkroomError:
            continue


ALTERED = WHOLE.replace(
    "[body]",
    """figure = { seat = 1.5 }
[[pattern.changes]]
what = "lengthen"
at = "knee"
by = 3
[body]""",
)


def test_a_ticket_holds_what_is_altered_and_is_written_back_whole():
    ticket = read_ticket(ALTERED)
    assert dict(ticket.figure) == {"seat": 1.5}
    assert [(c.what, dict(c.entries)) for c in ticket.changes] == [("lengthen", {"at": "knee", "by": 3.0})]
    assert read_ticket(write_ticket(ticket)) == ticket


def test_what_is_altered_is_made():
    plain, altered = read_ticket(WHOLE), read_ticket(ALTERED)
    assert plain.body is not None
    body = estimate(plain.body)
    before = drawn(body, plain.pattern, plain.choices)
    after = drawn(body, altered.pattern, altered.choices, altered.figure, altered.left, altered.changes)
    longer = after.finished["inside leg"] - before.finished["inside leg"]
    assert longer == pytest.approx(3.0, abs=0.8)  # the full seat moves the inside leg a little besides
    said = " ".join(note.text for note in after.notes)
    assert "full seat, 1.5 cm" in said
    assert "3.0 cm longer below the knee" in said


def test_one_side_alone_is_refused_where_it_reaches_the_middle():
    ticket = read_ticket(WHOLE.replace("[body]", "left = { seat = 1.0 }\n[body]"))
    assert ticket.body is not None
    with pytest.raises(WorkroomError, match="would differ by"):
        drawn(estimate(ticket.body), ticket.pattern, ticket.choices, {}, ticket.left)


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ('what = "stretch"', "is no change"),
        ('what = "lengthen"\nby = 3', "'at' is missing"),
        ('what = "lengthen"\nat = "knee"\nby = "three"', "is not a number"),
        ('what = "lengthen"\nat = "knee"\nby = 3\ncolour = "red"', "'colour' is unknown"),
    ],
)
def test_a_change_that_cannot_be_read_is_told_by_its_number(line: str, says: str):
    with pytest.raises(WorkroomError, match=says) as refusal:
        read_ticket(WHOLE.replace("[body]", f"[[pattern.changes]]\n{line}\n[body]"))
    assert "changes, number 1" in refusal.value.where


def test_an_order_of_work_that_cannot_be_sewn_is_not_handed_out(monkeypatch: pytest.MonkeyPatch):
    """As if the order forgot its hems: the step check finds the raw edges and the ticket refuses."""
    ticket = read_ticket(WHOLE)
    assert work_out(ticket, effort="quick").steps
    whole = order_of_work

    def forgetful(*args: Any, **kinds: Any) -> tuple[Step, ...]:
        kept = [step for step in whole(*args, **kinds) if step.name != "hem"]
        return tuple(replace(step, number=number) for number, step in enumerate(kept, 1))

    monkeypatch.setattr("clothwise.sew.proved.order_of_work", forgetful)
    with pytest.raises(GarmentError, match="No order of work is known"):
        work_out(ticket, effort="quick")


def test_what_is_cut_from_other_cloth_is_listed_and_laid_apart():
    jersey = Cloth("Sweat", 160, 300, make="knit", stretch_across=0.5, grams_per_m2=260)
    body = Body("Marit", "woman", {n: Measure(v) for n, v in MARIT.items()})
    made = work_out(Ticket("Joggers", "jogger", body=body, cloth=jersey), effort="quick")
    assert set(made.others) == {"rib", "pocket"}
    text = shopping_and_cutting(made)
    shell, rib = text.index("CUT FROM SWEAT"), text.index("CUT FROM RIBBING")
    assert shell < text.index("Front leg") < rib < text.index("Leg cuff")
    assert "Leg cuff" not in text[shell:rib]
    printed = {piece.piece.name: piece.number for piece in draw_pieces(made.garment, Caption("Joggers"))}
    for plan in (made.plan, *made.others.values()):
        assert faults(plan) == ()
        for piece in plan.problem.pieces:  # the lay plan's number is the one on the paper piece
            assert piece.number == printed[piece.name]


MARIT = {"height": 168, "bust_girth": 96, "waist_girth": 78, "hip_girth": 102}


@pytest.mark.parametrize(
    ("figure", "taken_on", "made_on", "old"),
    [
        ("woman", "2026-01-20", "2026-11-25", True),
        ("woman", "2026-06-01", "2026-11-25", False),
        ("girl", "2026-06-01", "2026-11-25", True),  # a child grows out of a card in a season
        ("girl", "2026-10-01", "2026-11-25", False),
        ("woman", "", "2026-11-25", False),
        ("woman", "2026-01-20", "", False),
        ("woman", "last spring", "2026-11-25", False),
    ],
)
def test_what_is_cut_from_old_measures_says_so_first(
    figure: Any, taken_on: str, made_on: str, old: bool
) -> None:
    body = Body("Marit", figure, {}, taken_on=taken_on)
    said = tape_is_old(body, made_on)
    assert bool(said) is old
    for one in said:
        assert re.search(r"(?:5|6|10) months old", one)
        assert language("de").phrase("doubt", one).startswith("Die Maße sind")
