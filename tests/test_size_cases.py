"""Cases that sewers really met, with the answer an experienced one would give. Numbers in cm unless said.

The letters are the kinds of the case collection: A size. Charts and bodies are invented to its numbers.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from clothwise.body import Measure
from clothwise.shelf.pattern import BoughtPattern
from clothwise.units import INCH
from tests.bought_by_hand import SIZES, bought, changes, cut, inches, row, sized, someone

# ---- one size or several -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("why", "bust", "waist", "hip", "answer"),
    [
        ("on the chart throughout", 92, 74, 100, "14"),
        ("a pear, one size more at each level", 88, 74, 105, "12/14/16"),
        ("a wedge, one size less at each level", 97, 74, 96, "16/14/12"),
        ("a thick waist only", 88, 79, 96, "12/16/12"),
        ("a full hip only", 88, 70, 105, "12/12/16"),
        ("a hair over at the hip", 88, 70, 97, "12"),
        ("a hair over everywhere", 88.5, 70.5, 96.5, "12"),
        ("between two sizes everywhere: the larger can be taken in", 90, 72, 98, "14"),
        ("smallest of the chart", 80, 62, 88, "8"),
        ("largest of the chart", 108, 90, 116, "20"),
    ],
)
def test_a_close_dress_is_cut_level_by_level(
    why: str, bust: float, waist: float, hip: float, answer: str
) -> None:
    assert cut(sized(bought(), someone(bust=bust, waist=waist, hip=hip))) == answer, why


def two_sizes(finished_waist: float, finished_hip: float) -> BoughtPattern:
    """The chart of a case told in inches: bust 34, waist 26 1/2, hip 36 in the 12; two more in the 14."""
    return bought(
        sizes=("12", "14", "16"),
        body={
            "bust": row(34, 36, 38, unit=INCH),
            "waist": row(26.5, 28, 30, unit=INCH),
            "hip": row(36, 38, 40, unit=INCH),
        },
        finished={
            "bust": row(37, 39, 41, unit=INCH),
            "waist": row(finished_waist, finished_waist + 2, finished_waist + 4, unit=INCH),
            "hip": row(finished_hip, finished_hip + 2, finished_hip + 4, unit=INCH),
        },
    )


PEAR = inches(bust=34, waist=29, hip=39)


def test_much_ease_in_the_pattern_saves_the_blend() -> None:
    """A2: 34, 29, 39 in. Her bust is the 12; the pattern has 9 in of ease at the hip, and the 12 serves."""
    advice = sized(two_sizes(finished_waist=33, finished_hip=45), PEAR)
    assert cut(advice) == "12"
    assert advice.level("hip").ease == pytest.approx(6 * INCH)


def test_the_same_body_in_a_close_pattern_must_blend() -> None:
    """A2: finished waist 28 1/2 and hip 39 in the 12 leave nothing: the bust stays 12, the rest goes up."""
    advice = sized(two_sizes(finished_waist=28.5, finished_hip=39), PEAR)
    assert advice.cut == "blend"
    assert advice.sizes["bust"] == "12"
    assert advice.level("waist").ease >= 1 * INCH
    assert advice.level("hip").ease >= 2 * INCH - 0.1
    assert advice.steps[0].upper == "bust"


def test_the_chart_is_believed_over_the_habit() -> None:
    """A4: the chart says 20, she cut 18 and the bodice would not meet: the 18 shows less than can be worn."""
    advice = sized(bought(ease={"bust": 5, "waist": 3, "hip": 6}), someone(bust=108, waist=90, hip=116))
    assert cut(advice) == "20"
    eighteen = {one.size: one.ease for one in advice.level("bust").eases}["18"]
    assert eighteen < 0 < advice.level("bust").floor


def test_a_size_whose_finished_waist_is_too_small_is_rejected_there() -> None:
    """A5: 'I always take 12', but the 12 measures 2 in too little at her waist: only the waist goes up."""
    advice = sized(bought(ease={"bust": 6, "waist": 0.5, "hip": 7}), someone(bust=88, waist=74.5, hip=96))
    assert advice.sizes["bust"] == "12"
    assert advice.level("waist").ease >= 0.5
    assert SIZES.index(advice.sizes["waist"]) >= SIZES.index("16") - 1
    assert {one.size: one.ease < 0.5 for one in advice.level("waist").eases}["12"]


def test_body_36_finished_38_is_close_but_can_be_worn() -> None:
    """A11: two inches over the bust are the least."""
    pattern = bought(
        "top", sizes=("M",), body={"bust": row(36 * INCH)}, finished={"bust": row(38 * INCH)}, fit_class="close"
    )
    advice = sized(pattern, inches(bust=36))
    assert advice.level("bust").ease == pytest.approx(2 * INCH)
    assert advice.level("bust").floor < 2 * INCH
    assert changes(advice, "let out") == {}


def test_the_ease_meant_is_what_finished_and_chart_say() -> None:
    """A22: finished 3, 3 1/2 and 4 in over the chart: that is the target for any body."""
    pattern = bought(ease={"bust": 3 * INCH, "waist": 3.5 * INCH, "hip": 4 * INCH})
    advice = sized(pattern, someone(bust=97, waist=79, hip=105))
    assert [one.wanted for one in advice.levels] == pytest.approx([3 * INCH, 3.5 * INCH, 4 * INCH])
    assert cut(advice) == "16"
    assert advice.confidence == "likely"  # a bust of 97 whose high bust nobody taped
    assert sized(pattern, someone(bust=88, waist=70, hip=96)).confidence == "sure"


# ---- the bust ------------------------------------------------------------------------------------


def test_a_bust_three_inches_over_the_high_bust_gets_half_an_inch_on_each_half() -> None:
    """A8: high bust 34, bust 37 in; the pattern is drawn for 2 in: size of a 36, and 1 in of room."""
    pattern = bought(
        "top",
        sizes=("34", "36", "38"),
        body={"bust": row(34, 36, 38, unit=INCH)},
        finished={"bust": row(37, 39, 41, unit=INCH)},
        bust_room=2 * INCH,
    )
    advice = sized(pattern, inches(bust=37, high_bust=34))
    assert cut(advice) == "36"
    (room,) = [one for one in advice.alterations if one.kind == "bust room"]
    assert (room.by, room.each, room.places) == pytest.approx((INCH, INCH / 2, 2))


@pytest.mark.parametrize(
    ("high_bust", "answer", "room"), [(94, "16", 0.0), (92, "16", 0.0), (87, "14", 5.0), (83, "12", 9.0)]
)
def test_from_five_centimetres_on_the_frame_tells_the_size(high_bust: float, answer: str, room: float) -> None:
    """Bust 97: at 3 and at 5 cm over the high bust it is the 16; fuller, a smaller frame with bust room."""
    body = someone(bust=97, high_bust=high_bust, waist=74, hip=100)
    advice = sized(bought("top"), body)
    assert advice.sizes["bust"] == answer
    assert changes(advice, "bust room").get("bust", 0.0) == pytest.approx(room, abs=0.01)


def test_a_wide_neck_in_a_knit_is_sized_by_the_frame_too() -> None:
    """A7: by her full bust the upper chest swims and straps show; by the high bust it sits."""
    pattern = bought("top", ease={"bust": -2, "waist": 4, "hip": 0}, make="knit", least_stretch=0.4)
    by_frame = sized(pattern, someone(bust=102, high_bust=92, waist=79, hip=105))
    by_bust = sized(pattern, someone(bust=102, waist=79, hip=105))
    assert SIZES.index(by_frame.sizes["bust"]) < SIZES.index(by_bust.sizes["bust"])


def test_an_estimated_high_bust_does_not_change_the_size() -> None:
    body = someone(bust=97, waist=79, hip=105)
    guessed = replace(body, measures={**body.measures, "high_bust_girth": Measure(88, "estimated", 82, 94)})
    advice = sized(bought("top"), guessed)
    assert advice.sizes["bust"] == "16"
    assert advice.reason("high bust not taped") is not None


# ---- levels that hang free, and their floor -------------------------------------------------------


SWING = bought(ease={"bust": 7, "waist": 26, "hip": 40})


def test_a_full_hip_does_not_force_the_size_of_a_swing_dress() -> None:
    advice = sized(SWING, someone(bust=88, waist=74, hip=116))
    assert cut(advice) == "12"
    assert advice.level("hip").free
    assert not advice.level("bust").free


def test_a_hip_that_the_swing_does_not_hold_still_counts() -> None:
    """Hip 136 in a hem of 136: free or not, it cannot be worn in the 12."""
    advice = sized(SWING, someone(bust=88, waist=74, hip=136))
    assert advice.level("hip").ease >= advice.level("hip").floor
    assert SIZES.index(advice.sizes["hip"]) > SIZES.index("12")


def test_an_envelope_may_say_what_hangs_free() -> None:
    close, free = bought(), bought(free=("hip",))
    pear = someone(bust=88, waist=70, hip=101)
    assert cut(sized(close, pear)) != "12"
    assert cut(sized(free, pear)) == "12/12/14"  # 2 cm of ease would not let her sit
    assert cut(sized(free, someone(bust=88, waist=70, hip=99))) == "12"


def test_when_everything_hangs_free_the_bust_decides() -> None:
    advice = sized(bought(ease={"bust": 30, "waist": 40, "hip": 40}), someone(bust=97, waist=62, hip=88))
    assert advice.sizes["bust"] == "16"


def test_a_wide_bodice_needs_no_bust_room() -> None:
    """25 cm of ease over a frame of 92: a bust of 99 goes in as it is."""
    body = someone(bust=99, high_bust=92, waist=74, hip=100)
    dress = bought("dress", ease={"bust": 25, "waist": 4, "hip": 40}, free=("hip",))
    assert changes(sized(dress, body), "bust room") == {}


# ---- skirts and trousers -------------------------------------------------------------------------


def test_a_skirt_is_taken_from_the_hip_and_shaped_to_the_waist() -> None:
    """A10: waist 27 1/2, hip 43 1/2: 16 in apart. With 2 in at the hip and 1 in at the waist each half of the
    pattern loses 8 1/2 in, over many shapers, none wider than 3 cm."""
    pattern = bought("skirt", ease={"waist": 1 * INCH, "hip": 2 * INCH})
    body = inches(waist=27.5, hip=43.5)
    advice = sized(pattern, body)
    assert advice.sizes["hip"] == "18"
    drop = advice.reason("drop is large")
    assert drop is not None
    assert drop.figures["half"] == pytest.approx(8.5 * INCH)
    assert float(drop.figures["shapers"]) >= 8.5 * INCH / 3.0
    assert advice.reason("jump too wide") is not None
    assert changes(advice, "take in")["waist"] > 0


def test_trousers_blend_within_what_a_side_seam_takes() -> None:
    """Hip 105 is the 16, waist 70 the 12: 9 cm in 20 cm of length go well."""
    advice = sized(bought("trousers", ease={"waist": 2.5, "hip": 5}), someone(waist=70, hip=105))
    assert cut(advice) == "12/16"
    (step,) = advice.steps
    assert (step.over, step.by) == pytest.approx((20.0, 9.0))


def test_a_full_waist_takes_its_own_size_without_widening_the_rest() -> None:
    """Bust 92, waist 90, hip 100: the side seam becomes straighter, so shoulders and hip stay in the 14."""
    advice = sized(bought(), someone(bust=92, waist=90, hip=100))
    assert cut(advice) == "14/20/14"
    assert cut(sized(bought("trousers", ease={"waist": 2.5, "hip": 5}), someone(waist=90, hip=100))) == "20/14"
    assert changes(advice, "take in") == changes(advice, "let out") == {}


def test_short_legs_and_a_deep_rise() -> None:
    """B2: five feet tall: rise an inch more, legs 5 1/2 in less."""
    pattern = bought(
        "trousers",
        ease={"waist": 2.5, "hip": 5},
        body={"rise": row(*[26.0] * 7), "inside_leg": row(*[79.0] * 7)},
    )
    advice = sized(pattern, someone(waist=74, hip=100, body_rise=26 + INCH, inside_leg=79 - 5.5 * INCH))
    assert changes(advice, "lengthen") == {"rise": 2.54}
    assert changes(advice, "shorten") == {"inside_leg": 13.97}


def test_trousers_graded_only_in_width_are_deepened_for_a_large_body() -> None:
    """B1: the largest size has the rise of the smallest: her crotch is 4 cm too shallow."""
    pattern = bought("trousers", ease={"waist": 2.5, "hip": 6}, body={"rise": row(*[26.0] * 7)})
    advice = sized(pattern, someone(waist=90, hip=116, body_rise=30))
    assert changes(advice, "lengthen") == {"rise": 4.0}


# ---- lengths and limbs ---------------------------------------------------------------------------


@pytest.mark.parametrize(("back", "kind", "by"), [(44, "lengthen", 3.0), (38, "shorten", 3.0), (41.4, "", 0.0)])
def test_the_bodice_is_lengthened_or_shortened_above_the_waist(back: float, kind: str, by: float) -> None:
    pattern = bought(body={"back_length": row(*[41.0] * 7)})
    advice = sized(pattern, someone(bust=88, waist=70, hip=96, back_waist_length=back))
    assert changes(advice, kind or "lengthen") == ({"back_length": by} if kind else {})


def test_the_ease_of_every_size_is_told_for_lengths_too() -> None:
    pattern = bought(body={"back_length": row(39, 39.5, 40, 40.5, 41, 41.5, 42)})
    (back,) = sized(pattern, someone(bust=88, waist=70, hip=96, back_waist_length=40)).lengths
    assert [one.ease for one in back.eases] == [-1, -0.5, 0, 0.5, 1, 1.5, 2]
    assert (back.size, back.by) == ("12", 0.0)


def test_a_chart_that_only_says_for_what_height_it_is_drawn() -> None:
    """183 cm in a chart for 168: about 3.6 cm in the bodice, 5 in the sleeve; nothing below 5 cm of height."""
    pattern = bought(body={"height": row(*[168.0] * 7)})
    tall = changes(sized(pattern, someone(bust=88, waist=70, hip=96, height=183)), "lengthen")
    assert tall["back_length"] == pytest.approx(3.6, abs=0.3)
    assert tall["sleeve_length"] == pytest.approx(5.2, abs=0.4)
    assert changes(sized(pattern, someone(bust=88, waist=70, hip=96, height=171)), "lengthen") == {}


def test_an_estimate_that_may_be_off_alters_no_length() -> None:
    body = someone(bust=88, waist=70, hip=96)
    body = replace(body, measures={**body.measures, "back_waist_length": Measure(39, "estimated", 36, 42)})
    assert changes(sized(bought(body={"back_length": row(*[41.0] * 7)}), body), "shorten") == {}


def test_a_full_upper_arm_is_let_out() -> None:
    pattern = bought("top", finished={"upper_arm": row(30, 31, 32, 33, 35, 37, 39)})
    advice = sized(pattern, someone(bust=88, waist=70, hip=96, upper_arm_girth=32))
    assert changes(advice, "let out") == {"upper_arm": 2.5}
    assert changes(sized(pattern, someone(bust=88, waist=70, hip=96, upper_arm_girth=28)), "let out") == {}


# ---- off and between ------------------------------------------------------------------------------


def test_beyond_the_largest_size_the_grade_is_carried_on_and_said() -> None:
    advice = sized(bought(), someone(bust=113.5, high_bust=110, waist=95.5, hip=121.5))
    assert cut(advice) == "1 size beyond 20"
    off = advice.reason("off the chart")
    assert off is not None
    assert off.figures["nearest"] == "20"
    assert changes(advice, "redraw beyond the chart") == {"bust": 5.5, "waist": 5.5, "hip": 5.5}
    assert advice.confidence == "likely"


def test_below_the_smallest_size() -> None:
    advice = sized(bought(), someone(bust=76, waist=58, hip=84))
    assert cut(advice) == "1 size below 8"
    assert changes(advice, "redraw beyond the chart") == {"bust": -4.0, "waist": -4.0, "hip": -4.0}


def test_far_beyond_the_chart_no_size_is_told() -> None:
    advice = sized(bought(), someone(bust=150, waist=130, hip=155))
    assert (advice.cut, advice.confidence, advice.single, dict(advice.sizes)) == (
        "nothing",
        "cannot say",
        "",
        {},
    )
    assert advice.reason("too far off") is not None


def test_between_sizes_is_said_with_the_ease_of_both() -> None:
    between = sized(bought(), someone(bust=90, waist=70, hip=96)).reason("between sizes")
    assert between is not None
    assert (between.figures["lower"], between.figures["upper"]) == ("12", "14")
    assert (between.figures["lower_ease"], between.figures["upper_ease"]) == pytest.approx((4, 8))


@pytest.mark.parametrize(("bust", "answer"), [(92, "12/14"), (96, "12/14"), (100, "16/18"), (104, "16/18")])
def test_a_double_size_takes_both_ends_of_its_range(bust: float, answer: str) -> None:
    pattern = bought(
        "top",
        sizes=("12/14", "16/18"),
        body={"bust": row((92, 96), (100, 104))},
        finished={"bust": row(104, 112)},
        fit_class="loose",
    )
    assert sized(pattern, someone(bust=bust)).single == answer


@pytest.mark.parametrize(("back", "answer"), [(37, "petite"), (39.2, "petite"), (41, "regular"), (45, "tall")])
def test_sizes_that_differ_only_in_length_are_chosen_by_it(back: float, answer: str) -> None:
    same = {"bust": row(88, 88, 88), "waist": row(70, 70, 70), "hip": row(96, 96, 96)}
    pattern = bought(sizes=("petite", "regular", "tall"), body={**same, "back_length": row(38, 41, 44)})
    advice = sized(pattern, someone(bust=88, waist=70, hip=96, back_waist_length=back))
    assert cut(advice) == answer
    wide = sized(pattern, someone(bust=93, waist=75, hip=101, back_waist_length=back))
    assert wide.single == answer
    assert wide.reason("between sizes") is None


def test_one_size_only_is_altered() -> None:
    pattern = bought("top", sizes=("one size",), body={"bust": row(92)}, finished={"bust": row(100)})
    advice = sized(pattern, someone(bust=98))
    assert advice.single == "one size"
    assert changes(advice, "let out")["bust"] == pytest.approx(6.0)
    assert not advice.single_wearable
    assert advice.confidence == "a guess"
