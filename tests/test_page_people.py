"""People at the page: measures typed, estimates and slips that follow, the tape on the figure, growing."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest

from clothwise.body import Body, estimate, measures_of, sample
from clothwise.store import Store
from clothwise.web.figure_drawn import figure_drawn
from tests.page_tools import ask, form, keep


def kept(app: Any, name: str, entries: dict[str, str], **headers: str) -> Any:
    return keep(app, f"/person/{name}/keep", entries, **headers)


# ---- measures ------------------------------------------------------------------------------------


def test_a_measure_is_kept_in_whatever_unit_it_was_typed(mill_page: Any, mill: Store) -> None:
    kept(mill_page, "Pilar", {"measure.hip_girth": "42 1/2 in"})
    assert mill.body("Pilar")["hip_girth"] == pytest.approx(107.95)
    kept(mill_page, "Pilar", {"measure.hip_girth": "107,5"})
    assert mill.body("Pilar")["hip_girth"] == 107.5
    kept(mill_page, "Pilar", {"measure.hip_girth": "42 1/2"}, cookie="units=inch")
    assert mill.body("Pilar")["hip_girth"] == pytest.approx(107.95)


def test_what_is_taken_off_is_estimated_with_its_span(mill_page: Any, mill: Store) -> None:
    told = kept(mill_page, "Pilar", {"measure.thigh_girth": ""})
    guess = estimate(mill.body("Pilar")).measures["thigh_girth"]
    assert guess.source == "estimated"
    figures = [float(one) for one in re.findall(r"[\d.]+(?= cm)", told["guesses"]["thigh_girth"])]
    assert figures == pytest.approx([guess.cm, guess.low, guess.high], abs=0.06)
    assert told["guesses"]["hip_girth"] == ""  # what is taped is not guessed


def test_what_cannot_be_read_is_told_at_its_measure_and_changes_nothing(mill_page: Any, mill: Store) -> None:
    before = mill.body("Pilar")
    for text in ("abc", "-5", "1e9", "12:30", "<b>"):
        told = kept(mill_page, "Pilar", {"measure.knee_girth": text})
        assert told["refused"]["path"] == "measure.knee_girth"
        assert told["refused"]["what"]
    assert "refused" in kept(mill_page, "Pilar", {"measure.tail_length": "30"})
    assert "refused" in kept(mill_page, "Pilar", {"age": "1000"})
    assert "refused" in kept(mill_page, "Pilar", {"taken_on": "yesterday"})
    assert mill.body("Pilar") == before


def test_turned_digits_are_asked_about_and_never_overruled(mill_page: Any, mill: Store) -> None:
    told = kept(mill_page, "Pilar", {"measure.waist_girth": "38"})
    assert told["doubts"][0]["suggestion"]["waist_girth"]["typed"] == "83.0"
    assert mill.body("Pilar")["waist_girth"] == 38  # it stands as typed until she says otherwise
    confirmed = kept(mill_page, "Pilar", {"confirm.waist_girth": "yes"})
    assert all("waist_girth" not in doubt["measures"] for doubt in confirmed["doubts"])
    assert mill.body("Pilar")["waist_girth"] == 38


def test_undo_brings_a_measure_back_by_its_own_words(mill_page: Any, mill: Store) -> None:
    before = mill.body("Pilar")
    assert kept(mill_page, "Pilar", {"measure.hip_girth": "110"})["undo"] == "hip girth 107.0 cm to 110.0 cm"
    form(mill_page, "/undo", scope="body/Pilar", back="/people")
    assert mill.body("Pilar") == before


def test_two_windows_do_not_undo_each_other(mill_page: Any, mill: Store) -> None:
    kept(mill_page, "Pilar", {"measure.hip_girth": "110"})  # one window
    kept(mill_page, "Pilar", {"measure.knee_girth": "40"})  # another, opened before that
    body = mill.body("Pilar")
    assert (body["hip_girth"], body["knee_girth"]) == (110, 40)


def test_a_new_card_grows_from_nothing(mill_page: Any, mill: Store) -> None:
    name = "Anna <i>&amp;</i> Bo/b"
    begun = form(mill_page, "/people/add", name=name, figure="girl", age="7,5")
    page = ask(mill_page, "GET", begun.headers["location"])
    assert page.status == 200
    assert "<i>" not in page.text
    assert mill.body(name).age_years == 7.5
    told = kept(
        mill_page,
        begun.headers["location"].rpartition("/")[2],
        {"measure.height": "124", "measure.hip_girth": "66"},
    )
    assert told["no"] == ""
    assert told["guesses"]["inside_leg"]
    assert form(mill_page, "/people/add", name=name, figure="girl").status == 422
    assert form(mill_page, "/people/add", name="  ", figure="girl").status == 422
    assert form(mill_page, "/people/add", name="Old", figure="dragon").status == 422


def test_a_child_is_told_when_she_outgrows_a_size(mill_page: Any) -> None:
    page = ask(mill_page, "GET", "/person/Juno").text
    assert "Growing" in page
    assert "No cords" in page
    assert "height 130.0 cm" in page
    months = int(re.search(r"height 130.0 cm</th><td>(\d+) months", page).group(1))  # type: ignore[union-attr]
    assert 8 <= months <= 16  # a girl of seven grows 5 to 6 cm a year
    assert "Growing" not in ask(mill_page, "GET", "/person/Marit").text


def test_earlier_measures_stay_to_be_looked_at(mill_page: Any) -> None:
    kept(mill_page, "Juno", {"taken_on": "2026-11-20", "measure.height": "125"})
    page = ask(mill_page, "GET", "/person/Juno").text
    assert "As it was" in page
    assert "<td>124.0 cm</td><td>125.0 cm</td>" in page


# ---- the figure ----------------------------------------------------------------------------------


def _spots(path: str) -> list[tuple[float, float]]:
    numbers = [float(n) for n in re.findall(r"-?\d+\.?\d*", re.sub(r"A[^A-Z]*?0 0 0 ", "L", path))]
    return list(zip(numbers[::2], numbers[1::2], strict=False))


@pytest.mark.parametrize("figure", ["woman", "man", "girl", "boy"])
def test_every_measure_has_its_tape_and_heights_stand_where_they_were_taped(figure: Any) -> None:
    for body in sample(figure, 25, seed=8):
        drawn = figure_drawn(body)
        assert set(drawn.tapes) == set(measures_of(figure)) & set(body)
        for name in ("height", "nape_to_floor", "bust_height", "inside_leg", "waist_to_floor", "body_rise"):
            ys = [y for _, y in _spots(drawn.tapes[name].path)]
            assert max(ys) - min(ys) == pytest.approx(body[name], abs=0.75), name
        left, _, width, _ = (float(n) for n in drawn.view.split())
        runs = [tape.path for name, tape in drawn.tapes.items() if name != "armscye_girth"]
        spots = [spot for run in runs for spot in _spots(run)]
        assert all(left <= x <= left + width for x, _ in spots)


def test_a_wider_body_is_drawn_wider() -> None:
    def hip(body: Body) -> float:
        (x0, _), (x1, _) = _spots(figure_drawn(estimate(body)).tapes["hip_girth"].path)
        return x1 - x0

    body = sample("woman", 1, seed=3)[0]
    slim, stout = body.with_measures(hip_girth=90.0), body.with_measures(hip_girth=120.0)
    assert hip(stout) == pytest.approx(hip(slim) * 120 / 90, rel=0.01)


# ---- in the browser ------------------------------------------------------------------------------


@pytest.mark.page
def test_a_slip_is_mended_with_one_press_and_the_tape_is_shown(opened: Callable[..., Any]) -> None:
    page = opened("/person/Pilar", narrow=True)
    waist = page.locator("#m-waist_girth")
    waist.fill("38")
    waist.press("Enter")  # on to the hip, as a tape is read
    assert page.locator("#m-hip_girth").evaluate("node => node === document.activeElement")
    assert (
        page.locator("[data-run=hip_girth]").evaluate("node => getComputedStyle(node).visibility") == "visible"
    )
    page.get_by_role("button", name="It was meant to be waist girth 83.0 cm").click()
    page.wait_for_selector(".doubt", state="detached")
    page.reload()
    assert page.locator("#m-waist_girth").input_value() == "83.0"
    assert page.errors == []
